"""Rows S1 to S5: the recipe for machines that read pages, read back by an independent JSON-LD processor (PyLD) and
compared with `loafwright sheet --json`. The context is a local one; nothing is fetched.

Source of the rows: Google Search, structured data for recipes.
"""

import html.parser
import json
import re
from pathlib import Path

import pytest
from pyld import jsonld

from bench import HERE, run

ROOT = HERE.parent.parent
SCHEMA = "https://schema.org/"
TIMES = ["prepTime", "cookTime", "totalTime"]
ADDRESSES = ["url", "image"]
CONTEXT = {
    "@context": {
        "@vocab": SCHEMA,
        **{name: {"@id": SCHEMA + name, "@type": SCHEMA + "Duration"} for name in TIMES},
        **{name: {"@id": SCHEMA + name, "@type": "@id"} for name in ADDRESSES},
        "recipeIngredient": {"@id": SCHEMA + "recipeIngredient", "@container": "@list"},
        "recipeInstructions": {"@id": SCHEMA + "recipeInstructions", "@container": "@list"},
        "itemListElement": {"@id": SCHEMA + "itemListElement", "@container": "@list"},
    }
}
RECIPES = sorted(path for path in (ROOT / "recipes").rglob("*.loaf") if path.name != "bakehouse.loaf")


def local_only(url, _options):
    """Gives the context from here, whatever is asked for; anything but schema.org is a fault."""
    assert url.rstrip("/") == "https://schema.org", f"a page asks for {url}"
    return {"contentType": "application/ld+json", "contextUrl": None, "documentUrl": url, "document": CONTEXT}


class Scripts(html.parser.HTMLParser):
    """Gathers the data of a page for machines."""

    def __init__(self):
        super().__init__()
        self.found, self.is_open = [], False

    def handle_starttag(self, tag, attrs):
        self.is_open = tag == "script" and ("type", "application/ld+json") in attrs
        if self.is_open:
            self.found.append("")

    def handle_data(self, data):
        if self.is_open:
            self.found[-1] += data

    def handle_endtag(self, tag):
        self.is_open = False


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    folder = tmp_path_factory.mktemp("book") / "cards"
    built = run("build", str(ROOT / "recipes"), "--out", str(folder), "--site-url", "https://oxlip.example/breads")
    assert built.returncode == 0, built.stderr
    return folder


def page_of(site: Path, recipe: Path) -> Path:
    return site / recipe.relative_to(ROOT / "recipes").with_suffix(".read.html")


def read(site: Path, recipe: Path) -> dict:
    """Expands the data of a page, as a consumer of it does."""
    scripts = Scripts()
    scripts.feed(page_of(site, recipe).read_text(encoding="utf-8"))
    (text,) = scripts.found
    (expanded,) = jsonld.expand(json.loads(text), {"documentLoader": local_only})
    return expanded


def values(node: dict, name: str) -> list:
    found = node.get(SCHEMA + name, [])
    if found and "@list" in found[0]:
        found = found[0]["@list"]
    return [one.get("@value", one.get("@id", one)) if isinstance(one, dict) else one for one in found]


def steps(node: dict) -> list:
    """Gives the steps, those of sections too, each with its kind."""
    gathered = []
    for one in values(node, "recipeInstructions"):
        (kind,) = one["@type"]
        if kind == SCHEMA + "HowToSection":
            assert values(one, "name") and values(one, "name")[0]
            gathered += values(one, "itemListElement")
        else:
            gathered.append(one)
    return gathered


def sheet(recipe: Path) -> dict:
    return json.loads(run("sheet", str(recipe), "--json").stdout)


def minutes(text: str) -> int:
    """S4: one length of time, no range."""
    found = re.fullmatch(r"PT(?=\d)(?:(\d+)H)?(?:(\d+)M)?", text)
    assert found, text
    return 60 * int(found[1] or 0) + int(found[2] or 0)


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda path: path.stem)
def test_s1_to_s5(site, recipe):
    node, document = read(site, recipe), sheet(recipe)
    assert node["@type"] == [SCHEMA + "Recipe"]
    assert values(node, "name") == [document["recipe"]["title"]]
    address = "https://oxlip.example/breads/" + page_of(site, recipe).relative_to(site).as_posix()
    assert values(node, "url") == [address] and node["@id"] == address
    assert values(node, "description")[0]
    assert values(node, "keywords") == ([", ".join(document["recipe"]["tags"])] if document["recipe"]["tags"] else [])
    makes = document["sheet"]["makes"]
    if makes["stated"]:
        assert values(node, "recipeYield") == [f"{makes['count']:g} {makes['piece']}"]
    # What is not known is not said: no date, no picture, no nutrition.
    known = {name.removeprefix(SCHEMA) for name in node if not name.startswith("@")}
    assert not known & {"nutrition", "datePublished", "aggregateRating"}
    assert ("image" in known) == ("picture" in document["recipe"])


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda path: path.stem)
def test_every_line_and_step_of_the_sheet(site, recipe):
    node, document = read(site, recipe), sheet(recipe)
    blocks = document["sheet"]["blocks"]
    lines = [line for block in blocks for line in block["lines"] if line["kind"] != "stage"]
    named = values(node, "recipeIngredient")
    assert len(named) == len(lines)
    metric = (document["recipe"]["units"] or ["g"])[0] == "g"
    for text, line in zip(named, lines):
        assert line["name"] in text
        exact, scale = line.get("weight_g"), line.get("scale_weight_g")
        # What the scales cannot show is written more finely.
        if metric and exact and abs(exact - scale) * 10 <= exact and scale < 10000:
            assert text.startswith(f"{scale:g} g "), text
    placed = [step for lane in document["sheet"]["schedule"]["lanes"] for step in lane["steps"]]
    found = steps(node)
    assert [one["@type"] for one in found] == [[SCHEMA + "HowToStep"]] * len(placed)
    for one, step in zip(found, placed):
        (text,) = values(one, "text")
        assert step["words"].lower() in text.lower()


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda path: path.stem)
def test_times_of_the_sheet(site, recipe):
    node, document = read(site, recipe), sheet(recipe)
    placed = [step for lane in document["sheet"]["schedule"]["lanes"] for step in lane["steps"]]
    (whole,) = values(node, "totalTime")
    start, end = min(step["start_minutes"] for step in placed), max(step["end_minutes"] for step in placed)
    assert minutes(whole) == pytest.approx(end - start, abs=1)
    baked = sum(step["end_minutes"] - step["start_minutes"] for step in placed if step.get("purpose") == "bake")
    if baked:
        (before,), (oven,) = values(node, "prepTime"), values(node, "cookTime")
        assert minutes(oven) == pytest.approx(baked, abs=1)
        assert minutes(before) + minutes(oven) == pytest.approx(minutes(whole), abs=1)
    else:
        assert not values(node, "prepTime") and not values(node, "cookTime")

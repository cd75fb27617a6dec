"""Recipes at the edge of what is worked out: long chains of awkward shares, and more than anybody needs.

The weights of the chains are known in closed form, as fractions of Python's own.
"""

import re
import shutil
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from bench import Sheet
from watchdog import watched

AWKWARD = [(3, 4), (2, 1), (5, 2), (1, 6)]


def chain(length: int, parts) -> tuple[str, list[Fraction]]:
    """Writes a dough of 1 kg flour and 10 % of the last of some stages, each holding the one before it by parts,
    and gives what each stage has to weigh."""
    shares = [parts[at % len(parts)] for at in range(length)]
    blocks = ["title: Chain\nflour: 1 kg\n"]
    for at, (flour, stage) in enumerate(shares):
        other = "water" if at == 0 else f"step{at}"
        blocks.append(f"soaker step{at + 1}:\n  {flour} parts bread flour\n  {stage} parts {other}\n")
    blocks.append(f"dough:\n  100 % bread flour\n  60 % water\n  10 % step{length}\n  2 % salt\n  10 min mix\n")
    weights = [Fraction(100)]
    for flour, stage in reversed(shares[1:]):
        weights.append(weights[-1] * Fraction(stage, flour + stage))
    return "\n".join(blocks), weights[::-1]


@pytest.mark.parametrize("length", [1, 2, 30, 60])
def test_a_chain_of_stages_by_thirds_and_sevenths_is_exact(length, tmp_path):
    text, weights = chain(length, AWKWARD)
    file = tmp_path / "chain.loaf"
    file.write_text(text, "utf-8")
    code, out, err = watched("sheet", "--json", str(file))
    assert code == 0, err
    stages = {block["title"]: block for block in Sheet.of(file).document["sheet"]["blocks"]}
    for at, weight in enumerate(weights):
        found = stages[f"soaker step{at + 1}"]
        total = sum(Fraction(line["weight_g_exact"]) for line in found["lines"])
        assert total == weight, (at, total, weight)


def test_a_fraction_that_outgrows_the_limit_is_told_of_and_never_rounded(tmp_path):
    text, _ = chain(60, [(10007, 10009)])
    file = tmp_path / "chain.loaf"
    file.write_text(text, "utf-8")
    code, out, err = watched("check", "--short", str(file))
    assert code == 1 and "error[" in out, out + err
    code, out, _ = watched("sheet", "--json", str(file))
    assert code == 1 and out == ""


def too_many_stages() -> str:
    return chain(120, AWKWARD)[0]


def too_many_variations() -> str:
    bread = "title: Many\n\ndough:\n  500 g bread flour\n  300 g water\n  10 g salt\n  10 min mix\n\n"
    return bread + "\n".join(f"variation v{at}:\n  {at} g honey\n" for at in range(2000))


@pytest.mark.parametrize("text", [too_many_stages, too_many_variations], ids=lambda make: make.__name__)
def test_more_than_the_limit_is_told_of_in_time(text, tmp_path):
    file = tmp_path / "many.loaf"
    file.write_text(text(), "utf-8")
    code, out, err = watched("check", "--short", str(file))
    assert code == 1 and "error[too-many]" in out, out[:2000] + err
    assert len(out) < 64 * 1024


def test_many_variations_within_the_limit_are_all_worked_out_in_time(tmp_path):
    text = too_many_variations().split("variation v200:")[0]
    file = tmp_path / "many.loaf"
    file.write_text(text, "utf-8")
    code, out, err = watched("sheet", "--json", str(file))
    assert code == 0, err
    assert len(Sheet.of(file).document["variations"]) == 200


RECIPES = sorted(
    path
    for path in (Path(__file__).resolve().parent.parent.parent / "recipes").glob("*.loaf")
    if path.name != "bakehouse.loaf"
)
LINE = re.compile(r"^  (\d+(?:\.\d+)?) (%|g|kg|oz|parts) +(?!each)(\S.*)$")


def halved(text: str) -> tuple[str, int]:
    """Writes every plain line of a recipe as two of half the amount; gives how many there were."""
    lines, count, is_plain = [], 0, True
    for line in text.splitlines():
        if line and not line[0].isspace():
            is_plain = not line.startswith(("variation", "bake", "about", "notes"))
        found = LINE.match(line) if is_plain else None
        if found is None or " to keep" in line:
            lines.append(line)
            continue
        half = Decimal(found[1]) / 2
        lines += [f"  {half} {found[2]}  {found[3]}"] * 2
        count += 1
    return "\n".join(lines) + "\n", count


def totals(path) -> dict[str, Fraction]:
    """Adds up the total formula and what stands outside it by name."""
    sums: dict[str, Fraction] = {}
    sheet = Sheet.of(path).document["sheet"]
    for line in sheet["total_formula"]:
        sums[line["name"]] = sums.get(line["name"], Fraction(0)) + Fraction(line["weight_g_exact"])
    return sums


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda path: path.stem)
def test_a_line_split_in_two_is_the_same_bread(recipe, tmp_path):
    shutil.copy(recipe.parent / "bakehouse.loaf", tmp_path)
    text, count = halved(recipe.read_text("utf-8"))
    assert count > 0
    # A variation names lines that stand once; what it changes is not asked here.
    text = re.sub(r"(?ms)^variation .*?(?=^\S|\Z)", "", text)
    file = tmp_path / recipe.name
    file.write_text(text, "utf-8")
    assert totals(file) == totals(recipe)

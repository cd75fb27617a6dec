"""Documents that the program prints, held to the schemas that it ships, by a validator that is not ours."""

import copy
import json
import pathlib
import subprocess

import pytest
from jsonschema import Draft202012Validator

from bench import run

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
RECIPES = sorted(path for path in (ROOT / "recipes").rglob("*.loaf") if path.name != "bakehouse.loaf")
PAIRS = sorted(path for path in (ROOT / "tests/cases/compare").iterdir() if path.is_dir())


def validator(name: str) -> Draft202012Validator:
    """Reads a schema and sees that it is one."""
    schema = json.loads((ROOT / "grammar" / f"{name}.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def hold(name: str, text: str):
    """Holds a document to its schema, and sees that the schema would notice a document of another kind."""
    judge = validator(name)
    document = json.loads(text)
    faults = [f"{list(fault.absolute_path)}: {fault.message}" for fault in judge.iter_errors(document)]
    assert not faults, "\n".join(faults[:5])
    for key, value in document.items():
        if not isinstance(value, (list, dict)):
            continue
        worse = copy.deepcopy(document)
        worse[key] = "of another kind"
        assert not judge.is_valid(worse), key
    return document


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda path: path.stem)
def test_sheets(recipe):
    done = run("sheet", str(recipe), "--json")
    assert done.returncode == 0, done.stderr
    hold("sheet", done.stdout)


def test_faults():
    """Every case of every fault in one document."""
    done = run("check", "--json", str(ROOT / "tests/cases/check"))
    document = hold("check", done.stdout)
    assert len(json.dumps(document)) > 100_000


@pytest.mark.parametrize("pair", PAIRS, ids=lambda path: path.name)
def test_comparisons(pair):
    for old, new in [("a.loaf", "b.loaf"), ("b.loaf", "a.loaf"), ("a.loaf", "a.loaf")]:
        hold("compare", run("compare", str(pair / old), str(pair / new), "--json").stdout)


def test_books_and_histories(tmp_path):
    def git(*words):
        name = ["-c", "user.name=Oxlip Row", "-c", "user.email=row@oxlip.example"]
        subprocess.run(["git", *name, *words], cwd=tmp_path, check=True, capture_output=True)

    git("init", "-q")
    bread = "title:  Corner loaf\n\ndough:\n  500 g     bread flour\n  {} g     water\n  10 g      salt\n"
    for water in range(300, 330, 10):
        (tmp_path / "bread.loaf").write_text(bread.format(water), "utf-8")
        git("add", ".")
        git("commit", "-qm", f"{water} g of water")
    (tmp_path / "bakehouse.loaf").write_text("room: 20 C\n", "utf-8")
    (tmp_path / "bread.loaf").rename(tmp_path / "tin.loaf")
    (tmp_path / "new.loaf").write_text(bread.format(250).replace("Corner", "Other"), "utf-8")
    book = hold("compare", run("compare", "--since", "HEAD", str(tmp_path), "--json").stdout)
    assert {one["verdict"] for one in book["comparisons"]} >= {"added", "same"}
    (tmp_path / "tin.loaf").rename(tmp_path / "bread.loaf")
    told = hold("compare", run("compare", "--history", str(tmp_path / "bread.loaf"), "--json").stdout)
    assert [row["subject"] for row in told["history"]] == [f"{water} g of water" for water in (300, 310, 320)]

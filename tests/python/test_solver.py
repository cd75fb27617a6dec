"""The solver against sympy: formulas made at random, every weight compared as an exact fraction."""

from fractions import Fraction

import pytest

from bench import Sheet, run
from formulas import FLOURS, Maker, Oracle

COUNT = 300


def is_short(recipe, weights) -> bool:
    """Says whether a stage has to give more than there is of it, or something would weigh less than nothing."""
    if any(weight < 0 for row in weights.values() for weight in row):
        return True
    for block in recipe.blocks:
        if recipe.is_formula and block.keep and block.keep < block.seed(weights[block.name]):
            return True
        if block.leftover and poured(recipe, weights, block.name) > sum(weights[block.name]):
            return True
    return False


def poured(recipe, weights, name: str) -> Fraction:
    """Gives what is poured of a stage."""
    return sum(
        (
            weights[block.name][at]
            for block in recipe.blocks
            for at, line in enumerate(block.lines)
            if line.thing == name
        ),
        Fraction(0),
    )


def compare_stages(recipe, weights, sheet: Sheet) -> None:
    """Compares every line of every block."""
    for block in recipe.blocks:
        titles = {found["title"].split()[-1]: found for found in sheet.sheet["blocks"]}
        lines = titles[block.name]["lines"]
        assert [line["name"] for line in lines] == [line.thing for line in block.lines]
        found = [Fraction(line["weight_g_exact"]) for line in lines]
        assert found == weights[block.name], block.name


def compare_formula(recipe, weights, sheet: Sheet) -> None:
    """Compares the stages of a formula, and the final dough with what the stages leave."""
    formula = recipe.blocks[-1]
    left = {line.thing: Fraction(0) for line in formula.lines}
    for weight, line in zip(weights[formula.name], formula.lines):
        left[line.thing] += weight
    for block in recipe.blocks[:-1]:
        title = next(one["title"] for one in sheet.sheet["blocks"] if one["title"].endswith(block.name))
        for weight, line in zip(weights[block.name], block.lines):
            assert sheet.grams(title, line.thing) == weight
            if line.thing != "starter":
                left[line.thing] -= weight * (1 - block.stays(weights[block.name]))
    dough = sheet.dough()
    for name, weight in left.items():
        found = [Fraction(line["weight_g_exact"]) for line in dough["lines"] if line["name"] == name]
        assert sum(found, Fraction(0)) == weight, name


def compare_totals(recipe, weights, sheet: Sheet) -> None:
    """Compares what reaches the dough of each ingredient, stage by stage, whatever is left over or kept."""
    by_name = {block.name: (block, weights[block.name]) for block in recipe.blocks}

    def reaching(name: str, factor: Fraction, into: dict) -> None:
        block, row = by_name[name]
        for weight, line in zip(row, block.lines):
            if line.thing in by_name:
                reaching(line.thing, factor * weight / sum(by_name[line.thing][1]), into)
            else:
                into[line.thing] = into.get(line.thing, Fraction(0)) + factor * weight

    into: dict = {}
    reaching(recipe.blocks[-1].name, Fraction(1), into)
    for name, weight in into.items():
        assert sheet.total(name) == weight, name
    flour = sum((weight for name, weight in into.items() if name in FLOURS), Fraction(0))
    assert Fraction(sheet.figures["flour_g_exact"]) == flour


@pytest.mark.parametrize("seed", range(COUNT))
def test_every_weight_is_exact(seed, tmp_path):
    recipe = Maker(seed).make()
    weights = Oracle(recipe).solve()
    path = tmp_path / "formula.loaf"
    path.write_text(recipe.text(), encoding="utf-8")
    if is_short(recipe, weights):
        assert run("sheet", "--json", str(path)).returncode == 1, recipe.text()
        return
    sheet = Sheet.of(path)
    if recipe.is_formula:
        compare_formula(recipe, weights, sheet)
    else:
        compare_stages(recipe, weights, sheet)
        compare_totals(recipe, weights, sheet)

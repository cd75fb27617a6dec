"""Recipes at the edge of what is worked out: long chains of awkward shares, and more than anybody needs.

The weights of the chains are known in closed form, as fractions of Python's own.
"""

from fractions import Fraction

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

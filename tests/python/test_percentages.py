"""Rows B1 to B27 and W12: percentages, stages and losses, computed once more with fractions.

The rows and their sources stand beside the same checks in `tests/suite/published`; here every expected figure is
worked out from the row's input by another route than the program's, and compared exactly where the row is exact.
"""

from fractions import Fraction

import pint
import pytest

from bench import CASES, Sheet, run

UNITS = pint.UnitRegistry(non_int_type=Fraction)
POUND = UNITS.Quantity(Fraction(1), "pound").to("gram").magnitude
OUNCE = POUND / 16


def shares(flour, *others):
    """Gives percentages of flour."""
    return [Fraction(other) * 100 / Fraction(flour) for other in others]


def near(found, wanted, tolerance):
    """Says that a figure is within a tolerance."""
    assert abs(Fraction(found) - Fraction(wanted)) <= Fraction(tolerance), (float(found), float(wanted))


def test_b1_definition():
    sheet = Sheet.case("b01-definition")
    assert [sheet.percent("dough", name) for name in ("bread flour", "water")] == shares(10, 10, 5)


def test_b2_lean_dough():
    sheet = Sheet.case("b02-lean")
    names = ["bread flour", "water", "salt", "instant yeast"]
    assert [sheet.percent("dough", name) for name in names] == shares(500, 500, 350, 10, 5)


def test_b3_b4_french_bread():
    sheet = Sheet.case("b03-french")
    found = [sheet.percent("dough", name) for name in ("water", "salt", "instant yeast")]
    assert found == shares(5, Fraction("3.25"), Fraction("0.1"), Fraction("0.1"))
    sheet = Sheet.case("b03-french", "--makes", "1 batch of 3 lb")
    flour = 3 * POUND / Fraction("1.69")
    assert sheet.grams("dough", "bread flour") == flour
    assert sheet.grams("dough", "water") == flour * Fraction("0.65")
    assert sheet.grams("dough", "salt") == flour * Fraction("0.02")


def test_b5_percentages_to_weights():
    sheet = Sheet.case("b05-forty-pounds")
    assert Fraction(sheet.figures["dough_g_exact"]) == 40 * POUND * Fraction("1.62125")
    assert sheet.grams("dough", "salt") == Fraction("11.2") * OUNCE
    assert Sheet.case("b05-water").percent("dough", "water") == shares(40, 23)[0]


def test_b6_from_the_dough_weight():
    flour = Sheet.case("b06-four-pieces").grams("dough", "bread flour")
    assert flour == Fraction(1340 * 100, 182)


@pytest.mark.parametrize("options, grams", [((), 2 * POUND), (("--flour", "10 kg"), Fraction(10000))])
def test_b7_milk_and_water(options, grams):
    sheet = Sheet.case("b07-mixed", *options)
    parts = {"water": 35, "whole milk": 35, "fresh yeast": 4, "salt": Fraction("1.8")}
    for name, share in parts.items():
        assert sheet.grams("dough", name) == grams * share / 100
    assert Fraction(sheet.figures["dough_g_exact"]) == grams * (100 + sum(parts.values())) / 100


def test_b8_poolish_as_an_ingredient():
    sheet = Sheet.case("b08-poolish")
    flour, water = Fraction(468 + 900), Fraction(468 + 468)
    assert sheet.total("bread flour") == flour
    near(sheet.figures["hydration_percent"], water * 100 / flour, "0.0005")
    near(sheet.figures["salt_percent"], Fraction(2700) / flour, "0.0005")
    near(sheet.figures["prefermented_flour_percent"], Fraction(46800) / flour, "0.0005")
    assert sheet.total("instant yeast") == Fraction("9.3")


def test_b10_from_the_yield():
    sheet = Sheet.case("b10-poolish-yield")
    flour = Fraction(1353 * 1000, 1777)
    ahead = flour / 4
    assert Fraction(sheet.figures["flour_g_exact"]) == flour
    assert Fraction(sheet.block("poolish")["total_g_exact"]) == 2 * ahead
    title = sheet.dough()["title"]
    assert sheet.grams(title, "bread flour") == flour - ahead
    assert sheet.grams(title, "water") == flour * 3 / 4 - ahead
    assert sheet.grams(title, "poolish") == 2 * ahead


def test_b11_half_of_the_flour_ahead():
    sheet = Sheet.case("b11-half")
    title = sheet.dough()["title"]
    assert (sheet.grams(title, "bread flour"), sheet.grams(title, "water")) == (50, 20)


def test_b12_wet_poolish():
    sheet = Sheet.case("b12-wet-poolish")
    assert Fraction(sheet.figures["dough_g_exact"]) / 10 == Fraction("207.27")


def test_b13_liquid_levain():
    sheet = Sheet.case("b13-liquid-levain")
    flour = (15 + 3 + 2) * POUND
    wanted = {"bread flour": 18, "medium rye flour": 2, "water": 13, "salt": Fraction("0.38")}
    for name, pounds in wanted.items():
        assert sheet.total(name) == pounds * POUND
    assert Fraction(sheet.figures["flour_g_exact"]) == flour
    assert sheet.figures["prefermented_flour_percent"] == 15


def test_b14_hard_rolls():
    sheet = Sheet.case("b14-hard-rolls")
    near(sheet.percent("dough", "water"), shares(22, 12)[0], "0.0005")
    near(sheet.percent("dough", "fresh yeast"), shares(22, Fraction("0.75"))[0], "0.0005")
    assert Fraction(sheet.figures["dough_g_exact"]) == Fraction("36.75") * OUNCE


def test_b15_two_columns_of_a_print():
    near(Sheet.case("b15-grams").percent("dough", "salt"), shares(500, 8)[0], "0.0005")
    near(Sheet.case("b15-ounces").percent("dough", "salt"), shares(18, Fraction("0.25"))[0], "0.0005")


@pytest.mark.parametrize("asked, percent", [("49.5 oz", 45), ("33 oz", 30), ("16.5 oz", 15)])
def test_b16_scaling_weights(asked, percent):
    sheet = Sheet.case("b16-hundred", "--flour", asked)
    ounces = {"active dry yeast": Fraction("2.5"), "whole milk": 40, "granulated sugar": 19, "salt": 2}
    for name, whole in ounces.items():
        assert sheet.grams("dough", name) == whole * OUNCE * percent / 100
    eggs = sheet.block("dough")["lines"][-1]
    assert eggs["measure"]["count"] == Fraction(12 * percent, 100)
    assert Fraction(eggs["weight_g_exact"]) == Fraction(600 * percent, 100)


def test_b17_weights_to_percentages():
    sheet = Sheet.case("b16-hundred")
    near(sheet.percent("dough", "whole milk"), shares(110, 40)[0], "0.0005")
    eggs = sheet.block("dough")["lines"][-1]
    near(eggs["percent_of_block_flour"], 600 * 100 / (110 * OUNCE), "0.0005")


def test_b18_to_b20_losses():
    sheet = Sheet.case("b18-losses")
    dough = 500 * POUND / (1 - Fraction(13, 100))
    assert Fraction(sheet.figures["dough_g_exact"]) == dough
    assert dough != 500 * POUND * Fraction("1.13")
    assert Fraction(sheet.figures["flour_g_exact"]) == dough / Fraction("1.69")


def test_b21_yield_of_an_army_rye():
    sheet = Sheet.case("b21-rumford")
    meal, water, salt = 1736, 1061 + Fraction(5, 32), 15
    assert Fraction(sheet.figures["dough_g_exact"]) == (meal + water + salt) * POUND
    near(sheet.percent("dough", "water"), shares(meal, water)[0], "0.0005")
    bread = 1102 * (2 + Fraction(11, 64))
    baked = sheet.sheet["makes"]["baked_per_piece_g"] * 1102 / POUND
    near(baked / meal * 100, bread / meal * 100, "0.1")


def test_b22_to_b24_levain_poolish_and_scald():
    sheet = Sheet.case("b22-three-stages")
    assert Fraction(sheet.figures["flour_g_exact"]) == 100 + 200 + 50 + 450 + 200
    assert Fraction(sheet.figures["dough_g_exact"]) == 1774
    assert sheet.figures["hydration_percent"] == 75
    assert sheet.figures["prefermented_flour_percent"] == 30
    assert sheet.figures["scalded_flour_percent"] == 5
    assert Sheet.case("b23-steam").figures["hydration_percent"] == Fraction("73.5")
    scaled = Sheet.case("b22-three-stages", "--makes", "2 loaves of 900 g")
    assert Fraction(scaled.figures["flour_g_exact"]) == 1000 * Fraction(1800, 1774)


def test_b25_a_levain_by_parts():
    sheet = Sheet.case("b25-ratio")
    found = [sheet.grams("levain", name) for name in ("starter", "water", "bread flour")]
    assert found == [Fraction(300, 11), Fraction(1500, 11), Fraction(1500, 11)]


def test_b26_a_levain_taken_apart():
    sheet = Sheet.case("b26-split")
    assert (sheet.total("bread flour"), sheet.total("water")) == (Fraction(200, 3), Fraction(250, 3))


def test_b27_less_than_no_water():
    done = run("sheet", "--json", str(CASES / "b27-negative.loaf"))
    assert done.returncode == 1
    assert "stage-takes-too-much" in done.stderr + done.stdout


def test_w12_water_of_an_enriched_dough():
    """The shares of water are those of USDA's tables, as the row gives them."""
    wet = {120: "1", 150: "0.8813", 100: "0.7615", 75: "0.1587", 25: "0.171"}
    water = sum(grams * Fraction(share) for grams, share in wet.items())
    figures = Sheet.case("w12-enriched").figures
    near(figures["hydration_percent"], water / 5, "1")
    assert figures["poured_water_percent"] == 24

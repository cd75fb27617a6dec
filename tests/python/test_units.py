"""Rows U1 to U10: units and temperatures, against pint.

The rows and their sources stand beside the same checks in `tests/suite/published/units.rs`; here the expected
figures come from pint's own definitions, computed with fractions.
"""

from fractions import Fraction

import pint
import pytest

from bench import Sheet

UNITS = pint.UnitRegistry(non_int_type=Fraction)


def in_unit(count, unit: str, wanted: str) -> Fraction:
    """Converts with pint."""
    return UNITS.Quantity(Fraction(count), unit).to(wanted).magnitude


def test_u1_u2_pound_and_ounce():
    sheet = Sheet.case("u-weights")
    assert sheet.grams("dough", "water") == in_unit(1, "pound", "gram")
    assert sheet.grams("dough", "whole milk") == in_unit(1, "ounce", "gram")
    assert sheet.grams("dough", "honey") == in_unit(1, "pound", "gram") + in_unit(4, "ounce", "gram")
    assert sheet.grams("dough", "fine salt") == in_unit(500, "milligram", "gram")
    assert sheet.grams("dough", "bread flour") == in_unit(1, "kilogram", "gram")


def test_u3_to_u6_spoons_and_cups():
    lines = Sheet.case("u-volumes").block("dough")["lines"][1:]
    units = ["fluid_ounce", "cup", "tablespoon", "teaspoon"]
    wanted = [in_unit(1, unit, "milliliter") for unit in units] + [Fraction(250)]
    assert [Fraction(line["weight_g_exact"]) for line in lines] == wanted


def test_u7_cubic_inch():
    assert Sheet.case("u07-inches").sheet["tin"]["volume_ml"] == in_unit(1000, "inch**3", "milliliter")


def test_u8_u9_fahrenheit_to_celsius():
    written = [-40, 0, 32, 41, 135, 212, 350, 375, 400, 425, 450, 475, 500]
    found = Sheet.case("u-temperatures").temperatures()
    wanted = [in_unit(degrees, "degF", "degC") for degrees in written]
    assert [float(degrees) for degrees in found] == pytest.approx([float(one) for one in wanted], abs=0.0005)


def test_u11_a_difference_is_no_temperature():
    """The friction of the bakehouse; the program's side is in the Rust test, which reads the bakehouse itself."""
    assert float(in_unit(24, "delta_degF", "delta_degC")) == pytest.approx(13.33, abs=0.01)

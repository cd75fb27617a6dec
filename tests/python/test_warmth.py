"""Heat, boiling points and rising times, against CoolProp, iapws and scipy.

CoolProp has the food components of Choi and Okos as fluids of its own, iapws the saturation line of water, scipy
integrators that choose their own steps. The rows and their sources stand beside the Rust tests.
"""

import math

import CoolProp.CoolProp as coolprop
import pytest
from iapws import IAPWS97
from scipy.integrate import quad, solve_ivp

from bench import Sheet

SEA = 101325
COMPONENTS = ["Protein", "Fat", "Carbohydrate", "Fiber", "Ash", "Water"]

# The reprint's constant for water, which CoolProp has, and the original's, which is used (T40f, T40g).
WATER_GAP = 4.1762 - 4.1289

# Bread flour of the USDA (W9, from memory), which the ingredient table has too; carbohydrate without its fibre.
FLOUR = {"Protein": 11.98, "Fat": 1.66, "Carbohydrate": 70.13, "Fiber": 2.4, "Ash": 0.47, "Water": 13.36}

HOUSE = """bakehouse: Oxlip Row proof room
room: {room} C
altitude: {altitude} m

ingredient proof protein:
  0 % water
  100 % protein

ingredient proof fat:
  0 % water
  100 % fat

ingredient proof carbohydrate:
  0 % water
  100 % carbohydrate
  0 % fibre

ingredient proof fibre:
  0 % water
  100 % carbohydrate
  100 % fibre
"""


def food(quantity: str, component: str, celsius: float) -> float:
    """Gives a property of a food component from CoolProp."""
    return coolprop.PropsSI(quantity, "T", celsius + 273.15, "P", SEA, f"INCOMP::Food{component}")


def specific_heat(component: str, celsius: float) -> float:
    """Gives the specific heat in kJ/(kg K), water by the original's constant."""
    return food("C", component, celsius) / 1000 + (WATER_GAP if component == "Water" else 0)


def bake(folder, recipe: str, *options: str, room: float = 20, altitude: float = 0) -> dict:
    """Computes a recipe in the proof room and gives what was worked out of its warmth."""
    (folder / "bakehouse.loaf").write_text(HOUSE.format(room=room, altitude=altitude))
    path = folder / "proof.loaf"
    path.write_text(recipe)
    return Sheet.of(path, *options).sheet["warmth"]


@pytest.mark.parametrize("celsius", [-5, 4, 20, 35, 60, 95])
def test_t40_t43_specific_heats(tmp_path, celsius):
    recipe = f"""title: Proof
dough temperature: 25 C

dough:
  1000 g bread flour at {celsius} C
  600 g water
  100 g proof protein at {celsius} C
  100 g proof fat at {celsius} C
  100 g proof carbohydrate at {celsius} C
  100 g proof fibre at {celsius} C
  20 g salt at {celsius} C
  5 min mix by hand
"""
    parts = {part["name"]: part for part in bake(tmp_path, recipe)["water"]["parts"]}
    names = ["proof protein", "proof fat", "proof carbohydrate", "proof fibre", "salt"]
    for name, component in zip(names, COMPONENTS):
        assert float(parts[name]["choi_okos"]) == pytest.approx(specific_heat(component, celsius), abs=0.0006), name
    flour = sum(grams / 100 * specific_heat(component, celsius) for component, grams in FLOUR.items())
    assert float(parts["bread flour"]["choi_okos"]) == pytest.approx(flour, abs=0.0006)


def heat(grams: dict, celsius: float) -> float:
    """Gives the heat in J above 0 °C of grams by component, by quadrature over CoolProp's curves."""
    return sum(
        weight * quad(lambda t, component=component: specific_heat(component, t), 0, celsius)[0]
        for component, weight in grams.items()
    )


def flour_of(grams: float) -> dict:
    """Gives the components of bread flour."""
    return {component: grams * share / 100 for component, share in FLOUR.items()}


@pytest.mark.parametrize(("wanted", "flour", "water"), [(25, 21, 650), (28, 8, 720), (22, 26, 550)])
def test_the_balance_of_heat_closes(tmp_path, wanted, flour, water):
    """The water that is recommended brings the dough to the wanted temperature, friction included."""
    recipe = f"""title: Proof
dough temperature: {wanted} C

dough:
  1000 g bread flour at {flour} C
  {water} g water
  20 g salt
  5 min mix by hand
"""
    plan = bake(tmp_path, recipe)["water"]
    measured = 1.84 / 1.997  # flour as it was measured (T31) over what the equations give (T44)
    mixed = wanted - float(plan["friction"]["rise_c_apart"])
    needed = float(plan["balance"]["water_c"])
    bring = (
        measured * heat(flour_of(1000), flour)
        + heat({"Water": water}, needed)
        + heat({"Ash": 20}, 20)
    )
    hold = measured * heat(flour_of(1000), mixed) + heat({"Water": water, "Ash": 20}, mixed)
    assert bring == pytest.approx(hold, rel=2e-4)


PLAIN = """title: Proof

dough:
  500 g bread flour
  340 g water
  10 g salt
  5 g instant yeast
  5 min mix by hand
  2 h bulk
  40 min bake at 230 C
"""


@pytest.mark.parametrize("altitude", [0, 140, 500, 1000, 1500, 2286, 3000, 4000])
def test_h30_boiling_points(tmp_path, altitude):
    pascal = SEA * (1 - 0.0065 * altitude / 288.15) ** 5.25588
    wanted = IAPWS97(P=pascal / 1e6, x=0).T - 273.15
    found = float(bake(tmp_path, PLAIN, altitude=altitude)["done"]["boiling_c"])
    assert found == pytest.approx(wanted, abs=0.02)


def sourdough_yeast(celsius: float) -> float:
    """F1, growth an hour."""
    below = max(36 - celsius, 0)
    return 0.0124 * below**2.981 * math.exp(-0.3355 * below)


def bakers_yeast(celsius: float) -> float:
    """F16 with F15 and a least temperature of 3 °C, as a share of the best."""
    low, best, high = 3, 32.3, 45.4
    above = (celsius - high) * (celsius - low) ** 2
    return above / ((best - low) * ((best - low) * (celsius - best) - (best - high) * (best + low - 2 * celsius)))


def course(rate, begins: float, around: float, hours: float, tau: float, growth: float | None = None):
    """Integrates dT/dt = (around - T)/tau and dG/dt = rate(T); stops at a growth, if one is given."""

    def slope(_, state):
        return [(around - state[0]) / tau, rate(state[0])]

    def reached(_, state):
        return state[1] - growth if growth is not None else 1.0

    reached.terminal = True
    return solve_ivp(slope, (0, hours), [begins, 0.0], method="LSODA", events=reached, rtol=1e-9, atol=1e-10)


@pytest.mark.parametrize("room", [12, 17, 24, 29])
@pytest.mark.parametrize(
    ("leaven", "rate"), [("5 g instant yeast", bakers_yeast), ("100 g starter", sourdough_yeast)]
)
def test_rising_times_against_scipy(tmp_path, room, leaven, rate):
    recipe = PLAIN.replace("5 g instant yeast", leaven).replace("title: Proof", "title: Proof\ndough temperature: 26 C")
    timed = bake(tmp_path, recipe, "--room", f"{room} C", room=21)["timing"]["steps"][0]
    estimate = {key: value if isinstance(value, dict) else float(value) for key, value in timed["estimate"].items()}
    tau = estimate["drift_minutes"] / 60
    written = course(rate, estimate["written_begins_c"], estimate["written_around_c"], 2, tau)
    assert estimate["growth"] == pytest.approx(written.y[1][-1], abs=0.001)
    now = course(rate, estimate["begins_c"], estimate["around_c"], 100, tau, written.y[1][-1])
    assert estimate["middle_minutes"] == pytest.approx(now.t[-1] * 60, abs=0.2)
    assert estimate["ends_c"] == pytest.approx(now.y[0][-1], abs=0.01)
    assert (room < 21) == (estimate["middle_minutes"] > 120)


def test_t41_t42_t49_time_constant(tmp_path):
    """The drift of a ball of dough, by CoolProp's densities and conductivities."""
    recipe = PLAIN.replace("  5 g instant yeast\n", "").replace("340 g water", "340 g water\n  0.001 g instant yeast")
    timed = bake(tmp_path, recipe, "--room", "17 C")["timing"]["steps"][0]
    grams = flour_of(500)
    grams["Water"] += 340
    grams["Ash"] += 10
    total = sum(grams.values())
    volume = sum(weight / food("D", component, 25) for component, weight in grams.items())
    density = total / volume
    lead = sum(weight / food("D", c, 25) * food("L", c, 25) for c, weight in grams.items()) / volume
    measured = 1.84 / 1.997
    plain = sum(weight * specific_heat(c, 25) for c, weight in {"Water": 340, "Ash": 10}.items())
    warm = plain + measured * sum(weight * specific_heat(c, 25) for c, weight in flour_of(500).items())
    capacity = warm / total * 1000
    radius = (3 * total / 1000 / density / (4 * math.pi)) ** (1 / 3)
    seconds = density * capacity * radius / (3 * 10) + radius**2 * density * capacity / (math.pi**2 * lead)
    assert float(timed["estimate"]["drift_minutes"]) == pytest.approx(seconds / 60, rel=1e-3)

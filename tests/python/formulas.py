"""Makes bread formulas at random, and solves them in a second way.

Owns the oracle: every line is an unknown of its own, every sentence of the language reference about sizes is an
equation, and sympy solves them over the rationals. Nothing here is taken from the program under test.
"""

import random
from dataclasses import dataclass, field
from fractions import Fraction

import sympy

FLOURS = ["bread flour", "whole wheat flour", "medium rye flour", "plain flour"]
WET = ["water", "whole milk"]
REST = ["fine salt", "granulated sugar", "olive oil", "honey", "sunflower seeds"]
OUNCE = Fraction(45359237, 1600000)
GRAMS = {"g": Fraction(1), "kg": Fraction(1000), "oz": OUNCE, "lb": 16 * OUNCE}


@dataclass
class Line:
    """A formula line: how much is written, and of what."""

    kind: str  # weight, percent, part or all
    number: Fraction
    unit: str
    thing: str

    def text(self) -> str:
        """Writes the line as a baker does."""
        if self.kind == "all":
            return f"all {self.thing}"
        unit = {"percent": "%", "part": "parts"}.get(self.kind, self.unit)
        return f"{decimal(self.number)} {unit} {self.thing}"


@dataclass
class Block:
    """A stage or the dough."""

    name: str
    header: str
    lines: list = field(default_factory=list)
    share: Fraction | None = None
    keep: Fraction = Fraction(0)
    leftover: bool = False

    def seed(self, weights: list) -> Fraction:
        """Gives the starter that a stage of a formula was seeded with."""
        return sum((w for w, line in zip(weights, self.lines) if line.thing == "starter"), Fraction(0))

    def stays(self, weights: list) -> Fraction:
        """Gives what part of a formula's stage stays with the baker, besides the seed, of its own lines."""
        seed = self.seed(weights)
        return max(self.keep - seed, Fraction(0)) / (sum(weights) - seed)


@dataclass
class Recipe:
    """A recipe that has exactly one answer."""

    number: int
    keys: list
    blocks: list  # the dough or formula last
    is_formula: bool
    pieces: tuple | None = None  # count and grams of dough a piece
    flour: Fraction | None = None
    handling: Fraction = Fraction(0)

    def text(self) -> str:
        """Writes the file."""
        out = [f"title: Formula {self.number}", *self.keys]
        for block in self.blocks:
            out += ["", f"{block.header}:", *(f"  {line.text()}" for line in block.lines)]
        return "\n".join(out) + "\n"


def decimal(number: Fraction) -> str:
    """Writes a number exactly: decimals where they end soon, a mixed fraction where they do not."""
    for places in (0, 1, 2, 4):
        scaled = number * 10**places
        if scaled.denominator == 1:
            digits = str(scaled.numerator).rjust(places + 1, "0")
            return digits if places == 0 else f"{digits[:-places]}.{digits[-places:]}"
    whole, part = divmod(number.numerator, number.denominator)
    fraction = f"{part}/{number.denominator}"
    return f"{whole} {fraction}" if whole else fraction


class Maker:
    """Makes one recipe from a seed."""

    def __init__(self, seed: int):
        self.random = random.Random(seed)
        self.seed = seed

    def number(self, low: int, high: int, places: int) -> Fraction:
        """Draws a decimal number."""
        scale = 10**places
        return Fraction(self.random.randint(low * scale, high * scale), scale)

    def weight(self, low: int, high: int, thing: str) -> Line:
        """Draws a weight of so many grams or near it, in some unit."""
        unit = self.random.choice(["g", "g", "g", "oz", "kg", "lb"])
        grams = self.number(low, high, 1)
        number = grams
        if unit == "kg":
            number = grams / 1000
        elif unit in ("oz", "lb"):
            step = self.random.choice([2, 4, 8, 3])
            number = Fraction(max(1, round(grams / GRAMS[unit] * step)), step)
        return Line("weight", number, unit, thing)

    def flour_percents(self, things: list) -> list:
        """Draws shares of flours that add up to 100."""
        rest, lines = Fraction(100), []
        for thing in things[1:]:
            share = self.number(3, 30, self.random.choice([0, 1]))
            lines.append(Line("percent", share, "", thing))
            rest -= share
        return [Line("percent", rest, "", things[0]), *lines]

    def own_lines(self, how: str, scale: int) -> list:
        """Draws flours and the rest for a block, in one way of writing."""
        flours = self.random.sample(FLOURS, self.random.randint(1, 3))
        wet = self.random.sample(WET, self.random.randint(1, 2))
        rest = self.random.sample(REST, self.random.randint(0, 3))
        if how == "parts":
            parts = [Line("part", self.number(1, 6, 1), "", thing) for thing in [*flours, *wet]]
            return parts + [Line("percent", self.number(0, 3, 2) + 1, "", thing) for thing in rest]
        if how == "percents":
            lines = self.flour_percents(flours)
        else:
            lines = [self.weight(scale // 2, scale, thing) for thing in flours]
        for thing in wet:
            lines.append(self.more(how, thing, scale, 25, 70))
        for thing in rest:
            lines.append(self.more(how, thing, scale // 20 + 1, 1, 12))
        return lines

    def more(self, how: str, thing: str, grams: int, low: int, high: int) -> Line:
        """Draws a line that is not flour."""
        mixed = how == "mixed" and self.random.random() < 0.6
        if how == "weights" or mixed:
            return self.weight(grams // 2 + 1, grams + 1, thing)
        return Line("percent", self.number(low, high, 2), "", thing)

    def stage(self, name: str) -> tuple:
        """Draws a stage, and the line that pours it."""
        how = self.random.choice(["percents", "percents", "parts", "weights", "mixed"])
        kind = self.random.choice(["levain", "poolish", "biga", "sponge", "soaker", "scald"])
        block = Block(name, f"{kind} {name}", self.own_lines(how, 200))
        if how in ("weights", "mixed"):
            if self.random.random() < 0.3:
                block.leftover = True
                return block, Line("weight", self.number(20, 90, 1), "g", name)
            return block, Line("all", Fraction(0), "", name)
        if self.random.random() < 0.3:
            block.keep = self.number(10, 60, 1)
            block.header += f", {decimal(block.keep)} g to keep"
        if self.random.random() < 0.4:
            return block, Line("weight", self.number(80, 300, 1), "g", name)
        return block, Line("percent", self.number(5, 45, 2), "", name)

    def plain(self) -> Recipe:
        """Draws a recipe with a dough, stage by stage."""
        blocks, pours = [], []
        for name in self.random.sample(["north", "south", "east"], self.random.randint(0, 3)):
            block, pour = self.stage(name)
            chained = pours and self.random.random() < 0.4
            if chained:
                block.lines.append(pours.pop())
            blocks.append(block)
            pours.append(pour)
        how = self.random.choice(["percents", "percents", "weights", "mixed"])
        dough = Block("dough", "dough", self.own_lines(how, 900) + pours)
        self.random.shuffle(dough.lines)
        self.random.shuffle(blocks)
        recipe = Recipe(self.seed, [], [*blocks, dough], False)
        if how == "percents":
            self.size(recipe)
        return recipe

    def size(self, recipe: Recipe) -> None:
        """Draws what settles a size that the lines leave open."""
        if self.random.random() < 0.4:
            recipe.flour = self.number(400, 3000, 0)
            recipe.keys.append(f"flour: {decimal(recipe.flour)} g")
            return
        count = self.random.randint(1, 12)
        each = self.number(700, 1500, 0)
        recipe.pieces = (count, each)
        recipe.keys.append(f"makes: {count} loaves of {decimal(each)} g")
        if self.random.random() < 0.4:
            recipe.handling = self.number(0, 3, 1) + Fraction(1, 2)
            recipe.keys.append(f"handling loss: {decimal(recipe.handling)} %")

    def formula(self) -> Recipe:
        """Draws a formula, with stages that take less of everything than it has."""
        flours = self.random.sample(FLOURS, 2)
        first = self.number(55, 80, 1)
        lines = [
            Line("percent", first, "", flours[0]),
            Line("percent", 100 - first, "", flours[1]),
            Line("percent", self.number(30, 45, 1), "", "water"),
            Line("percent", self.number(1, 2, 2), "", "fine salt"),
            Line("percent", self.number(25, 35, 1), "", "water"),
            Line("percent", self.number(2, 9, 1), "", "honey"),
        ]
        blocks = []
        for name in self.random.sample(["north", "south"], self.random.randint(1, 2)):
            share = self.number(5, 24, 1)
            block = Block(name, f"poolish {name}, {decimal(share)} % of the flour", share=share)
            block.lines = [
                Line("percent", Fraction(100), "", flours[0]),
                Line("percent", self.number(50, 125, 1), "", "water"),
            ]
            if self.random.random() < 0.5:
                block.header = f"levain {name}, {decimal(share)} % of the flour"
                block.lines.append(Line("percent", self.number(5, 30, 1), "", "starter"))
                if self.random.random() < 0.5:
                    block.keep = self.number(40, 400, 1)
                    block.header += f", {decimal(block.keep)} g to keep"
            blocks.append(block)
        recipe = Recipe(self.seed, [], [*blocks, Block("formula", "formula", lines)], True)
        self.size(recipe)
        return recipe

    def make(self) -> Recipe:
        """Draws a recipe of either kind."""
        return self.formula() if self.random.random() < 0.3 else self.plain()


def exact(number: Fraction) -> sympy.Rational:
    """Turns a fraction into sympy's."""
    return sympy.Rational(number.numerator, number.denominator)


class Oracle:
    """Solves a recipe as one linear system with an unknown for every line."""

    def __init__(self, recipe: Recipe):
        self.recipe = recipe
        self.unknowns, self.equations = [], []
        self.lines, self.bases, self.totals = {}, {}, {}
        for block in recipe.blocks:
            self.lines[block.name] = [self.unknown() for _ in block.lines]
            self.bases[block.name] = self.unknown()
            self.totals[block.name] = sum(self.lines[block.name])
        self.poured = {name: [] for name in self.lines}
        for block in recipe.blocks:
            self.add_lines(block)
        self.add_sizes()

    def unknown(self) -> sympy.Symbol:
        """Makes a new unknown."""
        self.unknowns.append(sympy.Symbol(f"x{len(self.unknowns)}"))
        return self.unknowns[-1]

    def add_lines(self, block: Block) -> None:
        """Adds what the lines of a block say."""
        base, part = self.bases[block.name], None
        flour = sum(x for x, line in zip(self.lines[block.name], block.lines) if line.thing in FLOURS)
        self.equations.append(base - flour)
        for weight, line in zip(self.lines[block.name], block.lines):
            number = exact(line.number)
            if line.thing in self.poured:
                self.poured[line.thing].append(weight)
            if line.kind == "weight":
                self.equations.append(weight - number * exact(GRAMS[line.unit]))
            elif line.kind == "percent":
                self.equations.append(weight - number * base / 100)
            elif line.kind == "part":
                part = part if part is not None else self.unknown()
                self.equations.append(weight - number * part)

    def add_sizes(self) -> None:
        """Adds what settles the sizes of blocks."""
        recipe, main = self.recipe, self.recipe.blocks[-1]
        for block in recipe.blocks[:-1]:
            if block.share is not None:
                self.add_share(block, exact(block.share) / 100 * self.bases[main.name])
            elif not block.leftover:
                taken = sum(self.poured[block.name]) + exact(block.keep)
                self.equations.append(self.totals[block.name] - taken)
        if recipe.flour is not None:
            self.equations.append(self.bases[main.name] - exact(recipe.flour))
        if recipe.pieces is not None:
            count, each = recipe.pieces
            left = 1 - exact(recipe.handling) / 100
            self.equations.append(self.totals[main.name] * left - count * exact(each))

    def add_share(self, block: Block, wanted) -> None:
        """Adds that the flour of a stage is a share of all: the seed goes out as it came, and what is kept besides
        is of the stage's own flour and water."""
        row = self.lines[block.name]
        seed = sum(x for x, line in zip(row, block.lines) if line.thing == "starter")
        extra = exact(block.keep) - seed if block.keep else 0
        whole = sum(exact(line.number) for line in block.lines if line.thing != "starter")
        self.equations.append(self.bases[block.name] - extra * 100 / whole - wanted)

    def solve(self) -> dict:
        """Gives the weight of every line in grams, by block and place."""
        found = sympy.linsolve(self.equations, self.unknowns)
        assert len(found) == 1, f"formula {self.recipe.number} has no single answer"
        values = dict(zip(self.unknowns, next(iter(found))))
        assert not any(value.free_symbols for value in values.values()), self.recipe.text()
        number = lambda value: Fraction(int(value.p), int(value.q))
        return {name: [number(values[x]) for x in row] for name, row in self.lines.items()}

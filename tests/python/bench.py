"""Runs the program on a recipe and reads its sheet with exact numbers.

Owns how the sheet's JSON is taken apart; the tests beside it ask only for blocks, lines and figures. Numbers are
read as fractions, so that nothing on this side rounds.
"""

import json
import os
import pathlib
import subprocess
from fractions import Fraction

HERE = pathlib.Path(__file__).resolve().parent
CASES = HERE.parent / "cases" / "published"


def program() -> str:
    """Gives the path of the program under test, from the environment."""
    path = os.environ.get("LOAFWRIGHT")
    if not path:
        raise RuntimeError("LOAFWRIGHT names the program that these tests run")
    return path


def run(*arguments: str) -> subprocess.CompletedProcess:
    """Runs the program without the settings of this machine."""
    return subprocess.run(
        [program(), *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={"PATH": "/usr/bin:/bin", "LC_ALL": "C", "NO_COLOR": "1"},
        check=False,
        timeout=120,
    )


def read_json(text: str):
    """Reads JSON with every number as an exact fraction."""
    return json.loads(text, parse_float=Fraction, parse_int=Fraction)


class Sheet:
    """A computed recipe, as the program's JSON gives it."""

    def __init__(self, document):
        self.document = document

    @classmethod
    def of(cls, path, *options: str) -> "Sheet":
        """Computes a file; a fault in it fails the test with what was said."""
        done = run("sheet", "--json", *options, str(path))
        assert done.returncode == 0, f"{path}\n{done.stdout}\n{done.stderr}"
        return cls(read_json(done.stdout))

    @classmethod
    def case(cls, name: str, *options: str) -> "Sheet":
        """Computes one of the published cases."""
        return cls.of(CASES / f"{name}.loaf", *options)

    @property
    def sheet(self):
        """Gives what was computed of the plain recipe."""
        return self.document["sheet"]

    @property
    def figures(self):
        """Gives what describes the bread."""
        return self.sheet["figures"]

    def block(self, title: str):
        """Gives a block by its title."""
        found = [block for block in self.sheet["blocks"] if block["title"] == title]
        assert found, f"no block {title}: {[block['title'] for block in self.sheet['blocks']]}"
        return found[0]

    def dough(self):
        """Gives the dough, whatever it is called."""
        return next(block for block in self.sheet["blocks"] if block["role"] == "dough")

    def grams(self, title: str, name: str) -> Fraction:
        """Gives the exact grams of all lines of a name in a block."""
        lines = [line for line in self.block(title)["lines"] if line["name"] == name]
        assert lines, f"no {name} in {title}"
        return sum(Fraction(line["weight_g_exact"]) for line in lines)

    def percent(self, title: str, name: str) -> Fraction:
        """Gives the share of a line of its block's flour."""
        line = next(line for line in self.block(title)["lines"] if line["name"] == name)
        return line["percent_of_block_flour"]

    def total(self, name: str) -> Fraction:
        """Gives the exact grams of an ingredient that reach the dough; nought where there is none."""
        lines = [line for line in self.sheet["total_formula"] if line["name"] == name]
        return sum((Fraction(line["weight_g_exact"]) for line in lines), Fraction(0))

    def temperatures(self):
        """Gives the temperatures of the steps, in the order of the page."""
        steps = [step for lane in self.sheet["schedule"]["lanes"] for step in lane["steps"]]
        return [step["at_c"]["middle"] for step in steps if "at_c" in step]

"""Files that nobody would write by accident: the program says what is wrong, in time, and never falls over."""

import os
import re

import pytest

from watchdog import spent, watched

BREAD = """title: {title}
makes: {makes}

dough:
  500 g bread flour
  {amount} water
  2 % salt
  10 min mix
{more}"""


def bread(title="Corner loaf", makes="1 loaf", amount="65 %", more="") -> str:
    return BREAD.format(title=title, makes=makes, amount=amount, more=more)


def looked_at(folder, text, *, name="bread.loaf", **bounds):
    """Writes a file and has every verb look at it that makes something of it; gives what `check` said."""
    file = folder / name
    file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    told = watched("check", "--short", str(file), **bounds)
    before = file.read_bytes()
    for arguments in (["sheet"], ["sheet", "--json"], ["format", "--check"], ["build", "--out", str(folder / "out")]):
        code, out, err = watched(*arguments, str(file), **bounds)
        assert not re.search(r"\b(inf|nan|NaN|-0)\b|\d{40}", out), out[:500]
        if told[0] == 1 and arguments[0] != "format":
            assert code == 1, (arguments, out[:300], err[:300])
    assert file.read_bytes() == before
    return told


NO_NUMBERS = (
    "1e3 1E3 1e309 nan NaN inf -inf infinity 0x10 1_000 ½½ 1/0 −5 -5 +5 1.2.3 1,000 1.000,5 1'000 ٣٤٠ ३४० ３４０ 1/2/3 "
    "--1 1- ½/2 0/0 1,,5 .5. Ⅻ 1½½"
).split() + ["9" * 31, "0." + "1" * 400, "9" * 400, "1" * 13, "1 000"]


@pytest.mark.parametrize("number", NO_NUMBERS, ids=lambda number: f"{ascii(number)[:20]}x{len(number)}")
def test_what_is_no_number_is_an_error_at_its_place(number, tmp_path):
    code, out, _ = looked_at(tmp_path, bread(amount=f"{number} g"))
    assert code == 1, out
    assert any(line.startswith(f"{tmp_path}/bread.loaf:6:") and ": error[" in line for line in out.splitlines()), out


@pytest.mark.parametrize(
    "text",
    {
        "no pieces": bread(makes="0 loaves of 500 g"),
        "no weight": bread(makes="2 loaves of 0 g"),
        "no tin": bread(more="tin: 0 x 10 x 10 cm\n"),
        "no density": bread(makes="1 loaf", more="tin: 20 x 10 x 10 cm, 0 ml per g\n"),
        "no flour": "title: a\n\ndough:\n  100 g water\n  2 % salt\n  10 min mix\n",
        "only shares": "title: a\n\ndough:\n  100 % bread flour\n  65 % water\n  10 min mix\n",
        "nothing of flour": "title: a\n\ndough:\n  0 g bread flour\n  65 % water\n  10 min mix\n",
        "a dry starter": bread(more="").replace("65 % water", "10 % starter hydration 0 %"),
        "less than nothing": bread(amount="-5 %"),
        "a ring": bread(amount="20 % a", more="\nsoaker a:\n  1 part b\n\nsoaker b:\n  1 part c\n\nsoaker c:\n  1 part a\n"),
        "itself": bread(amount="20 % a", more="\nsoaker a:\n  1 part a\n  1 part oats\n"),
        "two sizes": bread(makes="2 loaves of 800 g"),
        "too much of the flour": "title: a\nflour: 1 kg\n\nformula:\n  100 % bread flour\n  65 % water\n  10 min mix\n\n"
        "poolish, 120 % of the flour:\n  100 % bread flour\n  100 % water\n",
        "a million tonnes": bread(amount="1000001 kg"),
        "a share past all sense": bread(amount="10001 %"),
        "a year of proof": bread(more="  367 days proof\n"),
        "the sun": bread(more="  30 min bake at 601 C\n"),
    }.items(),
    ids=lambda item: item[0].replace(" ", "-"),
)
def test_sums_that_cannot_be_are_told_of(text, tmp_path):
    code, out, _ = looked_at(tmp_path, text[1])
    assert code == 1 and ": error[" in out, out


@pytest.mark.parametrize("flour", ["1000000 kg", "0.001 g", "1 g"])
@pytest.mark.parametrize("water", ["10000 %", "65 %", "0.001 %"])
def test_the_largest_and_the_smallest_batch_are_worked_out(flour, water, tmp_path):
    text = bread(amount=water).replace("500 g bread", f"{flour} bread")
    code, out, _ = looked_at(tmp_path, text)
    assert "error" not in out and code == 0, out
    if (flour, water) != ("1 g", "65 %"):  # a trial dough, which is odd but not wrong
        assert ": warning[" in out or ": hint[" in out, out


def test_a_bakehouse_of_nonsense_is_told_of_in_its_own_file(tmp_path):
    (tmp_path / "bakehouse.loaf").write_text(
        "room: 9999 C\nasleep: 25:00-99:99\nscales: 0 g\nstarter: 0 % hydration, bread flour\n\n"
        "ingredient a:\n  like b\n\ningredient b:\n  like a\n\ningredient c:\n  500 % water\n",
        "utf-8",
    )
    _, out, _ = looked_at(tmp_path, bread())
    told = [line for line in out.splitlines() if "/bakehouse.loaf:" in line]
    assert {int(line.split(":")[1]) for line in told} >= {1, 2, 3, 4, 7, 13}, out


HIDDEN = [*map(chr, range(0x202A, 0x202F)), *map(chr, range(0x2066, 0x206A))]


@pytest.mark.parametrize("letter", HIDDEN, ids=lambda letter: f"{ord(letter):x}")
def test_letters_that_turn_the_line_about_are_errors_everywhere(letter, tmp_path):
    for text in (
        bread(title=f"Corner{letter} loaf"),
        bread(more=f"# a remark {letter}\n"),
        bread(more=f"notes:\n  Prose {letter} here.\n"),
        bread(amount=f"65 % {letter}"),
    ):
        code, out, _ = looked_at(tmp_path, text)
        assert code == 1 and "error[hidden-direction]" in out, out
        assert letter not in out
        assert letter not in watched("check", str(tmp_path / "bread.loaf"))[1]


CONTROLS = [chr(code) for code in (*range(0, 9), 11, 12, *range(14, 32), *range(0x7F, 0xA0)) if code != 0x85]


@pytest.mark.parametrize("letter", CONTROLS, ids=lambda letter: f"{ord(letter):x}")
def test_control_characters_are_errors_and_act_on_no_terminal(letter, tmp_path):
    code, out, _ = looked_at(tmp_path, bread(title=f"Corner{letter}]52;c;loaf", more=f"# remark {letter}\n"))
    assert code == 1 and "error[control-character]" in out, out
    shown = watched("check", str(tmp_path / "bread.loaf"))
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", shown[1] + shown[2])


NESTS = ["(", "[", "{", "<", "![", "[](", "*", "**", "_", "`", "~~", "> ", "- ", "1. ", '"', "'", "$", "<div>", "  "]
CLOSED = {"(": ")", "[": "]", "{": "}", "<": ">", "![": "](x)", "<div>": "</div>"}


@pytest.mark.parametrize("nest", NESTS)
def test_ten_thousand_nested_marks_are_bounded(nest, tmp_path):
    deep = nest * 4_000
    texts = [bread(more=f"notes:\n  {deep}\n"), bread(title=deep[:9000]), bread(amount=f"65 % {deep[:9000]}")]
    texts.append(bread(more="notes:\n" + "".join(f"  {nest * level}x\n" for level in range(60))))
    if nest in CLOSED:
        both = nest * 1_500 + "x" + CLOSED[nest] * 1_500
        texts.append(bread(more=f"notes:\n  {both[:9000]}\n"))
    for text in texts:
        looked_at(tmp_path, text)


NOTES = {
    "links": "[a](", "images": "![a](", "emphasis": "*a _b ", "strong": "**a", "fences": "```\n", "quotes": "> ",
    "code": "`a``", "html": "<!-- ", "tags": "<a href=", "references": "[a]: b\n", "tables": "|a|b\n|-|-\n",
    "escapes": "\\", "entities": "&amp", "lists": "- a\n", "autolinks": "http://a", "struck": "~~a ",
}


@pytest.mark.parametrize("name", NOTES)
def test_long_notes_cost_no_more_than_they_are_long(name, tmp_path):
    def text(kibibytes):
        piece = NOTES[name]
        lines, line = [], ""
        for _ in range(kibibytes * 1024 // max(len(piece), 4)):
            line += piece
            if len(line) > 8000 or piece.endswith("\n"):
                lines.append(line.rstrip("\n"))
                line = ""
        return bread(more="notes:\n" + "\n".join(f"  {line}" for line in lines) + "\n")

    def cost(kibibytes):
        file = tmp_path / "bread.loaf"
        file.write_text(text(kibibytes), "utf-8")
        return spent("build", str(file), "--out", str(tmp_path / "out"))[3]

    start, small, large = cost(0), cost(15), cost(60)
    # Below a fifth of a second the clock is too coarse to tell.
    assert large - start < max(6 * (small - start), 0.2) or large < 0.5, (start, small, large)


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="this system has no such devices")
def test_files_past_the_limit_are_not_read(tmp_path):
    sparse = tmp_path / "sparse.loaf"
    with open(sparse, "wb") as file:
        file.truncate(8 << 30)
    large = tmp_path / "large.loaf"
    with open(large, "wb") as file:
        for _ in range(100):
            file.write(b"x" * (1 << 20))
    zero = tmp_path / "zero.loaf"
    zero.symlink_to("/dev/zero")
    for file in (sparse, large, zero):
        code, out, err = watched("check", "--short", str(file), mebibytes=64, seconds=2.5)
        assert code in (1, 2) and file.name in out + err, (out, err)


def test_one_endless_line_and_many_unknown_names_are_cut_short(tmp_path):
    code, out, _ = looked_at(tmp_path, bread(title="x" * 900_000))
    assert code == 1 and len(out) < 64 * 1024
    names = "".join(f"  1 g {'flower of the field ' * 8}{at}\n" for at in range(900))
    code, out, _ = looked_at(tmp_path, bread().replace("  2 % salt\n", names))
    assert len(out) < 65 * 1024 and out.count("\n") <= 102, len(out)
    assert " more like these are not shown" in out


@pytest.mark.parametrize(
    "bytes_",
    [
        b"title: Caf\xe9\n", b"\xff\xfet\0i\0t\0l\0e\0", b"\xfe\xff\0t\0i", b"title: \xc0\xaf\n", b"title: \xed\xa0\x80\n",
        b"title: \xf0\x9f\x8d", b"\x7fELF\x02\x01\x01\0\0", b"\x89PNG\r\n\x1a\n\0\0", bytes(range(256)), b"", b"\xef\xbb\xbf",
        b"# only a remark\n", b"\r\r\r", b"\n" * 100_000,
    ],
    ids=lambda bytes_: f"{bytes_[:6].hex() or 0}x{len(bytes_)}",
)
def test_bytes_that_are_no_recipe_are_told_of_and_left_alone(bytes_, tmp_path):
    code, out, _ = looked_at(tmp_path, bytes_)
    assert code == 1 and "error[" in out, out
    assert watched("format", str(tmp_path / "bread.loaf"))[0] == 1
    assert (tmp_path / "bread.loaf").read_bytes() == bytes_

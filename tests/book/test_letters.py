"""What a text may hold: signs that nobody sees go, signs that deceive are refused, and so is a text too long."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from calculators.core.fields import Text
from tests.support.hostile import TEXTS
from tools.book import letters, packs
from tools.book.data import load
from tools.book.tables import TABLES
from tools.problems import Problem, Problems

DEMO = Path(__file__).parents[2] / "docs" / "data"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(DEMO, tmp_path / "data"))


def told(folder: Path) -> list[Problem]:
    with pytest.raises(Problems) as caught:
        load(folder)
    return caught.value.found


@pytest.mark.parametrize(
    ("text", "clean"),
    [
        ("a  b", "a b"), ("  a ", "a"), ("a\nb\r\nc\td", "a b c d"), ("a\u2028b\u2029c\u0085d", "a b c d"), ("a\u00a0\u3000b", "a b"),
        ("a\u00adb", "ab"), ("a\u200bb", "ab"), ("\ufeffa", "a"), ("a\u2060b", "ab"), ("pier\u200d\u200c-hall", "pier-hall"),
        ("é\u200da", "éa"), ("é\u200d", "é"), ("\u200dé", "é"), ("👩\u200d🔧", "👩\u200d🔧"), ("می\u200cخواهم", "می\u200cخواهم"),
        ("🏴\U000e0067\U000e0062\U000e007f", "🏴\U000e0067\U000e0062\U000e007f"), ("a\U000e0067\U000e0062", "a"),
        ("\u200fשלום\u200e", "\u200fשלום\u200e"), ("x\ufe0f", "x\ufe0f"),
    ],
)  # fmt: skip
def test_what_nobody_sees_is_cleaned_away(text: str, clean: str) -> None:
    """Blanks become one; joiners stay where letters need them."""
    assert letters.cleaned(text) == clean
    assert letters.complaint(clean) is None


@pytest.mark.parametrize("text", TEXTS)
def test_what_merely_looks_like_something_else_stays(text: str) -> None:
    assert letters.cleaned(text) == text
    assert letters.complaint(text) is None


BAD = [("\x07", "control"), ("\x1b", "control"), ("\x7f", "control"), ("\x9b", "control"), ("\ud800", "half a letter"),
       ("\udfff", "half a letter"), ("\u202e", "direction"), ("\u202a", "direction"), ("\u2066", "direction"), ("\u2069", "direction"),
       ("\ufffe", "no letter"), ("\uffff", "no letter"), ("\ufdd0", "no letter"), ("\U0001ffff", "no letter")]  # fmt: skip


@pytest.mark.parametrize(("sign", "words"), BAD, ids=[f"{ord(sign):x}" for sign, _ in BAD])
def test_what_deceives_is_refused(sign: str, words: str) -> None:
    """With the sign's number, because it cannot be shown."""
    what, mend = letters.complaint(f"a{letters.cleaned(sign)}b") or ("", "")
    assert words in what
    assert f"U+{ord(sign):04X}" in what
    assert mend


def columns(table: Any) -> list[str]:
    return [name for name, field in table.columns().items() if isinstance(field, Text)]


def spoil(folder: Path, text: str) -> set[tuple[str, str]]:
    """Put a text into the first row of every table, in every text column; return the places."""
    places = set()
    for table in TABLES:
        path = folder / "tables" / f"{table.name}.csv"
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        head = list(dict.fromkeys([*rows[0], *columns(table)]))
        rows[0].update(dict.fromkeys(columns(table), text))
        with path.open("w", encoding="utf-8", newline="") as file:
            made = csv.DictWriter(file, head, restval="")
            made.writeheader()
            made.writerows(rows)
        places |= {(path.name, f"row 2, column {name}") for name in columns(table)}
    return places


@pytest.mark.parametrize("sign", ["\x07", "\u202e", "\ufdd0"])
def test_every_text_column_of_every_table_refuses_it(folder: Path, sign: str) -> None:
    """With file, row and column; and what is printed of it shows no such sign."""
    places = spoil(folder, f"a{sign}b")
    found = told(folder)
    assert places <= {(each.file, each.place) for each in found if f"U+{ord(sign):04X}" in each.what}
    assert all(sign not in str(each) for each in found)


@pytest.mark.parametrize(("count", "words"), [(5000, "5000 characters"), (401, "at most")])
def test_every_text_column_of_every_table_refuses_a_text_too_long(folder: Path, count: int, words: str) -> None:
    """With its length and what to do; it is never cut."""
    places = spoil(folder, "x" * count)
    found = {(each.file, each.place): each for each in told(folder) if words in each.what}
    assert places <= found.keys() | {(each.file, each.place) for each in told(folder) if "key" in each.place}
    assert all("Shorten" in found[place].mend and len(str(found[place])) < 400 for place in places & found.keys())


@pytest.mark.parametrize(("column", "most"), [("name", 80), ("note", 400), ("contact", 120)])
def test_how_long_a_text_may_be(folder: Path, column: str, most: int) -> None:
    def spoiled(text: str) -> None:
        rows = list(csv.reader((folder / "tables" / "sites.csv").read_text("utf-8").splitlines()))
        rows[1][rows[0].index(column)] = text
        with (folder / "tables" / "sites.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows(rows)

    spoiled("é" * most)
    assert load(folder).tables["sites"][0].typed[column] == "é" * most
    spoiled("é" * (most + 1))
    (problem,) = told(folder)
    assert problem.place == f"row 2, column {column}"
    assert problem.mend == f"Shorten it: it has {most + 1}."


def test_a_guarded_cell_is_read_without_its_guard(folder: Path) -> None:
    """Pages put a quote before what a spreadsheet would work out; a quote of somebody's own stays."""
    for cell, text in {"'=1+1": "=1+1", "''=1": "'=1", "'-x": "-x", "'tis": "'tis", "=1+1": "=1+1", "'+a": "+a", "'@a": "@a"}.items():
        rows = (DEMO / "tables" / "gear.csv").read_text("utf-8").splitlines()
        parts = next(csv.reader([rows[1]]))
        parts[rows[0].split(",").index("used_for")] = cell
        (folder / "tables" / "gear.csv").write_text("\n".join([rows[0], ",".join(f'"{part}"' for part in parts), *rows[2:]]), "utf-8")
        assert load(folder).tables["gear"][0].typed["used_for"] == text


# -- settings -------------------------------------------------------------------------------


def company(folder: Path, **entries: object) -> list[str]:
    told_ = {"name": "A", "units": "us", "rules": "us", "emergency": "911", **entries}
    (folder / "handbook.toml").write_text("".join(f"{key} = {json.dumps(value)}\n" for key, value in told_.items()), "utf-8")
    return [f"{each.place}: {each.what}" for each in told(folder)]


@pytest.mark.parametrize(
    ("entry", "value", "words"),
    [
        ("name", "x" * 81, "81 characters"), ("edition", "x" * 41, "41 characters"), ("trainer", "x" * 201, "201 characters"),
        ("name", "a\u202eb", "U+202E"), ("trainer", "a\x07b", "U+0007"), ("name", " ", "empty"), ("name", ["a"], "no text"),
        ("electrician", True, "no text"), ("accent", "red", "not a colour"), ("accent", "#+1+1+1", "not a colour"), ("accent", "#0b5c6b}", "not a colour"),
    ],
)  # fmt: skip
def test_an_entry_that_cannot_be_used_is_told(folder: Path, entry: str, value: object, words: str) -> None:
    assert any(each.startswith(f"{entry}: ") and words in each for each in company(folder, **{entry: value}))


@pytest.mark.parametrize(("entry", "most"), [("name", 80), ("edition", 40), ("trainer", 200), ("foot", 200)])
def test_an_entry_may_be_just_as_long_as_is_told(folder: Path, entry: str, most: int) -> None:
    """Beside another mistake, which is then the only one."""
    exact, longer = (company(folder, units="none", **{entry: "x" * count}) for count in (most, most + 1))
    assert [each.partition(":")[0] for each in exact] == ["units"]
    assert [each.partition(":")[0] for each in longer] in ([entry, "units"], ["units", entry])


def test_an_entry_of_several_lines_is_one_line(folder: Path) -> None:
    text = (folder / "handbook.toml").read_text("utf-8").replace('trainer = "the lead installer"', 'trainer = """\nthe lead\n installer"""')
    (folder / "handbook.toml").write_text(text, "utf-8")
    assert load(folder).company["trainer"] == "the lead installer"


@pytest.mark.parametrize("text", ["[" * 20_000, "a = " + "[" * 20_000, "drills = " + "9" * 5000, "name = 'a", "\0"], ids=range(5))
@pytest.mark.parametrize("file", ["handbook.toml", "rules.toml"])
def test_a_file_of_settings_that_cannot_be_read_is_one_mistake(folder: Path, file: str, text: str) -> None:
    """However deep or long it is."""
    (folder / file).write_text(text, "utf-8")
    assert [(each.file, each.place) for each in told(folder) if "cannot be read" in each.what] == [(file, "")]


def test_an_own_figure_s_words_are_held_to_the_same(folder: Path) -> None:
    (folder / "rules.toml").write_text('["space.rear_gap"]\nvalue = 7\nunit = "in"\nlabel = "a\\u202eb"\n', "utf-8")
    assert [(each.file, each.place) for each in told(folder)] == [("rules.toml", "space.rear_gap")]


def pack(tmp_path: Path, key: str = "one", **parts: object) -> list[str]:
    question = {"ask": "a", "answers": ["a", "b"], "right": "a", "why": "w", "page": "safety/emergency"}
    asked = {name: parts.pop(name) for name in list(parts) if name in question}
    facts = {"title": "t", "summary": "s", "pages": ["safety/emergency"], **parts}
    lines = [f"[{json.dumps(key)}]", *(f"{name} = {json.dumps(value)}" for name, value in facts.items()), f"[[{json.dumps(key)}.questions]]",
             *(f"{name} = {json.dumps(value)}" for name, value in {**question, **asked}.items())]  # fmt: skip
    (tmp_path / packs.FILE).write_text("\n".join(lines), "utf-8")
    try:
        packs.load(tmp_path, ["safety/emergency.md"])
    except Problems as error:
        return [str(each) for each in error.found]
    return []


@pytest.mark.parametrize("key", ["con", "nul", "index", "Ab", "a.", "é", "drills", "cash-answers", "../x"])
def test_a_pack_s_key_is_a_file_s_name(tmp_path: Path, key: str) -> None:
    """On every system, and never that of another booklet."""
    assert len(pack(tmp_path, key)) == 1


@pytest.mark.parametrize(
    ("part", "value", "words"),
    [
        ("title", "x" * 81, "81 characters"), ("summary", "x" * 401, "401 characters"), ("ask", "x" * 401, "401 characters"),
        ("why", "x" * 401, "401 characters"), ("answers", ["a", "x" * 201], "201 characters"), ("title", "a\u202eb", "U+202E"),
        ("why", 7, "no text"), ("answers", ["a", 7], "no list"), ("ask", "a\x07b", "U+0007"),
    ],
)  # fmt: skip
def test_a_pack_s_text_that_cannot_be_used_is_told(tmp_path: Path, part: str, value: object, words: str) -> None:
    (problem,) = pack(tmp_path, **{part: value})
    assert words in problem


def test_a_pack_s_texts_may_be_so_long_and_are_cleaned(tmp_path: Path) -> None:
    assert pack(tmp_path, title="x" * 80, summary="x" * 400, ask="x" * 400, why="x" * 400, answers=["a", "x" * 200]) == []
    assert pack(tmp_path, title="a\n b\u200b") == []
    assert packs.load(tmp_path, ["safety/emergency.md"])[0].title == "a b"

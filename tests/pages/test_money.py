"""The money pages: what a bag must hold, what is read before what is taken, and where the number to call is kept."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal
from pathlib import Path

from tests.support import prose

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "procedures" / "collect-and-count.md").read_text(encoding="utf-8")
ROW = re.compile(r"^\| \**([A-E]|The bag)(?:,|: A − B − C \+ D − E)([^|]*)\| \**([\d.,]+)\** \|$", re.MULTILINE)


def number(text: str) -> Decimal:
    return Decimal(text.replace(",", ""))


def rows() -> dict[str, tuple[str, Decimal]]:
    """Each line of the example: what stands beside it, and its figure."""
    return {line: (told, number(since)) for line, told, since in ROW.findall(PAGE)}


def cabinet(tubes: Decimal, sales: Decimal, back: Decimal, filled: Decimal, taken: Decimal, left: Decimal) -> Decimal:
    """What lies in the boxes of a cabinet whose every coin is in a tube or a box, by what went in and out of it."""
    inside = tubes  # the boxes were emptied at the last readings
    inside += sales + filled
    inside -= back + taken
    return inside - left


def test_each_line_is_now_less_last_time() -> None:
    for line, (told, since) in rows().items():
        if found := re.search(r"([\d.,]+) − ([\d.,]+)", told):
            assert number(found[1]) - number(found[2]) == since, line
    assert list(rows()) == ["A", "B", "C", "D", "E", "The bag"]


def test_the_bag_holds_what_is_in_no_tube() -> None:
    """The formula is told in terms of counters; the cabinet knows only coins."""
    told = rows()
    last, now = (number(found) for found in reversed(re.findall(r"[\d,]+\.\d\d", told["C"][0])))
    since = {line: figure for line, (_, figure) in told.items()}
    assert cabinet(last, since["A"], since["B"], since["D"], since["E"], now) == since["The bag"]


def step(name: str, words: str) -> int:
    """The number of the one step of a procedure whose order holds the words."""
    found = [each.number for each in prose.page(DOCS / "procedures" / f"{name}.md").steps if words in each.order]
    assert len(found) == 1, (words, found)
    return found[0]


def test_what_is_read_is_read_before_money_moves() -> None:
    """A reading taken after the boxes were emptied, or with the plug out, says nothing."""
    order = [step("collect-and-count", words) for words in
             ("each counter", "value in the tubes", "Photograph", "coin box", "bill box", "Seal the bag", "Count the bag")]  # fmt: skip
    assert order == sorted(order)
    unit = (DOCS / "procedures" / "note-unit.md").read_text(encoding="utf-8")
    assert "(collect-and-count.md#step-3)" in unit.split("## Steps")[0]
    assert "collect-and-count.md" not in unit.split("## Steps")[1].split("## How you know")[0]


def test_money_is_out_of_sight_before_anything_is_written() -> None:
    """A collector who writes or calls at an open door stands there with the bag in hand."""
    order = [step("collect-and-count", words) for words in ("Seal the bag", "Lock the bag away", "the seal's number", "Sign the sheet")]
    assert order == sorted(order)
    sealed, written = (re.search(rf"^{number}\. [^\n]*\n((?: .*\n)+)", PAGE, re.MULTILINE) for number in (order[0], order[2]))
    assert sealed
    assert written
    assert "lock the door" in sealed[1]
    assert "locked van" in written[1]
    assert "call" not in sealed[1]


def test_the_number_to_call_hangs_on_no_key() -> None:
    """Keys are given away in a robbery, and lost."""
    told = tomllib.loads((DOCS / "data" / "handbook.toml").read_text(encoding="utf-8"))["phone_office"]
    assert "key" not in told.lower()
    for path in sorted(DOCS.rglob("*.md")):
        assert not re.search(r"number (?:is )?on (?:your|the) key", path.read_text(encoding="utf-8")), path.name

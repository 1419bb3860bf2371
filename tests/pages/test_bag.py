"""What a bag must hold, by the page's own example: against money followed coin by coin, and by its formula."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

PAGE = (Path(__file__).parents[2] / "docs" / "procedures" / "collect-and-count.md").read_text(encoding="utf-8")
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

"""What the card lacks, before what it says: how many items, and those without which work stops."""

from __future__ import annotations

import pytest

from tools.book.card import Item
from tools.pages import machinecard

PLAIN, STOPS = Item("frame_gap", "feet", "Gap"), Item("lift_points", "feet", "Lift <here>", stop=True)


@pytest.mark.parametrize(("lacking", "names"), [([PLAIN], ""), ([PLAIN, STOPS], "Lift &lt;here&gt;."), ([STOPS, STOPS], "Lift &lt;here&gt;; Lift &lt;here&gt;.")])
def test_what_stops_work_is_named_beside_the_count(lacking: list[Item], names: str) -> None:
    told = machinecard._lacking(lacking)
    assert f"<strong>{len(lacking)} items are not on the card yet.</strong>" in told
    assert (f"<strong>Work stops without these:</strong> {names}" in told) is bool(names)
    assert ("Work stops" in told) is bool(names)


def test_of_a_whole_card_nothing_is_said() -> None:
    assert machinecard._lacking([]) == ""

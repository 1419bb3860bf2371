"""A blank count of turns: a stop where every count is one, and not a word more."""

from __future__ import annotations

from typing import Any

import pytest

import calculators
from calculators.spiral.owned import LEAST, MOST
from tests.support import pairs

COIL = {"usable_length": 546.1, "coil_outside": 49.27, "wire": 4.0}
BOTTLE = {"shape": "round", "diameter": 65.0, "foot_diameter": 60.0, "height": 205.0, "height_above": 241.3, "end_clock": 12}
RUN = pairs.runner(calculators.get("spiral"), bounds=True)


def run(inputs: dict[str, Any], rules: str = "us") -> dict[str, Any]:
    result = RUN(inputs, rules)
    assert result is not None
    return result


def told(result: dict[str, Any]) -> str | None:
    return next((check["text"] for check in result["checks"] if check["key"] == "counts"), None)


def by_count(inputs: dict[str, Any], rules: str = "us") -> set[str]:
    """The outcomes of every count whose turns do not touch."""
    sheets = (RUN({**inputs, "coil_count": count}, rules) for count in range(LEAST, MOST + 1))
    return {sheet["outcome"] for sheet in sheets if sheet is not None}


def every_count_stops(inputs: dict[str, Any], rules: str) -> bool:
    """The same as far as it takes, the counts in use first."""
    counts = sorted(range(LEAST, MOST + 1), key=lambda count: abs(count - 7))
    sheets = (RUN({**inputs, "coil_count": count}, rules) for count in counts)
    return all(sheet["outcome"] == "stop" for sheet in sheets if sheet is not None)


def test_a_coil_in_which_no_count_holds_the_bottle_is_a_stop() -> None:
    """Few turns let it fall, more leave no room for it: no counting of turns helps."""
    result = run({**COIL, **BOTTLE})
    assert result["outcome"] == "stop"
    assert by_count({**COIL, **BOTTLE}) == {"stop"}
    text = told(result) or ""
    assert text.startswith("Whatever its count, something stops it: 2 to ")
    assert text.endswith("7 to 40 turns, goes in between two turns.")
    assert "changes" not in [table["key"] for table in result["tables"]]


@pytest.mark.parametrize("change", [{"coil_outside": 76.2, "height_above": 280.0}, {"diameter": None}, {"wire": None}, {"usable_length": None}])
def test_where_one_count_may_do_it_stays_open(change: dict[str, Any]) -> None:
    result = run({key: value for key, value in {**COIL, **BOTTLE, **change}.items() if value is not None})
    assert told(result) is None
    assert result["outcome"] == "unknown"


def test_what_stops_it_whatever_coil_there_is_says_nothing_of_the_count() -> None:
    """A lane too narrow for it is told as such: with a wider one a count may do."""
    narrow = {**COIL, **BOTTLE, "coil_outside": 76.2, "height_above": 280.0, "lane_width": 50.0}
    result = run(narrow)
    assert result["outcome"] == "stop"
    assert told(result) is None
    assert by_count(narrow) == {"stop"}


def test_coils_of_the_list_are_not_taken_for_the_one_on_the_form() -> None:
    """One of them without its count may be any of many: the others may suit."""
    rows = [{"name": name, "coil_outside": 49.27, "wire": 4.0} for name in ("odd", "other")]
    assert told(run({**BOTTLE, "usable_length": 546.1, "coils": rows})) is None


def test_told_or_not_it_is_what_all_counts_say() -> None:
    """Random requests without their count: a stop is told exactly where nothing else but stops come of any count."""
    calculator = calculators.get("spiral")
    seen = {True: 0, False: 0}
    for seed in range(30):
        inputs, rules = pairs.made(calculator, seed)
        inputs = {key: value for key, value in inputs.items() if key not in ("coil_count", "coils")}
        result = RUN(inputs, rules)
        if result is None or any(inputs.get(key) is None for key in COIL) or result["outcome"] not in ("stop", "unknown"):
            continue
        assert (result["outcome"] == "stop") == every_count_stops(inputs, rules), (seed, result["headline"])
        seen[told(result) is not None] += 1
    assert min(seen.values()) >= 1, seen


def test_a_coil_that_ends_short_of_every_wire_is_a_stop_however_long_it_is() -> None:
    """Whether anything stops the first pack rests on the hour alone; a broad one stands without."""
    inputs = {**BOTTLE, "coil_count": 9, "coil_outside": 76.2, "wire": 4.0, "end_clock": 9}
    assert run(inputs)["outcome"] == "stop"
    lengths = [run({**inputs, "usable_length": length})["outcome"] for length in range(100, 1501, 50)]
    assert set(lengths) == {"stop"}
    broad = run({**inputs, "height": 60.0})
    assert next(check["outcome"] for check in broad["checks"] if check["key"] == "first") == "caution"
    assert run({**inputs, "height": None})["outcome"] == "unknown", "how it falls is not known"
    held = next(check for check in run({**inputs, "end_clock": 12})["checks"] if check["key"] == "first")
    assert held["outcome"] == "unknown", "there is wire before it: how long the coil is decides"


def first(inputs: dict[str, Any]) -> str:
    return str(next(check["outcome"] for check in run(inputs)["checks"] if check["key"] == "first"))


def test_a_pack_that_may_be_turned_is_not_known_to_fall_before_it_is_known_how_it_goes_in() -> None:
    """Square-on it is broad enough to stand, sideways it is not; where it falls either way it falls."""
    pack = {"shape": "flat", "breadth": 30.0, "thickness": 75.0, "height": 100.0, "coil_count": 7, "coil_outside": 76.2,
            "wire": 4.0, "end_clock": 9, "lane_width": 120.0}  # fmt: skip
    assert [first({**pack, "may_turn": may_turn}) for may_turn in (True, False)] == ["unknown", "caution"]
    assert first({**pack, "may_turn": True, "height": 300.0}) == "stop"
    assert first({**pack, "may_turn": True, "height": 30.0}) == "caution"
    assert first({**pack, "may_turn": True, "height": 300.0, "breadth": None}) == "unknown"
    assert first({**pack, "may_turn": True, "height": 300.0, "usable_length": 546.1}) == "stop"


def test_a_lean_turns_back_along_counts_and_lengths() -> None:
    """So nothing between two of them follows from both: neither field may promise that a check goes one way along it."""
    can = {"shape": "round", "diameter": 40.5, "foot_diameter": 27.4, "height": 127.7, "wire": 3.41, "coil_outside": 100.6, "coil_kind": "dual",
           "axis_offset": 47.9, "lane_width": 175.9, "end_clock": 7}  # fmt: skip

    def leans(**coil: float) -> str:
        return str(next(check["outcome"] for check in run({**can, **coil})["checks"] if check["key"] == "lean"))

    assert [leans(usable_length=545.9, coil_count=count) for count in (9, 10, 11)] == ["pass", "stop", "caution"]
    assert [leans(usable_length=545.9 / count * 10, coil_count=10) for count in (9, 10, 11)] == ["pass", "stop", "caution"]
    fields = [calculators.get("spiral").inputs.field(key) for key in ("coil_count", "usable_length")]
    assert not any(field.ends or field.worse for field in fields)


@pytest.mark.parametrize(("rail", "word"), [(60.0, "Stop"), (80.0, "Not known yet")])
def test_what_a_change_is_said_to_do_it_does_for_every_count(rail: float, word: str) -> None:
    """A wider lane lets a bottle in, and between low rails lets it fall, whatever the count."""
    narrow = {**COIL, **BOTTLE, "coil_outside": 76.2, "height_above": 280.0, "lane_width": 60.0, "rail_height": rail,
              "drop_height": 300.0, "drop_limit": 3000.0}  # fmt: skip
    table = next(table for table in run(narrow)["tables"] if table["key"] == "changes")
    assert [row[:2] for row in table["rows"]] == [["A wider lane. Lane width: at least 80 mm.", word]]
    assert run({**narrow, "lane_width": 80.0})["word"] == word

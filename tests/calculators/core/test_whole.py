"""A sheet that is decided although no open check of it is: on limits that can be compared in the head."""

from __future__ import annotations

from typing import Any

import pytest

from calculators.core import Calculator, CheckSpec, Choice, Quantity, Record, Work
from calculators.core.fields import Count


class Inputs(Record):
    """Goods and how they go."""

    price = Quantity("Price", kind="ratio", least=0, most=100, ends=True)
    pieces = Count("Pieces", least=0, most=100_000, ends=True)
    way = Choice("Way", {"air": "By air", "sea": "By sea"})
    load = Quantity("Load", kind="mass", least=0, most=100, worse="more")
    color = Quantity("Color", kind="ratio")


KEYS = ("low", "high", "few", "many", "air", "sea", "load", "color")
RUNS: list[int] = []


def run(limits: dict[str, float], *soft: str, **inputs: Any) -> dict[str, Any]:
    """The result where only some checks are made: not under ``low``, not over ``high`` and so on."""

    def solve(given: Any, work: Work) -> None:
        RUNS.append(1)
        values = {"low": ("at least", "price"), "high": ("at most", "price"), "few": ("at least", "pieces"),
                  "many": ("at most", "pieces"), "load": ("at most", "load"), "color": ("at most", "color")}  # fmt: skip
        for key, limit in limits.items():
            if key in values:
                work.check(key, getattr(given, values[key][1]), limit, needs=(values[key][1],))
            else:
                work.verdict(key, None if given.way is None else given.way != key, needs=("way",))

    at_least = {"low", "few"}
    specs = tuple(CheckSpec(key, key.capitalize(), "ratio", "at least" if key in at_least else "at most", soft=key in soft) for key in KEYS)
    made = Calculator("goods", "", "", "", Inputs, (), specs, solve, {})
    RUNS.clear()
    return made.run({"units": "si", "inputs": inputs})


@pytest.mark.parametrize(
    ("limits", "expected"),
    [({"few": 70_001, "many": 60_000}, "stop"), ({"few": 60_001, "many": 60_000}, "stop"),
     ({"few": 60_000, "many": 60_000}, "unknown"), ({"few": 50_000, "many": 60_000}, "unknown")],
)  # fmt: skip
def test_too_few_or_too_many_whatever_the_number_is(limits: dict[str, float], expected: str) -> None:
    """Where one number alone would do it is not decided, and neither where many would."""
    result = run(limits)
    assert result["outcome"] == expected
    assert {check["outcome"] for check in result["checks"]} == {"unknown"}


@pytest.mark.parametrize(("low", "high", "expected"), [(60, 40, "stop"), (41, 40, "stop"), (40, 40, "unknown"), (40, 60, "unknown")])
def test_the_same_of_a_measure(low: float, high: float, expected: str) -> None:
    """Where a part of the range would do, it stays open."""
    assert run({"low": low, "high": high})["outcome"] == expected


def test_what_is_said_then() -> None:
    """What is not measured and what fails; no check is called the one that decides, and what to measure is still told."""
    result = run({"few": 70_001, "many": 60_000})
    assert result["headline"] == "Stop. Left blank: Pieces. Whatever stands there, one of these fails: Few; Many."
    assert result["tightest"] is None
    assert result["measure_next"]["field"] == "pieces"


def test_each_word_of_a_choice_counts() -> None:
    """Neither way goes: that is a stop. Where one goes, it is open."""
    assert run({"air": 0, "sea": 0})["outcome"] == "stop"
    assert run({"air": 0})["outcome"] == "unknown"


def test_what_can_only_be_a_caution_makes_one() -> None:
    """Both soft: take care. One of them soft: it is stop or take care, and so not known."""
    limits: dict[str, float] = {"few": 70_001, "many": 60_000}
    assert run(limits, "few", "many")["outcome"] == "caution"
    assert run(limits, "few")["outcome"] == "unknown"


def test_another_open_check_keeps_a_caution_open_but_no_stop() -> None:
    """A load that may be a stop: with two cautions it is not known, with two stops it makes no difference."""
    limits: dict[str, float] = {"few": 70_001, "many": 60_000, "load": 50}
    assert run(limits, "few", "many")["outcome"] == "unknown"
    assert run(limits)["outcome"] == "stop"
    assert run({**limits, "load": 100}, "few", "many")["outcome"] == "caution"


def test_a_blank_without_ends_is_never_guessed() -> None:
    """Nothing says what a color may be: it could be a stop, and nothing else is one."""
    assert run({"color": 5}, "color")["outcome"] == "unknown"
    assert run({"color": 5, "few": 70_001, "many": 60_000}, "few", "many")["outcome"] == "unknown"


def test_the_search_ends() -> None:
    """A gap of one in a hundred thousand between the two, and many blanks: no more runs than a phone has time for."""
    run({"few": 50_001, "many": 50_000, "low": 50.000_001, "high": 50, "load": 50, "air": 0})
    assert len(RUNS) <= 1 + 40 + 40 + 16

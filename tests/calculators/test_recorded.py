"""Nothing that a calculator prints changes unnoticed: a word, a digit, a line of a drawing, a field of its form."""

from __future__ import annotations

import pytest

import calculators
from tests.support import recorded

AGAIN = "meant? test --record tests/calculators/test_recorded.py, and read which answers the difference names"


@pytest.mark.parametrize("name", calculators.NAMES)
def test_it_says_what_was_recorded(name: str, request: pytest.FixtureRequest) -> None:
    """Of the examples, of those with entries changed and of drawn requests; told by the part that is another one."""
    if request.config.getoption("--record"):
        recorded.record(name)
    kept = recorded.kept(name)
    said = dict(recorded.answers(calculators.get(name)))
    assert list(said) == list(kept), AGAIN
    other = {which: [part for part in kept[which] | said[which] if kept[which].get(part) != said[which].get(part)] for which in kept}
    assert {which: parts for which, parts in other.items() if parts} == {}, AGAIN


@pytest.mark.parametrize("name", calculators.NAMES)
def test_what_is_recorded_goes_through_all_outcomes(name: str) -> None:
    """Requests that all come to the same would look into one corner only."""
    words = [told.get("word") for told in recorded.kept(name).values()]
    assert words.count("Go") + words.count("Take care") >= 5
    assert words.count("Stop") >= 1
    assert words.count("Not known yet") >= 1

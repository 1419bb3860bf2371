"""Nothing that a calculator prints changes unnoticed: a word, a digit, a line of a drawing, a field of its form."""

from __future__ import annotations

import pytest

import calculators
from tests.support import recorded


@pytest.mark.parametrize("name", calculators.NAMES)
def test_it_says_what_was_recorded(name: str, request: pytest.FixtureRequest) -> None:
    """Of the examples, of those with entries changed and of drawn requests; told by the part that is another one."""
    recorded.held(name, recorded.answers(calculators.get(name)), request)


@pytest.mark.parametrize("name", calculators.NAMES)
def test_what_is_recorded_goes_through_all_outcomes(name: str) -> None:
    """Requests that all come to the same would look into one corner only."""
    words = [told.get("word") for told in recorded.kept(name).values()]
    assert words.count("Go") + words.count("Take care") >= 5
    assert words.count("Stop") >= 1
    assert words.count("Not known yet") >= 1

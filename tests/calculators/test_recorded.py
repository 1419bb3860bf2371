"""Nothing that a calculator prints changes unnoticed: a word, a digit, a line of a drawing, a field of its form."""

from __future__ import annotations

from collections.abc import Iterator

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


def test_what_is_another_one_is_told_and_of_very_many_not_all() -> None:
    """One part of one answer, one answer more or less; where all are others it does not look through the whole list."""
    kept = recorded.kept("cash")
    some = next(name for name, told in kept.items() if "checks" in told)
    for said in (
        {**kept, some: {**kept[some], "checks": "another"}},
        {**kept, "one more": {}},
        dict(list(kept.items())[1:]),
    ):
        with pytest.raises(AssertionError):
            recorded.compare(kept, said.items())
    looked: list[str] = []

    def others() -> Iterator[tuple[str, recorded.Kept]]:
        for name in kept:
            looked.append(name)
            yield name, {"checks": "another"}

    with pytest.raises(AssertionError, match="perhaps more"):
        recorded.compare(kept, others())
    assert len(looked) == recorded.ENOUGH < len(kept)
    recorded.compare(kept, kept.items())

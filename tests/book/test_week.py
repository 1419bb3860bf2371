"""Visiting days: how they are written, how far apart they are, and what they may not contradict."""

from __future__ import annotations

import itertools
import random

import pytest

from tools.book import week
from tools.book.tables import Row


@pytest.mark.parametrize(("text", "days"), [
    ("Mon", [0, 7]), ("mon thu", [0, 3, 7, 10]), ("Monday, Thursday", [0, 3, 7, 10]), ("odd Tue", [1]), ("even Tue", [8]),
    ("Fri; odd Mon", [0, 4, 11]), ("Mo We Fr", [0, 2, 4, 7, 9, 11]), ("even Sun", [13]),
])  # fmt: skip
def test_days_as_people_write_them(text: str, days: list[int]) -> None:
    assert week.days_of(text) == days


@pytest.mark.parametrize("text", ["", "daily", "odd", "Mon even", "M", "Mon 3"])
def test_what_is_no_day_is_refused_with_how_to_write_it(text: str) -> None:
    with pytest.raises(ValueError, match="odd Mon"):
        week.days_of(text)


def test_gaps_go_once_round_the_fortnight() -> None:
    """For any days: as many gaps as days, all of them fourteen together, each leading to the next day."""
    rng = random.Random("gaps")
    for _ in range(200):
        days = sorted(rng.sample(range(14), rng.randrange(1, 14)))
        gaps = week.gaps(days)
        assert sum(gaps) == 14
        assert [(day + gap) % 14 for day, gap in zip(days, gaps, strict=True)] == [*days[1:], days[0]]


def test_a_week_like_the_other_is_called_by_its_day_alone() -> None:
    assert week.is_weekly(week.days_of("Mon Thu"))
    assert not week.is_weekly(week.days_of("Fri odd Mon"))
    assert (week.called(3, weekly=True), week.called(3, weekly=False), week.called(10, weekly=False)) == (
        "Thursday", "Thursday, odd week", "Thursday, even week")  # fmt: skip
    assert (week.called(6, weekly=False), week.called(7, weekly=False)) == ("Sunday, odd week", "Monday, even week")


def site(days: float | None, visits: str = "") -> Row:
    typed = {"key": "a", "visit_days": visits} if visits else {"key": "a"}
    return Row("sites.csv", 2, typed, {**typed, "days": days})


@pytest.mark.parametrize(("visits", "days", "bad"), [
    ("Mon Thu", 3.5, False), ("Mon Thu", 4, False), ("Mon Thu", 4.1, True), ("Mon", 7, False), ("Mon", 3.5, True),
    ("odd Mon", 14, False), ("", 5, False), ("Mon", None, False),
])  # fmt: skip
def test_days_of_the_week_and_days_to_the_next_visit_agree(visits: str, days: float | None, bad: bool) -> None:
    found = list(week.check([site(days, visits)]))
    assert bool(found) == bad
    assert all("visit_days" in problem.place for problem in found)


def test_the_longest_gap_is_what_goods_must_last() -> None:
    assert week.longest(site(3.5, "Mon Thu")) == 4
    assert week.longest(site(3.5)) == 3.5
    assert week.longest(site(None)) is None


def test_each_name_is_known_by_two_letters() -> None:
    short = [name[:2].lower() for name in week.NAMES]
    assert len(set(short)) == 7
    for one, other in itertools.pairwise(short):
        assert week.days_of(one) != week.days_of(other)

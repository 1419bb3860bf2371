"""How far a long job is: said seldom, and with the time that is left."""

from __future__ import annotations

from tools.commands.progress import Pace


class Clock:
    """Stands still until it is put on."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


def lines(steps: list[tuple[float, int, int]]) -> list[str]:
    """What is said where each step takes so many seconds."""
    clock, said = Clock(), list[str]()
    pace = Pace(said.append, "Working out", clock)
    for seconds, done, total in steps:
        clock.now += seconds
        pace(done, total)
    return said


def test_a_short_job_is_not_told_of() -> None:
    assert lines([(0.1, number, 20) for number in range(1, 21)]) == []


def test_a_line_every_few_seconds_with_the_time_left() -> None:
    """One second each: at 5, 10 and 15 of them, so many seconds are left; the end is said by the next step."""
    assert lines([(1, number, 20) for number in range(1, 21)]) == [
        f"Working out: {done} of 20 done, about {20 - done} s left" for done in (5, 10, 15)
    ]


def test_long_times_are_told_in_minutes_and_large_counts_can_be_read() -> None:
    assert lines([(600, 1000, 2000)]) == ["Working out: 1,000 of 2,000 done, about 10 min left"]


def test_a_count_that_begins_anew_has_its_own_time() -> None:
    """The second part is faster than the first was."""
    steps = [(60.0, 1, 2), (60.0, 2, 2), (1.0, 4, 100), (5.0, 24, 100)]
    assert lines(steps)[-1] == "Working out: 24 of 100 done, about 19 s left"

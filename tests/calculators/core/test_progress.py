"""Work that tells how far it is: driven to its end, or told to stop."""

from __future__ import annotations

import pytest

from calculators.core.progress import Progress, Steps, finish


def counted(told: list[bool | None]) -> Steps[int]:
    """Three steps; each notes what came back from its yield."""
    for number in range(3):
        told.append((yield Progress(f"step {number}", number / 3)))
        if told[-1]:
            return number
    return 99


def test_finish_drives_every_step_and_stops_none() -> None:
    """The answer is the generator's own, and nobody was told to stop."""
    told: list[bool | None] = []
    assert finish(counted(told)) == 99
    assert told == [None, None, None]


def test_a_step_that_is_told_to_stop_answers_with_what_it_has() -> None:
    """The border sends True; the answer so far comes back."""
    steps = counted([])
    assert next(steps) == Progress("step 0", 0.0)
    assert steps.send(None).share == 1 / 3
    with pytest.raises(StopIteration) as end:
        steps.send(True)
    assert end.value.value == 1


def test_progress_needs_no_share() -> None:
    """Where the end is not known a sentence is enough."""
    assert Progress("looking").share is None

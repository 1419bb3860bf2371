"""What would have to change so that the product suits: one change at a time, each tried whole.

A mend beside a check turns that check to pass; here every change is put to all of the checks, so
that a reader sees whether a cure of one thing spoils another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..core import Work
from ..core.report import OUTCOME_WORDS, OUTCOMES, Check, Mend, tightest, worst
from . import mends
from .fit import Found
from .inputs import Inputs
from .ranking import Assess, Choice, scratch

WATCHED = ("own", "held", "goes_in", "middle", "ride", "short", "height", "lean", "upright", "first", "lane", "coil_lane", "aside", "side")
WIDER = (5.0, 10.0, 20.0, 40.0, 80.0)  # mm more of lane
Standing = tuple[int, int]


@dataclass(frozen=True)
class Change:
    """One change of inputs, and what the whole sheet then says."""

    mend: Mend
    outcome: str
    decides: Check | None


def standing(checks: list[Check]) -> Standing:
    """How good a set of checks is: the worst outcome, then how few do not pass."""
    return (OUTCOMES.index(worst([check.outcome for check in checks])),
            -sum(check.outcome != "pass" for check in checks))  # fmt: skip


def find(work: Work, found: Found, choices: list[Choice], assess: Assess) -> list[Change]:
    """Of every way to make it fit the first change that helps, the best first; none where all is well.

    A change helps when the sheet is better for it; failing that, when it cures what fails now.
    """
    failing = {check.key for check in work.checks if check.outcome in ("stop", "caution")}
    if not failing.intersection(WATCHED):
        return []
    made: dict[str, tuple[Standing, Change]] = {}
    for way in _ways(work, found, failing, choices, assess):
        helps = _first(work, (mend for mend in way if mend), failing, assess)
        if helps:
            made.setdefault(helps[1].mend.text, helps)
    ordered = sorted(made.values(), key=lambda each: each[0], reverse=True)
    return [change for _, change in ordered]


def _first(work: Work, way: Iterator[Mend], failing: set[str],
           assess: Assess) -> tuple[Standing, Change] | None:  # fmt: skip
    now, second = standing(work.checks), None
    for mend in way:
        _, after = scratch(work, mends.applied(work, mend), assess)
        checks = list(after.values())
        change = Change(mend, worst([check.outcome for check in checks]), tightest(checks))
        if standing(checks) > now:
            return standing(checks), change
        cured = any(key in failing and check.outcome == "pass" for key, check in after.items())
        if cured and second is None:
            second = standing(checks), change
    return second


def _ways(work: Work, found: Found, failing: set[str], choices: list[Choice],
          assess: Assess) -> Iterator[Iterator[Mend | None]]:  # fmt: skip
    """The ways in which a product can be made to fit; of each the first that helps is told."""
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    yield mends.other_coils(work, choices, assess)
    yield mends.placed(work, inputs)
    if inputs.lane_width is not None:
        yield _lanes(work, inputs.lane_width)
    if found.riser and inputs.strip_height < found.riser:
        yield iter((work.mend("strip_height", found.riser, "at least", beyond=mends.RULER, how="Stand it on a riser."),))
    if "first" in failing:
        yield mends.ends(work, inputs)
    yield (check.mend for check in work.checks if check.key in ("height", "aside", "side") and check.mend)


def _lanes(work: Work, lane: float) -> Iterator[Mend | None]:
    for more in WIDER:
        yield work.mend("lane_width", lane + more, "at least", how="A wider lane.")


def table(work: Work, found: list[Change]) -> None:
    """The changes as a table, or nothing where there is none to tell."""
    if not found:
        return
    rows: list[tuple[str, ...]] = [(change.mend.text, OUTCOME_WORDS[change.outcome], _then(change))
                                   for change in found]  # fmt: skip
    work.table("changes", "What would have to change", {
        "change": "One change", "then": "Then", "decides": "What decides then"}, rows,
               "Each is tried by itself, everything else as it is.")  # fmt: skip


def _then(change: Change) -> str:
    if change.decides is None:
        return "–"
    return f"{change.decides.label}: {change.decides.text}"

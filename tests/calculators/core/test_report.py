"""Which check decides, and how an outcome follows from many."""

from __future__ import annotations

import itertools
import random
from types import SimpleNamespace
from typing import cast

import pytest

from calculators.core import Work
from calculators.core.calculator import _actions
from calculators.core.report import OUTCOMES, Check, Mend, deciding, overall, tightest, worst


def check(outcome: str, margin: float | None, limit: float | None = 100.0, tolerance: float = 0.0, at: str = "") -> Check:
    return Check("k", "Label", outcome, "", at, limit=limit, margin=margin, tolerance=tolerance)


def test_outcomes_stand_worst_first() -> None:
    """Unknown is better than stop and worse than caution: a gap never says go."""
    assert OUTCOMES == ("stop", "unknown", "caution", "pass")
    for few in itertools.permutations(OUTCOMES, 3):
        assert worst(list(few)) == next(each for each in OUTCOMES if each in few)
    assert worst([]) == "unknown"


def test_beside_a_caution_what_can_only_be_one_leaves_it_at_that() -> None:
    """Whatever it turns out to be; alone it may still be go, and one that may be a stop stays open."""
    care, go, open_ = check("caution", -1), check("pass", 1), check("unknown", None)
    mild = Check("k", "Label", "unknown", "", mild=True)
    assert overall([care, mild], []) == overall([mild], ["caution"]) == "caution"
    assert overall([go, mild], []) == overall([mild], []) == "unknown"
    assert overall([care, mild, open_], []) == "unknown"
    assert overall([care, mild, check("stop", -1)], []) == "stop"
    assert overall([], []) == "unknown"
    assert deciding([mild, care], "caution") is care
    assert deciding([mild, go], "caution") is mild  # where the caution is none of the checks


def test_nothing_checked_has_no_tightest() -> None:
    assert tightest([]) is None


@pytest.mark.parametrize(
    ("loose", "tight"),
    [
        (check("pass", 1), check("caution", 50)),  # the worse outcome, whatever the margins
        (check("caution", -50), check("unknown", None)),
        (check("unknown", None), check("stop", -1)),
        (check("pass", 10), check("pass", 9)),  # the smaller margin
        (check("stop", -1), check("stop", -2)),
        (check("pass", 10, tolerance=1), check("pass", 12, tolerance=5)),  # what the measuring may hide counts off
        (check("pass", 10, limit=100), check("pass", 20, limit=400)),  # for the size of its limit
        (check("pass", 10, limit=-400), check("pass", 10, limit=-500)),  # of whichever sign
        (check("pass", None), check("pass", 1e9)),  # a yes without a margin is never the tightest
        (check("stop", 5), check("stop", None)),  # and a no without one is, before any that is close
        (check("pass", 1, limit=0.0), check("pass", 0.5, limit=0.0)),
        (check("pass", 1, limit=None), check("pass", 0.5, limit=None)),
    ],
)
def test_the_tightest_check_decides(loose: Check, tight: Check) -> None:
    """In either order."""
    assert tightest([loose, tight]) is tight
    assert tightest([tight, loose]) is tight


def test_of_equals_the_first_decides() -> None:
    one, other = check("pass", 10), check("pass", 10)
    assert tightest([one, other]) is one


def test_the_tightest_of_many_is_the_least_of_all() -> None:
    """Against a plain sort, made here, of outcome and of what is left of the margin by its limit."""
    dice = random.Random(4)
    for _ in range(200):
        checks = [check(OUTCOMES[int(dice.random() * 4)], dice.random() * 40 - 10, 1 + dice.random() * 99,
                        dice.random() * 9) for _ in range(6)]  # fmt: skip
        rank = sorted((OUTCOMES.index(each.outcome), ((each.margin or 0) - each.tolerance) / (each.limit or 1), number)
                      for number, each in enumerate(checks))  # fmt: skip
        assert tightest(checks) is checks[rank[0][2]]


def test_a_place_is_named_before_its_label() -> None:
    assert check("pass", 1, at="Leg 2").place == "Leg 2: label"
    assert check("pass", 1).place == "Label"


def test_a_pass_of_which_nothing_is_allowed_is_not_the_tightest() -> None:
    """“0 min to spare” tells nobody anything; the same check decides where it fails."""
    none_allowed, near = check("pass", 0.0, limit=0.0), check("pass", 30.0)
    assert tightest([none_allowed, near]) is near
    assert tightest([near, check("stop", -5.0, limit=0.0)]) != near


@pytest.mark.parametrize(("mend", "note", "said"), [("Move it. Gap: at least 5 mm.", "It must breathe.", "Move it. Gap: at least 5 mm."),
                                                    ("", "Ask the building.", "Ask the building."), ("", "", "It stands too close.")])  # fmt: skip
def test_what_to_do_is_the_mend_else_the_note_else_what_was_found(mend: str, note: str, said: str) -> None:
    """Never nothing: whoever reads only what to do now reads what is wrong."""
    failed = Check("k", "Gap", "stop", "It stands too close.", "Rear", mend=Mend(mend, {}) if mend else None, note=note)
    care = Check("c", "Cord", "caution", "It is short.", note="Move it nearer.")
    work = SimpleNamespace(actions=["First."], used={}, checks=[care, Check("p", "Floor", "pass", "Good."), failed])
    assert _actions(cast(Work, work), None) == ["First.", f"Rear: gap: {said}", "Cord: Move it nearer."]

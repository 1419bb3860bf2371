"""The right-angle turn: against brute force, closed forms and scipy."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from calculators.clearance import maths, turning
from calculators.clearance.fit import Cargo
from calculators.clearance.inputs import Leg
from tests.calculators.clearance.motion import gets_through

CASES = 3000
WIDTHS = st.floats(300, 4000)


def spare(into: float, out: float, longer: float, shorter: float) -> float:
    """The calculator's own margin: the best way round of a bare box."""
    cargo = Cargo(longer, shorter, None, 0.0, None, 0.0, 0.0, 0.0)
    tried = turning.trials(Leg(kind="turn", width_in=into, width_out=out), cargo, cargo)
    return max(trial.rooms[0].have - trial.rooms[0].want for trial in tried)


def random_case(rng: random.Random) -> tuple[float, float, float, float]:
    into, out = rng.uniform(500, 2500), rng.uniform(500, 2500)
    longer = rng.uniform(0.3, 1.0) * maths.longest_ladder(into, out)
    return into, out, longer, rng.uniform(0.02, 1.0) * min(longer, 2500)


def near_case(rng: random.Random) -> tuple[float, float, float, float]:
    """Within 1 mm of one of the three limits, and no nearer than the brute force can tell."""
    while True:
        into, out, longer, shorter = random_case(rng)
        hair = rng.choice((-1, 1)) * rng.uniform(0.02, 1.0)
        kind = rng.randrange(4)
        if kind < 2:
            shorter = maths.tightest_turn(into, out, longer)[1] - hair
        else:
            longer = (into, out)[kind - 2] - hair
        if 20 < shorter <= longer and 0.02 < abs(spare(into, out, longer, shorter)) <= 1.0:
            return into, out, longer, shorter


@pytest.mark.parametrize("block", range(8))
def test_brute_force_agrees(block: int) -> None:
    """Free places laid angle beside angle give the same answer, near the limit and far."""
    rng = random.Random(f"turn-{block}")
    seen = set()
    for number in range(CASES // 8):
        case = near_case(rng) if number % 2 else random_case(rng)
        while abs(margin := spare(*case)) < 0.02:
            case = random_case(rng)  # it fell on the limit by chance
        assert gets_through(*case) == (margin > 0), (case, margin)
        seen.add(margin > 0)
    assert seen == {True, False}


def test_ladder() -> None:
    """The two corridors of 2 and 4 take a rod of 8.3239, and the search finds the same."""
    assert maths.longest_ladder(2, 4) == pytest.approx(8.3239, abs=5e-5)
    assert maths.longest_turn(2, 4, 0.0) == pytest.approx(maths.longest_ladder(2, 4), rel=1e-12)


@given(a=WIDTHS, b=WIDTHS)
@settings(max_examples=100, deadline=None)
def test_a_rod_turns_up_to_the_ladder_formula(a: float, b: float) -> None:
    """With no width the longest box is (a^⅔ + b^⅔)^(3/2)."""
    ladder = maths.longest_ladder(a, b)
    assert maths.tightest_turn(a, b, ladder)[1] == pytest.approx(0.0, abs=1e-9 * ladder)


@given(a=WIDTHS, share=st.floats(0.01, 0.99))
@settings(max_examples=100, deadline=None)
def test_equal_corridors_follow_the_closed_form(a: float, share: float) -> None:
    """Widths a = b: L ≤ 2(√2·a − w); the search and both inverse functions agree."""
    w = share * a
    longest = 2 * (math.sqrt(2) * a - w)
    # Beyond the half-way width the box is no longer than wide: the form still bounds the turn.
    assert maths.tightest_turn(a, a, longest)[1] == pytest.approx(min(w, a), rel=1e-9)
    assert maths.least_equal_width(longest, w) == pytest.approx(a, rel=1e-12)


@given(a=WIDTHS, b=WIDTHS, length=st.floats(100, 9000))
@settings(max_examples=200, deadline=None)
def test_the_tightest_angle_is_the_least_of_all(a: float, b: float, length: float) -> None:
    """No angle of a bounded scipy search in any of sixty windows has less room."""
    angle, room = maths.tightest_turn(a, b, length)
    assert room == pytest.approx(maths.corner_distance(a, b, length, angle), abs=1e-9 * length)
    low = min(
        minimize_scalar(lambda q: maths.corner_distance(a, b, length, q),
                        bounds=(1.5 * n, 1.5 * n + 1.5), method="bounded").fun
        for n in range(60)
    )  # fmt: skip
    assert room <= low + 1e-9 * length


@given(b=WIDTHS, length=st.floats(100, 6000), share=st.floats(0.05, 0.98))
@settings(max_examples=100, deadline=None)
def test_the_least_first_corridor_is_just_wide_enough(
    b: float, length: float, share: float
) -> None:
    """least_width_in is the very width at which the room equals the shorter side."""
    w = share * min(b, length)
    a = maths.least_width_in(b, length, w)
    room = maths.tightest_turn(a, b, length)[1]
    assert room == pytest.approx(w, rel=1e-6)


@given(a=WIDTHS, b=WIDTHS, length=st.floats(100, 6000), grow=st.floats(0, 500))
@settings(max_examples=200, deadline=None)
def test_a_longer_box_never_has_more_room(a: float, b: float, length: float, grow: float) -> None:
    """Room falls with length and rises with either width, without jumps."""
    room = maths.tightest_turn(a, b, length)[1]
    longer = maths.tightest_turn(a, b, length + grow)[1]
    # sin θ·cos θ is at most a half, so the room changes at most half as fast as the length.
    assert room - grow / 2 - 1e-6 <= longer <= room + 1e-6
    assert maths.tightest_turn(a + grow, b, length)[1] >= room - 1e-6

"""When runs are said to have decided: likelihood ratios anew, and how often they mislead, worked out exactly."""

from __future__ import annotations

import math

import numpy as np
import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.float.sequential import ODDS, Decision, none_refused

# Typed a second time: parts of the wanted chance of a refusal.
BETTER = [0.0, 0.125, 0.5, 0.75, 0.875, 0.9375, 0.96875, 0.984375]
WORSE = [16.0, 8.0, 4.0, 2.0, 1.5, 1.25, 1.125, 1.0625, 1.03125, 1.015625]


def evidence(wanted: float, parts: list[float], clean: int, runs: int) -> float:
    """Mean ratio of the chances of so many clean runs, from the library's binomial distribution."""
    least = scipy.stats.binom.logpmf(clean, runs, wanted)
    chances = [1 - part * (1 - wanted) for part in parts if part * (1 - wanted) < 1]
    with np.errstate(over="ignore"):
        return float(np.mean(np.exp(scipy.stats.binom.logpmf(clean, runs, chances) - least)))


@given(st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99, 0.999]), st.integers(1, 60_000), st.floats(0.0, 4.0))
@settings(max_examples=300, deadline=None)
def test_decisions_are_those_of_the_mean_likelihood_ratio(wanted: float, runs: int, part: float) -> None:
    """At 10,000 to 1, for and against; nothing near the border is asked for."""
    clean = runs - min(runs, round(runs * part * (1 - wanted)))
    good, bad = (evidence(wanted, parts, clean, runs) for parts in (BETTER, WORSE))
    found = Decision(wanted).clear(clean, runs)
    for value, answer in ((good, True), (bad, False)):
        if value > 10_001:
            assert found is answer
        elif value < 9_999:
            assert found is not answer


@pytest.mark.parametrize("wanted", [0.5, 0.95, 0.99, 0.999])
def test_so_many_clean_runs_in_a_row_are_enough(wanted: float) -> None:
    """One fewer are not: the mean of the eight ratios, each to the power of the runs, comes to 10,000 there."""
    test = Decision(wanted)
    first = next(n for n in range(1, 20_000) if test.clear(n, n))
    ratios = [sum((1 - part * (1 - wanted)) ** n / wanted**n for part in BETTER) / 8 for n in (first - 1, first)]
    assert ratios[0] < 10_000 <= ratios[1]


def wrong(wanted: float, chance: float, answer: bool, looks: list[int]) -> float:
    """How often an answer is ever given, by following the number of clean runs from look to look."""
    test, alive, found, done = Decision(wanted), np.array([1.0]), 0.0, 0
    for look in looks:
        more = scipy.stats.binom.pmf(np.arange(look - done + 1), look - done, chance)
        alive, done = np.convolve(alive, more), look
        said = np.array([test.clear(clean, look) for clean in range(look + 1)])
        found += float(alive[said == answer].sum())
        alive = np.where(said == None, alive, 0.0)  # noqa: E711 - an array of answers
    return found


LOOKS = [64, 128, 256, 512, 1024, 2048, 4096]


@pytest.mark.parametrize("wanted", [0.8, 0.95, 0.99])
@pytest.mark.parametrize("answer", [True, False])
def test_it_misleads_once_in_ten_thousand_times_at_most(wanted: float, *, answer: bool) -> None:
    """At the wanted chance itself, where it is hardest, and a hair on the wrong side of it."""
    assert ODDS == 10_000
    off = -1e-3 if answer else 1e-3
    for chance in (wanted, wanted + off):
        assert wrong(wanted, chance, answer, LOOKS) <= 1 / 10_000


@pytest.mark.parametrize(("wanted", "chance"), [(0.95, 0.975), (0.95, 0.92), (0.8, 0.86), (0.99, 0.997)])
def test_a_clear_case_is_told(wanted: float, chance: float) -> None:
    """Half as many refusals as wanted at most, or half as many again: told by 8,192 runs, all but always."""
    assert wrong(wanted, chance, chance > wanted, [*LOOKS, 8192]) > 0.999


@pytest.mark.parametrize("runs", [1, 64, 180, 2000, 65_536])
def test_what_a_chance_exceeds_where_none_was_refused(runs: int) -> None:
    """The library's exact one-sided interval, as sure as three standard errors: 1 − 0.00135."""
    wanted = scipy.stats.binomtest(runs, runs, alternative="greater").proportion_ci(0.99865, method="exact").low
    assert none_refused(runs) == pytest.approx(wanted, abs=1e-12)
    assert none_refused(0) == 0.0
    assert math.isclose(none_refused(runs) ** runs, 0.00135, rel_tol=1e-9)

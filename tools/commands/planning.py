"""For `bench`: the cabinet plan against a general solver, on the same problems in the same run."""

from __future__ import annotations

import statistics
import time
from typing import Any

from .bench_float import model as model_of

CABINETS = 10
SIZE = {"products": 40, "trays": 6, "lanes": 10, "kinds": 12, "foes": 6, "pins": 3}
# What the solver takes for whole and for within a limit leaves a few millionths of a sale.
NEAR = 2e-8


def compare() -> list[tuple[float, float]]:
    """Seconds of ours and of the solver for each cabinet; AssertionError where they disagree."""
    from calculators.plan import search

    # The problems and their other wording belong to the tests, where the two are held together.
    reference: Any = model_of("plan")
    times = []
    for seed in range(CABINETS):
        problem = reference.draw(7000 + seed, **SIZE)
        start = time.perf_counter()
        plan = search.plan(problem)
        ours = time.perf_counter() - start
        model = reference.model_of(problem)  # made before the clock starts
        start = time.perf_counter()
        result = model.solve()
        times.append((ours, time.perf_counter() - start))
        if result.status == 0:
            most, off = -result.fun, max(5.0, -NEAR * result.fun)
            agree = abs(plan.worth - most) <= off if plan.proven else (plan.bound or most) >= most - off
            if not agree:
                raise AssertionError(f"cabinet {seed}: {plan.worth} against {most}")
    return times


def told(times: list[tuple[float, float]]) -> str:
    """Median times and the ratio, as the bench prints them."""
    ratios = [ours / theirs for ours, theirs in times]
    ours, theirs = (statistics.median(each) for each in zip(*times, strict=True))
    return (
        f"Cabinet plan, 40 products × 60 lanes × 12 coils: median {1000 * ours:.0f} ms; "
        f"general solver {1000 * theirs:.0f} ms\n"
        f"Ratio (goal at most 1):                median {statistics.median(ratios):.2f}"
        f"  (cabinet by cabinet {min(ratios):.2f} to {max(ratios):.2f})"
    )

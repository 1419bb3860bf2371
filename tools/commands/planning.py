"""For `bench`: the cabinet plan against a general solver, on the same problems in the same run."""

from __future__ import annotations

import json
import statistics
import time
from collections.abc import Callable
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from .bench_float import model as model_of

if TYPE_CHECKING:
    from calculators.plan.model import Problem

CABINETS = 15  # of each kind
SIZE = {"products": 40, "trays": 6, "lanes": 10, "kinds": 12, "pins": 3}
# Pairs that are kept apart; in the second kind every product has a foe on average.
KINDS = {"6 pairs apart": 6, "20 pairs apart": 20}
# What the solver takes for whole and for within a limit leaves a few millionths of a sale.
NEAR = 2e-8
# In the page, where Python has nothing but the calculators: a problem made of its plain numbers.
INSIDE = """
import json, time
from calculators.plan import model, search

def answer(text):
    fields = json.loads(text)
    fields["products"] = tuple(
        model.Product(tuple(p["gains"]), p["most"], p["needed"], tuple(map(tuple, p["pins"])))
        for p in fields["products"])
    for name in ("apart", "beside"):
        fields[name] = frozenset(map(tuple, fields[name]))
    fields["lanes"], fields["stock"] = tuple(fields["lanes"]), tuple(fields["stock"])
    fields["holds"] = tuple(tuple(map(tuple, trays)) for trays in fields["holds"])
    start = time.perf_counter()
    plan = search.plan(model.Problem(**fields))
    return json.dumps([time.perf_counter() - start, plan.worth, plan.proven])
"""

INFEASIBLE = 2  # the solver's own number

InPage = Callable[[str], str]
Times = dict[str, list[tuple[float, float, float]]]


def compare(in_page: InPage) -> Times:
    """Seconds of ours, of ours in the page and of the solver; AssertionError where they disagree."""
    # The problems and their other wording belong to the tests, where the two are held together.
    reference: Any = model_of("plan")
    found: Times = {}
    for kind, foes in KINDS.items():
        problems = [reference.draw(7000 + seed, foes=foes, **SIZE) for seed in range(CABINETS)]
        times = (_one(reference, problem, in_page) for problem in problems)
        found[kind] = [each for each in times if each is not None]
    return found


def _one(reference: Any, problem: Problem, in_page: InPage) -> tuple[float, float, float] | None:
    """None where the wishes cannot all be kept: the solver then makes no plan at all."""
    from calculators.plan import search

    start = time.perf_counter()
    plan = search.plan(problem)
    ours = time.perf_counter() - start
    paged, worth, proven = json.loads(in_page(json.dumps({"source": INSIDE, "jobs": plain(problem)})))
    model = reference.model_of(problem)  # made before the clock starts
    start = time.perf_counter()
    result = model.solve()
    theirs = time.perf_counter() - start
    if (worth, proven) != (plan.worth, plan.proven):
        raise AssertionError(f"{plan.worth} here, {worth} in the page")
    if result.status == INFEASIBLE:
        if not plan.missed:
            raise AssertionError(f"{plan.worth} with every wish kept, and the solver finds no plan")
        return None
    if result.status == 0:
        most, off = -result.fun, max(5.0, -NEAR * result.fun)
        agree = abs(plan.worth - most) <= off if plan.proven else (plan.bound or most) >= most - off
        if not agree:
            raise AssertionError(f"{plan.worth} against {most}")
    return ours, paged, theirs


def plain(problem: Problem) -> str:
    """The problem's plain numbers as JSON."""
    return json.dumps({**asdict(problem), "apart": sorted(problem.apart), "beside": sorted(problem.beside)})


def told(times: Times) -> str:
    """Median times and ratios of each kind, as the bench prints them."""
    return "\n".join(line for kind, each in times.items() for line in _lines(kind, each))


def _lines(kind: str, times: list[tuple[float, float, float]]) -> list[str]:
    ours, paged, theirs = ([1000 * ms for ms in each] for each in zip(*times, strict=True))
    return [
        f"Cabinet plan, 40 products × 60 lanes × 12 coils, {kind}, {len(times)} cabinets: "
        f"median {statistics.median(ours):.0f} ms, in the page {statistics.median(paged):.0f} ms, "
        f"general solver {statistics.median(theirs):.0f} ms",
        _ratio("Ratio (goal at most 1):", ours, theirs),
        _ratio("Ratio in the page (goal at most 5):", paged, theirs),
    ]


def _ratio(head: str, ours: list[float], theirs: list[float]) -> str:
    ratios = [mine / other for mine, other in zip(ours, theirs, strict=True)]
    return f"{head:38} median {statistics.median(ratios):.2f}  (cabinet by cabinet {min(ratios):.2f} to {max(ratios):.2f})"

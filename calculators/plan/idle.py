"""Why a lane of a plan stays empty, in words for whoever stands before it."""

from __future__ import annotations

from .model import Lane, faults
from .outcome import Plan
from .setup import Setup


def why_empty(made: Setup, plan: Plan, tray: int, lane: int) -> str:
    """The first thing that keeps every product out of a lane."""
    problem = made.problem
    fitting = [(p, k) for p, trays in enumerate(problem.holds) for k, pieces in enumerate(trays[tray]) if pieces]
    if not fitting:
        return "no product fits it with a coil in stock"
    fitting = [(p, k) for p, k in fitting if sum(each.product == p for each in plan.lanes) < problem.products[p].most]
    if not fitting:
        return "each product that fits it has its most lanes already"
    fitting = [(p, k) for p, k in fitting if sum(each.coil == k for each in plan.lanes) < problem.stock[k]]
    if not fitting:
        return "no coil is left for a product that fits it"
    if all(faults(problem, [*plan.lanes, Lane(tray, lane, p, k)]) for p, k in fitting):
        return "a pair to be kept apart leaves no room"
    return "nothing more would sell from it" if plan.proven else "the search ended before it was filled"

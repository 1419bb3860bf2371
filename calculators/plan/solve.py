"""Fills the working sheet: what fits, the best plan, its checks, and the next coils to buy."""

from __future__ import annotations

import math
from collections.abc import Generator

from ..core import Work
from ..core.progress import Progress, Steps
from . import checks, figure, results
from .demand import MILLIONTHS
from .inputs import Inputs
from .model import Problem
from .outcome import Plan, Stage
from .results import Bought
from .search import Search
from .setup import Setup, setup

RULES = ("side_play", "coil_room", "height_room", "rest_share", "stands_alone", "fall_height", "fall_speed")
MOST_BUYS = 6  # kinds of coil that are tried for purchase, those of the greatest price first


def solve(inputs: Inputs, work: Work) -> Steps[None]:
    """Plan the cabinet; tells how far it is, and may be stopped with the best plan so far."""
    for key in RULES:
        work.rule_of(f"goods.{key}")
    made: Setup = yield from setup(inputs, work)
    plan, bought = None, Bought([])
    if not made.stopped and any(pieces for product in made.problem.holds for tray in product for pieces in tray):
        plan, made.stopped = yield from _told(Search(made.problem), made.problem, "Planning")
        if plan.proven and not made.stopped:
            bought = yield from _buys(made.problem, plan)
    checks.give(inputs, work, made, plan)
    results.give(inputs, work, made, plan, bought)
    if plan is not None:
        work.figure(figure.draw(inputs, work, plan))


def _told(search: Search, problem: Problem, word: str) -> Steps[tuple[Plan, bool]]:
    """Run a search, turning its stages into progress."""
    steps: Generator[Stage, bool | None, Plan] = search.run()
    stopped = False
    try:
        stage = next(steps)
        while True:
            stopped = bool((yield Progress(_sentence(stage, problem, word)))) or stopped
            stage = steps.send(stopped)
    except StopIteration as end:
        return end.value, stopped


def _sentence(stage: Stage, problem: Problem, word: str) -> str:
    best, bound = stage.best % problem.bonus / MILLIONTHS, stage.bound % problem.bonus / MILLIONTHS
    if stage.best // problem.bonus != stage.bound // problem.bonus:
        return f"{word}: best so far {best:.1f} sales"
    return f"{word}: best so far {best:.1f} sales, no plan sells more than {math.ceil(10 * bound) / 10:.1f}"


def _buys(problem: Problem, plan: Plan) -> Steps[Bought]:
    """One more coil of each kind that is used up, where the prices leave hope of a gain."""
    used = [sum(lane.coil == kind for lane in plan.lanes) for kind in range(len(problem.stock))]
    short = [kind for kind, stock in enumerate(problem.stock) if used[kind] >= stock]
    short.sort(key=lambda kind: (-plan.coil_prices[kind], kind))
    found, stopped = [], False
    for kind in short[:MOST_BUYS]:
        more = problem.with_one_more(kind)
        tried, stopped = yield from _told(Search(more, plan), more, "One more coil")
        if stopped:
            break
        found.append((kind, tried))
    found.sort(key=lambda each: (-each[1].worth, each[0]))
    return Bought(found, stopped)

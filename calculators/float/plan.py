"""From inputs to an answer: is what stands in the tubes enough, what to load, or when to come."""

from __future__ import annotations

import copy
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ..core import Work
from ..core.report import Mend
from .cash import unknown_place
from .chain import Spread, binomial, poisson
from .coinage import Coin, Stack, notes, packs, size_path
from .inputs import COINS
from .search import Chance, Judge, Load, Plan, filled, least_load
from .setup import Setup, Shares, build

NO_WAY = (
    "No load of whole rolls and no earlier visit does it. Take fewer kinds of notes, fit larger "
    "tubes, or set prices that need less change."
)


@dataclass
class Case:
    """Everything worked out for one set of inputs. Counts are coins by stack, largest first.

    ``planning``: nobody counted, so the tubes are taken as empty and filled as planned.
    ``shown`` is the float that the answer is about after loading.
    """

    held: list[Stack]
    setup: Setup
    judge: Judge
    planning: bool
    now: Load
    plan: Plan
    shown: Load
    chance: Chance

    @property
    def sizes(self) -> list[int]:
        """Coins in a roll, by stack."""
        return [stack.coin.roll for stack in self.held]

    @property
    def planned(self) -> Load:
        """Coins after loading the plan's rolls, whether or not they are enough."""
        return filled(self.now, self.plan.rolls, self.sizes, self.setup.caps)


def spread_of(inputs: Any, cash: float) -> Spread:
    """How many cash sales come until the visit; a fixed number is rounded up to whole sales."""
    if inputs.sales == "fixed":
        return binomial(math.ceil(inputs.sales_per_day * inputs.days - 1e-6), cash)
    return poisson(inputs.sales_per_day * inputs.days * cash)


def judge_of(inputs: Any, setup: Setup, split: Shares, like: Judge | None = None) -> Judge:
    """The judge of a set-up over the days until the visit; ``like`` is one for other days."""
    machine = like.machine if like else None
    return Judge(setup, spread_of(inputs, split.cash), inputs.wanted / 100.0, inputs.seed, machine)


def case_of(work: Work, coins: dict[str, Coin], held: list[Stack], split: Shares,
            paid: Sequence[int]) -> Case:  # fmt: skip
    """Judge what is there and find the load; every input of the chance must be known.

    ``paid`` are the prices as cash pays them.
    """
    inputs: Any = work.inputs
    setup = build(inputs, coins, notes(work), held, split, paid)
    judge = judge_of(inputs, setup, split)
    planning = all(stack.now is None for stack in held)
    now = tuple(stack.held for stack in held)
    if not planning and judge.chance(now).clear(judge.wanted):
        plan = Plan((0,) * len(held), met=True, proven=True, tried=1)
    else:
        plan = least_load(judge, now, [stack.coin.roll for stack in held])
    planned = filled(now, plan.rolls, [stack.coin.roll for stack in held], setup.caps)
    shown = planned if plan.met or planning else now
    chance = judge.chance(shown if planning else now)
    return Case(held, setup, judge, planning, now, plan, shown, chance)


# -- mends --------------------------------------------------------------------------------


def chance_mend(work: Work, case: Case, split: Shares) -> Mend | None:
    """Load what the search found; where no load does it, the best load and an earlier visit."""
    if case.plan.met:
        return load_mend(work, case)
    days = _earlier(work, case, split)
    if days is None:
        return None
    sooner = work.mend("days", days, how="Visit earlier.")
    return work.mends(*([load] if (load := load_mend(work, case)) else []), sooner)


def load_mend(work: Work, case: Case) -> Mend | None:
    """The coins of each tube after loading, as changes of their counts."""
    inputs: Any = work.inputs
    parts = []
    for stack, rolls, now, then in zip(case.held, case.plan.rolls, case.now, case.planned, strict=True):
        if case.planning:
            laid = stack.spread(then)
        elif rolls:
            laid = stack.added({row: inputs.tubes[row].count for row in stack.rows}, then - now)
        else:
            laid = {}
        how = f"Load {packs(work, rolls, stack.coin)}." if rolls else ""
        for row, count in laid.items():
            parts.append(work.mend(f"tubes.{row}.count", count, how=how))
            how = ""
    return work.mends(*parts)


def _earlier(work: Work, case: Case, split: Shares) -> float | None:
    """The longest stay, in steps of half a day (a tenth below a day), that the best load lasts."""
    inputs: Any = work.inputs
    step = 0.5 if inputs.days > 1 else 0.1
    low, high = 0, math.ceil(inputs.days / step - 1e-9)  # high is known to fail
    while high - low > 1:
        middle = (low + high) // 2
        if _lasts(inputs, case, split, middle * step):
            low = middle
        else:
            high = middle
    return round(low * step, 1) if low else None


def _lasts(inputs: Any, case: Case, split: Shares, days: float) -> bool:
    changed = copy.copy(inputs)
    changed.__dict__["days"] = round(days, 1)
    judge = judge_of(changed, case.setup, split, case.judge)
    # As many runs as are always played: where they are clear, so is the answer to the mended form.
    return judge.meets(case.planned)[0] is True


def unknown_paths(work: Work, coins: dict[str, Coin]) -> tuple[str, ...]:
    """The inputs that the chance needs and that are not known."""
    inputs: Any = work.inputs
    paths = ["tubes", "prices", "sales_per_day", "days", "share_notes"]
    for number, tube in enumerate(inputs.tubes):
        paths.append(f"tubes.{number}.coin")
        paths.append(size_path(number, tube, coins))
        if any(each.count is not None for each in inputs.tubes):
            paths.append(f"tubes.{number}.count")
    paths += [f"prices.{number}.{name}" for number in range(len(inputs.prices))
              for name in ("price", "share")]  # fmt: skip
    paths += [f"coin_mix.{number}.{name}" for number in range(len(inputs.coin_mix))
              for name in ("coin", "share")]  # fmt: skip
    return work.unknown(*paths)


def lacking(work: Work, coins: dict[str, Coin]) -> tuple[str, ...]:
    """What people call the coins and the place that the rule set has no figures for."""
    inputs: Any = work.inputs
    named = [*(tube.coin for tube in inputs.tubes), *(row.coin for row in inputs.coin_mix), inputs.over_coin]
    foreign = [COINS.get(name, name) for name in named if name is not None and name not in coins]
    place = unknown_place(work)
    return tuple(dict.fromkeys([*foreign, *([place] if place else [])]))


def money_of(held: Sequence[Stack], counts: Sequence[float]) -> float:
    """What so many coins are worth, in cents."""
    return math.fsum(stack.coin.value * count for stack, count in zip(held, counts, strict=True))

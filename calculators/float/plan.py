"""From inputs to an answer: is what stands in the tubes enough, what to load, or when to come."""

from __future__ import annotations

import math
from collections.abc import Generator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from ..core import Work
from ..core.progress import Progress, Steps
from ..core.report import Mend
from .boxes import cash_sales, sales_until
from .cash import unknown_place
from .certain import surely_served
from .chain import Spread, binomial, poisson
from .coinage import Coin, Stack, notes, packs, size_path
from .effort import FULL, Effort
from .inputs import COINS, Inputs
from .judge import Chance, Judge, Load
from .search import Plan, filled, least_load
from .setup import Setup, Shares, build
from .simulate import Tally

NO_WAY = (
    "No load of whole rolls and no earlier visit does it. Take fewer kinds of bills, fit larger "
    "tubes, or set prices that need less change."
)


@dataclass
class Case:
    """Everything worked out for one set of inputs. Counts are coins by stack, largest first.

    ``planning``: nobody counted, so the tubes are taken as empty and filled as planned.
    ``shown`` is the float that the answer is about after loading, ``loaded`` its chance; ``chance`` is
    that of the tubes as they stand. ``days`` is the longest stay that the best load lasts where none
    lasts the whole one.
    """

    held: list[Stack]
    setup: Setup
    judge: Judge
    planning: bool
    now: Load
    plan: Plan
    shown: Load
    chance: Chance
    loaded: Chance
    steps: list[LoadStep]
    tally: Tally
    sure: int
    days: float | None = None

    @property
    def sizes(self) -> list[int]:
        """Coins in a roll, by stack."""
        return [stack.coin.roll for stack in self.held]

    @property
    def planned(self) -> Load:
        """Coins after loading the plan's rolls, whether or not they are enough."""
        return filled(self.now, self.plan.rolls, self.sizes, self.setup.caps)

    def money(self, rolls: Load) -> float:
        """What so many rolls are worth, in cents."""
        return money_of(self.held, [number * size for number, size in zip(rolls, self.sizes, strict=True)])


@dataclass(frozen=True)
class LoadStep:
    """A line of what each load buys: the tubes as they stand, as planned, and with one roll more of a stack."""

    stack: int | None
    planned: bool
    chance: Chance


def spread_of(inputs: Inputs, cash: float) -> Spread:
    """How many cash sales come until the visit, from the figures that the working prints."""
    number = sales_until(inputs, inputs.days)
    if inputs.sales == "fixed":
        return binomial(round(number), cash)
    return poisson(cash_sales(number, cash, fixed=False))


def judge_of(inputs: Inputs, setup: Setup, split: Shares, effort: Effort, like: Judge | None = None) -> Judge:
    """The judge of a set-up over the days until the visit; ``like`` is one for other days."""
    machine = like.machine if like else None
    judge = Judge(setup, spread_of(inputs, split.cash), inputs.wanted / 100.0, inputs.seed, machine, effort)
    judge.stopped = bool(like and like.stopped)
    return judge


def case_of(work: Work, coins: dict[str, Coin], held: list[Stack], split: Shares,
            paid: Sequence[int], effort: Effort) -> Steps[Case]:  # fmt: skip
    """Judge what is there and find the load; every input of the chance must be known.

    ``paid`` are the prices as cash pays them.
    """
    inputs = work.asked(Inputs)
    setup = build(inputs, coins, notes(work), held, split, paid)
    judge = judge_of(inputs, setup, split, effort)
    planning = all(stack.now is None for stack in held)
    now = tuple(stack.held for stack in held)
    sizes = [stack.coin.roll for stack in held]
    yield from told(judge.prepare(), judge, "Working out the tubes’ states")
    if judge.exact is not None:
        judge.effort = FULL  # the averages alone are played
    plan = Plan((0,) * len(held), met=True, proven=True, tried=1)
    standing = "Playing visits with the tubes as they stand"
    enough = yield from told(judge.decide(now, judge.effort.longest), judge, standing)
    if planning or not enough.met:
        plan = yield from told(least_load(judge, now, sizes), judge, "Trying loads, the least money first")
    planned = filled(now, plan.rolls, sizes, setup.caps)
    shown = planned if plan.met or planning else now
    tally = yield from told(judge.tally(shown), judge, "Playing visits to their end")
    loaded = yield from told(judge.chance(shown), judge, "Playing visits with the load")
    chance = loaded if planning else (yield from told(judge.chance(now), judge, standing))
    case = Case(held, setup, judge, planning, now, plan, shown, chance, loaded, [], tally, 0)
    yield from _played_out(case)
    if not case.chance.met and not plan.met:
        case.days = yield from told(_earlier(inputs, case, split), judge, "Trying an earlier visit")
    return case


def _played_out(case: Case) -> Steps[None]:
    """What the tables need."""
    judge = case.judge
    case.steps = yield from told(_load_steps(case), judge, "Comparing loads")
    case.sure = yield from told(surely_served(judge, case.shown), judge, "Looking for the buyers who would empty the tubes")


def _load_steps(case: Case) -> Generator[None, bool | None, list[LoadStep]]:
    """The chance as it stands, as planned, and with one more of each coin's rolls."""
    judge, steps = case.judge, []
    for counts, planned in ((case.now, False), *([(case.planned, True)] if any(case.plan.rolls) else [])):
        steps.append(LoadStep(None, planned, (yield from judge.rough(counts))))
    for place in range(len(case.held)):
        more = tuple(int(index == place) for index in range(len(case.held)))
        counts = filled(case.shown, more, case.sizes, case.setup.caps)
        if counts != case.shown:
            steps.append(LoadStep(place, False, (yield from judge.rough(counts))))
    return steps


Answer = TypeVar("Answer")


def told(bits: Generator[None, bool | None, Answer], judge: Judge, text: str) -> Steps[Answer]:
    """Work in bits as progress that a reader sees; stopped, it and all that follows end soon."""
    try:
        bits.send(None)
        while True:
            judge.stopped = bool((yield Progress(text))) or judge.stopped
            bits.send(judge.stopped)
    except StopIteration as end:
        answer: Answer = end.value
        return answer


# -- mends --------------------------------------------------------------------------------


def chance_mend(work: Work, case: Case) -> Mend | None:
    """Load what the search found; where no load does it, the best load and an earlier visit."""
    if case.plan.met:
        return load_mend(work, case)
    if case.days is None:
        return None
    sooner = work.mend("days", case.days, how="Visit earlier.")
    return work.mends(*([load] if (load := load_mend(work, case)) else []), sooner)


def load_mend(work: Work, case: Case) -> Mend | None:
    """The coins of each tube after loading, as changes of their counts."""
    inputs = work.asked(Inputs)
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


def _earlier(inputs: Inputs, case: Case, split: Shares) -> Generator[None, bool | None, float | None]:
    """The longest stay, in steps of half a day (a tenth below a day), that the best load lasts."""
    step = 0.5 if inputs.days > 1 else 0.1
    low, high = 0, math.ceil(inputs.days / step - 1e-9)  # high is known to fail
    while high - low > 1 and not case.judge.stopped:
        middle = (low + high) // 2
        if (yield from _lasts(inputs, case, split, middle * step)):
            low = middle
        else:
            high = middle
    return round(low * step, 1) if low else None


def _lasts(inputs: Inputs, case: Case, split: Shares, days: float) -> Generator[None, bool | None, bool]:
    judge = judge_of(inputs.changed({"days": round(days, 1)}), case.setup, split, case.judge.effort, case.judge)
    yield from judge.prepare()
    return (yield from judge.decide(case.planned)).met is True


def unknown_paths(work: Work, coins: dict[str, Coin]) -> tuple[str, ...]:
    """The inputs that the chance needs and that are not known."""
    inputs = work.asked(Inputs)
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
    inputs = work.asked(Inputs)
    named = [*(tube.coin for tube in inputs.tubes), *(row.coin for row in inputs.coin_mix), inputs.over_coin]
    foreign = [COINS.get(name, name) for name in named if name is not None and name not in coins]
    place = unknown_place(work)
    return tuple(dict.fromkeys([*foreign, *([place] if place else [])]))


def money_of(held: Sequence[Stack], counts: Sequence[float]) -> float:
    """What so many coins are worth, in cents."""
    return math.fsum(stack.coin.value * count for stack, count in zip(held, counts, strict=True))

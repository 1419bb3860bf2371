"""How many cash sales are served for certain, whatever they are: no chance comes into it."""

from __future__ import annotations

from collections.abc import Generator, Sequence

from .judge import Judge
from .machine import NEVER

Count = Generator[None, bool | None, int]


def surely_served(judge: Judge, counts: Sequence[int], most: int = 4000) -> Count:
    """Cash sales served whatever they are: at least so many, in any order, with no luck.

    The greater of two proofs: each tube and box lasts so long at the dearest sale of each,
    or every order of so many sales was tried.
    """
    return max(_by_stock(judge, counts), (yield from _by_trial(judge, counts, most)))


def _by_stock(judge: Judge, counts: Sequence[int]) -> int:
    """As if each sale drew the most from every tube and box at once, and none brought coins."""
    machine, setup = judge.machine, judge.setup
    held = machine.counts(machine.start(counts))
    lasting = [judge.spread.last]
    for index, have in enumerate(held):
        need = max((need[index] for need, _ in machine.fast), default=0)
        used = max((-step[index] for _, step in machine.fast), default=0)
        lasting.append((have - need) // used + 1 if used > 0 else (have >= need) * lasting[0])
    if any(need[len(held)] == NEVER for need, _ in machine.fast):
        return 0
    drawn = (
        (setup.note_cap, max((sale.notes for sale in setup.sales), default=0)),
        (setup.coin_cap, max((sale.pieces for sale in setup.sales), default=0)),
        (machine.money(held) - setup.low_value if setup.low_value else None,
         max((sale.change for sale in setup.sales), default=0)),
    )  # fmt: skip
    lasting += [have // used for have, used in drawn if have is not None and used > 0]
    return max(0, min(lasting))


def _by_trial(judge: Judge, counts: Sequence[int], most: int) -> Count:
    """Every order of so many sales, followed together; sent True it ends with what is sure by then."""
    machine = judge.machine
    guard, kinds = machine.guard, list(zip(machine.needs, machine.steps, range(len(machine.needs)), strict=True))
    now = {machine.start(counts)}
    seen = set(now)
    for done in range(judge.spread.last):
        after: set[int] = set()
        for number, state in enumerate(now, 1):
            for need, step, sale in kinds:
                moved = state + step if (state - need) & guard == guard else machine.step(state, sale)
                if moved < 0:
                    return done
                after.add(moved)
            if not number % judge.followed and (yield):
                return done
        now = after - seen
        seen |= now
        if not now:
            break
        if len(seen) > most:
            return done + 1
        if (yield):
            return done + 1
    return judge.spread.last


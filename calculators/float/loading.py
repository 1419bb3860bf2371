"""The load as a thing to do, where nobody counted and the load itself is the answer."""

from __future__ import annotations

from ..core import Work
from .coinage import packs
from .plan import Case


def tell_load(work: Work, case: Case) -> None:
    """To how many of each coin the tubes are filled, and what that takes from empty; nothing where no coin is needed."""
    if not any(case.planned):
        return
    fill = [f"{then} {stack.coin.many}" for stack, then in zip(case.held, case.planned, strict=True) if then]
    rolls = [packs(work, number, stack.coin) for stack, number in zip(case.held, case.plan.rolls, strict=True) if number]
    work.actions.append(f"Before you leave, fill the tubes to {_listed(fill)}. "
                        f"From empty that takes {_listed(rolls)}: {work.text(case.money(case.plan.rolls), 'money')}.")  # fmt: skip


def _listed(parts: list[str]) -> str:
    *most, last = parts
    return f"{', '.join(most)} and {last}" if most else last

"""What the reader gets: the values, the pick list in van order, and the selections one by one."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable

from ..core import Work
from . import lanes, maths
from .inputs import Inputs
from .model import Number, Selection

Rows = list[tuple[str, ...]]


def give(inputs: Inputs, work: Work, found: list[Selection]) -> None:
    """Values, actions and tables."""
    each_lane = lanes.find(inputs, work, found)
    _values(inputs, work, found, each_lane)
    _actions(inputs, work, found)
    _pick(work, found)
    _selections(inputs, work, found)
    lanes.table(work, each_lane)


def _sum(each: Iterable[Number]) -> Number:
    """The sum; None where a part is not known, or there is none."""
    parts = list(each)
    return None if not parts or None in parts else math.fsum(part for part in parts if part is not None)


def next_visit(inputs: Inputs, found: list[Selection]) -> tuple[float, Selection, str] | None:
    """By when the next visit must be, for which selection, and whether for want of goods or for a date."""
    ends = [(each.lasts, each, "runs short") for each in found if each.lasts is not None]
    ends += [(good, each, "reaches its date" if each.life is not None else "may reach its date")
             for each in found if each.stock and (good := each.good_for(inputs)) is not None]  # fmt: skip
    return min(ends, key=lambda end: end[0], default=None)


def first_out(inputs: Inputs, each: Selection) -> float:
    """The days after which it runs short or may reach its date; what is not known comes first."""
    good = each.good_for(inputs) if each.stock else None
    return min(each.lasts if each.lasts is not None else -1.0, math.inf if good is None else good)


def _values(inputs: Inputs, work: Work, found: list[Selection], each_lane: list[lanes.Lane]) -> None:
    sooner = next_visit(inputs, found)
    whole = found and all(each.lasts is not None for each in found)
    best = lanes.swap(each_lane)
    values: dict[str, Number] = {
        "next_visit": sooner[0] if sooner and whole else None,
        "pieces": _sum(each.bring for each in found),
        "cases": _sum(each.cases for each in found),
        "mass": _sum(_mass(each) for each in found),
        "lost": _sum(each.lost for each in found),
        "lost_money": _sum(_times(each.lost, each.row.price) for each in found),
        "out": _sum(each.out for each in found),
        "out_money": _sum(_times(each.out, each.row.cost) for each in found),
        "swap": best[2] if best else None,
    }
    for key, value in values.items():
        work.value(key, value)


def _times(pieces: Number, money: Number) -> Number:
    if pieces == 0:
        return 0.0
    return None if pieces is None or money is None else pieces * money


def _mass(each: Selection) -> Number:
    """What is carried, in whole cases, kg."""
    if each.cases is None or each.row.mass is None:
        return 0.0 if each.cases == 0 else None
    return each.cases * (each.row.case_pieces or 1) * float(each.row.mass) / 1000


def _actions(inputs: Inputs, work: Work, found: list[Selection]) -> None:
    sooner = next_visit(inputs, found)
    if sooner and sooner[0] < maths.LONGEST:
        days, each, why = sooner
        work.actions.append(f"Next visit within {work.text(days, 'days', 'down')}: {each.name} {why} first.")


def van_order(each: Selection) -> tuple[bool, float]:
    """Heavy cases first, what must stay cold last."""
    return bool(each.row.needs_cold), -(each.row.mass or 0.0) * (each.row.case_pieces or 1)


def _pick(work: Work, found: list[Selection]) -> None:
    rows: Rows = []
    for each in sorted(found, key=van_order):
        if each.bring is not None and each.bring > 0:
            size = each.row.case_pieces
            over = (each.cases or 0) * (size or 1) - each.bring
            rows.append((each.name, str(each.bring), f"{each.cases} of {size}" if size else "loose", str(over),
                         "cold box, last" if each.row.needs_cold else ""))  # fmt: skip
    if rows:
        work.table("pick", "Pick list, in van order", {
            "name": "Product", "pieces": "To bring", "cases": "In whole cases", "over": "Comes back", "mind": "Mind"}, rows,
                   "Heavy cases first, cold goods last. So many that the lanes can be filled, with the wanted chance.")  # fmt: skip


def _selections(inputs: Inputs, work: Work, found: list[Selection]) -> None:
    rows: Rows = []
    for each in sorted(found, key=functools.partial(first_out, inputs)):
        chance = None
        if each.rate is not None and each.stock is not None and inputs.days is not None:
            chance = 100 * (1 - maths.chance(each.rate * inputs.days, each.stock))
        rows.append((each.name, work.text(each.lasts, "days", "down"), work.text(chance, "percent", "up"),
                     work.text(each.lost, "average", "up"), work.text(each.out, "average", "up"),
                     work.text(each.need, "count"), work.text(each.fill, "count")))  # fmt: skip
    if rows:
        work.table("selections", "Selection by selection", {
            "name": "Selection", "lasts": "Lasts", "chance": "Chance it runs short", "lost": "Lost sales, mean",
            "out": "Thrown out, mean", "par": "Par", "fill": "Fill up to"}, rows)  # fmt: skip

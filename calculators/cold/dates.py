"""Dates of the lots: which day of its life each is at, and the earliest for all of them."""

from __future__ import annotations

from ..core import Work
from ..core.moments import DAY, day_text
from . import maths
from .inputs import Inputs, Lot

Number = float | None
OUT = "Take it out and throw it out."


def solve(inputs: Inputs, work: Work) -> list[Number]:
    """The checks of each lot; days that each has left, today's not counted, None where it is not known."""
    lots = inputs.lots or []
    if not lots:
        work.verdict("dated", None, needs=("lots",))
    return [_lot(inputs, work, number, lot) for number, lot in enumerate(lots)]


def name_of(number: int, lot: Lot) -> str:
    """What a lot is called."""
    return lot.name or f"Lot {number + 1}"


def _lot(inputs: Inputs, work: Work, number: int, lot: Lot) -> Number:
    path, name = f"lots.{number}.", f"{number + 1}. {name_of(number, lot)}"
    _again(inputs, work, lot, name)
    dated = None if lot.dated is None else lot.dated != "none"
    work.verdict("dated", dated, at=name, good="It bears a date.", bad="It bears no date.", needs=(path + "dated",), instead=OUT)
    today = None if inputs.now is None else inputs.now // DAY
    if lot.dated == "kitchen":
        return _kitchen(work, number, lot, name, today)
    if lot.dated != "pack":
        return None
    left = _packed(work, path, lot, name, today)
    return left if lot.state != "thawed" else _least(left, _since_thawing(work, path, lot, name, today))


def _again(inputs: Inputs, work: Work, lot: Lot, name: str) -> None:
    """What has thawed and was frozen again is a stop whatever its date; so is what has thawed in a cabinet that freezes."""
    if lot.state == "never":
        return
    needs = ("cooling",) if lot.state == "thawed" else ()
    ok = None if work.unknown(*needs) else lot.state != "again" and not (needs and inputs.cooling == "frozen")
    work.verdict("refrozen", ok, at=name, good="It was not frozen a second time.", instead=OUT, needs=needs, rules=("food.freezing",),
                 bad="It thawed, and this cabinet freezes it again." if needs else "It thawed and was frozen again.")  # fmt: skip


def _kitchen(work: Work, number: int, lot: Lot, name: str, today: int | None) -> Number:
    """Days in the cold, the first of them day 1."""
    path = f"lots.{number}."
    stops = ("frozen", "thawed") if lot.state == "thawed" else ("frozen",) if lot.state == "frozen" else ()
    needs = ("now", *(path + key for key in ("made", *stops)))
    most = work.inner("food.date_mark_days")
    before = after = None
    if not work.unknown(*needs):
        before, after = maths.days_counted(lot.made, today or 0, lot.frozen if stops else None,
                                           lot.thawed if "thawed" in stops else None)  # fmt: skip
    work.section(f"Days of {name}")
    work.given("n_before", "Days in the cold before freezing" if stops else "Days in the cold", before, "days",
               note="The day it is made is day 1. The day of freezing counts.")  # fmt: skip
    work.given("n_after", "Days since thawing", after, "days", note="The day of thawing counts.")
    days = work.step("n", "Days that count", "n_before + n_after", "days", rule="food.date_mark_day_one")
    work.rule("N", "food.date_mark_days")
    left = work.step("r", "Days left after today", "N - n", "days")
    work.check("days", days, most, at=name, needs=needs, instead=OUT,
               note="" if left is None or today is None or left < 0 or lot.state == "frozen" else
               f"Last day of sale: {day_text(min(today + left, 36_524))}.")  # fmt: skip
    return left


def _packed(work: Work, path: str, lot: Lot, name: str, today: int | None) -> Number:
    """The date of its maker; freezing moves it nowhere."""
    needs = ("now", path + "date")
    left = None if work.unknown(*needs) else float(lot.date - (today or 0))
    soft = lot.date_kind == "best_before"
    work.check("date", left, 0.0, at=name, needs=needs, soft=soft,
               instead="It comes out, and the office decides." if soft else OUT,
               note="Sold to the end of that day. Freezing does not move it.")  # fmt: skip
    return left


def _since_thawing(work: Work, path: str, lot: Lot, name: str, today: int | None) -> Number:
    """The date of a frozen pack holds while it is frozen; once it has thawed, the days that the pack gives it decide."""
    needs = ("now", path + "thawed", path + "keeps")
    days = None if work.unknown("now", path + "thawed") else float((today or 0) - lot.thawed + 1)
    work.check("thawed", days, lot.keeps, at=name, needs=needs, instead=OUT,
               note="" if lot.keeps is not None else "The date holds while it is frozen. The pack says how long it keeps after "
               "thawing. If it does not, the office asks its maker.")  # fmt: skip
    return None if days is None or lot.keeps is None else lot.keeps - days


def _least(one: Number, other: Number) -> Number:
    return None if one is None or other is None else min(one, other)

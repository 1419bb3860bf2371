"""The working: each selection's figures as one would write them down."""

from __future__ import annotations

from ..core import Work
from . import maths
from .inputs import Inputs
from .model import WEEK, Selection

POISSON = "buyers by chance (Poisson), exact"


def solve(inputs: Inputs, work: Work, found: list[Selection]) -> None:
    """What all share, then selection by selection."""
    work.section("The days")
    for path in ("days", "cover", "service", "sales_per_day"):
        work.take(path)
    work.given("W", "Days in a week", WEEK, "count")
    if inputs.sales_per_day is not None and all(each.row.weekly_sales is not None for each in found) and found:
        work.given("s_all", "Sales a week of all selections", sum(each.row.weekly_sales for each in found), "ratio")
    for each in found:
        _selection(inputs, work, each)


def _selection(inputs: Inputs, work: Work, each: Selection) -> None:
    work.section(each.name)
    work.take(each.path("weekly_sales"))
    if inputs.sales_per_day is not None:
        shared = each.rate is not None and bool(each.rate)
        work.step("r", "Sales a day, its share", "S * s / s_all" if shared else "0 * W", "per_day") if each.rate is not None else None
    else:
        work.step("r", "Sales a day", "s / W", "per_day")
    _wanted(work, each)
    _until(inputs, work, each)
    _after(inputs, work, each)


def _wanted(work: Work, each: Selection) -> None:
    """The chance that it shall last with."""
    if each.row.perishable and each.wanted is not None:
        work.take(each.path("price"))
        work.take(each.path("cost"))
        work.given("u_most", "Never more than", 100 * maths.MOST, "chance")
        work.step("u", "Chance of lasting that pays: earned over price", "min(u_most, max(0, 100 * (p - c) / p))", "chance",
                  note="newsvendor: what one sale more earns, of that and what one piece too many costs")  # fmt: skip
    elif each.wanted is not None:
        work.step("u", "Chance of lasting that is wanted", "w * 1", "chance")


def _until(inputs: Inputs, work: Work, each: Selection) -> None:
    """Up to the planned visit."""
    if each.rate is None:
        return
    work.step("m", "Wanted until the planned visit, on average", "r * T", "average")
    if each.stock is not None:
        label = "On hand" if each.row.on_hand is not None else "On hand: as the last visit filled it"
        work.given("n", label, each.stock, "count")
    if each.lasts is not None:
        work.given("t", "Days it lasts with the chance u", each.lasts, "days", POISSON)
    if each.most is not None:
        work.given("q", "Most wanted until then, with the chance u", each.most, "count", POISSON)
    if each.left is not None and each.stock is not None:
        good = each.left > 0 or (each.most is not None and each.stock <= each.most)
        work.step("L", "Good ones left then, at least", "max(n - q, 0)" if good else "0 * n", "count",
                  note="" if good else "what is left goes out")  # fmt: skip


def _after(inputs: Inputs, work: Work, each: Selection) -> None:
    """From the planned visit to the next."""
    row = each.row
    if each.rate is None or each.need is None or inputs.cover is None:
        return
    work.step("M", "Wanted from then to the visit after, on average", "r * V", "average")
    work.given("P", "Par: enough for that with the chance u", each.need, "count", POISSON)
    if each.fill is None or each.left is None:
        return
    work.take(each.path("capacity"))
    _fill(inputs, work, each)
    if row.case_pieces is None:
        work.given("k", "Pieces in a case: loose", 1, "count")
    else:
        work.take(each.path("case_pieces"))
    work.given("L", "Good ones left then, at least", each.left, "count")
    work.step("B", "To bring", "max(G - L, 0)", "count")
    work.step("N", "In whole cases", "ceil(B / k)", "count")


def _fill(inputs: Inputs, work: Work, each: Selection) -> None:
    if inputs.cover is not None and each.row.shelf_days < inputs.cover:
        work.step("G", "Fill up to: a fresh pack does not keep so long", "0 * C", "count")
    elif each.row.perishable or inputs.fill == "par":
        work.step("G", "Fill up to", "min(C, P)", "count")
    else:
        work.given("A", "Of a full selection, what surely sells before its date", each.sells or 0, "count", POISSON)
        work.step("G", "Fill up to", "min(C, max(P, A))", "count")

"""The checks of each selection: it lasts, nothing in it goes past its date, what is loaded keeps, holds and pays."""

from __future__ import annotations

from ..core import Work
from ..core.report import Mend
from . import maths
from .inputs import Inputs
from .model import Number, Selection

OUT = "Take it out before its date, or visit by then."


def solve(inputs: Inputs, work: Work, found: list[Selection]) -> None:
    """All checks, selection by selection."""
    if not found:
        work.verdict("lasts", None, needs=("selections",))
    sales = [each.path("weekly_sales") for each in found]
    for each in found:
        own = sales if inputs.sales_per_day is not None else [each.path("weekly_sales")]
        _lasts(inputs, work, each, own)
        _date(inputs, work, each)
        _fresh(inputs, work, each)
        if each.row.perishable is not False:
            _pays(work, each)
    _room(inputs, work, found)


def _chance_needs(each: Selection) -> list[str]:
    """What the wanted chance rests on."""
    money = ["price", "cost"] if each.row.perishable is not False else []
    return [each.path(key) for key in ("perishable", *money)]


def _lasts(inputs: Inputs, work: Work, each: Selection, sales: list[str]) -> None:
    stock = [each.path("on_hand")]
    if inputs.stocked == "filled" and each.row.on_hand is None:
        stock = [each.path(key) for key in ("capacity", "shelf_days")]
    work.check("lasts", each.lasts, inputs.days, at=each.name, needs=["days", *sales, *stock, *_chance_needs(each)],
               mend=_sooner(work, "days", each.lasts), instead="It will be empty before the visit: come sooner, or give it another lane.")  # fmt: skip


def _sooner(work: Work, path: str, most: Number) -> Mend | None:
    """A visit by that many days."""
    return None if most is None else work.mend(path, most, "at most", how="Visit sooner.")


def _date(inputs: Inputs, work: Work, each: Selection) -> None:
    """What is in it now: its own earliest date decides, else whether somebody looked."""
    # A date that somebody read is of a pack that is there, whatever the last visit should have left.
    if each.stock == 0 and (each.row.on_hand is not None or each.row.life_left is None):
        return
    if each.life is None:
        path = "shelf_days" if inputs.stocked == "filled" else "life_left"
        looked = inputs.cleared and inputs.stocked != "filled"
        asks = [each.path(path), *(["cleared"] if inputs.cleared is None and inputs.stocked != "filled" else [])]
        # Looked through or not, to a visit that far away no fresh pack may keep.
        work.verdict("date", True if looked and inputs.days is not None else None, at=each.name, needs=["days"] if looked else asks,
                     good="It was looked through at the last visit.")  # fmt: skip
        return
    # A blank date is told already, by a fresh pack's whole life: nothing more is asked for.
    needs = ["days"]
    life: Number = each.life
    read = inputs.stocked == "filled" and each.row.on_hand is None and each.row.life_left is not None
    if each.stock is None and not read and inputs.days is not None and each.life < inputs.days:
        life, needs = None, [each.path("on_hand"), each.path("life_left"), *needs]
    # Sooner is enough only where a date was read, or somebody looked; else that date is still to be read.
    told = each.row.life_left is not None or inputs.stocked == "filled" or inputs.cleared
    work.check("date", life, inputs.days, at=each.name, needs=needs, instead=OUT,
               mend=work.mend("days", life, "at most", how=OUT) if told and life is not None else None)  # fmt: skip


def _fresh(inputs: Inputs, work: Work, each: Selection) -> None:
    """What is loaded lasts to the visit at which it is taken out, or where it stays in, to the one after."""
    row, cover = each.row, inputs.cover
    visits = None if row.perishable is None else 1 if row.perishable else 2
    limit = None if cover is None or visits is None else visits * cover
    most = None if row.shelf_days is None or visits is None else row.shelf_days / visits
    stays = " What is left stays in, so it must last to the visit after that too." if visits == 2 else ""
    work.check("fresh", row.shelf_days, limit, at=each.name, mend=_sooner(work, "cover", most),
               needs=[each.path("shelf_days"), each.path("perishable"), "cover"],
               instead=f"Load none of it for so many days.{stays}")  # fmt: skip


def _room(inputs: Inputs, work: Work, found: list[Selection]) -> None:
    """Whether the lanes hold what is wanted until the visit after; one that does not is enough to say so."""
    small = [each for each in found if None not in (each.need, each.row.capacity) and each.row.capacity < each.need]
    known = all(None not in (each.need, each.row.capacity) for each in found)
    needs = ["cover", *(each.path(key) for each in found for key in ("capacity", "weekly_sales")),
             *(path for each in found for path in _chance_needs(each))]  # fmt: skip
    work.verdict("room", False if small else True if known and found else None, needs=needs if found else ("selections",),
                 good="What sells from that visit to the next goes into the lanes.",
                 bad=f"More sells from that visit to the next than the lanes hold: {_listed(small)}.",
                 mend=_sooner(work, "cover", min((_holds(each) for each in small), default=None) if known and not work.again else None),
                 instead="Give it another lane, or visit more often.")  # fmt: skip


def _listed(small: list[Selection]) -> str:
    """Those that run short, each with what it holds and what is wanted."""
    return ", ".join(f"{each.name} ({each.row.capacity} of {each.need})" for each in small)


def _holds(each: Selection) -> float:
    """For how many days its lanes hold enough."""
    return maths.days_lasting(each.row.capacity, each.rate or 0.0, each.wanted or 0.0)


def _pays(work: Work, each: Selection) -> None:
    """Goods that are thrown out when left over must earn more than they cost."""
    row = each.row
    price: Number = row.price
    if row.perishable is None and not (row.price is not None and row.cost is not None and row.price > row.cost):
        price = None
    # The least more that can be asked is one cent: at its cost a piece that is left over is lost.
    least = None if row.cost is None else row.cost + 1
    work.check("pays", price, least, at=each.name, needs=[each.path(key) for key in ("perishable", "price", "cost")],
               mend=None if least is None else work.mend(each.path("price"), least, "at least"),
               instead="Load none: it costs no less than it brings.")  # fmt: skip

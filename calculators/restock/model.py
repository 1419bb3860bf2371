"""What follows for each selection, as far as it is known; None is not known."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..core import Contradiction
from ..core.units import Units
from . import maths
from .inputs import Inputs, SelectionRow

Number = float | None
Whole = int | None
WEEK = 7


@dataclass(frozen=True)
class Selection:
    """One selection.

    ``rate`` pieces a day; ``wanted`` the chance with which it shall last; ``stock`` in it now, of which the earliest
    date is ``life`` days away; ``left`` what surely is good then, ``out`` what is thrown out, on average; ``need`` until
    the visit after; ``fill`` up to which it is filled.
    """

    row: SelectionRow
    place: int
    name: str
    rate: Number = None
    wanted: Number = None
    stock: Whole = None
    life: Whole = None
    lasts: Number = None
    lost: Number = None
    out: Number = None
    most: Whole = None
    left: Whole = None
    need: Whole = None
    sells: Whole = None
    fill: Whole = None

    def good_for(self, inputs: Inputs) -> Number:
        """Days that its packs surely or at most keep: by the date that was read, else by what is known without it.

        What goes out when left was looked through for the planned visit and no farther; nothing keeps longer than fresh.
        """
        if self.life is not None or self.row.shelf_days is None:
            return self.life
        looked = inputs.days if inputs.cleared and self.row.perishable else None
        return float(self.row.shelf_days if looked is None else min(looked, self.row.shelf_days))

    @property
    def bring(self) -> Whole:
        """Pieces to bring."""
        return None if self.fill is None or self.left is None else max(self.fill - self.left, 0)

    @property
    def cases(self) -> Whole:
        """The same in whole cases."""
        return None if self.bring is None else -(-self.bring // (self.row.case_pieces or 1))

    def path(self, key: str) -> str:
        """The input's path."""
        return f"selections.{self.place}.{key}"


def names(inputs: Inputs) -> list[str]:
    """What each row is called, no two alike."""
    found: list[str] = []
    for number, row in enumerate(inputs.selections, 1):
        name = row.name or f"Selection {number}"
        found.append(f"{name} (selection {number})" if name in found else name)
    return found


def find(inputs: Inputs) -> list[Selection]:
    """Every selection, worked out."""
    total = _total(inputs)
    return [_one(inputs, Selection(row, place, name, _rate(inputs, row, total)))
            for place, (row, name) in enumerate(zip(inputs.selections, names(inputs), strict=True))]  # fmt: skip


def _total(inputs: Inputs) -> Number:
    """The sales a week of all selections together."""
    each = [row.weekly_sales for row in inputs.selections]
    return None if None in each else math.fsum(each)


def _rate(inputs: Inputs, row: SelectionRow, total: Number) -> Number:
    if row.weekly_sales is None or (inputs.sales_per_day is not None and total is None):
        return None
    if inputs.sales_per_day is None:
        return float(row.weekly_sales) / WEEK
    return float(inputs.sales_per_day * row.weekly_sales / total) if total else 0.0


def _one(inputs: Inputs, made: Selection) -> Selection:
    row, days = made.row, inputs.days
    wanted = _wanted(inputs, row)
    then = fill_of(inputs, made, days, wanted)
    stock = then if row.on_hand is None and inputs.stocked == "filled" else row.on_hand
    life = _life(inputs, row)
    known = None in (made.rate, stock, days)
    most = None if made.rate is None or days is None or wanted is None else maths.enough(made.rate * days, wanted)
    return Selection(
        row, made.place, made.name, made.rate, wanted, stock, life, most=most,
        lasts=None if None in (made.rate, stock, wanted) else maths.days_lasting(stock, made.rate, wanted),  # type: ignore[arg-type]
        lost=None if known else maths.short(made.rate * days, stock),  # type: ignore[arg-type]
        out=_out(inputs, made, stock, life), left=_left(inputs, row, stock, life, most),
        need=need_of(made, inputs.cover, wanted), sells=_sells(made, inputs.service),
        fill=fill_of(inputs, made, inputs.cover, wanted))  # fmt: skip


def _life(inputs: Inputs, row: SelectionRow) -> Whole:
    """Days left on its earliest date; of packs whose date nobody read, where no fresh one would last to the visit either."""
    read: Whole = row.life_left
    fresh: Whole = row.shelf_days
    if read is not None or fresh is None:
        return read
    gone = inputs.days is not None and fresh < inputs.days
    return fresh if gone or inputs.stocked == "filled" else None


def _wanted(inputs: Inputs, row: SelectionRow) -> Number:
    """With what chance it shall last: what pays, where the left-over goes out."""
    if row.perishable is None:
        return None
    if not row.perishable:
        return float(inputs.service) / 100
    return None if row.price is None or row.cost is None else maths.share(row.price, row.cost)


def need_of(made: Selection, days: Number, wanted: Number) -> Whole:
    """What is wanted in so many days, with the wanted chance; none where nothing pays."""
    if made.rate is None or days is None or wanted is None:
        return None
    return maths.enough(made.rate * days, wanted) if wanted > 0 else 0


def _sells(made: Selection, service: float) -> Whole:
    """How many of a full selection surely sell before the date of a fresh pack."""
    row = made.row
    if made.rate is None or row.shelf_days is None or row.capacity is None:
        return None
    return maths.surely(made.rate * row.shelf_days, service / 100, row.capacity)


def fill_of(inputs: Inputs, made: Selection, days: Number, wanted: Number) -> Whole:
    """Up to how many pieces it is filled for so many days."""
    row, need = made.row, need_of(made, days, wanted)
    if days is not None and row.shelf_days is not None and row.shelf_days < days:
        return 0
    if row.capacity is None or need is None or row.shelf_days is None:
        return None
    if inputs.fill == "full" and not row.perishable:
        need = max(need, _sells(made, inputs.service) or 0)
    return int(min(row.capacity, need))


def goes_out(inputs: Inputs, row: SelectionRow, life: Whole) -> bool | None:
    """Whether what is left at the planned visit is thrown out then."""
    if row.perishable or (life is not None and inputs.days is not None and life < inputs.days):
        return True
    if row.perishable is None:
        return None
    if life is None:
        return False if inputs.cleared else None
    return None if inputs.days is None or inputs.cover is None else bool(life < inputs.days + inputs.cover)


def _out(inputs: Inputs, made: Selection, stock: Whole, life: Whole) -> Number:
    """Pieces thrown out at the planned visit or past their date before it, on average."""
    gone = goes_out(inputs, made.row, life)
    if gone is False:
        return 0.0
    if gone is None or made.rate is None or stock is None or inputs.days is None:
        return None
    until = inputs.days if life is None else min(inputs.days, life)
    return maths.left(made.rate * until, stock)


def _left(inputs: Inputs, row: SelectionRow, stock: Whole, life: Whole, most: Whole) -> Whole:
    """Good pieces that are there at the planned visit at least, with the wanted chance."""
    gone = goes_out(inputs, row, life)
    if gone:
        return 0
    return None if gone is None or stock is None or most is None else max(stock - most, 0)


def conflicts(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """More pieces than there is room for, more lanes than pieces, a pack fresher than fresh, sales that nothing sells."""
    if inputs.sales_per_day is not None and inputs.selections and _total(inputs) == 0:
        yield Contradiction(("sales_per_day", "selections.0.weekly_sales"), "The cabinet sells, and none of its selections "
                            "does: say what each sells a week, or clear the sales a day.")  # fmt: skip
    for place, row in enumerate(inputs.selections):
        at = functools.partial("selections.{}.{}".format, place)
        if row.life_left is not None and row.shelf_days is not None and row.life_left > row.shelf_days:
            yield Contradiction((at("life_left"), at("shelf_days")), f"A pack in it has {row.life_left} days left, and a fresh one "
                                f"keeps {row.shelf_days}: read the date again, or correct how long a fresh one keeps.")  # fmt: skip
        if row.capacity is None:
            continue
        if row.on_hand is not None and row.on_hand > row.capacity:
            yield Contradiction((at("on_hand"), at("capacity")),
                                f"{row.on_hand} pieces are more than the {row.capacity} that its lanes hold.")  # fmt: skip
        if row.lanes is not None and row.lanes > row.capacity:
            yield Contradiction((at("lanes"), at("capacity")),
                                f"{row.lanes} lanes hold more than {row.capacity} pieces.")  # fmt: skip

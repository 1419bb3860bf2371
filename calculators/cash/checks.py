"""The checks: short or over, the weighed lots, both counts, both people, the cards by themselves."""

from __future__ import annotations

from collections.abc import Iterable

from ..core import Work
from .inputs import Inputs
from .lots import Counted
from .sheet import Found, sales_needs

Number = float | None

CAUSE = ("Count once more. Then look for a plain cause: coins filled in and not written, a bill stuck in its path, "
         "a tube’s count that was set right, two bags changed about. A number alone accuses nobody.")  # fmt: skip
AGAIN = ("Read counters and tubes again, and see whether this cabinet counts filling as cash in. If the readings are right, "
         "write them down and call the office: this bag cannot be compared.")  # fmt: skip
OUTGOING = ("More was paid out than came in. Read the counters again. Was a tube emptied, and does this cabinet count emptying as "
            "paid out? Then say so, and write what was taken. Else call the office: coins may have left without a sale.")  # fmt: skip
UNEQUAL = "Count again, both. If you still do not agree, a third person counts. Nothing is written before."
FOREIGN = ("Look for other coins among them, read the scale again, and take the container’s own weight off. Else count "
           "them by number.")  # fmt: skip
CUT = ("Cut the report at the time of the reading: its day may end at another hour. Sales without a signal come "
       "later. What stays is open: write it down, and ask the office.")  # fmt: skip


def solve(inputs: Inputs, work: Work, found: Found) -> None:
    """All checks; the cards only where they are compared here."""
    _gap(work, found)
    work.check("holds", found.must, 0.0, needs=found.must_needs, instead=AGAIN)
    work.check("came_in", found.sales, 0.0, needs=sales_needs(inputs), instead=OUTGOING)
    for lot in found.lots:
        if lot.weighed:
            _weighed(work, lot)
    _second(inputs, work, found)
    _people(inputs, work)
    if inputs.cards == "now":
        _cards(work, found)


def _gap(work: Work, found: Found) -> None:
    """Surely short, surely not, or open; and the same for over."""
    low, _, high = found.gap
    most = found.limit
    least = None if most is None else -most
    needs = (*found.must_needs, *found.count_needs, *(lot.recount for lot in found.open if lot.recount))
    note = _left_open(work, found)
    work.check("short", _decided(low, high, least, up=True), least, needs=needs, rules=found.lacks, note=note,
               instead=CAUSE)  # fmt: skip
    work.check("over", _decided(low, high, most, up=False), most, needs=needs, rules=found.lacks, note=note,
               instead=CAUSE)  # fmt: skip


def _decided(low: Number, high: Number, limit: Number, *, up: bool) -> Number:
    """The bound that decides: the unsafe one where even that will do, the other where even that will not."""
    if low is None or high is None or limit is None:
        return None
    unsafe, safe = (low, high) if up else (high, low)
    will_do = (unsafe >= limit) if up else (unsafe <= limit)
    cannot = (safe < limit) if up else (safe > limit)
    return unsafe if will_do else safe if cannot else None


def _left_open(work: Work, found: Found) -> str:
    """What the weights leave open, and which lots to count."""
    lacking = [lot for lot in found.open if lot.lacks]
    if lacking:
        return (f"The weight of {_named(lacking)} settles nothing: the rules do not say how far one coin may be off. "
                "Count them by number.")  # fmt: skip
    if not found.open:
        return ""
    names = _named(found.open)
    low, _, high = found.gap
    range_ = "" if low is None else f" The difference lies between {work.text(low, 'money')} and {work.text(high, 'money')}."
    return f"The weight of {names} leaves more than one count open.{range_} A count by number settles it."


def _named(listed: Iterable[Counted]) -> str:
    return " and ".join(f"{lot.name.lower()} (lot {lot.number + 1})" if lot.recount else lot.name.lower() for lot in listed)


def _weighed(work: Work, lot: Counted) -> None:
    """Whether any number of coins weighs so, and whether the kind can be weighed at all."""
    older = lot.weight.older if lot.weight else ()
    at = f"Lot {lot.number + 1}, {lot.name.lower()}"
    if older and lot.fits is not False:
        work.verdict("weighed", False, at=at, soft=True, bad=f"Coins of this kind do not weigh alike: {', '.join(older)}.",
                     instead="Count them by number, or by a machine that tells them apart.", rules=("coins.issues",))  # fmt: skip
        return
    note = "The rules do not say how far a coin of this kind may be off: count them by number." if lot.lacks else ""
    work.verdict("weighed", lot.fits, at=at, needs=lot.needs, good=_told(work, lot), bad="No number of such coins weighs this.",
                 instead=FOREIGN, note=note, rules=() if lot.lacks else ("coins.mass_off",))  # fmt: skip


def _told(work: Work, lot: Counted) -> str:
    low, _, high = lot.coins
    if low is None:
        low, _, high = lot.worth
        kind = "money"
    else:
        kind = "count"
    if low == high:
        return f"Only one count weighs this: {work.text(low, kind)}{' coins' if kind == 'count' else ''}."
    return f"From {work.text(low, kind)} to {work.text(high, kind)}{' coins' if kind == 'count' else ''} weigh this."


def _second(inputs: Inputs, work: Work, found: Found) -> None:
    """The second count against the first, whose bounds a weight may leave; what differs is told as a sum to redo."""
    low, _, high = found.counted
    needs = ("second", *found.count_needs)
    told = all(lot.told for lot in found.lots)
    for key, bound, sign, way in (("agree_low", low, 1, "less"), ("agree_high", high, -1, "more")):
        known = inputs.second is not None and bound is not None
        if known and sign * (inputs.second - bound) < 0:
            work.check(key, inputs.second, bound, needs=needs, instead=UNEQUAL)
        else:
            work.verdict(key, True if known and told else None, needs=needs, rules=found.lacks,
                         good=f"{work.text(inputs.second, 'money')}, no {way} than {work.text(bound, 'money')}.")  # fmt: skip


def _people(inputs: Inputs, work: Work) -> None:
    names = (inputs.counted_by, inputs.checked_by)
    ok = None if None in names or "" in names else True
    work.verdict("people", ok, needs=("counted_by", "checked_by"), good=f"Counted by {names[0]}, checked by {names[1]}.")


def _cards(work: Work, found: Found) -> None:
    """Nothing may lack, and nothing be too much: both are written by machines."""
    gap = found.cards
    report, counters = (work.text(getattr(work.inputs, f"cards_{each}"), "money") for each in ("report", "counted"))
    for key, apart, way in (("cards_low", None if gap is None else -gap, "less"), ("cards_high", gap, "more")):
        work.verdict(key, None if apart is None else apart <= 0, good=f"{report}, no {way} than {counters}.", needs=("cards_counted", "cards_report"),
                     bad=f"It is {work.text(apart, 'money')} {way} than the counters say.", instead=CUT)  # fmt: skip

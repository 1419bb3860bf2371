"""The gas: the charge of one circuit, and the room that a full leak of everything in it wants."""

from __future__ import annotations

import math

from ..core import Work
from ..core.report import Mend
from . import maths, model
from .inputs import BURNING, TAPE, Cooler, Inputs
from .model import Found

Number = float | None

OPEN = "In the open air there is no room to fill."
NOTHING = "Nothing in this room holds a gas that burns."
ASK = "Do not stand it there. Ask the maker, or {} certified for this gas, which room it may have."
WHO = "a technician"
SURE = 1e-6  # m³ beyond the limit, so that no rounding makes a stop of what may yet be enough
LARGER = "Choose a larger room, or put fewer coolers into it."
WHATEVER = "Nobody said which gas: it holds for any that burns, at the lowest burning limit that this form takes."
AT_LEAST = "At least so much room, whatever is not given yet."


def solve(inputs: Inputs, work: Work, found: Found) -> None:
    """Working, checks and values of the gas."""
    _working(inputs, work, found)
    _charge(inputs, work)
    _room(inputs, work, found, "burns")
    _room(inputs, work, found, "practical")
    _low_place(inputs, work, found)
    work.value("room", found.volume, found.volume_off)
    work.value("room_needed", None if inputs.outdoors else found.room("practical"))
    work.value("charge_all", _in_all(found))
    _table(work, found)


def _in_all(found: Found) -> Number:
    known = [each.number * each.charge for each in found.sources if each.number is not None and each.charge is not None]
    return math.fsum(known) if found.settled and len(known) == len(found.sources) else None


# -- working --------------------------------------------------------------------------


def _working(inputs: Inputs, work: Work, found: Found) -> None:
    work.section("A full leak in the room")
    for path in ("room_length", "room_width", "room_height"):
        work.take(path)
    work.step("V", "Volume of the room", "L*W*H", "volume")
    burning = [(number, f"coolers.{number - 2}." if number > 1 else "", record)
               for number, record in enumerate(model.records(inputs), 1) if record.gas in BURNING]  # fmt: skip
    for number, path, record in burning:
        _one(inputs, work, number, path, record)
    if burning and found.settled:
        for kind, symbol in (("practical", "V_r"), ("burns", "V_b")):
            work.step(symbol, f"Room in all, {SAID[kind]}", " + ".join(f"{symbol}{number}" for number, *_ in burning), "volume")


SAID = {"practical": "to the practical limit", "burns": "to where it burns"}


def _one(inputs: Inputs, work: Work, number: int, path: str, record: Inputs | Cooler) -> None:
    """Room for a leak of one kind of cooler."""
    work.take(f"{path}number" if path else "alike", f"N{number}")
    work.take(f"{path}charge", f"m{number}")
    for kind, symbol, sign in (("practical", "V_r", "p"), ("burns", "V_b", "b")):
        _limit(work, kind, path, record, f"{sign}{number}", number)
        work.step(f"{symbol}{number}", f"Room for it, {SAID[kind]}", f"N{number}*m{number}/{sign}{number}", "volume")


def _limit(work: Work, kind: str, path: str, record: Inputs | Cooler, symbol: str, number: int) -> None:
    key = model.key_of(kind, record.gas, work)
    if key:
        work.rule(symbol, key)
        return
    low = symbol if kind == "burns" else f"l{number}"
    if record.gas == "other":
        work.take(f"{path}lfl", low)
    else:
        work.rule(low, f"refrigerant.lfl_{record.gas}")
    if kind == "practical":
        work.rule(f"s{number}", "refrigerant.practical_share")
        work.step(symbol, "Its practical limit", f"s{number}*{low}", "gas_density")


# -- checks ---------------------------------------------------------------------------


def most_in_circuit(inputs: Inputs, work: Work) -> Number:
    """Greatest charge of one circuit, g, by the edition that the cabinet is built to."""
    newest, air = work.inner("refrigerant.charge_newer"), work.inner("refrigerant.lfl_air")
    small, low = work.inner("refrigerant.charge_small"), model.lower(inputs, work)
    if newest is None or air is None or small is None or low is None or inputs.built_to is None:
        return None
    most = min(newest, air * low)
    return most if inputs.built_to == "new" else min(small, most)


def _charge(inputs: Inputs, work: Work) -> None:
    if inputs.gas == "none":
        work.verdict("charge", True, good="This refrigerant does not burn; the limit is for those that do.")
        return
    lfl = ("lfl",) if inputs.gas == "other" else ()
    least = _sure_least([most_in_circuit(each, work) for each in model.whatever_gas(inputs)])
    if least is not None and inputs.charge is not None and inputs.charge <= least:
        work.check("charge", inputs.charge, least, rules=("refrigerant.lfl_r290", "refrigerant.lfl_r600a"), note=WHATEVER)
        return
    work.check("charge", inputs.charge, most_in_circuit(inputs, work), needs=("gas", "charge", "built_to", *lfl),
               rules=(f"refrigerant.lfl_{inputs.gas}",) if inputs.gas in ("r290", "r600a") else (),
               note="" if inputs.gas in (None, "r290") else "The limits by weight are told for propane.",
               instead="Read the plate again: the largest circuit alone counts. " + ASK.format(WHO))  # fmt: skip


def _room(inputs: Inputs, work: Work, found: Found, kind: str) -> None:
    """The room against one limit; what is known alone can already be too much."""
    key = "leak_burns" if kind == "burns" else "leak_limit"
    needed = found.room(kind)
    if inputs.outdoors or needed == 0.0:
        work.verdict(key, True, good=OPEN if inputs.outdoors else NOTHING)
        return
    if _fits_whatever(inputs, work, found, kind):
        return
    soft = kind == "practical" and _small(inputs, work, found)
    least, short = found.least_room(kind), ""
    if needed is None and found.volume is not None and least > found.volume + SURE and not soft:
        needed, short = least, AT_LEAST
    volume = None if inputs.outdoors is None else found.volume
    mend = None if short else _mend(inputs, work, needed)
    made = work.check(
        key, volume, needed, tolerance=found.volume_off, needs=_needs(inputs, found), mend=mend, soft=soft,
        rules=_keys(inputs, work, kind), note=short, instead=_instead(work, soft, mend))  # fmt: skip
    made.mild = soft and found.settled  # what else is not known makes no charge larger


def _fits_whatever(inputs: Inputs, work: Work, found: Found, kind: str) -> bool:
    """Whether the room is enough for any gas that burns, where nobody told which it is; then that is the check."""
    rooms = [model.find(each, work).room(kind) for each in model.whatever_gas(inputs)]
    if not rooms or None in rooms or found.volume is None or inputs.outdoors is None:
        return False
    most = max(room or 0.0 for room in rooms)
    if found.volume - found.volume_off <= most:
        return False
    keys = {key for each in model.whatever_gas(inputs) for key in _keys(each, work, kind)}
    work.check(f"leak_{'burns' if kind == 'burns' else 'limit'}", found.volume, most, tolerance=found.volume_off,
               rules=tuple(sorted(keys)), note=WHATEVER)  # fmt: skip
    return True


def _sure_least(limits: list[Number]) -> Number:
    """The least of some limits, where all are known."""
    known = [limit for limit in limits if limit is not None]
    return min(known) if known and len(known) == len(limits) else None


def _small(inputs: Inputs, work: Work, found: Found) -> bool:
    """Whether every circuit holds so little that no room size is asked; then a small room is a caution."""
    small = work.inner("refrigerant.charge_small")
    return small is not None and all(each.charge is not None and each.charge <= small * (1 + 1e-9)
                                     for each in found.sources if each.needs)  # fmt: skip


def _needs(inputs: Inputs, found: Found) -> tuple[str, ...]:
    others = () if found.settled else ("coolers",) if inputs.others else ("others",)
    return ("outdoors", "room_length", "room_width", "room_height", *found.needs, *others)


def _keys(inputs: Inputs, work: Work, kind: str) -> tuple[str, ...]:
    gases = {record.gas for record in model.records(inputs)} & {"r290", "r600a"}
    own = {model.key_of(kind, gas, work) for gas in gases}
    lower = {f"refrigerant.lfl_{gas}" for gas in gases if not model.key_of(kind, gas, work)}
    return tuple(sorted((own | lower) - {""}))


def _instead(work: Work, soft: bool, mend: Mend | None) -> str:
    if soft:
        small = work.text(work.inner("refrigerant.charge_small"), "small_mass", "down")
        return (f"Up to {small} in a circuit no room size is asked, as far as known. Keep the door open or the air moving, and "
                "the slots low down free.")  # fmt: skip
    return "" if mend else ASK.format(WHO)


def _mend(inputs: Inputs, work: Work, needed: Number) -> Mend | None:
    if needed is None or inputs.room_width is None or inputs.room_height is None:
        return None
    length = maths.least_length(needed, inputs.room_width, inputs.room_height, TAPE)
    return work.mend("room_length", length, "at least", beyond=1e-6 * (length or 0.0), how=LARGER)


def _low_place(inputs: Inputs, work: Work, found: Found) -> None:
    burning = [record.gas for record in model.records(inputs)]
    if found.room("burns") == 0.0:
        work.verdict("low_place", True, good=NOTHING)
        return
    sure = any(gas in BURNING for gas in burning)
    low = None if inputs.low_place is None or (inputs.low_place and not sure) else not inputs.low_place
    needs = ["low_place", *(["gas"] if not sure else []), *(() if found.settled or sure else ["others"])]
    work.verdict("low_place", low, needs=needs, good="No cellar, pit or stairs down for the gas to gather in.",
                 bad="The gas flows down and gathers there.",
                 instead="Only where its manual allows it. Else choose another place.")  # fmt: skip


# -- table ----------------------------------------------------------------------------


def _table(work: Work, found: Found) -> None:
    rows: list[tuple[str, ...]] = [
            (each.name if each.number in (None, 1) else f"{each.name}, {each.number} alike", work.text(each.charge, "small_mass", "up"),
             work.text(each.limits["burns"], "gas_density", "down"), work.text(each.limits["practical"], "gas_density", "down"),
             work.text(each.room("practical"), "volume", "up")) for each in found.sources if each.needs and each.charge]  # fmt: skip
    if rows:
        work.table("leaks", "Gas that burns in this room", {
            "what": "What", "charge": "Charge", "burns": "It burns from", "practical": "Practical limit", "room": "Room for a full leak"},
                   rows, note="All of them are added up, as if all leaked at once.", detail=True)  # fmt: skip

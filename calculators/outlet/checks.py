"""The checks: how it looks, how it is wired, its volts, what a load does to them, its protection."""

from __future__ import annotations

from ..core import Work
from . import maths, model
from .inputs import BUTTONS, METER, NEAR, SIGNS, Inputs
from .model import PAIRS, Found

Number = float | None

STOP = ("Stop. Plug nothing in, and keep others away. A licensed electrician must find the fault: tell them "
        "these readings.")  # fmt: skip
SUPPLY = "Stop. Do not plug the cabinet in. A licensed electrician or the power company must look at the supply."
CALL = "Do not plug the cabinet in before a licensed electrician has looked: tell them these readings."
AGAIN = "Read all of them again, one after the other. If they still differ: "
FAILED = "Not looked at: this outlet has failed already, and nothing more is to be read there."
FLOATS = "Volts between nothing and full: a wire may float. "
TURN = "The instrument sits the other way round here: turn its plug, and read neutral to ground again."
LARGER = "A larger test load that the outlet may carry would tell more."


def solve(inputs: Inputs, work: Work, found: Found) -> None:
    """All checks, the plainest danger first."""
    _looks(inputs, work)
    _wiring(work, found)
    _nearby(inputs, work)
    _agree(inputs, work, found)
    _volts(inputs, work, found)
    _neutral(inputs, work, found)
    _load(inputs, work)
    _button(inputs, work)
    if any(check.outcome == "stop" for check in work.checks):
        _ask_no_more(work)


def _ask_no_more(work: Work) -> None:
    """Nothing more is to be read at an outlet that has failed: a gap stays open and asks for nothing."""
    for check in work.checks:
        if check.outcome == "unknown":
            check.needs, check.text, check.note = (), FAILED, ""


def _looks(inputs: Inputs, work: Work) -> None:
    ok = None if inputs.signs is None else inputs.signs == "none"
    work.verdict("looks", ok, good="Whole, firm, cool, quiet, dry.", needs=("signs",),
                 bad=f"It is not as it should be: {SIGNS[inputs.signs or 'none'].lower()}.",
                 instead=f"Do not touch it. {STOP}")  # fmt: skip
    work.verdict("reader", model.usable(inputs), good="By an instrument that is plugged in, or by a licensed electrician.",
                 bad="Probes were put into the outlet by somebody else; those volts are not used.",
                 instead="Never put probes into an outlet. Use a plug-in instrument, or call a licensed electrician.")  # fmt: skip


def _wiring(work: Work, found: Found) -> None:
    lacking = tuple(f"lamp_{key}" for key, pair in found.pairs.items() if pair.seen is None)
    if found.reversible is None and model.RIGHT not in found.fitting:
        lacking += ("reversible",)
    names = [work.rules[name].label for name in found.fitting if name in work.rules.figures]
    fits = "; or: ".join(f"{name[0].lower()}{name[1:]}" for name in names)
    work.verdict("wiring", found.right, needs=lacking, instead=STOP,
                 good="It shows as right. Line and neutral lie the other way round, which is no fault where the plug goes "
                 "in both ways." if found.turned else "It shows as right.",
                 rules=found.fitting if found.right is False else (model.TURNABLE,) if found.turned else (),
                 bad=(FLOATS if found.floats else "") + (f"It is not right. What fits: {fits}." if fits else
                                                         "It is not right, and no usual fault fits."),
                 note="No such tester sees every fault: see the table.")  # fmt: skip


def _nearby(inputs: Inputs, work: Work) -> None:
    """What lamps show as right with a live ground; only a tester beside the ground can tell."""
    ok = None if inputs.nearby is None else inputs.nearby == "silent"
    work.verdict("nearby", ok, good="A non-contact tester stays silent there.", needs=("nearby",),
                 bad="The ground side is live.", instead=f"Touch nothing that is plugged in there. {STOP}")  # fmt: skip


def _agree(inputs: Inputs, work: Work, found: Found) -> None:
    torn = [PAIRS[key] for key, pair in found.pairs.items() if pair.torn]
    both = all(pair.lamp and pair.told for pair in found.pairs.values())
    work.verdict("agree", False if torn else True if both else None, good="Lamps and volts say the same.",
                 needs=tuple(f"{kind}_{key}" for kind in ("lamp", "volts") for key in PAIRS),
                 bad=f"Lamp and volts say different things: {', '.join(torn)}.", instead=AGAIN + STOP)  # fmt: skip
    volts = [pair.volts for pair in found.pairs.values() if pair.volts is not None]
    gap = maths.gap_of_sum(volts) if len(volts) == 3 else None
    work.check("sum", gap, 3 * METER, needs=volt_needs(), instead=AGAIN + CALL,
               note="The greatest of the three is the sum of the other two.")  # fmt: skip


def volt_needs() -> tuple[str, ...]:
    """The three readings without a load."""
    return tuple(f"volts_{key}" for key in PAIRS)


def _volts(inputs: Inputs, work: Work, found: Found) -> None:
    volts = inputs.volts_ln if model.usable(inputs) else None
    low = work.inner("outlet.volts_low")
    work.check("volts_low", volts, low, tolerance=METER, needs=("volts_ln",), instead=SUPPLY)
    _highest(inputs, work, found)


def _highest(inputs: Inputs, work: Work, found: Found) -> None:
    """The most that the line has to neutral or to ground: either is a stop, and one blank lets neither pass."""
    high = work.inner("outlet.volts_high")
    needs = ("volts_ln", "volts_ng" if found.sideways else "volts_lg")
    readings = [getattr(inputs, path) if model.usable(inputs) else None for path in needs]
    worst = max((volts for volts in readings if volts is not None), default=None)
    if None in readings and worst is not None and high is not None and worst <= high:
        worst = None  # the other may be the greater
    work.check("volts_high", worst, high, tolerance=METER, needs=needs, instead=SUPPLY)


def _neutral(inputs: Inputs, work: Work, found: Found) -> None:
    """The volts between neutral and ground, the greater of without and with a load: either may be too many.

    Too many of a kind that no held wire has, from ``dark_most`` on, are a stop: then a blank may hide one.
    """
    readings = [inputs.volts_ng, inputs.loaded_ng] if model.usable(inputs) and not found.sideways else [None, None]
    known = [volts for volts in readings if volts is not None]
    limit, held = work.inner("outlet.neutral_ground_most"), work.inner("outlet.dark_most")
    worst = max(known, default=None)
    loose = worst is not None and held is not None and worst > held
    if len(known) < len(readings) and not loose:
        worst = None  # the other reading may be the greater
    # A few volts are advice; so many that a wire may float are none.
    work.check("neutral_ground", worst, limit, tolerance=NEAR, needs=("reversible", "volts_ng", "loaded_ng") if found.sideways else
               ("volts_ng", "loaded_ng"),
               note=TURN if found.turned else "", soft=worst is not None and not loose,
               instead="The neutral may be open or badly joined. " + STOP if loose else
               "The neutral may be long, shared or badly joined. " + CALL)  # fmt: skip
    _apart(inputs, work, found)


def _apart(inputs: Inputs, work: Work, found: Found) -> None:
    """Neutral and ground joined at the outlet: then hardly any of the drop shows between them."""
    share, off = (None if found.turned else model.share(inputs)) or (None, 0.0)
    note = f"The fall is no larger than the meter’s error. {LARGER}" if model.tells(inputs) is False else ""
    work.check("apart", share, work.inner("outlet.neutral_share_least"), tolerance=off,
               note=TURN if found.turned else note, needs=("volts_ln", "loaded_ln", "volts_ng", "loaded_ng"),
               instead="Neutral and ground may be joined here, which lamps show as right. " + CALL)  # fmt: skip


# -- under load -----------------------------------------------------------------------


def _load(inputs: Inputs, work: Work) -> None:
    """The drop and the volts with the cabinet running, from the test load's fall."""
    fall, ready = model.fall(inputs), inputs.load_amps is not None and inputs.cabinet_amps is not None
    if fall is None or not ready or inputs.volts_ln <= METER:
        share = None
    else:
        share = inputs.cabinet_amps / inputs.load_amps
    _drop(inputs, work, fall, share)
    _full(inputs, work, fall)
    _running(inputs, work, fall, share)


NEEDS = ("volts_ln", "loaded_ln", "load_amps", "cabinet_amps")
FULL = "At the full current of an outlet"
LESS = "Only a smaller load may run there, until a licensed electrician has found where it is lost."


def _drop(inputs: Inputs, work: Work, fall: Number, share: Number) -> None:
    limit = work.inner("circuit.drop_total")
    drop, off, mend = None, 0.0, None
    if fall is not None and share is not None:
        per = 100 / inputs.volts_ln
        drop, off = per * max(fall, 0.0) * share, per * 2 * METER * share
        if limit is not None:
            most = limit / (per * (max(fall, 0.0) + 2 * METER)) * inputs.load_amps
            mend = work.mend("cabinet_amps", most, "at most", beyond=1e-6 * most, how=LESS)
    work.check("drop", drop, limit, tolerance=off, needs=NEEDS, mend=mend,
               instead="" if mend else f"{LARGER} {CALL}")  # fmt: skip


def _full(inputs: Inputs, work: Work, fall: Number) -> None:
    """What is lost for sure at the current of the smallest outlet there is: a small cabinet hides no bad joint."""
    rating = model.smallest_outlet(work.rules)
    lost = None
    if fall is not None and rating is not None and inputs.load_amps is not None and inputs.volts_ln > METER:
        lost = 100 * max(fall - 2 * METER, 0.0) / inputs.load_amps * rating / inputs.volts_ln
    work.check("drop", lost, work.inner("circuit.drop_total"), at=FULL, needs=NEEDS[:3], rules=("circuit.outlet_ratings",),
               instead=f"A joint may be bad, or the wire long or thin. {CALL}")  # fmt: skip


def _running(inputs: Inputs, work: Work, fall: Number, share: Number) -> None:
    low = work.inner("outlet.volts_low")
    volts, off, mend = None, 0.0, None
    if fall is not None and share is not None:
        volts, off = inputs.volts_ln - max(fall, 0.0) * share, METER + 2 * METER * share
        room = None if low is None else inputs.volts_ln - low - METER
        if room is not None and room > 0:
            most = room / (max(fall, 0.0) + 2 * METER) * inputs.load_amps
            mend = work.mend("cabinet_amps", most, "at most", beyond=1e-6 * most, how=LESS)
    work.check("running", volts, low, tolerance=off, needs=NEEDS, mend=mend,
               instead="" if mend else SUPPLY)  # fmt: skip


# -- protection -----------------------------------------------------------------------


def _button(inputs: Inputs, work: Work) -> None:
    ok = None if inputs.button is None else inputs.button == "trips"
    none = inputs.button == "none"
    instead = ("Ask the building’s licensed electrician where its protection is, and have it shown to you." if none
               else STOP)  # fmt: skip
    work.verdict("button", ok, good="It cut the power and came back.", soft=none, needs=("button",),
                 bad=f"{BUTTONS[inputs.button or 'none']}.", instead=instead,
                 note="Only the device’s own button counts; a tester’s button proves nothing where there is no ground.")  # fmt: skip

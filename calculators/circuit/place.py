"""Protection, leakage, the outlet's cover and the cord."""

from __future__ import annotations

from ..core import Work
from . import cord
from .currents import Circuit, Number, Thing, total
from .inputs import COVERS, LOCATIONS, Inputs

FIT = "Have a {electrician} fit {cutoff} protection, or use an outlet that has it."
COVER = "Use another outlet, or have a {electrician} fit a cover for such a place."
LEAD = ("Use no {lead}: set the cabinet where its own cord reaches, or have a {electrician} add an outlet.")
ASK = "Ask the {electrician} what the local rules want here."
WET = ("damp", "wet", "outdoors")


def solve(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """Every check of what protects people here; how many more the leakage allows comes back."""
    _protection(inputs, work)
    _cover(inputs, work)
    work.verdict(
        "extension", None if inputs.extension is None else not inputs.extension, needs=("extension",),
        good="The cabinet's own cord goes straight into the outlet.",
        bad="A cabinet that stays may not hang on one, nor on a power strip.",
        mend=work.mend("extension", False, how=LEAD),
    )  # fmt: skip
    cord.check(inputs, work, circuit)
    return _leakage(inputs, work, circuit)


def _protection(inputs: Inputs, work: Work) -> None:
    mend = work.mend("protection", True, how=FIT)
    most = work.inner("circuit.gfci_cabinet_most")
    above = most is not None and inputs.breaker is not None and float(inputs.breaker) > most
    work.verdict("gfci", True if above else _asked(work, "circuit.gfci_cabinet", inputs.protection),
                 needs=("protection",), mend=mend, note=_ask(work, "circuit.gfci_cabinet", inputs.protection),
                 good="The rule asks for it on smaller circuits only." if above else
                 "There is {cutoff} protection; press TEST and RESET before you plug in.",
                 bad="The cabinet wants {cutoff} protection here.")  # fmt: skip
    if inputs.location == "dry":
        work.verdict("gfci_place", True, good="A dry place asks for none of its own accord, but a kitchen "
                     "or a place near a sink does.")  # fmt: skip
        return
    needs = work.unknown("location", "protection")
    ok = None if needs else _asked(work, "circuit.gfci_place", inputs.protection)
    work.verdict("gfci_place", ok, needs=needs, mend=mend,
                 note="" if needs else _ask(work, "circuit.gfci_place", inputs.protection),
                 good="There is {cutoff} protection, as the place asks.",
                 bad="Outdoors and in damp or wet places such an outlet wants {cutoff} protection.")  # fmt: skip


def _asked(work: Work, key: str, here: bool | None) -> bool | None:
    """Protection that is there is enough; that it is lacking tells only where a rule asks for it."""
    return here if here or work.rules.get(key) is not None else None


def _ask(work: Work, key: str, here: bool | None) -> str:
    return ASK if here is False and work.rules.get(key) is None else ""


def _cover(inputs: Inputs, work: Work) -> None:
    if inputs.location == "dry":
        work.verdict("cover", True, good="A dry place asks for no cover.")
        return
    needs = work.unknown("location", "cover")
    rule = "circuit.cover_damp" if inputs.location == "damp" else "circuit.cover_wet"
    known = work.rules.get(rule) is not None
    enough = inputs.cover in (("closed", "in_use") if inputs.location == "damp" and known else ("in_use",))
    work.verdict("cover", None if needs or not (enough or known) else enough, needs=needs, rules=(rule,),
                 good="The cover suits the place.", bad="The outlet lets water in here.",
                 note="" if needs or enough or known else ASK,
                 mend=work.mend("cover", "in_use", how=COVER))  # fmt: skip


# -- what is asked for where ----------------------------------------------------------

ASKED = {
    "circuit.gfci_cabinet": ("dry", *WET), "circuit.gfci_place": WET, "circuit.cover_damp": ("damp",),
    "circuit.cover_wet": ("wet", "outdoors"), "circuit.weather_resistant": WET,
    "circuit.cord_wet": ("wet", "outdoors"), "circuit.cord": ("dry", *WET),
}  # fmt: skip


def table(inputs: Inputs, work: Work) -> None:
    """Everything the rules ask for at this place, or at each place where it is not known."""
    places = (inputs.location,) if inputs.location else tuple(LOCATIONS)
    rows = [(place, rule) for place in places for key, where in ASKED.items()
            if place in where and (rule := work.rule_of(key) if work.rules.get(key) else None)]  # fmt: skip
    work.table("Protection the rules ask for" + (" here" if inputs.location else ", by place"),
               ("Where", "Rule", "Asks for", "Here"),
               [(LOCATIONS[place].split(",")[0].split(":")[0], f"{rule.label}: {rule.citation}", str(rule.value),
                 _here(inputs, rule.key)) for place, rule in rows],
               "" if inputs.location else "Where the outlet is was not given; a wet place asks for more.",
               detail=True)  # fmt: skip


def _here(inputs: Inputs, key: str) -> str:
    words = {True: "Yes", False: "No", None: "Not known"}
    told = {
        "circuit.gfci_cabinet": words[inputs.protection], "circuit.gfci_place": words[inputs.protection],
        "circuit.weather_resistant": "Look at its face", "circuit.cord_wet": "Look along the cord",
        "circuit.cord": {True: "One is used", False: "None is used", None: "Not known"}[inputs.extension],
    }  # fmt: skip
    return told.get(key) or COVERS.get(inputs.cover, words[None])


# -- leakage --------------------------------------------------------------------------


def _leakage(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """Everything on one device; several small leaks add up until it trips for nothing."""
    work.section("Leakage on one {cutoff}")
    leak, missing = _own_leak(work) if inputs.protection_place == "own" else _all_leaks(work, circuit)
    holds = work.rule("Y_4", "circuit.gfci_holds")
    trips = work.rule("Y_6", "circuit.gfci_trips")
    over = leak is not None and holds is not None and leak > holds * (1 + 1e-9)
    soft = leak is not None and trips is not None and leak < trips
    work.check("leakage", leak if over or not missing else None, holds, soft=soft,
               needs=("cabinet_leakage", *missing),
               note="It may trip with nothing wrong, and food spoils. Have a technician look at what leaks; "
               "never do away with the {cutoff}.")  # fmt: skip
    work.value("leakage", None if missing else leak)
    shared = inputs.protection_place == "shared"
    return _more(work, inputs, leak if shared and not missing else None)


def _own_leak(work: Work) -> tuple[Number, tuple[str, ...]]:
    work.take("cabinet_leakage")
    return work.step("Y", "Leakage on the cabinet's own {cutoff}", "y", "leakage"), ()


def _all_leaks(work: Work, circuit: Circuit) -> tuple[Number, tuple[str, ...]]:
    for each in circuit.things:
        _one(work, each)
    leak = work.step("Y", "Leakage of all together", total(circuit.things, "{n}*{y}"), "leakage",
                     note="Added up at worst: they may also cancel in part.")  # fmt: skip
    missing = tuple(path for path in circuit.lacking if path in ("loads_listed", "dedicated"))
    blank = tuple(f"{each.path}.leakage" for each in circuit.things[1:]
                  if each.leakage is None and work.rules.get(_allowed(each)) is None)  # fmt: skip
    return leak, missing + blank


def _allowed(thing: Thing) -> str:
    return "circuit.leak_plugged" if thing.plugged else "circuit.leak_fixed"


def _one(work: Work, thing: Thing) -> None:
    if not thing.mark:
        work.take("cabinet_leakage")
        return
    symbol = thing.sym("y")
    if thing.leakage is not None:
        work.take(f"{thing.path}.leakage", symbol, f"{thing.place}: leakage")
    else:
        work.rule(symbol, _allowed(thing))
    if thing.amps is None:
        work.take(f"{thing.path}.count", thing.sym("n"), f"{thing.place}: how many")


def _more(work: Work, inputs: Inputs, leak: Number) -> Number:
    # A leak too small to print would go a boundless number of times into what is left.
    few = leak is None or (inputs.cabinet_leakage or 0.0) < 0.001
    return None if few else work.step(
        "N_y", "More of this cabinet, by leakage", "floor(max(0, Y_4 - Y)/y + 0.000001)", "count")  # fmt: skip

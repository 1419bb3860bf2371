"""Protection, leakage, the outlet's cover and the cord."""

from __future__ import annotations

from ..core import Work
from .currents import Circuit, Number, Thing, three_phase, total
from .inputs import CORDS, COVERS, Inputs

GFCI = "Have a licensed electrician fit GFCI protection, or use an outlet that has it."
COVER = "Use another outlet, or have a licensed electrician fit a cover for such a place."
CORD = ("Use no extension cord: set the cabinet where its own cord reaches, or have a licensed "
        "electrician add an outlet.")  # fmt: skip


OWN_CORD = ("Have a licensed electrician or the maker's service fit the cord that the cabinet's paper "
            "asks for.")  # fmt: skip
NO_CORD = "Do not plug it in: a cord that carries too much gets hot. Ask the cabinet's maker."


def solve(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """Every check of what protects people here."""
    _protection(inputs, work)
    _cover(inputs, work)
    work.verdict(
        "extension", None if inputs.extension is None else not inputs.extension, needs=("extension",),
        good="The cabinet's own cord goes straight into the outlet.",
        bad="A cabinet that stays may not hang on an extension cord or power strip.",
        mend=work.mend("extension", False, how=CORD),
    )  # fmt: skip
    _cord(inputs, work, circuit)
    _leakage(inputs, work, circuit)


def _protection(inputs: Inputs, work: Work) -> None:
    mend = work.mend("protection", True, how=GFCI)
    work.verdict("gfci", inputs.protection, needs=("protection",), mend=mend,
                 good="There is GFCI protection; press TEST and RESET before you plug in.",
                 bad="A vending machine wants GFCI protection wherever it stands.")  # fmt: skip
    if inputs.location == "dry":
        work.verdict("gfci_place", True, good="A dry place asks for none of its own accord, but a kitchen "
                     "or a place near a sink does.")  # fmt: skip
        return
    needs = work.unknown("location", "protection")
    work.verdict("gfci_place", None if needs else inputs.protection, needs=needs, mend=mend,
                 good="There is GFCI protection, as the place asks.",
                 bad="Outdoors and in damp or wet places every such receptacle wants GFCI protection.")  # fmt: skip


def _cover(inputs: Inputs, work: Work) -> None:
    if inputs.location == "dry":
        work.verdict("cover", True, good="A dry place asks for no cover.")
        return
    needs = work.unknown("location", "cover")
    enough = ("closed", "in_use") if inputs.location == "damp" else ("in_use",)
    rule = "circuit.cover_damp" if inputs.location == "damp" else "circuit.cover_wet"
    work.verdict("cover", None if needs else inputs.cover in enough, needs=needs, rules=(rule,),
                 good="The cover suits the place.", bad="The outlet lets water in here.",
                 mend=work.mend("cover", "in_use", how=COVER))  # fmt: skip


def table(inputs: Inputs, work: Work) -> None:
    """Everything the rules ask for at this place, with what is known of it here."""
    here = {True: "Yes", False: "No", None: "Not known"}
    rows = [("circuit.gfci_cabinet", here[inputs.protection])]
    if inputs.location not in (None, "dry"):
        damp = inputs.location == "damp"
        rows += [("circuit.gfci_place", here[inputs.protection]),
                 ("circuit.cover_damp" if damp else "circuit.cover_wet",
                  COVERS.get(inputs.cover, here[None])),
                 ("circuit.weather_resistant", "Look at its face")]  # fmt: skip
        rows += [] if damp else [("circuit.cord_wet", "Look along the cord")]
    rules = [(work.rule_of(key), word) for key, word in rows]
    work.table("Protection the rules ask for here", ("Rule", "Asks for", "Here"),
               [(f"{rule.label}: {rule.citation}", str(rule.value), word) for rule, word in rules if rule],
               "" if inputs.location else "Where the outlet is was not given; a wet place asks for more.",
               detail=True)  # fmt: skip


def _cord(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """The cabinet's own cord against its table, where the size is read off it."""
    if inputs.cord_gauge is None:
        return
    wires = "three" if three_phase(inputs) else "two"
    key = f"conductors.cord_{wires}_{inputs.cord_gauge}"
    fit = next((size for size in CORDS if _carries(work, wires, size) >= (circuit.cabinet.amps or 0.0)), None)
    work.check("cord", circuit.cabinet.amps, work.inner(key), needs=circuit.wanted, rules=(key,),
               mend=work.mend("cord_gauge", fit, how=OWN_CORD), note=NO_CORD)  # fmt: skip


def _carries(work: Work, wires: str, size: str) -> float:
    rule = work.rules.get(f"conductors.cord_{wires}_{size}")
    return 0.0 if rule is None else rule.inner


# -- leakage --------------------------------------------------------------------------


def _leakage(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """Everything on one GFCI; several small leaks add up until it trips for nothing."""
    work.section("Leakage on one GFCI")
    leak, missing = _own_leak(work) if inputs.protection_place == "own" else _all_leaks(work, circuit)
    holds = work.rule("Y_4", "circuit.gfci_holds")
    trips = work.rule("Y_6", "circuit.gfci_trips")
    over = leak is not None and holds is not None and leak > holds * (1 + 1e-9)
    soft = leak is not None and trips is not None and leak < trips
    work.check("leakage", leak if over or not missing else None, holds, soft=soft,
               needs=("cabinet_leakage", *missing),
               note="It may trip with nothing wrong, and food spoils. Have a technician look at what leaks; "
               "never do away with the GFCI.")  # fmt: skip
    work.value("leakage", None if missing else leak)
    shared = inputs.protection_place == "shared"
    _more(work, inputs, leak if shared and not missing else None)


def _own_leak(work: Work) -> tuple[Number, tuple[str, ...]]:
    work.take("cabinet_leakage")
    return work.step("Y", "Leakage on the cabinet's own GFCI", "y", "leakage"), ()


def _all_leaks(work: Work, circuit: Circuit) -> tuple[Number, tuple[str, ...]]:
    for each in circuit.things:
        _one(work, each)
    leak = work.step("Y", "Leakage of all together", total(circuit.things, "{n}*{y}"), "leakage",
                     note="Added up at worst: they may also cancel in part.")  # fmt: skip
    return leak, tuple(path for path in circuit.lacking if path in ("loads_listed", "dedicated"))


def _one(work: Work, thing: Thing) -> None:
    if not thing.mark:
        work.take("cabinet_leakage")
        return
    symbol = thing.sym("y")
    if thing.leakage is not None:
        work.take(f"{thing.path}.leakage", symbol, f"{thing.place}: leakage")
    else:
        work.rule(symbol, "circuit.leak_plugged" if thing.plugged else "circuit.leak_fixed")
    if thing.amps is None:
        work.take(f"{thing.path}.count", thing.sym("n"), f"{thing.place}: how many")


def _more(work: Work, inputs: Inputs, leak: Number) -> None:
    # A leak too small to print would go a boundless number of times into what is left.
    if leak is None or (inputs.cabinet_leakage or 0.0) < 0.001:
        work.value("more_leakage", None)
        return
    work.value("more_leakage", work.step(
        "N_y", "More of this cabinet, by leakage", "floor(max(0, Y_4 - Y)/y + 0.000001)", "count"))  # fmt: skip

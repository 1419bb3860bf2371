"""Protection, leakage, the outlet's cover and the cord."""

from __future__ import annotations

from ..core import Work
from .currents import Circuit, Number, Thing, total
from .inputs import Inputs

GFCI = "Have a licensed electrician fit GFCI protection, or use an outlet that has it."
COVER = "Use another outlet, or have a licensed electrician fit a cover for such a place."
CORD = ("Use no extension cord: set the cabinet where its own cord reaches, or have a licensed "
        "electrician add an outlet.")  # fmt: skip


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


# -- leakage --------------------------------------------------------------------------


def _leakage(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """Everything on one GFCI; several small leaks add up until it trips for nothing."""
    work.section("Leakage on one GFCI")
    for each in circuit.things:
        _one(work, each)
    leak = work.step("Y", "Leakage of all together", total(circuit.things, "{n}*{y}"), "leakage",
                     note="Added up at worst: they may also cancel in part.")  # fmt: skip
    holds = work.rule("Y_4", "circuit.gfci_holds")
    trips = work.rule("Y_6", "circuit.gfci_trips")
    missing = tuple(path for path in circuit.lacking if path in ("loads_listed", "dedicated"))
    over = leak is not None and holds is not None and leak > holds * (1 + 1e-9)
    soft = leak is not None and trips is not None and leak < trips
    work.check("leakage", leak if over or not missing else None, holds, soft=soft,
               needs=("cabinet_leakage", *missing),
               note="It may trip with nothing wrong, and food spoils. Have a technician look at what leaks; "
               "never do away with the GFCI.")  # fmt: skip
    work.value("leakage", None if missing else leak)
    _more(work, inputs, None if missing else leak)


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
    if leak is None or not inputs.cabinet_leakage:
        work.value("more_leakage", None)
        return
    work.value("more_leakage", work.step(
        "N_y", "More of this cabinet, by leakage", "floor(max(0, Y_4 - Y)/y)", "count"))  # fmt: skip

"""Protection of the outlet and of the cabinet, leakage, weather, cover and cords."""

from __future__ import annotations

from ..core import Work
from . import cord
from .currents import Circuit, Number, Thing, total
from .inputs import COVERS, LOCATIONS, SOAKED, WEATHER, Inputs

FIT = "Have a {electrician} fit {cutoff} protection, or use an outlet that has it."
COVER = "Use another outlet, or have a {electrician} fit a cover for such a place."
LEAD = ("Use no {lead}: set the cabinet where its own cord reaches, or have a {electrician} add an outlet.")
ASK = "Ask the {electrician} what the local rules require here."
REACH = "Set the cabinet where both buttons can be reached, or have a {electrician} move the {cutoff}."
OWN = " The one in the cabinet's own plug or cord protects only what is behind it."
WEATHERED = "Use another {outlet}, or have a {electrician} fit one made for such a place."
CORDED = "Set the cabinet under cover, or have the maker's service fit a cord made for outdoors."


def solve(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """Every check of what protects people here; how many more the leakage allows comes back."""
    _protection(inputs, work)
    _reach(inputs, work)
    _cover(inputs, work)
    _weather(inputs, work)
    work.verdict(
        "extension", None if inputs.extension is None else not inputs.extension, needs=("extension",),
        good="The cabinet's own cord goes straight into the outlet.",
        bad="A cabinet that stays may not hang on one, nor on a power strip.",
        mend=work.mend("extension", False, how=LEAD),
    )  # fmt: skip
    cord.check(inputs, work, circuit)
    return _leakage(inputs, work, circuit)


def _either(*states: bool | None) -> bool | None:
    """Whether one of them is true; None while that may still be."""
    if any(states):
        return True
    return None if None in states else False


def own_device(inputs: Inputs) -> bool:
    """Whether each cabinet hangs on a device of its own and on none that all share."""
    return inputs.protection is False and inputs.cabinet_protection is True


def _protection(inputs: Inputs, work: Work) -> None:
    """What the rules ask for the cabinet, and for the outlet of such a place."""
    mend = work.mend("protection", True, how=FIT)
    own = " " + OWN.strip() if inputs.cabinet_protection else ""
    for_cabinet = _counts(work)
    here = _either(inputs.protection, inputs.cabinet_protection) if for_cabinet else inputs.protection
    above = _above(inputs, work)
    work.verdict("gfci", True if above else _asked(work, "circuit.gfci_cabinet", here), mend=mend,
                 needs=("protection", *(("cabinet_protection",) if for_cabinet else ())),
                 note=_ask(work, "circuit.gfci_cabinet", here), rules=_counting(work),
                 good="The rule asks for it on smaller circuits only." if above else
                 "There is {cutoff} protection; press TEST and RESET before you plug in.",
                 bad="{cutoff} protection is required here." + ("" if for_cabinet else own))  # fmt: skip
    if inputs.location == "dry":
        work.verdict("gfci_place", True, good="A dry place asks for none of its own accord, but a kitchen "
                     "or a place near a sink does.")  # fmt: skip
        return
    needs = work.unknown("location", "protection")
    ok = None if needs else _asked(work, "circuit.gfci_place", inputs.protection)
    work.verdict("gfci_place", ok, needs=needs, mend=mend,
                 note="" if needs else _ask(work, "circuit.gfci_place", inputs.protection),
                 good="There is {cutoff} protection of the {outlet}, as the place asks.",
                 bad="Outdoors and in damp or wet places {cutoff} protection of the {outlet} is required." + own)  # fmt: skip


def _counts(work: Work) -> bool:
    """Whether a device in the cabinet's own plug or cord is enough for the cabinet: by the rule, or for want of one."""
    return work.rules.get("circuit.gfci_cabinet") is None or bool(_counting(work))


def _counting(work: Work) -> tuple[str, ...]:
    return ("circuit.gfci_cabinet_cord",) if work.rules.get("circuit.gfci_cabinet_cord") else ()


def _above(inputs: Inputs, work: Work) -> bool:
    """Whether breaker and outlet both lie above all for which the rule asks."""
    most = work.inner("circuit.gfci_cabinet_most")
    if most is None or inputs.breaker is None or inputs.receptacle_rating is None:
        return False
    return min(float(inputs.breaker), float(inputs.receptacle_rating)) > most


def _reach(inputs: Inputs, work: Work) -> None:
    """A device behind the cabinet is neither tested nor reset; none at all is no better."""
    device = _either(inputs.protection, inputs.cabinet_protection)
    reach = inputs.protection_reach
    ok = False if False in (device, reach) else None if None in (device, reach) else True
    needs = ("protection_reach", *(("protection", "cabinet_protection") if device is None else ()))
    fit = None if device else work.mend("protection", True, how=FIT)
    move = None if reach else work.mend("protection_reach", True, how=REACH)
    work.verdict("gfci_reach", ok, needs=needs, soft=_practice(work, "circuit.gfci_reach"),
                 mend=work.mends(*(each for each in (fit, move) if each)),
                 good="Its buttons can be reached with the cabinet in its place.",
                 bad="There is none that could be tested and reset." if device is False else
                 "Its buttons cannot be reached with the cabinet in its place.")  # fmt: skip


def _practice(work: Work, key: str) -> bool:
    """Whether a figure is what the trade does and not a rule: then a miss is a caution."""
    figure = work.rules.get(key)
    return figure is None or figure.status == "common practice"


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


def _weather(inputs: Inputs, work: Work) -> None:
    """The outlet's own make, and the cord's, where water or weather reaches them."""
    for key, rule, where, path, how, good, bad in (
        ("weather", "circuit.weather_resistant", WEATHER, "weather_rated", WEATHERED,
         "The {outlet} is marked for weather.", "The {outlet} is not made for such a place."),
        ("cord_weather", "circuit.cord_wet", SOAKED, "cord_weather", CORDED,
         "The cord is made for outdoors.", "The cabinet's cord is not made for such a place."),
    ):  # fmt: skip
        if inputs.location is not None and inputs.location not in where:
            work.verdict(key, True, good="Such a place asks for nothing more.")
            continue
        needs = work.unknown("location", path)
        work.verdict(key, None if needs else _asked(work, rule, getattr(inputs, path)), needs=needs, rules=(rule,),
                     soft=_practice(work, rule), good=good, bad=bad, note=_ask(work, rule, getattr(inputs, path)),
                     mend=work.mend(path, True, how=how))  # fmt: skip


# -- what is asked for where ----------------------------------------------------------

ASKED = {
    "circuit.gfci_cabinet": ("dry", *WEATHER), "circuit.gfci_place": WEATHER, "circuit.gfci_reach": ("dry", *WEATHER),
    "circuit.cover_damp": ("damp",), "circuit.cover_wet": SOAKED, "circuit.weather_resistant": WEATHER,
    "circuit.cord_wet": SOAKED, "circuit.cord": ("dry", *WEATHER),
}  # fmt: skip


def table(inputs: Inputs, work: Work) -> None:
    """Everything the rules ask for at this place, or at each place where it is not known."""
    places = (inputs.location,) if inputs.location else tuple(LOCATIONS)
    rows = [(place, rule) for place in places for key, where in ASKED.items()
            if place in where and (rule := work.rule_of(key) if work.rules.get(key) else None)]  # fmt: skip
    work.table("protection", "Protection the rules ask for" + (" here" if inputs.location else ", by place"),
               {"where": "Where", "rule": "Rule", "asks": "Asks for", "here": "Here"},
               [(LOCATIONS[place].split(",")[0].split(":")[0], f"{rule.label}: {rule.citation}", str(rule.value),
                 _here(inputs, rule.key)) for place, rule in rows],
               "" if inputs.location else "Where the outlet is was not given; a wet place asks for more.",
               detail=True)  # fmt: skip


def _here(inputs: Inputs, key: str) -> str:
    words = {True: "Yes", False: "No", None: "Not known"}
    told = {
        "circuit.gfci_cabinet": words[_either(inputs.protection, inputs.cabinet_protection)],
        "circuit.gfci_place": words[inputs.protection], "circuit.gfci_reach": words[inputs.protection_reach],
        "circuit.weather_resistant": words[inputs.weather_rated], "circuit.cord_wet": words[inputs.cord_weather],
        "circuit.cord": {True: "One is used", False: "None is used", None: "Not known"}[inputs.extension],
    }  # fmt: skip
    return told.get(key) or COVERS.get(inputs.cover, words[None])


# -- leakage --------------------------------------------------------------------------


def _leakage(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """Everything on one device; several small leaks add up until it trips for nothing."""
    work.section("Leakage on one {cutoff}")
    leak, missing = _own_leak(work) if own_device(inputs) else _all_leaks(work, circuit)
    holds = work.rule("Y_4", "circuit.gfci_holds")
    trips = work.rule("Y_6", "circuit.gfci_trips")
    over = leak is not None and holds is not None and leak > holds * (1 + 1e-9)
    soft = leak is not None and trips is not None and leak < trips
    work.check("leakage", leak if over or not missing else None, holds, soft=soft,
               needs=("cabinet_leakage", *missing),
               note="It may trip with nothing wrong, and food spoils. Have a technician look at what leaks; "
               "never do away with the {cutoff}.")  # fmt: skip
    work.value("leakage", None if missing else leak)
    return _more(work, inputs, None if own_device(inputs) or missing else leak)


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

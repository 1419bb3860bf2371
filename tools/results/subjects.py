"""What drills are about: the real requests of an operator's sites, lanes, cabinets and outlets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from calculators.core.units import Units
from tools.book import derive
from tools.book.data import OperatorData
from tools.book.tables import Row

from . import coils, siteplan

OF_SITES = ("clearance", "circuit", "float")
OF_TRAY = ("lane_width", "height_above", "strip_height", "rail_height", "drop_height")
LEVEL = {"readings": [{"high": "none_across", "bubble": "middle"}, {"high": "none_along", "bubble": "middle"}], "rocks": "no"}
SOUND = {"lamp_ln": "lit", "lamp_lg": "lit", "lamp_ng": "dark", "volts_ng": "0.4", "loaded_ng": "1.6", "signs": "none",
         "nearby": "silent", "button": "trips", "reader": "plug"}  # fmt: skip
FREE = {"outdoors": "no", "anchored": "no", "rough_use": "no", "lean_along": "0", "lean_across": "0"}
LOAD = {"us": 12, "si": 9}  # amperes of a kettle
HANDS = {"us": ("14 in", "32 in", "34 in"), "si": ("350 mm", "800 mm", "850 mm")}  # out, up, and up at the end
FOOD = {"now": "2026-11-28 10:15", "put_in": "2026-11-28 08:00", "measured": "food", "pack_names": "no", "shutoff": "quiet",
        "plan": "none"}  # fmt: skip
LOTS = [{"name": "Egg sandwiches", "dated": "kitchen", "made": "2026-11-27"},
        {"name": "Yogurt", "dated": "pack", "date": "2026-12-09", "date_kind": "use_by"}]  # fmt: skip
WHEN = ("08:00", "08:30", "09:00", "09:30", "10:00")
DEGREES = {"us": ("35 °F", "36 °F", "35 °F", "34 °F", "35 °F"), "si": ("2 °C", "2.5 °C", "2 °C", "1.5 °C", "2 °C")}
DROP = 3  # volts that a sound outlet falls by under it
# A bag as it was counted: what the counters said then, and both counts, which agree.
BAG = {"cash_in_last": "9310.00", "paid_out_last": "3120.00", "paid_out_now": "3172.50", "tubes_last": "61.00", "tubes_now": "74.25",
       "filled": "20.00", "emptied": "0.00", "counted_by": "First person", "checked_by": "Second person", "cards": "now"}  # fmt: skip
CAME = 24_000  # cents that came in at the first site, and by how much more at each further one
MORE, MUST, CARDS = 1_375, 19_425, 31_200  # what its bag must hold, and its card sales
SHORT = (0, -50, 125, -275, 25)  # cents by which a count was off, in turn


@dataclass(frozen=True)
class Subject:
    """A real request: whose (a site, a lane, a cabinet), its inputs, and what of them is on no sheet."""

    calculator: str
    name: str
    inputs: dict[str, Any]
    told: str = ""


Maker = Callable[[], Subject | None]


def makers(data: OperatorData) -> dict[str, list[Maker]]:
    """By calculator, what gives each request when it is asked for: a thousand sites are not all read for forty drills."""
    sites = data.tables["sites"]
    found: dict[str, list[Maker]] = {name: [partial(_site, data, name, site) for site in sites] for name in OF_SITES}
    found["outlet"] = [partial(_outlet, data, site) for site in sites]
    found["restock"] = [partial(_restock, data, site) for site in sites]
    found["energy"] = [partial(_energy, data, site) for site in sites]
    found["plan"] = [partial(_site, data, "plan", site) for site in _different(data)]
    found["spiral"] = [partial(_lane, data, machine, lane) for machine, lane in _lanes(data)]
    found["handling"] = [*(partial(_rolled, data, site) for site in sites),
                         *(partial(_lifted, data, machine, case) for machine in data.tables["machines"]
                           for case in derive.cases(data, machine.typed["key"]))]  # fmt: skip
    found["standing"] = [partial(_standing, data, site) for site in sites]
    found["cash"] = [partial(_cash, data, number, site) for number, site in enumerate(sites)]
    found["level"] = [partial(_level, data, machine) for machine in data.tables["machines"]]
    found["cold"] = [partial(_cold, data, machine) for machine in data.tables["machines"] if machine.typed.get("cooling") == "chilled"]
    return found


def _site(data: OperatorData, name: str, site: Row) -> Subject:
    key = site.typed["key"]
    inputs = siteplan.question(data, key).request["inputs"] if name == "plan" else data.prefill(name, {"site": key})
    return Subject(name, site.typed["name"], inputs)


def _different(data: OperatorData) -> list[Row]:
    """The first site of each plan."""
    found: dict[int, Row] = {}
    for site in data.tables["sites"]:
        found.setdefault(id(siteplan.make(data, site.typed["key"])), site)
    return list(found.values())


def _lanes(data: OperatorData) -> list[tuple[Row, siteplan.Lane]]:
    """A lane for each product and coil of each cabinet's plans."""
    found: dict[tuple[str, str, str], tuple[Row, siteplan.Lane]] = {}
    for site in _different(data):
        for lane in siteplan.make(data, site.typed["key"]).filled:
            if lane.product and lane.coil:
                key = site.typed["machine"], lane.product.typed["key"], lane.coil.typed["key"]
                found.setdefault(key, (data.row("machines", key[0]), lane))
    return list(found.values())


def _lane(data: OperatorData, machine: Row, lane: siteplan.Lane) -> Subject | None:
    """A product in its coil and tray, as the plan has it."""
    if not lane.product or not lane.coil:
        return None
    inputs = data.prefill("spiral", {"machine": machine.typed["key"], "product": lane.product.typed["key"]})
    inputs.pop("coils", None)
    tray = {key: lane.tray.typed[key] for key in OF_TRAY if key in lane.tray.typed}
    what = f"{lane.product.typed['name']} in the {lane.coil.typed['name'].lower()}"
    name = f"{what}, {lane.tray.typed['name'].lower()} of the {machine.typed['name']}"
    return Subject("spiral", name, {**inputs, **tray, **coils.coil_of(lane.coil)})


def _rolled(data: OperatorData, site: Row) -> Subject:
    """A site's cabinet on its gear, along its own way."""
    inputs = data.prefill("handling", {"site": site.typed["key"]})
    return Subject("handling", f"Rolled in at {site.typed['name']}", {**inputs, "lifts": [], "job": "roll"})


def _lifted(data: OperatorData, machine: Row, case: dict[str, str]) -> Subject:
    """A case for a cabinet, lifted as well as it can be."""
    out, up, up_to = HANDS[data.units]
    lift = {**case, "grip": "fair", "count": "6", "reach": out, "height": up, "twist": "0", "height_to": up_to, "control": "no"}
    told = (f"One person lifts {case['mass']} six times in 15 minutes, up to an hour in all: hands {out} out, from {up} to {up_to} up, "
            "straight ahead, a fair grip, let go at the end.")  # fmt: skip
    return Subject("handling", f"{case['name']}, for the {machine.typed['name']}",
                   {"job": "lift", "duration": "short", "how": "plain", "lifts": [lift]}, told)  # fmt: skip


def _level(data: OperatorData, machine: Row) -> Subject:
    """A cabinet that stands level, its legs halfway out."""
    inputs = {**data.prefill("level", {"machine": machine.typed["key"]}), **LEVEL}
    least, most = (machine.values.get(key) for key in ("thread_least", "thread_most"))
    if least is None or most is None:
        return Subject("level", machine.typed["name"], inputs)
    inputs["thread_out"] = Units(data.units).text((least + most) / 2, "length")
    told = f"It stood level both ways, {inputs['thread_out']} of thread showing at each leg."
    return Subject("level", machine.typed["name"], inputs, told)


def _restock(data: OperatorData, site: Row) -> Subject | None:
    """A cabinet that the last visit filled up."""
    inputs = data.prefill("restock", {"site": site.typed["key"]})
    if not inputs.get("days") or not inputs["selections"]:
        return None
    told = f"The last visit filled it up, with fresh packs. It is visited every {inputs['days']} days."
    return Subject("restock", site.typed["name"], inputs, told)


def _energy(data: OperatorData, site: Row) -> Subject:
    """A cabinet in its room, with the energy that its plate tells."""
    inputs = data.prefill("energy", {"site": site.typed["key"]})
    return Subject("energy", f"Room at {site.typed['name']}", inputs, "Its energy is from the plate.")


def _standing(data: OperatorData, site: Row) -> Subject:
    """A site's cabinet as if it stood level and free, indoors."""
    inputs = {**data.prefill("standing", {"machine": site.typed["machine"]}), **FREE}
    return Subject("standing", f"Cabinet at {site.typed['name']}", inputs,
                   "It stands level and free, indoors, where nobody shakes it.")  # fmt: skip


def _outlet(data: OperatorData, site: Row) -> Subject | None:
    """An outlet that was found sound, with the site's own voltage."""
    idle = site.values.get("volts_idle")
    if idle is None:
        return None
    load = LOAD[data.units]
    inputs = {**data.prefill("outlet", {"machine": site.typed["machine"]}), **SOUND, "volts_ln": f"{idle:g}",
              "volts_lg": f"{idle:g}", "loaded_ln": f"{idle - DROP:g}", "load_amps": str(load)}  # fmt: skip
    told = (f"At the last visit: {idle:g} V line to neutral and line to ground, 0.4 V neutral to ground; with {load} A running "
            f"{idle - DROP:g} V and 1.6 V.")  # fmt: skip
    return Subject("outlet", f"Outlet at {site.typed['name']}", inputs, told)


def _cold(data: OperatorData, machine: Row) -> Subject:
    """A cabinet whose food was cold at every reading since it was filled."""
    degrees = DEGREES[data.units]
    readings = [{"at": f"2026-11-28 {when}", "degrees": each} for when, each in zip(WHEN, degrees, strict=True)]
    inputs = {**data.prefill("cold", {"machine": machine.typed["key"]}), **FOOD, "loaded": degrees[0], "readings": readings,
              "lots": [dict(lot) for lot in LOTS]}  # fmt: skip
    told = (f"Filled at 08:00, now 10:15. Food read each half hour from then: {', '.join(degrees)}. No shutoff tripped, no time plan. "
            "Egg sandwiches made yesterday, November 27; yogurt, use by December 9.")  # fmt: skip
    return Subject("cold", f"Cold food in the {machine.typed['name']}", inputs, told)


def _cash(data: OperatorData, number: int, site: Row) -> Subject:
    """A bag that was counted twice and nearly matched; each site took in a little more than the one before."""
    show = Units(data.units, rules=data.rules)
    more = MORE * number
    counted, cards = MUST + more + SHORT[number % len(SHORT)], CARDS + more
    typed = {"cash_in_now": 931_000 + CAME + more, "other": counted, "second": counted, "cards_counted": cards, "cards_report": cards}
    inputs = {**BAG, **data.prefill("cash", {"site": site.typed["key"]}), **{key: _amount(cents) for key, cents in typed.items()}}
    said = {key: show.text(float(cents), "money") for key, cents in typed.items()}
    told = (f"Cash in since: {show.text(float(CAME + more), 'money')}. Counted by both: {said['other']}. "
            f"Cards, by counters and report: {said['cards_report']}.")  # fmt: skip
    return Subject("cash", f"Bag from {site.typed['name']}", inputs, told)


def _amount(cents: int) -> str:
    return f"{cents // 100}.{cents % 100:02d}"

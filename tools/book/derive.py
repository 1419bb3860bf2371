"""What follows from the data: a calculator's row-inputs, and what a form can be filled from."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Mapping, Sequence
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from calculators.core.units import Units
from calculators.plan.setup import bearers

from . import fits, planned, stocked
from .tables import Row, row_fields

if TYPE_CHECKING:
    from .data import OperatorData

# Which tables a calculator's form offers, first the one people think of first.
PRESETS = {"clearance": ("sites", "machines"), "circuit": ("sites", "machines"),
           "float": ("sites", "machines"), "plan": ("sites", "machines"), "level": ("machines",),
           "outlet": ("machines",), "handling": ("sites", "machines"), "standing": ("sites", "machines"),
           "cold": ("machines",), "restock": ("sites",), "cash": ("sites", "machines"), "energy": ("sites", "machines")}  # fmt: skip


def presets(data: OperatorData, calculator: str) -> list[tuple[str, str, dict[str, str]]]:
    """What a form can be filled from, as (key, name, rows); a product, in each cabinet that sells it."""
    if calculator == "spiral":
        return _products(data)
    return [
        (row.typed.get("key", ""), row.typed.get("name", ""), {table.rstrip("s"): row.typed.get("key", "")})
        for table in PRESETS.get(calculator, ()) for row in data.tables[table]
    ]  # fmt: skip


def _products(data: OperatorData) -> list[tuple[str, str, dict[str, str]]]:
    found = []
    for machine in data.tables["machines"]:
        for row in data.sold_in("products", machine.typed["key"]):
            mark = fits.corrected(data, row.typed["key"])
            name = f"{row.typed['name']}, {machine.typed['name']}" + (f" ({mark})" if mark else "")
            rows = {"product": row.typed["key"], "machine": machine.typed["key"]}
            found.append((" ".join(rows.values()), name, rows))
    return found


def rows(data: OperatorData, calculator: str, named: Mapping[str, Row]) -> dict[str, Any]:
    """The row-inputs of a calculator: a site's route, a machine's coin tubes …"""
    make = _MAKERS.get(calculator)
    return {} if make is None else make(data, {name: row.typed["key"] for name, row in named.items()})


def _listed(data: OperatorData, table: str, path: str, column: str, key: str) -> list[Any]:
    """The rows of a table that belong to ``key``, only the columns the row-input knows."""
    return _known(data.of(table, column, key), path)


def _known(found: list[Row], path: str) -> list[Any]:
    known = {each.key for each in row_fields(path)}
    return [{name: cell for name, cell in row.typed.items() if name in known} for row in found]


def _clearance(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    if "site" not in keys:
        return {}
    return {"route": _listed(data, "routes", "clearance.route", "site", keys["site"])}


def _circuit(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    if "site" not in keys:
        return {}
    return {"loads": _listed(data, "loads", "circuit.loads", "site", keys["site"])}


def _cash(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    """A cabinet that has no card reader takes no cards."""
    reader = data.row("machines", keys["machine"]).typed.get("card_reader") if "machine" in keys else None
    return {"cards": "none"} if reader == "no" else {}


def _energy(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    """Where the table holds the plate's energy, it is the plate's that is counted until a reader has metered it."""
    known = "machine" in keys and "plate_daily" in data.row("machines", keys["machine"]).typed
    return {"source": "plate"} if known else {}


def _spiral(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    owned = planned.owned(data, "coils", keys.get("machine"))
    rows = _known(owned, "spiral.coils")
    if "product" in keys and "machine" in keys:
        for row, coil in zip(rows, owned, strict=True):
            tests = fits.tried(data, keys["product"], keys["machine"], coil.typed["key"])
            row.update({"tried": tests[0].values["verdict"]} if tests else {})
    return {"coils": rows}


def _float(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    found: dict[str, Any] = {"prices": prices(data, keys.get("machine"))}
    if "machine" in keys:
        found["tubes"] = _listed(data, "tubes", "float.tubes", "machine", keys["machine"])
    return found


def _plan(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    """Fresh rows for whoever asks: nobody changes what another one gets."""
    return {key: [dict(row) for row in rows] for key, rows in _planned(data, keys.get("machine")).items()}


@functools.lru_cache(maxsize=64)
def _planned(data: OperatorData, machine: str | None) -> dict[str, list[dict[str, Any]]]:
    """The same, gathered once for each cabinet model: a thousand sites of it ask for nothing else."""
    products, coils = planned.products(data, machine), planned.owned(data, "coils", machine)
    names = {name: planned.called(rows) for name, rows in (("products", products), ("coils", coils))}
    found = {"products": [_mended(data, row, name) for row, name in zip(products, names["products"], strict=True)],
             "coils": _renamed(_known(coils, "plan.coils"), names["coils"]), "apart": _apart(data, products)}  # fmt: skip
    if machine:
        trays = data.of("trays", "machine", machine)
        found["trays"] = _renamed(_known(trays, "plan.trays"), planned.called(trays))
        found["tried"] = _tried(data, machine, dict(zip(_keys(products), names["products"], strict=True)),
                                dict(zip(_keys(coils), names["coils"], strict=True)))  # fmt: skip
    return found


def _cold(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    """A cabinet without a shutoff says so; whether one tripped is seen on the spot."""
    has = data.row("machines", keys["machine"]).typed.get("food_shutoff") if "machine" in keys else None
    return {"shutoff": "none"} if has == "no" else {}


def _keys(rows: Sequence[Row]) -> list[str]:
    return [row.typed["key"] for row in rows]


def _tried(data: OperatorData, machine: str, products: Mapping[str, str], coils: Mapping[str, str]) -> list[dict[str, str]]:
    """The latest test of each product in each coil of a cabinet, by what the plan calls them."""
    tests = sorted(data.of("fits", "machine", machine), key=lambda row: (row.typed["date"], row.number))
    latest = {(row.typed["product"], row.typed["coil"]): row.typed["verdict"] for row in tests}
    return [{"product": products[product], "coil": coils[coil], "verdict": verdict}
            for (product, coil), verdict in sorted(latest.items()) if product in products and coil in coils]  # fmt: skip


def _renamed(rows: list[dict[str, Any]], names: list[str]) -> list[dict[str, Any]]:
    return [{**row, "name": name} for row, name in zip(rows, names, strict=True)]


def _mended(data: OperatorData, row: Row, name: str) -> dict[str, Any]:
    """A product as a plan takes it, with the sizes that a test measured in place of its own."""
    sizes = {key: each.typed for key, each in fits.corrections(data, row.typed["key"]).items()}
    return {**_known([row], "plan.products")[0], **sizes, "name": name}


def _apart(data: OperatorData, products: Sequence[Row]) -> list[dict[str, Any]]:
    """The pairs to keep apart, without those of a product that is sold in other cabinets alone."""
    here, all_ = _words(products), _words(data.tables["products"])
    rows = _known(data.tables["apart"], "plan.apart")
    return [row for row in rows if not any(bearers(all_, row[key]) and not bearers(here, row[key])
                                           for key in ("first", "second"))]  # fmt: skip


def _words(products: Sequence[Row]) -> Any:
    return SimpleNamespace(products=[SimpleNamespace(name=row.typed.get("name"), allergens=row.typed.get("allergens"))
                                     for row in products])  # fmt: skip


def prices(data: OperatorData, machine: str | None = None) -> list[dict[str, str]]:
    """Each price with its share of sales in percent, from the weekly sales of what a cabinet sells."""
    sold: dict[int, float] = {}
    for row in planned.owned(data, "products", machine):
        if "price" in row.values and row.values.get("weekly_sales"):
            price = row.values["price"]
            sold[price] = sold.get(price, 0.0) + row.values["weekly_sales"]
    total = math.fsum(sold.values())
    return [
        {"price": f"{price / 100:.2f}", "share": f"{100 * amount / total:.4f}"}
        for price, amount in sorted(sold.items())
    ]


CASES = 3  # kinds of case that a form of lifts begins with


def _handling(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    found: dict[str, Any] = {"lifts": cases(data, keys.get("machine"))}
    if "site" in keys and (legs := data.of("routes", "site", keys["site"])):
        found["route"] = [row for leg in legs if (row := _uneven(leg))]
        found["way"] = "some" if found["route"] else "flat"
    return found


def _uneven(leg: Row) -> dict[str, Any]:
    """A part of a way in as handling takes it; nothing where it is level."""
    if leg.typed.get("kind") in ("ramp", "steps"):
        return dict(_known([leg], "handling.route")[0])
    if leg.typed.get("kind") not in ("doorway", "side_door", "lift") or leg.values.get("sill") == 0:
        return {}
    return {key: cell for key, cell in {**leg.typed, "kind": "sill"}.items() if key in ("kind", "place", "sill")}


def cases(data: OperatorData, machine: str | None = None) -> list[dict[str, str]]:
    """The heaviest cases that a cabinet is filled from: pieces times the mass of one, wrap and case left out."""
    show = Units(data.units)
    found = [(row.values["case_pieces"] * row.values["mass"] / 1000, row.typed["name"])
             for row in planned.owned(data, "products", machine) if row.values.get("case_pieces") and row.values.get("mass")]  # fmt: skip
    heaviest = sorted(found, key=lambda each: (-each[0], each[1]))[:CASES]
    return [{"name": f"Case of {name}", "mass": show.text(mass, "load", "up")} for mass, name in heaviest]


_MAKERS: dict[str, Callable[[OperatorData, Mapping[str, str]], dict[str, Any]]] = {
    "clearance": _clearance, "circuit": _circuit, "spiral": _spiral, "float": _float,
    "plan": _plan, "handling": _handling, "cold": _cold, "restock": stocked.rows, "cash": _cash, "energy": _energy,
}  # fmt: skip

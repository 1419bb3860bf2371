"""What follows from the data: a calculator's row-inputs, and what a form can be filled from."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from .tables import Row, row_fields

if TYPE_CHECKING:
    from . import OperatorData

# Which tables a calculator's form offers, first the one people think of first.
PRESETS = {
    "clearance": ("sites", "machines"),
    "circuit": ("sites", "machines"),
    "spiral": ("products",),
    "float": ("sites", "machines"),
}


def rows(data: OperatorData, calculator: str, named: Mapping[str, Row]) -> dict[str, Any]:
    """The row-inputs of a calculator: a site's route, a machine's coin tubes …"""
    return _MAKERS[calculator](data, {name: row.typed["key"] for name, row in named.items()})


def _listed(data: OperatorData, table: str, path: str, column: str, key: str | None) -> list[Any]:
    """The rows of a table that belong to ``key``, only the columns the row-input knows."""
    known = {each.key for each in row_fields(path)}
    found = data.tables[table] if key is None else data.of(table, column, key)
    return [{name: cell for name, cell in row.typed.items() if name in known} for row in found]


def _clearance(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    if "site" not in keys:
        return {}
    return {"route": _listed(data, "routes", "clearance.route", "site", keys["site"])}


def _circuit(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    if "site" not in keys:
        return {}
    return {"loads": _listed(data, "loads", "circuit.loads", "site", keys["site"])}


def _spiral(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    return {"coils": _listed(data, "coils", "spiral.coils", "", None)}


def _float(data: OperatorData, keys: Mapping[str, str]) -> dict[str, Any]:
    found: dict[str, Any] = {"prices": prices(data)}
    if "machine" in keys:
        found["tubes"] = _listed(data, "tubes", "float.tubes", "machine", keys["machine"])
    return found


def prices(data: OperatorData) -> list[dict[str, str]]:
    """Each price with its share of sales in percent, from the products' weekly sales."""
    sold: dict[int, float] = {}
    for row in data.tables["products"]:
        if "price" in row.values and row.values.get("weekly_sales"):
            price = row.values["price"]
            sold[price] = sold.get(price, 0.0) + row.values["weekly_sales"]
    total = math.fsum(sold.values())
    return [
        {"price": f"{price / 100:.2f}", "share": f"{100 * amount / total:.4f}"}
        for price, amount in sorted(sold.items())
    ]


_MAKERS: dict[str, Callable[[OperatorData, Mapping[str, str]], dict[str, Any]]] = {
    "clearance": _clearance, "circuit": _circuit, "spiral": _spiral, "float": _float,
}  # fmt: skip

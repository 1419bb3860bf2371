"""What papers to fill in with a pen take from the data: a site's coins to start with, its lanes, its keys.

All sites stand in one value, in which what is the same at several of them (a plan, a float) stands once.
"""

from __future__ import annotations

import functools
import json
from typing import TYPE_CHECKING, Any

from calculators.core.units import Units
from calculators.float.inputs import COINS
from tools.book import card

from . import asking, siteplan, visits

if TYPE_CHECKING:
    from tools.book.data import OperatorData
    from tools.book.tables import Row

# Of a site's row, in this order, after key, name and the number of its cabinet, plan and float.
FACTS = ("address", "contact", "access", "keys")
# What the card of a cabinet says that a paper needs beside its lines.
CARD = ("counters", "tube_value", "cash_box")


class Once:
    """A list in which each value stands once."""

    def __init__(self) -> None:
        self.values: list[Any] = []
        self._numbers: dict[str, int] = {}

    def number(self, value: Any) -> int:
        """Where a value, plain data, stands; it is added where it is new."""
        number = self._numbers.setdefault(json.dumps(value), len(self.values))
        if number == len(self.values):
            self.values.append(value)
        return number


def of(data: OperatorData) -> dict[str, Any]:
    """All that the papers of all sites say; only numbers lead from one part to another."""
    plans, floats = Once(), Once()
    cabinets = {row.typed["key"]: number for number, row in enumerate(data.tables["machines"])}
    sites = [[row.typed["key"], row.typed["name"], cabinets[row.typed["machine"]],
              plans.number(_lanes(data, row.typed["key"])), floats.number(_float(data, row.typed["key"])),
              *(row.typed.get(key, "") for key in FACTS), _visits(data, row.typed["key"])] for row in data.tables["sites"]]  # fmt: skip
    return {"sites": sites, "plans": plans.values, "floats": floats.values,
            "cabinets": [_cabinet(data, row) for row in data.tables["machines"]],
            "products": [[row.typed["name"], row.values.get("case_pieces") or 0] for row in data.tables["products"]]}  # fmt: skip


def _cabinet(data: OperatorData, machine: Row) -> list[str]:
    return [machine.typed["name"], *(card.words(data, machine, key) for key in CARD)]


@functools.lru_cache(maxsize=4)
def _numbers(data: OperatorData) -> dict[str, int]:
    """The number of each product by its key."""
    return {row.typed["key"]: number for number, row in enumerate(data.tables["products"])}


def _lanes(data: OperatorData, site: str) -> list[list[Any]]:
    """Lanes side by side that are alike: tray, first lane, how many, the product's number or -1, pieces in each."""
    numbers = _numbers(data)
    return [[lane.tray.typed["name"], lane.number, count, numbers[lane.product.typed["key"]] if lane.product else -1,
             lane.pieces] for lane, count in siteplan.make(data, site).runs()]  # fmt: skip


def _visits(data: OperatorData, site: str) -> list[list[Any]]:
    """Each visit of a site: its day, and each product's number, pieces to bring and up to how many it is filled."""
    numbers = _numbers(data)
    return [[visits.called(data, each.day), [[numbers[goods.product.typed["key"]], goods.bring, goods.fill] for goods in each.goods]]
            for each in visits.of_site(data, site)]  # fmt: skip


def _float(data: OperatorData, site: str) -> dict[str, Any]:
    """The coins to start with, a tube a column, what they are worth, and the rolls that bring them."""
    report = data.answers.told(asking.question(data, "float", data.prefill("float", {"site": site})))
    tables = {each["key"]: [dict(zip(each["keys"], row, strict=True)) for row in each["rows"]] for each in report["tables"]}
    tubes = [[row["coin"], row["start"]] for row in tables.get("tubes", [])]
    return {"tubes": tubes, "worth": _worth(data, tubes), "rolls": [f"{row['packs']}: {row['coin']}" for row in tables.get("rolls", [])]}


def _worth(data: OperatorData, tubes: list[list[str]]) -> str:
    """The value of the coins to start with; empty where one of them is not known."""
    table = data.rules.get("coins.table")
    faces = {COINS.get(row["name"], row["name"]): row["value"] for row in table.value} if table else {}
    if not tubes or not all(coin in faces and start.isdigit() for coin, start in tubes):
        return ""
    cents = sum(faces[coin] * int(start) for coin, start in tubes)
    return Units(data.units, rules=data.rules).text(float(cents), "money")

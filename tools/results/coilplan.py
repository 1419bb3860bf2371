"""Which coil for which product at one site: the best the operator owns, best sellers first."""

from __future__ import annotations

import functools
from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from calculators.core.report import OUTCOME_WORDS, worst
from tools.book import fits

from . import coils

if TYPE_CHECKING:
    from tools.book.data import OperatorData
    from tools.book.tables import Row


@dataclass(frozen=True)
class Lane:
    """One product in one lane with the coil chosen for it."""

    product: str
    price: str
    coil: str
    outcome: str
    spare: str
    action: str


@dataclass(frozen=True)
class Plan:
    """All lanes of a site."""

    lanes: tuple[Lane, ...]

    @property
    def outcome(self) -> str:
        """The worst lane's outcome."""
        return worst([lane.outcome for lane in self.lanes])

    @property
    def headline(self) -> str:
        """How many lanes go, and the one that decides."""
        good = sum(lane.outcome == "pass" for lane in self.lanes)
        bad = next((lane for lane in self.lanes if lane.outcome == self.outcome), None)
        tail = f" {bad.product} – {bad.spare}" if bad and self.outcome != "pass" else ""
        return f"{good} of {len(self.lanes)} products have a coil that passes.{tail}"

    @property
    def actions(self) -> list[str]:
        """What to do about the lanes that do not pass."""
        return [lane.action for lane in self.lanes if lane.action]

    @property
    def count(self) -> dict[str, int]:
        """How many of each coil to bring."""
        return dict(Counter(lane.coil for lane in self.lanes if lane.coil != "–"))

    def rows(self) -> list[tuple[str, ...]]:
        """The table of the sheet."""
        return [(lane.product, lane.price, lane.coil, lane.spare, OUTCOME_WORDS[lane.outcome])
                for lane in self.lanes]  # fmt: skip


def make(data: OperatorData, site: str) -> Plan:
    """Choose a coil for every product of a site's cabinet; the most sold choose first while coils last."""
    return _planned(data, data.row("sites", site).typed["machine"])


@functools.lru_cache(maxsize=256)
def _planned(data: OperatorData, machine: str) -> Plan:
    """The plan of a cabinet model: no two sites of it differ in their coils."""
    found = chosen(data, machine)
    return Plan(tuple(_laid(data, machine, row, found[row.typed["key"]]) for row in data.sold_in("products", machine)))


def chosen(data: OperatorData, machine: str) -> dict[str, coils.Cell | None]:
    """The coil for each product of a cabinet, by the product's key; None where no coil is left."""
    left = {row.typed["key"]: row.values.get("stock") or 0 for row in data.tables["coils"]}
    found: dict[str, coils.Cell | None] = {}
    for row in sorted(data.sold_in("products", machine), key=lambda row: -(row.values.get("weekly_sales") or 0.0)):
        cells = coils.judged(data, machine, row.typed["key"])
        cell = next((each for each in cells if left[each.coil.typed["key"]] > 0), None)
        if cell:
            left[cell.coil.typed["key"]] -= 1
        found[row.typed["key"]] = cell
    return found


def _laid(data: OperatorData, machine: str, product: Row, cell: coils.Cell | None) -> Lane:
    name, key = product.typed["name"], product.typed["key"]
    mark = fits.corrected(data, key)
    name = f"{name} ({mark})" if mark else name
    if cell is None:
        return Lane(name, product.typed["price"], "–", "stop", "no coil left", "Buy coils.")
    lane = _lane(name, product, cell, coils.worked(data, machine, key, cell.coil))
    return _tried(lane, cell) if cell.tried else lane


def _lane(name: str, product: Row, cell: coils.Cell, result: dict[str, Any]) -> Lane:
    price, outcome = product.typed["price"], result["outcome"]
    decisive = result["checks"][result["tightest"]] if result["checks"] else None
    slack = next((value["text"] for value in result["values"] if value["key"] == "slack"), "–")
    if outcome == "pass" or decisive is None:
        return Lane(name, price, cell.name, outcome, f"{slack} to spare", "")
    spare = f"{decisive['label']}: {decisive['text']}"
    mend = decisive["mend"]["text"] if decisive["mend"] else decisive["note"] or spare
    action = f"{product.typed['name']} in the {cell.name.lower()}: {mend}"
    return Lane(name, price, cell.name, outcome, spare, action)


def _tried(lane: Lane, cell: coils.Cell) -> Lane:
    """The lane with the test over the calculation; a calculated stop still asks for care."""
    words = f"Tried here {cell.tried.typed['date']}: {fits.counted(cell.tried)}" if cell.tried else ""
    if cell.word != coils.KEPT:
        return replace(lane, outcome="stop", spare=f"{words}.",
                       action=f"{lane.product}: no coil that is left passed. Leave the lane empty.")  # fmt: skip
    # The calculator knows of the test too and asks for care where it would have stopped.
    if lane.outcome in ("stop", "unknown") or cell.calculated not in coils.GOOD:
        return replace(lane, outcome="caution", spare=f"{words}; calculated: {lane.spare}")
    return replace(lane, outcome="pass", spare=f"{words}.", action="")

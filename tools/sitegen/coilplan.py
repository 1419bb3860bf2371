"""Which coil for which product at one site: the best the operator owns, best sellers first."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import calculators
from calculators.core.report import OUTCOME_WORDS, OUTCOMES, worst

if TYPE_CHECKING:
    from .data import OperatorData
    from .data.tables import Row

COIL = ("coil_count", "coil_outside", "wire", "coil_kind", "axis_offset")


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


def make(data: OperatorData, site: str, local: dict[str, Any]) -> Plan:
    """Choose a coil for every product; the most sold choose first while coils last."""
    machine = data.row("sites", site).typed["machine"]
    left = {row.typed["key"]: row.values.get("stock") or 0 for row in data.tables["coils"]}
    products = data.tables["products"]
    order = sorted(products, key=lambda row: -(row.values.get("weekly_sales") or 0.0))
    chosen = {row.typed["key"]: _choose(data, machine, row, left, local) for row in order}
    return Plan(tuple(chosen[row.typed["key"]] for row in products))


def _choose(data: OperatorData, machine: str, product: Row, left: dict[str, int],
            local: dict[str, Any]) -> Lane:  # fmt: skip
    filled = data.prefill("spiral", {"machine": machine, "product": product.typed["key"]})
    filled.pop("coils", None)
    tried = []
    for coil in data.tables["coils"]:
        if left[coil.typed["key"]] > 0:
            own = {key: coil.typed[key] for key in COIL if key in coil.typed}
            request = {"units": data.units, "local": local, "inputs": {**filled, **own}}
            tried.append((coil, calculators.run("spiral", request)))
    if not tried:
        return Lane(product.typed["name"], product.typed["price"], "–", "stop", "no coil left", "Buy coils.")
    coil, result = min(tried, key=lambda each: _rank(each[1]))
    left[coil.typed["key"]] -= 1
    return _lane(product, coil, result)


def _rank(result: dict[str, Any]) -> tuple[int, int, float]:
    """Best outcome and fewest doubts first; then snug, because a snug coil holds upright."""
    slack = next((value["inner"] for value in result["values"] if value["key"] == "slack"), None)
    doubts = sum(check["outcome"] != "pass" for check in result["checks"])
    return -OUTCOMES.index(result["outcome"]), doubts, abs(slack) if slack is not None else 1e9


def _lane(product: Row, coil: Row, result: dict[str, Any]) -> Lane:
    name, price = product.typed["name"], product.typed["price"]
    decisive = result["checks"][result["tightest"]] if result["checks"] else None
    slack = next((value["text"] for value in result["values"] if value["key"] == "slack"), "–")
    passed = result["outcome"] == "pass"
    if passed or decisive is None:
        return Lane(name, price, coil.typed["name"], result["outcome"], f"{slack} to spare", "")
    spare = f"{decisive['label']}: {decisive['text']}"
    mend = decisive["mend"]["text"] if decisive["mend"] else decisive["note"] or spare
    action = f"{name} in the {coil.typed['name'].lower()}: {mend}"
    return Lane(name, price, coil.typed["name"], result["outcome"], spare, action)

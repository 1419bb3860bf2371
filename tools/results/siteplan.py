"""A site's one plan: which product lies in which lane with which coil, as the cabinet plan finds it.

Sheet, van list, chart and drills all read it from here. Sites of one cabinet model with the same days are
the same question, wherever they are, so that it is answered once.
"""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calculators.core.report import worst
from calculators.plan.results import EMPTY
from tools.book import fits, planned

if TYPE_CHECKING:
    from tools.book.answers import Question
    from tools.book.data import OperatorData
    from tools.book.tables import Row

NO_TRAYS = "The trays of this cabinet are not in our data (trays.csv), so no lane is planned."


@dataclass(frozen=True)
class Lane:
    """One lane; ``mind`` says what to look at, or why it stays empty. ``test`` is the hand test of its coil."""

    tray: Row
    number: int
    product: Row | None = None
    coil: Row | None = None
    pieces: int = 0
    mind: str = ""
    test: Row | None = None

    @property
    def outcome(self) -> str:
        """Go, or take care where there is something to mind; an empty lane has nothing to pass."""
        return "pass" if self.product and not self.mind else "caution"


@dataclass(frozen=True)
class Plan:
    """All lanes of a site's cabinet, and the calculator's whole answer."""

    lanes: tuple[Lane, ...]
    report: dict[str, Any]

    @property
    def outcome(self) -> str:
        """The calculator's outcome, or the worst lane's where that is worse."""
        return worst([self.report["outcome"], *(lane.outcome for lane in self.lanes)])

    @property
    def filled(self) -> tuple[Lane, ...]:
        """The lanes that hold something."""
        return tuple(lane for lane in self.lanes if lane.product)

    @property
    def headline(self) -> str:
        """How many lanes are filled, why the others are not, and how many want care."""
        if not self.lanes:
            return NO_TRAYS
        return " ".join((self.covered, *self._care()))

    @property
    def covered(self) -> str:
        """“30 of 32 lanes are filled. 2 are empty: no coil is left for a product that fits it.”"""
        why = Counter(lane.mind for lane in self.lanes if not lane.product)
        empty = [f"{count} {'is' if count == 1 else 'are'} empty: {reason}." for reason, count in why.items()]
        return " ".join((f"{len(self.filled)} of {len(self.lanes)} lanes are filled.", *empty))

    def _care(self) -> list[str]:
        count = sum(bool(lane.mind) for lane in self.filled)
        return [f"{count} of them {'needs' if count == 1 else 'need'} care."] if count else []

    @property
    def best(self) -> str:
        """Whether a better plan could be found, in the calculator's words."""
        return next((check["text"] for check in self.report["checks"] if check["key"] == "proven"), "")

    @property
    def actions(self) -> list[str]:
        """What is wrong or to be minded, each with what to do about it."""
        if not self.lanes:
            return [f"{NO_TRAYS} Write them there, from the top tray down."]
        bad = [check for check in self.report["checks"] if check["outcome"] != "pass" and check["key"] != "proven"]
        return [f"{check['text']} {check['note']}".strip() for check in bad]

    @property
    def coils(self) -> dict[str, int]:
        """How many of each coil to bring, by its key, in the order of the trays."""
        return dict(Counter(lane.coil.typed["key"] for lane in self.filled if lane.coil))

    @property
    def goods(self) -> dict[str, int]:
        """How many pieces of each product to bring, by its key, in the order of the trays."""
        found: Counter[str] = Counter()
        for lane in self.filled:
            if lane.product:
                found[lane.product.typed["key"]] += lane.pieces
        return dict(found)

    def runs(self) -> list[tuple[Lane, int]]:
        """Lanes side by side that are alike, as the first of them and how many."""
        found: list[tuple[Lane, int]] = []
        for lane in self.lanes:
            last, count = found[-1] if found else (None, 0)
            if last and _alike(last, lane):
                found[-1] = last, count + 1
            else:
                found.append((lane, 1))
        return found


def _alike(one: Lane, other: Lane) -> bool:
    return all(getattr(one, key) == getattr(other, key) for key in ("tray", "product", "coil", "pieces", "mind"))


def make(data: OperatorData, site: str) -> Plan:
    """The plan of a site."""
    machine = data.row("sites", site).typed["machine"]
    return _planned(data, machine, planned.setting(data, site))


def question(data: OperatorData, site: str) -> Question:
    """What the cabinet plan is asked of a site: nothing in it tells where the site is."""
    return planned.question(data, data.row("sites", site).typed["machine"], planned.setting(data, site))


def questions(data: OperatorData) -> list[Question]:
    """What the cabinet plan is asked of all sites, each question once."""
    asked = dict.fromkeys((site.typed["machine"], planned.setting(data, site.typed["key"])) for site in data.tables["sites"])
    return [planned.question(data, *each) for each in asked]


@functools.lru_cache(maxsize=256)
def _planned(data: OperatorData, machine: str, setting: planned.Setting) -> Plan:
    report = planned.report(data, machine, setting)
    names = _named(data, machine)
    return Plan(tuple(_lane(data, machine, names, row) for row in planned.rows(report)), report)


def _named(data: OperatorData, machine: str) -> dict[str, dict[str, Row]]:
    """Trays, products and coils by what the plan calls them."""
    rows = {"tray": data.of("trays", "machine", machine), "product": planned.products(data, machine),
            "coil": data.sold_in("coils", machine)}  # fmt: skip
    return {kind: dict(zip(planned.called(each), each, strict=True)) for kind, each in rows.items()}


def _lane(data: OperatorData, machine: str, names: dict[str, dict[str, Row]], row: dict[str, str]) -> Lane:
    tray, number = names["tray"][row["tray"]], int(row["lane"])
    if row["product"] == EMPTY:
        return Lane(tray, number, mind=row["mind"])
    product, coil = names["product"][row["product"]], names["coil"][row["coil"]]
    tests = fits.tried(data, product.typed["key"], machine, coil.typed["key"])
    return Lane(tray, number, product, coil, int(row["pieces"]), row["mind"], tests[0] if tests else None)


@functools.lru_cache(maxsize=64)
def of_model(data: OperatorData, machine: str) -> dict[tuple[str, str], int]:
    """At how many sites of a cabinet model each product lies with each coil, by their keys."""
    found: Counter[tuple[str, str]] = Counter()
    for site in data.of("sites", "machine", machine):
        found.update(pairs(make(data, site.typed["key"]).filled))
    return dict(found)


def pairs(lanes: Iterable[Lane]) -> set[tuple[str, str]]:
    """The products and coils that lie together, by their keys."""
    return {(lane.product.typed["key"], lane.coil.typed["key"]) for lane in lanes if lane.product and lane.coil}

"""The cabinet plan as a question about an operator's data, and what it holds of each product.

Nothing in the question tells where a site is, so that sites of one cabinet model with the same days ask the same.
"""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import calculators
from calculators.plan.results import EMPTY

from .answers import Question, put

if TYPE_CHECKING:
    from .data import OperatorData
    from .tables import Row

def owned(data: OperatorData, table: str, machine: str | None) -> list[Row]:
    """The products or coils of a cabinet model, or all of them."""
    return data.sold_in(table, machine) if machine else data.tables[table]


@functools.lru_cache(maxsize=256)
def products(data: OperatorData, machine: str | None) -> tuple[Row, ...]:
    """The products of a cabinet model that its plan is made of: all, or as many best sellers as a plan takes."""
    sold = owned(data, "products", machine)
    most = int(calculators.get("plan").inputs.field("products").most or len(sold))
    best = sorted(range(len(sold)), key=lambda place: -(sold[place].values.get("weekly_sales") or 0.0))[:most]
    return tuple(sold[place] for place in sorted(best))


def called(rows: Sequence[Row]) -> list[str]:
    """What a plan calls each row: its name, with a number where others bear it too."""
    names: list[str] = []
    taken: set[str] = set()
    for number, row in enumerate(rows, 1):
        name = row.typed.get("name") or str(number)
        names.append(f"{name} ({number})" if name.casefold() in taken else name)
        taken.add(names[-1].casefold())
    return names


Setting = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Held:
    """A product in a plan and what it is called there; its lanes, and the pieces in all of them."""

    name: str
    product: Row
    lanes: int
    pieces: int


def setting(data: OperatorData, site: str) -> Setting:
    """What a site or its cabinet says beside rows: the days to the next visit, the most lanes …"""
    return tuple(sorted(data.cells("plan", {"site": site}).items()))


def question(data: OperatorData, machine: str, told: Setting) -> Question:
    """What the plan is asked of a cabinet model and a setting."""
    rows = {key: cell for key, cell in data.prefill("plan", {"machine": machine}).items() if not isinstance(cell, str)}
    return put(data, "plan", {**dict(told), **rows})


@functools.lru_cache(maxsize=256)
def report(data: OperatorData, machine: str, told: Setting) -> dict[str, Any]:
    """The plan's whole answer; not to be changed."""
    answer: dict[str, Any] = data.answers.told(question(data, machine, told))
    return answer


def rows(found: dict[str, Any]) -> list[dict[str, str]]:
    """The lanes of a plan, empty ones too."""
    return [dict(zip(table["keys"], row, strict=True)) for table in found["tables"] if table["key"] == "lanes"
            for row in table["rows"]]  # fmt: skip


@functools.lru_cache(maxsize=256)
def held(data: OperatorData, machine: str, told: Setting) -> tuple[Held, ...]:
    """Each product of a plan, in the order of its lanes."""
    sold = products(data, machine)
    named = dict(zip(called(sold), sold, strict=True))
    lanes: Counter[str] = Counter()
    pieces: Counter[str] = Counter()
    for row in rows(report(data, machine, told)):
        if row["product"] != EMPTY:
            lanes[row["product"]] += 1
            pieces[row["product"]] += int(row["pieces"])
    return tuple(Held(name, named[name], lanes[name], pieces[name]) for name in lanes)


@functools.lru_cache(maxsize=256)
def usual(data: OperatorData, machine: str) -> Setting | None:
    """The setting of most sites of a cabinet model; None where it stands nowhere."""
    found = Counter(setting(data, site.typed["key"]) for site in data.of("sites", "machine", machine))
    return found.most_common(1)[0][0] if found else None

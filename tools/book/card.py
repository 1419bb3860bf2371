"""A cabinet's card: what the general pages leave to the maker's manual, item by item.

The items are data (``card.toml``): their labels, what they ask, which cabinets have them at all. What a folder says of
them stands in ``cards.csv``, a row an item, or in a column of ``machines.csv`` that the calculators read too.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from calculators.core.fields import Choice, Quantity
from calculators.core.units import Units
from tools.problems import Problem, nearest

if TYPE_CHECKING:
    from .tables import Row


class Tables(Protocol):
    """An operator's data, as far as the cards need it."""

    units: str
    tables: dict[str, list[Row]]

    def __hash__(self) -> int:
        """Each is itself alone."""


SCHEMA = Path(__file__).with_name("card.toml")


@dataclass(frozen=True)
class Item:
    """One thing a card holds.

    ``stop``: a page must not go on without it; ``has``: the feature that brings it; ``unit`` follows a bare count.
    """

    key: str
    group: str
    label: str
    help: str = ""
    example: str = ""
    stop: bool = False
    has: str = ""
    column: str = ""
    unit: str = ""


@dataclass(frozen=True)
class Feature:
    """What a cabinet may have: ``label`` says which cabinets, ``column`` and ``words`` of machines.csv which do."""

    key: str
    label: str
    other: str
    column: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Gap:
    """An item that a cabinet has and its card does not say."""

    machine: str
    item: Item


@cache
def _schema() -> dict[str, Any]:
    return tomllib.loads(SCHEMA.read_text(encoding="utf-8"))


@cache
def groups() -> dict[str, str]:
    """The parts of a card in order: key → title."""
    return dict(_schema()["groups"])


@cache
def features() -> dict[str, Feature]:
    """What a cabinet may have, by key."""
    return {key: Feature(key, told["label"], told["other"], told["column"], tuple(told["words"]))
            for key, told in _schema()["features"].items()}  # fmt: skip


@cache
def items() -> dict[str, Item]:
    """Every item by key, in the order of a walk round a cabinet."""
    return {key: Item(key, **told) for key, told in _schema().items() if key not in ("groups", "features")}


def has(machine: Row, feature: str) -> bool | None:
    """Whether a cabinet model has a feature; None where its row leaves it open."""
    told = features()[feature]
    cell = machine.typed.get(told.column)
    return None if cell is None else cell in told.words


def may_have(machine: Row, feature: str) -> bool:
    """Whether a page must speak of a feature to whoever stands before this model: not known is perhaps."""
    return not feature or has(machine, feature) is not False


def words(data: Tables, machine: Row, key: str) -> str:
    """What a model's card says of an item, as plain text; empty where it says nothing."""
    item = items()[key]
    if item.column:
        return f"{_cell(data, machine, item.column)} {item.unit}".strip() if item.column in machine.typed else ""
    row = rows(data).get((machine.typed["key"], key))
    return row.typed.get("text", "") if row else ""


def _cell(data: Tables, machine: Row, column: str) -> str:
    from .tables import columns_of  # the tables' columns name the items

    field, cell = columns_of("machines")[column], machine.typed.get(column, "")
    if isinstance(field, Choice):
        return str(field.options.get(cell, cell))
    if isinstance(field, Quantity) and cell.replace(".", "", 1).isdigit():
        return f"{cell} {Units(data.units).unit(field.kind)}".strip()
    return cell


@lru_cache(maxsize=4)
def rows(data: Tables) -> dict[tuple[str, str], Row]:
    """The rows of ``cards.csv`` by model and item; they stay as they were read."""
    return {(row.typed["machine"], row.typed["item"]): row for row in data.tables["cards"]
            if {"machine", "item"} <= row.typed.keys()}  # fmt: skip


def gaps(data: Tables) -> dict[str, list[Gap]]:
    """What each model's card lacks, by the model's key; models with most gaps first."""
    found = {machine.typed["key"]: list(_gaps(data, machine)) for machine in data.tables["machines"]}
    return dict(sorted(found.items(), key=lambda each: -len(each[1])))


def _gaps(data: Tables, machine: Row) -> Iterator[Gap]:
    for key, item in items().items():
        if may_have(machine, item.has) and not words(data, machine, key):
            yield Gap(machine.typed["key"], item)


def notes(data: Tables) -> list[str]:
    """What the cards lack, a line a model, for whoever builds or checks the handbook."""
    names = {row.typed["key"]: row.typed["name"] for row in data.tables["machines"]}
    return [_note(names[machine], found) for machine, found in gaps(data).items() if found]


def _note(name: str, found: list[Gap]) -> str:
    stops = [gap.item.label for gap in found if gap.item.stop]
    more = f" Steps stop without {len(stops)} of them: {', '.join(stops)}." if stops else ""
    return f"The card of {name} lacks {len(found)} of {len(items())} items.{more}"


def check(machines: Iterable[Row], cards: Iterable[Row], problems: list[Problem]) -> None:
    """Report what is no item, stands twice, or belongs into a column of machines.csv."""
    known, seen = items(), dict[tuple[str, str], int]()
    models = {row.typed.get("key"): row for row in machines}
    for row in cards:
        key, place = row.typed.get("item", ""), f"row {row.number}, column item"
        item, pair = known.get(key), (row.typed.get("machine", ""), key)
        if not key:
            continue  # the empty cell was told
        if item is None:
            problems.append(Problem(row.file, place, f"There is no item “{key}”.", nearest(key, list(known))))
        elif item.column:
            problems.append(Problem(row.file, place, f"“{item.label}” is no item of this table.",
                                    f"Write it into the column {item.column} of the cabinet models."))  # fmt: skip
        elif pair in seen:
            problems.append(Problem(row.file, place, f"“{key}” of “{pair[0]}” stands in row {seen[pair]} too.", "Take one out."))
        elif row.typed.get("text") and pair[0] in models and not may_have(models[pair[0]], item.has):
            problems.append(Problem(row.file, place, f"“{item.label}” is for {features()[item.has].label}, and "
                                    f"“{pair[0]}” is none.", f"Take the row out, or correct {features()[item.has].column}."))  # fmt: skip
        seen.setdefault(pair, row.number)

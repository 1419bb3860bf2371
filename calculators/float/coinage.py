"""The coins of a rule set, and a cabinet's tubes put together by coin."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..core import Work
from .inputs import COINS, Tube

UNSURE = "from memory"  # the status of what a row of a table only remembers


@dataclass(frozen=True)
class Coin:
    """One coin: value in cents, mass in grams, thickness in mm, coins in a roll or bag.

    A thickness of None is not in the rule set. ``unsure`` names what is only from memory.
    """

    name: str
    value: int
    mass: float
    thickness: float | None
    roll: int
    unsure: frozenset[str] = frozenset()

    @property
    def label(self) -> str:
        """What people call it."""
        return COINS.get(self.name, self.name)

    @property
    def many(self) -> str:
        """What people call many of them, in the middle of a sentence."""
        return many(self.label)

    def cited(self, work: Work, key: str, part: str) -> str:
        """Where a part of it ("mass_g", "thickness_mm", "roll" …) stands in the rule set."""
        figure = work.rule_of(key)
        if figure is None:
            return ""
        return UNSURE if part in self.unsure else figure.citation


def book(work: Work) -> dict[str, Coin]:
    """The coins by name; empty where the rule set lacks their table or their rolls."""
    table, rolls = work.rule_of("coins.table"), work.rule_of("coins.rolls")
    if table is None or rolls is None:
        return {}
    packs = {row["name"]: row for row in rolls.value}
    return {row["name"]: _coin(row, packs[row["name"]]) for row in table.value if row["name"] in packs}


def _coin(row: dict[str, Any], pack: dict[str, Any]) -> Coin:
    unsure = {*row.get("from_memory", ()), *(("roll",) if pack.get("from_memory") else ())}
    return Coin(row["name"], row["value"], row["mass_g"], row.get("thickness_mm"), pack["count"],
                frozenset(unsure))  # fmt: skip


def packs(work: Work, number: int, coin: Coin) -> str:
    """So many rolls or bags of a coin, in words: 2 rolls of dimes."""
    return f"{number} {pack_name(work, number)} of {coin.many}"


def many(label: str) -> str:
    """What people call many of a coin, in the middle of a sentence: dimes, 20p coins."""
    name = label.lower()
    if any(letter.isdigit() for letter in name) and not name.endswith("coin"):
        return f"{name} coins"
    return f"{name}s"


def pack_name(work: Work, number: int) -> str:
    """What banks hand coins out in here: roll, rolls, bag …"""
    figure = work.rule_of("coins.pack")
    named = {"one": "pack", "many": "packs"} if figure is None else figure.value
    return str(named["one" if number == 1 else "many"])


def notes(work: Work) -> dict[str, int]:
    """The notes of the rule set that the form has fields for: name in whole money → cents."""
    listed, currency = work.rule_of("coins.notes"), work.rule_of("coins.currency")
    if listed is None or currency is None:
        return {}
    named = {str(value // currency.value["minor"]): value for value in listed.value}
    known = {field.key for field in work.inputs.fields()}
    return {name: value for name, value in named.items() if f"takes_{name}" in known}


def size_path(number: int, tube: Tube, coins: dict[str, Coin]) -> str:
    """Which input gives the tube's room: its height only where the coin's thickness is known."""
    coin = coins.get(tube.coin or "")
    flat = coin is not None and coin.thickness is None
    return f"tubes.{number}.{'capacity' if flat or tube.capacity is not None else 'height'}"


@dataclass(frozen=True)
class Stack:
    """All tubes of one coin taken as one: room, coins now (None: not counted), marks.

    ``rows`` are the numbers of the tubes, ``rooms`` how many coins each holds.
    """

    coin: Coin
    rows: tuple[int, ...]
    rooms: tuple[int, ...]
    now: int | None
    low: int
    back: int

    @property
    def room(self) -> int:
        """Coins that the tubes hold together."""
        return sum(self.rooms)

    @property
    def held(self) -> int:
        """Coins in them now, never more than they hold; none where nobody counted."""
        return min(self.now or 0, self.room)

    def spread(self, total: int) -> dict[int, int]:
        """A number of coins laid into the tubes, the first one filled first."""
        laid = {}
        for row, room in zip(self.rows, self.rooms, strict=True):
            laid[row] = min(total, room)
            total -= laid[row]
        return laid

    def added(self, counts: dict[int, int], more: int) -> dict[int, int]:
        """The tubes' counts by row after laying more coins where there is room."""
        after = {}
        for row, room in zip(self.rows, self.rooms, strict=True):
            put = min(more, max(0, room - counts[row]))
            if put:
                after[row] = counts[row] + put
            more -= put
        return after


def stacks(coins: dict[str, Coin], tubes: list[Tube], rooms: list[int]) -> list[Stack]:
    """The tubes put together by coin, largest coin first; every tube's coin must be known."""
    found = []
    for coin in sorted(coins.values(), key=lambda coin: -coin.value):
        rows = [number for number, tube in enumerate(tubes) if tube.coin == coin.name]
        if rows:
            found.append(_stack(coin, rows, tubes, rooms))
    return found


def _stack(coin: Coin, rows: list[int], tubes: list[Tube], rooms: list[int]) -> Stack:
    counts = [tubes[row].count for row in rows]
    low = sum(tubes[row].low or 0 for row in rows)
    back = sum(tubes[row].back or tubes[row].low or 0 for row in rows)
    now = None if None in counts else sum(min(tubes[row].count, rooms[row]) for row in rows)
    return Stack(coin, tuple(rows), tuple(rooms[row] for row in rows), now, low, max(low, back))

"""Every coil the operator owns, tried for this product in this lane: which is best, and why."""

from __future__ import annotations

import copy
import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from weakref import WeakKeyDictionary

from ..core import Work
from ..core.report import Check, tightest
from .fit import Found, Number
from .inputs import CoilRow, Inputs

Assess = Callable[[Inputs, Work], Found]

# What a choice of coil can change; the first three say why a coil cannot be used at all.
UNFIT = ("pair", "held", "coil_lane")
JUDGED = (*UNFIT, "goes_in", "middle", "lean", "upright", "ride", "lane", "side")
WORDS = {0: "Best", 1: "Usable", 2: "Not known", 3: "Too loose", 4: "Too tight", 5: "Does not suit"}


@dataclass
class Choice:
    """One coil of the table with what became of the product in it."""

    row: CoilRow
    number: int
    rank: int
    opening: Number
    slack: Number
    checks: dict[str, Check] = field(default_factory=dict)

    @property
    def word(self) -> str:
        """The verdict as a reader sees it."""
        return WORDS[self.rank]

    @property
    def order(self) -> tuple[int, int, float]:
        """Best first: by verdict, then fewest cautions, then the closest hold."""
        cautions = sum(check.outcome != "pass" for check in self.checks.values())
        return self.rank, cautions, math.inf if self.slack is None else self.slack


def with_coil(inputs: Inputs, row: CoilRow) -> Inputs:
    """The inputs with a row's coil in place of the form's own."""
    tried = copy.copy(inputs)
    tried.__dict__ = dict(inputs.__dict__)
    for key in ("coil_count", "coil_outside", "wire", "coil_kind", "axis_offset"):
        tried.__dict__[key] = getattr(row, key)
    return tried


Tried = tuple[Found, dict[str, Check]]
# What was tried for a sheet: its mends and its changes ask for the same coils again.
_TRIED: WeakKeyDictionary[Work, dict[tuple[Any, ...], Tried]] = WeakKeyDictionary()


def scratch(work: Work, inputs: Inputs, assess: Assess) -> Tried:
    """The checks of other inputs, on a sheet nobody sees."""
    known = _TRIED.setdefault(work, {})
    key = tuple(value for name, value in inputs.__dict__.items() if name not in ("coils", "given"))
    if key not in known:
        sheet = Work(work.calculator, inputs, work.rules, work.show)
        found = assess(inputs, sheet)
        known[key] = found, {check.key: check for check in sheet.checks}
    return known[key]


def choices(work: Work, assess: Assess) -> list[Choice]:
    """The operator's coils, best first."""
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    tried = [_tried(work, row, number, assess) for number, row in enumerate(inputs.coils)]
    tried.sort(key=lambda each: (each.order, each.number))
    usable = [each for each in tried if each.rank == 1 and each.row.stock != 0]
    if usable:
        usable[0].rank = 0
    return sorted(tried, key=lambda each: (each.order, each.number))


def _tried(work: Work, row: CoilRow, number: int, assess: Assess) -> Choice:
    found, checks = scratch(work, with_coil(work.inputs, row), assess)  # type: ignore[arg-type]
    judged = {key: checks[key] for key in JUDGED if key in checks}
    opening = found.fit.opening.size if found.fit.opening else None
    return Choice(row, number, rank(judged), opening, found.slack, judged)


def rank(checks: dict[str, Check]) -> int:
    """The verdict of those checks, a key of WORDS."""
    outcome = {key: check.outcome for key, check in checks.items()}
    if any(outcome.get(key) == "stop" for key in UNFIT):
        return 5
    if "unknown" in (outcome.get("goes_in"), outcome.get("lean")) and outcome.get("goes_in") != "stop":
        return 2
    if outcome.get("goes_in") == "stop":
        return 4
    if outcome.get("lean") == "stop":
        return 3
    return 5 if "stop" in outcome.values() else 1


def table(work: Work, found: list[Choice]) -> None:
    """The table of coils, and what to do about it."""
    if not found:
        return
    rows: list[tuple[str, ...]] = [(_name(each), each.word, _room(work, each) + why(each)) for each in found]
    work.table("Your coils for this product", ("Coil", "Verdict", "Why"), rows,
               "Best holds it most closely of those it goes into freely.")  # fmt: skip
    if found[0].rank == 0:
        work.actions.append(f"Best of your coils: {_name(found[0])}.")


def _name(choice: Choice) -> str:
    row = choice.row
    count = "?" if row.coil_count is None else str(row.coil_count)
    kind = " dual" if row.coil_kind == "dual" else ""
    return row.name or f"{count}-count{kind}"


def _room(work: Work, choice: Choice) -> str:
    if choice.opening is None or choice.slack is None or math.isinf(choice.opening):
        return ""
    room = work.text(choice.opening, "length", "down")
    short = choice.slack < 0
    spare = work.text(abs(choice.slack), "length", "up" if short else "down")
    return f"Room {room}, {spare} {'too little' if short else 'to spare'}. "


def why(choice: Choice) -> str:
    """The check that decides, of those that the verdict rests on."""
    none = "None in stock. " if choice.row.stock == 0 else ""
    decisive = tightest(_grounds(choice))
    if decisive is None:
        return none
    lead = "Tightest: " if decisive.outcome == "pass" else ""
    return f"{none}{lead}{decisive.label}: {decisive.text}"


def _grounds(choice: Choice) -> list[Check]:
    keys = {3: ("lean",), 4: ("goes_in",), 5: UNFIT}.get(choice.rank, JUDGED)
    stops = [choice.checks[key] for key in keys if key in choice.checks and choice.checks[key].outcome == "stop"]
    return stops or list(choice.checks.values())

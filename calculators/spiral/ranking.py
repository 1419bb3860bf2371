"""Every coil the operator owns, tried for this product in this lane: which is best, and why."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any
from weakref import WeakKeyDictionary

from ..core import Work
from ..core.report import Check, tightest
from .fit import Found, Number
from .inputs import KEPT, TRIED, UNTRIED, CoilRow, Inputs

Assess = Callable[[Inputs, Work], Found]
COIL = ("coil_count", "coil_outside", "wire", "coil_kind", "axis_offset")

# What a choice of coil can change; the first three say why a coil cannot be used at all.
UNFIT = ("pair", "held", "coil_lane")
JUDGED = (*UNFIT, "goes_in", "middle", "lean", "upright", "ride", "lane", "aside", "side")
# What a test by hand tells of a coil: how it holds the product. Whatever else stops it, no test undoes.
HELD = ("held", "goes_in", "middle", "lean", "upright", "ride")
BEST, USABLE, UNKNOWN, LOOSE, TIGHT, OTHER = range(6)
WORDS = {BEST: "Best", USABLE: "Usable", UNKNOWN: "Not known", LOOSE: "Too loose", TIGHT: "Too tight",
         OTHER: "Does not suit"}  # fmt: skip
# A test by hand stands over the calculation; a coil that was kept must still have its room and its rail.
BY_HAND = {KEPT: USABLE, "loose": LOOSE, "tight": TIGHT, "other": OTHER}


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
    def tried(self) -> str:
        """What a test by hand said, or that there was none."""
        return tried_word(self.row)

    @property
    def suits(self) -> bool:
        """Whether it is there and may be used."""
        return self.rank <= USABLE and self.row.stock != 0

    @property
    def name(self) -> str:
        """What the operator calls it, or its count."""
        return name_of(self.row.name, self.row.coil_count, self.row.coil_kind)

    @property
    def order(self) -> tuple[int, bool, int, float]:
        """Best first: by verdict, kept by hand, then fewest cautions, then the closest hold."""
        cautions = sum(check.outcome != "pass" for check in self.checks.values())
        return self.rank, self.tried != KEPT, cautions, math.inf if self.slack is None else self.slack


def tried_word(row: CoilRow) -> str:
    """The word of a row's test by hand; a row of another form has none."""
    return str(getattr(row, "tried", None) or UNTRIED)


def name_of(name: str | None, count: int | None, kind: str | None) -> str:
    """What a coil is called: by its owner, or by its count."""
    return name or f"{'?' if count is None else count}-count{' dual' if kind == 'dual' else ''}"


def with_coil(inputs: Inputs, row: CoilRow) -> Inputs:
    """The inputs with a row's coil in place of the form's own."""
    return inputs.changed({key: getattr(row, key) for key in COIL})


Tried = tuple[Found, dict[str, Check]]
# What was tried for a sheet: its mends and its changes ask for the same coils again.
_TRIED: WeakKeyDictionary[Work, dict[tuple[Any, ...], Tried]] = WeakKeyDictionary()


def scratch(work: Work, inputs: Inputs, assess: Assess) -> Tried:
    """The checks of other inputs, on a sheet nobody sees."""
    known = _TRIED.setdefault(work, {})
    key = (assess, *(value for name, value in inputs.__dict__.items() if name not in ("coils", "given")))
    if key not in known:
        sheet = Work(work.calculator, inputs, work.rules, work.show)
        found = assess(inputs, sheet)
        known[key] = found, {check.key: check for check in sheet.checks}
    return known[key]


def choices(work: Work, assess: Assess) -> list[Choice]:
    """The operator's coils, best first."""
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    tried = [choice(work, row, number, assess) for number, row in enumerate(inputs.coils or ())]
    tried.sort(key=lambda each: (each.order, each.number))
    usable = [each for each in tried if each.suits]
    if usable:
        usable[0].rank = BEST
    return sorted(tried, key=lambda each: (each.order, each.number))


def choice(work: Work, row: CoilRow, number: int, assess: Assess) -> Choice:
    """One coil tried for the sheet's product."""
    found, checks = scratch(work, with_coil(work.inputs, row), assess)  # type: ignore[arg-type]
    judged = {key: checks[key] for key in JUDGED if key in checks}
    opening = found.fit.opening.size if found.fit.opening else None
    return Choice(row, number, _by_test(tried_word(row), judged), opening, found.slack, judged)


def _by_test(word: str, checks: Mapping[str, Check]) -> int:
    """The verdict of a coil's checks under what a test by hand said of it."""
    if word == KEPT:
        return rank({key: check for key, check in checks.items() if key not in HELD})
    return BY_HAND.get(word, rank(checks))


def rank(checks: Mapping[str, Check]) -> int:
    """The verdict of those checks, a key of WORDS."""
    outcome = {key: check.outcome for key, check in checks.items()}
    if any(outcome.get(key) == "stop" for key in UNFIT):
        return OTHER
    if "unknown" in (outcome.get("goes_in"), outcome.get("lean")) and outcome.get("goes_in") != "stop":
        return UNKNOWN
    if outcome.get("goes_in") == "stop":
        return TIGHT
    if outcome.get("lean") == "stop":
        return LOOSE
    return OTHER if "stop" in outcome.values() else USABLE


def table(work: Work, found: list[Choice]) -> None:
    """The table of coils."""
    if not found:
        return
    rows: list[tuple[str, ...]] = [(each.name, each.word, _room(work, each) + why(each)) for each in found]
    work.table("coils", "Your coils for this product", {"coil": "Coil", "verdict": "Verdict", "why": "Why"}, rows,
               "Best holds it most closely of those it goes into freely. A test by hand stands over the "
               "calculation.")  # fmt: skip


def _room(work: Work, found: Choice) -> str:
    if found.opening is None or found.slack is None or math.isinf(found.opening):
        return ""
    room = work.text(found.opening, "length", "down")
    short = found.slack < 0
    spare = work.text(abs(found.slack), "length", "up" if short else "down")
    return f"Room {room}, {spare} {'too little' if short else 'to spare'}. "


def why(found: Choice) -> str:
    """The test by hand, or else the check that decides, of those that the verdict rests on."""
    none = "None in stock. " if found.row.stock == 0 else ""
    if found.tried in BY_HAND and not _against_test(found):
        return f"{none}Tried by hand in this cabinet: {TRIED[found.tried].lower()}."
    decisive = tightest(_grounds(found))
    if decisive is None:
        return none
    lead = "Tightest: " if decisive.outcome == "pass" else ""
    return f"{none}{lead}{decisive.label}: {decisive.text}"


def _against_test(found: Choice) -> bool:
    """Whether it was kept, and something stops it that no test by hand tells of."""
    return found.tried == KEPT and found.rank > USABLE


def _grounds(found: Choice) -> list[Check]:
    if _against_test(found):
        return [check for key, check in found.checks.items() if key not in HELD and check.outcome == "stop"]
    keys = {LOOSE: ("lean",), TIGHT: ("goes_in",), OTHER: UNFIT}.get(found.rank, JUDGED)
    stops = [found.checks[key] for key in keys if key in found.checks and found.checks[key].outcome == "stop"]
    return stops or list(found.checks.values())

"""Every coil the operator owns, tried for this product in this lane: which is best, and why."""

from __future__ import annotations

import copy
import math
from collections.abc import Callable
from dataclasses import dataclass, field

from ..core import Work
from ..core.report import Check, tightest
from .fit import Found, Number
from .inputs import CoilRow, Inputs

Assess = Callable[[Inputs, Work], Found]

# What a choice of coil can change; the first three say why a coil cannot be used at all.
UNFIT = ("pair", "held", "coil_lane")
JUDGED = (*UNFIT, "goes_in", "pressed", "lean", "ride", "lane", "side")
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


def scratch(work: Work, inputs: Inputs, assess: Assess) -> tuple[Found, dict[str, Check]]:
    """The checks of other inputs, on a sheet nobody sees."""
    sheet = Work(work.calculator, inputs, work.rules, work.show)
    found = assess(inputs, sheet)
    return found, {check.key: check for check in sheet.checks}


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
    return Choice(row, number, _rank(judged), opening, found.slack, judged)


def _rank(checks: dict[str, Check]) -> int:
    outcome = {key: check.outcome for key, check in checks.items()}
    if any(outcome.get(key) == "stop" for key in UNFIT):
        return 5
    if "unknown" in (outcome.get("goes_in"), outcome.get("lean")) and outcome.get("goes_in") != "stop":
        return 2
    if outcome.get("goes_in") == "stop":
        return 4
    if any(outcome.get(key) == "stop" for key in ("lean", "side")):
        return 3
    return 5 if "stop" in outcome.values() else 1


def table(work: Work, found: list[Choice]) -> None:
    """The table of coils, and what to do about it."""
    if not found:
        return
    rows: list[tuple[str, ...]] = [(_name(each), _size(work, each.opening), work.text(each.slack, "length", "down"),
             WORDS[each.rank], _why(each)) for each in found]  # fmt: skip
    work.table("Your coils for this product", ("Coil", "Largest that goes in", "Slack", "Verdict", "Why"),
               rows, "Best holds it most closely of those it goes into freely.")  # fmt: skip
    if found[0].rank == 0:
        work.actions.append(f"Best of your coils: {_name(found[0])}.")


def _name(choice: Choice) -> str:
    row = choice.row
    count = "?" if row.coil_count is None else str(row.coil_count)
    kind = " dual" if row.coil_kind == "dual" else ""
    return row.name or f"{count}-count{kind}"


def _size(work: Work, opening: Number) -> str:
    return "–" if opening is None or math.isinf(opening) else work.text(opening, "length", "down")


def _why(choice: Choice) -> str:
    none = "None in stock. " if choice.row.stock == 0 else ""
    decisive = tightest(list(choice.checks.values()))
    if decisive is None:
        return none
    lead = "Tightest: " if decisive.outcome == "pass" else ""
    return f"{none}{lead}{decisive.label}: {decisive.text}"

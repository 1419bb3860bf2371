"""What a calculator gives back, as plain data."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from .rules import Rule

# Worst first. Unknown is worse than caution: a sheet with a gap in it cannot say go.
OUTCOMES = ("stop", "unknown", "caution", "pass")
OUTCOME_WORDS = {"stop": "Stop", "unknown": "Not known yet", "caution": "Take care", "pass": "Go"}
OUTCOME_SIGNS = {"stop": "✕", "unknown": "?", "caution": "!", "pass": "✓"}


@dataclass
class Step:
    """One line of working. ``numbers`` maps each symbol to its (inner value, kind)."""

    symbol: str
    label: str
    kind: str
    value: float
    formula: str = ""
    numbers: dict[str, tuple[float, str]] = field(default_factory=dict)
    rule: Rule | None = None
    note: str = ""


@dataclass
class Section:
    """A titled group of working steps."""

    title: str
    steps: list[Step] = field(default_factory=list)


@dataclass
class Value:
    """One result with its tolerance, in inner units."""

    key: str
    label: str
    symbol: str
    kind: str
    value: float | None
    tolerance: float = 0.0
    toward: str = "near"
    help: str = ""
    main: bool = False


@dataclass(frozen=True)
class Mend:
    """A change of inputs that turns a check to pass: paths and what to type there."""

    text: str
    changes: dict[str, Any]


@dataclass
class Check:
    """One comparison of a worked-out value with a limit."""

    key: str
    label: str
    outcome: str
    text: str
    at: str = ""
    kind: str = ""
    sense: str = ""
    value: float | None = None
    limit: float | None = None
    margin: float | None = None
    tolerance: float = 0.0
    rules: tuple[Rule, ...] = ()
    needs: tuple[str, ...] = ()
    mend: Mend | None = None
    caution: str = ""
    note: str = ""
    spare: str = ""  # what lies between value and limit, in words
    wants: tuple[str, ...] = ()  # keys of the rules it asks for, whether the set has them or not
    mild: bool = False  # whether it can never be more than a caution, whatever is measured

    @property
    def place(self) -> str:
        """Label and place as one phrase."""
        return f"{self.at}: {self.label[0].lower()}{self.label[1:]}" if self.at else self.label


@dataclass
class Table:
    """A table of results: titles of columns and rows of printed cells; ``keys`` name the columns for programs."""

    key: str
    title: str
    keys: tuple[str, ...]
    columns: tuple[str, ...]
    rows: list[tuple[str, ...]]
    note: str = ""
    detail: bool = False

    def told(self) -> dict[str, Any]:
        """The same as a report has it: plain data, lists alone, as JSON gives them back."""
        return {"key": self.key, "title": self.title, "keys": [*self.keys], "columns": [*self.columns],
                "rows": [[*row] for row in self.rows], "note": self.note, "detail": self.detail}  # fmt: skip


def worst(outcomes: list[str]) -> str:
    """The worst of some outcomes; nothing checked is unknown."""
    return min(outcomes, key=OUTCOMES.index, default="unknown")


def overall(checks: list[Check], more: list[str]) -> str:
    """The outcome of a sheet: that of its worst check, and of what else counts.

    Beside a caution, an unknown check that could never be more than one decides nothing: it is a caution either way.
    """
    outcomes = [*(check.outcome for check in checks), *more]
    if "caution" in outcomes:
        outcomes = [*more, *("caution" if check.mild and check.outcome == "unknown" else check.outcome for check in checks)]
    return worst(outcomes)


def deciding(checks: list[Check], outcome: str) -> Check | None:
    """The check that the outcome of a sheet rests on: the tightest of those that have it."""
    return tightest([check for check in checks if check.outcome == outcome]) or tightest(checks)


def tightest(checks: list[Check]) -> Check | None:
    """The check that decides: worst outcome first, then the least margin for its limit."""
    if not checks:
        return None
    return min(checks, key=lambda check: (OUTCOMES.index(check.outcome), _relative(check)))


def _relative(check: Check) -> float:
    if check.margin is None:
        return 0.0 if check.outcome != "pass" else float("inf")
    if check.outcome == "pass" and check.limit == check.margin == 0:
        return float("inf")  # nothing is allowed and nothing is there: no margin that could be told
    return (check.margin - check.tolerance) / max(abs(check.limit or 0.0), 1e-9)

"""Figures typed a second time in ``tests/cases/figures``, and how one is held against its rule.

A file of that folder is a subject (``conductors-copper.toml`` is part of ``conductors``). Each of its tables is one published table, typed from its page and
not from the rule files, with the rule sets that hold it::

    [[table]]
    sets = ["us"]                       # more than one where several sets hold the same published table
    source = "ANSI C84.1"
    edition = "2016"                    # left out where the rule names none
    clause = "Table 1"                  # for the rows that name none of their own
    status = "published"
    seen = "where the second typing came from"
    [table.rows]                        # numbers, with their unit; 5/16 and 0.25*12 are arithmetic
    volts_low = "110 V"
    cold = ["41 °F", "3-501.16(A)"]     # a clause of its own
    [table.words]                       # words: what must stand in them, in this order
    earth = ["no more than 0.1 Ω"]
    [table.clauses]                     # clauses of words and lists that differ from the table's
    earth = "Table 2"
    [table.lists]                       # a figure that is a table itself: every row, none more
    sizes = [{ name = "14" }]

What nobody saw has no page to be typed from: what is told from memory, worked out here or common practice. Where something is worked out from it or
cited with it, it stands in the files called SUBJECT-unseen.toml all the same, taken over as it was decided. That proves nothing of its truth; it keeps
a figure from changing by a slip, and shows every change of one as such. What follows from other figures is worked out anew in ``test_figures.py``.
"""

from __future__ import annotations

import functools
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from calculators.core import rules, units
from calculators.core.rules import Rule

FOLDER = Path(__file__).parents[1] / "cases" / "figures"
SETS = (rules.COMMON, *rules.RULE_SETS)
NUMBER = re.compile(r"\d+(?:\.\d+)?")
# Words that turn a rule into its opposite when one is lost or changed.
TURNING = re.compile(r"\b(?:no|not|nothing|never|none|least|most|more|less|before|after|above|below|up to|free|within|"
                     r"at least|lit|dark|yes)\b")  # fmt: skip


@dataclass(frozen=True)
class Typed:
    """One figure as the second typing has it."""

    rule_set: str
    key: str
    source: str
    edition: str
    clause: str
    status: str
    seen: str
    number: float | None = None
    unit: str = ""
    holds: tuple[str, ...] = ()
    rows: Any = None

    def disagreements(self, rule: Rule) -> list[str]:
        """What of the rule is not as it was typed here; nothing where both agree."""
        told = [name for name in ("source", "edition", "clause", "status") if getattr(rule, name) != getattr(self, name)]
        return told + self._value(rule)

    def _value(self, rule: Rule) -> list[str]:
        if self.number is not None:
            return [] if (rule.value, rule.unit) == (self.number, self.unit) else ["value or unit"]
        if self.rows is not None:
            return [] if (rule.value, rule.unit) == (self.rows, "") else ["rows"]
        return [] if isinstance(rule.value, str) and not rule.unit and self._stands_in(rule.value) else ["words"]

    def _stands_in(self, words: str) -> bool:
        """Every phrase, in order; outside of them no number and no word that turns the sense."""
        for phrase in self.holds:
            before, found, words = words.partition(phrase)
            if not found or decides(before):
                return False
        return bool(self.holds) and not decides(words)


def decides(words: str) -> bool:
    """Whether words hold a number, or a word that turns the sense."""
    return bool(NUMBER.search(words) or TURNING.search(words))


def arithmetic(text: str) -> float:
    """``3/4*25.4`` worked out exactly, then rounded once."""
    value = Fraction(1)
    for factor in text.split("*"):
        top, *bottoms = factor.split("/")
        value *= Fraction(top)
        for bottom in bottoms:
            value /= Fraction(bottom)
    return float(value)


def _read(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _figures_of(table: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for key, row in table.get("rows", {}).items():
        text, *clause = [row] if isinstance(row, str) else row
        number, _, unit = text.partition(" ")
        yield key, {"number": arithmetic(number), "unit": unit, **({"clause": clause[0]} if clause else {})}
    own = table.get("clauses", {})
    for key, holds in table.get("words", {}).items():
        yield key, {"holds": tuple(holds), "clause": own.get(key, table.get("clause", ""))}
    for key, rows in table.get("lists", {}).items():
        yield key, {"rows": rows, "clause": own.get(key, table.get("clause", ""))}


def _typed() -> Iterator[Typed]:
    for path in sorted(FOLDER.glob("*.toml")):
        subject = path.stem.partition("-")[0]
        for table in _read(path).get("table", ()):
            shared = {name: table.get(name, "") for name in ("source", "edition", "clause", "status", "seen")}
            for name in table["sets"]:
                for key, facts in _figures_of(table):
                    yield Typed(**{**shared, **facts, "rule_set": name, "key": f"{subject}.{key}"})


@functools.cache
def typed() -> tuple[Typed, ...]:
    """Every figure that is typed a second time."""
    return tuple(_typed())


@functools.cache
def untyped() -> dict[tuple[str, str], str]:
    """Figures that could not be typed a second time, with the reason."""
    listed = _read(FOLDER / "untyped.toml")["figure"]
    return {(name, key): each["why"] for each in listed for name in each["sets"] for key in each["keys"]}


@functools.cache
def held() -> dict[tuple[str, str], Rule]:
    """Every figure of every set's own files; what a set takes from the common files stands there once."""
    return {(name, key): rule for name in SETS for subject in rules.SUBJECTS
            for key, rule in rules._read_subject(name, subject).items()}  # fmt: skip


def seen(rule: Rule) -> bool:
    """Whether it says that it was seen somewhere, so that it has a page to be typed from."""
    return rule.status in ("published", "reprinted")


def owed(figures: dict[tuple[str, str], Rule]) -> set[tuple[str, str]]:
    """What was seen; and of the rest numbers, lists and whatever names a clause. Words of the trade alone are free."""
    return {at for at, rule in figures.items()
            if seen(rule) or rule.clause or isinstance(rule.value, int | float | list) or rule.key == "coins.currency"}  # fmt: skip


def missing(figures: dict[tuple[str, str], Rule]) -> set[tuple[str, str]]:
    """Those owed that are neither typed again nor listed with a reason."""
    return owed(figures) - {(each.rule_set, each.key) for each in typed()} - set(untyped())


@functools.cache
def left_out() -> tuple[dict[str, str], ...]:
    """Clauses of the same tables that no figure holds, each with its reason."""
    return tuple(_read(FOLDER / "left_out.toml")["left_out"])


def unit_fits(rule: Rule) -> bool:
    """Whether the unit belongs to the kind."""
    try:
        units.to_inner(1.0, rule.unit, rule.kind)
    except KeyError:
        return False
    return True

"""The page of the rules: every figure of the operator's rule set, and every gap."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import calculators
from calculators.core.html import grid
from calculators.core.rules import OWN, STATUSES, Rule, RuleSet
from tools.blocks.values import figure_text
from tools.book import text
from tools.book.book import Book

from .page import Page

SUBJECT_TITLES = {
    "space": "Space and reach", "floor": "Floors", "circuit": "Circuits", "conductors": "Wire",
    "coins": "Coins and bills", "handling": "Lifting and pushing", "delivery": "Delivery",
    "goods": "Goods", "food": "Cold food",
}  # fmt: skip


def pages(book: Book) -> Iterator[Page]:
    """The one page of the operator's rule set: another country's law is nobody's business here."""
    yield Page("reference/rules.md", "Rules and sources", page(book.data.rules, book.data.units), ("Look up",), order=70)


def _ours(ours: RuleSet) -> str:
    own = [rule for rule in ours.figures.values() if rule.status == OWN]
    if not own:
        return "None of its figures is our own."
    names = text.markdown(", ".join(f"{rule.label} ({rule.key})" for rule in own))
    return f"In its place or beside it stand our own figures: {names}. Every sheet that uses one says so."


def counts(rules: RuleSet) -> dict[str, int]:
    """How many figures have each status."""
    return {status: sum(rule.status == status for rule in rules.figures.values()) for status in STATUSES}


def page(ours: RuleSet, units: str) -> str:
    """Every figure with clause, status and note; what is our own, and what is lacking, stands first."""
    total = [(status, str(count), STATUSES[status]) for status, count in counts(ours).items()]
    parts = [
        f"This handbook goes by the rules of: **{ours.title}**. {_ours(ours)}",
        "Local law, the inspector and the people licensed for the work decide; no figure here gives leave.",
        f"{len(ours.figures)} figures, each with its source, its clause and how far to trust it.",
        "## How far to trust a figure",
        grid(f"Figures by status, {ours.title}", ("Status", "Figures", "Meaning"), total),
        "## No figure",
        _gaps(ours),
    ]
    for subject in dict.fromkeys(key.split(".")[0] for key in ours.figures):
        figures = [rule for key, rule in ours.figures.items() if key.startswith(f"{subject}.")]
        parts.append(f"## {SUBJECT_TITLES.get(subject, subject.capitalize())}\n\n{_figures(subject, figures, units)}")
    return "\n\n".join(parts) + "\n"


def _gaps(rules: RuleSet) -> str:
    gaps = lacking(rules)
    if not gaps:
        return "Every check finds the figures that it needs."
    rows = [(key, _checks(where)) for key, where in gaps.items()]
    return ("These checks stay unknown and say so. A figure of our own in rules.toml decides them.\n\n"
            + grid("Figures that checks need and this rule set lacks", ("Key", "Needed by"), rows))  # fmt: skip


def _checks(where: list[tuple[str, str]]) -> str:
    """Calculators with their checks, each named once."""
    titles = dict.fromkeys(title for title, _ in where)
    return "; ".join(f"{title}: {', '.join(dict.fromkeys(label for each, label in where if each == title))}"
                     for title in titles)  # fmt: skip


def lacking(rules: RuleSet) -> dict[str, list[tuple[str, str]]]:
    """Keys that checks need and the set has not, each with calculator and check."""
    gaps: dict[str, list[tuple[str, str]]] = {}
    for key, title, label in _needed(rules):
        if not any(known == key or (key.endswith("_") and known.startswith(key)) for known in rules.figures):
            gaps.setdefault(f"{key}…" if key.endswith("_") else key, []).append((title, label))
    return gaps


def _needed(rules: RuleSet) -> Iterator[tuple[str, str, str]]:
    """Every key or beginning of a key that a check asks for under this rule set."""
    for name in calculators.NAMES:
        found = calculators.get(name)
        absent = rules.get(f"{name}.no_such_rule")
        for spec in found.checks:
            if absent is None or spec.key not in absent.value:
                yield from ((key, found.title, spec.label) for key in (*spec.rules, *spec.families))


def _figures(subject: str, figures: list[Rule], units: str) -> str:
    rows = [(rule.label, value(rule, units), rule.citation, rule.note, rule.key) for rule in figures]
    return grid(f"Figures: {subject}", ("Figure", "Value", "Source and status", "Note", "Key"), rows)


def value(rule: Rule, units: str) -> str:
    """A figure's value as a person reads it, tables row by row."""
    if isinstance(rule.value, list):
        return "; ".join(_row(row) for row in rule.value)
    if isinstance(rule.value, dict):
        return ", ".join(f"{name} {each}" for name, each in rule.value.items())
    return figure_text(rule, units)


def _row(row: Any) -> str:
    if not isinstance(row, dict):
        return str(row)
    if set(row) == {"name"}:
        return str(row["name"])
    return ", ".join(f"{name} {_several(each)}" for name, each in row.items())


def _several(each: Any) -> str:
    return " or ".join(map(str, each)) if isinstance(each, Iterable) and not isinstance(each, str) else str(each)

"""The pages of the rules: all rule sets side by side, and each with every figure and every gap."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import calculators
from calculators.core.html import grid
from calculators.core.rules import OWN, RULE_SETS, STATUSES, Rule, RuleSet, load
from tools.blocks.values import figure_text
from tools.book.book import Book

from .page import Page

MENU = ("Look up",)
SUBJECT_TITLES = {
    "space": "Space and reach", "floor": "Floors", "circuit": "Circuits", "conductors": "Wire",
    "coins": "Coins and notes", "handling": "Lifting and pushing", "delivery": "Delivery",
    "goods": "Goods", "food": "Cold food",
}  # fmt: skip


def pages(book: Book) -> Iterator[Page]:
    """The overview and a page for each rule set, the operator's own figures in theirs."""
    yield from written(book.data.rules)


def written(ours: RuleSet) -> Iterator[Page]:
    """The same for the operator's rules alone."""
    sets = [ours if name == ours.name else load(name) for name in RULE_SETS]
    yield Page("reference/rules.md", "Rules and sources", overview(ours, sets), MENU, order=70)
    for each in sets:
        yield Page(f"reference/rules-{each.name}.md", f"Rules, {each.title}", page(each), MENU,
                   f"Rules: {each.title}", 71, f"Rules: {each.title}")  # fmt: skip


# -- overview ---------------------------------------------------------------------------


def overview(ours: RuleSet, sets: list[RuleSet]) -> str:
    """How many figures each set has, how far to trust them, what is ours, what is lacking."""
    parts = [
        f"This handbook goes by the rules of: **{ours.title}**. {_ours(ours)}",
        "Local law, the inspector and the people licensed for the work decide; no figure here gives leave.",
        "## How far to trust a figure",
        grid("How far to trust a figure", ("Status", "Meaning"), STATUSES.items()),
        "## Figures by rule set and status",
        grid("Figures by rule set and status", ("Rule set", *STATUSES, "In all", "Lacking"),
             [(each.title, *(str(count) for count in counts(each).values()), str(len(each.figures)),
               str(len(lacking(each)))) for each in sets]),
        "## The rule sets",
        "\n".join(f"- [{each.title}](rules-{each.name}.md)" for each in sets),
    ]  # fmt: skip
    return "\n\n".join(parts) + "\n"


def _ours(ours: RuleSet) -> str:
    own = [rule for rule in ours.figures.values() if rule.status == OWN]
    if not own:
        return "None of its figures is our own."
    names = ", ".join(f"{rule.label} ({rule.key})" for rule in own)
    return f"In its place or beside it stand our own figures: {names}. Every sheet that uses one says so."


def counts(rules: RuleSet) -> dict[str, int]:
    """How many figures have each status."""
    return {status: sum(rule.status == status for rule in rules.figures.values()) for status in STATUSES}


# -- one rule set -------------------------------------------------------------------------


def page(rules: RuleSet) -> str:
    """Every figure of a rule set with clause, status and note; what it lacks stands first."""
    total = [(status, str(count), STATUSES[status]) for status, count in counts(rules).items()]
    parts = [
        f"{len(rules.figures)} figures, each with its source, its clause and how far to trust it. "
        "[All rule sets](rules.md)",
        "## By status",
        grid(f"Figures by status, {rules.title}", ("Status", "Figures", "Meaning"), total),
        "## No figure",
        _gaps(rules),
    ]
    for subject in dict.fromkeys(key.split(".")[0] for key in rules.figures):
        figures = [rule for key, rule in rules.figures.items() if key.startswith(f"{subject}.")]
        parts.append(f"## {SUBJECT_TITLES.get(subject, subject.capitalize())}\n\n{_figures(subject, figures)}")
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


def _figures(subject: str, figures: list[Rule]) -> str:
    rows = [(rule.label, value(rule), rule.citation, rule.note, rule.key) for rule in figures]
    return grid(f"Figures: {subject}", ("Figure", "Value", "Source and status", "Note", "Key"), rows)


def value(rule: Rule) -> str:
    """A figure's value as a person reads it, tables row by row."""
    if isinstance(rule.value, list):
        return "; ".join(_row(row) for row in rule.value)
    if isinstance(rule.value, dict):
        return ", ".join(f"{name} {each}" for name, each in rule.value.items())
    return figure_text(rule)


def _row(row: Any) -> str:
    if not isinstance(row, dict):
        return str(row)
    if set(row) == {"name"}:
        return str(row["name"])
    return ", ".join(f"{name} {_several(each)}" for name, each in row.items())


def _several(each: Any) -> str:
    return " or ".join(map(str, each)) if isinstance(each, Iterable) and not isinstance(each, str) else str(each)

"""Coins and notes of the data against those of the rule set: a tube of foreign coins pays no change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from calculators.core import Choice, RuleSet
from calculators.core.fields import Field
from tools.problems import Problem

from .tables import TABLES, Row

if TYPE_CHECKING:
    from .data import OperatorData

_COINS = "coins."


def check(data: OperatorData, problems: list[Problem]) -> None:
    """Every coin or note of the tables must be one of the rule set that ``handbook.toml`` names."""
    for table in TABLES:
        columns = {key: each for key, each in table.columns().items() if each.rule.startswith(_COINS)}
        for row in data.tables[table.name]:
            problems.extend(_row(row, columns, data.rules))


def _row(row: Row, columns: Mapping[str, Field], rules: RuleSet) -> Iterator[Problem]:
    for key, each in columns.items():
        value = row.values.get(key)
        place = f"row {row.number}, column {key}"
        if isinstance(each, Choice) and each.rule_item is None:
            known = each.words(rules)
            if value is not None and value not in known:
                yield Problem(row.file, place, f"There is no “{row.typed[key]}” in the money of: {rules.title}.",
                              f"It must be one of: {', '.join(known)}. Or name other rules in handbook.toml.")  # fmt: skip
        elif value and not each.offered(rules):
            yield Problem(row.file, place, f"{each.label}: there is no such bill in: {rules.title}.",
                          "Write no, or leave the cell empty.")  # fmt: skip

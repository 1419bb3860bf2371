"""Inputs of a site's row, its cabinet's and its gear's that cannot all be true."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import calculators
from calculators.core import Calculator, Contradiction, InputErrors
from calculators.core.reading import read_record
from calculators.core.units import Units
from tools.problems import Problem

from .stocked import FROM_PLAN
from .tables import Row

if TYPE_CHECKING:
    from .data import OperatorData


def check(data: OperatorData, problems: list[Problem]) -> None:
    """Tell each contradiction with the site's row; only where every cell could be read."""
    if problems:
        return
    judge = _Judge(data)
    for row in data.tables["sites"]:
        for name in calculators.NAMES:
            if name not in FROM_PLAN:
                problems += [Problem(row.file, f"row {row.number}, columns {' and '.join(each.paths)}", each.text, "")
                             for each in judge.of(calculators.get(name), row)]  # fmt: skip


class _Judge:
    """Asks each calculator; once for all sites of which the tables say the same to it, as they mostly do of a model's."""

    def __init__(self, data: OperatorData) -> None:
        self.data, self.show = data, Units(data.units, rules=data.rules)
        self.known: dict[str, list[Contradiction]] = {}

    def of(self, calculator: Calculator, row: Row) -> list[Contradiction]:
        """What cannot all be true of a site, as its form stands there before anybody types."""
        if calculator.contradictions is None:
            return []
        typed = self.data.prefill(calculator.name, {"site": row.typed["key"]})
        asked = f"{calculator.name} {json.dumps(typed, sort_keys=True)}"
        if asked not in self.known:
            self.known[asked] = self._told(calculator, typed)
        return self.known[asked]

    def _told(self, calculator: Calculator, typed: dict[str, Any]) -> list[Contradiction]:
        try:
            inputs = read_record(calculator.inputs, typed, self.data.units)
        except InputErrors:
            return []  # what the form does not take, such as a price that was confirmed, its answer tells
        return list(calculator.contradictions(inputs, self.show)) if calculator.contradictions else []

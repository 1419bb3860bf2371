"""Inputs of a site's row, its cabinet's and its gear's that cannot all be true."""

from __future__ import annotations

from typing import TYPE_CHECKING

import calculators
from calculators.core import Calculator, InputErrors
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
    for row in data.tables["sites"]:
        for name in set(calculators.NAMES) - FROM_PLAN:
            problems += _of(data, calculators.get(name), row)


def _of(data: OperatorData, calculator: Calculator, row: Row) -> list[Problem]:
    if calculator.contradictions is None:
        return []
    typed = data.prefill(calculator.name, {"site": row.typed["key"]})
    try:
        inputs = read_record(calculator.inputs, typed, data.units)
    except InputErrors:
        return []  # what the form does not take, such as a price that was confirmed, its answer tells
    found = calculator.contradictions(inputs, Units(data.units, rules=data.rules))
    return [Problem(row.file, f"row {row.number}, columns {' and '.join(each.paths)}", each.text, "") for each in found]

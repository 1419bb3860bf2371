"""The frame every calculator stands in; it knows no calculator, file, browser or clock."""

from .calculator import Calculator, CheckSpec, ValueSpec
from .errors import CalculatorError, Contradiction, InputError, InputErrors, UnknownCalculator
from .fields import Choice, Count, Field, Flag, Money, Quantity, Record, Rows, Text
from .rules import Rule, RuleSet
from .work import Work

__all__ = [
    "Calculator",
    "CalculatorError",
    "CheckSpec",
    "Choice",
    "Contradiction",
    "Count",
    "Field",
    "Flag",
    "InputError",
    "InputErrors",
    "Money",
    "Quantity",
    "Record",
    "Rows",
    "Rule",
    "RuleSet",
    "Text",
    "UnknownCalculator",
    "ValueSpec",
    "Work",
]

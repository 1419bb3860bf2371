"""The frame every calculator stands in; it knows no calculator, file, browser or clock."""

from .calculator import Calculator, CheckSpec, ValueSpec
from .errors import CalculatorError, Contradiction, InputError, InputErrors, UnknownCalculator
from .fields import Choice, Count, Field, Flag, Log, Money, Quantity, Record, Rows, Text
from .moments import Day, Moment
from .rules import Rule, RuleSet
from .work import Work

__all__ = [
    "Calculator",
    "CalculatorError",
    "CheckSpec",
    "Choice",
    "Contradiction",
    "Count",
    "Day",
    "Field",
    "Flag",
    "InputError",
    "InputErrors",
    "Log",
    "Moment",
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

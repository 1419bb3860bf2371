"""Formulas: evaluated from the text that is printed, in degrees, and printed as a person writes them."""

from __future__ import annotations

import math

import pytest

from calculators.core import formula


@pytest.mark.parametrize(("text", "value"), [
    ("sin(30)", 0.5), ("cos(60)", 0.5), ("tan(45)", 1), ("asin(1)", 90), ("acos(0)", 90), ("atan(1)", 45),
    ("sqrt(16)", 4), ("exp(0)", 1), ("ln(exp(2))", 2), ("floor(2.9)", 2), ("ceil(2.1)", 3), ("min(2, 3)", 2),
    ("max(2, 3)", 3), ("abs(-2)", 2), ("pi", math.pi), ("2**3", 8), ("7 - 2*3", 1),
])  # fmt: skip
def test_functions_are_those_of_a_pocket_calculator(text: str, value: float) -> None:
    """Angles in degrees both ways, natural logarithm, whole numbers down and up."""
    found = formula.evaluate(text, {})
    assert isinstance(found, float)
    assert found == pytest.approx(value, rel=1e-14)


def test_symbols_take_their_numbers_in_order_of_appearance() -> None:
    """Functions and constants are no symbols; one that comes twice is named once; Greek letters count."""
    text = "w_2 + 2*sin(α)*h - w_2/pi + max(h, x)"
    assert formula.symbols(text) == ("w_2", "α", "h", "x")
    assert formula.evaluate("w_2 - h", {"w_2": 5, "h": 7}) == -2


def test_nothing_but_the_named_functions_can_be_called() -> None:
    """No builtin comes in by a formula."""
    for text in ("open('x')", "__import__('os')", "print(1)"):
        with pytest.raises(NameError):
            formula.evaluate(text, {})


@pytest.mark.parametrize(("text", "printed"), [
    ("a*b", "a · b"), ("a * b/c", "a · b / c"), ("x**2", "x²"), ("x** 3", "x³"), ("x**2 - y", "x² − y"),
    ("2*pi*r", "2 · π · r"), ("sqrt(a + b)", "√(a + b)"), ("my_sqrt(a)", "my_sqrt(a)"), ("pie", "pie"), ("-a", "−a"),
])  # fmt: skip
def test_formulas_are_printed_as_a_person_writes_them(text: str, printed: str) -> None:
    """A dot, a bar, squares, a root sign, a real minus; no part of a name is touched."""
    assert formula.printed(text) == printed


def test_numbers_stand_where_their_symbols_stood() -> None:
    """A negative one in brackets, whichever minus it has; functions stay."""
    numbers = {"a": "2", "b": "−3", "c": "-4.5"}
    assert formula.substituted("a*b - sin(c)", numbers) == "2 · (−3) − sin((−4.5))"
    assert formula.substituted("a_1 + a", {"a_1": "7", "a": "2"}) == "7 + 2"

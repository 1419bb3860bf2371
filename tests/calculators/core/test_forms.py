"""The form of a calculator as a page is built with it."""

from __future__ import annotations

import re

import pytest

import calculators
from calculators.core import forms


@pytest.mark.parametrize(("typed", "box", "hidden"), [
    ("38 1/2", "38 1/2", False), ("38 1/2 in", "38 1/2", False), ("", "", False), ("990 mm", "990 mm", True),
    ("3 ft 2 1/2", "3 ft 2 1/2", True)])  # fmt: skip
def test_a_value_with_its_own_unit_stands_without_the_mark(typed: str, box: str, hidden: bool) -> None:
    """The mark beside a box is the unit of what stands in it, or is not shown."""
    html = forms.form(calculators.get("clearance"), {"cabinet_width": typed}, "us", prefix="x")
    value, mark = re.search(
        r'name="cabinet_width" value="([^"]*)"[^>]*><span class="hb-unit" data-unit-of="length"( hidden)?>in<', html
    ).groups()  # fmt: skip
    assert (value, mark is not None) == (box, hidden)

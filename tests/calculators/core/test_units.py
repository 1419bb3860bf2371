"""Quantities as people write them, and as they are printed."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.core import units
from calculators.core.units import Units

US, SI = Units("us"), Units("si")


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [("6' 2 3/8\"", 1889.125), ("74 3/8", 1889.125), ("74-3/8", 1889.125), ("1.89 m", 1890),
     ("6 ft 2 in", 1879.6), ("6′ 2″", 1879.6), ("6' 2", 1879.6), ("½", 12.7), (".5 in", 12.7),
     ("1890 mm", 1890), ("189cm", 1890), ("3 ft", 914.4), ("-1 in", -25.4)],
)  # fmt: skip
def test_lengths_are_read_as_people_write_them(text: str, millimetres: float) -> None:
    """Inches where nothing is said; feet, fractions and metric with their marks."""
    assert units.parse(text, "length", "us") == pytest.approx(millimetres, rel=1e-12)


def test_a_bare_number_is_in_the_system_s_own_unit() -> None:
    """1890 on a metric form is millimetres; on a run of cable it is metres."""
    assert units.parse("1890", "length", "si") == 1890
    assert units.parse("75", "run", "us") == pytest.approx(22.86)
    assert units.parse("23", "run", "si") == 23


@pytest.mark.parametrize(
    ("text", "kind"),
    [("12,5", "length"), ("1,200", "length"), ("", "length"), ("wide", "length"), ("3 apples", "length"),
     ("6 in 2 ft", "length"), ("6 ft 6 ft", "length"), ("12 V 3", "voltage"), ("1/0", "length"),
     ("350 kg", "voltage"), ("warm", "temperature")],
)  # fmt: skip
def test_what_cannot_be_read_says_why(text: str, kind: str) -> None:
    """No guess: a comma, a strange unit, two numbers where one belongs."""
    with pytest.raises(ValueError, match=r"\w{3}"):
        units.parse(text, kind, "us")


# Exact by definition: NIST SP 811 (2008), Appendix B.8 for the inch, foot, pound and
# pound-force; psi-like floor loads follow from them.
@pytest.mark.parametrize(
    ("number", "unit", "kind", "inner", "digits"),
    [(1, "in", "length", 25.4, 12), (1, "ft", "length", 304.8, 12), (1, "lb", "mass", 0.45359237, 12),
     (1, "lbf", "force", 4.448222, 7), (1, "lb/ft²", "floor_load", 4.882428, 7),
     (1, "oz", "small_mass", 28.34952, 7), (41, "°F", "temperature", 5, 12),
     (135, "°F", "temperature", 57.22222, 7)],
)  # fmt: skip
def test_units_agree_with_nist_sp_811(
    number: float, unit: str, kind: str, inner: float, digits: int
) -> None:
    """Each conversion to the printed digits of the table."""
    assert units.to_inner(number, unit, kind) == pytest.approx(inner, rel=0.5 * 10.0 ** (1 - digits))


@given(st.sampled_from(sorted(units.KINDS)), st.floats(-1e6, 1e6), st.sampled_from(["us", "si"]))
def test_printed_and_inner_numbers_are_inverse(kind: str, value: float, system: str) -> None:
    """Going out to the printed unit and back changes nothing."""
    show = Units(system)
    assert math.isclose(show.inner(show.number(value, kind), kind), value, rel_tol=1e-12, abs_tol=1e-9)


@given(st.floats(0, 5000), st.sampled_from(["us", "si"]), st.sampled_from(["up", "down"]))
def test_rounding_goes_the_safe_way(value: float, system: str, toward: str) -> None:
    """Up never prints less than the value, down never more; neither by a whole step."""
    show = Units(system)
    rounded = show.rounded(value, "length", toward)
    apart = (rounded - value) * (1 if toward == "up" else -1)
    # A value within a millionth of a step counts as that step.
    assert -2e-6 * show.step("length") <= apart < show.step("length")


@given(st.integers(0, 16 * 200))
def test_a_printed_inch_length_reads_back_exactly(sixteenths: int) -> None:
    """What the handbook prints may be typed into it again."""
    value = sixteenths * 25.4 / 16
    assert units.parse(US.text(value, "length"), "length", "us") == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "kind", "us", "si"),
    [(890, "length", "35 1/16 in", "890 mm"), (22.86, "run", "75.0 ft", "22.9 m"),
     (350, "mass", "772 lb", "350 kg"), (5, "temperature", "41 °F", "5 °C"),
     (12.5, "current", "12.50 A", "12.50 A"), (125, "money", "$1.25", "$1.25"),
     (-12.7, "length", "−1/2 in", "−13 mm"), (3.0, "percent", "3.0%", "3.0%")],
)  # fmt: skip
def test_values_print_as_the_reader_writes_them(value: float, kind: str, us: str, si: str) -> None:
    """Fractions of an inch on the tape, whole millimetres, a real minus."""
    assert US.text(value, kind) == us
    assert SI.text(value, kind) == si

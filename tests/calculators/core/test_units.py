"""Quantities as people write them, and as they are printed."""

from __future__ import annotations

import math
import re

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


@pytest.mark.parametrize(
    ("text", "kind", "inner"),
    [("35.", "length", 889), ("35 1⁄2", "length", 901.7), ("35½", "length", 901.7), ("1⅔ ft", "length", 508),
     ("5 m2", "area", 5), ("5 m²", "area", 5), ("2.5 mm2", "wire_area", 2.5), ("2.5mm²", "wire_area", 2.5),
     ("40 kg/m2", "floor_load", 40), ("40 kg/m²", "floor_load", 40), ("10 ft2", "area", 0.9290304),
     ("1 psf", "floor_load", 4.8824276), ("5 a day", "per_day", 5), ("5 /day", "per_day", 5), ("25 %", "percent", 25),
     ("9.8 N/kg", "gravity", 9.8), ("3 Ω/km", "impedance_per_length", 3), ("12 mΩ", "impedance", 0.012),
     ("+5 in.", "length", 127), ("-4 °C", "temperature", -4), ("40 °F", "temperature", 40 / 9), ("3 turns", "turns", 3)],
)  # fmt: skip
def test_units_are_read_as_people_type_them(text: str, kind: str, inner: float) -> None:
    """Squares written with a 2, fraction bars, a full stop at the end, the printed unit itself."""
    assert units.parse(text, kind, "us") == pytest.approx(inner, rel=1e-7)


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("kind", [kind for kind in units.KINDS if kind != "money"])
def test_whatever_is_printed_can_be_typed_back(kind: str, system: str) -> None:
    """A printed value reads back as the printed step, in every kind."""
    show = Units(system)
    for value in (0.3, 1.0, 7.77, 41.0, 1234.5):
        rounded = show.rounded(value, kind, "near")
        read = units.parse(show.text(value, kind), kind, system)
        assert read == pytest.approx(rounded, abs=1e-6 * max(1.0, show.step(kind)), rel=1e-6)


@pytest.mark.parametrize("text", ["9" * 5000, "1" + " " * 100 + "mm", "٣", "1/" + "9" * 70])
def test_what_nobody_types_is_refused_at_once(text: str) -> None:
    """Endless digits and foreign figures are no numbers that a person typed here."""
    with pytest.raises(ValueError, match=r"\w{3}"):
        units.parse(text, "length", "us")
    with pytest.raises(ValueError, match="not a number"):
        units.amount("9" * 61)


KINDS_COMPARED = ["length", "mass", "current", "temperature", "percent", "slope", "area", "force", "money", "run"]


@given(
    value=st.floats(0, 3000), apart=st.floats(-3, 3), kind=st.sampled_from(KINDS_COMPARED),
    system=st.sampled_from(["us", "si"]), up=st.booleans(),
)  # fmt: skip
def test_value_limit_and_spare_subtract_as_printed(
    value: float, apart: float, kind: str, system: str, up: bool
) -> None:
    """A reader with a pencil gets the printed difference, on the right side of the limit, and never too much."""
    show = Units(system)
    if kind == "money":
        value, apart = round(value), round(apart)
    limit = value - apart
    told = [_exact(text, kind) for text in show.compared(value, limit, kind, up=up)]
    assert abs(told[0] - told[1]) == pytest.approx(told[2], abs=1e-9)
    margin = apart if up else -apart
    printed = told[0] - told[1] if up else told[1] - told[0]
    step = show.inner_step(kind)
    if margin >= 0:
        assert printed >= -1e-9
    else:
        assert printed <= 1e-9
    assert printed <= margin / step + 1e-3 * max(1.0, 1 / step)


def _exact(text: str, kind: str) -> float:
    """The number alone, fractions of an inch counted exactly; no unit, so no offset either."""
    found = re.match(r"(−?)\$?([\d./ ]*\d)", text)
    assert found, text
    return sum(float(units.amount(word)) for word in found[2].split()) * (-1 if found[1] else 1)


@pytest.mark.parametrize(
    ("value", "limit", "kind", "system", "up", "told"),
    [(914.0, 914.4, "length", "us", True, ("35 15/16 in", "36 in", "1/16 in")),
     (914.5, 914.4, "length", "si", True, ("914.5 mm", "914.4 mm", "0.1 mm")),
     (914.9, 914.4, "length", "us", True, ("36 in", "36 in", "0 in")),
     (914.3, 914.4, "length", "us", False, ("36 in", "36 in", "0 in")),
     (5.0, 4.8, "temperature", "us", False, ("41 °F", "40 °F", "1 °F")),
     (5.2, 5.0, "temperature", "si", False, ("6 °C", "5 °C", "1 °C")),
     (15.999, 16.0, "current", "si", False, ("16.00 A", "16.00 A", "0.00 A")),
     (16.001, 16.0, "current", "si", False, ("16.01 A", "16.00 A", "0.01 A")),
     (250, 175, "money", "us", True, ("$2.50", "$1.75", "$0.75")),
     (12.3, 12.3, "percent", "us", True, ("12.3%", "12.3%", "0.0%"))],
)  # fmt: skip
def test_what_is_printed_of_a_comparison(
    value: float, limit: float, kind: str, system: str, up: bool, told: tuple[str, str, str]
) -> None:
    """Worked by hand: value to its unsafe side, limit to its strict one, another digit where they cross."""
    assert Units(system).compared(value, limit, kind, up=up) == told

"""Every unit word that is read, and every printed unit, against the definition typed in a second time.

Exact by NIST SP 811 (2008), Appendix B: inch 25.4 mm, foot 304.8 mm, pound 0.45359237 kg, ounce a
sixteenth of it, standard gravity 9.80665 m/s²; a minute of arc is 60 seconds; a British thermal unit
(international table) is a pound of water by a degree Fahrenheit at 4.1868 J for a gram and a degree Celsius.
"""

from __future__ import annotations

import pytest

from calculators.core.units import KINDS, Units, to_inner

LB, FT, G = 0.45359237, 0.3048, 9.80665
BTU = LB * 1000 * 4.1868 * 5 / 9 / 3600  # W of one in an hour
MPH = 1609.344 / 3600
PSF = LB * G / FT**2
LENGTH = {"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4, "ft": 304.8,
          "foot": 304.8, "feet": 304.8, "'": 304.8}  # fmt: skip
MASS = {"kg": 1, "g": 1e-3, "t": 1000, "lb": LB, "lbs": LB, "oz": LB / 16}
SLOPE = {"%": 10, "mm/m": 1, "in/ft": 25.4 / FT}
WORDS: dict[str, dict[str, float]] = {
    "length": LENGTH, "fine_length": LENGTH, "run": {word: size / 1000 for word, size in LENGTH.items()},
    "area": {"m2": 1, "m²": 1, "ft2": FT**2, "ft²": FT**2},
    "small_area": {"m2": 1, "m²": 1, "cm2": 1e-4, "cm²": 1e-4, "ft2": FT**2, "ft²": FT**2, "in2": (FT / 12) ** 2,
                   "in²": (FT / 12) ** 2},
    "mass": MASS, "load": MASS, "small_mass": {word: 1000 * size for word, size in MASS.items()},
    "coin_mass": {word: 1000 * size for word, size in MASS.items()},
    "force": {"n": 1, "kn": 1000, "kgf": G, "lbf": LB * G},
    "gravity": {},
    # A kilopascal is the weight of so many kilograms on a square metre under standard gravity.
    "floor_load": {"kg/m2": 1, "kg/m²": 1, "psf": LB / FT**2, "lb/ft²": LB / FT**2, "kpa": 1000 / G},
    "wind": {"m/s": 1, "mph": MPH, "km/h": 1000 / 3600}, "pressure": {"pa": 1, "kpa": 1000, "psf": PSF},
    "wind_factor": {}, "torque": {},
    "speed": {}, "angle": {"°": 1, "deg": 1}, "slope": SLOPE, "tilt": SLOPE,
    "arc": {"′": 1, "'": 1, '"': 1 / 60, "min": 1, "sec": 1 / 60}, "turns": {"turns": 1, "turn": 1},
    "voltage": {"V": 1, "v": 1}, "current": {"A": 1, "a": 1, "ma": 1e-3}, "leakage": {"mA": 1, "ma": 1},
    "power": {"W": 1, "w": 1, "kw": 1000}, "impedance": {"Ω": 1, "ohm": 1, "mohm": 1e-3},
    "impedance_per_length": {"ohm/km": 1, "ohm/kft": 1 / FT, "mV/A/m": 1},
    "resistivity": {"Ω·mm²/m": 1000}, "wire_area": {"mm²": 1, "mm2": 1}, "temperature": {"°C": 1, "c": 1},
    "per_length": {"/cm": 0.1}, "per_angle": {"/°": 1}, "per_minute": {"a minute": 1, "/min": 1},
    "per_degree": {}, "ratio": {}, "average": {}, "percent": {"%": 1}, "count": {},
    "per_day": {"a day": 1, "/day": 1}, "days": {"days": 1, "d": 1, "day": 1}, "chance": {"%": 1}, "money": {},
    "minutes": {"min": 1, "minutes": 1, "h": 60, "hour": 60, "hours": 60}, "day": {}, "moment": {},
    "hours": {"h": 1, "hour": 1, "hours": 1, "day": 24, "days": 24}, "energy": {"kWh": 1, "wh": 1e-3},
    "energy_day": {"kWh/day": 1, "kwh": 1, "kwh a day": 1, "kwh/d": 1}, "heat": {"kw": 1000}, "volume": {"l": 1e-3},
    "capacity": {"m3": 1000, "cu ft": 1000 * FT**3}, "energy_per_capacity": {},
    "gas_density": {"kg/m³": 1000, "kg/m3": 1000, "lb/ft3": 1000 * LB / FT**3}, "air_changes": {"an hour": 1, "/h": 1},
    "warming": {"k": 1}, "heat_per_degree": {}, "wall_heat": {}, "air_heat": {},
}  # fmt: skip
# Printed in metric and in US units: name, inner units in one of it, decimals.
PRINTED: dict[str, tuple[tuple[str, float, int], tuple[str, float, int]]] = {
    "length": (("mm", 1, 1), ("in", 25.4, 2)), "run": (("m", 1, 1), ("ft", FT, 1)),
    "area": (("m²", 1, 2), ("ft²", FT**2, 1)), "small_area": (("m²", 1, 4), ("ft²", FT**2, 4)), "mass": (("kg", 1, 0), ("lb", LB, 0)),
    "load": (("kg", 1, 1), ("lb", LB, 1)), "per_length": (("/mm", 1, 5), ("/in", 1 / 25.4, 5)),
    "small_mass": (("g", 1, 0), ("oz", 1000 * LB / 16, 1)), "force": (("N", 1, 0), ("lbf", LB * G, 1)),
    "gravity": (("N/kg", 1, 5), ("lbf/lb", G, 5)), "floor_load": (("kg/m²", 1, 0), ("lb/ft²", LB / FT**2, 0)),
    "speed": (("m/s", 1, 2), ("ft/s", FT, 1)), "slope": (("mm/m", 1, 1), ("in/ft", 25.4 / FT, 2)),
    "tilt": (("mm/m", 1, 1), ("in/ft", 25.4 / FT, 3)), "fine_length": (("mm", 1, 2), ("in", 25.4, 3)),
    "wind": (("m/s", 1, 1), ("mph", MPH, 0)), "pressure": (("Pa", 1, 0), ("psf", PSF, 1)),
    # 1 kg/m³ · (1 m/s)² is 1 Pa.
    "wind_factor": (("kg/m³", 1, 3), ("psf/mph²", PSF / MPH**2, 5)), "torque": (("N·m", 1, 0), ("lbf·ft", LB * G * FT, 0)),
    "impedance_per_length": (("Ω/km", 1, 3), ("Ω/kft", 1 / FT, 3)),
    "resistivity": (("Ω·mm²/km", 1, 2), ("Ω·mm²/kft", 1 / FT, 2)), "per_degree": (("/°C", 1, 5), ("/°F", 1.8, 5)),
    "heat": (("W", 1, 0), ("Btu/h", BTU, 0)), "volume": (("m³", 1, 2), ("ft³", FT**3, 1)),
    "capacity": (("L", 1, 0), ("ft³", 1000 * FT**3, 1)), "warming": (("°C", 1, 1), ("°F", 5 / 9, 1)),
    "energy_per_capacity": (("kWh/day/L", 1, 6), ("kWh/day/ft³", 1 / (1000 * FT**3), 4)),
    "gas_density": (("g/m³", 1, 1), ("oz/ft³", 1000 * LB / 16 / FT**3, 4)),
    "heat_per_degree": (("W/°C", 1, 1), ("Btu/h/°F", BTU * 1.8, 1)),
    "wall_heat": (("W/m²/°C", 1, 2), ("Btu/h/ft²/°F", BTU * 1.8 / FT**2, 3)),
    "air_heat": (("Wh/m³/°C", 1, 3), ("Btu/ft³/°F", BTU * 1.8 / FT**3, 4)),
}  # fmt: skip
# The same in both systems: name and decimals.
SAME = {"angle": ("°", 1), "arc": ("′", 1), "turns": ("turns", 3), "voltage": ("V", 1), "current": ("A", 2),
        "leakage": ("mA", 2), "power": ("W", 0), "impedance": ("Ω", 4), "wire_area": ("mm²", 2),
        "temperature": ("°C", 0), "ratio": ("", 3), "average": ("", 1), "percent": ("%", 1), "count": ("", 0),
        "per_day": ("a day", 1), "days": ("days", 1), "chance": ("%", 2), "money": ("", 2),
        "per_angle": ("/°", 4), "per_minute": ("a minute", 2), "minutes": ("min", 0), "day": ("", 0), "moment": ("", 0),
        "coin_mass": ("g", 2), "hours": ("h", 1), "energy": ("kWh", 2), "energy_day": ("kWh/day", 2), "air_changes": ("an hour", 1)}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_reads_these_words_and_no_others(kind: str) -> None:
    assert KINDS[kind].words == pytest.approx(WORDS[kind], rel=1e-15)


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_prints_in_this_unit(kind: str) -> None:
    si, us = PRINTED[kind] if kind in PRINTED else ((SAME[kind][0], 1, SAME[kind][1]),) * 2
    for unit, (name, size, decimals) in ((KINDS[kind].si, si), (KINDS[kind].us, us)):
        assert (unit.name, unit.decimals) == (name, decimals)
        assert unit.size == pytest.approx(size, rel=1e-15)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in {"money", "temperature"}])
def test_a_step_is_the_last_printed_digit(kind: str) -> None:
    """A length in inches goes by sixteenths, in millimetres by whole ones."""
    for system in ("si", "us"):
        unit = getattr(KINDS[kind], system)
        wanted = {"si": 1.0, "us": 25.4 / 16}[system] if kind == "length" else unit.size / 10**unit.decimals
        assert Units(system).step(kind) == pytest.approx(wanted, rel=1e-15)
        assert Units(system).inner_step(kind) == unit.size


def test_degrees_have_an_offset_and_their_differences_none() -> None:
    assert (to_inner(212, "°F", "temperature"), to_inner(32, "F", "temperature")) == (100, 0)
    assert to_inner(7, "°C", "temperature") == 7
    assert Units("us").inner_step("temperature") == pytest.approx(5 / 9)
    assert Units("si").inner_step("temperature") == 1
    assert (Units("us").unit("temperature"), Units("si").unit("temperature")) == ("°F", "°C")
    assert (Units("us").number(100, "temperature"), Units("us").inner(212, "temperature")) == (212, 100)
    assert (Units("si").number(100, "temperature"), Units("si").inner(100, "temperature")) == (100, 100)


def test_money_counts_in_the_smallest_coin_of_its_country() -> None:
    pence, whole = Units("si", ("£", 100)), Units("si", ("k", 1))
    assert (pence.number(250, "money"), pence.inner(2.5, "money"), pence.inner_step("money")) == (2.5, 250, 100)
    assert (pence.text(250, "money"), whole.text(250, "money")) == ("£2.50", "k250")
    assert (pence.text(-5, "money"), pence.text(5.2, "money", "up"), pence.text(5.8, "money", "down")) == (
        "−£0.05", "£0.06", "£0.05")  # fmt: skip


def test_nothing_has_a_unit_where_it_has_no_kind() -> None:
    assert Units("us").inner_step("") == 1

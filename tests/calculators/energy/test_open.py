"""What is not told and decides nothing: a gas where any would do, and what could only add a caution to a caution."""

from __future__ import annotations

import pytest

from tests.calculators.energy.test_energy import WHOLE, check, outcome, run

HUNGRY = {**WHOLE, "source": "meter", "used": 20.0, "hours": 48.0, "energy_class": "none", "energy_made": "before"}


def test_what_could_only_be_care_leaves_a_sheet_at_take_care() -> None:
    """It uses too much for its plate: neither the room nor the cellar can make that better, or worse than take care."""
    for blank in ("room_width", "low_place", "room_temp", "alike"):
        result = run(**{**HUNGRY, blank: None})
        assert result["outcome"] == ("caution" if blank != "alike" else "unknown"), blank
        assert result["checks"][result["tightest"]]["outcome"] == result["outcome"]
        assert result["measure_next"], blank
    assert run(**{**HUNGRY, "others": None, "room_width": None})["outcome"] == "unknown"  # another cooler may hold more than is little


def test_the_gas_need_not_be_told_where_any_would_do() -> None:
    """With the lowest limit that a form takes, 10 g/m³: 130 g in a circuit at most, 11 m³ that burn and 55 m³ to the practical limit."""
    told = {key: check(key, "au", gas=None, charge=110) for key in ("charge", "leak_burns", "leak_limit")}
    assert {key: (each["outcome"], each["limit"]) for key, each in told.items()} == {
        "charge": ("pass", 130), "leak_burns": ("pass", pytest.approx(11)), "leak_limit": ("pass", pytest.approx(55))}  # fmt: skip
    for each in told.values():
        assert any(key in {"refrigerant.lfl_r290", "refrigerant.burns_r290", "refrigerant.practical_r290"} for key in each["rules"])
        assert each["note"].startswith("Nobody said which gas")
    assert outcome("charge", gas=None, charge=131) == outcome("leak_limit", gas=None, charge=140) == "unknown"


def test_neither_gas_nor_edition_need_be_told_where_all_would_do() -> None:
    """110 g is within each limit of a circuit, by either edition; 145 g is not, for a gas that burns from 10 g/m³."""
    blanks = {"gas": None, "built_to": None}
    assert outcome("charge", **blanks, charge=110) == "pass"
    assert outcome("charge", **blanks, charge=145) == "unknown"
    assert outcome("charge", gas="other", lfl=10, built_to="old", charge=145) == "stop"


def test_outdoors_or_in_a_room_that_is_large_enough() -> None:
    """In 60 m³ no gas of a small charge burns; outdoors neither."""
    blanks = {"gas": None, "outdoors": None}
    assert outcome("leak_burns", **blanks, charge=110) == "pass"
    assert outcome("leak_burns", **blanks, charge=700) == "unknown"

"""Which way each safety limit gets stricter: every number is placed, and an own figure feels it."""

from __future__ import annotations

import fnmatch
import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.core import own, rules
from calculators.core.errors import InputErrors
from calculators.core.rules import Rule
from tests.support import figures

ROOT = Path(__file__).parents[2]
STRICTER = tomllib.loads((ROOT / "calculators" / "rules" / "stricter.toml").read_text(encoding="utf-8"))
NEITHER = tomllib.loads((ROOT / "tests" / "cases" / "stricter.toml").read_text(encoding="utf-8"))["neither"]
PLACED = {f"{subject}.{name}": way for subject, table in STRICTER.items() for name, way in table.items()}


def is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def numbers() -> dict[str, list[Rule]]:
    """Every key whose figure is a number, with the figure of each set that holds it."""
    found: dict[str, list[Rule]] = {}
    for (_, key), rule in figures.held().items():
        if is_number(rule.value):
            found.setdefault(key, []).append(rule)
    return found


def left_out(key: str) -> list[str]:
    return [each["why"] for each in NEITHER if any(fnmatch.fnmatchcase(key, pattern) for pattern in each["keys"])]


def test_every_key_is_a_number_of_some_set() -> None:
    """No key that nobody holds, none that is words or a table, in no set."""
    held = figures.held()
    assert set(PLACED) <= set(numbers())
    assert [at for at, rule in held.items() if at[1] in PLACED and not is_number(rule.value)] == []


def test_a_way_is_one_of_two_words() -> None:
    assert set(PLACED.values()) == {"more", "less"}
    assert set(STRICTER) <= set(rules.SUBJECTS)


def test_every_number_has_its_way_or_a_reason_for_none() -> None:
    """A new figure has to be placed, or said to be no safety limit; never both."""
    for key in numbers():
        assert (key in PLACED) != bool(left_out(key)), f"{key}: place it in rules/stricter.toml or in cases/stricter.toml"
    assert all(each["why"].endswith(".") for each in NEITHER)
    for each in NEITHER:
        for pattern in each["keys"]:
            assert fnmatch.filter(numbers(), pattern), pattern


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_a_looser_own_figure_is_refused_and_a_stricter_one_taken(name: str) -> None:
    """One part in a hundred to either side of every limit that the set holds."""
    figures_of = rules.load(name)
    tried = 0
    for key, way in PLACED.items():
        rule = figures_of.get(key)
        if rule is None:
            continue
        tried += 1
        up, down = ({key: {"value": rule.value + part * abs(rule.value)}} for part in (0.01, -0.01))
        looser, stricter = (down, up) if way == "more" else (up, down)
        assert own.with_own(figures_of, stricter)[key].looser_than == ""
        with pytest.raises(InputErrors, match="looser than"):
            own.with_own(figures_of, looser)
    assert tried > 80


# Sense, not form: what the limit is for, said once more in another way than the file says it.
@pytest.mark.parametrize(("key", "loose"), [
    ("space.rear_gap", 0.0), ("space.reach_high", 100.0), ("space.reach_low", 0.0), ("space.floor_slope", 5.0),
    ("space.panel_depth", 0.0), ("space.corridor_few", 0.0), ("space.protrusion", 20.0), ("space.alcove_side", 90.0),
    ("floor.uniform_office", 900.0), ("floor.patch", 0.1), ("circuit.continuous", 1.0), ("circuit.plug_share", 1.0),
    ("circuit.gfci_holds", 30.0), ("circuit.gfci_cabinet_most", 10.0), ("circuit.drop_total", 12.0),
    ("circuit.supply_low_120", 60.0), ("circuit.supply_high_120", 240.0), ("conductors.breaker_14", 20.0),
    ("conductors.carries_12", 40.0), ("conductors.cord_two_16", 20.0), ("conductors.dc_12", 0.1),
    ("conductors.ac_12", 0.1), ("conductors.x_steel_12", 0.0), ("conductors.warm", 20.0), ("outlet.volts_low", 60.0),
    ("outlet.volts_high", 240.0), ("outlet.neutral_ground_most", 50.0), ("outlet.dark_most", 90.0),
    ("outlet.lit_share", 0.1), ("handling.push_start", 200.0), ("handling.push_keep", 200.0),
    ("handling.lift_best", 200.0), ("handling.rolling_smooth", 0.1), ("handling.sill_roll", 4.0),
    ("handling.rider_mass", 20.0), ("food.cold_holding", 60.0), ("food.hot_holding", 90.0),
    ("food.date_mark_days", 30), ("food.reload_minutes", 240), ("food.time_without_cooling_hours", 24),
    ("food.time_watched_limit", 100.0), ("refrigerant.charge_small", 900), ("refrigerant.practical_r290", 0.038),
    ("refrigerant.lfl_air", 26), ("energy.reading_hours", 2), ("delivery.stand_upright_hours", 0),
    ("delivery.concealed_notice_days", 90), ("level.tolerance", 30.0), ("level.engagement", 0.1),
    ("level.plate_most", 6.0), ("upkeep.safety_test_months", 60), ("upkeep.cash_people", 1),
])  # fmt: skip
def test_what_would_hurt_somebody_is_the_looser_side(key: str, loose: float) -> None:
    """A figure that anybody in the trade would call reckless, in the set's own unit, is refused."""
    with pytest.raises(InputErrors, match="looser than"):
        own.with_own(rules.load("us"), {key: {"value": loose}})

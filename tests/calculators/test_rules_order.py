"""Orders that hold in nature, whatever the code: more copper never carries less, a lowest is below its highest."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest

from calculators.core import rules
from tests.support import figures

SIZES = {
    "awg": ("18", "16", "14", "12", "10", "8", "6"),
    "area": ("0.75mm2", "1mm2", "1.25mm2", "1.5mm2", "2.5mm2", "4mm2", "6mm2", "10mm2"),
}


def families(name: str) -> Iterator[tuple[str, list[float]]]:
    """Each family of wire figures of a set by its beginning, from the thinnest size to the thickest."""
    found = {key: rule for (at, key), rule in figures.held().items() if at == name and key.startswith("conductors.")}
    beginnings = {key.rpartition("_")[0] for key in found}
    for beginning, sizes in itertools.product(sorted(beginnings), SIZES.values()):
        values = [found[f"{beginning}_{size}"].inner for size in sizes if f"{beginning}_{size}" in found]
        if len(values) > 1:
            yield beginning.removeprefix("conductors."), values


RESISTS = ("dc", "ac", "solid", "iec", "loop")


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_more_copper_never_carries_less_nor_resists_more(name: str) -> None:
    """What a wire carries, and its breaker, never falls with its size; its resistance always does."""
    seen = 0
    for beginning, values in families(name):
        last = beginning.rpartition("_")[2]
        if last in RESISTS:
            assert all(one > two for one, two in itertools.pairwise(values)), beginning
        elif beginning not in ("x_pvc", "x_steel"):  # reactance hangs on the shape of the wire
            assert all(one <= two for one, two in itertools.pairwise(values)), beginning
        seen += 1
    assert seen >= 3


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_a_breaker_guards_its_wire(name: str) -> None:
    """No breaker above what its wire carries, no wire laid badly above the best, three loaded wires never above two."""
    found = {key.partition(".")[2]: rule.inner for (at, key), rule in figures.held().items()
             if at == name and key.startswith("conductors.") and isinstance(rule.value, int | float)}  # fmt: skip
    pairs = [("breaker_", "carries_"), ("carries_", "carries_most_"), ("carries_", "clipped_"),
             ("clipped_", "carries_most_"), ("three_carries_", "carries_"), ("three_breaker_", "breaker_"),
             ("three_carries_most_", "carries_most_"), ("al_carries_", "carries_"), ("al_breaker_", "al_carries_"),
             ("solid_", "dc_"), ("dc_", "al_dc_"), ("ac_", "al_ac_")]  # fmt: skip
    for low, high in pairs:
        for size in (*SIZES["awg"], *SIZES["area"]):
            if f"{low}{size}" in found and f"{high}{size}" in found:
                assert found[f"{low}{size}"] <= found[f"{high}{size}"], f"{low}{size}"
    # A cord of 1.5 mm² for one phase and for three is told by two tables (uk), so it may differ by an ampere.
    for size in (*SIZES["awg"], *SIZES["area"]):
        if f"cord_three_{size}" in found:
            assert found[f"cord_three_{size}"] <= found.get(f"cord_two_{size}", 1e9) + 1, size


def test_warm_air_never_lets_a_wire_carry_more() -> None:
    """Factors fall as temperatures rise, and none is above 1."""
    seen = 0
    for rule in figures.held().values():
        if rule.key.startswith("conductors.ambient"):
            seen += 1
            rows = rule.value
            assert [row["upto"] for row in rows] == sorted(row["upto"] for row in rows)
            factors = [row["factor"] for row in rows]
            assert factors == sorted(factors, reverse=True)
            assert factors[0] == 1.0
            assert factors[-1] > 0
    assert seen >= 4


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_limits_stand_in_their_order(name: str) -> None:
    """A lowest below its highest, a part below the whole, a hold below a trip."""
    rows = [("space.reach_low", "space.reach_high"), ("space.protrusion_low", "space.protrusion_high"),
            ("space.reach_over_near", "space.reach_over_far"), ("space.reach_over_high", "space.reach_high"),
            ("space.route_pinch", "space.route_width"), ("space.corridor_few", "space.corridor_many"),
            ("space.corridor_many", "space.corridor_beds"), ("outlet.volts_low", "outlet.nominal"),
            ("outlet.nominal", "outlet.volts_high"), ("circuit.supply_low_120", "circuit.supply_high_120"),
            ("circuit.supply_low_230", "circuit.supply_high_230"), ("circuit.supply_low_208", "circuit.supply_high_208"),
            ("circuit.supply_low_240", "circuit.supply_high_240"), ("circuit.supply_low_400", "circuit.supply_high_400"),
            ("circuit.drop_advice", "circuit.drop_total"), ("circuit.drop_total", "circuit.drop_private"),
            ("circuit.gfci_holds", "circuit.gfci_trips"), ("circuit.fixed_share", "circuit.plug_share"),
            ("circuit.leak_plugged", "circuit.leak_fixed"), ("handling.push_keep", "handling.push_start"),
            ("handling.rolling_smooth", "handling.rolling_uneven"), ("food.cold_holding", "food.hot_holding"),
            ("food.reload_minutes", "food.reload_minutes_hot"), ("food.cold_holding", "food.time_watched_limit"),
            ("food.time_without_cooling_hours", "food.time_watched_hours")]  # fmt: skip
    held_here = rules.load(name)
    seen = 0
    for low, high in rows:
        if low in held_here.figures and high in held_here.figures:
            assert held_here[low].inner <= held_here[high].inner, (low, high)
            seen += 1
    assert seen >= 8


# -- coins ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_every_coin_can_be_told_by_its_size_and_mass(name: str) -> None:
    """Values rise down the table; no two coins have the same mass and diameter, nor a size no coin has."""
    coins = figures.held()[name, "coins.table"].value
    values = [each["value"] for each in coins]
    assert values == sorted(set(values))
    assert len({(each["mass_g"], each["diameter_mm"]) for each in coins}) == len(coins)
    assert len({each["diameter_mm"] for each in coins}) == len(coins)
    for each in coins:
        assert set(each.get("from_memory", ())) <= set(each)
        # A disc of metal: between aluminum's density and lead's, the rim a little above the face.
        volume = 3.14159 / 4 * each["diameter_mm"] ** 2 * each.get("thickness_mm", 2.5) / 1000
        assert 4.5 < each["mass_g"] / volume < 9.5, each


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_rolls_and_notes_are_of_the_set_s_money(name: str) -> None:
    """A roll for each coin; notes worth more than the largest coin; a rounding step that a coin can pay."""
    here = figures.held()
    coins = {each["name"]: each["value"] for each in here[name, "coins.table"].value}
    assert [each["name"] for each in here[name, "coins.rolls"].value] == list(coins)
    notes = here[name, "coins.notes"].value
    assert notes == sorted(set(notes))
    assert notes[0] >= max(coins.values())
    rounding = here.get((name, "coins.rounding"))
    for row in rounding.value if rounding else ():
        assert row["step"] in coins.values(), row

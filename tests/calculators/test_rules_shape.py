"""What a rule file may look like: keys, words, units, columns of its tables, and orders that hold in nature."""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from calculators.core import rules, units
from calculators.core.rules import OWN, STATUSES, Rule
from tests.support import figures

FOLDER = Path(rules.__file__).parents[1] / "rules"
FILES = sorted(FOLDER.glob("*/*.toml"))
KEYS = {"label", "value", "unit", "kind", "source", "clause", "edition", "status", "note"}
# Columns of the figures that are tables: those each row must have, and those it may have.
COLUMNS: dict[str, tuple[set[str], set[str]]] = {
    "coins.table": ({"name", "value", "mass_g", "diameter_mm"}, {"thickness_mm", "from_memory"}),
    "coins.rolls": ({"name", "count"}, {"from_memory"}),
    "coins.rounding": ({"name", "step", "since", "law", "status"}, set()),
    "goods.can_codes": ({"code", "inches", "sixteenths"}, set()),
    "goods.packages_can": ({"name", "diameter", "height"}, set()),
    "goods.packages_bottle": ({"name", "diameter_least", "diameter_most", "height_least", "height_most"}, set()),
    "circuit.receptacles": ({"breaker", "ratings"}, set()),
    "conductors.ambient": ({"upto", "factor"}, set()),
}
LISTING = ({"name"}, set[str]())  # circuit.breakers, conductors.sizes and other choices
each_file = pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name} {path.stem}")


def table_of(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def held() -> list[Rule]:
    return list(figures.held().values())


def name_of(rule: Rule) -> str:
    return f"{rule.rule_set} {rule.key}"


# -- files and keys --------------------------------------------------------------------------


def test_every_file_is_read() -> None:
    """A file under another name would be silently left out."""
    assert {path.parent.name for path in FILES} == set(figures.SETS)
    assert {path.stem for path in FILES} <= set(rules.SUBJECTS)
    assert {path.name for path in FOLDER.glob("*.toml")} == {"stricter.toml"}


@each_file
def test_a_figure_has_the_keys_of_a_figure(path: Path) -> None:
    """No key is misspelled; label, value and status are always written, never left to a default."""
    for key, facts in table_of(path).items():
        if key != "sources":
            assert set(facts) <= KEYS, key
            assert {"label", "value", "status"} <= set(facts), key
            assert facts["label"].strip(), key


def test_an_unknown_key_and_an_unknown_status_are_refused() -> None:
    """Reading stops at a key or a status word that nobody knows."""
    facts = {"label": "Gap", "value": 1, "status": "published"}
    assert rules._figure("space.gap", dict(facts), {}, "us").value == 1
    with pytest.raises(TypeError, match="claus"):
        rules._figure("space.gap", {**facts, "claus": "1"}, {}, "us")
    with pytest.raises(ValueError, match="unknown status"):
        rules._figure("space.gap", {**facts, "status": "Published"}, {}, "us")


@each_file
def test_sources_are_named_once_and_used(path: Path) -> None:
    """A source has a title, perhaps an edition; each is used, none stands twice, none is lacking."""
    table = table_of(path)
    sources = table.pop("sources", {})
    assert all(set(each) <= {"title", "edition"} and each["title"].strip() for each in sources.values())
    told = [(each["title"], each.get("edition", "")) for each in sources.values()]
    assert len(told) == len(set(told))
    assert {facts["source"] for facts in table.values() if "source" in facts} == set(sources)


# -- status and citation -----------------------------------------------------------------------


def test_a_status_says_what_its_citation_bears() -> None:
    """What was seen names source and clause; practice names none; an operator's status is not written here."""
    assert {rule.status for rule in held()} <= set(STATUSES) - {OWN}
    for rule in held():
        if rule.status in ("published", "reprinted"):
            assert rule.source, name_of(rule)
            assert rule.clause.strip(), name_of(rule)
        if rule.status == "common practice":
            assert (rule.source, rule.clause, rule.edition) == ("", "", ""), name_of(rule)
        if rule.clause:
            assert rule.source, name_of(rule)


def test_a_row_is_never_surer_than_its_table() -> None:
    """A row of a table may be less sure than the table, never more; its status is a known word."""
    order = ["published", "reprinted", "worked out here", "common practice", "from memory"]
    for rule in held():
        for row in rule.value if isinstance(rule.value, list) else ():
            if isinstance(row, dict) and "status" in row:
                assert order.index(row["status"]) >= order.index(rule.status), name_of(rule)


def test_what_is_in_common_is_no_second_figure_of_a_set() -> None:
    """A set repeats nothing that is common to all; where it has its own figure, it says another thing."""
    common = {key: rule for (name, key), rule in figures.held().items() if name == rules.COMMON}
    for (name, key), rule in figures.held().items():
        if name != rules.COMMON and key in common:
            other = common[key]
            assert (rule.value, rule.unit, rule.clause, rule.source) != (
                other.value, other.unit, other.clause, other.source), f"{name} {key}"  # fmt: skip


# -- units ---------------------------------------------------------------------------------------


def test_a_number_s_unit_belongs_to_its_kind() -> None:
    """A kind of core/units.py, a unit of that kind; a number without a kind is counted in whole things."""
    for rule in held():
        if rule.kind:
            assert rule.kind in units.KINDS, name_of(rule)
            assert figures.unit_fits(rule), name_of(rule)
            assert isinstance(rule.value, int | float), name_of(rule)
            assert rule.inner >= 0, name_of(rule)
        elif isinstance(rule.value, int | float):
            assert rule.unit, f"{name_of(rule)}: a bare number says nothing"


def test_words_and_tables_have_no_unit() -> None:
    """Their units stand in them, or in the label."""
    for rule in held():
        if not isinstance(rule.value, int | float):
            assert not rule.unit, name_of(rule)
            assert not rule.kind, name_of(rule)


@pytest.mark.parametrize(("unit", "kind", "fits"), [
    ("in", "length", True), ("°F", "temperature", True), ("kgf", "force", True), ("Ω·mm²/m", "resistivity", True),
    ("lb", "force", False), ("A", "voltage", False), ("psi", "floor_load", False),
])  # fmt: skip
def test_a_unit_of_another_kind_does_not_fit(unit: str, kind: str, fits: bool) -> None:
    """Pounds are no force, amperes no volts."""
    assert figures.unit_fits(Rule("space.x", 1.0, "X", unit=unit, kind=kind)) is fits


def test_one_key_is_of_one_kind_in_all_sets() -> None:
    """An own figure, a check and a page may lean on it; where a floor's point load is told as mass or force both are known."""
    kinds: dict[str, set[str]] = {}
    for rule in held():
        kinds.setdefault(rule.key, set()).add(rule.kind)
    for key, found in kinds.items():
        assert len(found) == 1 or (key.startswith("floor.point_") and found == {"mass", "force"}), key


# -- tables ----------------------------------------------------------------------------------------


def tables() -> Iterator[tuple[Rule, list[dict[str, Any]]]]:
    for rule in held():
        if isinstance(rule.value, list) and rule.value and isinstance(rule.value[0], dict):
            yield rule, rule.value


def columns_of(rule: Rule) -> tuple[set[str], set[str]]:
    family = "conductors.ambient" if rule.key.startswith("conductors.ambient") else rule.key
    return COLUMNS.get(family, LISTING)


def wrong_columns(rule: Rule) -> list[dict[str, Any]]:
    """The rows that lack a column of their table, or have one that it does not know."""
    must, may = columns_of(rule)
    return [row for row in rule.value if not must <= set(row) <= must | may]


def test_a_table_s_rows_have_its_columns() -> None:
    """None more, none fewer."""
    found = list(tables())
    assert len(found) > 40
    for rule, _ in found:
        assert wrong_columns(rule) == [], name_of(rule)


def test_an_unknown_column_is_found() -> None:
    """A misspelled column of a coin is not taken for another coin's gap."""
    coins = figures.held()["us", "coins.table"]
    one = {**coins.value[0], "thicknes_mm": 1.5}
    assert wrong_columns(Rule("coins.table", [one], "Coins")) == [one]
    assert wrong_columns(Rule("coins.rolls", [{"name": "cent"}], "Rolls")) == [{"name": "cent"}]


def test_no_row_stands_twice() -> None:
    """Each name, code, breaker and temperature once in its table."""
    for rule, rows in tables():
        first = next(column for column in ("name", "code", "breaker", "upto") if column in rows[0])
        named = [row[first] for row in rows]
        assert len(named) == len(set(named)), name_of(rule)


# -- orders that hold in nature ----------------------------------------------------------------------

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
    for rule, rows in tables():
        if rule.key.startswith("conductors.ambient"):
            seen += 1
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

"""What a rule file may look like: keys, words, units, columns of its tables."""

from __future__ import annotations

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
    "coins.bags": ({"name", "count"}, {"from_memory"}),
    "coins.mass_off": ({"name", "off_g"}, {"from_memory"}),
    "coins.issues": ({"name", "mass_g", "what"}, {"off_g"}),
    "coins.rounding": ({"name", "step", "since", "law", "status"}, set()),
    "goods.can_codes": ({"code", "inches", "sixteenths"}, set()),
    "goods.packages_can": ({"name", "diameter", "height"}, set()),
    "goods.packages_bottle": ({"name", "diameter_least", "diameter_most", "height_least", "height_most"}, set()),
    "circuit.receptacles": ({"breaker", "ratings"}, set()),
    "conductors.ambient": ({"upto", "factor"}, set()),
    "handling.niosh_frequency": ({"upto", *(f"{span}_{place}" for span in ("short", "moderate", "long") for place in ("low", "high"))}, set()),
    "handling.niosh_grip": ({"name", "low", "high"}, set()),
    "handling.lift_filter": ({"name", "close", "far"}, set()),
    "handling.lift_filter_turn": ({"upto", "less"}, set()),
    "handling.lift_filter_often": ({"upto", "less"}, set()),
    "handling.niosh_printed": ({"name", "of", "unit", "at", "says"}, set()),
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
    assert {path.name for path in FOLDER.glob("*.toml")} == {"stricter.toml", "words.toml"}


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
            assert rule.inner >= 0 or rule.kind == "temperature", name_of(rule)
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

"""An operator's own figures: what is refused, what loosens, and what never comes along."""

from __future__ import annotations

from typing import Any

import pytest

import calculators
from calculators.core import InputErrors, rules
from calculators.core.own import stricter, with_own

US = rules.load("us")
GAP = "space.rear_gap"
REACH = "space.reach_high"
ANSWERED = {"reason": "The makers allow it.", "decided_by": "Owner, 3 May 2026"}


def own(key: str, value: Any, **more: Any) -> rules.Rule:
    return with_own(US, {key: {"value": value, **more}})[key]


def refused(key: str, facts: Any) -> str:
    with pytest.raises(InputErrors) as caught:
        with_own(US, {key: facts})
    assert all(error.field.startswith(f"local.{key}") for error in caught.value.errors)
    return " ".join(error.message for error in caught.value.errors)


def test_the_directions_that_these_cases_rest_on() -> None:
    """More air behind is stricter, a lower reach is stricter; a coin table has no such direction."""
    assert (stricter(GAP), stricter(REACH), stricter("coins.table")) == ("more", "less", "")


def test_a_stricter_figure_needs_no_reason_and_carries_no_clause() -> None:
    """6 in where the trade says 4, in either unit; the published clause stays behind."""
    figure = own(GAP, 6, unit="in")
    assert (figure.value, figure.unit, figure.kind, figure.status) == (6, "in", "length", rules.OWN)
    assert (figure.clause, figure.source, figure.edition, figure.looser_than) == ("", "", "", "")
    low = own(REACH, 1.1, unit="m")
    assert low.inner == 1100
    assert "" not in (US[REACH].clause, US[REACH].source)  # the published one has both: their absence says something
    assert (low.clause, low.source, low.edition) == ("", "", "")


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_no_own_figure_carries_what_stands_beside_the_published_one(name: str) -> None:
    """Every figure of every set that cites something, put in its own place by the operator."""
    published = rules.load(name)
    cited = {key: rule for key, rule in published.figures.items() if rule.clause or rule.edition or rule.source}
    ours = with_own(published, {key: {"value": rule.value, "unit": rule.unit, "kind": rule.kind} for key, rule in cited.items()})
    assert len(cited) > 100
    assert [key for key in cited if ours[key].clause or ours[key].source or ours[key].edition or ours[key].status != rules.OWN] == []


@pytest.mark.parametrize(("key", "value", "unit"), [(GAP, 1, "in"), (GAP, 50, "mm"), (REACH, 60, "in"), (REACH, 1.5, "m")])
def test_a_looser_safety_figure_is_refused(key: str, value: float, unit: str) -> None:
    """Without a reason and a name, or with only one of them."""
    assert "looser than" in refused(key, {"value": value, "unit": unit})
    for part in ANSWERED:
        assert "looser than" in refused(key, {"value": value, "unit": unit, part: "x"})
        assert "looser than" in refused(key, {"value": value, "unit": unit, **ANSWERED, part: "  "})


@pytest.mark.parametrize("key", [GAP, REACH])
def test_the_published_figure_itself_is_not_looser(key: str) -> None:
    """The same length, written in another unit."""
    assert own(key, US[key].inner, unit="mm").looser_than == ""


def test_a_looser_figure_in_somebody_s_name_says_so_and_is_never_go() -> None:
    """With reason and name: at best take care, and the result says looser than what."""
    figure = own(GAP, 1, unit="in", **ANSWERED)
    assert "4 in" in figure.looser_than
    inputs = {"rear_gap": "3 in", "rear_gap_plate": "0 in"}
    request = {"inputs": inputs, "local": {GAP: {"value": 1, "unit": "in", **ANSWERED}}}
    result = calculators.run("clearance", {**request, "html": True})
    behind = next(check for check in result["checks"] if GAP in check["rules"])
    assert behind["outcome"] == "caution"
    assert "looser than" in behind["text"]
    assert result["outcome"] != "pass"
    assert ANSWERED["reason"] in result["looser"][0]
    assert ANSWERED["decided_by"] in result["looser"][0]
    assert "looser than" in result["html"]
    strict = calculators.run("clearance", {**request, "local": {GAP: {"value": 2, "unit": "in", **ANSWERED}}})
    assert strict["looser"]


COIN = next(row for row in US["coins.table"].value if row["name"] == "nickel")


def test_a_table_of_the_published_shape_is_taken() -> None:
    """Other rows, fewer rows, other numbers; a whole number where the published one is broken."""
    rows = [{**COIN, "value": 7}, {**COIN, "name": "our token", "mass_g": 6}]
    assert own("coins.table", rows).value == rows
    assert own("coins.currency", {"sign": "k", "minor": 1}).value == {"sign": "k", "minor": 1}
    assert own("coins.notes", [7]).value == [7]
    for name in rules.RULE_SETS:
        published = rules.load(name)
        tables = {key: {"value": rule.value} for key, rule in published.figures.items() if not isinstance(rule.value, (int, float))}
        assert with_own(published, tables)["coins.table"].status == rules.OWN, "every set's own tables are of its shape"


MISTAKES: dict[str, tuple[str, Any, str]] = {
    "unknown figure": ("space.rear_gapp", {"value": 6}, "no such figure"),
    "no value": (GAP, {"unit": "in"}, "not a figure"),
    "not a table": (GAP, 6, "not a figure"),
    "unknown part": (GAP, {"value": 6, "unit": "in", "colour": "red"}, "no such part"),
    "status by hand": (GAP, {"value": 6, "unit": "in", "status": "published"}, "no such part"),
    "clause by hand": (GAP, {"value": 6, "unit": "in", "clause": "308.2"}, "no such part"),
    "source by hand": (GAP, {"value": 6, "unit": "in", "source": "ADA"}, "no such part"),
    "unit of another kind": (GAP, {"value": 6, "unit": "kg"}, "does not fit"),
    "unit that is no text": (GAP, {"value": 6, "unit": 5}, "text"),
    "kind of another": (GAP, {"value": 6, "unit": "in", "kind": "mass"}, "kind"),
    "word": (GAP, {"value": "wide", "unit": "in"}, "number"),
    "yes": (GAP, {"value": True, "unit": "in"}, "number"),
    "negative": (GAP, {"value": -6, "unit": "in"}, "0 or more"),
    "not finite": (GAP, {"value": float("inf"), "unit": "in"}, "0 or more"),
    "table for a figure": (GAP, {"value": [1, 2], "unit": "in"}, "number"),
    "figure for a table": ("coins.table", {"value": 7}, "shape"),
    "column unknown": ("coins.table", {"value": [{"name": "nickel", "colour": "red"}]}, "shape"),
    "row without a column": ("coins.table", {"value": [{"name": "nickel", "value": 5}]}, "shape"),
    "table without rows": ("coins.table", {"value": []}, "shape"),
    "row that is none": ("coins.table", {"value": [5]}, "shape"),
    "word in a number's place": ("coins.table", {"value": [{**COIN, "value": "five"}]}, "shape"),
    "nothing where all have something": ("coins.table", {"value": [{**COIN, "value": 0}]}, "shape"),
    "negative cell": ("coins.table", {"value": [{**COIN, "value": -5}]}, "shape"),
    "endless cell": ("coins.table", {"value": [{**COIN, "value": float("inf")}]}, "shape"),
    "yes in a number's place": ("coins.table", {"value": [{**COIN, "value": True}]}, "shape"),
    "number in a word's place": ("coins.table", {"value": [{**COIN, "name": 5}]}, "shape"),
    "long cell": ("coins.table", {"value": [{**COIN, "name": "x" * 401}]}, "shape"),
    "money without a sign": ("coins.currency", {"value": {"minor": 100}}, "shape"),
    "money with more": ("coins.currency", {"value": {"sign": "$", "minor": 100, "word": "x"}}, "shape"),
    "money without coins": ("coins.currency", {"value": {"sign": "$", "minor": 0}}, "shape"),
    "list of words for one of numbers": ("coins.notes", {"value": ["five"]}, "shape"),
    "table for a word": ("coins.pack", {"value": "roll"}, "shape"),
    "long text": (GAP, {"value": 6, "unit": "in", "note": "x" * 401}, "characters"),
}


@pytest.mark.parametrize("name", MISTAKES)
def test_a_mistake_is_told_with_the_figure_s_key(name: str) -> None:
    """Nothing loads silently, and nothing fails only when it is first used."""
    key, facts, word = MISTAKES[name]
    assert word in refused(key, facts)


def test_every_mistake_is_told_at_once() -> None:
    """Three figures, three errors."""
    with pytest.raises(InputErrors) as caught:
        with_own(US, {GAP: {"value": -1}, REACH: {"value": "x"}, "no.such": {"value": 1}})
    assert len(caught.value.errors) == 3


@pytest.mark.parametrize("local", [[], 0, False, "x", [1], 5])
def test_own_figures_that_are_no_table_are_an_error(local: Any) -> None:
    """Not silently nothing."""
    with pytest.raises(InputErrors):
        with_own(US, local)


def test_no_figures_are_no_error() -> None:
    """Nothing given: the set itself."""
    assert with_own(US, None) is US
    assert with_own(US, {}) is US


def test_a_gap_of_the_set_may_be_filled() -> None:
    """A figure that other sets have and this one lacks: it takes their kind, and is looser than nothing."""
    eu = rules.load("eu")
    assert eu.get("space.protrusion") is None
    figure = with_own(eu, {"space.protrusion": {"value": 9, "unit": "in"}})["space.protrusion"]
    assert (figure.kind, figure.looser_than, figure.status) == ("length", "", rules.OWN)


def test_own_figures_survive_the_way_into_a_page() -> None:
    """What goes out as ``local`` comes back as the same figures."""
    first = with_own(US, {GAP: {"value": 1, "unit": "in", **ANSWERED}, REACH: {"value": 1.1, "unit": "m"}})
    again = with_own(US, first.local())
    assert {key: again[key] for key in (GAP, REACH)} == {key: first[key] for key in (GAP, REACH)}


# -- tables and words -------------------------------------------------------------------


def _permissive() -> dict[str, tuple[str, str, dict[str, Any], Any]]:
    """Rule set, key, inputs of a circuit that it decides, and an own value that would let them pass."""
    hot = {"material": "copper", "conductor": "12", "breaker": "20", "ambient": "50 °C", "dedicated": "yes", "cabinet_amps": "8 A"}
    shared = {"dedicated": "no", "outlets": 2}
    cool = [{**row, **{key: 1.0 for key, cell in row.items() if isinstance(cell, float)}} for row in US["conductors.ambient"].value]
    return {
        "a table of factors": ("us", "conductors.ambient", hot, cool),
        "a table of permissions": ("us", "circuit.receptacles", {**shared, "breaker": "15", "receptacle_rating": "20"},
                                   [{"breaker": "15", "ratings": ["15", "20"]}]),
        "a rule taken away": ("us", "circuit.no_such_rule", {**shared, "breaker": "20", "cabinet_amps": "18 A"},
                              ["plug_share", "shared_size", "fixed_share"]),
        "a word of another set": ("us", "circuit.plug_most", {**shared, "breaker": "20", "receptacle_rating": "15",
                                                              "cabinet_amps": "14 A", "cabinet_continuous": "no"}, "by us"),
        "a permission of another set": ("uk", "circuit.gfci_cabinet_cord", {"breaker": "16", "receptacle_rating": "13",
                                                                             "protection": "no", "cabinet_protection": "yes"}, "by us"),
    }  # fmt: skip


@pytest.mark.parametrize("name", _permissive())
def test_a_table_or_word_that_safety_rests_on_needs_a_name_and_never_makes_it_go(name: str) -> None:
    """Nobody can tell by a number which way it goes: refused without reason and name; with them nothing of it passes."""
    rule_set, key, inputs, value = _permissive()[name]
    figures = rules.load(rule_set)
    with pytest.raises(InputErrors, match="may be looser than"):
        with_own(figures, {key: {"value": value}})
    with pytest.raises(InputErrors, match="may be looser than"):
        with_own(figures, {key: {"value": value, "reason": "x"}})
    assert with_own(figures, {key: {"value": value, **ANSWERED}})[key].looser_than
    typed = {"inputs": inputs, "rules": rule_set, "units": "us"}
    plain = calculators.run("circuit", typed)
    result = calculators.run("circuit", {**typed, "local": {key: {"value": value, **ANSWERED}}})
    assert plain["looser"] == []
    assert any(ANSWERED["decided_by"] in each and "our own may be looser than" in each for each in result["looser"]), result["looser"]
    assert result["outcome"] != "pass"
    assert key in result["local"]


def test_what_is_no_matter_of_safety_or_stays_as_it_is_needs_no_name() -> None:
    """Coins, goods and what things are called; a table as it was published."""
    assert own("coins.notes", [7]).looser_than == ""
    assert own("goods.can_codes", US["goods.can_codes"].value[:1]).looser_than == ""
    assert own("conductors.ambient", US["conductors.ambient"].value).looser_than == ""
    assert own("circuit.words", {**US["circuit.words"].value}).looser_than == ""


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_every_other_table_or_word_of_every_set_is_asked_for_a_name(name: str) -> None:
    """Changed by a row, or by a letter: whatever it decides. Figures of another set alike."""
    figures, asked = rules.load(name), 0
    every = {key: rule for other in rules.RULE_SETS for key, rule in rules.load(other).figures.items()}
    for key, rule in every.items():
        if isinstance(rule.value, (int, float)) or key.startswith(("coins.", "goods.")) or key == "circuit.words":
            continue
        held = figures.get(key) or rule
        changed = f"{held.value}." if isinstance(held.value, str) else held.value[:1] if isinstance(held.value, list) else {}
        if (key in figures.figures and changed == held.value) or not changed:
            continue
        asked += 1
        with pytest.raises(InputErrors, match="may be looser than"):
            with_own(figures, {key: {"value": changed}})
    assert asked > 100

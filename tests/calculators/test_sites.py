"""In each rule set, of those that judge a place or a day's work: every failure with clause, status, caution and way out."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators.core import Field, Record, Rows, rules
from calculators.core.report import OUTCOME_WORDS, OUTCOMES
from tests.support import orders, sites
from tests.support.inputs import random_request
from tests.support.sites import NAMES

DOCS = Path(__file__).parents[2] / "docs" / "calculators"
each_set = pytest.mark.parametrize("rule_set", rules.RULE_SETS)
each = pytest.mark.parametrize("name", NAMES)
# Compared with the cabinet's plate, the lift's plate or what was seen and measured there: no rule decides.
BY_THE_PLACE = {
    "circuit": {"volts_running", "volts_starting", "volts_high", "reading", "aluminum"},
    "clearance": {"width", "height", "turn", "side_room", "car_width", "car_depth", "car_height", "platform_width",
                  "platform_depth", "gear_load", "tilt_up", "plate_gap", "gear_gap", "tray_room", "weather", "ramp_gear", "ramp_width", "tilt_card"},
    "level": {"reach", "short", "bears"},
    "outlet": {"looks", "reader", "agree", "sum", "button"},
    "handling": {"how", "duration", "gear_load", "ramp_gear", "tilt_card"},
    "standing": {"rough", "anchor"},
    "cold": {"log", "marked", "pack", "applies", "thawed"},
    "restock": {"lasts", "date", "fresh", "pays", "room"},
    "cash": {"agree_low", "agree_high", "cards_low", "cards_high", "holds", "came_in"},
    "energy": {"low_place"},
}  # fmt: skip
# Whose mend is its box alone, because the box's own label says what to do.
BOX_SAYS_IT = {"level": {"plate"}, "restock": {"pays"}, "standing": {"lean", "push", "anchor", "tray"}}
# The rule files whose labels and notes a sheet may show.
SUBJECTS = {"circuit": ("circuit", "conductors"), "clearance": ("space", "floor", "handling"),
            "level": ("level",), "outlet": ("outlet",), "handling": ("handling",), "standing": ("standing", "handling"),
            "cold": ("food",), "restock": (), "cash": ("coins", "upkeep"), "energy": ("energy", "refrigerant")}  # fmt: skip


@functools.cache
def results(name: str, rule_set: str) -> list[dict[str, Any]]:
    return [calculators.run(name, request) for request in sites.requests(name, rule_set)]


def failing(name: str, rule_set: str) -> list[dict[str, Any]]:
    return [check for result in results(name, rule_set) for check in result["checks"]
            if check["outcome"] in ("stop", "caution")]  # fmt: skip


@each
@each_set
def test_the_page_shows_clause_status_and_caution_of_every_failure(name: str, rule_set: str) -> None:
    """Beside each failed check: its word, source, clause and status of its figures' own file, the caution."""
    calculator = calculators.get(name)
    for request, result in zip(sites.requests(name, rule_set), results(name, rule_set), strict=True):
        # The page has what is not settled first, the worst of it before the rest; else the order is the result's.
        order = sorted(result["checks"], key=lambda check: OUTCOMES.index(check["outcome"]))
        for check, (key, outcome, text) in zip(order, sites.page(name, request), strict=True):
            assert (key, outcome) == (check["key"], check["outcome"])
            if outcome not in ("stop", "caution"):
                continue
            assert f"{OUTCOME_WORDS[outcome]} {check['place']}" in text
            assert bool(check["rules"]) or key in BY_THE_PLACE[name], check
            for rule in check["rules"]:
                figure = sites.table(rule_set, rule)
                for part in (figure["source_title"], figure.get("clause", ""), figure["status"]):
                    assert part in text, (check, rule)
            warned = calculator.check_spec(key).caution
            assert warned in text
            assert ((check["mend"] and check["mend"]["text"]) or check["note"]) in text


@each
def test_a_mend_says_what_to_do_before_it_names_a_box(name: str) -> None:
    """A reader acts in a room, not on a form: the number alone is no order."""
    bare = set()
    for result in results(name, "us"):
        for check in result["checks"]:
            mend = check["mend"]
            labels = [spec.label for spec in fields_of(calculators.get(name).inputs, mend["changes"])] if mend else []
            if mend and any(mend["text"].startswith(label) for label in labels):
                bare.add(check["key"])
    assert bare == BOX_SAYS_IT.get(name, set())


def fields_of(record: type[Record], paths: Iterable[str]) -> Iterator[Field]:
    """The field at each path such as legs.2.out."""
    for path in paths:
        at, *parts = path.split(".")
        field = record.field(at)
        while isinstance(field, Rows) and parts:
            field, parts = field.record.field(parts[1]), parts[2:]
        yield field


@each
@each_set
def test_what_to_do_now_lists_the_way_out_of_every_failure(name: str, rule_set: str) -> None:
    """Its place, and what mends it; else its note; stops before cautions."""
    for result in results(name, rule_set):
        failed = [check for outcome in ("stop", "caution") for check in result["checks"] if check["outcome"] == outcome]
        wanted = [f"{check['place']}: {check['mend']['text'] if check['mend'] else check['note']}" for check in failed]
        assert [action for action in result["actions"] if action in wanted] == list(dict.fromkeys(wanted))


@each
@each_set
def test_every_check_fails_somewhere_or_has_no_figure(name: str, rule_set: str) -> None:
    """No kind of failure is left out: it fails at one of the sites, or says that the set has no figure."""
    absent = rules.load(rule_set).get(f"{name}.no_such_rule")
    made = [check for result in results(name, rule_set) for check in result["checks"]]
    lacking = {check["key"] for check in made if check["text"].startswith("No figure in this rule set")}
    tried = {check["key"] for check in failing(name, rule_set)} | lacking | sites.never(name, rule_set)
    assert {spec.key for spec in calculators.get(name).checks} - tried == set(absent.value if absent else ())


@each_set
@pytest.mark.parametrize("name", sites.LINED)
def test_a_failing_site_shows_what_its_line_says(name: str, rule_set: str) -> None:
    """Outcome, clause and status word as held by hand against the source; a caution where someone may be hurt."""
    for result, lines in zip(results(name, rule_set), sites.lines(name, rule_set), strict=True):
        for line in lines:
            check = next(each for each in result["checks"] if each["key"] == line.key)
            assert (check["outcome"], check["word"]) == (line.outcome, OUTCOME_WORDS[line.outcome]), check
            assert any(line.clause in cited and line.status in cited for cited in check["citations"]) or line.status == ""
            assert bool(check["caution"]) == line.caution, check
        listed = {line.key for line in lines}
        assert {each["key"] for each in result["checks"] if each["outcome"] in ("stop", "caution")} == listed


# -- what may never be advised ------------------------------------------------------------


@pytest.mark.parametrize("text", orders.LIST["examples"]["caught"])
def test_the_list_catches_such_orders(text: str) -> None:
    """The list is worth something: each of these is caught, alone and after a harmless sentence."""
    assert orders.orders(text)
    assert orders.orders(f"Read the plate. {text}")


@pytest.mark.parametrize("text", orders.LIST["examples"]["allowed"])
def test_the_list_lets_safe_words_stand(text: str) -> None:
    """What an operator may do, and what is left to others, is not caught."""
    assert not orders.orders(text)


@pytest.mark.parametrize("row", orders.LIST["forbidden"], ids=lambda row: row["why"])
def test_every_verb_and_thing_of_the_list_works(row: dict[str, Any]) -> None:
    """No word of the list is dead: each verb with each thing is an order, and is none of the electrician's."""
    for verb in row["verbs"]:
        for thing in row["things"] or [""]:
            assert orders.orders(f"Then {verb} {thing}."), (verb, thing)
            assert not orders.orders(f"Have a licensed electrician {verb} {thing}.")


def definition(record: type[Record]) -> list[str]:
    texts = []
    for field in record.fields():
        texts += [field.label, field.help, *getattr(field, "options", {}).values()]
        if isinstance(field, Rows):
            texts += definition(field.record)
    return texts


@each
def test_the_definition_and_its_page_give_no_such_order(name: str) -> None:
    """Labels, helps, choices, cautions, what is not checked, and the page around the calculator."""
    calculator = calculators.get(name)
    texts = [*definition(calculator.inputs), *orders.said(calculator.describe())]
    # Without its head: the words that people say there are no orders of ours.
    texts += (DOCS / f"{name}.md").read_text(encoding="utf-8").split("---\n", 2)[2].split("\n\n")
    assert not [found for text in texts for found in orders.orders(text)]


@each
@each_set
def test_the_rules_give_no_such_order(name: str, rule_set: str) -> None:
    """A figure's label, words and note are shown too."""
    figures = [rule for key, rule in rules.load(rule_set).figures.items() if key.split(".")[0] in SUBJECTS[name]]
    texts = [str(text) for rule in figures for text in (rule.label, rule.note, rule.value)]
    assert texts or not SUBJECTS[name]
    assert not [found for text in texts for found in orders.orders(text)]


@each
@each_set
def test_no_result_gives_such_an_order(name: str, rule_set: str) -> None:
    """The failing sites and twenty random ones: nothing said, noted, mended or listed orders it."""
    calculator = calculators.get(name)
    found = list(results(name, rule_set))
    found += [calculator.run(random_request(calculator, 40_000 + seed, rule_set=rule_set)) for seed in range(20)]
    texts = [text for result in found for text in orders.told(result)]
    assert not [wrong for text in texts for wrong in orders.orders(text)]
    if name in ("circuit", "outlet"):
        assert sum("electrician" in text for text in texts) > 30

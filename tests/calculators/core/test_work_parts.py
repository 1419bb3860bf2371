"""Each part of the working sheet by itself: symbols, checks, verdicts, fixes and results."""

from __future__ import annotations

from typing import Any

import pytest

from calculators.core import (
    Calculator,
    CheckSpec,
    Choice,
    Count,
    Money,
    Quantity,
    Record,
    Rows,
    ValueSpec,
    Work,
    rules,
)
from calculators.core.report import Mend
from calculators.core.units import Units


class Leg(Record):
    """A row."""

    width = Quantity("Clear width", kind="length", symbol="c", least=300, most=3000, tolerance=5)


class Inputs(Record):
    """What the checks below rest on."""

    width = Quantity("Cabinet width", kind="length", symbol="w", least=300, most=2000, tolerance=2)
    depth = Quantity("Depth", kind="length", symbol="d", least=300, most=2000)
    many = Count("How many", least=0, most=9)
    price = Money("Price", least=1, most=1000)
    sort = Choice("Way", {"door": "Doorway", "hall": "Corridor"})
    route = Rows("Route", Leg, "leg")


CHECKS = (CheckSpec("more", "Room", "length", caution="Mind."), CheckSpec("less", "Load", "mass", "at most", soft=True),
          CheckSpec("rule", "Gap", "length", rules=("space.rear_gap",)), CheckSpec("yes", "Earthed", caution="Mind it."),
          CheckSpec("soft", "Clean", soft=True), CheckSpec("none", "Gone", rules=("space.nothing",)))  # fmt: skip
BOX = Calculator("box", "Box", "", "", Inputs, (ValueSpec("v", "Value", "length", "v", "Help.", "up"),), CHECKS,
                 lambda *_: None, {}, not_checked=("The rest.",))  # fmt: skip


def sheet(system: str = "si", **inputs: Any) -> Work:
    made = {"width": 900.0, "route": [Leg(width=800.0), Leg()], **inputs}
    return Work(BOX, Inputs(**made), rules.load("us"), Units(system))


# -- symbols --------------------------------------------------------------------------


def test_symbols_of_the_first_group_are_known_later_and_those_of_another_are_not() -> None:
    work = sheet()
    work.section("One")
    work.given("a", "A", 2.0, "length")
    work.section("Two")
    assert work.step("b", "B", "a + 1", "length") == 3
    work.given("a", "Another A", 5.0, "length")
    assert work.step("e", "E", "a + 1", "length") == 6, "the group's own stands before it"
    work.share("b")
    work.section("Three")
    assert work.step("c", "C", "a + b", "length") == 5
    with pytest.raises(KeyError):
        work.step("f", "F", "e + 1", "length")
    assert [section.title for section in work.sections] == ["One", "Two", "Three"]
    assert [len(section.steps) for section in work.sections] == [1, 3, 1]


def test_a_step_before_any_group_opens_one_and_is_known_to_all() -> None:
    work = sheet()
    work.given("a", "A", 2.0, "length")
    assert [section.title for section in work.sections] == ["Working"]
    assert work.step("b", "B", "2 * a", "length") == 4
    work.section("Next")
    assert work.step("c", "C", "a * b", "area") == 8


def test_what_is_not_known_leaves_no_line_and_travels() -> None:
    work = sheet()
    work.section("One")
    assert work.take("depth") is None
    assert work.step("s", "S", "d + 1", "length") is None
    assert work.step("t", "T", "s + 1", "length") is None
    assert work.sections[0].steps == []
    assert work.take("width") == 900
    step = work.sections[0].steps[0]
    assert (step.symbol, step.label, step.kind, step.value) == ("w", "Cabinet width", "length", 900)
    assert work.take("route.0.width", "x", "This leg") == 800
    assert (work.sections[0].steps[1].symbol, work.sections[0].steps[1].label) == ("x", "This leg")


def test_a_step_keeps_the_numbers_the_rule_and_the_note_that_it_rests_on() -> None:
    work = sheet()
    work.section("One")
    assert work.rule("g", "space.rear_gap") == pytest.approx(101.6)
    work.given("n", "Times", 3.0, "ratio", "As counted.")
    work.step("s", "S", "n * g", "length", rule="space.hand_room", note="Rounded.")
    given, step = work.sections[0].steps[1:]
    assert given.note == "As counted."
    assert step.numbers == {"n": (3.0, "ratio"), "g": (pytest.approx(101.6), "length")}
    assert (step.rule.key if step.rule else "", step.note, step.formula) == ("space.hand_room", "Rounded.", "n * g")
    assert set(work.used) == {"space.rear_gap", "space.hand_room"}
    assert work.rule("z", "space.nothing") is None
    assert work.step("y", "Y", "z + 1", "length") is None
    assert list(work.missing) == ["space.nothing"]
    assert work.inner("space.nothing") is None
    assert work.inner("space.rear_gap") == pytest.approx(101.6)


def test_paths_lead_to_fields_of_rows_too() -> None:
    work = sheet()
    assert work.label_of("width") == "Cabinet width"
    assert work.label_of("route.1.width") == "Clear width (leg 2)"
    assert work.find("route.0.width")[1] == 800
    assert work.unknown("width", "depth", "route.0.width", "route.1.width", "route") == ("depth", "route.1.width")
    assert sheet(route=[]).unknown("route") == ("route",)
    assert work.tolerance("width", "route.0.width", "route.1.width", "depth") == 7
    assert work.tolerance("depth") == 0


# -- checks ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "value", "limit", "options", "outcome", "margin", "text"),
    [
        ("more", 940.0, 900.0, {}, "pass", 40, "940 mm; at least 900 mm required: 40 mm to spare."),
        ("more", 900.0, 900.0, {}, "pass", 0, "900 mm; at least 900 mm required: 0 mm to spare."),
        ("more", 890.0, 900.0, {}, "stop", -10, "890 mm; at least 900 mm required: 10 mm short."),
        ("more", 905.0, 900.0, {"tolerance": 5}, "caution", 5,
         "905 mm; at least 900 mm required: 5 mm to spare, but the measuring may be 5 mm off."),
        ("more", 906.0, 900.0, {"tolerance": 5}, "pass", 6, "906 mm; at least 900 mm required: 6 mm to spare."),
        ("more", 890.0, 900.0, {"soft": True}, "caution", -10, "890 mm; at least 900 mm required: 10 mm short."),
        ("less", 90.0, 100.0, {}, "pass", 10, "90 kg; at most 100 kg required: 10 kg to spare."),
        ("less", 110.0, 100.0, {}, "caution", -10, "110 kg; at most 100 kg required: 10 kg over."),
        ("less", 110.0, 100.0, {"soft": False}, "stop", -10, "110 kg; at most 100 kg required: 10 kg over."),
        ("more", None, 900.0, {"needs": ("depth", "width")}, "unknown", None, "Not measured: Depth."),
        ("more", 900.0, None, {}, "unknown", None, "Cannot be told from what is given."),
        ("none", 900.0, None, {}, "unknown", None, "No figure in this rule set (space.nothing)."),
        ("more", 900.0, None, {"rules": ("space.nil", "space.rear_gap")}, "unknown", None, "No figure in this rule set (space.nil)."),
    ],
)  # fmt: skip
def test_a_check_compares_the_way_it_is_declared(
    key: str, value: float | None, limit: float | None, options: dict[str, Any], outcome: str, margin: float | None, text: str
) -> None:
    work = sheet()
    made = work.check(key, value, limit, **options)
    assert (made.outcome, made.margin, made.text) == (outcome, margin, text)
    assert work.checks == [made]


def test_a_check_carries_what_it_was_told() -> None:
    """Its place, note, caution, rules and what it would need; a rule once, whoever names it."""
    work = sheet()
    mend = Mend("Do.", {})
    made = work.check("rule", 50.0, 101.6, at="Here", tolerance=3, needs=("width", "depth"), mend=mend, note="N.",
                      instead="Or else.", rules=("space.hand_room", "space.rear_gap"))  # fmt: skip
    assert (made.key, made.label, made.at, made.kind, made.sense) == ("rule", "Gap", "Here", "length", "at least")
    assert (made.value, made.limit, made.tolerance, made.note, made.needs) == (50, 101.6, 3, "N. Or else.", ("depth",))
    assert [rule.key for rule in made.rules] == ["space.rear_gap", "space.hand_room"]
    assert made.wants == ("space.rear_gap", "space.hand_room")
    assert made.mend is mend
    plain = work.check("more", 950.0, 900.0, mend=mend, instead="Or else.")
    assert (plain.at, plain.note, plain.needs, plain.tolerance, plain.caution) == ("", "", (), 0, "Mind.")
    assert plain.mend is None, "what passes needs no fix"
    assert work.check("more", None, 900.0, mend=mend).mend is None
    assert work.check("less", 110.0, 100.0, mend=mend, instead="Or else.").note == "Or else."


@pytest.mark.parametrize(
    ("key", "ok", "options", "outcome", "text"),
    [
        ("yes", True, {}, "pass", "Good."), ("yes", False, {}, "stop", "Bad."),
        ("yes", False, {"soft": True}, "caution", "Bad."), ("soft", False, {}, "caution", "Bad."),
        ("soft", False, {"soft": False}, "stop", "Bad."), ("soft", True, {}, "pass", "Good."),
        ("yes", None, {"needs": ("depth", "width")}, "unknown", "Not measured: Depth."),
        ("yes", None, {}, "unknown", "Cannot be told from what is given."),
        ("none", None, {}, "unknown", "No figure in this rule set (space.nothing)."),
    ],
)  # fmt: skip
def test_a_verdict_says_yes_no_or_not_known(key: str, ok: bool | None, options: dict[str, Any], outcome: str, text: str) -> None:
    made = sheet().verdict(key, ok, good="Good.", bad="Bad.", **options)
    assert (made.outcome, made.text, made.margin) == (outcome, text, None)


def test_a_verdict_carries_what_it_was_told() -> None:
    work = sheet()
    mend = Mend("Do.", {})
    made = work.verdict("yes", ok=False, bad="Bad.", at="Here", needs=("depth", "width"), mend=mend, note="N.",
                        instead="Or else.", rules=("space.rear_gap", "space.rear_gap"))  # fmt: skip
    assert (made.key, made.label, made.at, made.note, made.caution) == ("yes", "Earthed", "Here", "N. Or else.", "Mind it.")
    assert (made.needs, made.mend, made.wants) == (("depth",), mend, ("space.rear_gap",))
    assert [rule.key for rule in made.rules] == ["space.rear_gap"]
    good = work.verdict("yes", ok=True, good="Good.", mend=mend, note="N.", instead="Or else.")
    assert (good.note, good.mend, good.at, good.needs) == ("N.", None, "", ())
    assert len(work.checks) == 2


# -- fixes ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "target", "sense", "beyond", "typed", "text"),
    [
        ("width", 940.2, "at least", 0, "941 mm", "Cabinet width: at least 941 mm."),
        ("width", 940.2, "at most", 0, "940 mm", "Cabinet width: at most 940 mm."),
        ("width", 940.0, "at least", 0, "940 mm", "Cabinet width: at least 940 mm."),
        ("width", 940.0, "at least", 5, "946 mm", "Cabinet width: at least 946 mm."),
        ("width", 940.0, "at most", 5, "934 mm", "Cabinet width: at most 934 mm."),
        ("width", 940.0, "at least", 4.5, "945 mm", "Cabinet width: at least 945 mm."),
        ("width", 2000.0, "at least", 0, "2000 mm", "Cabinet width: at least 2000 mm."),
        ("width", 300.0, "at most", 0, "300 mm", "Cabinet width: at most 300 mm."),
        ("route.1.width", 900.0, "is", 0, "900 mm", "Clear width (leg 2): 900 mm."),
        ("many", 3.2, "at least", 0, "4", "How many: at least 4."),
        ("many", 4, "at least", 1, "6", "How many: at least 6."),
        ("price", 125.0, "at least", 0, "1.25", "Price: at least $1.25."),
        ("sort", "hall", "is", 0, "hall", "Way: Corridor."),
    ],
)  # fmt: skip
def test_a_fix_is_rounded_so_that_it_surely_works(
    path: str, target: Any, sense: str, beyond: float, typed: str, text: str
) -> None:
    made = sheet().mend(path, target, sense, beyond=beyond)
    assert made == Mend(text, {path: typed})


@pytest.mark.parametrize(
    ("path", "target", "sense", "beyond"),
    [("width", None, "at least", 0), ("width", 2000.1, "at least", 0), ("width", 299.9, "at most", 0),
     ("width", 2000.0, "at least", 1), ("many", 10, "at least", 0)],
)  # fmt: skip
def test_a_fix_beyond_the_range_is_none(path: str, target: Any, sense: str, beyond: float) -> None:
    assert sheet().mend(path, target, sense, beyond=beyond) is None


def test_a_fix_may_say_how_and_several_belong_together() -> None:
    work = sheet()
    one, other = work.mend("width", 900.0, how="Saw it off."), work.mend("depth", 500.0)
    assert one == Mend("Saw it off. Cabinet width: 900 mm.", {"width": "900 mm"})
    assert Work.mends(one, other) == Mend("Saw it off. Cabinet width: 900 mm. Depth: 500 mm.",
                                          {"width": "900 mm", "depth": "500 mm"})  # fmt: skip
    assert Work.mends(one, None) is None
    assert Work.mends(None) is None
    assert Work.mends() is None


# -- results --------------------------------------------------------------------------


def test_results_are_kept_as_they_were_given() -> None:
    work = sheet()
    work.value("v", 12.0)
    work.value("v", None, 3.0)
    first, second = work.values
    assert (first.key, first.label, first.symbol, first.kind, first.help, first.toward) == ("v", "Value", "v", "length", "Help.", "up")
    assert ((first.value, first.tolerance), (second.value, second.tolerance)) == ((12, 0), (None, 3))
    work.table("t", "T", {"a": "A"}, [("1",)])
    work.table("u", "U", {"a": "A"}, [("1",)], "N", detail=True)
    assert [(each.title, each.note, each.detail) for each in work.tables] == [("T", "", False), ("U", "N", True)]
    work.figure("<svg/>")
    assert (work.figures, work.not_checked) == (["<svg/>"], ["The rest."])
    assert (work.text(None, "length"), work.text(12.4, "length"), work.text(12.4, "length", "up")) == ("–", "12 mm", "13 mm")


@pytest.mark.parametrize("note", ["", "N."])
def test_a_figure_looser_than_the_rules_never_says_go(note: str) -> None:
    """Whoever answers for it: at best take care, with the reason in the sentence."""
    work = sheet()
    loose = rules.Rule("space.rear_gap", 1, "Gap", "in", "length", looser_than="4 in")
    work.rules = rules.RuleSet("us", {"space.rear_gap": loose})
    made = work.check("rule", 50.0, 25.4, note=note, instead="Or else.")
    assert made.outcome == "caution"
    assert made.text.endswith("to spare. This rests on a figure of our own that is looser than the rule set's.")
    assert made.note == f"{note} Or else.".strip()
    assert work.check("rule", 20.0, 25.4).outcome == "stop"

"""A result and a form as fragments: what stands where, and what is left out."""

from __future__ import annotations

import re
from typing import Any

import pytest

from calculators.core import (
    Calculator,
    CheckSpec,
    Choice,
    Count,
    Flag,
    Money,
    Quantity,
    Record,
    Rows,
    Text,
    ValueSpec,
    Work,
    forms,
    html,
    rules,
)  # fmt: skip


class Row(Record):
    """A row with something to measure and a setting."""

    wide = Quantity("Width", "Between jambs", "c", "length", 900, 300, 3000)
    kind = Choice("Kind", {"door": "Doorway", "hall": "Corridor"}, default="door")


class Inputs(Record):
    """One of each."""

    wide = Quantity("Cabinet width", "Across the front", "w_c", "length", 900, 300, 2000, first=True)
    far = Quantity("Run", kind="run", least=1, most=99, group="Wire")
    hand = Quantity("Hand room", kind="length", least=0, most=200, default=25, group="Room")
    coin = Choice("Coin", {"1p": "A penny", "dime": "A dime"}, rule="coins.table", group="Room")
    usual = Choice("Gear", {"dolly": "A dolly", "jack": "A jack"}, "What moves it", default="dolly", group="Room")
    sure = Flag("Sure", group="Room")
    jaw = Quantity("Jaw", kind="length", least=1, most=9, when=("usual", ("jack", "dolly")), group="Room")
    name = Text("Name")
    many = Count("How many", least=0, most=9)
    price = Money("Price")
    legs = Rows("Legs", Row, "leg", help="One for each.", most=7)


def solve(inputs: Any, work: Work) -> None:
    work.section("First")
    work.take("wide")
    work.value("sum", work.step("s", "Sum", "w_c * 2", "length", note="A note."), 5.0)


BOX = Calculator("box", "The box", "Does it go?", "", Inputs, (ValueSpec("sum", "The sum", "length", "s_1"),),
                 (CheckSpec("k", "Check"),), solve, {})  # fmt: skip


def form(rule_set: str | None = None, system: str = "si", **typed: Any) -> str:
    return forms.form(BOX, typed, system, prefix="p", rules=rules.load(rule_set) if rule_set else None)


def field(drawn: str, name: str) -> str:
    """The part of a form that belongs to one control."""
    found = [part for part in re.split('<div class="hb-field(?: hb-field--long)?"', drawn) if f'name="{name}"' in part]
    assert len(found) == 1, name
    return found[0]


# -- forms ----------------------------------------------------------------------------


def test_first_fields_stand_open_and_the_rest_in_groups_folded_away() -> None:
    drawn = form()
    opened, folded = drawn.split("<details", 1)
    assert re.findall(r'name="(\w+)"', opened) == ["wide"]
    assert "<legend" not in opened, "one field alone has no heading"
    names = re.findall(r'<span class="hb-part-name">([^<]*)</span>', folded)
    assert names == ["Wire", "Room", "More"]
    assert folded.index(">Room</span>") < folded.index('name="hand"') < folded.index('name="sure"')
    assert '<legend class="hb-visually-hidden">Room</legend>' in folded
    assert " open" not in "".join(re.findall('<details class="hb-more hb-part"[^>]*>', drawn))


def test_a_closed_group_says_what_stands_in_it() -> None:
    """At most five values, each as one reads it out; what does not apply is not said."""
    assert briefs(form(far="3 m", hand=25, usual="jack", sure=True, jaw=4)) == {
        "Wire": "3 m", "Room": "25 mm, A jack, Sure, 4 mm", "More": ""}  # fmt: skip
    assert briefs(form(sure="no", usual="dolly", jaw="5 in"))["Room"] == "A dolly, 5 in", "a no is not told"
    assert briefs(form(legs=[{"wide": 1}, {"wide": 2}], name="a", many=3, price="1.50"))["More"] == "a, 3, 1.50, 2 legs"


def briefs(drawn: str) -> dict[str, str]:
    return dict(re.findall(r'hb-part-name">([^<]*)</span> <span class="hb-brief">([^<]*)</span>', drawn))


def test_what_our_data_hold_is_not_asked_again() -> None:
    class Held(Record):
        """Two fields of a card, and two that are not."""

        wide = Quantity("Width", kind="length", first=True, card=True, group="Cabinet")
        deep = Quantity("Depth", kind="length", first=True, card=True, group="Cabinet")
        gap = Quantity("Gap", kind="length", first=True, group="Spot")
        door = Quantity("Door", kind="length", first=True, group="Way")
        floor = Text("Floor", group="Cabinet")

    held = Calculator("held", "Held", "", "", Held, (), (), solve, {})

    def folds(from_data: bool) -> list[str]:
        drawn = forms.form(held, {"wide": "9"}, "us", prefix="p", from_data=from_data)
        assert drawn.count(' class="hb-group">') == 3, "groups of one field stand together"
        return re.findall(r'<details class="hb-more hb-part"([^>]*)><summary><span class="hb-part-name">([^<]*)', drawn)

    assert folds(False) == [(" data-known open", "Cabinet"), ("", "Cabinet, more")]
    assert folds(True) == [(" data-known", "Cabinet"), ("", "Cabinet, more")]


def test_a_form_of_first_fields_only_has_nothing_to_unfold() -> None:
    class Few(Record):
        """One field."""

        wide = Quantity("Width", kind="length", first=True)

    few = Calculator("few", "Few", "", "", Few, (), (), solve, {})
    assert "<details" not in forms.form(few, {}, "us", prefix="p")
    assert forms.form(few, {}, "us", prefix="p").count(' class="hb-group">') == 1


@pytest.mark.parametrize(("system", "other"), [("us", "si"), ("si", "us")])
def test_the_form_says_which_units_it_is_in(system: str, other: str) -> None:
    drawn = form(system=system)
    assert f'value="{system}" checked>' in drawn
    assert f'value="{other}">' in drawn


def test_a_control_has_its_hint_and_is_described_by_it() -> None:
    drawn = field(form(), "wide")
    assert '<label for="p-wide">Cabinet width</label>' in drawn, "symbols stand in the working"
    assert '<span class="hb-hint" id="p-wide-hint">Across the front</span>' in drawn
    assert 'id="p-wide" name="wide" value="" inputmode="decimal" aria-describedby="p-wide-hint"' in drawn
    bare = field(form(), "far")
    assert "hb-hint" not in bare
    assert "aria-describedby" not in bare
    assert "Left blank: 25 mm." in field(form(), "hand")
    assert "Left blank" not in field(form(), "usual"), "a choice says it in its own list"


def test_a_keyboard_of_figures_only_where_figures_are_enough() -> None:
    """Inches and feet want a space, a slash and marks; metric lengths and all else do not."""
    decimal = 'inputmode="decimal"'
    for name in ("wide", "far", "hand"):
        assert decimal not in field(form(system="us"), name)
        assert decimal in field(form(system="si"), name)
    assert decimal in field(form(system="us"), "many")
    assert decimal in field(form(system="us"), "price")
    assert decimal not in field(form(), "name")


def test_the_unit_stands_beside_the_box_and_not_in_it() -> None:
    drawn = field(form(wide="900 mm"), "wide")
    assert 'value="900"' in drawn
    assert '<span class="hb-unit" data-unit-of="length">mm</span>' in drawn
    assert 'value="3 ft"' in field(form(wide="3 ft"), "wide"), "another unit stays where it was typed"
    assert "hb-unit" not in field(form(many=3), "many")
    assert 'value="x mm"' in field(form(name="x mm"), "name"), "a name has no unit to take off"
    assert 'value="m"' in field(form(far="m"), "far")


def test_a_choice_offers_its_words_and_says_what_a_blank_means() -> None:
    def options(name: str, **typed: Any) -> list[tuple[str, str, str]]:
        return re.findall(r'<option value="(\w*)"( selected|)>([^<]*)<', field(form(**typed), name))

    assert options("usual") == [("", "", "As usual: A dolly"), ("dolly", "", "A dolly"), ("jack", "", "A jack")]
    assert options("usual", usual="jack")[2] == ("jack", " selected", "A jack")
    assert options("sure") == [("", "", "Not known"), ("yes", "", "Yes"), ("no", "", "No")]
    assert options("sure", sure=True)[1] == ("yes", " selected", "Yes")
    assert options("sure", sure=False)[2] == ("no", " selected", "No")
    assert options("coin", rule_set="us") == [("", "", "Not known"), ("dime", "", "A dime")]
    assert options("coin", rule_set="uk") == [("", "", "Not known"), ("1p", "", "A penny")]
    assert len(options("coin")) == 3


@pytest.mark.parametrize(("name", "wanted"), [("usual", "hb-field hb-field--long"), ("sure", "hb-field")])
def test_a_list_takes_a_whole_line_where_its_words_are_long(name: str, wanted: str) -> None:
    """What stands there for a blank among them: “As usual: A dolly” is longer than a jack."""
    found = re.search(rf'<div class="([^"]*)"[^>]*><label[^>]*>[^<]*</label><select [^>]*name="{name}"', form())
    assert (found[1] if found else "") == wanted


def test_a_field_that_hangs_on_another_says_so() -> None:
    assert ' data-when="usual" data-is="jack dolly"' in form()
    assert form().count("data-when") == 1


def test_rows_are_numbered_and_a_blank_one_waits() -> None:
    """What is right as it is stays folded until somebody has typed it."""
    drawn = form(legs=[{"wide": "900 mm"}, {"wide": "1 m", "kind": "hall"}])
    assert re.findall(r'name="(legs\.[\w.#]+)"', drawn) == [
        "legs.0.wide", "legs.0.kind", "legs.1.wide", "legs.1.kind", "legs.#.wide", "legs.#.kind"]  # fmt: skip
    assert re.findall(r'id="(p-legs-[\w#-]+)"', drawn)[:2] == ["p-legs-0-wide", "p-legs-0-wide-hint"] or (
        set(re.findall(r'id="(p-legs-0-[\w]+)"', drawn)) == {"p-legs-0-wide", "p-legs-0-kind"})  # fmt: skip
    assert re.findall(r'hb-row-name">(Leg[ \d]*)<', drawn) == ["Leg 1", "Leg 2", "Leg"]
    assert '<fieldset class="hb-rows" data-rows="legs" data-most="7" data-noun="leg" data-brief="">' in drawn
    assert "<template><fieldset" in drawn, "two boxes stand in a line"
    assert "Add leg</button>" in drawn
    assert drawn.count('aria-label="Remove leg"') == 3
    assert '<p class="hb-hint">One for each.</p>' in drawn


def test_a_long_row_is_one_line_that_opens() -> None:
    class Long(Record):
        """Four boxes, one of them settled."""

        place = Text("Place")
        wide = Quantity("Width", kind="length")
        high = Quantity("Height", kind="length")
        kind = Choice("Kind", {"door": "Doorway: any", "hall": "Hall"}, default="door")

    class Way(Record):
        """A way."""

        legs = Rows("Legs", Long, "leg", brief=("kind", "place", "wide*high", "wide/high"))

    way = Calculator("way", "Way", "", "", Way, (), (), solve, {})
    drawn = forms.form(way, {"legs": [{"place": "hall", "wide": "36", "high": 80}, {"wide": "3 ft", "kind": "door"}]}, "us", prefix="p")
    lines = re.findall(r'hb-row-name">([^<]*)</span> <span class="hb-brief">([^<]*)</span>', drawn)
    assert lines == [("Leg 1", "hall · 36 × 80 in · 36 of 80 in"), ("Leg 2", "Doorway · 3 ft · 3 ft"), ("Leg", "")]
    rows = drawn.split('<details class="hb-row"')[1:]
    assert [row.split(">", 1)[0].endswith(" open") for row in rows] == [False, False, True], "a blank one stands open"
    assert ["More about it" in row for row in rows] == [True, False, True]
    assert [len(re.findall(r'data-do="(?:up|down|double|remove)"', row)) for row in rows] == [4, 4, 4]


# -- results --------------------------------------------------------------------------


def result(**more: Any) -> dict[str, Any]:
    made = BOX.run({"units": "si", "inputs": {"wide": 900, "usual": "jack", "legs": [{"wide": 800}], "price": "1.50"}})
    return {**made, **more}


def test_a_result_comes_in_the_order_in_which_it_is_wanted() -> None:
    spare = {"label": "Beside", "symbol": "", "key": "b", "text": "1", "tolerance": "", "main": False}
    tables = [{"title": name, "columns": ["c"], "rows": [["r"]], "note": "", "detail": name == "Fold"} for name in ("Fold", "Open")]
    check = {"outcome": "stop", "key": "k", "place": "P", "text": "T", "mend": None, "note": "", "caution": "", "citations": []}
    made = result()
    drawn = html.report(BOX, result(figures=["<svg></svg>"], actions=["Do"], tables=tables, caution="Mind",
                                    checks=[{**check, "outcome": "pass"}, {**check, "outcome": "caution"}, check],
                                    values=[spare, {**made["values"][0], "main": True}],
                                    sources=[{"label": "L", "value": 1, "unit": "mm", "citation": "C", "note": ""}],
                                    not_checked=["N"], local=["a.b", "c.d"]))  # fmt: skip
    order = ['class="hb-given"', "hb-headline", "Before you rely on this", "a.b, c.d", "What to do now", "<h3>Not settled</h3>",
             'data-outcome="stop" data-check', 'data-outcome="caution" data-check', "<svg>", "Worked out", "The sum",
             "<h3>Open</h3>", "<summary>1 check passes</summary>", "<summary>More values</summary>", "Beside",
             "<summary>Fold</summary>", "Working, step by step", "Rules used", "<summary>What is assumed</summary>",
             "<h3>Not checked here</h3>"]  # fmt: skip
    places = [drawn.find(each) for each in order]
    assert -1 not in places
    assert places == sorted(places)


def test_what_a_result_has_not_leaves_no_heading() -> None:
    bare = result(inputs={}, local=[], looser=[], caution="", actions=[], figures=[], values=[], tables=[], checks=[], working=[],
                  sources=[], assumed=[], not_checked=[], measure_next=None)  # fmt: skip
    drawn = html.report(BOX, bare)
    assert re.sub("<[^>]*>", "", drawn) == f"{html.OUTCOME_SIGNS[bare['outcome']]} {html.OUTCOME_WORDS[bare['outcome']]}" + (
        str(bare["headline"]).split(". ", 1)[1])  # fmt: skip
    assert "hb-given" not in drawn
    assert "<h" not in drawn


def test_what_was_given_is_listed_for_paper() -> None:
    """Fields that mean nothing beside the others are left out, rows are numbered, choices are in words."""
    drawn = html.report(BOX, result())
    given = dict(re.findall(r"<dt[^>]*>([^<]*)</dt><dd[^>]*>([^<]*)</dd>", drawn))
    assert given["Cabinet width"] == "900 mm"
    assert given["Gear"] == "A jack"
    assert given["Leg 1"] == "width 800 mm, kind Doorway"
    assert "Jaw" not in given
    assert "Name" not in given
    with_jaw = html.report(BOX, {**result(), "inputs": {"usual": "jack", "jaw": "3 mm", "far": "", "sure": "no"}})
    assert dict(re.findall(r"<dt[^>]*>([^<]*)</dt><dd[^>]*>([^<]*)</dd>", with_jaw)) == {"Gear": "A jack", "Jaw": "3 mm", "Sure": "No"}
    other = html.report(BOX, {**result(), "inputs": {"usual": "none", "jaw": "3 mm"}})
    assert "Jaw" not in other


def check_line(**more: Any) -> str:
    check = {"outcome": "stop", "key": "k", "place": "Leg 1: width", "text": "Too narrow.", "mend": None, "note": "",
             "caution": "", "citations": []}  # fmt: skip
    drawn = html.report(BOX, result(checks=[{**check, **more}]))
    return str(re.findall(r'<li class="hb-check".*?</li>', drawn)[0])


def test_a_check_says_its_rule_its_fix_and_its_caution() -> None:
    bare = check_line()
    assert 'data-outcome="stop" data-check="k"' in bare
    assert "<strong>Leg 1: width</strong>" in bare
    assert bare.count("<div") == 2
    assert "Rule: A; B</div>" in check_line(citations=["A", "B", "A"])
    assert re.search(r'<div class="hb-mend">\w+: Do it.</div>', check_line(mend={"text": "Do it."}))
    assert '<div class="hb-small">Note.</div>' in check_line(note="Note.")
    for outcome, stands in (("stop", True), ("caution", True), ("unknown", True), ("pass", False)):
        assert ("hb-caution" in check_line(caution="Mind.", outcome=outcome)) == stands


def test_a_value_has_its_tolerance() -> None:
    drawn = html.report(BOX, result())
    assert '<th scope="row">The sum</th>' in drawn, "symbols stand in the working"
    assert '<output data-value="sum">1800 mm</output> <span class="hb-small">± 5 mm</span></td>' in drawn
    plain = {"label": "L", "symbol": "", "key": "k", "text": "1", "tolerance": ""}
    assert "hb-small" not in html._grid_of([plain])


def test_the_answer_in_one_line() -> None:
    drawn = html.verdict(result(outcome="stop", brief="Room < across: 1 in short"))
    assert "hb-badge--stop" in drawn
    assert drawn.endswith('<span class="hb-bar-why">Room &lt; across: 1 in short</span>')
    made = BOX.run({"units": "si", "inputs": {"wide": 900}})
    assert made["brief"] == "Nothing could be checked yet."


def test_a_step_is_its_formula_and_the_numbers_in_it() -> None:
    drawn = html.report(BOX, result())
    assert "<h4>First</h4>" in drawn
    assert "w<sub>c</sub> = <strong>900 mm</strong></span></li>" in drawn, "what was given has no formula"
    assert "s = w<sub>c</sub> · 2<br>= 900 · 2 = <strong>1800 mm</strong></span> <span class=\"hb-small\">A note.</span>" in drawn
    step = {"symbol": "r", "label": "R", "formula": "", "substituted": "", "printed": "2", "unit": "", "citation": "C", "note": "N"}
    told = html._step(step)
    assert "<strong>2</strong>" in told
    assert "C; N" in told


@pytest.mark.parametrize(("value", "told"), [(48, "48 in"), ([{"a": 1}], "table"), ({"sign": "$"}, "table")])
def test_a_source_is_cited_with_its_figure(value: Any, told: str) -> None:
    rule = {"key": "space.reach_high", "label": "Reach", "value": value, "unit": "in", "kind": "length", "citation": "Code 1",
            "note": "Seen."}  # fmt: skip
    drawn = html.report(BOX, result(sources=[rule], rules_title="Here", units="us"))
    assert "<summary>Rules used (Here)</summary>" in drawn
    assert f"<li>Reach: {told} – Code 1. <span class=\"hb-small\">Seen.</span></li>" in drawn
    assert html._figure({"value": 3, "unit": "", "kind": ""}, "us") == "3"


@pytest.mark.parametrize(("key", "told"), [("space.reach_high", "1219 mm"), ("space.rear_gap", "1220 mm"), ("goods.side_play", "1219 mm")])
def test_a_metric_reader_is_told_no_inches(key: str, told: str) -> None:
    """A greatest reach is rounded down, a least gap up; a figure that was published in metric stays."""
    rule = {"key": key, "value": 48, "unit": "in", "kind": "length"}
    assert html._figure(rule, "si") == told
    assert html._figure(rule, "us") == "48 in"
    assert html._figure({**rule, "unit": "cm"}, "si") == "48 cm"


def test_what_to_measure_next_is_said_with_what_to_do() -> None:
    drawn = html.report(BOX, result(actions=["Measure next: Width."], measure_next={"label": "Width", "help": "Here."}))
    assert "<li>Measure next: Width.</li></ul><p class=\"hb-next hb-small\">Here.</p></div>" in drawn


def test_a_table_scrolls_by_itself_and_carries_its_note() -> None:
    drawn = html.table("T", ("A", "B"), [("1", "2"), ("3", "4")], "N")
    assert drawn.startswith("<h3>T</h3>")
    assert re.findall(r'<th scope="col">(\w)</th>', drawn) == ["A", "B"]
    assert re.findall(r"<tr><td>(\d)</td><td>(\d)</td></tr>", drawn) == [("1", "2"), ("3", "4")]
    assert drawn.endswith('</div><p class="hb-small">N</p>')
    assert html.table("T", ("A",), []).endswith("</table></div>")
    assert 'tabindex="0" role="region" aria-label="T"' in drawn


def test_the_plain_text_says_what_the_page_says() -> None:
    made = result(headline="Go. Well.", actions=["Do"], not_checked=["A.", "B."],
                  checks=[{"word": "Go", "place": "P", "text": "T."}])  # fmt: skip
    assert html.plain(made).splitlines() == ["The box: Go. Well.", "- Do", "The sum: 1800 mm", "[Go] P: T.", "Not checked: A. B."]
    assert "Not checked" not in html.plain({**made, "not_checked": []})


def test_only_a_table_that_ends_in_reasons_keeps_room_for_them() -> None:
    """One long last cell is enough; long cells before it are none."""
    rows = [("a long text before the last column", "181.8 lbf"), ("b", "1 13/16 in")]
    figures, typed = html.grid("t", ("a", "b"), rows, result=True), html.grid("t", ("a", "b"), rows)
    reasons = html.grid("t", ("a", "b"), [("a", "181.8 lbf"), ("b", "it falls over the edge of its feet")], result=True)
    assert 'class="hb-table"' in typed, "what somebody typed must shape no table"
    assert 'class="hb-table hb-short"' in figures
    assert 'class="hb-table"' in reasons


FIGURES = ["12.5 A", "109.1 ft", "1.25 V", "69.9 ft", "yes"]


@pytest.mark.parametrize(("columns", "rows", "is_wide"), [
    (["Wire", "Breaker", "Carries", "Loses", "Does"], [FIGURES], False),
    (["Wire", "Breaker", "Carries here", "Loses here", "Longest", "Lasting", "Does"], [[*FIGURES, "1", "2"]], True),
    # A sentence at the end has a column to be read in, from the fourth on.
    (["Wire", "Does", "Why"], [["1", "no", "It would lose too much of the voltage."]], False),
    (["Wire", "Breaker", "Does", "Why"], [["1", "2", "no", "It would lose too much of the voltage."]], True),
    # A reason takes 23 characters at least, a row 39 at most with two between its cells.
    (["Eye", "Bow", "To", "Why"], [["1", "2", "3", "It would lose too much."]], False),
    (["Eye", "Bow", "Off", "Why"], [["1", "2", "3", "It would lose too much."]], True),
    # What people typed widens nothing; a long figure does.
    (["Wire", "Breaker", "Carries", "Loses"], [["Supercalifragilistic" * 3, "2", "3", "4"]], False),
    (["Wire", "Breaker", "Carries", "Loses"], [["1", "1,000,000,000,000.25 A", "3", "4"]], True),
    ([], [], False),
])  # fmt: skip
def test_cells_of_a_wide_table_of_a_result_are_named(columns: list[str], rows: list[list[str]], is_wide: bool) -> None:
    """So that on a phone each can stand by itself; other tables scroll."""
    drawn = html.grid("Title", columns, rows, result=True)
    assert ("hb-named" in drawn) is is_wide
    assert drawn.count("data-label=") == (sum(map(len, rows)) if is_wide else 0)
    assert "data-label" not in html.grid("Title", columns, rows)

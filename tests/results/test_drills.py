"""Drills from the demo's data: different, decided, right, by changes that happen, and answered on another sheet."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

import calculators
from calculators.core import Quantity, Rows
from calculators.core.fields import Choice
from calculators.core.report import OUTCOME_WORDS
from calculators.core.units import Units
from tools.book.data import load
from tools.pages import drills as pages
from tools.print.drills import sheets
from tools.results import changes, subjects
from tools.results.drills import Drill, _Source, decided, find

DATA = load(Path(__file__).parents[2] / "docs" / "data")
WANTED = 200
FAIR = WANTED // len(calculators.NAMES) // 2  # half of an even share


@pytest.fixture(scope="module")
def drills() -> list[Drill]:
    return find(DATA, WANTED)


def leaves(node: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of a request with its path."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from leaves(value, f"{path}.{key}")
    elif isinstance(node, list):
        for number, value in enumerate(node):
            yield from leaves(value, f"{path}.{number}")
    else:
        yield path, node


def test_there_are_two_hundred_and_no_two_are_alike(drills: list[Drill]) -> None:
    """Neither the same question, nor the same request, nor the same check of a thing by nearly the same change."""
    assert len(drills) == WANTED
    assert len({drill.key for drill in drills}) == WANTED
    assert len({(drill.subject.calculator, str(drill.inputs), drill.asked) for drill in drills}) == WANTED
    thing = Counter((drill.subject.calculator, drill.subject.name, drill.asked[0], drill.happened, drill.label) for drill in drills)
    same = Counter((drill.subject.calculator, drill.asked[0], drill.label, drill.was, drill.after, drill.happened) for drill in drills)
    assert {*thing.values(), *same.values()} == {1}


def test_each_calculator_has_a_fair_share(drills: list[Drill]) -> None:
    counts = Counter(drill.subject.calculator for drill in drills)
    assert counts.keys() == set(calculators.NAMES)
    assert min(counts.values()) >= FAIR, counts


def test_changes_that_turn_an_answer_and_others_take_turns(drills: list[Drill]) -> None:
    """As long as a calculator has both: in most there is one more of a kind at most."""
    counts = {name: Counter(drill.turns for drill in drills if drill.subject.calculator == name) for name in calculators.NAMES}
    even = [name for name, turns in counts.items() if abs(turns[True] - turns[False]) <= 1]
    assert len(even) > len(counts) / 2, counts


def changed(drill: Drill) -> dict[str, tuple[Any, Any]]:
    before, after = dict(leaves(drill.subject.inputs)), dict(leaves(drill.inputs))
    return {path: (before.get(path), after.get(path)) for path in {*before, *after} if before.get(path) != after.get(path)}


def allowed(entry: Any) -> str:
    """A pattern of every path that an entry of the list may touch."""
    paths = [entry["path"]] if "path" in entry else []
    paths += [f"{entry['remove']}.*"] if "remove" in entry else []
    paths += entry.get("also", {})
    for key in ("sets", "us_sets", "si_sets"):
        paths += [f"{path[1:]}.*" if path.startswith("+") else path for each in entry.get(key, ()) for path in each if path != "say"]
    return "|".join(re.escape(f".{path}").replace(r"\*", ".+") for path in paths)


def test_only_what_the_list_of_changes_allows_is_changed(drills: list[Drill]) -> None:
    """By an entry of that calculator, in the inputs that it names, and about a check that it names."""
    for drill in drills:
        entries = [each.entry for each in changes.listed(drill.subject.calculator) if each.entry["happened"] == drill.happened]
        fitting = [each for each in entries if drill.asked[0] in each["checks"]
                   and all(re.fullmatch(allowed(each), path) for path in changed(drill))]  # fmt: skip
        assert fitting, (drill.happened, changed(drill))
        assert changed(drill)


@pytest.mark.parametrize("name", calculators.NAMES)
def test_what_is_assumed_is_the_field_s_own_word(name: str) -> None:
    """Yes and no too, which the field keeps as true and false."""
    fields = [each for each in calculators.get(name).inputs.fields() if isinstance(each, Choice) and each.default is not None]
    assert [each.options[changes._assumed(each)] for each in fields] == [each.assumed_word() for each in fields]


def test_only_what_chills_is_asked_about_cold() -> None:
    """A cabinet at the room's temperature has no limit to drill."""
    cooled = [row.typed.get("cooling") for row in DATA.tables["machines"]]
    assert 0 < cooled.count("chilled") == len(subjects.makers(DATA)["cold"]) < len(cooled)


def test_no_cabinet_grows() -> None:
    """What stands on a cabinet's plate or drawing is on no list, but for a plate that was read again."""
    fixed = {"cabinet_width", "cabinet_depth", "cabinet_height", "cabinet_mass", "door_leaf", "tray_pullout", "control_low", "control_high",
             "usable_length", "coil_outside", "wire", "axis_offset", "span_x", "span_y", "cabinet_volts_least", "cabinet_volts_most"}  # fmt: skip
    for name in calculators.NAMES:
        for change in changes.listed(name):
            assert not any(re.search(rf"\b{key}\b", allowed(change.entry).replace("\\", "")) for key in fixed)


@pytest.mark.parametrize("name", calculators.NAMES)
def test_the_list_names_inputs_checks_and_steps_that_there_are(name: str) -> None:
    """Each path is a field, each check one of the calculator, each step one that its field reads in both systems."""
    record, checks = calculators.get(name).inputs, {spec.key for spec in calculators.get(name).checks}
    assert changes.listed(name)
    for change in changes.listed(name):
        entry = change.entry
        assert set(entry["checks"]) <= checks
        assert entry["happened"].endswith(".")
        assert change.variants("us")
        assert change.variants("si")
        if "path" not in entry:
            continue
        rows, _, rest = entry["path"].partition(".")
        field = record.field(rows)
        if isinstance(field, Rows):
            field = field.record.field(rest.partition(".")[2])
        for system in ("us", "si"):
            for step in change.variants(system):
                if isinstance(field, Choice):
                    assert step in field.options
                else:
                    assert isinstance(field, Quantity)
                    field.read(step, system) if step[0] not in "+-" else Units(system)


def test_every_answer_is_the_calculator_s(drills: list[Drill]) -> None:
    """Worked out again from nothing, before and after the change, and decided by more than the tolerance."""
    for drill in drills:
        checks = {}
        for when, inputs in (("before", drill.subject.inputs), ("after", drill.inputs)):
            result = fresh(drill.subject.calculator, inputs)
            checks[when] = next((each for each in result["checks"] if (each["key"], each["at"]) == drill.asked), None)
        old, new = checks["before"], checks["after"]
        assert new is not None
        assert (old["outcome"] if old else "", new["outcome"], new["text"]) == (drill.before, drill.after, drill.decides)
        assert "unknown" not in (drill.before, drill.after)
        for check in filter(None, (old, new)):
            if check["margin"] is not None:
                assert abs(check["margin"]) > check["tolerance"], drill
                assert (check["margin"] > 0) == (check["outcome"] == "pass")
        assert not old or f"On the sheet: {old['text']}" in drill.given
        steps = [step["printed"] for group in result["working"] for step in group["steps"]]
        assert all(line.rpartition(" = ")[2] in steps for line in drill.working)


FRESH: dict[str, dict[str, Any]] = {}


def fresh(name: str, inputs: dict[str, Any]) -> dict[str, Any]:
    """A whole run of the calculator, once for each request."""
    key = f"{name} {inputs}"
    if key not in FRESH:
        FRESH[key] = calculators.run(name, {"units": DATA.units, "rules": DATA.rules.name, "inputs": inputs})
    return FRESH[key]


@pytest.mark.parametrize(("margin", "tolerance", "outcome", "sure"), [
    (2.0, 1.0, "pass", True), (1.0, 1.0, "caution", False), (-0.5, 1.0, "stop", False), (-2.0, 1.0, "stop", True), (0.0, 0.0, "pass", False),
    (0.1, 0.0, "pass", False), (0.9, 0.0, "pass", True), (None, 0.0, "stop", True), (None, 0.0, "unknown", False),
])  # fmt: skip
def test_decided_is_what_no_measuring_can_hide(margin: float | None, tolerance: float, outcome: str, *, sure: bool) -> None:
    """Beyond the tolerance, and by more than a hair's breadth of the limit, which is 40 here."""
    assert decided({"margin": margin, "tolerance": tolerance, "outcome": outcome, "limit": 40.0}) is sure


@pytest.mark.parametrize(("words", "inside"), [("Yes", "yes"), ("AC", "AC"), ("A wall", "A wall"), ("kW", "kW"), ("On gear", "on gear"), ("", "")])
def test_a_choice_s_words_begin_small_in_a_sentence_but_for_capitals_of_their_own(words: str, inside: str) -> None:
    assert changes._small(words) == inside


def test_a_step_is_written_in_the_unit_on_file() -> None:
    """Goods in millimeters stay so for readers of inches; a closed lane is a whole one; a price has its cents."""
    show = Units("us")

    def told(name: str, happened: str, variant: str, inputs: dict[str, Any]) -> tuple[str, str] | None:
        change = next(each for each in changes.listed(name) if each.entry["happened"] == happened)
        case = changes.put(change, variant, inputs, show)
        return (case.was, case.now) if case else None

    assert told("spiral", "The supplier changed the bottle or can.", "+4 mm", {"diameter": "65 mm"}) == ("65 mm", "69 mm")
    assert told("clearance", "Its place was marked nearer to the wall.", "-1 in", {"rear_gap": "5 in"}) == ("5 in", "4 in")
    assert told("plan", "Lanes of this tray are closed: their motors do not turn.", "-2", {"trays": [{"name": "T", "lanes": "8"}]}) == ("8", "6")
    assert told("float", "A price was changed.", "+0.05", {"prices": [{"price": "1.50", "share": "100"}]}) == ("$1.50", "$1.55")
    assert told("clearance", "Its place was marked nearer to the wall.", "-3 in", {"rear_gap": "2 in"}) is None
    assert told("clearance", "The powered jack is away, and a hand jack of the same size came.", "people", {"mover": "people"}) is None


def test_a_yes_or_no_is_tried_a_little_off_either_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """A diameter read to a millimeter: where 70 mm and 68 mm do not agree on a yes, 69 mm is no question."""
    change = next(each for each in changes.listed("spiral") if each.entry["path"] == "diameter")
    case = changes.put(change, "+4 mm", {"diameter": "65 mm", "shape": "round"}, Units("us"))
    assert case
    assert [calculators.get("spiral").inputs.field("diameter").read(each["diameter"], "us") for each in case.near] == pytest.approx([68, 70])
    source = _Source(DATA, "spiral", (), 1)
    check = {"key": "held", "at": "", "outcome": "pass", "margin": None}
    for other, sure in (("pass", True), ("stop", False)):
        answers = iter([{"checks": [check]}, {"checks": [{**check, "outcome": other}]}])
        monkeypatch.setattr(source, "_run", lambda _, answers=answers: next(answers))
        assert source._sure(case, check) is sure
    assert source._sure(case, {**check, "margin": 1.0})


def test_neither_answer_is_a_safe_guess(drills: list[Drill]) -> None:
    """A quarter each at least: goes, others, changes that turn the answer, changes that do not; and both kinds of others."""
    answers = Counter(drill.after for drill in drills)
    turns = Counter(drill.turns for drill in drills)
    assert min(answers["pass"], WANTED - answers["pass"], *turns.values()) >= WANTED / 4, (answers, turns)
    assert min(answers["stop"], answers["caution"]) >= WANTED / 10, answers


def test_a_stop_says_what_to_do(drills: list[Drill]) -> None:
    """The trainer's answer holds the mend, and a go holds none."""
    assert all(bool(drill.todo) == (drill.after != "pass") for drill in drills)


def test_the_questions_do_not_tell(drills: list[Drill]) -> None:
    """No answer in its question; each on the page of answers, with its working's link."""
    made = {page.path: page.source for page in pages.written(drills, DATA.units)}
    assert made.keys() == {pages.QUESTIONS, pages.ANSWERS}
    questions = re.findall(r"<li><strong>.*?</li>", made[pages.QUESTIONS])
    assert len(questions) == WANTED
    for drill, asked in zip(drills, questions, strict=True):
        assert drill.decides not in asked
    assert made[pages.ANSWERS].count("#inputs=") == WANTED


def test_the_sheets_of_paper_hold_them_all(site: Path) -> None:
    """A sheet a page, questions and answers in two files."""
    made = find(DATA, int(DATA.company["drills"]))
    papers = {}
    for name in ("drills", "drills-answers"):
        pdf = PdfReader(site / "packs" / f"{name}.pdf")
        papers[name] = re.sub(r"\s", "", "".join(page.extract_text() for page in pdf.pages))
        assert pdf.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert len(PdfReader(site / "packs" / "drills.pdf").pages) == len(sheets(made))
    for drill in made:
        assert re.sub(r"\s", "", drill.subject.name) in papers["drills"]
        assert re.sub(r"\s", "", drill.happened) in papers["drills"]
        assert re.sub(r"\s", "", drill.now) in papers["drills"]
        assert re.sub(r"\s", "", drill.decides) in papers["drills-answers"]
        # The answer's word stands before its check, in the answers alone.
        told = re.sub(r"\s", "", f"{OUTCOME_WORDS[drill.after]}. {drill.question}")
        assert told in papers["drills-answers"]
        assert told not in papers["drills"]


def test_the_same_data_gives_the_same_drills() -> None:
    """So that last month's answers still fit last month's sheets."""
    assert find(DATA, 12) == find(DATA, 12)


def test_a_step_keeps_the_thousandths_of_what_is_on_file() -> None:
    """Bare numbers stay bare, in the unit of the sheet."""
    length = Quantity("", kind="length")
    assert changes._added(length, "9.125", "+0.001", "us") == "9.126"
    assert changes._added(length, "100", "-0.5", "si") == "99.5"


def test_a_level_whose_thread_is_not_on_file_says_nothing_of_it() -> None:
    """One end of the leg's thread alone gives no middle to stand at."""
    machine = DATA.tables["machines"][0]
    whole = subjects._level(DATA, machine)
    assert "thread showing at each leg" in whole.told
    for lacking in ("thread_least", "thread_most"):
        short = subjects._level(DATA, replace(machine, values={**machine.values, lacking: None}))
        assert (short.told, "thread_out" in short.inputs) == ("", "thread_out" in DATA.prefill("level", {"machine": machine.typed["key"]}))


def test_a_measure_changes_only_where_it_stands_on_file_and_a_choice_anywhere() -> None:
    places = calculators.get("clearance").inputs.field("route")
    assert isinstance(places, Rows)
    measure = next(field for field in places.record.fields() if isinstance(field, Quantity))
    choice = next(field for field in places.record.fields() if isinstance(field, Choice))

    def fits(field: Any, row: dict[str, Any], **entry: Any) -> bool:
        return changes._fits(changes.Change("clearance", 0, entry), row, field, field.key)

    assert [fits(measure, row) for row in ({measure.key: "1 m"}, {measure.key: ""}, {})] == [True, False, False]
    assert [fits(choice, row) for row in ({choice.key: "door"}, {})] == [True, True]
    assert [fits(choice, row, needs_row=measure.key) for row in ({measure.key: "1 m"}, {})] == [True, False]

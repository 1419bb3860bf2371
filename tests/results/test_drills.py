"""Drills from the demo's data: different, right, and answered on another sheet."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

import calculators
from calculators.core.report import OUTCOME_WORDS
from tools.book.data import load
from tools.pages import drills as pages
from tools.print.drills import sheets
from tools.results.drills import Drill, find

DATA = load(Path(__file__).parents[2] / "docs" / "data")
WANTED = 200


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
    """Neither the same question nor the same request."""
    assert len(drills) == WANTED
    assert len({drill.key for drill in drills}) == WANTED
    assert len({(drill.subject.calculator, str(drill.inputs)) for drill in drills}) == WANTED


def test_just_one_value_is_changed(drills: list[Drill]) -> None:
    """From what is on file, to what the question says."""
    for drill in drills:
        before, after = dict(leaves(drill.subject.inputs)), dict(leaves(drill.inputs))
        assert before.keys() == after.keys()
        changed = [path for path in before if before[path] != after[path]]
        assert len(changed) == 1
        assert (before[changed[0]], after[changed[0]]) == (drill.was, drill.now)


def test_every_answer_is_the_calculator_s(drills: list[Drill]) -> None:
    """Worked out again, before and after the change."""
    for drill in drills:
        for inputs, outcome in ((drill.subject.inputs, drill.before), (drill.inputs, drill.after)):
            result = calculators.run(drill.subject.calculator, {"units": DATA.units, "inputs": inputs})
            check = next(each for each in result["checks"] if (each["key"], each["at"]) == drill.asked)
            assert check["outcome"] == outcome
            assert outcome != "unknown"
        assert check["text"] == drill.decides
        steps = [step["printed"] for group in result["working"] for step in group["steps"]]
        assert all(line.rpartition(" = ")[2] in steps for line in drill.working)


def test_neither_answer_is_a_safe_guess(drills: list[Drill]) -> None:
    """At least a quarter each: stops, goes, changes that turn the answer, changes that do not."""
    stops = Counter(drill.after == "stop" for drill in drills)
    turns = Counter(drill.turns for drill in drills)
    assert min(stops.values()) >= WANTED / 4, stops
    assert min(turns.values()) >= WANTED / 4, turns
    assert {drill.subject.calculator for drill in drills} == {"clearance", "circuit", "spiral"}


def test_a_stop_says_what_to_do(drills: list[Drill]) -> None:
    """The trainer's answer holds the mend."""
    assert all(drill.todo for drill in drills if drill.after == "stop")


def test_the_questions_do_not_tell(drills: list[Drill]) -> None:
    """No answer on the page of questions; each on the page of answers, with its working's link."""
    made = {page.path: page.source for page in pages.written(drills, DATA.units)}
    assert made.keys() == {pages.QUESTIONS, pages.ANSWERS}
    for drill in drills:
        assert drill.decides not in made[pages.QUESTIONS]
    assert made[pages.ANSWERS].count("#inputs=") == WANTED
    assert made[pages.QUESTIONS].count("<li><strong>") == WANTED


def test_the_sheets_of_paper_hold_them_all(site: Path) -> None:
    """Ten to a page, questions and answers in two files."""
    made = find(DATA, int(DATA.company["drills"]))
    papers = {}
    for name in ("drills", "drills-answers"):
        pdf = PdfReader(site / "packs" / f"{name}.pdf")
        papers[name] = re.sub(r"\s", "", "".join(page.extract_text() for page in pdf.pages))
        assert pdf.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert len(PdfReader(site / "packs" / "drills.pdf").pages) == len(sheets(made))
    for drill in made:
        assert re.sub(r"\s", "", drill.subject.name) in papers["drills"]
        assert re.sub(r"\s", "", drill.now) in papers["drills"]
        assert re.sub(r"\s", "", drill.decides) not in papers["drills"]
        assert re.sub(r"\s", "", drill.decides) in papers["drills-answers"]
        # The answer's word stands before its check, in the answers alone.
        told = re.sub(r"\s", "", f"{OUTCOME_WORDS[drill.after]}. {drill.question}")
        assert told in papers["drills-answers"]
        assert told not in papers["drills"]


def test_the_same_data_gives_the_same_drills() -> None:
    """So that last month's answers still fit last month's sheets."""
    assert find(DATA, 12) == find(DATA, 12)

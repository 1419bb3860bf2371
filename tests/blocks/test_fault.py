"""Faults by what one sees: a button each, questions in order, Yes onward and No to what to do."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import markdown
import pytest
from bs4 import BeautifulSoup

from calculators.core import rules
from tests.blocks.test_blocks import FakeData
from tools.blocks import HandbookBlocks
from tools.blocks.context import Context
from tools.blocks.fault import icon

DRAWING = ('<svg viewBox="0 0 9 9" role="img" aria-labelledby="a b"><title id="a">Dead</title><desc id="b">Dark</desc>'
           "<path d=\"M0 0\"/></svg>")  # fmt: skip
GOOD = """::: faults
Plug **out**.
:::

::: fault dead
title: It is dead
button: Dead
said: no power, dark
said: off
1. Is the light on?
   No: **Stop and call** the site.
2. Is it warm?
   Yes: **First:** save the food.
   No: **Fix:** [wait](#fault-dead).
3. Is the switch on?
   Yes: **Stop and call** the office.
   No: Go to [It is dead](#fault-dead).
:::
"""


@pytest.fixture
def context(tmp_path: Path) -> Context:
    (tmp_path / "see-dead.svg").write_text(DRAWING, "utf-8")
    return Context(rules.load("us"), FakeData(), (tmp_path,), page="page.md")


@pytest.fixture
def render(context: Context) -> Callable[[str], BeautifulSoup]:
    """Source text to elements."""
    made = markdown.Markdown(extensions=[HandbookBlocks(context)])
    return lambda text: BeautifulSoup(made.convert(text), "html.parser")


def test_a_fault_has_a_button_with_its_drawing(render: Callable[[str], BeautifulSoup], context: Context) -> None:
    """It leads to the fault; its drawing is not read out beside the words that say the same."""
    (link,) = render(GOOD).select("nav .hb-symptoms a")
    assert context.problems == []
    assert (link["href"], link.get_text()) == ("#fault-dead", "Dead")
    assert link.svg["aria-hidden"] == "true"
    assert not link.select("title, desc, [id], [role]")


def test_the_whole_tree_stands_in_the_page(render: Callable[[str], BeautifulSoup]) -> None:
    """Yes before No in every question, and Yes onward in all but the last."""
    section = render(GOOD).select_one("section.hb-fault")
    assert section
    assert [(head["id"], head.get_text()) for head in section.select("h3")] == [("fault-dead", "It is dead")]
    ways = [[way.get_text() for way in asked.select(".hb-way")] for asked in section.select(".hb-ask")]
    assert ways == [["Yes: go to 2.", "No: Stop and call the site."],
                    ["Yes: First: save the food. Then go to 3.", "No: Fix: wait."],
                    ["Yes: Stop and call the office.", "No: Go to It is dead."]]  # fmt: skip


def test_what_people_say_is_kept_for_the_search_and_not_shown(render: Callable[[str], BeautifulSoup], context: Context) -> None:
    assert "no power" not in render(GOOD).get_text()
    assert context.said == {"page.md": {"fault-dead": ["no power", "dark", "off"]}}


def test_what_stands_over_the_first_question_is_text(render: Callable[[str], BeautifulSoup], context: Context) -> None:
    """A list with links, before the questions."""
    found = render(GOOD.replace("1. Is the light", "Look:\n\n- **Heat:** [warm](#fault-dead)\n\n1. Is the light"))
    assert context.problems == []
    assert [part.name for part in found.select("section.hb-fault > *")] == ["h3", "div", "p", "ul", "ol"]


def test_a_caution_stands_over_the_questions_of_each(render: Callable[[str], BeautifulSoup]) -> None:
    """Who comes by a link has not seen the head of the page. The search need not read it fifteen times."""
    care = render(GOOD).select_one("h3 + .hb-fault-care")
    assert care
    assert str(care.p) == "<p>Plug <strong>out</strong>.</p>"
    assert care.has_attr("data-search-exclude")


WRONG = {
    "no title": (GOOD.replace("title: It is dead\n", ""), "has no title"),
    "no questions": ("::: faults\nOut.\n:::\n::: fault dead\ntitle: Dead\n:::", "no question here"),
    "no caution": (GOOD.replace("Plug **out**.\n", ""), "no caution"),
    "no grid": (GOOD.partition("\n\n")[2], "No buttons lead"),
    "no drawing": (GOOD.replace("fault dead", "fault deed"), "no drawing “see-deed”"),
    "no No": (GOOD.replace("   No: **Stop and call** the site.\n", ""), "Question 1 has no answer"),
    "no last Yes": (GOOD.replace("   Yes: **Stop and call** the office.\n", ""), "Question 3 has no answer"),
    "Yes ends early": (GOOD.replace("**First:**", "**Fix:**"), "does not say what it is"),
    "No leads on": (GOOD.replace("No: **Stop and call** the site", "No: go to 2"), "does not say what it is"),
    "First at the end": (GOOD.replace("Yes: **Stop and call** the office", "Yes: **First:** look"), "does not say what it is"),
    "a stray line": (GOOD.replace("2. Is it", "Hm.\n2. Is it"), "neither a question nor an answer"),
    "a block within": (GOOD.replace("2. Is it", "::: notice\nHm.\n:::\n2. Is it"), "cannot stand in a fault"),
}


@pytest.mark.parametrize(("text", "what"), WRONG.values(), ids=WRONG.keys())
def test_a_mistake_is_told(text: str, what: str, render: Callable[[str], BeautifulSoup], context: Context) -> None:
    render(text)
    assert [problem for problem in context.problems if what in problem.what and problem.mend], context.problems


def test_a_drawing_on_a_button_says_nothing_however_it_was_written() -> None:
    """Its title and description may take several lines, as may a remark."""
    drawn = '<?xml version="1.0"?>\n<!-- a\nremark -->\n<svg role="img" aria-labelledby="t d"><title id="t">A\nB</title>\n<desc id="d">C\nD</desc><path d="M0 0"/></svg>\n'
    assert icon(drawn) == '<svg aria-hidden="true">\n<path d="M0 0"/></svg>'


def test_a_stray_line_is_told_by_its_number(render: Callable[[str], BeautifulSoup], context: Context) -> None:
    render(GOOD.replace("2. Is it", "Hm.\n2. Is it"))
    stray = 1 + GOOD.replace("2. Is it", "Hm.\n2. Is it").split("\n").index("Hm.")
    assert [each.place for each in context.problems if "neither" in each.what] == [f"line {stray}"]

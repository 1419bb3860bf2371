"""Faults by what one sees: buttons with a drawing, and under them a tree of questions for each.

A reader answers one question at a time (``fault.js``); without scripts and on paper the whole tree stands.
Yes leads on to the next question everywhere, No to what to do: only the last question ends on both sides.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as etree
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tools.problems import nearest

from .options import no_argument
from .tree import Node

if TYPE_CHECKING:
    from . import Drawer

ID = "fault-"
DRAWING = "see-"
GRID = "hb-symptoms"
_OPTION = re.compile(r"^(title|button|said):\s+(.*)$")
_QUESTION = re.compile(r"^(\d+)\.\s+(.*)$")
_ANSWER = re.compile(r"^\s+(Yes|No):\s+(.*)$")
# How an answer begins, and what it is to the reader.
KINDS = {"**Fix:**": "fix", "**Stop": "stop", "Go to [": "other", "**First:**": "first"}


@dataclass
class _Question:
    line: int
    text: str
    answers: dict[str, str] = field(default_factory=dict)


@dataclass
class _Fault:
    """One fault while it is gathered; ``before`` is what stands over its first question."""

    options: dict[str, str] = field(default_factory=dict)
    before: list[str] = field(default_factory=list)
    questions: list[_Question] = field(default_factory=list)


def draw_grid(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """The place of the buttons, which the faults after it fill; its text is the caution over the questions of each."""
    no_argument(node, drawer)
    if not node.lines():
        drawer.report(node.line, "There is no caution for the faults.", "Say in a line what must be safe before anything else.")
    nav = etree.SubElement(parent, "nav", {"class": "hb-faults", "aria-label": "What do you see?"})
    care = "\n".join(text for _, text in node.lines())
    drawer.context.symptoms = (drawer.context.page, etree.SubElement(nav, "ul", {"class": GRID}), care)


def draw(node: Node, parent: etree.Element, drawer: Drawer) -> None:
    """A fault's button among the others, its heading and its questions."""
    fault = _gather(node, drawer)
    _check(node, fault, drawer)
    title = fault.options.get("title", node.argument)
    _button(node, fault.options.get("button", title), drawer)
    place = drawer.context.said.setdefault(drawer.context.page, {})
    place[ID + node.argument] = [each.strip() for each in fault.options.get("said", "").split(",") if each.strip()]
    box = etree.SubElement(parent, "section", {"class": "hb-fault", "data-fault": node.argument})
    etree.SubElement(box, "h3", {"id": ID + node.argument}).text = title
    if drawer.context.symptoms:
        # Once in the search is enough: it stands over the buttons too.
        care = etree.SubElement(box, "div", {"class": "hb-fault-care", "data-search-exclude": ""})
        drawer.text(drawer.context.symptoms[2], care)
    drawer.text("\n".join(fault.before), box)
    asked = etree.SubElement(box, "ol", {"class": "hb-asked"})
    for number, question in enumerate(fault.questions, 1):
        _ask(question, number, len(fault.questions), asked)


def _gather(node: Node, drawer: Drawer) -> _Fault:
    fault = _Fault()
    for each in node.body:
        if isinstance(each, Node):
            drawer.report(each.line, "A block cannot stand in a fault.", "Put it before or after the fault.")
        elif not _take(each, fault) and each[1].strip():
            drawer.report(each[0], "This line is neither a question nor an answer.",
                          "Number each question, and indent its “Yes: …” and “No: …”.")  # fmt: skip
    return fault


def _take(each: tuple[int, str], fault: _Fault) -> bool:
    line, text = each
    if found := _QUESTION.match(text):
        fault.questions.append(_Question(line, found[2]))
    elif fault.questions and (found := _ANSWER.match(text)):
        fault.questions[-1].answers[found[1]] = found[2]
    elif not fault.questions and not fault.before and (found := _OPTION.match(text)):
        before = fault.options.get(found[1], "") if found[1] == "said" else ""
        fault.options[found[1]] = f"{before}, {found[2]}".strip(", ")
    elif not fault.questions and (text.strip() or fault.before):
        fault.before.append(text)
    else:
        return False
    return True


def _check(node: Node, fault: _Fault, drawer: Drawer) -> None:
    if not fault.options.get("title"):
        drawer.report(node.line, "This fault has no title.", "Write title: and what one sees.")
    if not fault.questions:
        drawer.report(node.line, "There is no question here.", "Write lines such as “1. Is it level?”.")
    for number, question in enumerate(fault.questions, 1):
        last = number == len(fault.questions)
        if "No" not in question.answers or (last and "Yes" not in question.answers):
            drawer.report(question.line, f"Question {number} has no answer for every case.",
                          "Every question has a “No:”, and the last one a “Yes:” too. Yes leads to the next question.")  # fmt: skip
        for word, answer in question.answers.items():
            if (kind(answer) == "first") != (word == "Yes" and not last) or not kind(answer):
                drawer.report(question.line, f"“{word}: {answer[:30]} …” does not say what it is.",
                              "Begin with **Fix:**, **Stop** or Go to [another fault]; with **First:** where Yes has "
                              "something to do before the next question.")  # fmt: skip


def kind(answer: str) -> str:
    """What an answer is to the reader, by its beginning; empty where it is nothing known."""
    return next((kind for lead, kind in KINDS.items() if answer.startswith(lead)), "")


def _button(node: Node, label: str, drawer: Drawer) -> None:
    page, grid, _ = drawer.context.symptoms or ("", None, "")
    known = {path.stem: path for folder in drawer.context.drawings for path in folder.glob(f"{DRAWING}*.svg")}
    name = DRAWING + node.argument
    if grid is None or page != drawer.context.page:
        drawer.report(node.line, "No buttons lead to this fault.", "Write “::: faults” and “:::” before the first fault.")
        return
    if name not in known:
        drawer.report(node.line, f"There is no drawing “{name}”.", nearest(name, sorted(known)))
        return
    drawer.context.figures_used.add(name)
    link = etree.SubElement(etree.SubElement(grid, "li"), "a", {"href": f"#{ID}{node.argument}"})
    link.text = drawer.md.htmlStash.store(icon(known[name].read_text(encoding="utf-8")))
    etree.SubElement(link, "span").text = label


def icon(svg: str) -> str:
    """A drawing beside words that say the same: not read out, and without ids of its own."""
    bare = re.sub(r"<\?xml.*?\?>|<!--.*?-->|<(title|desc)\b.*?</\1>", "", svg, flags=re.DOTALL).strip()
    return re.sub(r' role="img" aria-labelledby="[^"]*"', ' aria-hidden="true"', bare, count=1)


def _ask(question: _Question, number: int, last: int, asked: etree.Element) -> None:
    item = etree.SubElement(asked, "li", {"class": "hb-ask"})
    etree.SubElement(item, "p", {"class": "hb-ask-text"}).text = question.text
    ways = etree.SubElement(item, "ul", {"class": "hb-ways"})
    onward = f"go to {number + 1}." if number < last else ""
    for word in ("Yes", "No"):
        answer = question.answers.get(word, "")
        told = f"{answer} Then {onward}" if answer and onward and word == "Yes" else answer or onward
        way = etree.SubElement(ways, "li", {"class": f"hb-way hb-way--{kind(answer) or 'on'}", "data-answer": word})
        if not answer:
            way.set("data-search-exclude", "")
        etree.SubElement(way, "strong").text = f"{word}:"
        way[0].tail = " "
        etree.SubElement(way, "span").text = told

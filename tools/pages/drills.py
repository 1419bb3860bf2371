"""Drills as pages: questions on one, answers on another."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from html import escape
from urllib.parse import quote

from tools.book.book import Book
from tools.print.drills import plain, sheets, word
from tools.results import drills as found
from tools.results.drills import Drill

from .page import Page

QUESTIONS, ANSWERS = "learn/drills.md", "learn/drill-answers.md"
UNLISTED = {"search": {"exclude": True}}


def pages(book: Book) -> Iterator[Page]:
    """Questions and answers; none where there is no drill."""
    if drills := found.of(book.data):
        yield from written(drills, book.data.units)


def written(drills: Sequence[Drill], units: str) -> Iterator[Page]:
    """The same for these drills."""
    yield Page(QUESTIONS, "Drills", _questions(drills), ("Learn",), order=80, meta=UNLISTED)
    yield Page(ANSWERS, "Answers to the drills", _answers(drills, units), ("Learn",), order=81, meta=UNLISTED)


def _questions(drills: Sequence[Drill]) -> str:
    parts = [
        "Each drill is one of our own sites, lanes or cabinets on a day when one thing is not as on the sheet. "
        "Look, think, and decide: is the check named at the end a go, one to take care with, or a stop? "
        "Write down what you would do. Then ask your trainer, who has the answers.\n",
        '<ul class="hb-pack-links"><li><a href="../packs/drills.pdf">Drill sheets (PDF)</a></li>'
        '<li><a href="../packs/drills-answers.pdf">Answers for the trainer (PDF)</a></li></ul>\n',
    ]
    for number, sheet in enumerate(sheets(drills), 1):
        items = "".join(f"<li>{_question(drill)}</li>" for drill in sheet)
        parts.append(f'## Sheet {number}\n\n<ol class="hb-drills">{items}</ol>\n')
    return "\n".join(parts)


def _question(drill: Drill) -> str:
    each = {name: escape(value) for name, value in plain(drill).items() if isinstance(value, str)}
    return (
        f"<strong>{each['calculator']}: {each['subject']}.</strong> {each['happened']} {each['label']}: on file "
        f"{each['was']}, on the day <strong>{each['now']}</strong>. "
        f"<span class=\"hb-hint\">{each['given']} All else is as it was.</span> <em>{each['question']}:</em> go, take care or stop?"
    )


def _answers(drills: Sequence[Drill], units: str) -> str:
    parts = ["For the trainer. Every answer was worked out by the calculator when this handbook was "
             "made; its link opens the whole working.\n"]  # fmt: skip
    for number, sheet in enumerate(sheets(drills), 1):
        items = "".join(f"<li>{_answer(drill, units)}</li>" for drill in sheet)
        parts.append(f'## Sheet {number}\n\n<ol class="hb-drills">{items}</ol>\n')
    return "\n".join(parts)


def _answer(drill: Drill, units: str) -> str:
    carried = {"calculator": drill.subject.calculator, "units": units, "inputs": drill.inputs}
    told = quote(json.dumps(carried, separators=(",", ":")), safe="{}[]:,")
    link = f"../calculators/{drill.subject.calculator}.html#inputs={told}"
    turns = "The change turns it." if drill.turns else "The change does not turn it."
    todo = f" {escape(drill.todo)}" if drill.todo else ""
    working = "".join(f"<br>{escape(line)}" for line in drill.working)
    sources = f"<br>{escape('; '.join(drill.sources))}" if drill.sources else ""
    return (
        f"<strong>{escape(word(drill))}.</strong> {escape(drill.question)}: {escape(drill.decides)} "
        f'{turns}{todo}{working}{sources}<br><a href="{escape(link)}">Open the working</a>'
    )

"""Writes drills down: questions on one page and one paper, answers on others."""

from __future__ import annotations

import json
from collections.abc import Sequence
from html import escape
from typing import Any
from urllib.parse import quote

import calculators
from calculators.core.report import OUTCOME_WORDS
from tools.results.drills import Drill

SHEET = 10
QUESTIONS, ANSWERS = "learn/drills.md", "learn/drill-answers.md"


def sheets(drills: Sequence[Drill]) -> list[Sequence[Drill]]:
    """The drills, ten to a sheet."""
    return [drills[start : start + SHEET] for start in range(0, len(drills), SHEET)]


def pages(drills: Sequence[Drill], units: str) -> dict[str, str]:
    """The made pages: path among the sources → Markdown; none where there is no drill."""
    if not drills:
        return {}
    return {QUESTIONS: _questions(drills), ANSWERS: _answers(drills, units)}


def navigation(drills: Sequence[Drill]) -> list[dict[str, str]]:
    """Lines of the menu."""
    return [{"Drills": QUESTIONS}, {"Answers to the drills": ANSWERS}] if drills else []


def told(drills: Sequence[Drill]) -> list[list[dict[str, Any]]]:
    """The same for paper, as plain data, sheet by sheet."""
    return [[_plain(drill) for drill in sheet] for sheet in sheets(drills)]


def _plain(drill: Drill) -> dict[str, Any]:
    return {
        "calculator": calculators.get(drill.subject.calculator).title, "subject": drill.subject.name,
        "label": drill.label, "was": drill.was, "now": drill.now, "question": drill.question,
        "answer": _word(drill), "turns": drill.turns, "decides": drill.decides, "todo": drill.todo,
        "working": list(drill.working), "sources": list(drill.sources),
    }  # fmt: skip


def _word(drill: Drill) -> str:
    return OUTCOME_WORDS[drill.after]


def _questions(drills: Sequence[Drill]) -> str:
    parts = [
        "---\ntitle: Drills\nsearch:\n  exclude: true\n---\n# Drills\n",
        "Each drill is one of our own sites or products with one value changed. Look at the sheet, "
        "think, and decide: is the check named at the end a go or a stop? Write down what you would "
        "do. Then ask your trainer, who has the answers.\n",
        '<ul class="hb-pack-links"><li><a href="../packs/drills.pdf">Drill sheets (PDF)</a></li>'
        '<li><a href="../packs/drills-answers.pdf">Answers for the trainer (PDF)</a></li></ul>\n',
    ]
    for number, sheet in enumerate(sheets(drills), 1):
        items = "".join(f"<li>{_question(drill)}</li>" for drill in sheet)
        parts.append(f'## Sheet {number}\n\n<ol class="hb-drills">{items}</ol>\n')
    return "\n".join(parts)


def _question(drill: Drill) -> str:
    each = {name: escape(value) for name, value in _plain(drill).items() if isinstance(value, str)}
    return (
        f"<strong>{each['calculator']}: {each['subject']}.</strong> {each['label']}: on file "
        f"{each['was']}, on the day <strong>{each['now']}</strong>. All else is as on the sheet. "
        f"<em>{each['question']}:</em> go or stop?"
    )


def _answers(drills: Sequence[Drill], units: str) -> str:
    parts = ["---\ntitle: Answers to the drills\nsearch:\n  exclude: true\n---\n# Answers to the drills\n\n"
             "For the trainer. Every answer was worked out by the calculator when this handbook was "
             "made; its link opens the whole working.\n"]  # fmt: skip
    for number, sheet in enumerate(sheets(drills), 1):
        items = "".join(f"<li>{_answer(drill, units)}</li>" for drill in sheet)
        parts.append(f'## Sheet {number}\n\n<ol class="hb-drills">{items}</ol>\n')
    return "\n".join(parts)


def _answer(drill: Drill, units: str) -> str:
    carried = {"calculator": drill.subject.calculator, "units": units, "inputs": drill.inputs}
    link = f"../calculators/{drill.subject.calculator}.html#inputs={quote(json.dumps(carried))}"
    turns = "The change turns it." if drill.turns else "The change does not turn it."
    todo = f" {escape(drill.todo)}" if drill.todo else ""
    working = "".join(f"<br>{escape(line)}" for line in drill.working)
    sources = f"<br>{escape('; '.join(drill.sources))}" if drill.sources else ""
    return (
        f"<strong>{escape(_word(drill))}.</strong> {escape(drill.question)}: {escape(drill.decides)} "
        f'{turns}{todo}{working}{sources}<br><a href="{escape(link)}">Open the working</a>'
    )

"""Drills as plain data, sheet by sheet, for paper and page alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import calculators
from calculators.core.report import OUTCOME_WORDS
from calculators.core.words import Words
from tools.results.drills import Drill

SHEET = 8


def sheets(drills: Sequence[Drill]) -> list[Sequence[Drill]]:
    """The drills, as many to a sheet as a page holds."""
    return [drills[start : start + SHEET] for start in range(0, len(drills), SHEET)]


def told(drills: Sequence[Drill], words: Words) -> list[list[dict[str, Any]]]:
    """The same for paper, as plain data in a country's words, sheet by sheet."""
    return [[_said(plain(drill), words) for drill in sheet] for sheet in sheets(drills)]


def _said(drill: dict[str, Any], words: Words) -> dict[str, Any]:
    return {key: [words.say(each) for each in value] if isinstance(value, list)
            else words.say(value) if isinstance(value, str) else value for key, value in drill.items()}  # fmt: skip


def plain(drill: Drill) -> dict[str, Any]:
    """One drill with its answer."""
    return {
        "calculator": calculators.get(drill.subject.calculator).title, "subject": drill.subject.name,
        "happened": drill.happened, "given": drill.given,
        "label": drill.label, "was": drill.was, "now": drill.now, "question": drill.question,
        "answer": word(drill), "turns": drill.turns, "decides": drill.decides, "todo": drill.todo,
        "working": list(drill.working), "sources": list(drill.sources),
    }  # fmt: skip


def word(drill: Drill) -> str:
    """The answer."""
    return OUTCOME_WORDS[drill.after]

"""What an operator wants in each pack: ``packs.toml`` of their folder."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tools.problems import Problem, Problems

FILE = "packs.toml"
KEY = re.compile(r"[a-z][a-z0-9-]*$")
PARTS = {"title": str, "summary": str, "pages": list, "questions": list}
QUESTION_PARTS = ("ask", "answers", "right", "why", "page")


@dataclass(frozen=True)
class Question:
    """One question of a quiz: what may be answered, which is right, why, and where it stands."""

    ask: str
    answers: tuple[str, ...]
    right: int
    why: str
    page: str

    @property
    def letter(self) -> str:
        """The letter of the right answer."""
        return "ABCDEF"[self.right]


@dataclass(frozen=True)
class Pack:
    """A booklet: the pages in order (without ``.md``), and the questions at its end."""

    key: str
    title: str
    summary: str
    pages: tuple[str, ...]
    questions: tuple[Question, ...] = field(default=())


def load(folder: Path, written: Iterable[str]) -> list[Pack]:
    """Read the packs of an operator's folder; none where the file is missing. ``written`` are the pages there are.

    Raises :class:`Problems` with every mistake at once: file, pack, what is wrong and its mend.
    """
    path = folder / FILE
    if not path.is_file():
        return []
    try:
        told = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise Problems([Problem(FILE, "", str(error), "Mend the line it names.")]) from error
    problems: list[Problem] = []
    known = known_pages(written)
    packs = [_pack(key, facts, known, problems) for key, facts in told.items()]
    if problems:
        raise Problems(problems)
    return [pack for pack in packs if pack]


def _pack(key: str, facts: Any, known: list[str], problems: list[Problem]) -> Pack | None:
    def wrong(what: str, mend: str) -> None:
        problems.append(Problem(FILE, f"[{key}]", what, mend))

    if not KEY.match(key):
        wrong("A pack's name becomes a file name.", "Use small letters, digits and hyphens.")
    if not isinstance(facts, dict):
        wrong("This is no pack.", "Write [name] on a line of its own, then title, summary, pages.")
        return None
    for name in facts.keys() - PARTS.keys():
        wrong(f"There is no part “{name}”.", f"Parts: {', '.join(PARTS)}.")
    for name, kind in PARTS.items():
        if name != "questions" and not isinstance(facts.get(name), kind):
            wrong(f"“{name}” is missing.", "A pack has a title, a summary and a list of pages.")
            return None
    pages = tuple(str(each) for each in facts["pages"])
    for page in pages:
        if page not in known:
            wrong(f"There is no page “{page}”.", f"Pages: {', '.join(known)}.")
    asked = facts.get("questions", [])
    if not isinstance(asked, list):
        wrong("“questions” is no list of questions.", f"Write [[{key}.questions]] over each.")
        asked = []
    questions = tuple(_question(each, pages, wrong) for each in asked)
    return Pack(key, facts["title"], facts["summary"], pages,
                tuple(each for each in questions if each))  # fmt: skip


def known_pages(written: Iterable[str]) -> list[str]:
    """The pages that a pack may hold, as it names them."""
    found = (place.removesuffix(".md") for place in written)
    return sorted(each for each in found if "/" in each and not each.startswith("calculators/"))


def _question(facts: Any, pages: tuple[str, ...], wrong: Any) -> Question | None:
    if not isinstance(facts, dict) or set(facts) != set(QUESTION_PARTS):
        wrong("A question is not whole.", f"It has just these parts: {', '.join(QUESTION_PARTS)}.")
        return None
    if not isinstance(facts["answers"], list):
        wrong(f"“{facts['ask']}”: its answers are no list.", 'Write answers = ["one", "another"].')
        return None
    answers = tuple(facts["answers"])
    if facts["right"] not in answers or not 2 <= len(answers) <= 6:
        wrong(f"“{facts['ask']}”: the right answer is not one of 2 to 6 answers.",
              "Write it under “right” letter by letter as in the list.")  # fmt: skip
        return None
    if facts["page"] not in pages:
        wrong(f"“{facts['ask']}”: its page is not in the pack.", f"Pages here: {', '.join(pages)}.")
    return Question(facts["ask"], answers, answers.index(facts["right"]), facts["why"], facts["page"])

"""What an operator wants in each pack: ``packs.toml`` of their folder."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from tools.problems import Problem, Problems

from . import company, keys

FILE = "packs.toml"
# How long its texts may be: a title stands in the menu, the rest in a paragraph.
LONGEST = {"title": 80, "summary": 400, "ask": 400, "why": 400}
ANSWER = 200
# The forms of a booklet: for the day itself, and to learn from. An operator may name in ``forms`` those they want.
SHORT, STUDY = "short", "study"
FORMS = (SHORT, STUDY)
# Names of files beside the booklets: the drill sheets, each booklet's answers and its short form.
TAKEN, ENDINGS = "drills", ("-answers", f"-{SHORT}")
PARTS = {"title": str, "summary": str, "pages": list, "questions": list, "forms": list, "by_model": bool}
OPTIONAL = ("questions", "forms", "by_model")
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
    forms: tuple[str, ...] = FORMS
    by_model: bool = False
    machine: str = ""  # the cabinet model whose card it quotes; of every model's where that is blank
    of: str = ""  # the pack whose short form this is, for that model


def expanded(packs: Iterable[Pack], machines: Mapping[str, str]) -> list[Pack]:
    """The packs, and for each that asks for it a short form for every cabinet model (key → name) in place of its own."""
    found = []
    for pack in packs:
        if not pack.by_model or len(machines) < 2 or SHORT not in pack.forms:
            found.append(pack)
            continue
        found.append(replace(pack, forms=tuple(form for form in pack.forms if form != SHORT)))
        found += [replace(pack, key=f"{pack.key}-{machine}", title=f"{pack.title}: {name}", questions=(), forms=(SHORT,),
                          machine=machine, of=pack.key) for machine, name in machines.items()]  # fmt: skip
    return found


def file_of(key: str, form: str) -> str:
    """What the file of a booklet is called."""
    return f"{key}-{SHORT}.pdf" if form == SHORT else f"{key}.pdf"


def load(folder: Path, written: Iterable[str]) -> list[Pack]:
    """Read the packs of an operator's folder; none where the file is missing. ``written`` are the pages there are.

    Raises :class:`Problems` with every mistake at once: file, pack, what is wrong and its mend.
    """
    path = folder / FILE
    if not path.is_file():
        return []
    problems: list[Problem] = []
    told = company.toml(path, problems)
    known = known_pages(written)
    packs = [_pack(key, facts, known, problems) for key, facts in told.items()]
    if problems:
        raise Problems(problems)
    return [pack for pack in packs if pack]


def _pack(key: str, facts: Any, known: list[str], problems: list[Problem]) -> Pack | None:
    def wrong(what: str, mend: str) -> None:
        problems.append(Problem(FILE, f"[{key}]", what, mend))

    _check_key(key, wrong)
    if not isinstance(facts, dict):
        wrong("This is no pack.", "Write [name] on a line of its own, then title, summary, pages.")
        return None
    for name in facts.keys() - PARTS.keys():
        wrong(f"There is no part “{name}”.", f"Parts: {', '.join(PARTS)}.")
    for name, kind in PARTS.items():
        if name not in OPTIONAL and not isinstance(facts.get(name), kind):
            wrong(f"“{name}” is missing.", "A pack has a title, a summary and a list of pages.")
            return None
    for name in ("title", "summary"):
        _check_length(name, facts[name], LONGEST[name], wrong)
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
                tuple(each for each in questions if each), _forms(facts.get("forms", list(FORMS)), wrong),
                _by_model(facts.get("by_model", False), wrong))  # fmt: skip


def _by_model(told: Any, wrong: Any) -> bool:
    if not isinstance(told, bool):
        wrong("“by_model” is neither true nor false.", "Write by_model = true for a short form for each cabinet model.")
    return told is True


def _forms(told: Any, wrong: Any) -> tuple[str, ...]:
    known = isinstance(told, list) and bool(told) and all(each in FORMS for each in told)
    if not known:
        wrong("“forms” names no form of a booklet.", f"Forms: {', '.join(FORMS)}. Without this line both are made.")
    return tuple(form for form in FORMS if not known or form in told)


def _check_key(key: str, wrong: Any) -> None:
    unfit = keys.complaint(key)
    if unfit:
        wrong(*unfit)
    elif key == TAKEN or key.endswith(ENDINGS):
        wrong(f"There is a booklet “{key}” already.", f"Call it otherwise, such as {key}-one.")


def known_pages(written: Iterable[str]) -> list[str]:
    """The pages that a pack may hold, as it names them."""
    found = (place.removesuffix(".md") for place in written)
    return sorted(each for each in found if "/" in each and not each.startswith("calculators/"))


def _question(facts: Any, pages: tuple[str, ...], wrong: Any) -> Question | None:
    if not isinstance(facts, dict) or set(facts) != set(QUESTION_PARTS):
        wrong("A question is not whole.", f"It has just these parts: {', '.join(QUESTION_PARTS)}.")
        return None
    if not all(isinstance(facts[part], str) for part in QUESTION_PARTS if part != "answers"):
        wrong("A part of a question is no text.", 'Write it in quotes: ask = "…".')
        return None
    if not isinstance(facts["answers"], list) or not all(isinstance(each, str) for each in facts["answers"]):
        wrong(f"“{facts['ask']}”: its answers are no list.", 'Write answers = ["one", "another"].')
        return None
    answers = tuple(facts["answers"])
    for name, text in (("ask", facts["ask"]), ("why", facts["why"]), *(("answers", each) for each in answers)):
        _check_length(name, text, LONGEST.get(name, ANSWER), wrong)
    if facts["right"] not in answers or not 2 <= len(answers) <= 6:
        wrong(f"“{facts['ask']}”: the right answer is not one of 2 to 6 answers.",
              "Write it under “right” letter by letter as in the list.")  # fmt: skip
        return None
    if facts["page"] not in pages:
        wrong(f"“{facts['ask']}”: its page is not in the pack.", f"Pages here: {', '.join(pages)}.")
    return Question(facts["ask"], answers, answers.index(facts["right"]), facts["why"], facts["page"])


def _check_length(name: str, text: str, most: int, wrong: Any) -> None:
    if len(text) > most:
        wrong(f"“{name}” has {len(text)} characters: “{text[:20]}…”.", f"Shorten it to {most} at most.")

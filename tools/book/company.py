"""``handbook.toml``: whose handbook it is, and how the cells of the tables are written."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path
from typing import Any

from calculators.core import rules as rule_sets
from tools import colours
from tools.problems import Problem, nearest

from . import days, letters

COMPANY = {
    "name": "The operator's name", "units": "us or si", "rules": "A rule set's short name",
    "emergency": "The local emergency number", "phone_office": "Whom a site calls",
    "trainer": "Who trains new people", "accent": "The handbook's one colour, as #rrggbb",
    "edition": "The edition's date or name", "electrician": "Which licensed electrician is called",
    "refrigeration": "Which licensed refrigeration technician is called",
    "logo": "A drawing or picture of the folder pictures, for the head of each page",
    "foot": "A line of our own at the foot of each printed page",
    "leave_out": "Pages of the handbook that this operator does not want",
    "drills": "How many drills to make from the data, 0 for none",
    "dates": "How days in figures are written in the tables: year first, day first or month first",
}  # fmt: skip
_NEEDED = ("name", "units", "rules", "emergency")
# How long a text may be; it stands in every page's head or foot.
_LONGEST, _LONGER = {"name": 80, "edition": 40}, 200
_LISTS = ("leave_out",)
PICTURES = (".svg", ".png", ".jpg", ".jpeg", ".webp")
# What every table is read by.
CAUSES = ("units", "rules", "dates", "")


def read(path: Path, problems: list[Problem]) -> dict[str, str]:
    """The entries of the file as text."""
    if not path.is_file():
        problems.append(Problem(path.name, "", "The file is missing.", "It says whose handbook this is: name = \"…\"."))
        return {}
    entries = toml(path, problems)
    read = {key: _text(value) for key, value in entries.items()}
    if any(not problem.place for problem in problems):
        return read  # it cannot be read at all: that each of its entries is missing says nothing more
    for key in read:
        if key not in COMPANY:
            problems.append(Problem(path.name, key, f"There is no entry “{key}”.",
                                    nearest(key, list(COMPANY))))  # fmt: skip
    misspelt = [difflib.get_close_matches(key, _NEEDED, 1) for key in read if key not in COMPANY]
    for key in _NEEDED:
        if key not in read and [key] not in misspelt:  # its misspelling was told
            problems.append(Problem(path.name, key, f"The entry “{key}” is missing.",
                                    f"{COMPANY[key]}."))  # fmt: skip
    _check_words(path, read, problems)
    for key, value in entries.items():
        _check_text(path.name, key, value, problems)
    return read


def _check_text(file: str, key: str, value: object, problems: list[Problem]) -> None:
    text, most = str(value), _LONGEST.get(key, _LONGER)
    if isinstance(value, (bool, float, dict)) or isinstance(value, list) != (key in _LISTS):
        told = '["…"]' if key in _LISTS else '"…"'
        problems.append(Problem(file, key, "It is no text.", f"Write {key} = {told}."))
    elif len(text) > most and key not in _LISTS:
        problems.append(Problem(file, key, f"“{text[:20]}…” has {len(text)} characters.", f"Shorten it to {most} at most."))
    elif not text and key in _NEEDED:
        problems.append(Problem(file, key, "The entry is empty.", f"{COMPANY[key]}."))


def _check_words(path: Path, read: dict[str, str], problems: list[Problem]) -> None:
    file = path.name
    known = {"units": ("us", "si"), "rules": tuple(rule_sets.RULE_SETS), "dates": tuple(days.ORDERS)}
    for key, words in known.items():
        if key in read and read[key] not in words:
            problems.append(Problem(file, key, f"“{read[key]}” cannot be used.",
                                    f"It must be one of: {', '.join(words)}."))  # fmt: skip
    if "logo" in read:
        _check_logo(path, read["logo"], problems)
    if "accent" in read:
        _check_accent(file, read["accent"], problems)
    if not read.get("drills", "0").isdigit():
        problems.append(Problem(file, "drills", f"“{read['drills']}” is no number.",
                                "Write a whole number, such as 40."))  # fmt: skip


def _text(value: Any) -> str:
    """An entry as text; a list is one line each."""
    return "\n".join(map(str, value)) if isinstance(value, list) else str(value)


def _check_logo(path: Path, logo: str, problems: list[Problem]) -> None:
    there = [each.relative_to(path.parent).as_posix() for each in sorted((path.parent / "pictures").glob("*"))
             if each.suffix.lower() in PICTURES]  # fmt: skip
    if logo not in there:
        problems.append(Problem(path.name, "logo", f"There is no picture “{logo}”.",
                                nearest(logo, there) or "Put it into the folder pictures: logo.svg or logo.png."))  # fmt: skip


def _check_accent(file: str, accent: str, problems: list[Problem]) -> None:
    """White stands on the accent, and it stands on white: in both it must be readable."""
    try:
        color = colours.parse(accent)
    except ValueError as error:
        problems.append(Problem(file, "accent", f"{error}.", "Write six digits, such as #0b5c6b."))
        return
    if (ratio := colours.contrast(color, colours.WHITE)) < colours.READABLE:
        darker = colours.written(colours.shade(color, colours.WHITE, colours.READABLE))
        problems.append(Problem(file, "accent", f"“{accent}” cannot be read on white: contrast {ratio:.1f}, and "
                                f"{colours.READABLE:g} is required.", f"A darker shade of it will do: {darker}."))  # fmt: skip


def toml(path: Path, problems: list[Problem]) -> dict[str, Any]:
    """A file's entries, their texts cleaned; none where it is not there, and one mistake where it cannot be read."""
    try:
        found: dict[str, Any] = letters.everywhere(tomllib.loads(path.read_text(encoding="utf-8-sig")))
    except FileNotFoundError:
        return {}
    except (ValueError, RecursionError, OSError) as error:
        problems.append(Problem(path.name, "", f"It cannot be read: {error}.",
                                "Texts stand in quotes: name = \"…\"."))  # fmt: skip
        return {}
    problems += [Problem(path.name, place, what, mend) for place, what, mend in letters.complaints(found)]
    return found

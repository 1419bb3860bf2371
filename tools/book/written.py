"""The operator's own pages: new ones, ours that they replace, and ours that they leave out."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tools.problems import Problem, nearest

from . import front

FOLDER = "pages"
NAME = re.compile(r"[a-z0-9][a-z0-9-]*$")
# What may be left out. What keeps people safe and what other pages are worked out from may only be replaced.
OPTIONAL = ("procedures/", "reference/")
HOME = "index.md"


@dataclass(frozen=True)
class Written:
    """The pages of a handbook that people wrote: place in the site (``procedures/clean.md``) → file.

    ``own`` are those of the operator's folder; ``left_out`` are ours that they do not want. ``notes`` say
    what is worth a look and stops nothing, such as a page of ours that has changed since it was replaced.
    """

    pages: Mapping[str, Path]
    own: frozenset[str]
    left_out: frozenset[str]
    notes: tuple[str, ...] = ()


NONE = Written({}, frozenset(), frozenset())


def read(folder: Path, docs: Path, left_out: Iterable[str], problems: list[Problem]) -> Written:
    """Our pages with the operator's over them; every mistake is told."""
    ours = {place: path for place, path in _pages(docs) if not path.is_relative_to(folder)}
    own = dict(_pages(folder / FOLDER))
    unwanted = frozenset(_left_out(ours, own, left_out, problems))
    told = {place: _told(place, path, problems) for place, path in own.items()}
    for place, meta in told.items():
        _check(place, meta, place in ours, problems)
    kept = {place: path for place, path in ours.items() if place not in unwanted}
    return Written({**kept, **own}, frozenset(own), unwanted, tuple(_notes(ours, told)))


def _told(place: str, path: Path, problems: list[Problem]) -> dict[str, Any]:
    try:
        return front.read(path)
    except front.NoFront as error:
        problems.append(Problem(f"{FOLDER}/{place}", "", f"Its first lines cannot be read: {error}.",
                                "Write them between two lines of ---, one entry a line."))  # fmt: skip
        return {"title": "", "menu": ""}


def _check(place: str, meta: Mapping[str, Any], replaces: bool, problems: list[Problem]) -> None:
    def wrong(what: str, mend: str) -> None:
        problems.append(Problem(f"{FOLDER}/{place}", "", what, mend))

    if not all(NAME.match(part) for part in place.removesuffix(".md").split("/")):
        wrong("The name cannot be used in a link.", "Use small letters, digits and hyphens.")
    if "title" not in meta:
        wrong("The page has no title.", "Write title: and its name between two lines of --- at its top.")
    if "menu" not in meta and not replaces:
        wrong("No menu leads to this page.", "Name the heading that does, such as menu: Look up, at its top.")
    try:
        front.said(meta)
    except front.NoFront as error:
        what, _, mend = str(error).partition("; ")
        wrong(f"Its first lines cannot be used: {what}.", f"{mend.capitalize()}, or take the line out.")


def _notes(ours: Mapping[str, Path], told: Mapping[str, Mapping[str, Any]]) -> Iterator[str]:
    for place, meta in told.items():
        if place in ours and str(meta.get("replaces")) != (now := mark(ours[place])):
            what = "has changed since: see what is new in it, then" if "replaces" in meta else "may change later: to be told,"
            yield f"{FOLDER}/{place}: our page of that name {what} write replaces: \"{now}\" at its top."


def _pages(folder: Path) -> Iterator[tuple[str, Path]]:
    for path in sorted(folder.rglob("*.md")):
        yield path.relative_to(folder).as_posix(), path


def _left_out(ours: Mapping[str, Path], own: Mapping[str, Path], wanted: Iterable[str],
              problems: list[Problem]) -> Iterator[str]:  # fmt: skip
    """The places of the pages that are left out, as ``leave_out`` names them (with or without .md)."""
    known = [place.removesuffix(".md") for place in ours if place.startswith(OPTIONAL)]
    for name in wanted:
        page = name.removesuffix(".md")
        if f"{page}.md" in own:
            problems.append(Problem("handbook.toml", "leave_out", f"“{name}” is a page of your own.",
                                    "Delete it from the folder pages, or from this list."))  # fmt: skip
        elif page in known:
            yield f"{page}.md"
        elif f"{page}.md" in ours:
            problems.append(Problem("handbook.toml", "leave_out", f"“{name}” cannot be left out.",
                                    "Others rest on it: replace it by a page of your own of that name."))  # fmt: skip
        else:
            problems.append(Problem("handbook.toml", "leave_out", f"There is no page “{name}”.", nearest(page, known)))


def mark(page: Path) -> str:
    """What names the state of a page: eight digits that a page in its place writes down as ``replaces``."""
    text = page.read_text(encoding="utf-8").replace("\r\n", "\n")
    return hashlib.sha256(text.encode()).hexdigest()[:8]

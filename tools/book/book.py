"""Everything that one handbook is made of, read once and handed on as a value."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from tools.memory import Memory
from tools.problems import Problem, Problems

from . import packs, written
from .answers import Answers
from .data import OperatorData, load
from .packs import Pack
from .written import NONE, Written

Read = TypeVar("Read")


@dataclass(frozen=True)
class Book:
    """An operator's handbook before it is made: whose data, which booklets, which pages that people wrote.

    ``docs`` is the folder of our own pages; ``build_id`` names the packed calculators that the
    pages belong to.
    """

    docs: Path
    data: OperatorData
    packs: tuple[Pack, ...]
    folder: Path | None = None
    written: Written = NONE
    build_id: str = ""


def read(folder: Path, docs: Path, build_id: str = "", answers: Answers | None = None,
         memory: Memory | None = None) -> Book:  # fmt: skip
    """Read an operator's folder; raises :class:`Problems` with every mistake of all its files.

    ``memory`` holds the data where this process has read it before.
    """
    found: list[Problem] = []
    remembered = memory or Memory()
    data = _gathered(lambda: remembered.of("data", lambda: load(folder, answers)), found)
    unwanted = data.company.get("leave_out", "").splitlines() if data else []
    if data:
        found += _lost_pictures(folder, data)
    pages = written.read(folder, docs, unwanted, found)
    wanted = _gathered(lambda: packs.load(folder, pages.pages), found)
    if data is None or wanted is None or found:
        raise Problems(found)
    models = {row.typed["key"]: row.typed["name"] for row in data.tables["machines"]}
    return Book(docs, data, tuple(packs.expanded(wanted, models)), folder, pages, build_id)


def _lost_pictures(folder: Path, data: OperatorData) -> list[Problem]:
    """Pictures that a cabinet's card names and the folder does not hold."""
    return [Problem(row.file, f"row {row.number}, column picture", f"There is no picture “{row.typed['picture']}”.",
                    "Put it into the folder pictures, and write its name here.")
            for row in data.tables["cards"]
            if "picture" in row.typed and not (folder / "pictures" / row.typed["picture"]).is_file()]  # fmt: skip


def _gathered(reading: Callable[[], Read], found: list[Problem]) -> Read | None:
    """What was read, or None with its mistakes among the others."""
    try:
        return reading()
    except Problems as error:
        found += error.found
        return None

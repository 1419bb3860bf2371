"""Everything that one handbook is made of, read once and handed on as a value."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tools.problems import Problem, Problems

from . import packs
from .data import OperatorData, load
from .packs import Pack


@dataclass(frozen=True)
class Book:
    """An operator's handbook before it is written: whose data, which booklets.

    ``docs`` is the folder of our own pages; ``build_id`` names the packed calculators that the
    pages belong to.
    """

    docs: Path
    data: OperatorData
    packs: tuple[Pack, ...]
    build_id: str = ""


def read(folder: Path, docs: Path, build_id: str = "") -> Book:
    """Read an operator's folder; raises :class:`Problems` with every mistake of all its files."""
    found: list[Problem] = []
    data = wanted = None
    try:
        data = load(folder)
    except Problems as error:
        found += error.found
    try:
        wanted = packs.load(folder, docs)
    except Problems as error:
        found += error.found
    if data is None or wanted is None:
        raise Problems(found)
    return Book(docs, data, tuple(wanted), build_id)

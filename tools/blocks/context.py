"""What the blocks may ask of the handbook while a page is read."""

from __future__ import annotations

import xml.etree.ElementTree as etree
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Protocol

import calculators
from calculators.core.rules import RuleSet
from tools.book.tables import Row
from tools.problems import Problem


class Data(Protocol):
    """The operator's data as the blocks see it."""

    units: str
    tables: dict[str, list[Row]]

    def __hash__(self) -> int:
        """Each is itself alone."""

    def value(self, path: str) -> str:
        """A printed value such as ``company.name``; KeyError where there is none."""

    def prefill(self, calculator: str, rows: Mapping[str, str]) -> dict[str, Any]:
        """Inputs for a calculator from named rows such as ``{"machine": "tall"}``."""

    def remark(self, rows: Mapping[str, str]) -> str:
        """What a reader must know of inputs from those rows, such as “corrected by test on …”."""

    def first(self, calculator: str) -> Mapping[str, str]:
        """The rows that a form is filled from where nothing is named; none where there is no data."""

    def presets(self, calculator: str) -> list[dict[str, Any]]:
        """Everything of the data a form can be filled from."""


@dataclass
class Context:
    """Shared by all pages of one build; ``page`` and ``first`` change page by page.

    ``marks`` is whether ``{{…}}`` means something there: in a page made from data, a cell may hold it.
    """

    rules: RuleSet
    data: Data
    drawings: tuple[Path, ...]
    build_id: str = ""
    sites: Callable[[], list[tuple[str, str, str, str]]] = list
    run: Callable[[str, dict[str, Any]], dict[str, Any]] = calculators.run
    page: str = ""
    first: int = 1
    marks: bool = True
    problems: list[Problem] = field(default_factory=list)
    figures_used: set[str] = field(default_factory=set)
    # The items of a cabinet's card that pages ask for: item → pages.
    items_used: dict[str, set[str]] = field(default_factory=dict)
    # How many ids blocks of a page have been given: a page says the same whatever others hold.
    given: dict[str, int] = field(default_factory=dict)
    presets: dict[str, Any] = field(default_factory=dict)
    # The page whose faults have a grid of buttons, that grid, and the caution for each of them.
    symptoms: tuple[str, etree.Element, str] | None = None
    # What people say for the parts of a page: page → id of a heading → words.
    said: dict[str, dict[str, list[str]]] = field(default_factory=dict)
    stepped: str | None = None

    def report(self, line: int, what: str, mend: str) -> None:
        """Note a mistake at a line of the current page."""
        self.problems.append(Problem(self.page, f"line {line}", what, mend))

    def step_ids(self) -> str:
        """What the ids of a list of steps begin with: on each page the first list's are ``step-1`` …, to link to."""
        if self.stepped == self.page:
            return self.next_id("step")
        self.stepped = self.page
        return "step"

    def next_id(self, stem: str) -> str:
        """An id that no other block of the page bears."""
        self.given[self.page] = self.given.get(self.page, 0) + 1
        return f"{stem}-{self.given[self.page]}"

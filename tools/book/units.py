"""Tables whose bare numbers are of the other system of units: told once, as the cause of it all."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from calculators.core import Field, Quantity
from calculators.core.units import KINDS, SYSTEM_NAMES, Units
from tools.problems import Problem

from .spreadsheet import Sheet

LEAST = 3  # so many cells are no slip of a single one
_BARE = re.compile(r"[+-]?[\d./ ]*\d[\d./ ]*", re.ASCII)
Place = tuple[str, int, str]


@dataclass(frozen=True)
class Bare:
    """The numbers without a unit of one table: those that only the other system makes sense of."""

    sheet: Sheet
    foreign: tuple[tuple[int, str, str], ...]
    own: int
    kinds: tuple[str, ...]

    @property
    def strange(self) -> bool:
        """Whether the table as a whole is written in the other system."""
        return len(self.foreign) >= LEAST and len(self.foreign) > 2 * self.own


def check(sheets: Mapping[str, Sheet], columns: Mapping[str, Mapping[str, Field]], system: str,
          problems: list[Problem]) -> set[Place]:  # fmt: skip
    """Report the cause; the cells that follow from it come back, so that they are not told again."""
    found = [_bare(sheet, columns[name], system) for name, sheet in sheets.items()]
    foreign = [each for each in found if each.foreign]
    if len(foreign) > 1 and _all_strange(found):
        problems.insert(0, _of_all(foreign, system))
    else:
        foreign = [each for each in found if each.strange]
        problems.extend(_of_one(each, system) for each in foreign)
    return {(each.sheet.file, number, name) for each in foreign for number, name, _ in each.foreign}


def _all_strange(found: list[Bare]) -> bool:
    """Whether it is the folder's own setting that is wrong: no table speaks for it."""
    cells = sum(len(each.foreign) for each in found)
    return (cells >= 2 * LEAST and cells > 2 * sum(each.own for each in found)
            and all(len(each.foreign) >= each.own for each in found))  # fmt: skip


def _bare(sheet: Sheet, columns: Mapping[str, Field], system: str) -> Bare:
    differ = {name: each for name, each in columns.items() if isinstance(each, Quantity)
              and KINDS[each.kind].si.size != KINDS[each.kind].us.size}  # fmt: skip
    foreign, own = [], 0
    for number, cells in sheet.rows:
        for name, cell in zip(sheet.head, cells, strict=False):
            if name in differ and _BARE.fullmatch(cell):
                here, there = (_reads(differ[name], cell, each) for each in (system, _other(system)))
                own += here and not there
                if there and not here:
                    foreign.append((number, name, cell))
    kinds = tuple(dict.fromkeys(differ[name].kind for _, name, _ in foreign))
    return Bare(sheet, tuple(foreign), own, kinds)


def _reads(reader: Field, cell: str, system: str) -> bool:
    try:
        reader.read(cell, system)
    except (ValueError, OverflowError):
        return False
    return True


def _other(system: str) -> str:
    return "si" if system == "us" else "us"


def _of_one(bare: Bare, system: str) -> Problem:
    number, name, cell = bare.foreign[0]
    own, other = (Units(each).unit(bare.kinds[0]) for each in (system, _other(system)))
    return Problem(bare.sheet.file, f"row {number}, column {name}",
                   f"“{cell}” and {len(bare.foreign) - 1} more numbers without a unit cannot be {own}, "
                   f"but they can be {other}: the table is written in {SYSTEM_NAMES[_other(system)]} units.",
                   f"Write the unit into each cell, such as {cell} {other}.")  # fmt: skip


def _of_all(strange: list[Bare], system: str) -> Problem:
    files = ", ".join(each.sheet.file for each in strange)
    cells = sum(len(each.foreign) for each in strange)
    return Problem("handbook.toml", "units",
                   f"“{system}”, but {cells} numbers without a unit (in {files}; the first is "
                   f"“{strange[0].foreign[0][2]}”) can only be of the other system, {SYSTEM_NAMES[_other(system)]}.",
                   f"Write units = \"{_other(system)}\", or the unit into each cell.")  # fmt: skip

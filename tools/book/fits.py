"""The fit book: hand tests of a product in a coil, and what they correct.

A test says more than a calculation. Its verdict stands over the calculated one for the same
product, coil and cabinet model; a size it measured takes the place of the product's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from calculators.core import rules
from tools.problems import Problem

from . import sizes

if TYPE_CHECKING:
    from .data import OperatorData
    from .tables import Row

# Packs lifted by hand and test vends: the same figures that the procedures print, alike in all sets.
_PRACTICE = rules.load("us").figures
LIFTED = int(_PRACTICE["upkeep.lift_packs"].value)
VENDS = int(_PRACTICE["upkeep.test_vends"].value)
KEEP = "keep"
VERDICTS = {KEEP: "Keep this coil", "tight": "Too tight", "loose": "Too loose", "other": "Does not suit"}
COUNTS = ("hung", "fell", "crushed")
# What a test may measure anew; each is an input of the spiral calculator and read by it.
CORRECTED = ("diameter", "foot_diameter", "breadth", "thickness", "thin_end", "height", "squeeze")
# Which of them a product of each shape has.
WEDGE = "flat, a wedge"
SIZES = {
    "round": ("diameter", "foot_diameter", "height"),
    "flat": ("breadth", "thickness", "height", "squeeze"),
    WEDGE: ("breadth", "thickness", "thin_end", "height", "squeeze"),
}
HEADER = ("product", "coil", "machine", "date", "who", "lifted", *COUNTS, "verdict", *CORRECTED, "note")
NEEDED = ("product", "coil", "machine", "date", "who", "verdict")
SAME = ("product", "coil", "machine", "date")


@dataclass(frozen=True)
class Correction:
    """A size a test measured, in place of the product's own."""

    column: str
    typed: str
    date: str

    @property
    def words(self) -> str:
        """What every page says beside a number that was corrected."""
        return f"corrected by test on {self.date}"


def tried(data: OperatorData, product: str, machine: str = "", coil: str = "") -> list[Row]:
    """The tests of a product, the latest first."""
    wanted = {"machine": machine, "coil": coil}
    found = [row for row in data.of("fits", "product", product)
             if all(not key or row.typed.get(column) == key for column, key in wanted.items())]  # fmt: skip
    return sorted(found, key=lambda row: (row.typed["date"], row.number), reverse=True)


def corrections(data: OperatorData, product: str) -> dict[str, Correction]:
    """The latest correction of each size of a product, by column."""
    found: dict[str, Correction] = {}
    for row in tried(data, product):
        for column in CORRECTED:
            if column in row.typed:
                found.setdefault(column, Correction(column, row.typed[column], row.typed["date"]))
    return found


def corrected(data: OperatorData, product: str) -> str:
    """“corrected by test on 2026-10-14” where a product has a correction, else nothing."""
    days = [each.date for each in corrections(data, product).values()]
    return f"corrected by test on {max(days)}" if days else ""


def counted(row: Row) -> str:
    """What a test counted, as a sentence."""
    lifted = row.values.get("lifted")
    parts = [] if lifted is None else [f"{lifted} of {LIFTED} lifted freely"]
    known = {name: row.values.get(name) for name in COUNTS}
    bad = [f"{count} {name}" for name, count in known.items() if count]
    if all(count == 0 for count in known.values()):
        bad = [f"{VENDS} clean vends"]
    return ", ".join(parts + bad) or "nothing counted"


def check(tables: Mapping[str, list[Row]], problems: list[Problem]) -> None:
    """Report every row that contradicts itself, another row, its product or its coil."""
    shapes = {row.typed.get("key", ""): shape_of(row) for row in tables["products"]}
    machines = {row.typed.get("key", "") for row in tables["machines"]}
    seen: dict[tuple[str, ...], int] = {}
    for row in tables["fits"]:
        # A cabinet that nobody has was told already.
        for column in ("product", "coil") if row.typed.get("machine") in machines else ():
            _check_belongs(row, column, tables[f"{column}s"], problems)
        _check_counts(row, problems)
        _check_verdict(row, problems)
        _check_sizes(row, shapes.get(row.typed.get("product", ""), ""), problems)
        _check_once(row, seen, problems)


def _report(problems: list[Problem], row: Row, column: str, what: str, mend: str) -> None:
    problems.append(Problem(row.file, f"row {row.number}, column {column}", what, mend))


def _check_belongs(row: Row, column: str, known: list[Row], problems: list[Problem]) -> None:
    """A test in a cabinet that the product or the coil does not belong to would be shown nowhere."""
    key, machine = row.typed.get(column, ""), row.typed["machine"]
    cabinets = next((each.typed.get("cabinets", "") for each in known if each.typed.get("key") == key), "")
    if cabinets and machine not in cabinets.split():
        _report(problems, row, column, f"“{key}” does not belong to the cabinet “{machine}”.",
                f"It belongs to: {', '.join(cabinets.split())}. Mend the row, or its cabinets in {column}s.csv.")  # fmt: skip


def _check_counts(row: Row, problems: list[Problem]) -> None:
    counts = [row.values[name] for name in COUNTS if isinstance(row.values.get(name), int)]
    if sum(counts) > VENDS:
        _report(problems, row, COUNTS[-1], f"“{sum(counts)}” packs hung, fell and were crushed, of "
                f"{VENDS} test vends.", "Count each vend once, for the worst that happened.")  # fmt: skip


def _check_verdict(row: Row, problems: list[Problem]) -> None:
    if row.values.get("verdict") != KEEP:
        return
    asked = ("lifted", *COUNTS)
    blank = [name for name in asked if name not in row.typed]
    if blank:
        _report(problems, row, blank[0], f"The verdict is “{KEEP}”, but {' and '.join(blank)} "
                "cannot be told from an empty cell.",
                f"Lift {LIFTED} packs, run {VENDS} test vends and write 0 where none went wrong.")  # fmt: skip
    bad = [f"{row.values[name]} {name}" for name in COUNTS if row.values.get(name)]
    if isinstance(row.values.get("lifted"), int) and row.values["lifted"] < LIFTED:
        bad.insert(0, f"{row.values['lifted']} of {LIFTED} lifted freely")
    if bad:
        others = ", ".join(word for word in VERDICTS if word != KEEP)
        _report(problems, row, "verdict", f"The verdict is “{KEEP}”, but the test counted "
                f"{' and '.join(bad)}.",
                f"Write one of {others}, or test again and write a new row.")  # fmt: skip


def shape_of(product: Row) -> str:
    """A key of :data:`SIZES`, or nothing where the shape is not known."""
    return WEDGE if sizes.wedge(product) else product.typed.get("shape", "")


def _check_sizes(row: Row, shape: str, problems: list[Problem]) -> None:
    wanted = SIZES.get(shape, CORRECTED)
    for column in CORRECTED:
        if column in row.typed and column not in wanted:
            _report(problems, row, column, f"“{row.typed[column]}” corrects the {column.replace('_', ' ')} "
                    f"of a product that is {shape}.", f"Such a product has: {', '.join(wanted)}.")  # fmt: skip


def _check_once(row: Row, seen: dict[tuple[str, ...], int], problems: list[Problem]) -> None:
    mark = tuple(row.typed.get(column, "") for column in SAME)
    if all(mark) and mark in seen:
        _report(problems, row, "date", f"The same product, coil, cabinet and day stand in row {seen[mark]} "
                "too.", "Keep one of the two rows.")  # fmt: skip
    seen.setdefault(mark, row.number)

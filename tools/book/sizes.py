"""Sizes that must go together: a product's sides, the two ends of a wedge, a least and its most."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from calculators.core.units import Units
from tools.problems import Problem

if TYPE_CHECKING:
    from .tables import Row

# Columns that only one shape has, and what to do with one that stands beside another shape.
ONLY = {"sides": "round", "thick_end": "flat", "thin_end": "flat"}

# Columns of machines.csv of which the first cannot be the greater.
ORDERED = (("control_low", "control_high"), ("thread_least", "thread_most"),
           ("cabinet_volts_least", "cabinet_volts_most"))  # fmt: skip


def wedge(row: Row) -> bool:
    """Whether a row of products.csv is of a pack thicker at one end."""
    return row.values.get("shape") == "flat" and row.values.get("thick_end") in ("foot", "top")


def check(rows: Iterable[Row], system: str, problems: list[Problem]) -> None:
    """Report every product whose shape and sizes contradict each other."""
    for row in rows:
        found = [*_of_another_shape(row), *_cup(row, system), *_wedge(row, system)]
        problems += [Problem(row.file, f"row {row.number}, column {column}", what, mend)
                     for column, what, mend in found]  # fmt: skip


def check_machines(rows: Iterable[Row], problems: list[Problem]) -> None:
    """Report every cabinet of which a least is more than its most."""
    for row in rows:
        for low, high in ORDERED:
            least, most = row.values.get(low), row.values.get(high)
            if least is not None and most is not None and least > most:
                problems.append(Problem(row.file, f"row {row.number}, column {low}",
                                        f"“{row.cell(low)}” is more than {high}, “{row.cell(high)}”.",
                                        "Read both again from the plate or the manual."))  # fmt: skip


Found = list[tuple[str, str, str]]


def _of_another_shape(row: Row) -> Found:
    shape = row.values.get("shape")
    return [(column, f"“{row.typed[column]}” stands beside a product that is {shape}.",
             f"Only a product that is {only} has this column: leave the cell empty, or mend its shape.")
            for column, only in ONLY.items() if shape not in (None, only) and column in row.typed]  # fmt: skip


def _cup(row: Row, system: str) -> Found:
    foot, rim = row.values.get("foot_diameter"), row.values.get("diameter")
    if row.values.get("sides") != "widening" or foot is None or rim is None or foot < rim:
        return []
    return [("sides", f"“widening”, but its foot of {_shown(foot, system)} is no narrower than its rim.",
             "Write straight, or measure its foot and its diameter again.")]  # fmt: skip


def _wedge(row: Row, system: str) -> Found:
    thin, thick = row.values.get("thin_end"), row.values.get("thickness")
    if not wedge(row):
        return [("thick_end", f"Its thin end is “{row.typed['thin_end']}”, but no end is the thick one.",
                 "Write foot or top, or leave thin_end empty.")
                ] if "thin_end" in row.typed and row.values.get("shape") == "flat" else []  # fmt: skip
    if row.values.get("pillow"):
        return [("thick_end", f"“{row.typed['thick_end']}”, but it is a pillow bag, which has no thick end.",
                 "For a bag, leave the cell empty; for a wedge, write no under pillow.")]  # fmt: skip
    if "thin_end" not in row.typed:
        return [("thin_end", "The cell is empty, but the product is a wedge.",
                 "Measure its thickness at the thin end; a sharp edge is 1 mm.")]  # fmt: skip
    if thin is None or thick is None or thin < thick:
        return []
    return [("thin_end", f"“{row.typed['thin_end']}” is no thinner than its thickness of {_shown(thick, system)}.",
             "The thickness is taken at the thick end: measure both again.")]  # fmt: skip


def _shown(length: float, system: str) -> str:
    return Units(system).text(length, "length")

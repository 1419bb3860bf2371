"""The operator's tables: one row a cabinet model, a product, a coil, a site …

A column that bears the key of a calculator's input is read by that very input, so that a
spreadsheet cell and a form field obey the same limits and give the same messages.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import calculators
from calculators.core import Choice, Count, Field, Money, Quantity, Rows, Text
from calculators.core.fields import is_unknown
from calculators.core.units import Units

from ..blocks.values import nearest
from ..problems import Problem
from . import fits
from .spreadsheet import Sheet, read_sheet


@dataclass(frozen=True)
class Table:
    """One CSV file: its own columns, and the calculators whose inputs it may also hold.

    ``rows_of`` names the row-inputs ("clearance.route") whose columns it may hold instead;
    ``some_of`` a few inputs of a calculator. ``key`` tells rows apart; a table without one
    holds several rows for each ``of``. ``links`` are columns that hold a key of another
    table, ``lists`` columns that hold several, apart by spaces.
    ``order`` is how the columns are listed.
    """

    name: str
    own: Mapping[str, Field]
    calculators: tuple[str, ...] = ()
    rows_of: tuple[str, ...] = ()
    key: str = "key"
    needed: tuple[str, ...] = ("key", "name")
    links: Mapping[str, str] = field(default_factory=dict)
    lists: Mapping[str, str] = field(default_factory=dict)
    some_of: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    order: tuple[str, ...] = ()

    def columns(self) -> dict[str, Field]:
        """Every column the table may have, with the field that reads it."""
        found: dict[str, Field] = dict(self.own)
        for name in self.calculators:
            for each in calculators.get(name).inputs.fields():
                if not isinstance(each, Rows):
                    found.setdefault(each.key, each)
        for path in self.rows_of:
            for each in row_fields(path):
                found.setdefault(each.key, each)
        for name, keys in self.some_of.items():
            found.update({key: calculators.get(name).inputs.field(key) for key in keys})
        return {key: found[key] for key in self.order} if self.order else found


def row_fields(path: str) -> tuple[Field, ...]:
    """The fields of a row-input such as ``clearance.route``."""
    name, _, key = path.partition(".")
    rows = calculators.get(name).inputs.field(key)
    return rows.record.fields() if isinstance(rows, Rows) else ()


_NAME = Text("Name", help="What people call it")
_KEY = Text("Key", help="A short word for links, without spaces")
_NOTE = Text("Note", help="Anything the crew should know")
_CABINETS = Text("Cabinet models", help="Keys of machines.csv, apart by spaces; empty: all of them")


def _vends(label: str, what: str) -> Count:
    return Count(label, least=0, most=fits.VENDS, example=0,
                 help=f"How many of {fits.VENDS} test vends {what}")  # fmt: skip


def _own(**more: Field) -> dict[str, Field]:
    return _keyed(key=_KEY, name=_NAME, note=_NOTE, **more)


def _keyed(**own: Field) -> dict[str, Field]:
    for key, each in own.items():
        each.key = each.key or key
    return own


# What a cabinet's paper says of its legs; the rest of the level's form is read on the spot.
LEG_FACTS = ("leg_layout", "span_x", "span_y", "thread", "thread_hand", "thread_pitch", "thread_diameter",
             "foot", "thread_least", "thread_most", "stud_length", "level_limit")  # fmt: skip

# What a piece of moving gear is: its plate and its sizes; a site names the gear that it is moved with.
GEAR_FACTS = ("mover", "gear_height", "gear_wide", "gear_long", "gear_face", "gear_mass", "gear_rating",
              "wheels_apart", "gear_grade")  # fmt: skip

TABLES = (
    Table("machines", _own(
        upright_hours=Count("Hours upright after a tilt", least=0, most=72,
                            help="From the cabinet's own plate or manual"),
        coil_end=Text("Where a coil's end points", help="The local way, as the manual has it"),
        legs_range=Text("Legs' range", help="Least and most exposed thread")),
        ("clearance", "circuit", "spiral", "float", "plan"), some_of={"level": LEG_FACTS}),
    Table("products", _own(
        price=Money("Price", least=1, most=100_000, help="What a buyer pays"),
        weekly_sales=Quantity("Sales a week", kind="ratio", least=0, most=5000,
                              help="As counted, all selections together"),
        allergens=Text("Allergens", help="As the label names them"),
        shelf_days=Count("Shelf life in days", least=1, most=2000),
        tray=Text("Tray", help="Which tray it is sold from"), cabinets=_CABINETS),
        ("spiral",), ("plan.products",), needed=("key", "name", "price"), lists={"cabinets": "machines"}),
    Table("coils", _own(
        stock=Count("In stock", least=0, most=10_000, help="How many the operator owns"),
        cabinets=_CABINETS),
        ("spiral",), ("plan.coils",), lists={"cabinets": "machines"}),
    Table("fits", _keyed(
        product=Text("Product", help="A key of products.csv"),
        coil=Text("Coil", help="A key of coils.csv"),
        machine=Text("Cabinet model", help="A key of machines.csv"),
        date=fits.Day("Day of the test", help="As 2026-11-03", example="2026-11-03"),
        who=Text("Who tested", help="A key of crew.csv"),
        lifted=Count("Lifted freely", least=0, most=fits.LIFTED, example=fits.LIFTED,
                     help=f"How many of {fits.LIFTED} packs, lifted by hand"),
        hung=_vends("Hung", "stayed in the coil"),
        fell=_vends("Fell", "fell early or in pairs"),
        crushed=_vends("Crushed", "came out crushed or torn"),
        verdict=Choice("Verdict", fits.VERDICTS, help="What to do with this coil", example="keep"),
        note=_NOTE), key="", needed=fits.NEEDED,
        links={"product": "products", "coil": "coils", "machine": "machines", "who": "crew"},
        some_of={"spiral": fits.CORRECTED}, order=fits.HEADER),
    Table("sites", _own(
        machine=Text("Cabinet model", help="A key of machines.csv"),
        contact=Text("Contact", help="A role, not a private number"),
        date=Text("Install day", help="As the sheet shows it"),
        address=Text("Where", help="How to find the door"),
        gear=Text("Moving gear", help="A key of gear.csv")),
        ("clearance", "circuit", "float", "plan"), needed=("key", "name", "machine"),
        links={"machine": "machines", "gear": "gear"}),
    Table("routes", {"site": Text("Site"), "note": _NOTE}, rows_of=("clearance.route",), key="",
          needed=("site",), links={"site": "sites"}),
    Table("loads", {"site": Text("Site"), "note": _NOTE}, rows_of=("circuit.loads",), key="",
          needed=("site",), links={"site": "sites"}),
    Table("tubes", {"machine": Text("Cabinet model"), "note": _NOTE}, rows_of=("float.tubes",),
          key="", needed=("machine",), links={"machine": "machines"}),
    Table("trays", {"machine": Text("Cabinet model"), "note": _NOTE}, rows_of=("plan.trays",),
          key="", needed=("machine", "name"), links={"machine": "machines"}),
    Table("apart", {"note": _NOTE}, rows_of=("plan.apart",), key="", needed=("first", "second")),
    Table("crew", _own(
        role=Text("Role", help="What this person may do"),
        signs=Choice("Signs off", {"yes": "Yes", "no": "No"})), needed=("key", "name", "role")),
    Table("gear", _own(
        amount=Count("How many", least=1, most=1000),
        used_for=Text("Used for", help="Install, loading, cash …")), needed=("key", "name"),
        some_of={"clearance": GEAR_FACTS}),
)  # fmt: skip


@dataclass
class Row:
    """One row: typed cells as written, values in inner units, and where it stands."""

    file: str
    number: int
    typed: dict[str, str]
    values: dict[str, Any]


def head(path: Path) -> list[str]:
    """The columns of a file in the order in which it has them; none where it cannot be read."""
    table = {table.name: table for table in TABLES}.get(path.stem)
    return read_sheet(path, table.columns()).head if table and path.is_file() else []


def read_table(table: Table, path: Path, system: str, problems: list[Problem]) -> list[Row] | None:
    """The rows of a table; every bad cell is reported with row, column, value and mend.

    None where the file as a whole cannot be read: what would follow from that is not told.
    """
    if not path.is_file():
        return []
    columns = table.columns()
    sheet = read_sheet(path, columns)
    problems += sheet.problems
    if sheet.whole:
        return None
    _check_head(table, sheet.head, columns, path.name, problems)
    rows = [_read_row(table, sheet, number, cells, system, problems) for number, cells in sheet.rows]
    _check_keys(table, rows, problems)
    return rows


def _check_head(table: Table, head: list[str], columns: Mapping[str, Field], file: str,
                problems: list[Problem]) -> None:  # fmt: skip
    for number, name in enumerate(head, 1):
        if name not in columns:
            problems.append(Problem(file, f"row 1, column {number}",
                                    f"There is no column “{name}”.", nearest(name, list(columns))))  # fmt: skip
        elif head.index(name) != number - 1:
            problems.append(Problem(file, f"row 1, column {number}",
                                    f"The column “{name}” stands twice.", "Take one out."))  # fmt: skip
    for name in table.needed:
        if name not in head:
            problems.append(Problem(file, "row 1", f"The column “{name}” is missing.", "Add it."))


def _read_row(table: Table, sheet: Sheet, number: int, cells: list[str], system: str,
              problems: list[Problem]) -> Row:  # fmt: skip
    """One row; of a cell that the sheet itself complains of, no more is said."""
    columns, head, file = table.columns(), sheet.head, sheet.file
    told = {problem.place for problem in sheet.problems}
    if len(cells) > len(head):
        problems.append(Problem(file, f"row {number}", f"{len(cells)} cells, but {len(head)} columns.",
                                "A comma inside a cell needs quotes round the cell."))  # fmt: skip
    row = Row(file, number, {}, {})
    for name, cell in zip(head, cells, strict=False):
        if name in columns and not is_unknown(cell):
            row.typed[name] = cell.strip()
            if f"row {number}, column {name}" in told:
                continue
            row.values[name] = _read_cell(columns[name], cell, f"row {number}, column {name}", file,
                                          system, problems)  # fmt: skip
    for name in table.needed:
        if name in head and name not in row.typed:
            problems.append(Problem(file, f"row {number}, column {name}", "The cell is empty.",
                                    f"{columns[name].label} is needed."))  # fmt: skip
    return row


def _read_cell(reader: Field, cell: str, place: str, file: str, system: str,
               problems: list[Problem]) -> Any:  # fmt: skip
    try:
        return reader.read(cell.strip(), system)
    except (ValueError, OverflowError) as error:
        show = Units(system)
        mend = f"For example: {reader.sample(show)}." if reader.example is not None else ""
        problems.append(Problem(file, place, f"{reader.label}: “{cell.strip()}” cannot be used. {error}",
                                mend))  # fmt: skip
        return None


def _check_keys(table: Table, rows: Iterable[Row], problems: list[Problem]) -> None:
    seen: dict[str, int] = {}
    for row in rows:
        key = row.typed.get(table.key, "")
        if not key:
            continue
        if not key.replace("-", "").isalnum() or key != key.lower():
            problems.append(Problem(row.file, f"row {row.number}, column {table.key}",
                                    f"The key “{key}” cannot be used in a link.",
                                    "Use small letters, figures and dashes."))  # fmt: skip
        if key in seen:
            problems.append(Problem(row.file, f"row {row.number}, column {table.key}",
                                    f"The key “{key}” stands in row {seen[key]} too.",
                                    "Give each row its own key."))  # fmt: skip
        seen.setdefault(key, row.number)

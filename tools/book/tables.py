"""The operator's tables: one row a cabinet model, a product, a coil, a site …

A column that bears the key of a calculator's input is read by that very input, so that a
spreadsheet cell and a form field obey the same limits and give the same messages. How long a text may be
stands at :class:`Name` and :class:`Note`; what letters it may hold in :mod:`tools.book.letters`.
"""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import calculators
from calculators.core import Choice, Count, Field, Money, Quantity, Rows, Text
from calculators.core.fields import is_unknown
from calculators.core.units import Units
from tools.problems import Problem, nearest

from . import days, fits, keys, week
from .bad import BadCell
from .cells import Settings, plain
from .spreadsheet import Sheet


@dataclass(frozen=True)
class Table:
    """One file of a table: its own columns, and the calculators whose inputs it may also hold.

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
        for name, some in self.some_of.items():
            found.update({key: calculators.get(name).inputs.field(key) for key in some})
        if self.order:
            found = {key: found[key] for key in self.order}
        return {**found, "sure": _SURE}


def row_fields(path: str) -> tuple[Field, ...]:
    """The fields of a row-input such as ``clearance.route``."""
    name, _, key = path.partition(".")
    rows = calculators.get(name).inputs.field(key)
    return rows.record.fields() if isinstance(rows, Rows) else ()


class Name(Text):
    """What things are called: it stands in titles, menus and on coils' and trays' lines."""

    longest = 80


class Note(Text):
    """A few sentences. Every other text may be as long as a calculator's own (120)."""

    longest = 400


_NAME = Name("Name", help="What people call it")
_KEY = Text("Key", help="A short word for links, without spaces")
_NOTE = Note("Note", help="Anything the crew should know")
_SURE = Text("Meant as written", key="sure",
             help="Names of columns, apart by spaces, whose unlikely value in this row is meant")  # fmt: skip
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

# What a cabinet's counters take in beside sales; the rest of a cash count is read on the spot.
CASH_FACTS = ("filled_counted", "emptied_counted")

# What a cabinet's plate and data sheet say of its energy and its gas, and what a site says of its room.
PLATE_FACTS = ("plate_daily", "energy_class", "energy_made", "chilled_volume", "gas", "charge", "lfl", "built_to", "room_most")
ROOM_FACTS = ("room_length", "room_width", "room_height", "low_place", "room_temp", "air_changes", "alike", "others",
              "energy_price")  # fmt: skip

# What a piece of moving gear is: its plate and its sizes; a site names the gear that it is moved with.
GEAR_FACTS = ("mover", "gear_height", "gear_wide", "gear_long", "gear_face", "gear_mass", "gear_rating",
              "wheels_apart", "gear_grade")  # fmt: skip

# How a cabinet's mass lies and what a site does to its stand; only sites that say any of it are judged for it.
STAND_FACTS = ("stock_height", "door_mass", "tray_load")
STAND_SITE = ("anchored", "anchor_paper", "rough_use", "lean_along", "lean_across", "wind_speed", "exposure", "terrain",
              "altitude", "hill")  # fmt: skip

_YES_NO = {"yes": "Yes", "no": "No"}

# What decides which steps a cabinet needs: the features of card.toml.
FEATURES = {
    "cooling": Choice("Cooling", {"chilled": "Chilled", "frozen": "Frozen", "ambient": "None, room temperature"},
                      help="What the cabinet keeps cold"),
    "takes_notes": Choice("Bill unit", _YES_NO, help="Whether it takes paper money"),
    "card_reader": Choice("Card reader", _YES_NO, help="Whether it has one, or takes one"),
    "two_motor": Choice("Two-motor lanes", _YES_NO, help="Whether two motors may turn one wide lane"),
    "food_shutoff": Choice("Food-safety shutoff", _YES_NO, help="Whether it stops selling by itself when food is warm"),
}

# What pages ask of a site and no calculator needs: the key of a mark in a page → column.
SITE_FACTS = {
    "panel": Text("Panel and who owns it", key="panel", help="Where the breaker is, and who may open it"),
    "breaker_number": Text("Breaker number", key="breaker_number", help="As the panel's own list has it"),
    "keys": Text("Who has which keys", key="keys", help="By role: cabinet, cash box, door"),
    "access": Text("Hours of access", key="access", help="When the crew may come, and when not"),
    "electrician": Text("Electrician of the site", key="electrician", help="A role, not a private number"),
    "technician": Text("Technician for this cabinet", key="technician", help="A role, not a private number"),
    "anchors": Text("Anchors", key="anchors", help="Whether it is fixed down, by whom, where the paper is"),
    "notes": Text("Bills taken", key="notes_taken", help="Which bills are taken here"),
    "cord_reach": Text("Where the cord reaches", key="cord_reach", help="Which outlet, on which side, how it lies"),
}

TABLES = (
    Table("machines", _own(
        upright_hours=Count("Hours upright after a tilt", least=0, most=72,
                            help="From the cabinet's own plate or manual"),
        legs_range=Text("Legs' range", help="Least and most exposed thread"),
        **FEATURES),
        ("clearance", "circuit", "spiral", "float", "plan"),
        some_of={"level": LEG_FACTS, "standing": STAND_FACTS, "cash": CASH_FACTS, "energy": PLATE_FACTS}),
    Table("cards", _keyed(
        machine=Text("Cabinet model", help="A key of machines.csv"),
        item=Text("Item", help="A key of the card, such as power_switch"),
        text=Note("What the card says", help="One or two short sentences, from the manual"),
        picture=Text("Picture", help="A file of the folder pictures, or a drawing"), note=_NOTE),
        key="", needed=("machine", "item"), links={"machine": "machines"}),
    Table("products", _own(
        price=Money("Price", least=1, most=100_000, help="What a buyer pays"),
        cost=Money("Cost", least=0, most=100_000, help="What a piece costs us, as delivered"),
        weekly_sales=Quantity("Sales a week", kind="ratio", least=0, most=5000,
                              help="As counted, all selections together"),
        allergens=Text("Allergens", help="As the label names them"),
        shelf_days=Count("Shelf life in days", least=1, most=2000),
        case_pieces=Count("Pieces in a case", least=1, most=10_000, help="As the case is delivered"),
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
        date=days.Day("Day of the test", help="As 2026-11-03", example="2026-11-03"),
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
        date=days.SpokenDay("Install day", help="As the sheet shows it"),
        address=Text("Where", help="How to find the door"),
        gear=Text("Moving gear", help="A key of gear.csv"),
        visit_days=week.VisitDays("Visiting days", example="Mon Thu",
                                  help="As Mon Thu; of every other week, odd Mon or even Mon"),
        **{str(each.key): each for each in SITE_FACTS.values()}),
        ("clearance", "circuit", "float", "plan"), needed=("key", "name", "machine"),
        links={"machine": "machines", "gear": "gear"}, some_of={"standing": STAND_SITE, "energy": ROOM_FACTS}),
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


@cache
def columns_of(name: str) -> dict[str, Field]:
    """The columns that a table may have, by the table's name."""
    return next(each for each in TABLES if each.name == name).columns()


@dataclass
class Row:
    """One row: cells as their fields read them, values in inner units, and where it stands.

    Days and money are brought to one way of writing in ``typed``; ``written`` has them as they stand.
    """

    file: str
    number: int
    typed: dict[str, str]
    values: dict[str, Any]
    written: dict[str, str] = field(default_factory=dict)

    def cell(self, column: str) -> str:
        """A cell as it stands in the table."""
        return self.written.get(column, self.typed.get(column, ""))


def read_rows(table: Table, sheet: Sheet, settings: Settings, problems: list[Problem],
              told: Collection[tuple[str, int, str]] = ()) -> list[Row]:  # fmt: skip
    """The rows of a table; every bad cell is reported with row, column, value and mend.

    Of the cells ``told`` (file, row, column) and those that the sheet complains of, no more is said.
    """
    columns = table.columns()
    problems += sheet.problems
    _check_head(table, sheet, columns, problems)
    known = {problem.place for problem in sheet.problems}
    known |= {f"row {number}, column {name}" for file, number, name in told if file == sheet.file}
    rows = [_read_row(table, sheet, number, cells, settings, problems, known) for number, cells in sheet.rows]
    _check_keys(table, rows, problems)
    return rows


def _check_head(table: Table, sheet: Sheet, columns: Mapping[str, Field], problems: list[Problem]) -> None:
    head, file = sheet.head, sheet.file
    for number, name in enumerate(head, 1):
        if name not in columns:
            problems.append(Problem(file, f"row 1, column {number}", f"There is no column “{name}”.", _near(name, columns)))
        elif head.index(name) != number - 1:
            problems.append(Problem(file, f"row 1, column {number}",
                                    f"The column “{name}” stands twice.", "Take one out."))  # fmt: skip
    misspelt = [difflib.get_close_matches(name, table.needed, 1, 0.5) for name in head if name not in columns]
    for name in table.needed:
        if name not in head and [name] not in misspelt:  # its misspelling was told
            problems.append(Problem(file, "row 1", f"The column “{name}” is missing.", "Add it."))


def _near(name: str, columns: Mapping[str, Field]) -> str:
    """The columns of about that name; one that differs by capitals or spaces alone is it."""
    same = name.strip().lower().replace(" ", "_")
    return f"Write {same}." if same in columns else nearest(name, list(columns))


def _read_row(table: Table, sheet: Sheet, number: int, cells: list[str], settings: Settings,
              problems: list[Problem], told: Collection[str]) -> Row:  # fmt: skip
    columns, head, file = table.columns(), sheet.head, sheet.file
    if len(cells) > len(head):
        problems.append(Problem(file, f"row {number}", f"{len(cells)} cells, but {len(head)} columns.",
                                "A comma inside a cell needs quotes round the cell."))  # fmt: skip
    row = Row(file, number, {}, {})
    for name, cell in zip(head, cells, strict=False):
        if name in columns and not is_unknown(cell):
            row.typed[name] = cell.strip()
            if f"row {number}, column {name}" not in told:
                _read_cell(row, name, columns[name], settings, problems)
    for name in table.needed:
        if name in head and name not in row.typed and f"row {number}, column {name}" not in told:
            problems.append(Problem(file, f"row {number}, column {name}", "The cell is empty.",
                                    f"{columns[name].label} is needed."))  # fmt: skip
    return row


def _read_cell(row: Row, name: str, reader: Field, settings: Settings, problems: list[Problem]) -> None:
    """Fill in one cell: typed as its field reads it, and its value; None where it cannot be used."""
    cell = row.typed[name]
    try:
        row.typed[name] = plain(reader, cell, settings)
        row.values[name] = reader.read(row.typed[name], settings.units)
        if isinstance(reader, Money):  # a spreadsheet takes 1.50 down to 1.5
            row.typed[name] = reader.shown(row.values[name], Units(settings.units))
        if row.typed[name] != cell:
            row.written[name] = cell
    except (ValueError, OverflowError) as error:
        row.values[name] = None
        mend = error.mend if isinstance(error, BadCell) else _mend(reader, cell, str(error), Units(settings.units))
        problems.append(Problem(row.file, f"row {row.number}, column {name}",
                                f"{reader.label}: “{_short(cell)}” cannot be used. {error}", mend))  # fmt: skip


def _short(cell: str) -> str:
    return cell if len(cell) <= 80 else f"{cell[:80]}…"


def _mend(reader: Field, cell: str, said: str, show: Units) -> str:
    """How to write it, where the field's own sentence does not say so already."""
    if isinstance(reader, Text) and len(cell) > reader.longest:
        return f"Shorten it: it has {len(cell)}."
    if reader.example is not None:
        return f"For example: {reader.sample(show)}."
    allowed = reader.limit_text(show)
    return allowed if allowed and allowed not in said else "Correct the cell."


def _check_keys(table: Table, rows: Iterable[Row], problems: list[Problem]) -> None:
    seen: dict[str, int] = {}
    for row in rows:
        key = row.typed.get(table.key, "")
        wrong = keys.complaint(key) if key else None
        if wrong:
            problems.append(Problem(row.file, f"row {row.number}, column {table.key}", *wrong))
        if key.lower() in seen:
            problems.append(Problem(row.file, f"row {row.number}, column {table.key}",
                                    f"The key “{key}” stands in row {seen[key.lower()]} too.",
                                    "Give each row its own key."))  # fmt: skip
        elif key:
            seen[key.lower()] = row.number

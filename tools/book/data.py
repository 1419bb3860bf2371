"""The operator's own data: company, tables and own figures, read and checked as one."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import calculators
from calculators.core import InputErrors, Rows
from calculators.core import rules as rule_sets
from calculators.core.fields import Field
from calculators.core.own import with_own
from tools.problems import Problem, Problems, nearest

from . import agree, asked, card, company, derive, fits, links, money, sizes, units, week
from .answers import Answers
from .cells import Settings
from .company import COMPANY
from .spreadsheet import KINDS, Sheet, find_sheet
from .tables import TABLES, Row, read_rows

__all__ = ["COMPANY", "TABLES", "OperatorData", "Row", "columns", "load"]

# Pages of ours name no row of anybody's: they take the first.
FIRST = "first"


class OperatorData:
    """Everything of an operator's folder; made by :func:`load`. ``heads`` are the files' own first rows.

    ``answers`` are what the calculators say of it, worked out where they are asked for or kept from before.
    """

    def __init__(self, company: dict[str, str], tables: dict[str, list[Row]],
                 rules: rule_sets.RuleSet, heads: dict[str, list[str]] | None = None,
                 answers: Answers | None = None) -> None:  # fmt: skip
        self.company = company
        self.answers = answers or Answers()
        self.heads = heads or {}
        self.tables = tables
        self.rules = rules
        self.units = company.get("units", "us")
        self._sold: dict[tuple[str, str], list[Row]] = {}
        self._found: dict[tuple[str, str], dict[str | None, list[Row]]] = {}

    @functools.cached_property
    def local(self) -> dict[str, dict[str, Any]]:
        """The operator's own figures, as a request takes them."""
        return self.rules.local()

    def row(self, table: str, key: str) -> Row:
        """A row by its key, or the first by ``first``; KeyError carries what is wrong and what is near."""
        if found := self._by(table, "key").get(key):
            return found[0]
        if key == FIRST and self.tables[table]:
            return self.tables[table][0]
        known = [row.typed.get("key", "") for row in self.tables[table]]
        raise KeyError(f"There is no “{key}” in {table}.csv.", nearest(key, known))

    def sold_in(self, table: str, machine: str) -> list[Row]:
        """The products or coils that belong to a cabinet model: named, or named nowhere."""
        # Asked for each product of each cabinet: a large operator would wait for nothing else.
        found = self._sold.get((table, machine))
        if found is None:
            found = self._sold[table, machine] = [row for row in self.tables[table] if self.belongs(row, machine)]
        return found

    @staticmethod
    def belongs(row: Row, machine: str) -> bool:
        """Whether a product or a coil belongs to a cabinet model: named, or named nowhere."""
        return machine in row.typed.get("cabinets", machine).split()

    def of(self, table: str, column: str, key: str) -> list[Row]:
        """The rows of a table that belong to something, in order."""
        return list(self._by(table, column).get(key, ()))

    def _by(self, table: str, column: str) -> dict[str | None, list[Row]]:
        """The rows of a table by what stands in a column; gone through once, or a thousand sites would be for each of them."""
        found = self._found.get((table, column))
        if found is None:
            found = self._found[table, column] = {}
            for row in self.tables[table]:
                found.setdefault(row.typed.get(column), []).append(row)
        return found

    def value(self, path: str) -> str:
        """``company.name`` or ``TABLE.KEY.COLUMN`` as written; KeyError says what is near."""
        parts = path.split(".")
        if parts[0] == "company" and len(parts) == 2:
            if parts[1] in self.company:
                return self.company[parts[1]]
            raise KeyError(nearest(parts[1], list(self.company)))
        if len(parts) == 3 and parts[0] in self.tables:
            row = self.row(parts[0], parts[1])
            if parts[2] in row.typed:
                return row.typed[parts[2]]
            raise KeyError(nearest(parts[2], list(row.typed)))
        raise KeyError("Write company.NAME or TABLE.KEY.COLUMN.")

    def prefill(self, calculator: str, rows: Mapping[str, str]) -> dict[str, Any]:
        """Typed inputs of a calculator from a machine, a product and a site."""
        named = self._named(rows)
        return {**self._cells(calculator, named), **derive.rows(self, calculator, named)}

    def cells(self, calculator: str, rows: Mapping[str, str]) -> dict[str, str]:
        """Those of :meth:`prefill` that are cells of those rows, without what is derived from other tables."""
        return self._cells(calculator, self._named(rows))

    def _named(self, rows: Mapping[str, str]) -> dict[str, Row]:
        """Those rows by what they are, with a site's cabinet and gear."""
        named = {name: self.row(f"{name}s", key) for name, key in rows.items()}
        site = named.get("site")
        if site and "machine" not in named:
            named["machine"] = self.row("machines", site.typed["machine"])
        if site and "gear" in site.typed:
            named["gear"] = self.row("gear", site.typed["gear"])
        return named

    def _cells(self, calculator: str, named: Mapping[str, Row]) -> dict[str, str]:
        order = [named[name] for name in ("machine", "gear", "site", "product") if name in named]
        fields = calculators.get(calculator).inputs.fields()
        typed: dict[str, str] = {}
        for row in order:
            typed.update({each.key: row.typed[each.key] for each in fields
                          if each.key in row.typed and not isinstance(each, Rows)})  # fmt: skip
        if "product" in named:
            found = fits.corrections(self, named["product"].typed["key"])
            typed.update({key: each.typed for key, each in found.items() if calculator == "spiral"})
        return typed

    def remark(self, rows: Mapping[str, str]) -> str:
        """What a reader must know of inputs from those rows: whose they are, and that a test corrected a size."""
        site = self.row("sites", rows["site"]).typed if "site" in rows else {}
        whose = {"Site": site.get("name"), "Product": self._name("products", rows.get("product")),
                 "Cabinet": self._name("machines", rows.get("machine") or site.get("machine"))}  # fmt: skip
        told = [f"{what}: {name}." for what, name in whose.items() if name]
        mark = fits.corrected(self, rows.get("product", ""))
        return " ".join([*told, *([f"A size of the product was {mark}."] if mark else [])])

    def _name(self, table: str, key: str | None) -> str:
        return self.row(table, key).typed.get("name", key) if key else ""

    def first(self, calculator: str) -> Mapping[str, str]:
        """The rows of the first thing that a calculator's form can be filled from."""
        return next((rows for _, _, rows in derive.presets(self, calculator)), {})

    def presets(self, calculator: str) -> list[dict[str, Any]]:
        """What the form of a calculator can be filled from, each with the cabinet that it is about."""
        return [{"key": key, "name": name, "units": self.units, "machine": self._machine(rows),
                 "inputs": self.prefill(calculator, rows)}
                for key, name, rows in derive.presets(self, calculator)]  # fmt: skip

    def _machine(self, rows: Mapping[str, str]) -> str:
        return rows["machine"] if "machine" in rows else self.row("sites", rows["site"]).typed["machine"]


def load(folder: Path, answers: Answers | None = None) -> OperatorData:
    """Read and check all data; raises :class:`Problems` with every mistake at once, causes first."""
    problems: list[Problem] = []
    told = company.read(folder / "handbook.toml", problems)
    if any(problem.place in company.CAUSES for problem in problems):
        # Whatever the tables hold would be read by the wrong units or rules: the cause alone is told.
        raise Problems(problems)
    rules = rule_sets.load(told["rules"])
    settings = Settings(told["units"], told.get("dates", ""), rules["coins.currency"].value["sign"],
                        told.get("edition", ""))  # fmt: skip
    sheets = _sheets(folder / "tables", problems)
    tables = _tables(sheets, settings, problems)
    local = _own(rules, _local(folder / "rules.toml", problems), problems)
    data = OperatorData(told, tables, local, {name: sheet.head for name, sheet in sheets.items()}, answers)
    _check_together(data, sheets, settings, problems)
    if problems:
        raise Problems(sorted(problems, key=_cause_first))
    return data


def _sheets(folder: Path, problems: list[Problem]) -> dict[str, Sheet]:
    """The file of each table that has one; a file that is no table's is told."""
    columns = {table.name: table.columns() for table in TABLES}
    found = {name: sheet for name, known in columns.items() if (sheet := find_sheet(folder, name, known))}
    for path in sorted(folder.iterdir()) if folder.is_dir() else ():
        if path.suffix.lower() in KINDS and path.name[0] not in ".~_" and path.stem not in columns:
            problems.append(Problem(path.name, "", "There is no such table, so nothing in it is read.",
                                    f"{nearest(path.stem.lower(), list(columns))} Or move it elsewhere."))  # fmt: skip
    return found


def _tables(sheets: dict[str, Sheet], settings: Settings, problems: list[Problem]) -> dict[str, list[Row]]:
    whole = {name: sheet for name, sheet in sheets.items() if not sheet.whole}
    told = units.check(whole, {table.name: table.columns() for table in TABLES}, settings.units, problems)
    tables: dict[str, list[Row]] = {}
    for table in TABLES:
        if table.name in whole:
            tables[table.name] = read_rows(table, whole[table.name], settings, problems, told)
        else:  # what would follow from a file that cannot be read is not told
            tables[table.name] = []
            problems += sheets[table.name].problems if table.name in sheets else []
    return tables


def _check_together(data: OperatorData, sheets: dict[str, Sheet], settings: Settings, problems: list[Problem]) -> None:
    """What one cell says against another, in its row or elsewhere."""
    tables = data.tables
    links.check(tables, sheets, problems)
    sizes.check(tables["products"], settings.units, problems)
    sizes.check_machines(tables["machines"], problems)
    fits.check(tables, problems)
    card.check(tables["machines"], tables["cards"], problems)
    _check_most(data, problems)
    money.check(data, problems)
    asked.check(tables, settings, problems)
    problems += week.check(tables["sites"])
    agree.check(data, problems)


def _cause_first(problem: Problem) -> int:
    """What all tables are read by, then whole files, then first rows, then cells."""
    if problem.file == "handbook.toml":
        return 0
    return 1 if not problem.place else 2 if problem.place.startswith("row 1,") else 3


def _check_most(data: OperatorData, problems: list[Problem]) -> None:
    """No cabinet may have more coils or trays than a form can try, and no plan more pairs to keep apart."""
    for machine in data.tables["machines"]:
        key = machine.typed.get("key", "")
        _check_rows(data.sold_in("coils", key), "spiral.coils", "cabinets", f"{{}} coils go into “{key}”.",
                    "There may be {}: name the cabinets of those that go elsewhere.", problems)  # fmt: skip
        _check_rows(data.of("trays", "machine", key), "plan.trays", "machine", f"“{key}” has {{}} trays.",
                    "There may be {}: put trays that are alike in one row.", problems)  # fmt: skip
    _check_rows(data.tables["apart"], "plan.apart", "first", "There are {} pairs to keep apart.", "There may be {}.", problems)


def _check_rows(rows: list[Row], path: str, column: str, what: str, mend: str, problems: list[Problem]) -> None:
    name, _, key = path.partition(".")
    most = int(calculators.get(name).inputs.field(key).most or len(rows))
    if len(rows) > most:
        problems.append(Problem(rows[0].file, f"row {rows[most].number}, column {column}", what.format(len(rows)), mend.format(most)))


def _local(path: Path, problems: list[Problem]) -> dict[str, dict[str, Any]]:
    """The operator's own figures: ``["space.rear_gap"] value = …``."""
    found: dict[str, dict[str, Any]] = {}
    for key, facts in company.toml(path, problems).items():
        if not isinstance(facts, dict) or "value" not in facts or "." not in key:
            problems.append(Problem(path.name, key, "It is not a figure.",
                                    'Write ["subject.name"] and under it value, unit, kind.'))  # fmt: skip
        else:
            found[key] = facts
    return found


def _own(rules: rule_sets.RuleSet, local: dict[str, dict[str, Any]], problems: list[Problem]) -> rule_sets.RuleSet:
    """The rule set with the operator's own figures; each that cannot be used is a problem of its own."""
    try:
        return with_own(rules, local)
    except InputErrors as errors:
        problems += [Problem("rules.toml", error.field.removeprefix("local."),
                             f"“{error.value}” cannot be used. {error.limit}", error.mend)
                     for error in errors.errors]  # fmt: skip
        return rules


def columns(table: str) -> dict[str, Field]:
    """The columns a table may have, for the docs."""
    return {each.name: each for each in TABLES}[table].columns()

"""The operator's own data: company, tables and own figures, read and checked as one."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import calculators
from calculators.core import InputErrors, Rows
from calculators.core import rules as rule_sets
from calculators.core.fields import Field
from calculators.core.own import with_own

from ..blocks.values import nearest
from ..problems import Problem, Problems
from . import agree, derive, fits, money, sizes
from .tables import TABLES, Row, head, read_table

COMPANY = {
    "name": "The operator's name", "units": "us or si", "rules": "A rule set's short name",
    "emergency": "The local emergency number", "phone_office": "Whom a site calls",
    "trainer": "Who trains new people", "accent": "The handbook's one colour, as #rrggbb",
    "edition": "The edition's date or name", "electrician": "Which licensed electrician is called",
    "refrigeration": "Which licensed refrigeration technician is called",
    "drills": "How many drills to make from the data, 0 for none",
}  # fmt: skip
_NEEDED = ("name", "units", "rules", "emergency")
# What every table is read by.
CAUSES = ("units", "rules", "")


class OperatorData:
    """Everything of ``docs/data``; made by :func:`load`. ``heads`` are the files' own first rows."""

    def __init__(self, company: dict[str, str], tables: dict[str, list[Row]],
                 rules: rule_sets.RuleSet, heads: dict[str, list[str]] | None = None) -> None:  # fmt: skip
        self.company = company
        self.heads = heads or {}
        self.tables = tables
        self.rules = rules
        self.units = company.get("units", "us")

    def row(self, table: str, key: str) -> Row:
        """A row by its key; KeyError carries what is wrong and what is near."""
        for row in self.tables[table]:
            if row.typed.get("key") == key:
                return row
        known = [row.typed.get("key", "") for row in self.tables[table]]
        raise KeyError(f"There is no “{key}” in {table}.csv.", nearest(key, known))

    def sold_in(self, table: str, machine: str) -> list[Row]:
        """The products or coils that belong to a cabinet model: named, or named nowhere."""
        return [row for row in self.tables[table]
                if machine in row.typed.get("cabinets", machine).split()]  # fmt: skip

    def of(self, table: str, column: str, key: str) -> list[Row]:
        """The rows of a table that belong to something, in order."""
        return [row for row in self.tables[table] if row.typed.get(column) == key]

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
        named = {name: self.row(f"{name}s", key) for name, key in rows.items()}
        site = named.get("site")
        if site and "machine" not in named:
            named["machine"] = self.row("machines", site.typed["machine"])
        if site and "gear" in site.typed:
            named["gear"] = self.row("gear", site.typed["gear"])
        order = [named[name] for name in ("machine", "gear", "site", "product") if name in named]
        fields = calculators.get(calculator).inputs.fields()
        typed: dict[str, Any] = {}
        for row in order:
            typed.update({each.key: row.typed[each.key] for each in fields
                          if each.key in row.typed and not isinstance(each, Rows)})  # fmt: skip
        if "product" in named:
            found = fits.corrections(self, named["product"].typed["key"])
            typed.update({key: each.typed for key, each in found.items() if calculator == "spiral"})
        return {**typed, **derive.rows(self, calculator, named)}

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
        """What the form of a calculator can be filled from."""
        return [{"key": key, "name": name, "units": self.units, "inputs": self.prefill(calculator, rows)}
                for key, name, rows in derive.presets(self, calculator)]  # fmt: skip


def load(folder: Path) -> OperatorData:
    """Read and check all data; raises :class:`Problems` with every mistake at once."""
    problems: list[Problem] = []
    company = _company(folder / "company.toml", problems)
    if any(problem.place in CAUSES for problem in problems):
        # Whatever the tables hold would be read by the wrong units or rules: the cause alone is told.
        raise Problems(problems)
    system = company["units"]
    read = {table.name: read_table(table, folder / f"{table.name}.csv", system, problems)
            for table in TABLES}  # fmt: skip
    tables = {name: rows or [] for name, rows in read.items()}
    _check_links(tables, [name for name, rows in read.items() if rows is None], folder, problems)
    sizes.check(tables["products"], system, problems)
    fits.check(tables, problems)
    named = company.get("rules", "us")
    rules = rule_sets.load(named if named in rule_sets.RULE_SETS else "us")
    local = _own(rules, _local(folder / "rules.toml", problems), problems)
    heads = {table.name: head(folder / f"{table.name}.csv") for table in TABLES}
    data = OperatorData(company, tables, local, heads)
    _check_coils(data, problems)
    if named == rules.name:
        money.check(data, problems)
    agree.check(data, problems)
    if problems:
        raise Problems(problems)
    return data


def _check_coils(data: OperatorData, problems: list[Problem]) -> None:
    """No cabinet may have more coils than a form can try."""
    most = calculators.get("spiral").inputs.field("coils").most or 0
    for machine in data.tables["machines"]:
        own = data.sold_in("coils", machine.typed.get("key", ""))
        if len(own) > most:
            problems.append(Problem(own[0].file, f"row {own[int(most)].number}, column cabinets",
                                    f"{len(own)} coils go into “{machine.typed.get('key', '')}”.",
                                    f"There may be {most:g}: name the cabinets of those that go elsewhere."))  # fmt: skip


def _toml(path: Path, problems: list[Problem]) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return {}
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        problems.append(Problem(path.name, "", f"It cannot be read: {error}.",
                                "Texts stand in quotes: name = \"…\"."))  # fmt: skip
        return {}


def _company(path: Path, problems: list[Problem]) -> dict[str, str]:
    read = {key: str(value) for key, value in _toml(path, problems).items()}
    if any(not problem.place for problem in problems):
        return read  # it cannot be read at all: that each of its entries is missing says nothing more
    for key in read:
        if key not in COMPANY:
            problems.append(Problem(path.name, key, f"There is no entry “{key}”.",
                                    nearest(key, list(COMPANY))))  # fmt: skip
    for key in _NEEDED:
        if key not in read:
            problems.append(Problem(path.name, key, f"The entry “{key}” is missing.",
                                    f"{COMPANY[key]}."))  # fmt: skip
    for key, known in (("units", ("us", "si")), ("rules", tuple(rule_sets.RULE_SETS))):
        if key in read and read[key] not in known:
            problems.append(Problem(path.name, key, f"“{read[key]}” cannot be used.",
                                    f"It must be one of: {', '.join(known)}."))  # fmt: skip
    if not read.get("drills", "0").isdigit():
        problems.append(Problem(path.name, "drills", f"“{read['drills']}” is no number.",
                                "Write a whole number, such as 40."))  # fmt: skip
    return read


def _local(path: Path, problems: list[Problem]) -> dict[str, dict[str, Any]]:
    """The operator's own figures: ``["space.rear_gap"] value = …``."""
    found: dict[str, dict[str, Any]] = {}
    for key, facts in _toml(path, problems).items():
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


def _check_links(tables: dict[str, list[Row]], unread: list[str], folder: Path, problems: list[Problem]) -> None:
    """Every link leads to a row; a table that is not there is told once, not for each link into it."""
    for other in sorted({other for table in TABLES for other in (*table.links.values(), *table.lists.values())}):
        links = [(table, column) for table in TABLES for column, name in {**table.links, **table.lists}.items()
                 if name == other]  # fmt: skip
        used = [(row, column) for table, column in links for row in tables[table.name] if column in row.typed]
        if other in unread or not used:
            continue
        if not (folder / f"{other}.csv").is_file():
            problems.append(Problem(f"{other}.csv", "", f"The file is missing, and {used[0][0].file} names rows of it.",
                                    f"Put it beside {used[0][0].file}."))  # fmt: skip
            continue
        known = [row.typed.get("key", "") for row in tables[other]]
        for row, column in used:
            cell = row.typed[column]
            lists = any(column in table.lists and row.file == f"{table.name}.csv" for table, _ in links)
            problems += [Problem(row.file, f"row {row.number}, column {column}",
                                 f"There is no “{key}” in {other}.csv.", nearest(key, known))
                         for key in (cell.split() if lists else [cell]) if key not in known]  # fmt: skip


def columns(table: str) -> dict[str, Field]:
    """The columns a table may have, for the docs."""
    return {each.name: each for each in TABLES}[table].columns()

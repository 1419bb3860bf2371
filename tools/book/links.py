"""Links between the tables: every key that a row names must be a key of the other table."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from tools.problems import Problem, nearest

from .spreadsheet import Sheet
from .tables import TABLES, Row


def check(tables: Mapping[str, list[Row]], sheets: Mapping[str, Sheet], problems: list[Problem]) -> None:
    """Report every lost key once, and a table that is not there once, not for each link into it."""
    told = {(problem.file, problem.place) for problem in problems}
    for other in sorted({other for table in TABLES for other in (*table.links.values(), *table.lists.values())}):
        used = [each for each in _used(tables, other)
                if (each[0].file, f"row {each[0].number}, column {each[1]}") not in told]  # fmt: skip
        if not used or (other in sheets and (sheets[other].whole or "key" not in sheets[other].head)):
            continue
        if other not in sheets:
            file = used[0][0].file
            problems.append(Problem(f"{other}.csv", "", f"The file is missing, and {file} names rows of it.",
                                    f"Put it beside {file}."))  # fmt: skip
            continue
        _check_keys(used, sheets[other].file, {row.typed.get("key", "") for row in tables[other]}, problems)


def _used(tables: Mapping[str, list[Row]], other: str) -> Iterator[tuple[Row, str, str]]:
    """Each key of another table that a row names, with the column."""
    for table in TABLES:
        for column, name in {**table.links, **table.lists}.items():
            for row in tables[table.name] if name == other else ():
                cell = row.typed.get(column, "")
                yield from ((row, column, key) for key in (cell.split() if column in table.lists else [cell]) if key)


def _check_keys(used: list[tuple[Row, str, str]], file: str, known: set[str], problems: list[Problem]) -> None:
    lost: dict[tuple[str, str, str], list[Row]] = defaultdict(list)
    for row, column, key in used:
        if key not in known:
            lost[row.file, column, key].append(row)
    for (name, column, key), (first, *more) in lost.items():
        rows = f" Rows that name it too: {', '.join(str(row.number) for row in more[:12])}." if more else ""
        problems.append(Problem(name, f"row {first.number}, column {column}",
                                f"There is no “{key}” in {file}.{rows}", nearest(key, sorted(known))))  # fmt: skip

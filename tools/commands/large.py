"""A large operator who does not exist: the rows of one folder spread, with other names and sizes.

For `bench` and the tests. The same numbers give the same folder, to the byte.
"""

from __future__ import annotations

import csv
import re
import shutil
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

Row = dict[str, str]

# A size as our own tables have it; fractions and words stay as they are.
SIZE = re.compile(r"(\d+(?:\.\d+)?) (mm|in|ft|g|lb)")
# What differs from one pack to the next.
OF_GOODS = ("diameter", "foot_diameter", "breadth", "thickness", "thick_end", "thin_end", "height")
# What differs from site to site and from way to way; a cabinet's own sizes stand on its plate.
AT_A_SITE = ("front_clear", "front_width", "corridor_width", "top_gap", "run", "width", "height")
SPREAD = 101  # copies of a row before a size comes again
SALES = 0.037  # a day more from site to site: a thousand steps give no whole number, so no two sites sell alike
STEP = 0.001  # from one copy to the next, as a share


@dataclass(frozen=True)
class Size:
    """How many rows of each kind."""

    sites: int
    machines: int = 10
    products: int = 400


def write(source: Path, folder: Path, size: Size) -> None:
    """Write an operator's folder of that size, made of the one in ``source``."""
    shutil.copytree(source, folder, dirs_exist_ok=True)
    old = {path.stem: _read(path) for path in sorted((source / "tables").glob("*.csv"))}
    for name, rows in spread(old, size).items():
        _write(folder / "tables" / f"{name}.csv", rows, list(old[name][0]))


def spread(old: Mapping[str, list[Row]], size: Size) -> dict[str, list[Row]]:
    """The tables that grow. Each copy of a product or a site belongs to one copy of its model."""
    models = [_copy(row, number) for row, number in _copies(old["machines"], size.machines)]
    kept = Counter(row["key"] for row, _ in _copies(old["machines"], size.machines))
    goods = [_sold_in(_sized(_copy(row, number), number, OF_GOODS), number, kept)
             for row, number in _copies(old["products"], size.products)]  # fmt: skip
    sites = list(_copies(old["sites"], size.sites))
    found = {"machines": models, "products": goods, "sites": _placed(sites, kept)}
    for name in ("tubes", "trays", "cards"):
        found[name] = [{**row, "machine": named(row["machine"], number)}
                       for row in old[name] for number in range(kept[row["machine"]])]  # fmt: skip
    for name in ("routes", "loads"):
        found[name] = [{**_sized(row, number, AT_A_SITE), "site": named(site["key"], number)}
                       for site, number in sites for row in old[name] if row["site"] == site["key"]]  # fmt: skip
    found["coils"] = [{**row, "cabinets": " ".join(_all(row["cabinets"], kept))} for row in old["coils"]]
    return found


def named(key: str, number: int) -> str:
    """A copy's key; the first one keeps its own."""
    return key if number == 0 else f"{key}-{number + 1}"


def _copies(rows: list[Row], wanted: int) -> Iterator[tuple[Row, int]]:
    """So many rows, each with the number of its copy: all of them once, all of them again."""
    return ((rows[place % len(rows)], place // len(rows)) for place in range(wanted))


def _copy(row: Row, number: int) -> Row:
    name = row["name"] if number == 0 else f"{row['name']} {number + 1}"
    return {**row, "key": named(row["key"], number), "name": name}


def _sized(row: Row, number: int, columns: tuple[str, ...]) -> Row:
    """A row whose sizes are a little larger, all by the same share, so that none contradicts another."""
    factor = 1 + STEP * (number % SPREAD)

    def larger(cell: str) -> str:
        found = SIZE.fullmatch(cell)
        return f"{float(found[1]) * factor:.2f} {found[2]}" if found and number else cell

    return {name: larger(cell) if name in columns else cell for name, cell in row.items()}


def _sold_in(row: Row, number: int, kept: Mapping[str, int]) -> Row:
    return {**row, "cabinets": " ".join(named(key, number % kept[key]) for key in row["cabinets"].split())}


def _all(cabinets: str, kept: Mapping[str, int]) -> list[str]:
    return [named(key, number) for key in cabinets.split() for number in range(kept[key])]


def _placed(sites: list[tuple[Row, int]], kept: Mapping[str, int]) -> list[Row]:
    found = []
    for place, (row, number) in enumerate(sites):
        model = named(row["machine"], number % kept[row["machine"]])
        sold = f"{float(row['sales_per_day']) + SALES * place:.3f}"
        found.append({**_sized(_copy(row, number), number, AT_A_SITE), "machine": model, "sales_per_day": sold})
    return found


def _read(path: Path) -> list[Row]:
    with path.open(encoding="utf-8", newline="") as file:
        return [{name: cell or "" for name, cell in row.items()} for row in csv.DictReader(file)]


def _write(path: Path, rows: list[Row], head: list[str]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, head, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)

"""New operators' folders with a few places of them put otherwise, as people, programs and accidents do."""

from __future__ import annotations

import argparse
import codecs
import contextlib
import csv
import functools
import io
import random
import tempfile
from collections.abc import Iterator
from pathlib import Path

from calculators.core import rules
from tools.commands import new

SETS = tuple(rules.RULE_SETS)
# What may stand in a cell: amounts in other units and ways, days, what programs leave, words that mean something
# elsewhere, and what no cell may hold.
CELLS = (
    "", " ", "0", "1", "-3", "2.5", "1,5", "1.234,5", "1 234", "12 in", "305 mm", "30 cm", "1 ft 2 1/2", "5 kg", "11 lb 3 oz", "7 %",
    "$ 2.50", "£3", "2.50 €", "120 V", "1e9", "999999999", "ten", "about 5", "5-6", "2026-11-30", "2026-13-01", "3/11/26", "31/2/2026",
    "30.11.2026", "Nov 3", "45000", "yes", "No", "TRUE", "x", "none", "?", "n/a", "#REF!", "#N/A", "=A1+1", "'5", "first", "example", "Example A",
    "a b", "a;b", "a, b", "ä é", "“x”", "<b>x</b>", "x" * 81, "x" * 201, "mon wed", "monday", "even tuesday", "procedures/clean", "../x", "flat", "can",
)  # fmt: skip
HEADS = ("", "name", "Name", "key", "note", "mass_kg", "width", "widht", "example", "price", "12")
SETTINGS = (
    'dates = "day first"', 'dates = "both"', 'edition = ""', 'edition = "2026-11-30"', 'units = "si"', 'units = "metric"', 'rules = "uk"',
    'rules = "fr"', 'accent = "red"', 'accent = "#ffff00"', "drills = 0", "drills = 9999", 'drills = "ten"', 'foot = "x"', 'logo = "pictures/none.svg"',
    'emergency = ""', 'leave_out = ["procedures/none"]', 'name = ""', f'name = "{"x" * 81}"', "colour = 1", "= broken", 'trainer = "a\\nb"',
)  # fmt: skip
WAYS = (("utf-8", ","), ("utf-8", ";"), ("utf-8-sig", ","), ("utf-16", "\t"), ("cp1252", ";"), ("latin-1", "|"))


def folders(count: int) -> Iterator[tuple[str, Path]]:
    """Each folder with its name, valid until the next is asked for."""
    for seed in range(count):
        of = SETS[seed % len(SETS)]
        with tempfile.TemporaryDirectory() as work:
            folder = Path(work) / "ours"
            _copy(of, folder)
            _spoil(folder, random.Random(f"spoiled-{seed}"))
            yield f"{of} {seed}", folder


@functools.cache
def _fresh(of: str) -> dict[str, bytes]:
    with tempfile.TemporaryDirectory() as work, contextlib.redirect_stdout(io.StringIO()):
        folder = Path(work) / "ours"
        new.main(argparse.Namespace(folder=folder, name="Tern Vending", rules=of, units=None))
        return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def _copy(of: str, folder: Path) -> None:
    for name, data in _fresh(of).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _spoil(folder: Path, rng: random.Random) -> None:
    tables = sorted((folder / "tables").glob("*.csv"))
    if rng.random() < 0.2:
        path = folder / "handbook.toml"
        setting = rng.choice(SETTINGS)
        key = setting.split("=")[0]
        lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith(key)]
        path.write_text("\n".join([*lines, setting, ""]), encoding="utf-8")
    for path in rng.sample(tables, rng.randint(1, 2)):
        rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
        for _ in range(rng.randint(1, 3)):
            _change(rows, rng)
        coding, comma = rng.choice(WAYS) if rng.random() < 0.25 else WAYS[0]
        told = io.StringIO()
        csv.writer(told, delimiter=comma).writerows(rows)
        path.write_bytes(codecs.encode(told.getvalue(), coding, "replace"))
    if rng.random() < 0.05:
        path = rng.choice(tables)
        path.rename(path.with_name(rng.choice((f"{path.stem}s.csv", f"{path.stem}.ods", "notes.csv"))))


def _change(rows: list[list[str]], rng: random.Random) -> None:
    """One cell, one name of a column, or one row more."""
    head, body = rows[0], [row for row in rows[1:] if row and not row[0].startswith("#")]
    way = rng.random()
    if way < 0.1 or not body:
        at = rng.randrange(len(head))
        head[at] = rng.choice([*HEADS, rng.choice(head)])
    elif way < 0.3:
        rows.append(list(rng.choice(body)))
        if rng.random() < 0.5:
            rows[-1][0] += "-b"
    else:
        row = rng.choice(body)
        at = rng.randrange(len(row))
        others = [other[at] for other in body if at < len(other)]
        row[at] = rng.choice(others) if rng.random() < 0.15 else rng.choice(CELLS)

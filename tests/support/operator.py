"""A small operator's folder with a hostile text in every cell and entry that may hold any."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator
from itertools import cycle
from pathlib import Path

from calculators.core.fields import Text
from tests.support.hostile import TEXTS
from tools.book.tables import TABLES

DEMO = Path(__file__).parents[2] / "docs" / "data" / "tables"
# Which of the demonstration's rows are kept: by key, or by what they belong to.
KEPT = {"machines": {"tall-forty"}, "products": {"shortbread", "pier-cola"}, "coils": {"ten", "seven"}, "sites": {"ferry-pier"},
        "crew": {"router", "lead"}, "gear": {"power-jack"}}  # fmt: skip
# Texts that name a thing of ours or a file, and may be no other.
NAMING = {("machines", "trays"), ("cards", "item"), ("cards", "picture")}
OF = {"cards": ("machine", "tall-forty"), "fits": ("machine", "tall-forty"), "routes": ("site", "ferry-pier"), "loads": ("site", "ferry-pier"),
      "tubes": ("machine", "tall-forty"), "trays": ("machine", "tall-forty")}  # fmt: skip
# Where a reader looks for a text: a name is told by its place.
COMPANY = {
    "name": "</title><h1>Tern & \"Pebble\" &amp; 'co' qz", "edition": "<img src=x onerror=window.ran=1> &lt; qz",
    "phone_office": "</script><script>window.ran=1</script> qz", "trainer": "[x](javascript:window.ran=1) qz",
    "foot": "</p><b>foot</b> {{ config }} qz", "electrician": "{{rule space.rear_gap}} *x* | qz", "refrigeration": "::: danger {#id onclick=x} qz",
}  # fmt: skip


def write(folder: Path) -> dict[tuple[str, str], str]:
    """Write the folder; return the text of each (table, key) name, and of the company's entries."""
    (folder / "tables").mkdir(parents=True)
    texts = cycle(TEXTS)
    told: dict[tuple[str, str], str] = {}
    for table in TABLES:
        source = DEMO / f"{table.name}.csv"
        with source.open(encoding="utf-8", newline="") as file:
            rows = [row for row in csv.DictReader(file) if _kept(table.name, row)]
        for row in rows:
            for column in _free(table):
                text = next(texts)
                if column == "name":
                    told[table.name, row.get("key", "")] = text
                row[column] = guarded(text)
            for column in table.lists:
                row[column] = "tall-forty"
        _write(folder / "tables" / source.name, rows)
    told.update({("company", key): text for key, text in COMPANY.items()})
    entries = {"units": "us", "rules": "us", "emergency": "911", "drills": 4, **{key: told["company", key] for key in COMPANY}}
    (folder / "handbook.toml").write_text("".join(f"{key} = {json.dumps(value)}\n" for key, value in entries.items()), "utf-8")
    _packs(folder, told, texts)
    return told


def guarded(text: str) -> str:
    """A cell as rows.js writes it, which the reader of tables takes back."""
    return f"'{text}" if re.match(r"'*[=+\-@]", text) else text


def _kept(table: str, row: dict[str, str]) -> bool:
    column, value = OF.get(table, ("", ""))
    if table == "fits":
        return row["product"] in KEPT["products"] and row["coil"] in KEPT["coils"]
    return row[column] == value if column else row.get("key", "") in KEPT.get(table, ())


def _free(table: object) -> Iterator[str]:
    links = {table.key, "sure", "tray", *table.links, *table.lists}
    for name, field in table.columns().items():
        if isinstance(field, Text) and name not in links and (table.name, name) not in NAMING:
            yield name


def _write(path: Path, rows: list[dict[str, str]]) -> None:
    if rows:
        with path.open("w", encoding="utf-8", newline="") as file:
            table = csv.DictWriter(file, list(dict.fromkeys(name for row in rows for name in row)), restval="")
            table.writeheader()
            table.writerows(rows)


def _packs(folder: Path, told: dict[tuple[str, str], str], texts: Iterator[str]) -> None:
    """Two booklets: one page, one question each, every text another one."""
    lines = []
    for key in ("cash", "safe"):
        title, summary, ask, why, right, wrong = (json.dumps(next(texts), ensure_ascii=False) for _ in range(6))
        told["packs", key] = json.loads(title)
        lines += [f"[{key}]", f"title = {title}", f"summary = {summary}", 'pages = ["safety/emergency"]', f"[[{key}.questions]]",
                  f"ask = {ask}", f"answers = [{wrong}, {right}]", f"right = {right}", f"why = {why}", 'page = "safety/emergency"']  # fmt: skip
    (folder / "packs.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    own = {"label": next(texts), "note": next(texts), "reason": next(texts), "decided_by": next(texts)}
    parts = "".join(f"{name} = {json.dumps(value)}\n" for name, value in own.items())
    (folder / "rules.toml").write_text(f'["space.rear_gap"]\nvalue = 7\nunit = "in"\n{parts}', encoding="utf-8")



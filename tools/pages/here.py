"""The places a reader can be at, for the choice that the whole handbook then follows: sites, and cabinets without one."""

from __future__ import annotations

import json
from typing import Any

from tools.book.data import OperatorData
from tools.book.tables import SITE_FACTS, Row

from . import papers
from .sheet import VAN

PATH = "assets/places.js"


def script(data: OperatorData) -> str:
    """The list as a script: a page opened as a file may load nothing else."""
    written = json.dumps(places(data), ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
    return f'(self.HandbookAssets ??= {{}}).places = {written};\n'


def places(data: OperatorData) -> list[dict[str, Any]]:
    """Sites in the order of their table, then cabinets; each with its pages and the keys that fill a form."""
    cabinets = {row.typed["key"]: row.typed.get("name", row.typed["key"]) for row in data.tables["machines"]}
    sites = [
        {"key": row.typed["key"], "name": row.typed.get("name", row.typed["key"]), "kind": "site",
         "machine": row.typed["machine"], "cabinet": cabinets[row.typed["machine"]],
         "pages": [*_sheet(row.typed["key"]), _card(row.typed["machine"])], "facts": _facts(row)}
        for row in data.tables["sites"]
    ]  # fmt: skip
    alone = [{"key": key, "name": name, "kind": "cabinet", "machine": key, "cabinet": name, "pages": [_card(key)]}
             for key, name in cabinets.items()]  # fmt: skip
    return [*sites, *alone]


def _facts(row: Row) -> dict[str, str]:
    """What the table says of the site, for the pages that ask for it."""
    return {key: row.typed[str(each.key)] for key, each in SITE_FACTS.items() if str(each.key) in row.typed}


def _sheet(site: str) -> list[list[str]]:
    """The sheet, the part of it that one packs by, and the papers to fill in."""
    return [["Site sheet", f"sites/{site}.html"], ["What to take", f"sites/{site}.html#{VAN}"], ["Papers", papers.PATH.replace(".md", ".html")]]


def _card(machine: str) -> list[str]:
    return ["Cabinet card", f"reference/cabinet-{machine}.html"]

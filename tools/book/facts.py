"""What every page's foot shows."""

from __future__ import annotations

import hashlib
import re

from .data import OperatorData


def facts(data: OperatorData) -> dict[str, str]:
    """What every page's foot shows: whose handbook, which edition, which state of the data."""
    cells = [sorted(row.typed.items()) for table_ in data.tables.values() for row in table_]
    mark = _mark(repr((sorted(data.company.items()), cells)))
    name = data.company["name"]
    ident = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or f"handbook-{_mark(name)}"
    return {"name": name, "id": ident, "edition": data.company.get("edition", "–"), "data": mark,
            "foot": data.company.get("foot", "")}  # fmt: skip


# A style sheet says the state of the data to all pages: told in each, it would change all of them with any cell.
STATE = "assets/css/state.css"


def state_sheet(data: OperatorData) -> str:
    """The style sheet that puts the state of the data into every page's foot."""
    return f'.hb-state::before {{ content: "{facts(data)["data"]}"; }}\n'


def _mark(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:8]

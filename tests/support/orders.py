"""Finds orders that only a licensed person may follow; the list is data, tests/cases/orders.toml."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

LIST: dict[str, Any] = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "orders.toml").read_text(encoding="utf-8")
)


def _any(words: list[str]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


def _pattern(row: dict[str, Any]) -> str:
    verbs = rf"\b(?:{_any(row['verbs'])})\b"
    return verbs if not row["things"] else rf"{verbs}[^.;:]{{0,{row['within']}}}\b(?:{_any(row['things'])})s?\b"


def _clause() -> str:
    rows = LIST["outlet"]
    heads = rf"(?:^|[.;:,]\s*|\b(?:{_any(rows['after'])})\s+)(?:(?:{_any(rows['leads'])})\s+)?"
    return rf"{heads}(?:{_any(rows['verbs'])})\b"


FORBIDDEN = re.compile("|".join(_pattern(row) for row in LIST["forbidden"]), re.IGNORECASE)
SAFE = re.compile(rf"\b(?:{_any(LIST['safe'])})\b", re.IGNORECASE)
_STATES = re.compile(_any(LIST["states"]), re.IGNORECASE)
WORK = re.compile(_clause(), re.IGNORECASE)


def sentences(text: str) -> list[str]:
    """The sentences of a text, one for each part between semicolons."""
    return [each for each in re.split(r"(?<=[.!?;])\s+", " ".join(text.split())) if each]


def orders(text: str) -> list[str]:
    """Sentences that order such work, and neither name who does it nor forbid it."""
    return [each for each in sentences(text)
            if FORBIDDEN.search(_STATES.sub("so", each)) and not SAFE.search(each)]  # fmt: skip


def said(part: Any) -> Iterator[str]:
    """Every text in a result or a definition, however deep."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, dict):
        for each in part.values():
            yield from said(each)
    elif isinstance(part, (list, tuple)):
        for each in part:
            yield from said(each)


def told(result: dict[str, Any]) -> list[str]:
    """All that a result says to its reader; drawings and keys are left out."""
    parts = ("headline", "caution", "actions", "not_checked", "tables", "assumed", "measure_next")
    texts = list(said([result[part] for part in parts]))
    for check in result["checks"]:
        texts += said([check[part] for part in ("label", "text", "note", "caution")])
        texts += [check["mend"]["text"]] if check["mend"] else []
    for group in result["working"]:
        texts += said([[group["title"]], *([step["label"], step["note"]] for step in group["steps"])])
    return texts

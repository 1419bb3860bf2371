"""What the search is told of a page beside its text: what people say, and what comes before what."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tools.book import front, text

# Procedures and safety, calculators, pages from data and an operator's own, what one looks up.
JOB, CALCULATOR, OTHER, REFERENCE = range(4)
HEADINGS = {"Do the job": JOB, "Stay safe": JOB, "Work it out": CALCULATOR, "Look up": REFERENCE, "Learn": REFERENCE}


def rank(meta: Mapping[str, Any], headings: Sequence[str], listed: bool = False) -> int:
    """A page's place in what is found, by its kind and the headings of the menu; ``listed`` is one of many from data."""
    if meta.get("kind") == "procedure":
        return JOB
    if listed:
        return OTHER
    return HEADINGS.get(headings[0], OTHER) if headings else REFERENCE


def told(entries: Sequence[dict[str, Any]], url: str, meta: Mapping[str, Any], rank: int,
         parts: Mapping[str, Sequence[str]]) -> None:  # fmt: skip
    """Write it into a page's entries; ``parts`` are the words for its parts, by their heading's id."""
    for entry in reversed(entries):
        path, _, part = entry["location"].partition("#")
        if path != url:
            return
        if part:
            words: Sequence[str] = parts.get(part, ())
        else:
            words = front.said(meta)
            entry["rank"] = rank
            entry["summary"] = text.html(str(meta.get("summary") or ""))
        if words:
            entry["said"] = list(words)

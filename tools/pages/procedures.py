"""The parts every procedure has, in the order a reader meets them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tools.book import text

PARTS = (
    "What it is for", "Who may do it", "How long", "Tools and protective gear",
    "Before you start", "Steps", "How you know it is right",
    "When to stop and whom to call", "What to record", "Sign-off",
)  # fmt: skip


def check(markdown: str, first: int) -> list[tuple[int, str, str]]:
    """Each missing, strange or misplaced part as (line, what, mend)."""
    found = [
        (number, text[3:].strip())
        for number, text in enumerate(markdown.splitlines(), first)
        if re.match(r"^## ", text)
    ]
    titles = [title for _, title in found]
    wrong = [
        (first, f"The procedure has no part “{part}”.", f"Add “## {part}”.")
        for part in PARTS
        if part not in titles
    ]
    wrong += [
        (line, f"“{title}” is no part of a procedure.", f"Parts: {', '.join(PARTS)}.")
        for line, title in found
        if title not in PARTS
    ]
    known = [title for title in titles if title in PARTS]
    if not wrong and known != list(PARTS):
        wrong.append((found[0][0], "The parts do not stand in their order.", " · ".join(PARTS) + "."))
    return wrong


def sheet_of(path: str) -> str:
    """What a procedure's sheet is called in style sheets, by the path of its source."""
    return "sheet-" + re.sub(r"[^a-z0-9]+", "-", path.lower().removesuffix(".md"))


def sheets(titles: Iterable[tuple[str, str]]) -> str:
    """A style sheet that prints each procedure's title in its foot, of (path, title).

    On paper every page bears the name of its sheet: dropped sheets can be told apart. A margin box cannot
    read the page, so each sheet has a named page of its own.
    """
    return "".join(
        f"@media print {{ @page {name} {{ @bottom-left {{ content: {text.css(title)}; }} }} "
        f"html:has(main .hb-{name}) body {{ page: {name}; }} }}\n"
        for name, title in ((sheet_of(path), title) for path, title in titles)
    )

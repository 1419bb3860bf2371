"""The two forms of a booklet: the short one for the day itself, and the study form, which holds all of each page.

The short form keeps every step, caution, drawing, table to fill in and sign-off. What it leaves out is told here and
nowhere guessed: sections that only give reasons or times, sentences that their writer marked as a
reason (``{{why}}``), pages of reference, and the questions.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from tools.book.packs import STUDY

from .reader import Block, Inline, plain, trimmed

# Sections of a procedure that no hand needs on the day.
LEFT_OUT = ("What it is for", "How long")
# A heading of any other page under which only reasons stand.
REASON = "Why "
# Sections short enough for a paragraph, whose heading stands in its line.
RUN_IN = ("Who may do it", "Tools and protective gear")
REFERENCE = "reference/"


def pages(places: Sequence[str], form: str) -> list[str]:
    """The pages that a form holds; a booklet of nothing but reference stays whole."""
    kept = [place for place in places if form == STUDY or not place.startswith(REFERENCE)]
    return kept or list(places)


def shortened(blocks: Sequence[Block]) -> list[Block]:
    """A page's blocks as the short form prints them."""
    return [block for heading, held in _sections(blocks) for block in _section(heading, held)]


def _sections(blocks: Sequence[Block]) -> Iterator[tuple[Block | None, list[Block]]]:
    """Each heading of the second level with what stands under it; first what stands before them all."""
    heading: Block | None = None
    held: list[Block] = []
    for block in blocks:
        if block["kind"] == "heading" and block["level"] == 2:
            yield heading, held
            heading, held = block, []
        else:
            held.append(block)
    yield heading, held


def without_records(blocks: Sequence[Block]) -> list[Block]:
    """A page's blocks without the sections in which something is to be filled in."""
    kept = [([heading] if heading else [], held) for heading, held in _sections(blocks)
            if not any(each.get("use") == "fill" for each in held)]  # fmt: skip
    return [block for heading, held in kept for block in [*heading, *held]]


def _section(heading: Block | None, held: Sequence[Block]) -> list[Block]:
    title = plain(heading["text"]) if heading else ""
    if title in LEFT_OUT or title.startswith(REASON):
        return []
    if title in RUN_IN and held:
        return [{"kind": "p", "text": [{"strong": [f"{title}:"]}, " ", *_in_line(held[0])]}, *held[1:]]
    shown = [block for each in held for block in _block(each)]
    return [heading, *shown] if heading else shown


def _block(block: Block) -> list[Block]:
    """A block without its reasons, and none where it is one."""
    if block["kind"] == "steps":
        return [_steps(block)]
    if block["kind"] == "p" and not without_reasons(block["text"]):
        return []
    return [block]


def _in_line(block: Block) -> Inline:
    """A paragraph's words, or those of a list of short lines one after the other."""
    if block["kind"] != "bullets":
        return list(block["text"])
    items = [item[0]["text"] for item in block["items"]]
    words: Inline = [word for item in items for word in [*item, ". "]]
    return [*words[:-1], "."]


def _steps(block: Block) -> Block:
    return {**block, "items": [_step(step) for step in block["items"]]}


def _step(step: Block) -> Block:
    """A step; where nothing stands between, the words beneath follow in its own line."""
    after = list(_after(step["after"]))
    then = after.pop(0)["text"] if after and after[0]["kind"] == "why" else []
    return {"number": step["number"], "before": step["before"], "text": step["text"], "then": then, "after": after}


def _after(parts: Sequence[Block]) -> Iterator[Block]:
    for part in parts:
        if part["kind"] != "why":
            yield part
        elif text := without_reasons(part["text"]):
            yield {**part, "text": text}


def without_reasons(text: Inline) -> Inline:
    """Running text without the sentences that their writer marked as a reason; empty where there are no others."""
    kept: list[Any] = [each for each in text if not (isinstance(each, dict) and "reason" in each)]
    return trimmed(kept) if plain(kept).strip() else []

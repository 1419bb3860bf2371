"""Reads a printed check as a person with a pencil does: value, limit and what is left, exactly.

Nothing here is taken from the code that prints: numbers become fractions, and units stay words.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

# Signs that stand before a number, and those that may follow one without a space.
MONEY = "$€£"
_AMOUNT = re.compile(rf"(−?)([{MONEY}]?)(?:(\d+) )?(?:(\d+)/(\d+)|(\d+(?:\.\d+)?))(?: ?(°F|°C|°|%|′|[^\s\d;:,]+(?: day)?))?")
_LINE = re.compile(
    r"(?:(?P<lead>.+ not (?:measured|known); at (?:best|worst)|Copper, which loses no more): )?(?P<value>[^;]+); (?P<sense>at least|at most) (?P<limit>[^:]+) "
    r"required: (?P<spare>[^,]+?) (?P<tail>to spare|short|over)(?:, but the measuring may be (?P<off>.+) off)?\."
    r"(?P<own> This rests on a figure of our own that is looser than the rule set's\.)?"
)


class Amount(NamedTuple):
    """A printed number as it stands, with its unit as a word and its count of decimals."""

    number: Fraction
    unit: str
    decimals: int


class Line(NamedTuple):
    """A printed check; ``tail`` is what its reader is told of the difference."""

    value: Amount
    sense: str
    limit: Amount
    spare: Amount
    tail: str
    off: Amount | None
    lead: str


def amount(text: str) -> Amount:
    """A printed quantity; ValueError where it is none."""
    found = _AMOUNT.fullmatch(text.strip())
    if not found:
        raise ValueError(text)
    minus, sign, whole, top, bottom, decimal, unit = found.groups()
    if decimal and whole:
        raise ValueError(text)
    number = Fraction(decimal) if decimal else Fraction(int(whole or 0)) + Fraction(int(top), int(bottom))
    return Amount(-number if minus else number, sign or unit or "", len((decimal or "").partition(".")[2]))


def line(text: str) -> Line | None:
    """A printed check that compares; None for any other sentence."""
    found = _LINE.fullmatch(text)
    if not found:
        return None
    off = found["off"]
    return Line(amount(found["value"]), found["sense"], amount(found["limit"]), amount(found["spare"]), found["tail"],
                amount(off) if off else None, found["lead"] or "")  # fmt: skip


def wrong(read: Line, outcome: str) -> str:
    """What a person with a pencil would object to; nothing where all agrees."""
    return next((fault for found, fault in _faults(read, outcome) if found), "")


def _faults(read: Line, outcome: str) -> list[tuple[bool, str]]:
    left = read.value.number - read.limit.number
    left = -left if read.sense == "at most" else left
    short = read.tail != "to spare"
    proper = {"at least": ("to spare", "short"), "at most": ("to spare", "over")}[read.sense]
    return [
        (not read.value.unit == read.limit.unit == read.spare.unit, "three units"),
        (read.spare.number < 0, "a negative difference"),
        ((-left if short else left) != read.spare.number, "value less limit is not what is left"),
        (read.tail not in proper, "short of a most, or over a least"),
        (outcome == "pass" and short, "a pass on the wrong side"),
        (outcome == "stop" and not (short and read.spare.number), "a stop on the right side"),
        (read.off is not None and (outcome != "caution" or short), "a doubt where there is none"),
        (read.off is not None and read.spare.number > read.off.number, "more to spare than the measuring may hide"),
    ]

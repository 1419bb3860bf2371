"""A number of a workbook as its cell shows it: 12.5, 85%, £1.50, 900 mm.

The number in the cell and what a person reads are two things. What the number's format adds (a
sign, a unit, percent) is kept, because without it the number means something else; a format that
hides figures, or that cannot be followed, is refused instead of guessed at.
"""

from __future__ import annotations

import re

FIGURES = 10  # of a number without a format: more are leavings of binary arithmetic
_HIDDEN = 1e-6  # of the number: what a format may leave away unseen
_GENERAL = ("general", "standard", "@", "")
_PLACES = re.compile(r"(?:[0#?]+ )?[0#?]+/[0-9?#]+|[0#?][0#?,]*(?:\.[0#?]+)?|\.[0#?]+")
# Colours, and the country a format is for: they show nothing.
_SILENT = re.compile(r"\[(?:\$-[0-9A-Fa-f]+|[A-Za-z]+[0-9]*)\]|_.|\*.")
_SIGN = re.compile(r"\[\$([^\]-]+)(?:-[0-9A-Fa-f]+)?\]")
_QUOTED = re.compile(r'"([^"]*)"|\\(.)')
_PLAIN_MARKS = set("$€£¥%()+- :'/")


class Unreadable(ValueError):
    """A number whose format hides a part of it, or cannot be followed."""


def shown(value: float, code: str) -> str:
    """The number with all that its format adds; :class:`Unreadable` says why it cannot be told."""
    if code.strip().lower() in _GENERAL:
        return figures(value)
    before, places, after = _parts(_section(code, value))
    if "/" in places:
        return f"{before}{figures(value)}{after}"
    percent = "%" in before + after
    number = value * 100 if percent else value
    return f"{before}{_rounded(number, places, code)}{after}".strip()


def figures(value: float) -> str:
    """A number without a format, never with a power of ten."""
    if isinstance(value, int) or value == int(value):
        return str(int(value))
    text = f"{value:.{FIGURES}g}"
    return f"{value:.15f}".rstrip("0").rstrip(".") if "e" in text else text


def _section(code: str, value: float) -> str:
    """The part of the format that is for numbers such as this one."""
    bare = _SILENT.sub("", _SIGN.sub(lambda sign: f'"{sign[1]}"', code))
    if "[" in bare:
        raise Unreadable(f"Its format, {code}, cannot be followed.")
    sections = re.split(r';(?=(?:[^"]*"[^"]*")*[^"]*$)', bare)
    at = 1 if value < 0 else 2 if value == 0 else 0
    if at < len(sections) and at:
        return sections[at] if at == 2 or "-" in sections[at] or "(" in sections[at] else f"-{sections[at]}"
    return f"-{sections[0]}" if value < 0 else sections[0]


def _parts(section: str) -> tuple[str, str, str]:
    """What stands before the number, its places, and what stands after it."""
    quoted: list[str] = []

    def keep(found: re.Match[str]) -> str:
        quoted.append(found[1] if found[1] is not None else found[2])
        return chr(0xE000 + len(quoted) - 1)

    bare = _QUOTED.sub(keep, section)
    found = _PLACES.search(bare)
    around = [bare[: found.start()], bare[found.end() :]] if found else ["?", ""]
    if not found or any(not (mark in _PLAIN_MARKS or mark >= "\ue000") for mark in "".join(around)):
        raise Unreadable(f"Its format, {section}, cannot be followed.")
    before, after = ("".join(quoted[ord(mark) - 0xE000] if mark >= "\ue000" else mark for mark in part)
                     for part in around)  # fmt: skip
    return before, found[0], after


def _rounded(number: float, places: str, code: str) -> str:
    """The size of the number at the format's places, as long as nothing of it is hidden by them."""
    if places.endswith(","):
        raise Unreadable(f"Its format, {code}, shows thousands as ones.")
    whole, _, decimals = places.partition(".")
    text = f"{abs(number):.{len(decimals)}f}"
    if abs(float(text) - abs(number)) > _HIDDEN * max(abs(number), _HIDDEN):
        raise Unreadable(f"It shows {text}, but it holds {figures(abs(number))}.")
    if set(decimals) == {"#"}:
        text = text.rstrip("0").rstrip(".")
    padding = whole.count("0") - len(text.partition(".")[0])
    return "0" * padding + text

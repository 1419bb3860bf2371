"""``::: country uk eu`` … ``:::`` round lines, and ``{{country uk eu}}…{{/country}}`` in a line: for those rule sets alone.

For what a figure or a word cannot say: another law, another paper, another order of work. What is another
country's leaves no trace, so a list stays a list and mistakes keep their line.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from calculators.core.rules import RULE_SETS
from tools.problems import nearest

from .tree import CLOSE, OPEN, Report

Line = tuple[int, str]
INLINE = re.compile(r"\{\{\s*country\b([^{}]*)\}\}((?:(?!\{\{\s*/?country\b).)*)\{\{\s*/country\s*\}\}")
STRAY = re.compile(r"\{\{\s*/?country\b")


@dataclass(frozen=True)
class _Open:
    """A block that is open: its line, whether its text is read here, and whether it is one of these."""

    line: int
    read: bool = True
    ours: bool = False


def kept(lines: Iterable[Line], ours: str, report: Report) -> list[Line]:
    """The lines of a page that the rule set ``ours`` reads, with their numbers."""
    out: list[Line] = []
    stack: list[_Open] = []
    for number, text in lines:
        read_here = all(each.read for each in stack)
        opened = OPEN.match(text)
        if opened and opened.group(1) == "country":
            stack.append(_Open(number, ours in _sets(opened.group(2), number, report), ours=True))
            continue
        if opened:
            stack.append(_Open(number))
        elif CLOSE.match(text) and stack and stack.pop().ours:
            continue
        if read_here:
            out += _inline(number, text, ours, report)
    for each in stack:
        if each.ours:
            report(each.line, "The block “country” is never closed.", "Add a line “:::” after it.")
    return out


def text(source: str, ours: str) -> str:
    """A page's text as a rule set reads it, for whoever reads pages without blocks; mistakes are told by a build."""
    return "\n".join(line for _, line in kept(enumerate(source.split("\n")), ours, lambda *_: None))


def _inline(number: int, text: str, ours: str, report: Report) -> list[Line]:
    def put(found: re.Match[str]) -> str:
        return found.group(2) if ours in _sets(found.group(1), number, report) else ""

    made = INLINE.sub(put, text)
    if STRAY.search(made):
        report(number, "A {{country …}} and its {{/country}} do not stand in one line.",
               "Write {{country uk eu}}Words.{{/country}}, or a block “::: country uk eu”.")  # fmt: skip
    return [] if made != text and not made.strip(" -*0123456789.") else [(number, made)]


def _sets(argument: str, number: int, report: Report) -> list[str]:
    named = argument.split()
    for each in named or [""]:
        if each not in RULE_SETS:
            report(number, f"There is no rule set “{each}” for “country”.", nearest(each, list(RULE_SETS)))
    return named

"""Reads ``::: name argument`` … ``:::`` blocks into a tree, keeping line numbers."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

OPEN = re.compile(r"^ {0,3}:::\s*([A-Za-z][\w-]*)\s*(.*?)\s*$")
CLOSE = re.compile(r"^ {0,3}:::\s*$")
STRAY = re.compile(r"^ {0,3}::+")
FENCE = re.compile(r"^ {0,3}(```+|~~~+)")

Report = Callable[[int, str, str], None]


@dataclass
class Node:
    """One block. ``body`` holds (line number, text) pairs and nested blocks in order."""

    name: str
    argument: str
    line: int
    body: list[tuple[int, str] | Node] = field(default_factory=list)

    def lines(self) -> list[tuple[int, str]]:
        """The body's own lines that are not empty."""
        return [each for each in self.body if isinstance(each, tuple) and each[1].strip()]

    def children(self) -> list[Node]:
        """The nested blocks."""
        return [each for each in self.body if isinstance(each, Node)]


def read(lines: list[str], first: int, report: Report) -> Node:
    """The page as a root node; ``report(line, what, mend)`` is told of every mistake."""
    return numbered(enumerate(lines, first), first, report)


def numbered(lines: Iterable[tuple[int, str]], first: int, report: Report) -> Node:
    """The same of lines that bring their numbers, where some were left out."""
    root = Node("page", "", first)
    stack = [root]
    fence = ""
    for number, text in lines:
        fence = _fence(text, fence)
        opened = None if fence else OPEN.match(text)
        if opened:
            node = Node(opened.group(1), opened.group(2), number)
            stack[-1].body.append(node)
            stack.append(node)
        elif not fence and CLOSE.match(text):
            _close(stack, number, report)
        else:
            if not fence and STRAY.match(text):
                report(number, f"“{text.strip()}” neither opens nor closes a block.",
                       "Write “::: name” to open one and “:::” alone to close it.")  # fmt: skip
            stack[-1].body.append((number, text))
    for node in stack[1:]:
        report(node.line, f"The block “{node.name}” is never closed.", "Add a line “:::” after it.")
    return root


def _fence(text: str, fence: str) -> str:
    found = FENCE.match(text)
    if not found:
        return fence
    if not fence:
        return found.group(1)
    return "" if text.strip().startswith(fence) else fence


def _close(stack: list[Node], number: int, report: Report) -> None:
    if len(stack) == 1:
        report(number, "“:::” closes a block, but none is open.", "Take the line out, or open one.")
    else:
        stack.pop()

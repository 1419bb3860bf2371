"""``key: value`` lines of a block; as in all of Markdown, ``&amp;`` is a sign of its own."""

from __future__ import annotations

from html import unescape
from typing import TYPE_CHECKING

from .tree import Node

if TYPE_CHECKING:
    from . import Drawer


def read_options(node: Node, drawer: Drawer) -> dict[str, tuple[int, str]]:
    """The options with their lines; anything else in the body is a mistake."""
    options: dict[str, tuple[int, str]] = {}
    for child in node.children():
        drawer.report(child.line, f"A block “{node.name}” holds no other block.", "Move it out.")
    for line, text in node.lines():
        key, colon, value = text.partition(":")
        if not colon:
            drawer.report(line, f"“{text.strip()}” is not an option.", "Write “key: value”.")
        elif key.strip() in options:
            drawer.report(line, f"“{key.strip()}” is given twice.", "Take one out.")
        else:
            options[key.strip()] = (line, unescape(value.strip()))
    return options


def no_argument(node: Node, drawer: Drawer) -> None:
    """Report an argument where the block takes none."""
    if node.argument:
        drawer.report(node.line, f"The block “{node.name}” takes nothing after its name.",
                      f"Take out “{node.argument}”.")  # fmt: skip

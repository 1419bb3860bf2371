"""The menu: every page stands where it says of itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

# The headings in their order; those that an operator's own pages bring along follow.
HEADINGS = (
    ("Do the job", "Decide"), ("Do the job", "Arrive and stand"), ("Do the job", "Power"), ("Do the job", "Money"),
    ("Do the job", "Goods"), ("Do the job", "Open and keep"), ("Work it out",), ("Stay safe",), ("Look up",),
    ("Our sites",), ("Learn",),
)  # fmt: skip
LAST = 999
APART = " / "
MOST = 40  # pages of one kind in the menu; each of them carries it


@dataclass(frozen=True)
class Line:
    """A page's line in the menu: the headings over it, its place among them, and what it is called.

    ``listed`` is the page that lists all of its kind: where these are many, it alone stands in the menu.
    """

    path: str
    headings: tuple[str, ...]
    label: str
    order: float = LAST
    listed: str = ""


class NotALine(ValueError):
    """A page's front matter gives no place in the menu; the text says what to write."""


def line(path: str, meta: Mapping[str, Any]) -> Line:
    """A page's line by its own front matter; raises :class:`NotALine`."""
    menu, order = meta.get("menu"), meta.get("order", LAST)
    if not isinstance(menu, str) or not menu.strip():
        raise NotALine("Name the heading that leads to it, such as `menu: Look up`, in its front matter.")
    if isinstance(order, bool) or not isinstance(order, (int, float)):
        raise NotALine("Write `order` as a number, such as `order: 30`.")
    headings = tuple(each.strip() for each in menu.split(APART.strip()))
    return Line(path, headings, str(meta.get("label") or meta.get("title") or path), order)


def apart(lines: Iterable[Line]) -> dict[str, str]:
    """The pages for which the menu has no room, each with the page that lists it."""
    listed = {each.path: each.listed for each in lines if each.listed}
    many = Counter(listed.values())
    return {path: index for path, index in listed.items() if many[index] > MOST}


def navigation(lines: Iterable[Line], home: str) -> list[dict[str, Any]]:
    """The menu as nested lists: plain labels, each with a page or the list beneath it."""
    known = {headings: place for place, headings in enumerate(HEADINGS)}
    lines = list(lines)
    left = apart(lines)
    tree: dict[str, Any] = {}
    for each in sorted((each for each in lines if each.path not in left), key=lambda line: (known.get(line.headings, LAST), line.order)):
        branch = tree
        for heading in each.headings:
            branch = branch.setdefault(heading, {})
        branch[each.path] = each.label
    return [{"Home": home}, *_nested(tree)]


def _nested(tree: Mapping[str, Any]) -> list[dict[str, Any]]:
    return [{each: path} if isinstance(each, str) else {path: _nested(each)}
            for path, each in tree.items()]  # fmt: skip

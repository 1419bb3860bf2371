"""Finished HTML in the source of a page made from data: set aside while Markdown is read, and put back as it was.

Markdown would leave it as it is, but only after it had been taken apart twice, tag by tag: a sheet has a thousand tags
and a dozen lines of Markdown. Only what Markdown certainly leaves alone is set aside: a line by itself of whole
elements, one after the other, with nothing between them. Anything else is left for Markdown to read.
"""

from __future__ import annotations

import re

# A sign that no text of ours may hold (tools/book/letters.py), and that Markdown gives no meaning to.
PLACE = "\ufdd0{}\ufdd1"
PLACED = re.compile("<p>\ufdd0(\\d+)\ufdd1</p>|\ufdd0(\\d+)\ufdd1")
ELEMENT = re.compile(r"<(article|aside|div|dl|figure|h[1-6]|ol|p|section|table|ul)(?=[ >])")
IDENT = re.compile(r"<[^<>]* id=\"([^\"]+)\"")


def set_aside(markdown: str) -> tuple[str, list[str]]:
    """Return the source with a place for each line of finished HTML, and those lines."""
    lines, found = markdown.split("\n"), list[str]()
    if PLACE[0] in markdown:
        return markdown, found
    for at, line in enumerate(lines):
        alone = line.startswith("<") and not "".join(lines[max(at - 1, 0) : at] + lines[at + 1 : at + 2]).strip()
        if alone and " markdown" not in line and (elements := _elements(line)):
            lines[at] = PLACE.format(len(found))
            found.append("\n".join(elements))
    return "\n".join(lines), found


def put_back(content: str, aside: list[str]) -> str:
    """Return a page's HTML with what was set aside, as Markdown would have left it."""
    return PLACED.sub(lambda place: aside[int(place[1] or place[2])] + "\n", content) if aside else content


def idents(aside: list[str]) -> set[str]:
    """What of it can be linked to."""
    return {found for line in aside for found in IDENT.findall(line)}


def _elements(line: str) -> list[str]:
    """The elements that a line is made of; none where there is anything else in it."""
    found, place = list[str](), 0
    while place < len(line):
        element = ELEMENT.match(line, place)
        end = _end(line, element[1], place) if element else 0
        if not end:
            return []
        found.append(line[place:end])
        place = end
    return found


def _end(line: str, name: str, place: int) -> int:
    """Where the element ends that begins at a place; 0 where it does not."""
    depth = 0
    for tag in _tags(name).finditer(line, place):
        depth += -1 if tag[0].startswith("</") else 1
        if not depth:
            return tag.end()
    return 0


def _tags(name: str) -> re.Pattern[str]:
    return re.compile(rf"<{name}(?=[ >])|</{name}>")

"""A cell's way into each medium: what it holds is text there, whatever it looks like.

Cells, settings and own figures are plain text in the book, on one line and free of what
:mod:`tools.book.letters` refuses. Whoever writes one into something that reads signs takes the
function of that medium from here; a page's own elements are written by ``html.escape`` as well.
"""

from __future__ import annotations

import json
import re
from html import escape
from typing import Any

# All that Markdown, its extensions and our blocks could take for a sign. Letters, digits, blanks and what no
# reader of marks looks at stay as they are, so that a page's source can be read.
SIGN = re.compile(r"[^\w\s,;/%°’“”–…]|_", re.ASCII)
# What ends a string of CSS, or an element that holds one.
_STYLE = re.compile(r"[^\w ,;:()–…]", re.ASCII)
# In JSON these stand in texts alone. "</script>" ends a script and "<!--<script" begins one in it.
_ISLAND = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}


def line(cell: str) -> str:
    """A cell on one line, as plain text."""
    return " ".join(cell.split())


def markdown(cell: str) -> str:
    """A cell as a piece of a line of Markdown: every sign as a character reference."""
    return SIGN.sub(lambda found: f"&#{ord(found.group())};" if found.group().isascii() else found.group(), line(cell))


def html(cell: str) -> str:
    """A cell as a piece of HTML, in an element or an attribute."""
    return escape(line(cell))


def css(cell: str) -> str:
    """A cell as a string of CSS, with its quotes."""
    return '"' + _STYLE.sub(lambda found: f"\\{ord(found.group()):x} ", line(cell)) + '"'


def island(value: Any) -> str:
    """Any value as JSON inside a script element, which may hold a text that looks like that element's end."""
    return json.dumps(value, ensure_ascii=False, sort_keys=True).translate(_ISLAND)

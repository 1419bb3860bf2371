"""A cell's way into a page: what it holds is text there, whatever it looks like."""

from __future__ import annotations

import re
from html import escape

# All that Markdown, its extensions and our blocks could take for a sign. Letters, digits, blanks and what no
# reader of marks looks at stay as they are, so that a page's source can be read.
SIGN = re.compile(r"[^\w\s,;/%°’“”–…]|_", re.ASCII)


def markdown(cell: str) -> str:
    """A cell as a piece of a line of Markdown: every sign as a character reference, on one line."""
    line = " ".join(cell.split())
    return SIGN.sub(lambda found: f"&#{ord(found.group())};" if found.group().isascii() else found.group(), line)


def html(cell: str) -> str:
    """A cell as a piece of HTML, in an element or an attribute."""
    return escape(" ".join(cell.split()))

"""The place of a page in the handbook, on each link to it: printed, a link is only a name."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Mapping
from html import escape

_LINK = re.compile(r'<a href="([^"#:]+)(#[^"]*)?"')


def mark(html: str, folder: str, parts: Mapping[str, str | None]) -> str:
    """Return the page with ``data-place`` on its links; ``parts`` is address → title of the part."""

    def marked(link: re.Match[str]) -> str:
        part = parts.get(posixpath.normpath(posixpath.join(folder, link[1])))
        return f'<a data-place="{escape(part)}"{link[0][2:]}' if part else link[0]

    return _LINK.sub(marked, html)

"""Where links lead: the place of a page in the handbook, for paper; and no link to a page that was left out."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Collection, Mapping
from html import escape

_MARKDOWN = re.compile(r"\[([^\]\n]*)\]\(([^)\s#:]+)(?:#[^)\s]*)?\)")
_LINK = re.compile(r'<a href="([^"#:]+)(#[^"]*)?"')


def mark(html: str, folder: str, parts: Mapping[str, str | None]) -> str:
    """Return the page with ``data-place`` on its links; ``parts`` is address → title of the part."""

    def marked(link: re.Match[str]) -> str:
        part = parts.get(posixpath.normpath(posixpath.join(folder, link[1])))
        return f'<a data-place="{escape(part)}"{link[0][2:]}' if part else link[0]

    return _LINK.sub(marked, html)


def without(markdown: str, folder: str, left_out: Collection[str]) -> str:
    """Return a page's text where links to pages that are left out are their words alone."""

    def told(link: re.Match[str]) -> str:
        return link[1] if posixpath.normpath(posixpath.join(folder, link[2])) in left_out else link[0]

    return _MARKDOWN.sub(told, markdown) if left_out else markdown

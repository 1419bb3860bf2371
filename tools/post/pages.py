"""The pages of a built site as text, and small edits of their tags.

Pages are edited tag by tag and otherwise kept to the letter, so that what the theme
wrote, and the hash of every inline script, stays what it was.
"""

from __future__ import annotations

import html
import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

ATTRIBUTES = r"(?:[^\"'>]|\"[^\"]*\"|'[^']*')*"
# A comment, an element whose content is not HTML, or a start tag.
TOKEN = re.compile(
    rf"<!--(?:-?>|.*?(?:--!?>|\Z))|(<(script|style|textarea)\b{ATTRIBUTES}>)(.*?)</\2\s*>|<([a-zA-Z][\w:-]*){ATTRIBUTES}>",
    re.DOTALL | re.IGNORECASE,
)
ATTRIBUTE = re.compile(
    r"([^\s\"'>/=]+)(?:\s*=\s*(?:\"([^\"]*)\"|'([^']*)'|([^\s\"'>]+)))?",
)
NAMED = re.compile(r"<([a-zA-Z][\w:-]*)")
CONFIG = re.compile(r'(<script id="__config"[^>]*>)(.*?)(</script>)', re.DOTALL)

Attributes = dict[str, str | None]
"""A tag's attributes in order; None is an attribute without a value."""


@dataclass
class Tag:
    """One start tag. ``body`` is the text of a script or style element, else None."""

    name: str
    attributes: Attributes
    body: str | None = None
    closed: bool = False

    def __str__(self) -> str:
        written = "".join(
            f" {name}" if value is None else f' {name}="{html.escape(value)}"'
            for name, value in self.attributes.items()
        )
        # SVG depends on the stroke: without it the next element would be inside.
        return f"<{self.name}{written}{' />' if self.closed else '>'}"


Change = Callable[[Tag], str | None]
"""Changes a tag in place, or returns what stands instead of the whole element."""


def edit(text: str, changes: Mapping[str, Change]) -> str:
    """Return the page with ``changes`` (by tag name, ``*`` for every tag) applied."""
    anything = changes.get("*")

    def replace(match: re.Match[str]) -> str:
        name = (match[2] or match[4] or "").lower()
        change = changes.get(name, anything)
        return apply(match, change) if name and change else match[0]

    return TOKEN.sub(replace, text)


def apply(match: re.Match[str], change: Change) -> str:
    """Return one element's new text; the old text to the letter if nothing changed."""
    start = match[1] or match[0]
    written = match[2] or match[4]  # a name of SVG may have capitals
    tag = Tag(written, attributes(start), match[3], start.endswith("/>"))
    before = dict(tag.attributes)
    instead = change(tag)
    if instead is not None:
        return instead
    rest = match[0][len(start) :]
    return match[0] if tag.attributes == before else f"{tag}{rest}"


def attributes(start: str) -> Attributes:
    """Read the attributes of a start tag, as they are written."""
    return dict(attribute_pairs(start))


@lru_cache(maxsize=50_000)
def attribute_pairs(start: str) -> tuple[tuple[str, str | None], ...]:
    """Read the attributes of a start tag; the same tags stand on a thousand pages."""
    inside = re.sub(r"^<[^\s/>]+|/?>$", "", start)
    return tuple(
        (match[1], next((html.unescape(v) for v in match.groups()[1:] if v is not None), None))
        for match in ATTRIBUTE.finditer(inside)
    )


def tags(text: str, part: str = "") -> Iterator[Tag]:
    """Yield every start tag of a page, or those with ``part`` in their names."""
    for match in TOKEN.finditer(text):
        if (name := (match[2] or match[4] or "").lower()) and part in name:
            yield Tag(name, attributes(match[1] or match[0]), match[3])


def starts(text: str) -> Iterator[str]:
    """Yield the text of every start tag of a page."""
    return (match[1] or match[0] for match in TOKEN.finditer(text) if match[2] or match[4])


def tag_of(start: str) -> Tag:
    """Return a start tag by its text, without what a script or a style element holds."""
    named = NAMED.match(start)
    return Tag(named[1].lower() if named else "", attributes(start))


def all_pages(site: Path) -> list[Path]:
    """Return the site's pages in a fixed order."""
    return sorted(site.rglob("*.html"))


def read(path: Path) -> str:
    """Return a page's text with line ends as a browser sees them: it hashes after that."""
    return path.read_text(encoding="utf-8")


def write(path: Path, text: str) -> None:
    """Write text with the same bytes on every system."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")


def config(text: str) -> dict[str, object] | None:
    """Return the theme's settings in a page; None in a page that is not the theme's."""
    match = CONFIG.search(text)
    return json.loads(match[2]) if match else None


def with_config(text: str, settings: Mapping[str, object]) -> str:
    """Return the page with other theme settings."""
    written = json.dumps(settings, ensure_ascii=False).replace("<", "\\u003c")
    return CONFIG.sub(lambda match: f"{match[1]}{written}{match[3]}", text, count=1)


def root(text: str) -> str:
    """Return the way from a theme page to the site's root, to put before a path.

    The theme knows it: the page for wrong addresses is served at any depth and so
    has an absolute one.
    """
    base = str((config(text) or {}).get("base", "."))
    return "" if base == "." else base.rstrip("/") + "/"


def before(text: str, mark: str, addition: str) -> str:
    """Return the page with ``addition`` before the last ``mark``."""
    head, found, tail = text.rpartition(mark)
    return f"{head}{addition}{found}{tail}" if found else text

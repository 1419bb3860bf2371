"""Turns a page of the folder into one of the one file: its links lead within the file, its parts are put into slots."""

from __future__ import annotations

import base64
import posixpath
import re
from collections.abc import Iterator
from html import escape, unescape
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import unquote

from tools.post import pages
from tools.problems import Problem, Problems

if TYPE_CHECKING:
    from .whole import Carried

SLOT = "\ue000"
MARK = "#!/"
ELSEWHERE = "in the folder edition"
POLICY = re.compile(r'\s*<meta http-equiv="Content-Security-Policy"[^>]*>')
LINK = re.compile(rf"<a\b{pages.ATTRIBUTES}>(.*?)</a>", re.DOTALL)
# By themselves and not by the machine's list: the file is the same wherever it is made.
KINDS = {".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".gif": "image/gif", ".webp": "image/webp",
         ".svg": "image/svg+xml", ".avif": "image/avif"}  # fmt: skip
# Put off by the browser until the page is read: here at the page's end.
LATE = "defer"
BEFORE = ("late: page read", "HandbookWhole.late(true);")
AFTER = ("late: over", "HandbookWhole.late(false);")
PLAIN = """<!doctype html><html lang="{lang}"><head><meta name="viewport" content="width=device-width,initial-scale=1">
<title>{title}</title></head><body><p><a href="{back}">{back_title}</a></p><pre>{text}</pre></body></html>
"""


def texts(site: Path) -> Iterator[tuple[str, str]]:
    """Yield each page of a folder by its path, and each plain text as a page."""
    for path in pages.all_pages(site):
        yield path.relative_to(site).as_posix(), pages.read(path)
    home = pages.read(site / "index.html")
    for path in sorted(site.rglob("*.txt")):
        name = path.relative_to(site).as_posix()
        back = posixpath.relpath("reference/licenses.html", posixpath.dirname(name) or ".")
        yield name, PLAIN.format(lang=language(home), title=escape(name), back=back, back_title="Licenses",
                                 text=escape(pages.read(path)))  # fmt: skip


def page(text: str, name: str, carried: Carried) -> str:
    """Return a page as the one file carries it. Problems where it holds a slot's sign already."""
    if SLOT in text:
        raise Problems([Problem(name, "", f"The page holds the sign U+{ord(SLOT):X}.", "Take it out of the sources.")])
    here = Here(name, carried)
    text = LINK.sub(here.elsewhere, POLICY.sub("", text))
    text = pages.edit(text, {"a": here.link, "area": here.link, "script": here.script, "link": here.sheet, "img": here.picture})
    # An element of a script leaves its closing tag behind nowhere: `edit` takes the whole of it.
    return pages.before(text, "</body>", here.late()) if here.put_off else text


class Here:
    """The edits of one page."""

    def __init__(self, name: str, carried: Carried) -> None:
        self.name = name
        self.carried = carried
        self.site = carried.site
        self.put_off: list[str] = []

    def file(self, address: str) -> str:
        """The path in the site of an address in the page; "" where it is none of the site's, or the page itself."""
        path = unquote(re.sub(r"[?#].*", "", address, flags=re.DOTALL))
        if not path or re.match(r"[a-z][a-z0-9+.-]*:|//", path, re.IGNORECASE):
            return ""
        # The page for wrong addresses names its files from the server's root.
        found = posixpath.normpath(posixpath.join("" if path.startswith("/") else posixpath.dirname(self.name), path.lstrip("/")))
        return found if (self.site / found).is_file() else ""

    def link(self, tag: pages.Tag) -> None:
        """Lead to the page within the file."""
        address = tag.attributes.get("href") or ""
        if file := self.file(address):
            rest = re.sub(r"^[^?#]*", "", address)
            tag.attributes["href"] = f"{MARK}{file}{rest}"

    def elsewhere(self, match: re.Match[str]) -> str:
        """Say of a link to what is not carried where it is to be found."""
        tag = next(iter(pages.tags(match[0])))
        file = self.file(tag.attributes.get("href") or "")
        if not file or file.endswith((".html", ".txt")):
            return match[0]
        return f"<span>{match[1]} <em>({ELSEWHERE})</em></span>"

    def script(self, tag: pages.Tag) -> str | None:
        """Put a slot in its place; one that a browser puts off comes at the end."""
        address = tag.attributes.get("data-theme") or tag.attributes.get("src")
        if address is None:
            return None
        file = self.file(address)
        if file in self.carried.unrun:
            return ""
        made = slot(self.carried.script(file))
        if LATE not in tag.attributes:
            return made
        self.put_off.append(made)
        return ""

    def late(self) -> str:
        """The scripts that were put off, to which the page is read to its end."""
        return slot(self.carried.inline(*BEFORE)) + "".join(self.put_off) + slot(self.carried.inline(*AFTER))

    def sheet(self, tag: pages.Tag) -> str:
        """Put a slot in the place of a style sheet or the page's sign; nothing else is linked to."""
        file = self.file(tag.attributes.get("href") or "")
        if tag.attributes.get("rel") == "stylesheet":
            return slot(self.carried.style(file))
        return f'<link rel="icon" href="{slot(self.carried.picture(file))}">' if tag.attributes.get("rel") == "icon" else ""

    def picture(self, tag: pages.Tag) -> None:
        """Put a slot in the place of its address."""
        if file := self.file(tag.attributes.get("src") or ""):
            tag.attributes["src"] = slot(self.carried.picture(file))


def slot(name: str) -> str:
    """What whole.js puts a piece in the place of."""
    return f"{SLOT}{name}{SLOT}"


def data_address(path: Path) -> str:
    """A file as an address that holds it."""
    kind = KINDS.get(path.suffix.lower(), "application/octet-stream")
    return f"data:{kind};base64,{base64.b64encode(path.read_bytes()).decode()}"


def title(text: str) -> str:
    """What a page is called."""
    found = re.search(r"<title>(.*?)</title>", text, re.DOTALL)
    return unescape(found[1]) if found else "Handbook"


def language(text: str) -> str:
    """The language that a page says it is in."""
    tag = next((each for each in pages.tags(text) if each.name == "html"), None)
    return (tag and tag.attributes.get("lang")) or "en"

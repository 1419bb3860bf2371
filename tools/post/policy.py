"""Gives every page a policy: nothing comes from or goes to anywhere but the handbook.

It lists the hash of each script of ours that stands in the page; a script that is on no list of ours has
none, so that a browser would refuse it, and the build stops. Styles stand in files alone.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from tools.problems import Problem

from . import pages

DIRECTIVES = (
    "default-src 'none'; script-src {scripts}; style-src 'self'; img-src 'self' data:; "
    "font-src 'self'; connect-src 'self'; worker-src 'self' blob:; manifest-src 'self'; "
    "base-uri 'none'; form-action 'none'"
)
MARK = '<meta http-equiv="Content-Security-Policy"'
CHARSET = '<meta charset="utf-8">'
# The character set must stand in a page's first 1,024 bytes; the policy may be long.
HEAD = re.compile(r"<head[^>]*>", re.IGNORECASE)
ANY_CHARSET = re.compile(r"""\s*<meta charset=["']?[\w-]+["']?\s*/?>""", re.IGNORECASE)
OWN_HASHES = re.compile(rf"{MARK} content=\"[^\"]*?script-src ([^;\"]*)")
# The one kind of script element that a browser does not run, whatever it holds.
DATA = "application/json"
# Where a script of ours may lie; what lies there is on the list of files, or was put there by the build.
SCRIPT_FILE = re.compile(r"(?!//)[\w./~%-]+\.js")
RUN = (".js", ".mjs", ".cjs")
# Other kinds of files that a browser runs scripts in; ours are pages, which have a policy.
DOCUMENTS = (".htm", ".xhtml", ".xht", ".shtml", ".mhtml", ".xml", ".xsl")
ADDRESSES = ("href", "xlink:href", "src", "action", "formaction", "data", "poster", "cite", "ping", "srcdoc",
             "to", "from", "values", "by", "background", "longdesc", "srcset")  # fmt: skip
_SCRIPT_ADDRESS = re.compile(r"(?:javascript|vbscript|livescript|data:text/html)", re.IGNORECASE)
_UNSEEN = re.compile(r"[\x00-\x20\x7f-\xa0\u200b-\u200f\u2028\u2029\ufeff]+")
WINDOWS = ("iframe", "frame", "frameset", "object", "embed", "applet", "portal", "base", "fencedframe", "foreignobject")


@dataclass(frozen=True)
class Ours:
    """The scripts that a page may run, made from the sources of the house.

    ``inline`` is the text of each that a template writes into a page; ``files`` the SHA-256 of each file.
    """

    inline: frozenset[str]
    files: frozenset[str] = frozenset()

    @property
    def mark(self) -> str:
        """What names the scripts that may stand in a page."""
        return hashlib.sha256("\0".join(sorted(self.inline)).encode()).hexdigest()[:16]


def page(text: str, ours: Ours) -> str:
    """Return a page under the policy."""
    head, policed = f"{CHARSET}\n    {meta(text, ours)}", ANY_CHARSET.sub("", text, count=1)
    return HEAD.sub(lambda match: f"{match[0]}\n    {head}", policed, count=1)


def meta(text: str, ours: Ours) -> str:
    """Return the policy tag of a page."""
    sources = ["'self'", *sorted(hashes(text, ours.inline)), "'wasm-unsafe-eval'"]
    return f'{MARK} content="{DIRECTIVES.format(scripts=" ".join(sources))}">'


def hashes(text: str, inline: Collection[str]) -> set[str]:
    """Return the policy's source for each script in a page that is one of ours."""
    return {source(body) for tag in pages.tags(text, "script") if is_inline(tag) and (body := tag.body or "") in inline}


def source(body: str) -> str:
    """Return what the policy calls a script by."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(body.encode()).digest()).decode()}'"


def is_script(tag: pages.Tag) -> bool:
    """Tell whether a tag is a script of HTML or of a drawing; data blocks are none."""
    kind = (tag.attributes.get("type") or "").strip().lower()
    return tag.name.lower().rpartition(":")[2] == "script" and (kind != DATA or bool(_loaded(tag)))


def is_inline(tag: pages.Tag) -> bool:
    """Tell whether a tag is a script that runs what stands in it."""
    return is_script(tag) and not _loaded(tag)


def _loaded(tag: pages.Tag) -> list[str]:
    """Return the addresses that a script element names."""
    return [value or "" for name, value in tag.attributes.items() if name.lower() in ("src", "href", "xlink:href")]


def strangers(site: Path, ours: Ours) -> Iterator[Problem]:
    """Yield a problem for each file that is a script, or can hold one, and none of ours.

    ``site`` is as the site generator left it: what is added later is made by us.
    """
    for path in sorted(path for path in site.rglob("*") if path.is_file()):
        name, kind = path.relative_to(site).as_posix(), path.suffix.lower()
        if kind in RUN and hashlib.sha256(path.read_bytes()).hexdigest() not in ours.files:
            yield Problem(name, "", "It is a script, and none of the handbook's.", "Take the file out of the sources.")
        elif kind in DOCUMENTS and name != "sitemap.xml":
            yield Problem(name, "", "A browser could run scripts in such a file.", "Write a page in Markdown instead.")
        elif kind == ".svg":
            text = path.read_text(encoding="utf-8", errors="replace")
            yield from (Problem(name, f"<{tag.name}>", *told) for tag in pages.tags(text) for told in active(tag, ()))


def refused(text: str, file: str) -> list[Problem]:
    """Return what the policy would stop in a page: it would silently not work."""
    found = []
    if MARK not in text:
        found.append(Problem(file, "head", "The page has no policy.", "Build it again."))
    own = OWN_HASHES.search(text)
    allowed = own[1].split() if own else []
    for tag in pages.tags(text, "script"):
        found += [Problem(file, f"<{tag.name}>", what, mend) for what, mend in faults(tag, allowed)]
    for start in dict.fromkeys(pages.starts(text)):
        found += [Problem(file, *told) for told in _of_start(start)]
    return found


@lru_cache(maxsize=50_000)
def _of_start(start: str) -> tuple[tuple[str, str, str], ...]:
    """The faults of a start tag that is no script's: the same tags stand on a thousand pages."""
    tag = pages.tag_of(start)
    return () if "script" in tag.name else tuple((f"<{tag.name}>", *told) for told in faults(tag))


def faults(tag: pages.Tag, allowed: Collection[str] = ()) -> list[tuple[str, str]]:
    """Return (what, mend) for each thing of a tag that the policy refuses; ``allowed`` are its hashes."""
    found = []
    if tag.name.lower() == "style" or "style" in (name.lower() for name in tag.attributes):
        found.append(("An inline style is refused.", "Use a class."))
    return found + active(tag, allowed) + outside(tag)


def active(tag: pages.Tag, allowed: Collection[str]) -> list[tuple[str, str]]:
    """Return a fault for each thing of a tag that would run, or show another page."""
    found = []
    name = tag.name.lower()
    if is_inline(tag) and source(tag.body or "") not in allowed:
        found.append((f"A script is refused: {_short(tag.body or '')}", "Take it out: pages hold no scripts of their own."))
    if is_script(tag) and not all(SCRIPT_FILE.fullmatch(address) for address in _loaded(tag)):
        found.append((f"A script is refused: {', '.join(_loaded(tag))}", "Take it out: pages load no scripts of their own."))
    if name in WINDOWS or (name == "meta" and tag.attributes.get("http-equiv") not in (None, "Content-Security-Policy")):
        found.append((f"<{tag.name}> is refused.", "Link to the page instead."))
    for attribute, value in tag.attributes.items():
        if attribute.lower().startswith("on"):
            found.append((f"{attribute} is refused.", "Listen from a script file."))
        if attribute.lower() in ADDRESSES and _SCRIPT_ADDRESS.match(_UNSEEN.sub("", value or "")):
            found.append(("A script as an address is refused.", "Use a button and a script file."))
    return found


def _short(body: str) -> str:
    line = " ".join(body.split())
    return line if len(line) <= 60 else f"{line[:60]}…"


def outside(tag: pages.Tag) -> list[tuple[str, str]]:
    """Return a fault if a tag loads something from another place."""
    loads = tag.name == "link" and tag.attributes.get("rel") in ("stylesheet", "icon", "preload")
    address = tag.attributes.get("href" if loads else "src") or ""
    if re.match(r"(?:[a-z]+:)?//", address):
        return [(f"{address} is loaded from the network.", "Keep a copy in docs/assets.")]
    return []

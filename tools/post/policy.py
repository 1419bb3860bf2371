"""Gives every page a policy: nothing comes from or goes to anywhere but the handbook.

The policy lists the hash of each inline script of its page (the theme has three, which
differ with the folder's depth) and refuses inline styles, so those are moved into files.
"""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import dataclass, field
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
SCRIPT_TYPES = ("", "module", "text/javascript", "application/javascript")
STYLES = "assets/css/moved-styles.css"


@dataclass
class Moved:
    """Styles taken out of the pages, gathered for one file."""

    rules: dict[str, str] = field(default_factory=dict)

    def keep(self, css: str) -> None:
        """Add CSS text once."""
        self.rules.setdefault(digest(css), css.strip())

    def class_of(self, declarations: str) -> str:
        """Keep one style attribute's text; return the class that stands for it.

        The class is written three times in its rule: an attribute outdoes any ordinary
        selector, and a script may still outdo this.
        """
        name = f"moved-{digest(declarations)}"
        self.rules.setdefault(name, f"{('.' + name) * 3} {{ {declarations.strip()} }}")
        return name

    def write(self, site: Path) -> None:
        """Write the file, if anything was moved."""
        if self.rules:
            pages.write(site / STYLES, "\n".join(self.rules.values()) + "\n")


def page(text: str, moved: Moved, root: str) -> str:
    """Return a page under the policy, its inline styles moved into ``moved``."""
    text = without_styles(text, moved, root)
    head, policed = f"{CHARSET}\n    {meta(text)}", ANY_CHARSET.sub("", text, count=1)
    return HEAD.sub(lambda match: f"{match[0]}\n    {head}", policed, count=1)


def meta(text: str) -> str:
    """Return the policy tag of a page."""
    sources = ["'self'", *sorted(hashes(text)), "'wasm-unsafe-eval'"]
    return f'{MARK} content="{DIRECTIVES.format(scripts=" ".join(sources))}">'


def hashes(text: str) -> set[str]:
    """Return the policy's source for each inline script of a page."""
    bodies = (tag.body or "" for tag in pages.tags(text) if is_inline(tag))
    digests = (hashlib.sha256(body.encode()).digest() for body in bodies)
    return {f"'sha256-{base64.b64encode(digest).decode()}'" for digest in digests}


def is_inline(tag: pages.Tag) -> bool:
    """Tell whether a tag is a script that runs what stands in it; data blocks do not."""
    kind = (tag.attributes.get("type") or "").lower()
    return tag.name == "script" and "src" not in tag.attributes and kind in SCRIPT_TYPES


def without_styles(text: str, moved: Moved, root: str) -> str:
    """Return a page whose style elements and attributes are in the file of moved ones."""
    count = 0

    def take(tag: pages.Tag) -> str | None:
        nonlocal count
        if tag.name.lower() == "style":
            count += 1
            moved.keep(tag.body or "")
            return ""
        if "style" in tag.attributes:
            count += 1
            style = tag.attributes.pop("style") or ""
            names = [tag.attributes.get("class"), moved.class_of(style)]
            tag.attributes["class"] = " ".join(name for name in names if name)
        return None

    text = pages.edit(text, {"*": take})
    link = f'<link rel="stylesheet" href="{root}{STYLES}">\n  '
    return text.replace("</head>", f"{link}</head>", 1) if count else text


def digest(text: str) -> str:
    """Return a short name for a text."""
    return hashlib.sha256(text.encode()).hexdigest()[:10]


def refused(text: str, file: str) -> list[Problem]:
    """Return what the policy would stop in a page: it would silently not work."""
    found = []
    if MARK not in text:
        found.append(Problem(file, "head", "The page has no policy.", "Build it again."))
    for tag in pages.tags(text):
        found += [Problem(file, f"<{tag.name}>", what, mend) for what, mend in faults(tag)]
    return found


def faults(tag: pages.Tag) -> list[tuple[str, str]]:
    """Return (what, mend) for each thing of a tag that the policy refuses."""
    found = []
    if tag.name == "style" or "style" in tag.attributes:
        found.append(("An inline style is refused.", "Use a class."))
    for name, value in tag.attributes.items():
        if name.lower().startswith("on"):
            found.append((f"{name} is refused.", "Listen from a script file."))
        if name in ("href", "action") and (value or "").lower().startswith("javascript:"):
            found.append(("A script as an address is refused.", "Use a button and a script file."))
    return found + outside(tag)


def outside(tag: pages.Tag) -> list[tuple[str, str]]:
    """Return a fault if a tag loads something from another place."""
    loads = tag.name == "link" and tag.attributes.get("rel") in ("stylesheet", "icon", "preload")
    address = tag.attributes.get("href" if loads else "src") or ""
    if re.match(r"(?:[a-z]+:)?//", address):
        return [(f"{address} is loaded from the network.", "Keep a copy in docs/assets.")]
    return []

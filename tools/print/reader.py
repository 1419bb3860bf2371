"""Takes a finished page apart into plain data that a booklet can lay out.

Blocks are dictionaries with a ``kind``; running text is a list of strings and of dictionaries
(``strong``, ``link`` …). An element that this does not know stops the build: what is in a
procedure must not get lost on its way to paper.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator
from typing import Any

from bs4 import BeautifulSoup, Tag
from bs4.element import Comment, NavigableString

Block = dict[str, Any]
Inline = list[Any]
HEADINGS = {"h1": 1, "h2": 2, "h3": 3, "h4": 4}
INLINE = {"strong": "strong", "b": "strong", "em": "emph", "i": "emph", "code": "code",
          "sup": "super", "sub": "sub"}  # fmt: skip
MARKED = {"hb-hint": "hint", "hb-reason": "reason"}
# Nothing to read on paper: marks of the theme, and what only works on a screen.
DROPPED = ("headerlink", "hb-foot", "hb-hazard", "md-button", "hb-no-paper")


class UnknownElement(ValueError):
    """An element of a page that a booklet cannot lay out."""


def own_part(html: str) -> str:
    """The part of a finished page that is the page's own, as it stands there."""
    start, end = html.find("<article"), html.rfind("</article>")
    if start < 0 or end < start:
        raise UnknownElement("the page has no article")
    return html[start:end] + "</article>"


def article(html: str) -> Tag:
    """The part of a finished page that is the page's own."""
    found = BeautifulSoup(html, "html.parser").select_one("article")
    if found is None:
        raise UnknownElement("the page has no article")
    return found


def read(html: str, path: str) -> list[Block]:
    """The blocks of a finished page; ``path`` is its place in the site, for its links.

    Raises :class:`UnknownElement`.
    """
    return list(_blocks(article(html), posixpath.dirname(path)))


def classes(tag: Tag) -> list[str]:
    """The classes of an element."""
    found: Any = tag.get("class") or []
    return [found] if isinstance(found, str) else list(found)


def is_dropped(tag: Tag) -> bool:
    """Whether paper has no use for it."""
    return any(name in classes(tag) for name in DROPPED)


def _blocks(parent: Tag, base: str) -> Iterator[Block]:
    """Blocks of an element; text that stands between them becomes a paragraph."""
    loose: list[Any] = []
    for child in parent.children:
        if isinstance(child, Comment) or (isinstance(child, Tag) and is_dropped(child)):
            continue
        maker = _maker(child) if isinstance(child, Tag) else None
        if maker is None or not isinstance(child, Tag):
            loose.append(child)
            continue
        yield from _paragraph(loose, base)
        loose = []
        yield from maker(child, base)
    yield from _paragraph(loose, base)


def _paragraph(children: list[Any], base: str) -> Iterator[Block]:
    text = _inline(children, base)
    if text:
        yield {"kind": "p", "text": text}


def _maker(tag: Tag) -> Callable[[Tag, str], Iterator[Block]] | None:
    names = classes(tag)
    by_class = {"hb-signal": _signal, "hb-calculator": _calculator, "hb-work": _calculator, "hb-steps": _steps,
                "hb-fault": _tree}
    for name, maker in by_class.items():
        if name in names:
            return maker
    if tag.name in HEADINGS:
        return _heading
    return {"p": _p, "ul": _list, "ol": _list, "table": _table, "figure": _figure, "div": _blocks,
            "dl": _definitions, "section": _blocks, "hr": _nothing, "nav": _nothing,
            "blockquote": _blocks, "details": _blocks, "summary": _p}.get(tag.name)  # fmt: skip


def _nothing(tag: Tag, base: str) -> Iterator[Block]:
    return iter(())


def _heading(tag: Tag, base: str) -> Iterator[Block]:
    yield {"kind": "heading", "level": HEADINGS[tag.name], "text": _inline(tag.children, base)}


def _p(tag: Tag, base: str) -> Iterator[Block]:
    text = _inline(tag.children, base)
    if text:
        yield {"kind": "why" if "hb-why" in classes(tag) else "p", "text": text}


def _list(tag: Tag, base: str) -> Iterator[Block]:
    items = [list(_blocks(item, base)) for item in tag.find_all("li", recursive=False)]
    yield {"kind": "numbers" if tag.name == "ol" else "bullets", "items": items}


def _definitions(tag: Tag, base: str) -> Iterator[Block]:
    pairs: list[Block] = []
    for child in tag.find_all(["dt", "dd"], recursive=False):
        if child.name == "dt":
            pairs.append({"term": _inline(child.children, base), "body": []})
        elif pairs:
            pairs[-1]["body"] += list(_blocks(child, base))
    yield {"kind": "terms", "items": pairs}


def _tree(tag: Tag, base: str) -> Iterator[Block]:
    yield {"kind": "tree", "blocks": list(_blocks(tag, base))}


def _signal(tag: Tag, base: str) -> Iterator[Block]:
    head, title = tag.select_one(".hb-signal-word strong"), tag.select_one(".hb-signal-title")
    body = [block for child in tag.find_all(True, recursive=False)
            if "hb-signal-word" not in classes(child) for block in _one(child, base)]  # fmt: skip
    yield {"kind": "signal", "word": head.get_text().strip() if head else "",
           "title": title.get_text().strip() if title else "", "body": body}  # fmt: skip


def _one(tag: Tag, base: str) -> list[Block]:
    maker = _maker(tag)
    return list(maker(tag, base)) if maker else list(_paragraph([tag], base))


def _steps(tag: Tag, base: str) -> Iterator[Block]:
    yield {"kind": "steps", "items": [_step(item, base) for item in tag.find_all("li", recursive=False)]}


def _step(item: Tag, base: str) -> Block:
    before: list[Block] = []
    after: list[Block] = []
    text: Inline = []
    number = ""
    for child in item.find_all(True, recursive=False):
        if "hb-step-line" in classes(child):
            words, count = child.select_one(".hb-step-text"), child.select_one(".hb-step-number")
            text = _inline(words.children, base) if words else []
            number = count.get_text() if count else ""
        else:
            (after if text else before).extend(_one(child, base))
    return {"number": number, "before": before, "text": text, "after": after}


def _table(tag: Tag, base: str) -> Iterator[Block]:
    names = classes(tag)
    kind = "fill" if "hb-fill" in names else "plain"
    rows = [_row(row, base) for row in tag.select("tbody tr")] or [_row(row, base) for row in tag.select("tr")]
    caption = tag.select_one("caption")
    label = str(tag.get("aria-label") or (caption.get_text().strip() if caption else ""))
    head = [_inline(cell.children, base) for cell in tag.select("thead th")]
    yield {"kind": "table", "use": kind, "head": head, "rows": rows, "label": label}


def _row(row: Tag, base: str) -> list[Block]:
    cells = row.find_all(["th", "td"], recursive=False)
    return [{"head": cell.name == "th", "text": _inline(cell.children, base)} for cell in cells]


def _figure(tag: Tag, base: str) -> Iterator[Block]:
    svg = tag.find("svg")
    labels = str(svg.get("aria-labelledby", "")) if isinstance(svg, Tag) else ""
    if not isinstance(svg, Tag) or not labels.split(" ")[0].endswith("-title"):
        raise UnknownElement("a figure without a drawing of the house")
    words = [part.get_text().strip() for part in (svg.find("title"), svg.find("desc")) if part]
    caption = tag.find("figcaption")
    text = [each for block in (_blocks(caption, base) if isinstance(caption, Tag) else ())
            for each in block["text"]]  # fmt: skip
    yield {"kind": "figure", "drawing": labels.split(" ")[0].removesuffix("-title"),
           "alt": ". ".join(words), "caption": text}  # fmt: skip


def _calculator(tag: Tag, base: str) -> Iterator[Block]:
    yield {"kind": "calculator", "line": on_paper(tag)}


def on_paper(calculator: Tag) -> str:
    """The line that stands for a calculator on paper, which its page has ready."""
    line = calculator.select_one(".hb-on-paper")
    return line.get_text() if line else ""


def _inline(children: Any, base: str) -> Inline:
    """Running text without spaces at its ends; empty where there are no words."""
    return trimmed(_runs(children, base))


def _runs(children: Any, base: str) -> Inline:
    found: Inline = []
    for child in children:
        if isinstance(child, Comment):
            continue
        if isinstance(child, NavigableString):
            found.append(re.sub(r"\s+", " ", str(child)))
        elif isinstance(child, Tag) and not is_dropped(child):
            found += _span(child, base)
    return found


def _span(tag: Tag, base: str) -> Inline:
    if tag.name == "br":
        return [{"break": True}]
    if tag.name in ("input", "svg"):
        return []
    inside = _runs(tag.children, base)
    for name, kind in MARKED.items():
        if name in classes(tag):
            return [{kind: inside}]
    if tag.name in INLINE:
        return [{INLINE[tag.name]: inside}]
    if tag.name == "a":
        return [{"link": inside, "to": _target(str(tag.get("href", "")), base)}]
    if tag.name in ("span", "label", "abbr", "small", "time", "p"):
        return inside
    raise UnknownElement(f"<{tag.name} class={classes(tag)}> in running text")


def _target(href: str, base: str) -> str:
    """The page a link leads to, as its place in the site; empty where it leads elsewhere."""
    place = href.partition("#")[0]
    if not place or ":" in place or not place.endswith(".html"):
        return ""
    return posixpath.normpath(posixpath.join(base, place)).removesuffix(".html")


def trimmed(found: Inline) -> Inline:
    """Without spaces at the two ends; nothing at all where only space is left."""
    if found and isinstance(found[0], str):
        found[0] = found[0].lstrip()
    if found and isinstance(found[-1], str):
        found[-1] = found[-1].rstrip()
    return [each for each in found if each != ""]


def plain(text: Inline) -> str:
    """The words of running text."""
    words = []
    for each in text:
        if isinstance(each, str):
            words.append(each)
        else:
            words += [plain(part) for part in each.values() if isinstance(part, list)]
    return "".join(words)

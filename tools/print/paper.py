"""The pages of a pack in one page of the site, for the browser's own print."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable
from pathlib import Path

from bs4 import BeautifulSoup, Tag

from .reader import UnknownElement, article, classes, on_paper

PLACE = '<div data-pack-pages=""></div>'
NAMED = ("id", "for", "aria-labelledby", "aria-describedby", "aria-controls")
DEEPER = {"h1": "h2", "h2": "h3", "h3": "h4", "h4": "h5"}


def own_part(html: str) -> str:
    """The part of a finished page that is the page's own, as it stands there."""
    start, end = html.find("<article"), html.rfind("</article>")
    if start < 0 or end < start:
        raise UnknownElement("the page has no article")
    return html[start:end] + "</article>"


def fill(path: Path, parts: Iterable[str]) -> None:
    """Put pages, each made by :func:`section`, where the pack's own page leaves room for them."""
    text = path.read_text(encoding="utf-8")
    if PLACE not in text:
        raise UnknownElement(f"{path.name} leaves no place for the pack's pages")
    path.write_text(text.replace(PLACE, "\n".join(parts)), encoding="utf-8", newline="\n")


def section(place: str, html: str) -> str:
    """One page as a part of another: deeper headings, names of its own, links put right."""
    own = article(html)
    stem = place.replace("/", "-")
    for tag in own.select(".headerlink, .hb-foot, .hb-no-paper"):
        tag.decompose()
    for tag in own.select("[data-calculator], .hb-work"):
        _without_form(tag)
    for tag in own.find_all(True):
        tag.name = DEEPER.get(tag.name, tag.name)
        _rename(tag, stem, place)
    return f'<section class="hb-pack-page">{own.decode_contents()}</section>'


def _without_form(tag: Tag) -> None:
    """A calculator becomes the line that stands for it on paper."""
    soup = BeautifulSoup("", "html.parser")
    line = soup.new_tag("p", attrs={"class": "hb-pack-answer"})
    line.string = on_paper(tag)
    tag.replace_with(line)


def _rename(tag: Tag, stem: str, place: str) -> None:
    for name in NAMED:
        if name in tag.attrs:
            tag[name] = " ".join(f"{stem}-{each}" for each in str(tag[name]).split())
    for name, value in list(tag.attrs.items()):
        if isinstance(value, str) and "url(#" in value:
            tag[name] = re.sub(r"url\(#", f"url(#{stem}-", value)
    if "href" in tag.attrs and "headerlink" not in classes(tag):
        tag["href"] = _moved(str(tag["href"]), stem, place)


def _moved(href: str, stem: str, place: str) -> str:
    if href.startswith("#"):
        return f"#{stem}-{href[1:]}"
    if ":" in href or href.startswith("/"):
        return href
    return posixpath.normpath(posixpath.join("..", posixpath.dirname(place), href))

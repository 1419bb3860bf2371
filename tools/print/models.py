"""A page's part for one cabinet model: its own card's words, and no steps for what it does not have."""

from __future__ import annotations

from bs4 import BeautifulSoup, Tag


def for_model(html: str, machine: str) -> str:
    """What :file:`card.js` leaves on a screen where the reader has chosen this model."""
    page = BeautifulSoup(html, "html.parser")
    for each in page.select("[data-for]"):
        if not each.decomposed and machine not in str(each["data-for"]).split():
            _take_out(each)
    for each in page.select(".hb-whose"):
        if not each.decomposed:
            each.decompose()
    for line in page.select("li, .hb-record tr"):
        words = line.find("th") if line.name == "tr" else line
        if not line.decomposed and isinstance(words, Tag) and not _said(words):
            line.decompose()
    return str(page)


def _said(words: Tag) -> str:
    """What is said there, less what only helps to fill it in."""
    return "".join(each for each in words.strings if not each.find_parent(class_="hb-hint")).strip()


def _take_out(each: Tag) -> None:
    """A run of steps keeps the line that says which are left out."""
    head = each.find(class_="hb-only-head", recursive=False) if each.name == "li" else None
    if not isinstance(head, Tag):
        each.decompose()
        return
    for child in list(each.children):
        if child is not head:
            child.extract()

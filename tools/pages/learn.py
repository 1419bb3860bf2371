"""The pages of new-hire packs: which there are, and each as one page to print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from tools.book import text
from tools.book.book import Book
from tools.book.packs import Pack
from tools.print.paper import PLACE

from .page import Page

MENU = ("Learn",)
INDEX = "learn/packs.md"


def page_of(pack: Pack) -> str:
    """Where a pack's one printable page lies among the sources."""
    return f"learn/pack-{pack.key}.md"


def pages(book: Book) -> Iterator[Page]:
    """The list of packs, and a page for each; none where there is no pack."""
    if book.packs:
        yield Page(INDEX, "New-hire packs", _index(book.packs), MENU, order=10)
    for pack in book.packs:
        yield Page(page_of(pack), pack.title, _pack(pack), MENU, order=11, meta={"search": {"exclude": True}})


def _index(packs: Sequence[Pack]) -> str:
    head = (
        "A pack is a booklet for one person: "
        "the pages to learn, a sheet to sign them off, and questions at the end. Print it, write the "
        "name on it, and keep it when it is full.\n"
    )
    return head + "".join(
        f"\n## {text.markdown(pack.title)} {{ #pack-{pack.key} }}\n\n{text.markdown(pack.summary)}\n\n{_links(pack)}\n" for pack in packs)


def _links(pack: Pack) -> str:
    # As HTML, because the files are made after the pages.
    links = [("pack-{}.html", "Read or print as one page"), ("../packs/{}.pdf", "Booklet (PDF)")]
    if pack.questions:
        links.append(("../packs/{}-answers.pdf", "Answers for the trainer (PDF)"))
    items = (f'<li><a href="{escape(href.format(pack.key))}">{label}</a></li>' for href, label in links)
    return f'<ul class="hb-pack-links">{"".join(items)}</ul>'


def _pack(pack: Pack) -> str:
    return f"{text.markdown(pack.summary)}\n\n{_links(pack)}\n\n{PLACE}\n"

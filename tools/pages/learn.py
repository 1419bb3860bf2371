"""The pages of new-hire packs: which there are, and each as one page to print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from tools.book import text
from tools.book.book import Book
from tools.book.packs import SHORT, STUDY, Pack, file_of
from tools.print.paper import PLACE

from .page import Page

MENU = ("Learn",)
INDEX = "learn/packs.md"
FORMS = {SHORT: "Short form, for the day itself", STUDY: "Study form, with reasons and questions"}


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
        "the pages to learn and a sheet to sign them off. Print it, write the name on it, and keep it when it is "
        "full. The study form gives the reasons too, and asks questions at the end: learn from it. The short form "
        "is for the day itself: each step with its caution and its drawing, what to record, and who signs. A sheet "
        "is one printed side.\n"
    )
    return head + "".join(
        f"\n## {text.markdown(pack.title)} {{ #pack-{pack.key} }}\n\n{text.markdown(pack.summary)}\n\n{_links(pack)}\n" for pack in packs)


def _links(pack: Pack) -> str:
    # As HTML, because the files are made after the pages; so are the counts of their sheets.
    links = [(f"pack-{pack.key}.html", "Read or print as one page")]
    links += [_booklet(file_of(pack.key, form), FORMS[form]) for form in pack.forms]
    if pack.questions:
        links.append(_booklet(f"{pack.key}-answers.pdf", "Answers for the trainer"))
    items = (f'<li><a href="{escape(href)}">{label}</a></li>' for href, label in links)
    return f'<ul class="hb-pack-links">{"".join(items)}</ul>'


def _booklet(name: str, label: str) -> tuple[str, str]:
    return f"../packs/{name}", f'{label} (PDF<span data-booklet="{escape(name)}"></span>)'


def _pack(pack: Pack) -> str:
    return f"{text.markdown(pack.summary)}\n\n{_links(pack)}\n\n{PLACE}\n"

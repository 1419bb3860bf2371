"""The pages of new-hire packs: which there are, and what is in each."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from tools.book import front, text
from tools.book.book import Book
from tools.book.packs import SHORT, STUDY, Pack, file_of

from .page import Page

MENU = ("Learn",)
INDEX = "learn/packs.md"
PAGES = "Its pages, one by one"
FORMS = {SHORT: "Short form, for the day itself", STUDY: "Study form, with reasons and questions"}


def page_of(pack: Pack) -> str:
    """Where a pack's own page lies among the sources."""
    return f"learn/pack-{pack.key}.md"


def pages(book: Book) -> Iterator[Page]:
    """The list of packs, and a page for each; none where there is no pack."""
    if book.packs:
        yield Page(INDEX, "New-hire packs", _index(book), MENU, order=10)
    for pack in book.packs:
        if not pack.of:
            yield Page(page_of(pack), pack.title, _pack(book, pack), MENU, order=11, meta={"search": {"exclude": True}})


def _index(book: Book) -> str:
    head = (
        "A pack is a booklet for one person: "
        "the pages to learn and a sheet to sign them off. Print it, write the name on it, and keep it when it is "
        "full. The study form gives the reasons too, and asks questions at the end: learn from it. The short form "
        "is for the day itself: each step with its caution and its drawing, what to record, and who signs. A sheet "
        "is one printed side.\n"
    )
    return head + "".join(_entry(book, pack) for pack in book.packs if not pack.of)


def _entry(book: Book, pack: Pack) -> str:
    links = _links(book, pack, (f"pack-{pack.key}.html", PAGES))
    return f"\n## {text.markdown(pack.title)} {{ #pack-{pack.key} }}\n\n{text.markdown(pack.summary)}\n\n{links}\n"


def _links(book: Book, pack: Pack, *first: tuple[str, str]) -> str:
    # As HTML, because the files are made after the pages; so are the counts of their sheets.
    links = [*first, *(_booklet(file_of(pack.key, form), FORMS[form]) for form in pack.forms)]
    for each in book.packs:  # the short form for each cabinet model
        if each.of == pack.key:
            name = book.data.row("machines", each.machine).typed["name"]
            links.append(_booklet(file_of(each.key, SHORT), f"{FORMS[SHORT]}, {text.html(name)}"))
    if pack.questions:
        links.append(_booklet(f"{pack.key}-answers.pdf", "Answers for the trainer"))
    items = (f'<li><a href="{escape(href)}">{label}</a></li>' for href, label in links)
    return f'<ul class="hb-pack-links">{"".join(items)}</ul>'


def _booklet(name: str, label: str) -> tuple[str, str]:
    return f"../packs/{name}", f'{label} (PDF<span data-booklet="{escape(name)}"></span>)'


def _pack(book: Book, pack: Pack) -> str:
    lines = "".join(f"1. {_page(book, place)}\n" for place in pack.pages)
    return (
        f"{text.markdown(pack.summary)}\n\n{_links(book, pack)}\n\n## {PAGES}\n\n{lines}\n"
        "What to do in an emergency is on the second page of every booklet.\n\n"
        "## Sign-off\n\nThe first sheet of each booklet has a line for each page, and what the trainer signs it for. "
        "Who has finished the whole pack signs here, or there.\n\n::: signoff\nNew hire\nTrainer\n:::\n"
    )


def _page(book: Book, place: str) -> str:
    """A page of a pack, and what it is for, where the page says it."""
    told = front.read(book.written.pages[f"{place}.md"])
    link = f"[{text.markdown(str(told.get('title') or place))}](../{place}.md)"
    return f"{link}<br>{text.markdown(str(told['summary']))}" if told.get("summary") else link

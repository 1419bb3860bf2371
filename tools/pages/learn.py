"""The pages of new-hire packs: which there are, and each as one page to print."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from tools.book.packs import Pack
from tools.print.paper import PLACE

INDEX = "learn/packs.md"


def page_of(pack: Pack) -> str:
    """Where a pack's one printable page lies among the sources."""
    return f"learn/pack-{pack.key}.md"


def pages(packs: Sequence[Pack]) -> dict[str, str]:
    """The made pages: path among the sources → Markdown; none where there is no pack."""
    made = {page_of(pack): _pack(pack) for pack in packs}
    return {INDEX: _index(packs), **made} if packs else {}


def navigation(packs: Sequence[Pack]) -> list[dict[str, str]]:
    """Lines of the menu."""
    if not packs:
        return []
    return [{"New-hire packs": INDEX}, *({pack.title: page_of(pack)} for pack in packs)]


def _index(packs: Sequence[Pack]) -> str:
    text = (
        "---\ntitle: New-hire packs\n---\n# New-hire packs\n\nA pack is a booklet for one person: "
        "the pages to learn, a sheet to sign them off, and questions at the end. Print it, write the "
        "name on it, and keep it when it is full.\n"
    )
    return text + "".join(f"\n## {pack.title}\n\n{pack.summary}\n\n{_links(pack)}\n" for pack in packs)


def _links(pack: Pack) -> str:
    # As HTML, because the files are made after the pages.
    links = [("pack-{}.html", "Read or print as one page"), ("../packs/{}.pdf", "Booklet (PDF)")]
    if pack.questions:
        links.append(("../packs/{}-answers.pdf", "Answers for the trainer (PDF)"))
    items = (f'<li><a href="{escape(href.format(pack.key))}">{label}</a></li>' for href, label in links)
    return f'<ul class="hb-pack-links">{"".join(items)}</ul>'


def _pack(pack: Pack) -> str:
    return (
        f"---\ntitle: {pack.title}\nsearch:\n  exclude: true\n---\n# {pack.title}\n\n{pack.summary}\n\n"
        f"{_links(pack)}\n\n{PLACE}\n"
    )

"""The visit plan: one page for all sites, day by day, with what each day needs in the van."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from typing import TYPE_CHECKING

from calculators.float.coinage import many
from tools.results import visits
from tools.results.visits import Visit

from .page import Page

if TYPE_CHECKING:
    from tools.book.book import Book
    from tools.book.data import OperatorData

PATH = "sites/visits.md"
TITLE = "Visit plan"
LEAD = """Which sites on which day, and what the van needs for them. Each number counts on the last visit having filled the
cabinet up; it is enough at most visits, and what is left over comes back. A site’s own list is under *Pick list*; [Restock](../calculators/restock.md)
tells what changes when you count.
"""
NONE = "The days between two visits, or the visiting days, are not in our data (sites.csv), so no visit is planned."
NO_DAY = "Sites without visiting days"
GOODS = ("Goods, in van order", "Pieces", "Cases")
SAID = ["route plan", "which sites today", "schedule", "who is due", "how many cases today", "visiting days", "round", "stops of the day"]


def pages(book: Book) -> Iterator[Page]:
    """The one page of all visits."""
    days = visits.by_day(book.data)
    parts = [LEAD, *(_day(book.data, day, found) for day, found in days.items())] if days else [NONE]
    yield Page(PATH, TITLE, "\n\n".join(parts), ("Our sites",), TITLE, 2, meta={"hide": ["toc"], "said": SAID})


def _day(data: OperatorData, day: int, found: list[Visit]) -> str:
    title = visits.called(data, day) or NO_DAY
    sites = "".join(f"<li>{_site(data, each)}</li>" for each in found)
    return f'## {title} {{ data-search-exclude="yes" }}\n\n<ul class="hb-visits">{sites}</ul>\n\n{_load(data, found, title)}'


def _site(data: OperatorData, each: Visit) -> str:
    """A site's line, with the way to its own list."""
    key = each.site.typed["key"]
    number = [visit.day for visit in visits.of_site(data, key)].index(each.day)
    return (f'<a href="papers.html?site={key}&amp;visit={number}#visit-plan"><strong>{escape(each.site.typed["name"])}</strong></a>: '
            f'<span data-visit="{key}">{escape(told(each))}</span>')  # fmt: skip


def said(each: Visit) -> str:
    """“207 pieces: 20 cases, 22 loose”."""
    boxes = [visits.cases(goods.product, goods.bring) for goods in each.goods]
    cases = sum(box or 0 for box in boxes)
    loose = sum(goods.bring for goods, box in zip(each.goods, boxes, strict=True) if box is None)
    parts = [f"{cases} {'case' if cases == 1 else 'cases'}"] if cases else []
    parts += [f"{loose} loose"] if loose else []
    return f"{each.pieces} pieces: {', '.join(parts)}" if parts else f"{each.pieces} pieces"


def rolls(each: Visit) -> str:
    """“2 rolls of quarters, 1 roll of dimes”."""
    return ", ".join(f"{packs} of {many(coin)}" for coin, packs in each.coins)


def _load(data: OperatorData, found: list[Visit], title: str) -> str:
    pack = data.rules["coins.pack"].value
    rows = [[escape(row.typed["name"]), str(pieces), "loose" if cases is None else f"{cases} of {row.typed['case_pieces']}"]
            for row, pieces, cases in visits.load(found)]  # fmt: skip
    rows += [[escape(f"Change: {many(coin)}"), "", f"{count} {pack['one' if count == 1 else 'many']}"] for coin, count in visits.change(found).items()]
    rows += [["<strong>In all</strong>", str(sum(each.pieces for each in found)), ""]]
    head = "".join(f'<th scope="col">{each}</th>' for each in GOODS)
    body = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    return (f'<div class="hb-scroll" tabindex="0" role="region" aria-label="{escape(title)}: for the van"><table class="hb-table hb-visits"><thead>'
            f"<tr>{head}</tr></thead><tbody>{body}</tbody></table></div>")  # fmt: skip


def heading(data: OperatorData, each: Visit) -> str:
    """What a site's sheet calls a visit: “Each Monday, for 3 days”."""
    day = visits.called(data, each.day)
    return f"Visit, {day}" if day else "Each visit"


def told(each: Visit) -> str:
    """What a visit brings, the change, and what runs short before it."""
    early = f" {each.first} may run short after {each.lasts} of {each.since:g}." if each.short else ""
    return f"{said(each)}. Change: {rolls(each) or 'none'}.{early}"

"""Papers to fill in with a pen: one page for all sites, on which a script fills in what our data say of the one chosen.

Without a script, and where the data say nothing, each is a form with lines to write on. Nothing is guessed.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from tools.results import papers

from .page import Page

if TYPE_CHECKING:
    from tools.book.book import Book
    from tools.book.data import OperatorData

PATH = "sites/papers.md"
SCRIPT = "assets/papers.js"
TITLE = "Papers to fill in"
LEAD = """Choose a paper and the site, then print. What our data know stands on it; what they do not know is a line to
write on.
"""


@dataclass(frozen=True)
class Table:
    """A table to fill in: ``heads`` of its columns, ``rows`` that begin with these words, then ``blank`` ones.

    A head in brackets is one that the script repeats for each coin, ``@`` in one is where it names the site; ``name``
    is how it finds the table.
    """

    heads: tuple[str, ...]
    rows: tuple[str, ...] = ()
    blank: int = 0
    name: str = ""

    def html(self, title: str) -> str:
        """The table, blank."""
        head = "".join(f'<th scope="col"{" data-coin" if each[0] == "[" else ""}>{_named(each)}</th>' for each in self.heads)
        body = "".join(self._row(each) for each in (*self.rows, *("",) * self.blank))
        name = f' data-rows="{self.name}"' if self.name else ""
        return (f'<table class="hb-fill" aria-label="{escape(title)}"{name}><thead><tr>{head}</tr></thead>'
                f"<tbody>{body}</tbody></table>")  # fmt: skip

    def _row(self, words: str) -> str:
        first = f'<th scope="row">{escape(words)}</th>' if words else "<td></td>"
        return f"<tr>{first}{'<td></td>' * (len(self.heads) - 1)}</tr>"


def _named(head: str) -> str:
    return escape(head.strip("[]")).replace("@", '<span data-say="site"></span>')


@dataclass(frozen=True)
class Paper:
    """One paper: for what it is, its tables, the sums that are made on it, who signs; ``times`` on one sheet.

    ``head`` is whether it is about one site.
    """

    key: str
    title: str
    use: str
    tables: tuple[Table, ...]
    sums: tuple[str, ...] = ()
    signed: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    times: int = 1
    more: str = ""
    head: bool = True

    def html(self) -> str:
        """The paper, blank."""
        once = "".join(each.html(self.title) for each in self.tables)
        sums = "".join(f"<li>{escape(each)}</li>" for each in self.sums)
        return (f'<div class="hb-paper" data-paper="{self.key}" tabindex="0" role="region" aria-label="{self.title}"><p class="hb-screen-only">{escape(self.use)}</p>{HEAD * self.head}{self.more}{once * self.times}'
                f"{f'<ul>{sums}</ul>' if sums else ''}{_signed(self.signed)}</div>")  # fmt: skip


# What the script fills in over each paper; without it a line.
HEAD = "".join(f'<dt>{label}</dt><dd data-say="{key}"></dd>' for label, key in (
    ("Site", "site"), ("Cabinet", "cabinet"), ("Where", "where"), ("Date, by", "")))  # fmt: skip
HEAD = f'<dl class="hb-facts hb-paper-head">{HEAD}</dl>'
OUR_CARD = '<p class="hb-paper-card" data-say="{}" hidden></p>'
PRODUCT = ('<div class="hb-field hb-screen-only" data-choose="product" hidden></div><dl class="hb-facts hb-paper-head"><dt>Product</dt>'
           '<dd data-say="product"></dd><dt>Lots and dates</dt><dd></dd><dt>Notice in at</dt><dd></dd><dt>Led by</dt><dd></dd></dl>')  # fmt: skip

PAPERS = (
    Paper("float-sheet", "Float sheet", "How many coins each tube holds when you leave. One line each time the tubes are filled or emptied.",
          (Table(("Date, who", "[Coin]", "Filled in by us (D)", "Taken out by us (E)", "Value in the tubes", "Signed"), ("To start",), 17, "float"),),
          ("Value in the tubes: the coins of each tube times what one is worth, added up.",
           "D and E go onto the next collection sheet. A bag that is collected leaves the tubes as they are."),
          said=("coins to start", "how many quarters", "change fund", "starting coins"), more=OUR_CARD.format("rolls")),
    Paper("visit-plan", "Pick list and lanes", "What to bring to this visit, in cases and pieces and in van order, and what each lane holds.",
          (Table(("Product", "Fill up to", "To bring", "In cases", "Left last time", "Picked", "Brought back"), (), 14, "goods"),
           Table(("Lanes", "Product", "Full", "Left now", "Loaded", "Thrown out, taken along", "Earliest date"), (), 16, "lanes")),
          ("To bring counts on the last visit having filled it up, and is enough at most visits. If you know what is left: fill up to, less what is left.",
           "Picked, less loaded, is what comes back.", "Oldest to the front; what is past its date counts as thrown out."),
          said=("packing list", "restock list", "what to load", "planogram")),
    Paper("collection-sheet", "Collection sheet", "Counters and tubes as they stand, and what the bag must hold. The last sheet's readings come over first.",
          (Table(("Line", "Last time", "Now", "Now, less last time"),
                 ("A  Cash in", "B  Cash paid out", "C  Value in the tubes", "Cards (never in the bag)", "Goods sold, pieces"), 1),
           Table(("Since the last readings", "Money"),
                 ("D  Filled in by us, from the float sheet", "E  Taken from tubes by us", "The bag must hold: A − B − C + D − E", "First count, by",
                  "Second count, by", "Difference: counted, less must hold (+ or −)")),
           Table(("Bag", "Number"), ("Seal number", "Called in at, if alone", "Bank slip, date"))),
          ("A, B, C: the last column. If C is below zero, add it.",
           "Leave out D if the cabinet counts filling as cash in, and E if it counts emptying a tube as cash paid out: see its counters.",
           "Both counts agree before the difference is written."),
          ("Collected by", "Watched by", "Counted by", "Counted by, second person"),
          ("counting sheet", "cash sheet", "meter readings", "variance", "over and short"), more=OUR_CARD.format("counters")),
    Paper("refund-slip", "Complaint and refund slip", "One slip for each buyer, three on a sheet. Never a card number.",
          (Table(("Complaint @", "Number:"), ("Date, time, taken by", "Selection, product", "What happened, in the buyer's words",
                                            "Hurt or ill: no, or who and what", "Paid: coins, bill, card; how much",
                                            "Refund: amount, how, signed", "Cause found, called back")),),
          said=("refund form", "complaint form", "money back slip"), times=3),
    Paper("recall-sheet", "Recall sheet", "Which sites hold a product by their plans. The plan is no proof: look in each cabinet, van and shelf that may hold it.",
          (Table(("Site, cabinet", "Lanes", "Full", "Sales stopped at", "Lot found", "Taken out", "By, time"), (), 14, "recall"),),
          ("Received = sold + thrown out + given away + taken out.", "Every line gets a time and a count, also where it is 0.",
           "A site that is not listed may hold it all the same: ask each route keeper."),
          ("Led by", "Second person"), ("which sites have it", "withdraw a product", "bad batch"), more=PRODUCT, head=False),
    Paper("key-list", "Key list", "Which keys there are, who holds them, and a signature each time one changes hands.",
          (Table(("Site", "Keys, by our data", "Key number", "Holder, date", "Signed", "Back, date", "Signed by office"), (), 14, "keys"),),
          ("A key has a number and never an address on it.", "A line is never rubbed out: a key that comes back is signed in."),
          ("Counted by the office, date",), ("who has the key", "key log", "key register", "sign out keys")),
    Paper("delivery-list", "List of deliveries", "What food came in, how cold, and from which lot: in a recall this list finds the packs.",
          (Table(("Date, supplier", "Product", "Lot, date on the pack", "Count", "Temperature", "Refused or held, why", "By"), (), 15),),
          said=("food log", "receiving log", "goods in sheet"), head=False),
    Paper("thermometer-list", "List of thermometers", "Each food thermometer by its own number, and each check in ice water.",
          (Table(("Number", "Date", "In ice water", "After it was set", "Right, or out of use", "By"), (), 16),),
          said=("calibration log", "thermometer log"), head=False),
    Paper("waste-list", "Waste list", "All that was thrown out or given away, with its reason in one word.",
          (Table(("Date, site", "Product", "Lot, date on the pack", "How many", "Why", "To whom, if given away", "By"), (), 15),),
          said=("spoilage sheet", "shrink sheet", "stale list"), head=False),
    Paper("permit-calendar", "Calendar of permits", "Which paper each site needs, and until when it holds.",
          (Table(("Site", "Paper and its number", "Who gave it", "Holds until", "First reminder", "New one came"), (), 15),),
          said=("permit list", "renewal dates", "license list"), head=False),
)  # fmt: skip


def pages(book: Book) -> Iterator[Page]:
    """The one page of all papers."""
    said = [each for paper in PAPERS for each in paper.said]
    parts = [LEAD, _list()]
    parts += [f'## {paper.title} {{ #{paper.key} }}\n\n{paper.html()}' for paper in PAPERS]
    yield Page(PATH, TITLE, "\n\n".join(parts), ("Our sites",), "Papers", 1, meta={"hide": ["toc"], "scripts": ["papers.js"], "said": said})


def _list() -> str:
    links = "".join(f'<li><a class="hb-button hb-button--quiet" href="#{paper.key}">{paper.title}</a></li>' for paper in PAPERS)
    return f'<ul class="hb-paper-list hb-screen-only" aria-label="Papers">{links}</ul>'


def _signed(roles: tuple[str, ...]) -> str:
    rows = "".join(f'<tr><th scope="row">{escape(role)}</th><td></td><td></td></tr>' for role in roles)
    head = "".join(f'<th scope="col">{each}</th>' for each in ("Signed", "Name", "Date, time"))
    return f'<table class="hb-fill" aria-label="Signatures"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>' if rows else ""


def script(data: OperatorData) -> str:
    """What the papers of all sites say, as a script: a page opened as a file may load nothing else."""
    written = json.dumps(papers.of(data), ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
    return f"(self.HandbookAssets ??= {{}}).papers = {written};\n"

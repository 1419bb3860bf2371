"""A site's sheet: everything worked out from the data, on two pages of paper."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

import calculators
from calculators.core.html import badge
from tools.book import card
from tools.book.book import Book
from tools.book.data import OperatorData
from tools.book.tables import SITE_FACTS
from tools.results import visits as planned_visits
from tools.results.sites import Sheet, outcome, work_out

from . import lanes, visits
from .page import Page

# What is done on the day, and what is written, each with the feature of the cabinet that it is for.
CHECKLIST = (
    ("Walk the route with a tape before the cabinet leaves the truck.", ""),
    ("Look the cabinet over and write damage on the receipt before you sign.", ""),
    ("The crew that the card names, gloves and safety shoes on, nobody in the tip zone.", ""),
    ("Set the spot: air behind, door swing free, exits and panels clear, the cord reaches.", ""),
    ("Level on the body both ways; every leg bears; rock test done.", ""),
    ("Outlet proven and written down before the plug goes in.", ""),
    ("Cabinet stands upright for the card’s time before the plug goes in.", ""),
    ("Cabinet runs empty until its warmest part is cold for the card’s time.", "cold"),
    ("Coils fitted as planned; three packs lifted in each lane.", ""),
    ("Coins loaded as planned; a sale with exact coins tested.", ""),
    ("A sale with a bill tested, its change counted; one by card, if it takes cards.", "notes"),
    ("Chilled goods loaded last and cold; dates and allergens read.", "cold"),
    ("Customer shown the contact label; keys counted; photographs taken.", ""),
)
RECORD = (
    ("Serial number", "from the plate", ""), ("Outlet reading, no load / running", "volts", ""),
    ("Warmest part after the card’s time", "degrees, and the time", "cold"),
    ("Level left–right / front–rear", "as read", ""), ("Coins loaded", "tube by tube", ""),
    ("Test sales", "coin, bill, card: how many, all paid?", ""),
)  # fmt: skip
VAN = "van-list"
WRITE = f'<span class="hb-write">{"_" * 30}</span>'
VAN_VALUES = ("money", "mass")
MENU, INDEX = ("Our sites",), "sites/index.md"
LISTED = ("Each sheet is worked out from our own data. Print it and take it along. What is written on at a site, "
          "such as a float sheet or a key list, is under [Papers to fill in](papers.md).\n\n::: sites\n:::")
UNSEARCHED = 'data-search-exclude="yes"'
PAPERS = '<p class="hb-screen-only"><a class="hb-button hb-button--quiet" href="papers.html?site={}">Papers to fill in at this site</a></p>'
SIGNATURES = ("Installer", "Second person", "Customer")


def pages(book: Book) -> Iterator[Page]:
    """The list of all sites, and a sheet for each."""
    yield Page(INDEX, "Our sites", LISTED, MENU, "All sites", 0, meta={"scripts": ["sites.js"], "search": {"exclude": True}})
    for row in book.data.tables["sites"]:
        outcome(book.data, row.typed["key"])  # remembered for the list, while the sheet is at hand
        yield page(book.data, row.typed["key"])


def page(data: OperatorData, key: str) -> Page:
    """A site's sheet."""
    site = data.row("sites", key).typed
    model = data.row("machines", site["machine"])
    sheet = work_out(data, key)
    parts = [
        # Who and where can be searched; what stands on every sheet alike would only crowd the search. It leaves out no
        # more than up to the first end of an element of that name, so this one holds none like it.
        f'<div class="hb-sheet">{_head(site, model.typed)}<section {UNSEARCHED}>{PAPERS.format(key)}{_summary(sheet)}{_actions(sheet)}'
        f"{_facts(data, site)}{_figures(sheet)}{_van(data, sheet)}</section></div>",
        f"## Lane by lane {{ {UNSEARCHED} }}",
        lanes.part(data, sheet.plan),
        f"## Checklist of the day {{ {UNSEARCHED} }}",
        f'<ul class="hb-list">{"".join(_tick(line) for line, feature in CHECKLIST if card.may_have(model, feature))}</ul>',
        f"## Commissioning record {{ {UNSEARCHED} }}",
        "::: record\n" + "\n".join(f"{what} | {how}" for what, how, feature in RECORD if card.may_have(model, feature)) + "\n:::",
        "::: signoff\n" + "\n".join(SIGNATURES) + "\n:::",
    ]
    return Page(f"sites/{key}.md", f"{site['name']} – site sheet", "\n\n".join(parts), MENU, site["name"], 10,
                site["name"], INDEX, {"hide": ["toc"]})  # fmt: skip


def _head(site: dict[str, str], machine: dict[str, str]) -> str:
    facts = [("Cabinet", machine["name"]), ("Install day", site.get("date", "")),
             ("Where", site.get("address", "")), ("Contact", site.get("contact", "")),
             ("Mind", site.get("note", ""))]  # fmt: skip
    rows = "".join(f"<dt>{name}</dt><dd>{escape(value)}</dd>" for name, value in facts if value)
    return f'<dl class="hb-facts">{rows}</dl>'


def _facts(data: OperatorData, site: dict[str, str]) -> str:
    """What pages ask of the site; what the table does not say is a line to write on."""
    rows = "".join(f"<dt>{escape(each.label)}</dt><dd>{escape(site.get(str(each.key), '')) or WRITE}</dd>"
                   for each in SITE_FACTS.values())  # fmt: skip
    rows += "".join(f"<dt>{escape(visits.heading(data, each))}</dt><dd data-visit=\"{each.day}\">{escape(visits.told(each))}</dd>"
                    for each in planned_visits.of_site(data, site["key"]))  # fmt: skip
    return f'<h2>What to know of the site</h2><dl class="hb-facts hb-items">{rows}</dl>'


def _summary(sheet: Sheet) -> str:
    rows = "".join(
        f'<tr><th scope="row"><a href="../calculators/{name}.html">{escape(calculators.get(name).title)}'
        f'</a></th><td data-outcome="{outcome}">{badge(outcome)}</td><td>{escape(text)}</td></tr>'
        for name, outcome, text in _lines(sheet)
    )
    return (
        f'<div class="hb-outcome hb-outcome--{sheet.outcome}">{badge(sheet.outcome)} '
        f"<strong>for this site as a whole</strong></div>"
        f'<table class="hb-summary" aria-label="Outcomes"><thead><tr><th scope="col">Question</th>'
        f'<th scope="col">Outcome</th><th scope="col">Tightest</th></tr></thead><tbody>{rows}</tbody></table>'
    )


def _lines(sheet: Sheet) -> list[tuple[str, str, str]]:
    lines = [(name, report["outcome"], report["decides"])
             for name, report in sheet.reports.items()]  # fmt: skip
    return [*lines[:2], ("plan", sheet.plan.outcome, sheet.plan.headline), *lines[2:]]


def _actions(sheet: Sheet) -> str:
    rows = [action for report in sheet.reports.values() if report["outcome"] != "pass"
            for action in report["actions"]][:8]  # fmt: skip
    rows += sheet.plan.actions[:3]
    more = len(sheet.plan.actions) - 3
    rows += [f"{more} more of the lanes: see the cabinet plan."] if more > 0 else []
    listed = "".join(f"<li>{escape(row)}</li>" for row in rows)
    return f"<h2>Before the day</h2><ul>{listed}</ul>" if rows else ""


def _figures(sheet: Sheet) -> str:
    # Two pages of paper hold no more drawings than these.
    drawn = [report["figures"][0] for name, report in sheet.reports.items() if report["figures"] and name != "standing"]
    figures = "".join(f'<figure class="hb-plan">{svg}</figure>' for svg in drawn)
    return f'<div class="hb-figures">{figures}</div>'


def _van(data: OperatorData, sheet: Sheet) -> str:
    coins = [f"{value['label']}: {value['text']}" for value in sheet.reports["float"]["values"]
             if value["value"] is not None and value["key"] in VAN_VALUES]  # fmt: skip
    gear = [f"{row.typed['name']} × {row.typed.get('amount', '1')}" for row in data.tables["gear"]]
    people = [f"{row.typed['name']} ({row.typed['role']})" for row in data.tables["crew"]]
    groups = (("Coins", coins + sheet_rolls(sheet)), ("Coils", lanes.coils(data, sheet.plan)),
              ("Goods", lanes.goods(data, sheet.plan)), ("Spare", lanes.spare(data, sheet.plan)), ("Gear", gear),
              ("People", people))  # fmt: skip
    cells = "".join(
        f"<div><h3>{name}</h3><ul class=\"hb-list\">{''.join(_tick(item) for item in items)}</ul></div>"
        for name, items in groups if items
    )
    return f'<h2 id="{VAN}" {UNSEARCHED}>Van list</h2><p>{escape(lanes.said(sheet.plan))}</p><div class="hb-van">{cells}</div>'


def sheet_rolls(sheet: Sheet) -> list[str]:
    """The coin rolls to bring, from the float's own table."""
    rolls = (each for each in sheet.reports["float"]["tables"] if each["key"] == "rolls")
    return [", ".join(row[:2]).lower() for each in rolls for row in each["rows"]]


def _tick(text: str) -> str:
    return (f'<li><label><input type="checkbox" class="hb-tick"> <span>{escape(text)}</span>'
            "</label></li>")  # fmt: skip

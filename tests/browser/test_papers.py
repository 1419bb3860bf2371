"""Papers to fill in: the one that was chosen, for the site that was chosen, on a sheet or two."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup

from tests.browser.conftest import Watched
from tools.pages.papers import PAPERS

pytestmark = pytest.mark.browser

PAGE = "sites/papers.html"
SITES = ("ferry-pier", "school-gym", "night-garage")
FILLED = "document.querySelector('.hb-paper [data-say=site]').textContent"


def opened(watched: Watched, site: Path, rest: str = "") -> Any:
    watched.page.goto((site / PAGE).as_uri() + rest)
    watched.wait("document.querySelector('.hb-field select')")
    return watched.page


def rows(page: Any, name: str) -> list[list[str]]:
    """The lines of a table that have words."""
    found: list[list[str]] = page.evaluate(f"""[...document.querySelectorAll("[data-rows={name}] tbody tr")]
      .map((row) => [...row.cells].map((cell) => cell.textContent)).filter((cells) => cells.join(""))""")
    return found


def lanes(site: Path, key: str) -> list[tuple[str, str, int, int]]:
    """What a site's built sheet says: place, product, lanes, pieces in each."""
    sheet = BeautifulSoup((site / "sites" / f"{key}.html").read_text("utf-8"), "html.parser")
    return [(cells[0].get_text(), cells[1].get_text().split(", $")[0], int(str(row["data-lanes"])), int(cells[3].get_text()))
            for row in sheet.select(".hb-lanes tbody tr[data-product]") for cells in (row.select("td"),)]  # fmt: skip


@pytest.mark.parametrize("key", SITES)
def test_a_visit_plan_is_that_of_the_site_s_sheet(key: str, watched: Watched, site: Path) -> None:
    """Lane by lane, and added up for each product, with cases and loose pieces that make the same sum."""
    page = opened(watched, site, f"?site={key}#visit-plan")
    stated = lanes(site, key)
    shown = {where: (name, full) for where, name, full, *_ in rows(page, "lanes") if full}
    assert shown == {where: (name, f"{count} × {each}" if count > 1 else f"{each}") for where, name, count, each in stated}
    sums: dict[str, int] = {}
    for _, name, count, each in stated:
        sums[name] = sums.get(name, 0) + count * each
    goods = {name: (int(fill), int(bring), cases) for name, fill, bring, cases, *_ in rows(page, "goods")}
    assert goods.keys() == sums.keys()
    assert all(bring <= fill <= sums[name] for name, (fill, bring, _) in goods.items())
    sheet = BeautifulSoup((site / "sites" / f"{key}.html").read_text("utf-8"), "html.parser")
    visit = sheet.select("dd[data-visit]")[0].get_text()
    assert visit.startswith(f"{sum(bring for _, bring, _ in goods.values())} pieces")
    told = [(bring, cases) for _, bring, cases in goods.values() if cases]
    assert told
    for full, cases in told:
        packed = re.search(r"(\d+) cases? of (\d+)", cases)
        loose = re.search(r"(\d+) pieces?", cases)
        assert full == (int(packed[1]) * int(packed[2]) if packed else 0) + (int(loose[1]) if loose else 0)


def test_a_recall_sheet_names_every_site_that_holds_the_product(watched: Watched, site: Path) -> None:
    """By the sheets of all sites; lines to write on follow."""
    page = opened(watched, site, "#recall-sheet")
    keys = [path.stem for path in (site / "sites").glob("*.html") if "hb-lanes" in path.read_text("utf-8")]
    titles = {key: BeautifulSoup((site / "sites" / f"{key}.html").read_text("utf-8"), "html.parser").select_one("h1") for key in keys}
    page.select_option(".hb-paper:not([hidden]) select", label="Egg sandwich wedge")
    held = {titles[key].find(string=True, recursive=False): sum(count * each for _, name, count, each in lanes(site, key) if name == "Egg sandwich wedge")  # type: ignore[union-attr]
            for key in keys}  # fmt: skip
    held = {name: count for name, count in held.items() if count}
    assert len(held) > 2
    assert {where.rsplit(", ", 1)[0]: int(full) for where, _, full, *_ in rows(page, "recall")} == held
    assert page.locator("[data-rows=recall] tbody tr").count() > len(held)
    page.select_option(".hb-paper:not([hidden]) select", index=0)
    assert rows(page, "recall") == []


def test_the_papers_follow_where_the_reader_is(watched: Watched, site: Path) -> None:
    """From the home page, to another site by the header, to none."""
    page = watched.page
    page.goto((site / "index.html").as_uri())
    page.click(".hb-here")
    page.click(".hb-where-one:has-text('Library foyer')")
    page.click(".hb-at-home a:text-is('Papers')")
    watched.wait(f"document.querySelector('.hb-field select') && {FILLED} === 'Library foyer'")
    assert [line[0] for line in rows(page, "float")] == ["To start"]
    start = rows(page, "float")[0]
    assert all(re.fullmatch(r"\d+", cell) for cell in start[1:-4])
    assert start[-2].startswith("$")
    page.click(".hb-here")
    page.click(".hb-where-one:has-text('Swim hall gallery')")
    assert page.evaluate(FILLED) == "Swim hall gallery"
    page.click(".hb-here")
    page.click(".hb-where-one:has-text('Nowhere yet')")
    assert page.evaluate(FILLED) == ""
    assert rows(page, "goods") == []
    assert [cell for line in rows(page, "float") for cell in line[1:] if cell] == []
    page.select_option(".hb-field select >> nth=0", label="Library foyer")
    assert page.evaluate(FILLED) == "Library foyer"
    assert not watched.violations()
    assert not watched.complaints


def test_a_site_s_sheet_leads_to_its_own_papers(watched: Watched, site: Path) -> None:
    """Whatever place the header names; an address that names no site of ours names none."""
    page = watched.page
    page.goto((site / "sites/ferry-pier.html").as_uri() + "?here=library-foyer")
    page.click("a:has-text('Papers to fill in at this site')")
    watched.wait(f"document.querySelector('.hb-field select') && {FILLED} === 'Ferry pier waiting hall'")
    # As in a browser where each file has a store of its own: the place comes late, and only by the address.
    page.evaluate("localStorage.clear()")
    page.reload()
    watched.wait(f"document.querySelector('.hb-here').innerText.trim() === 'Library foyer' && {FILLED}")
    assert page.evaluate(FILLED) == "Ferry pier waiting hall"
    opened(watched, site, "?site=%3Cb%3E")
    assert page.evaluate(FILLED) == ""


@pytest.mark.parametrize("paper", PAPERS, ids=lambda each: each.key)
def test_one_paper_at_a_time_on_two_sheets_at_most(paper: Any, watched: Watched, site: Path) -> None:
    """For the site with most lanes, on both sizes of paper; the others neither shown nor printed."""
    page = opened(watched, site, f"?site=ferry-pier#{paper.key}")
    shown = page.locator(".hb-paper:visible")
    assert [shown.nth(at).get_attribute("data-paper") for at in range(shown.count())] == [paper.key]
    page.emulate_media(media="print")
    words = page.inner_text("article")
    assert paper.title in words
    assert not any(each.title in words for each in PAPERS if each is not paper)
    for size in ("A4", "Letter"):
        assert 1 <= len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=size))) <= (2 if paper.key == "visit-plan" else 1)


def test_a_folder_without_the_list_says_so(watched: Watched, site: Path) -> None:
    watched.page.route("**/assets/papers.js", lambda route: route.abort())
    watched.page.goto((site / PAGE).as_uri())
    watched.wait("document.querySelector('.hb-notice')")
    assert "copy the whole folder again" in watched.page.inner_text(".hb-notice")
    assert watched.page.locator(".hb-paper:visible").count() == 1


def test_each_visit_of_a_week_has_its_own_list(watched: Watched, site: Path) -> None:
    """A site that is visited twice offers both days; the visit plan leads to each, and its numbers are those of the list."""
    plan = BeautifulSoup((site / "sites" / "visits.html").read_text("utf-8"), "html.parser")
    links = [link for link in plan.select("ul.hb-visits a") if "site=ferry-pier" in str(link["href"])]
    assert len(links) == 2
    sums = []
    for link in links:
        page = opened(watched, site, str(link["href"]).removeprefix("papers.html"))
        watched.wait("document.querySelectorAll('[data-rows=goods] tbody th').length > 3")
        said = link.find_next("span").get_text()
        sums.append(sum(int(bring) for _, _, bring, *_ in rows(page, "goods")))
        assert said.startswith(f"{sums[-1]} pieces")
    assert sums[0] != sums[1]
    page.get_by_label("Visit").select_option("0")
    assert sum(int(bring) for _, _, bring, *_ in rows(page, "goods")) == sums[0]


def test_a_site_that_is_visited_once_a_week_asks_for_no_day(watched: Watched, site: Path) -> None:
    page = opened(watched, site, "?site=school-gym#visit-plan")
    assert not page.get_by_label("Visit").is_visible()

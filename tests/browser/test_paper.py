"""What is printed: whole pages, nothing cut at the edge, sheets no longer than they may be."""

import re
from io import BytesIO
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

import calculators
from tests.browser.conftest import Watched
from tests.browser.test_answer import STANDS

pytestmark = pytest.mark.browser

FORMATS = ("A4", "Letter")
# Paper less its margins (print.css: 14 mm each side) at 96 pixels to the inch.
NARROWEST = int((210 - 2 * 14) / 25.4 * 96)
WIDE = ("reference/coil-chart.html", "reference/fit-book.html", "products/index.html",
        "products/still-water.html", "reference/cabinet-tall-forty.html")  # fmt: skip


@pytest.mark.parametrize("paper", FORMATS)
def test_a_site_sheet_keeps_to_two_pages(paper: str, browser: Browser, site: Path) -> None:
    """With the tests and corrections of the fit book on it."""
    page = browser.new_page()
    page.goto((site / "sites" / "ferry-pier.html").as_uri())
    assert "tried here" in page.inner_text("article").lower()
    pages = re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper))
    page.close()
    assert len(pages) == 2


@pytest.mark.parametrize("name", WIDE)
def test_no_table_is_cut_at_the_edge_of_the_paper(name: str, browser: Browser, site: Path) -> None:
    """On the narrower of A4 and Letter no part reaches past the margin."""
    page = browser.new_page(viewport={"width": NARROWEST, "height": 1000})
    page.goto((site / name).as_uri())
    page.emulate_media(media="print")  # before, it may come to the new page only later
    cut = page.evaluate("""() => [...document.querySelectorAll("article :is(table, th, td, dl, p, figure, svg)")]
      .filter((part) => part.checkVisibility() && part.getBoundingClientRect().right > innerWidth + 1)
      .map((part) => part.outerHTML.slice(0, 90))""")
    page.close()
    assert cut == []


def test_paper_says_the_state_of_the_data_also_without_scripts(browser: Browser, site: Path) -> None:
    """As the style sheet of its own tells it."""
    page = browser.new_page(java_script_enabled=False)
    page.goto((site / "safety" / "emergency.html").as_uri())
    told = " ".join(leaf.extract_text() for leaf in PdfReader(BytesIO(page.pdf(format="A4"))).pages)
    page.close()
    state = (site / "assets" / "css" / "state.css").read_text("utf-8").split('"')[1]
    assert re.search(rf"edition .* · data {state} · Emergency", " ".join(told.split()))


SHEETS = ("take-delivery", "move-a-cabinet", "prove-the-outlet", "coin-unit", "warm-cabinet")


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_can_be_told_from_the_next(name: str, browser: Browser, site: Path) -> None:
    """Right borders lie inside the paper; the page is named; each link says where its page is."""
    page = browser.new_page(viewport={"width": NARROWEST, "height": 1000})
    page.goto((site / "procedures" / f"{name}.html").as_uri())
    page.emulate_media(media="print")
    edges = page.evaluate("""() => [...document.querySelectorAll(".hb-fill, .hb-signal")]
      .filter((part) => part.checkVisibility()).map((part) => part.getBoundingClientRect().right)""")
    drawn = page.evaluate("""() => [...document.querySelectorAll("figure.hb-drawing")]
      .map((part) => part.getBoundingClientRect().right)""")
    named = page.evaluate("() => getComputedStyle(document.body).page")
    bare = page.evaluate("""() => [...document.querySelectorAll("article a[href*='.html']:not([data-place], .hb-open)")]
      .map((link) => link.outerHTML)""")
    page.close()
    assert edges
    assert max(edges) <= NARROWEST - 1
    assert max(drawn) <= NARROWEST
    assert named == f"sheet-procedures-{name}"
    assert bare == []


@pytest.mark.parametrize("name", calculators.NAMES)
def test_an_answer_takes_two_sheets_at_most(name: str, watched: Watched, site: Path) -> None:
    """What was given, the answer and what was not checked; of the rest what the reader has opened, and it alone."""
    page = watched.page
    page.goto((site / "calculators" / f"{name}.html").as_uri())
    watched.wait(STANDS)
    for paper in FORMATS:
        short = len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper)))
        assert 1 <= short <= 2, paper
    page.emulate_media(media="print")
    said = page.inner_text("article")
    for shown in ("Before you rely on this", "Not checked here", "Worked out"):
        assert shown in said
    assert "Working, step by step" not in said
    assert not page.locator("article > h2").first.is_visible(), "of the page's own text nothing is printed"
    page.emulate_media(media="screen")
    page.click(".hb-details > summary:has-text('Working, step by step')")
    page.emulate_media(media="print")
    assert "Working, step by step" in page.inner_text("article")
    assert page.locator(".hb-working").first.is_visible()

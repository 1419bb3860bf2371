"""Everyday questions, each answered in at most three taps from the first page, without scrolling more than one screen.

A tap is a press on what leads on or chooses: a link, a button, a choice of a list, a fold. Typing into a box is none,
nor is choosing in a drop-down that is a form's own field. Where the reader is was said before: that is once a day.
Note jam, what a light means and a customer not paid out are read in `test_finding.py`, by the same rule.
"""

from __future__ import annotations

import copy
import re
from pathlib import Path
from typing import Any

import pytest

import calculators
from tests.browser.conftest import Watched
from tests.browser.taps import Reader, opened
from tests.browser.test_finding import SIZES
from tools.book.data import load
from tools.results import sites

pytestmark = pytest.mark.browser

SITE, KEY = "Ferry pier waiting hall", "ferry-pier"
READY = "document.querySelector('[data-calculator]')?.dataset.state === 'ready'"
STANDS = f"{READY} && !document.querySelector('[data-calculator]').hasAttribute('data-withdrawn')"
BAR = ".hb-bar"
DO = ".hb-todo"


@pytest.fixture(params=SIZES.values(), ids=SIZES.keys())
def screen(request: Any, browser: Any) -> Any:
    """A page of the size of a phone and of a desk, where nothing was stored."""
    width, height = request.param
    context = browser.new_context(viewport={"width": width, "height": height}, reduced_motion="reduce")
    yield Watched(context)
    context.close()


@pytest.fixture(scope="module")
def data() -> Any:
    return load(Path(__file__).parents[2] / "docs" / "data")


def brief(report: dict[str, Any]) -> str:
    """What a headline says behind its outcome: what the line at the edge tells in short."""
    return str(report["headline"]).split(". ", 1)[1]


def worked(name: str, inputs: dict[str, Any], units: str = "us") -> dict[str, Any]:
    return calculators.get(name).run({"units": units, "inputs": inputs})


def result(reader: Reader) -> None:
    """On a phone the line at the edge leads to the whole answer; on a desk it stands beside the form."""
    if reader.page.locator(BAR).is_visible():
        reader.tap(BAR)


def settled(reader: Reader, outcome: str) -> None:
    reader.watched.wait(f"{STANDS} && document.querySelector('[data-calculator]').dataset.outcome === '{outcome}'")


def head(reader: Reader) -> str:
    """The answer's first lines, or the line at the edge where that is what one sees."""
    return reader.read(BAR if reader.page.locator(BAR).is_visible() else ".hb-outcome")


def test_a_door_with_its_leaf_off(screen: Watched, site: Path) -> None:
    """The hall door of the example is as wide as what it takes; with the leaf off there is room."""
    inputs = copy.deepcopy(dict(calculators.get("clearance").example))
    inputs["route"][3] |= {"leaf_off": "yes", "leaf_ok": "yes"}
    native = worked("clearance", inputs)
    assert (native["outcome"], calculators.get("clearance").run({"units": "us", "inputs": calculators.get("clearance").example})["outcome"]) == ("pass", "caution")
    reader = Reader(screen, opened(site))
    page = reader.tap("a[href='calculators/clearance.html']", STANDS)
    row = page.locator(".hb-row").nth(3)
    reader.tap(row.locator("summary").first)
    reader.tap(row.locator(".hb-more > summary"))
    page.select_option("[name='route.3.leaf_off']", "yes")
    page.select_option("[name='route.3.leaf_ok']", "yes")
    settled(reader, "pass")
    said = head(reader)
    assert "1 3/4 in to spare" in said
    assert "1 3/4 in to spare" in brief(native)
    assert "room across" in said


def test_a_coil_for_a_bottle_out_of_our_own(screen: Watched, site: Path, data: Any) -> None:
    """62 × 200 mm: filled in from a product of ours, so that our coils and lanes stand there."""
    known = data.presets("spiral")[0]
    native = worked("spiral", known["inputs"] | {"diameter": "62 mm", "height": "200 mm"}, known["units"])
    best = next(each for each in native["actions"] if each.startswith("Best of your coils"))
    assert any(row["name"] in best for row in known["inputs"]["coils"])
    reader = Reader(screen, opened(site))
    page = reader.tap("a[href='calculators/spiral.html']", STANDS)
    page.select_option(".hb-presets select", label=known["name"])
    reader.tap("summary:has-text('Product')")
    page.fill("[name=diameter]", "62 mm")
    page.fill("[name=height]", "200 mm")
    settled(reader, native["outcome"])
    result(reader)
    assert best in reader.read(f"{DO} li:has-text('Best of your coils'), {DO} p:has-text('Best of your coils')")


def test_a_kettle_on_fifteen_amperes(screen: Watched, site: Path) -> None:
    """1500 W beside the cabinet: amperes over, as native Python counts them."""
    known = calculators.get("circuit").example
    native = worked("circuit", known | {"breaker": "15", "dedicated": "no", "loads": [{"name": "kettle", "watts": "1500"}]})
    reader = Reader(screen, opened(site))
    page = reader.tap("a[href='calculators/circuit.html']", STANDS)
    page.select_option("[name=breaker]", "15")
    page.select_option("[name=dedicated]", "no")
    reader.tap("summary:has-text('What else is on it')")
    reader.tap("[data-rows=loads] [data-do=add]")
    page.fill("[name='loads.0.name']", "kettle")
    page.fill("[name='loads.0.watts']", "1500")
    settled(reader, native["outcome"])
    said = head(reader)
    assert native["outcome"] == "stop"
    assert "10.13 A over" in brief(native)
    assert "10.13 A over" in said
    assert said.find("Stop") >= 0


def test_quarters_for_a_site(screen: Watched, site: Path, data: Any) -> None:
    """As many as the site's float asks for, out of its own table of rolls."""
    rolls = next(each for each in sites.work_out(data, KEY).reports["float"]["tables"] if each["key"] == "rolls")["rows"]
    amount, _, coins = next(row for row in rolls if row[1] == "Quarter")[:3]
    reader = Reader(screen, opened(site), at=SITE)
    reader.tap(".hb-tasks a[href='calculators/float.html']", STANDS)
    result(reader)
    assert reader.read(".hb-result tr:has(td:text-is('Quarter'))").startswith(f"{amount} Quarter {coins} ")


def test_half_a_bubble_to_the_left(screen: Watched, site: Path, data: Any) -> None:
    """The right side is to be raised, by about as much as native Python says."""
    machine = data.row("sites", KEY).typed["machine"]
    known = next(each for each in data.presets("level") if each["key"] == machine)
    native = worked("level", known["inputs"] | {"readings": [{"high": "left", "bubble": "half"}]}, known["units"])
    raised = next(each for each in native["actions"] if "raise the right" in each)
    reader = Reader(screen, opened(site), at=SITE)
    page = reader.tap(".hb-tasks a[href='calculators/level.html']", STANDS)
    page.locator("[data-rows=readings] [data-do=add]").wait_for()
    reader.tap("[data-rows=readings] [data-do=add]")
    page.select_option("[name='readings.0.high']", "left")
    page.select_option("[name='readings.0.bubble']", "half")
    settled(reader, native["outcome"])
    result(reader)
    assert raised in reader.read(f"{DO} li:has-text('raise the right')")


def test_forty_six_degrees(screen: Watched, site: Path) -> None:
    """Above the limit: out with it, and where a time plan covers it, until when."""
    reader = Reader(screen, opened(site))
    page = reader.tap(".hb-tasks a:has-text('It is too warm')")
    assert float(reader.read("article a:has-text('Above')").split()[1]) < 46
    assert "throw the food out" in reader.read("li:has(> strong > a:has-text('Above'))")
    assert "Stop all sales first" in reader.read("article p:has-text('Stop all sales first')")
    reader.tap("article a:has-text('Above')", "location.hash && document.querySelector(location.hash)")
    assert "Find the last cold reading" in reader.read(".hb-step:has(:text('Find the last cold reading'))")
    assert "keep it or throw it out" in reader.read("article :text('keep it or throw it out')")
    assert "4 hours" in reader.read(".hb-step:has(:text('where one covers the food'))")
    assert "above 41 °F" in reader.read(".hb-step:has(:text('for any time'))")
    assert page.url.split("#")[1] == "step-4"


def test_the_papers_of_day_one(screen: Watched, site: Path) -> None:
    """The pack of the first week, in both forms, each a file that is there."""
    reader = Reader(screen, opened(site))
    page = reader.tap(".hb-tasks a:has-text('Papers to print')")
    assert "First week" in reader.read("h2:has-text('First week')")
    for words in ("Short form", "Study form"):
        link = page.locator(f"#pack-first-week ~ ul >> nth=0 >> a:has-text('{words}')")
        assert words in reader.read(link)
        name = str(link.get_attribute("href")).removeprefix("../")
        assert (site / name).read_bytes().startswith(b"%PDF")


def test_what_to_take_to_a_site(screen: Watched, site: Path, data: Any) -> None:
    """The van list of the place where one is: its coins, and every coil of its plan."""
    reader = Reader(screen, opened(site), at=SITE)
    page = reader.tap(".hb-at-home a:has-text('What to take')", "document.querySelector('#van-list')?.getBoundingClientRect().top < innerHeight")
    assert "Van list" in reader.read("#van-list")
    shown = reader.read(".hb-van > div:has(h3:text('Coins'))")
    assert re.search(r"[1-9] rolls?, quarter", shown)
    assert "coils" in reader.read(".hb-van > div:has(h3:text('Coils')) h3").lower()
    assert page.url.split("?")[0].split("#")[0].endswith(f"sites/{KEY}.html")


OVER = "dialog[open] [data-calculator]"
OVER_STANDS = f"document.querySelector('{OVER}')?.dataset.state === 'ready' && !document.querySelector('{OVER}').hasAttribute('data-withdrawn')"


def test_a_coil_changed_while_ticking(screen: Watched, site: Path) -> None:
    """The ticks stay, and the answer of another coil stands in the row and in the record."""
    reader = Reader(screen, opened(site))
    page = reader.tap(".hb-tasks a:has-text('Choose a coil and load')", "document.querySelector('.hb-step .hb-tick') && document.querySelector('.hb-open')")
    for number in (0, 1):
        page.locator(".hb-step .hb-tick").nth(number).check()
    row = page.locator("[data-calculator-row=spiral]").first
    row.scroll_into_view_if_needed()
    reader.stood = page.evaluate("scrollY")  # reading down the steps, ticking them
    reader.tap(row.locator(".hb-open"), OVER_STANDS)
    before = page.inner_text("dialog[open] .hb-outcome")
    page.fill("dialog[open] [name=coil_count]", "5")
    screen.wait(f"{OVER_STANDS} && document.querySelector('dialog[open] .hb-outcome').innerText !== {before!r}")
    outcome = page.locator("dialog[open] .hb-outcome .hb-badge").inner_text().split("\n")[-1].strip()
    reader.tap("dialog[open] .hb-back", "!document.querySelector('dialog[open]')")
    assert outcome in reader.read(row.locator(".hb-last"))
    assert [page.locator(".hb-step .hb-tick").nth(number).is_checked() for number in (0, 1, 2)] == [True, True, False]
    assert page.input_value("[data-answer=spiral] textarea").startswith(f"{outcome}. ")

"""Every page of the built handbook under axe-core, light and dark, on a phone and a desk."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

import calculators
from tests.browser.conftest import until

ROOT = Path(__file__).parent.parent.parent
AXE = ROOT / "node_modules" / "axe-core" / "axe.min.js"
WIDTHS = {"phone": 360, "desk": 1280}
# Served, never opened from a folder; its parts are the theme's.
NEVER_OPENED = "404.html"
# What the theme calls a scheme, and what a page shows of it.
NAMES = {"light": "default", "dark": "slate"}
SHOWN = "document.body.getAttribute('data-md-color-scheme')"
# The rules that look at colours: all others find the same in the dark as in the light.
COLOURS = ["color-contrast", "link-in-text-block"]
# The search dialog lies over the page when it is open; it is checked open, below.
RUN = """async (only) => {
  const { violations } = await axe.run(document, { resultTypes: ["violations"], preload: false, ...only });
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target} ${failureSummary}`));
}"""
# No page finds what the one before it left: a scheme that was chosen, a tick, a place.
FORGET = "if (location.protocol === 'file:') { localStorage.clear(); sessionStorage.clear(); }"
# Parts that are wider than their place and take no focus from the keyboard: nobody scrolls those without a mouse.
LOST = """() => [...document.querySelectorAll("article *")]
  .filter((part) => ["auto", "scroll"].includes(getComputedStyle(part).overflowX))
  .filter((part) => part.scrollWidth > part.clientWidth + 1)
  .filter((part) => part.tabIndex < 0)
  .map((part) => part.outerHTML.slice(0, 120))"""


@pytest.fixture(scope="module")
def axe() -> str:
    """The source of axe-core."""
    assert AXE.is_file(), f"{AXE} is missing: run `npm ci --ignore-scripts` in {ROOT}"
    return AXE.read_text(encoding="utf-8")


@pytest.fixture(scope="module", params=WIDTHS.values(), ids=WIDTHS.keys())
def narrow_or_wide(request, browser: Browser) -> Iterator[BrowserContext]:
    """What a screen of one width opens pages in."""
    context = screen(browser, request.param)
    yield context
    context.close()


@pytest.fixture
def page(narrow_or_wide: BrowserContext) -> Iterator[Page]:
    """A page of one width that nothing was stored for, light at first."""
    page = narrow_or_wide.new_page()
    yield page
    page.close()


def screen(browser: Browser, width: int, scheme: str = "light") -> BrowserContext:
    """A screen on which all is at rest: a colour half faded in is no finding.

    The policy is set aside for axe-core alone, which the page itself may not load.
    """
    context = browser.new_context(bypass_csp=True, color_scheme=scheme, reduced_motion="reduce", viewport={"width": width, "height": 800})
    context.add_init_script(FORGET)
    return context


def faults(page: Page, axe: str, scheme: str = "") -> list[str]:
    """Return what axe-core finds wrong with the page as it stands; told a scheme, with its colours in that scheme."""
    if scheme:
        switch(page, scheme)
    elif not page.evaluate("'axe' in window"):
        page.evaluate(axe)
    return page.evaluate(RUN, {"runOnly": COLOURS} if scheme else {})


def in_both(page: Page, axe: str) -> list[str]:
    """Return what is wrong with the page, or with its colours in the dark; it is light again afterwards."""
    found = [*faults(page, axe), *faults(page, axe, "dark")]
    switch(page, "light")
    return found


def switch(page: Page, scheme: str) -> None:
    """Change the scheme where a reader does, which needs no other page: another test compares it with one loaded so."""
    page.emulate_media(color_scheme=scheme)
    page.evaluate("name => document.querySelector(`input[data-md-color-scheme=${name}]`)?.click()", NAMES[scheme])
    settle(page)
    assert page.evaluate(SHOWN) in (None, NAMES[scheme])


def pages_of(site: Path) -> list[Path]:
    """Every page but those that one template makes by the dozen: of them every eighth, and those that are looked at narrow."""
    cards = sorted((site / "products").glob("*.html"))
    left_out = {card for number, card in enumerate(cards) if number % 8} - {site / name for name in SAMPLE}
    return [path for path in sorted(site.rglob("*.html")) if path not in left_out and path.name != NEVER_OPENED]


def settle(page: Page) -> None:
    """Wait until scripts have run, the theme's own too, and what watches the layout has seen it."""
    page.wait_for_load_state("load")
    until(lambda: page.evaluate("document.documentElement.classList.contains('js')"), "the theme's script")
    page.evaluate("""async () => { for (let frame = 0; frame < 3; frame++) await new Promise(requestAnimationFrame);
      await Promise.all(document.getAnimations()
        .filter((each) => each.effect.getComputedTiming().endTime < Infinity).map((each) => each.finished.catch(() => {}))); }""")


# Nothing is on its way any more, where the page holds a calculator that the reader sees.
ANSWERED = "!document.querySelector('[data-calculator]:is([data-state=loading], [aria-busy])')"
# All that a reader meets, and where: what a page switched to another width or scheme has to share with one loaded so.
STANDS = """() => [...document.querySelectorAll("body, body *:not(script)")].filter((each) => each.checkVisibility()).map((each) => {
  const [{ left, top, width, height }, { color, backgroundColor }] = [each.getBoundingClientRect(), getComputedStyle(each)];
  return `${each.tagName} ${each.id} ${each.className} ${[left, top, width, height].map(Math.round)} ${color} ${backgroundColor}`; })"""
WIDER = "document.documentElement.scrollWidth > innerWidth"
OPEN_ALL = "document.querySelectorAll('article details').forEach((each) => (each.open = true))"


@pytest.fixture(scope="module")
def walked(browser: Browser, site: Path, axe: str) -> dict[str, list[str]]:
    """What is wrong with which pages, by what it is: each page is opened once, then turned to the other width and scheme.

    A phone in the light and a desk in the dark see every page under all rules; the two other pairs of them, which could
    only differ in the colours of what one width alone shows, see the colours of every third. Every other page is
    opened on the phone, the rest on the desk.
    """
    found: dict[str, list[str]] = defaultdict(list)
    context = screen(browser, WIDTHS["phone"])
    page = context.new_page()
    for number, path in enumerate(pages_of(site)):
        name = path.relative_to(site).as_posix()
        ways = [("phone", "light"), ("desk", "dark")]
        for first, (width, scheme) in enumerate(ways if number % 2 else ways[::-1]):
            page.set_viewport_size({"width": WIDTHS[width], "height": 800})
            if not first:
                load(page, path, scheme)
            else:
                switch(page, scheme)
            assert page.evaluate(SHOWN) in (None, NAMES[scheme])
            found["axe"] += [f"{name} {width}: {fault}" for fault in faults(page, axe)]
            found["lost"] += [f"{name} {width}: {part}" for part in page.evaluate(LOST)]
            found["wide"] += [f"{name} {width}"] * page.evaluate(WIDER)
            if number % 3 == 0:
                found["axe"] += [f"{name} {width}, other colours: {fault}" for fault in faults(page, axe, OTHER[scheme])]
        if name in SAMPLE:
            found["narrow"] += [name] * narrowed(page)
        found["seen"].append(name)
    context.close()
    return found


OTHER = {"light": "dark", "dark": "light"}


def load(page: Page, path: Path, scheme: str) -> None:
    """Open a page in a scheme, with the answer of what it holds."""
    page.emulate_media(color_scheme=scheme)
    page.goto(path.as_uri())
    settle(page)
    until(lambda: page.evaluate(ANSWERED), "the answer")


@pytest.mark.slow
@pytest.mark.timeout(7200)  # a net, as in pyproject.toml, for a hundred pages in place of one
def test_no_page_has_a_fault(walked: dict[str, list[str]], site: Path) -> None:
    """axe-core finds nothing, on any page, in any scheme, on a phone and a desk."""
    assert walked["axe"] == []
    assert len(walked["seen"]) == len(pages_of(site)) > 90


def test_what_scrolls_can_be_reached(walked: dict[str, list[str]]) -> None:
    """No page is wider than the screen, and what scrolls in it takes the focus."""
    assert walked["wide"] == []
    assert walked["lost"] == []


@pytest.mark.parametrize("name", ["index.html", "procedures/set-the-spot.html", "sites/ferry-pier.html", "calculators/clearance.html"])
def test_a_page_that_is_turned_is_one_that_was_loaded_so(name: str, browser: Browser, site: Path) -> None:
    """To the other width and scheme, from either: all stands where it would, in the colours it would have."""
    turned, wide = screen(browser, WIDTHS["phone"]), screen(browser, WIDTHS["desk"], "dark")
    page, other = turned.new_page(), wide.new_page()
    load(page, site / name, "light")
    load(other, site / name, "dark")
    phone, desk = page.evaluate(STANDS), other.evaluate(STANDS)
    page.set_viewport_size({"width": WIDTHS["desk"], "height": 800})
    switch(page, "dark")
    other.set_viewport_size({"width": WIDTHS["phone"], "height": 800})
    switch(other, "light")
    assert len(phone) > 50
    assert phone != desk
    assert page.evaluate(STANDS) == desk
    assert other.evaluate(STANDS) == phone
    turned.close()
    wide.close()


def test_a_half_filled_checklist_has_no_fault(page, site, axe):
    """Some steps ticked, the record begun, the fold with its buttons open."""
    page.goto((site / "procedures" / "level-and-bear.html").as_uri())
    page.locator(".hb-checklist summary").click()
    page.fill(".hb-checklist-who input", "Route keeper")
    for number in (1, 2, 10):
        page.check(f".hb-step:nth-child({number}) .hb-tick")
    page.fill(".hb-record textarea >> nth=0", "by the east wall")
    settle(page)
    assert page.locator(".hb-done").count() == 3
    assert in_both(page, axe) == []


def test_a_calculator_without_an_answer_has_no_fault(page, site, axe):
    """A link refused, a value that cannot be read: notice, errors at their fields, buttons that wait."""
    page.goto((site / "calculators" / "clearance.html").as_uri() + "#inputs=broken")
    page.fill("[name=cabinet_width]", "wide")
    page.locator(".hb-wrong").wait_for()
    page.evaluate("location.hash = '#inputs=broken-too'")
    page.locator(".hb-notice:not([hidden])").wait_for()
    settle(page)
    assert page.locator(".hb-pending").count() == 1
    assert in_both(page, axe) == []
    assert not page.evaluate(WIDER)


def test_the_open_search_has_no_fault(page, site, axe):
    """The search dialog with hits in it."""
    page.goto((site / "index.html").as_uri())
    settle(page)
    page.keyboard.press("s")
    page.keyboard.type("cabinet")
    page.locator(".md-search-result__item").first.wait_for()
    settle(page)
    assert in_both(page, axe) == []


def test_the_open_menu_has_no_fault(page, site, axe):
    """The drawer, which a phone shows, opened from the keyboard."""
    page.goto((site / "index.html").as_uri())
    settle(page)
    opener = page.get_by_role("button", name="Menu", exact=True)
    assert opener.is_visible() == (page.viewport_size["width"] == WIDTHS["phone"])
    if not opener.is_visible():
        return  # a desk shows the menu at all times
    shown = page.locator(".md-sidebar--primary a:visible")
    assert shown.count() == 0
    opener.focus()
    page.keyboard.press("Space")
    settle(page)
    assert opener.get_attribute("aria-expanded") == "true"
    assert shown.count() > 0
    assert in_both(page, axe) == []
    page.keyboard.press("Escape")
    settle(page)
    assert (shown.count(), opener.get_attribute("aria-expanded")) == (0, "false")


def test_the_search_opens_from_a_button(page, site):
    """On a phone the search is behind a button; it opens with the field focused."""
    page.goto((site / "index.html").as_uri())
    settle(page)
    opener = page.get_by_role("button", name="Search", exact=True)
    assert opener.is_visible() == (page.viewport_size["width"] == WIDTHS["phone"])
    if opener.is_visible():
        opener.focus()
        page.keyboard.press("Enter")
        settle(page)
        assert page.evaluate("document.activeElement.name") == "query"


def test_targets_of_the_frame_are_large_enough(page, site):
    """The header's buttons, tabs and the menu's links are 44 px high at least."""
    page.goto((site / "index.html").as_uri())
    settle(page)
    small = page.evaluate("""() => [...document.querySelectorAll(
        ".md-header__button, .md-tabs__link, .hb-emergency, .md-nav__link:not(.md-nav__container)")]
      .filter((part) => part.checkVisibility())
      .filter((part) => part.getBoundingClientRect().height < 43.5)
      .map((part) => `${part.outerHTML.slice(0, 90)} ${part.getBoundingClientRect().height}`)""")
    assert small == []


def test_a_calculator_over_a_procedure_has_no_fault(page, site, axe):
    """Opened from its row, with every fold open, and closed again with its answer in the row."""
    page.goto((site / "procedures" / "set-the-spot.html").as_uri())
    page.click(".hb-open")
    over = "document.querySelector('dialog [data-calculator]')"
    until(lambda: page.evaluate(f"{over}?.dataset.state === 'ready' && !{over}.hasAttribute('aria-busy')"), "the answer")
    page.evaluate("document.querySelectorAll('dialog details').forEach((each) => (each.open = true))")
    settle(page)
    assert in_both(page, axe) == []
    assert not page.evaluate("document.querySelector('dialog').scrollWidth > document.querySelector('dialog').clientWidth")
    page.fill("dialog [name=rear_gap]", "1")
    until(lambda: page.evaluate(f"{over}.dataset.outcome === 'stop'"), "the answer")
    page.click(".hb-back")
    settle(page)
    assert in_both(page, axe) == []


def test_the_choice_of_a_place_has_no_fault(page, site, axe):
    page.goto((site / "index.html").as_uri())
    settle(page)
    page.click(".hb-here")
    page.wait_for_selector(".hb-where-one")
    assert in_both(page, axe) == []
    page.click(".hb-where-one:has-text('Library foyer')")
    settle(page)
    assert in_both(page, axe) == []


NARROW = 320  # pixels: what is left of 1,280 at 400 %
SAMPLE = ("index.html", "procedures/set-the-spot.html", "procedures/find-a-fault.html", "sites/ferry-pier.html",
          "reference/coil-chart.html", "learn/packs.html", "learn/drills.html", "products/still-water.html",
          *(f"calculators/{name}.html" for name in calculators.NAMES))  # fmt: skip


def narrowed(page: Page) -> bool:
    """Whether the page, at 400 % and with all of it open, is wider than the screen."""
    page.set_viewport_size({"width": NARROW, "height": 256})
    settle(page)
    page.evaluate(OPEN_ALL)
    return page.evaluate(WIDER)


def test_at_four_hundred_percent_nothing_scrolls_sideways(walked: dict[str, list[str]]) -> None:
    """With everything open; a wide table scrolls by itself."""
    assert walked["narrow"] == []
    assert set(SAMPLE) <= set(walked["seen"])


def test_in_forced_colours_outcomes_and_boxes_can_be_told(browser: Browser, site: Path):
    """A reader's own colours leave signs, borders and the ring of the focus."""
    context = browser.new_context(forced_colors="active", viewport={"width": 390, "height": 844})
    opened = context.new_page()
    opened.goto((site / "calculators" / "clearance.html").as_uri())
    settle(opened)
    assert opened.evaluate("matchMedia('(forced-colors: active)').matches")
    edges = opened.evaluate("""() => ["[name=cabinet_width]", ".hb-bar", ".hb-part", ".hb-outcome", ".hb-sign"].map((part) => {
      const style = getComputedStyle(document.querySelector(part));
      return [part, parseFloat(style.borderTopWidth) > 0 && style.borderTopStyle !== "none"]; })""")
    assert [part for part, has_edge in edges if not has_edge] == []
    opened.focus("[name=cabinet_width]")
    ring = opened.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    context.close()
    assert ring != "none"

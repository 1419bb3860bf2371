"""Every page of the built handbook under axe-core, light and dark, on a phone and a desk."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import calculators
from tests.browser.conftest import until

ROOT = Path(__file__).parent.parent.parent
AXE = ROOT / "node_modules" / "axe-core" / "axe.min.js"
WIDTHS = {"phone": 360, "desk": 1280}
# Served, never opened from a folder; its parts are the theme's.
NEVER_OPENED = "404.html"
# The search dialog lies over the page when it is open; it is checked open, below.
RUN = """async () => {
  const { violations } = await axe.run(document, { resultTypes: ["violations"], preload: false });
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target} ${failureSummary}`));
}"""


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


@pytest.fixture(params=["light", "dark"])
def scheme(request) -> str:
    """Light or dark."""
    return request.param


@pytest.fixture(params=WIDTHS.values(), ids=WIDTHS.keys())
def page(request, browser: Browser, scheme: str):
    """A page of one width and scheme, at rest: a colour half faded in is no finding.

    The policy is set aside for axe-core alone, which the page itself may not load.
    """
    context = browser.new_context(
        bypass_csp=True,
        color_scheme=scheme,
        reduced_motion="reduce",
        viewport={"width": request.param, "height": 800},
    )
    yield context.new_page()
    context.close()


def faults(page: Page, axe: str) -> list[str]:
    """Return what axe-core finds wrong with the page as it stands."""
    page.evaluate(axe)
    return page.evaluate(RUN)


def pages_of(site: Path) -> list[Path]:
    """Every page but those that one template makes by the dozen: of them every eighth."""
    cards = sorted((site / "products").glob("*.html"))
    left_out = {card for number, card in enumerate(cards) if number % 8}
    return [path for path in sorted(site.rglob("*.html")) if path not in left_out and path.name != NEVER_OPENED]


def settle(page: Page) -> None:
    """Wait until scripts have run, the theme's own too, and what watches the layout has seen it."""
    page.wait_for_load_state("load")
    until(lambda: page.evaluate("document.documentElement.classList.contains('js')"), "the theme's script")
    page.evaluate("""async () => { for (let frame = 0; frame < 3; frame++) await new Promise(requestAnimationFrame);
      await Promise.all(document.getAnimations()
        .filter((each) => each.effect.getComputedTiming().endTime < Infinity).map((each) => each.finished.catch(() => {}))); }""")


@pytest.mark.slow
@pytest.mark.timeout(7200)  # a net, as in pyproject.toml, for a hundred pages in place of one
def test_no_page_has_a_fault(page, site, axe, scheme):
    """axe-core finds nothing, on any page; no page is wider than the screen, and what scrolls in it can be reached.

    Each width and each scheme sees every page; the two other pairs of them, which could only differ in the
    colours of what one width alone shows, see every third.
    """
    wrong = []
    both = (page.viewport_size["width"] == WIDTHS["phone"]) == (scheme == "light")
    for path in pages_of(site)[:: 1 if both else 3]:
        page.goto(path.as_uri())
        settle(page)
        name = path.relative_to(site).as_posix()
        shown = page.evaluate("document.body.getAttribute('data-md-color-scheme')")
        assert shown in (None, {"light": "default", "dark": "slate"}[scheme])
        wrong += [f"{name}: {fault}" for fault in faults(page, axe)]
        wrong += [f"{name}: cannot be reached: {part}" for part in page.evaluate(LOST)]
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            wrong.append(f"{name}: wider than the screen")
    assert wrong == []


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
    assert faults(page, axe) == []


def test_a_calculator_without_an_answer_has_no_fault(page, site, axe):
    """A link refused, a value that cannot be read: notice, errors at their fields, buttons that wait."""
    page.goto((site / "calculators" / "clearance.html").as_uri() + "#inputs=broken")
    page.fill("[name=cabinet_width]", "wide")
    page.locator(".hb-wrong").wait_for()
    page.evaluate("location.hash = '#inputs=broken-too'")
    page.locator(".hb-notice:not([hidden])").wait_for()
    settle(page)
    assert page.locator(".hb-pending").count() == 1
    assert faults(page, axe) == []
    assert not page.evaluate("document.documentElement.scrollWidth > innerWidth")


def test_the_open_search_has_no_fault(page, site, axe):
    """The search dialog with hits in it."""
    page.goto((site / "index.html").as_uri())
    settle(page)
    page.keyboard.press("s")
    page.keyboard.type("cabinet")
    page.locator(".md-search-result__item").first.wait_for()
    settle(page)
    assert faults(page, axe) == []


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
    assert faults(page, axe) == []
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
    assert faults(page, axe) == []
    assert not page.evaluate("document.querySelector('dialog').scrollWidth > document.querySelector('dialog').clientWidth")
    page.fill("dialog [name=rear_gap]", "1")
    until(lambda: page.evaluate(f"{over}.dataset.outcome === 'stop'"), "the answer")
    page.click(".hb-back")
    settle(page)
    assert faults(page, axe) == []


def test_the_choice_of_a_place_has_no_fault(page, site, axe):
    page.goto((site / "index.html").as_uri())
    settle(page)
    page.click(".hb-here")
    page.wait_for_selector(".hb-where-one")
    assert faults(page, axe) == []
    page.click(".hb-where-one:has-text('Library foyer')")
    settle(page)
    assert faults(page, axe) == []


NARROW = 320  # pixels: what is left of 1,280 at 400 %
SAMPLE = ("index.html", "procedures/set-the-spot.html", "procedures/find-a-fault.html", "sites/ferry-pier.html",
          "reference/coil-chart.html", "learn/packs.html", "learn/drills.html", "products/still-water.html",
          *(f"calculators/{name}.html" for name in calculators.NAMES))  # fmt: skip


def test_at_four_hundred_percent_nothing_scrolls_sideways(browser: Browser, site: Path):
    """With everything open; a wide table scrolls by itself."""
    context = browser.new_context(viewport={"width": NARROW, "height": 256})
    opened = context.new_page()
    wide = []
    for name in SAMPLE:
        opened.goto((site / name).as_uri())
        settle(opened)
        opened.evaluate("document.querySelectorAll('article details').forEach((each) => (each.open = true))")
        if opened.evaluate("document.documentElement.scrollWidth > innerWidth"):
            wide.append(name)
    context.close()
    assert wide == []


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

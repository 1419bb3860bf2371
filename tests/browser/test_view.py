"""The answer in view: on a phone and on a desk, light and dark, at load, after a change, with everything open."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import calculators
from tests.browser.conftest import Watched
from tests.browser.test_accessibility import switch
from tests.browser.test_answer import STANDS

pytestmark = pytest.mark.browser

PHONE, DESK = (390, 844), (1280, 900)
# Where an outcome can be read: the line at the edge of a narrow screen, the head of the answer beside a wide form.
IN_VIEW = """() => [...document.querySelectorAll(".hb-bar .hb-badge, .hb-outcome .hb-badge")].some((badge) => {
  const { top, bottom, left, right, width } = badge.getBoundingClientRect();
  if (!width || top < 0 || bottom > innerHeight || left < 0 || right > innerWidth) return false;
  const seen = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return badge === seen || badge.contains(seen); })"""
OPEN_ALL = "document.querySelectorAll('.hb-form details').forEach((each) => (each.open = true))"
# From the first box of the short form to the last, groups that are closed left out.
FIRST = """() => { const boxes = [...document.querySelectorAll(".hb-form > .hb-group, .hb-form > .hb-part[open]")];
  const edges = boxes.map((each) => each.getBoundingClientRect());
  return Math.max(...edges.map((each) => each.bottom)) - Math.min(...edges.map((each) => each.top)); }"""
ROOM = """() => innerHeight - document.querySelector(".md-header").getBoundingClientRect().height
  - document.querySelector(".hb-bar").getBoundingClientRect().height"""


@pytest.fixture(params=[PHONE, DESK], ids=["phone", "desk"])
def screen(request: Any, browser: Any) -> Iterator[Watched]:
    """A page of a phone or of a desk, light at first."""
    width, height = request.param
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme="light")
    yield Watched(context)
    context.close()


def opened(watched: Watched, site: Path, name: str) -> Any:
    watched.page.goto((site / "calculators" / f"{name}.html").as_uri())
    watched.wait("document.querySelector('[data-calculator]').dataset.state === 'ready'")
    watched.wait(STANDS)
    return watched.page


# Tables that are wider than a phone, all folds open.
SIDEWAYS = """() => { document.querySelectorAll(".hb-answer details").forEach((each) => (each.open = true));
  return [...document.querySelectorAll(".hb-answer .hb-scroll")]
    .map((each) => [each.getAttribute("aria-label"), each.scrollWidth - each.clientWidth]); }"""


@pytest.mark.parametrize("name", calculators.NAMES)
def test_no_table_of_an_answer_needs_a_thumb_to_push_it_sideways(name: str, browser: Any, site: Path) -> None:
    """On a phone a wide one is a few short lines a row."""
    context = browser.new_context(viewport={"width": PHONE[0], "height": PHONE[1]})
    tables = opened(Watched(context), site, name).evaluate(SIDEWAYS)
    assert [each for each in tables if each[1] > 1] == []
    context.close()


@pytest.mark.parametrize("name", calculators.NAMES)
def test_the_outcome_is_on_the_screen(name: str, screen: Watched, site: Path) -> None:
    """At load, with every group open wherever one is in the form, and after a change; in either scheme.

    The first boxes take one screen of a phone.
    """
    page = opened(screen, site, name)
    assert page.evaluate(IN_VIEW)
    if page.viewport_size["width"] == PHONE[0]:
        assert 100 < page.evaluate(FIRST) <= page.evaluate(ROOM)
    switch(page, "dark")
    screen.wait(f"({IN_VIEW})()")
    page.evaluate(OPEN_ALL)
    wherever(screen)
    page.evaluate("scrollTo(0, 0)")
    page.click("[data-do=example]")
    screen.wait(STANDS)
    screen.wait(f"({IN_VIEW})()")
    switch(page, "light")
    screen.wait(f"({IN_VIEW})()")
    wherever(screen)


def wherever(watched: Watched) -> None:
    """The outcome is on the screen at the form's first box, its middle one and its last."""
    boxes = watched.page.locator(".hb-form input[type=text]:visible")
    for number in (0, boxes.count() // 2, boxes.count() - 1):
        boxes.nth(number).scroll_into_view_if_needed()
        watched.wait(f"({IN_VIEW})()")


# The room between the line of one step and that of the next, of a page of steps.
GAPS = """() => { const lines = [...document.querySelectorAll(".hb-step-line")].map((each) => each.getBoundingClientRect());
  return lines.slice(1).map((each, at) => each.top - lines[at].bottom).filter((each) => each < 1e5); }"""

# At each place of a page: what can be pressed is what one meets there. A bar at an edge, as wide as its column and not
# to be seen through, ends the screen; anything else that lies over a control hides it.
COVERED = """() => { const found = [];
  const edges = () => { const header = document.querySelector(".md-header").getBoundingClientRect();
    const bar = document.querySelector(".hb-bar")?.getBoundingClientRect();
    return [Math.max(0, header.bottom), bar?.height && bar.bottom >= innerHeight - 1 && bar.top > 0 ? bar.top : innerHeight]; };
  const controls = [...document.querySelectorAll("article :is(a[href], button, input, select, textarea, summary)")]
    .filter((each) => each.checkVisibility({ visibilityProperty: true }) && !each.closest(".hb-bar, .md-header, .hb-visually-hidden"));
  for (let at = 0; at <= document.body.scrollHeight; at += innerHeight * 0.7) {
    scrollTo(0, at);
    const [top, bottom] = edges();
    for (const each of controls) {
      const box = each.getBoundingClientRect();
      if (box.bottom < top + 6 || box.top > bottom - 6) continue; // off the screen: nothing to look for
      const holder = each.closest(".hb-scroll, .hb-answer, .md-typeset__scrollwrap")?.getBoundingClientRect();
      const [low, high] = [Math.max(box.top, top, holder?.top ?? 0), Math.min(box.bottom, bottom, holder?.bottom ?? innerHeight)];
      const [left, right] = [Math.max(box.left, holder?.left ?? 0), Math.min(box.right, innerWidth, holder?.right ?? innerWidth)];
      if (high - low < 6 || right - left < 6) continue;
      const seen = document.elementFromPoint((left + right) / 2, (low + high) / 2);
      if (seen && (each.contains(seen) || seen.contains(each) || seen.closest("label")?.contains(each))) continue;
      if (each.getClientRects().length > 1) continue; // a link over two lines has its middle beside it
      found.push(`${Math.round(at)}: ${each.outerHTML.slice(0, 80)} under ${seen?.outerHTML.slice(0, 80)}`);
    }
  }
  return found; }"""


@pytest.fixture(scope="module")
def walked(browser: Any, site: Path) -> dict[str, dict[str, Any]]:
    """What lies over controls, and the room between steps: each page is opened on a phone or a desk and turned to the other."""
    found: dict[str, dict[str, Any]] = {"covered": {}, "gaps": {}}
    page = browser.new_page()
    for number, path in enumerate(paths_of(site)):
        name = path.relative_to(site).as_posix()
        for at, size in enumerate((PHONE, DESK)[:: -1 if number % 2 else 1]):
            page.set_viewport_size({"width": size[0], "height": size[1]})
            if not at:
                page.goto(path.as_uri())
            if covered := page.evaluate(COVERED):
                found["covered"][f"{name} {size[0]}"] = covered[:3]
            if size == PHONE and path.parent.name == "procedures":
                found["gaps"][name] = page.evaluate(GAPS)
    page.close()
    return found


def paths_of(site: Path) -> list[Path]:
    """Every page."""
    return [path for path in sorted(site.rglob("*.html")) if "licenses" not in path.parts]


def test_steps_stand_within_a_screen_of_each_other(walked: dict[str, dict[str, Any]]) -> None:
    """Cautions, drawings, tables and calculators between them counted, on a phone."""
    far = {name: round(max(gaps)) for name, gaps in walked["gaps"].items() if gaps and max(gaps) > PHONE[1]}
    assert sum(map(len, walked["gaps"].values())) > 200
    assert far == {}


def test_nothing_lies_over_a_control(walked: dict[str, dict[str, Any]], site: Path) -> None:
    """Every page, wherever it is scrolled to."""
    assert walked["covered"] == {}
    assert len(paths_of(site)) > 80


def test_what_lies_over_a_control_is_found(watched: Watched, site: Path) -> None:
    page = watched.page
    page.goto((site / "procedures" / "visit.html").as_uri())
    assert page.evaluate(COVERED) == []
    page.evaluate("""() => { const over = document.createElement("div"); over.id = "over"; document.body.append(over);
      for (const [key, value] of Object.entries({ position: "fixed", inset: "30% 0 30% 0", zIndex: 9, background: "red" })) {
        over.style[key] = value; } }""")
    assert page.evaluate(COVERED)

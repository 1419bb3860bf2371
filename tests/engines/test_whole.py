"""The whole handbook as one file, in each engine: one opened file answers for all that a reader does with it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import nullcontext
from pathlib import Path

import pytest

import calculators
from calculators.core.html import unbroken
from tests.engines.page import Page, tab
from tests.engines.test_calculators import STATE
from tests.engines.test_found import LAST, RECORD, SITE, STOPPED, at, choose, open_row
from tools.editions import whole as edition

pytestmark = pytest.mark.browser

HOME = "What are you about to do?"
LEVEL = "procedures/level-and-bear.html"
TICKED = "[...document.querySelectorAll('.hb-tick')].filter((each) => each.checked).length"
# What the page has fetched, whoever asked for it; workers begin out of its own memory.
FETCHED = "performance.getEntriesByType('resource').map(({ name }) => name).filter((name) => !name.startsWith('blob:'))"
# A script that the file does not bring along, and what one that ran would leave.
STRANGER = """(() => {
  document.head.append(Object.assign(document.createElement("script"), { textContent: "window.hasRun = true" }));
  return window.hasRun ?? false;
})()"""


@pytest.fixture(params=["firefox", "webkit"])
def page(request: pytest.FixtureRequest, whole: Path) -> Iterator[Page]:
    engine = request.getfixturevalue(request.param)
    with tab(engine) if request.param == "firefox" else nullcontext(engine) as wire:
        yield Page(wire, whole.parent)


def test_one_file_is_the_handbook(page: Page) -> None:
    page.open(edition.NAME)
    comes(page, "index.html", HOME)
    page.evaluate("void (window.stays = true)")
    calculates(page)
    works_out_for_a_step_at_the_place_chosen(page)
    finds(page)
    keeps_what_was_ticked(page)
    assert page.evaluate("window.stays"), "the window was never left"
    leads_to_a_step(page)
    assert page.evaluate(STRANGER) is False
    assert page.evaluate(FETCHED) == []


def comes(page: Page, path: str, title: str) -> None:
    """A page is in view, under its address and its one title."""
    page.wait(f"location.hash.startsWith('#!/{path}') && document.title.startsWith({title!r}) && document.querySelector('article h1')")
    assert page.evaluate("document.querySelectorAll('head title').length") == 1


def calculates(page: Page) -> None:
    """By links from the first page, Back and on to another one, with what native Python says."""
    page.click(".md-tabs a[href*='calculators/index.html']")
    comes(page, "calculators/index.html", "Work it out")
    page.click("article a[href*='clearance.html']")
    answers(page, "clearance")
    page.back()
    comes(page, "calculators/index.html", "Work it out")
    page.click("article a[href*='circuit.html']")
    answers(page, "circuit")
    for name in calculators.NAMES:
        page.evaluate("void (location.hash = arguments[0])", f"#!/calculators/{name}.html")
        answers(page, name)


def answers(page: Page, name: str) -> None:
    page.wait(f"document.querySelector('[data-calculator={name}]') && ['ready', 'failed'].includes({STATE})")
    assert page.evaluate(STATE) == "ready", page.text(".hb-status")
    found = calculators.get(name)
    native = found.run({"units": found.example_units, "inputs": dict(found.example)})
    assert page.text(".hb-headline") == unbroken(native["headline"].split(". ", 1)[-1])


def finds(page: Page) -> None:
    page.type(".md-search__input", "level and bear")
    page.wait("document.querySelectorAll('.md-search-result__item').length")
    page.click(".md-search-result__link[href*='procedures/level-and-bear.html']")
    comes(page, LEVEL, "Level and bear")
    page.wait("document.querySelectorAll('article mark').length")


def keeps_what_was_ticked(page: Page) -> None:
    """Over another page, and over a reload."""
    page.click(".hb-step:nth-child(1) .hb-tick")
    page.click(".hb-step:nth-child(3) .hb-tick")
    page.click(".hb-emergency")
    comes(page, "safety/emergency.html", "Emergency")
    assert page.evaluate(TICKED) == 0
    page.back()
    comes(page, LEVEL, "Level and bear")
    page.wait(f"document.querySelector('.hb-checklist') && {TICKED} === 2")


def works_out_for_a_step_at_the_place_chosen(page: Page) -> None:
    choose(page, SITE)
    at(page, SITE)
    page.click("a.md-logo[href*='index.html']")
    comes(page, "index.html", HOME)
    at(page, SITE)
    page.click(".hb-tasks a[href*='set-the-spot.html']")
    comes(page, "procedures/set-the-spot.html", "Set the spot")
    assert page.value(".hb-checklist-job input") == SITE
    open_row(page)
    page.type("dialog [name=rear_gap]", "1")
    page.wait(STOPPED)
    page.back()
    page.wait("!document.querySelector('dialog').open")
    comes(page, "procedures/set-the-spot.html", "Set the spot")
    assert "Stop" in page.text(LAST)
    assert page.value(RECORD).startswith("Stop. ")


def leads_to_a_step(page: Page) -> None:
    """A link from outside, in a window of its own: what was ticked is there, and the step is at the top."""
    page.wire.send("Navigate", url="about:blank")
    page.open(f"{edition.NAME}#!/{LEVEL}#step-5")
    comes(page, LEVEL, "Level and bear")
    page.wait(f"document.querySelector('.hb-checklist') && {TICKED} === 2 && scrollY > 0")
    assert abs(page.evaluate("document.querySelector('#step-5').getBoundingClientRect().top")) < 200

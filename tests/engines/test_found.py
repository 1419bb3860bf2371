"""Search, place, links and a procedure's calculator, in each engine and from files."""

from __future__ import annotations

import json
from urllib.parse import quote

import pytest

from tests.engines.page import Page
from tests.engines.test_calculators import HOME, STATE, follow_to_clearance, ready

pytestmark = pytest.mark.browser

SITE, OTHER = "Library foyer", "Ferry pier waiting hall"
WIDTH = "document.querySelector('[name=cabinet_width]').value"
OVER = "dialog [data-calculator]"
STOPPED = f"document.querySelector('{OVER}').dataset.outcome === 'stop'"
LAST = ".hb-last"
RECORD = "[data-answer=clearance] textarea"


def link(width: str) -> str:
    told = {"calculator": "clearance", "units": "us", "rules": "us", "inputs": {"cabinet_width": width}}
    return "#inputs=" + quote(json.dumps(told))


def test_the_search_finds_a_page(page: Page) -> None:
    page.open("index.html")
    page.type(".md-search__input", "level and bear")
    page.wait("document.querySelectorAll('.md-search-result__item').length")
    page.click(".md-search-result__link[href*='procedures/level-and-bear.html']")
    page.wait("location.pathname.endsWith('procedures/level-and-bear.html') && document.querySelectorAll('article mark').length")


def choose(page: Page, name: str) -> None:
    """Say where one is."""
    page.click(".hb-here")
    page.wait("document.querySelector('.hb-where[open] .hb-where-one')")
    page.evaluate("[...document.querySelectorAll('.hb-where-one')].forEach((each) => each.classList.toggle('wanted', each.textContent.startsWith(arguments[0])))", name)
    page.click(".wanted")


def at(page: Page, name: str) -> None:
    page.wait(f"document.querySelector('.hb-here')?.innerText.trim() === {name!r}")


def test_where_the_reader_is_goes_along_from_page_to_page(page: Page) -> None:
    page.open("index.html")
    choose(page, SITE)
    at(page, SITE)
    page.click(".hb-tasks a[href*='set-the-spot.html']")
    at(page, SITE)
    assert page.value(".hb-checklist-job input") == SITE
    page.reload()
    at(page, SITE)
    page.click(HOME)
    at(page, SITE)
    follow_to_clearance(page)
    page.wait(f"document.querySelector('.hb-presets select')?.selectedOptions[0]?.textContent === {SITE!r}")


def test_a_place_is_left_for_another_or_for_none(page: Page) -> None:
    """Also on pages that have a place of their own kept, or one in their address."""
    page.open("procedures/set-the-spot.html")
    choose(page, SITE)
    page.click(HOME)
    at(page, SITE)
    choose(page, OTHER)
    page.reload()
    at(page, OTHER)
    page.click(".hb-tasks a[href*='set-the-spot.html']")
    at(page, OTHER)
    page.click(HOME)
    choose(page, "Nowhere yet")
    page.reload()
    at(page, "Where?")
    page.click(".hb-tasks a[href*='set-the-spot.html']")
    at(page, "Where?")
    assert not page.evaluate("document.querySelectorAll('.hb-at').length")


def test_a_link_with_entries_is_taken_at_load_and_in_an_open_page(page: Page) -> None:
    ready(page, "clearance", link("41 1/2"))
    page.wait(f"{STATE} === 'ready' && {WIDTH} === '41 1/2'")
    assert "Filled in from the link" in page.text(".hb-notice")
    page.evaluate("void (location.hash = arguments[0])", link("22"))
    page.wait(f"{WIDTH} === '22' && !document.querySelector('[data-calculator]').hasAttribute('data-withdrawn')")
    page.click("[data-do=undo]")
    page.wait(f"{WIDTH} === '41 1/2'")


def open_row(page: Page) -> None:
    page.click(".hb-open")
    page.wait(f"document.querySelector('{OVER}')?.dataset.state === 'ready' && !document.querySelector('{OVER}').hasAttribute('data-withdrawn')")


@pytest.mark.parametrize("way", ["back", "button"])
def test_a_row_opens_its_calculator_and_takes_the_answer_back(page: Page, way: str) -> None:
    """By the phone's Back as by the page's own button; the page stays where it is."""
    page.open("procedures/set-the-spot.html")
    open_row(page)
    assert page.value("dialog [name=rear_gap]"), "filled in from the data"
    page.type("dialog [name=rear_gap]", "1")
    page.wait(STOPPED)
    if way == "back":
        page.back()
    else:
        page.click(".hb-back")
    page.wait("!document.querySelector('dialog').open")
    assert "set-the-spot" in page.evaluate("location.href")
    assert "Stop" in page.text(LAST)
    assert page.value(RECORD).startswith("Stop. ")
    said = page.text(LAST)
    page.reload()
    page.wait("document.querySelector('.hb-work').hasAttribute('data-answered')")
    assert page.text(LAST) == said
    assert page.value(RECORD).startswith("Stop. ")
    open_row(page)
    assert page.value("dialog [name=rear_gap]") == "1"

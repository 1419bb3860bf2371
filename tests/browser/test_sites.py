"""The list of sites, made long: found by typing, by keyboard alone, under the page's own policy."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser

# The demonstration's dozen a hundred times over, before the page's scripts run.
LONG = """document.addEventListener("readystatechange", () => {
  const list = document.querySelector(".hb-sites");
  if (document.readyState !== "interactive" || !list) return;
  list.dataset.find = "sites";
  const lines = [...list.children];
  for (let copy = 2; copy <= 100; copy++) {
    for (const line of lines) {
      const made = line.cloneNode(true);
      made.querySelector("strong").textContent += ` ${copy}`;
      list.append(made);
    }
  }
});"""
BOX = ".hb-find"


@pytest.fixture
def page(watched: Any, site: Path) -> Any:
    watched.page.add_init_script(LONG)
    watched.page.goto((site / "sites" / "index.html").as_uri())
    yield watched.page
    assert not watched.complaints
    assert not watched.violations()


def shown(page: Any) -> list[str]:
    return [str(each).strip() for each in page.locator(".hb-sites li:visible strong").all_inner_texts()]


def test_words_in_any_order_leave_the_sites_that_have_them_all(page: Any) -> None:
    everything = page.locator(".hb-sites li").count()
    assert everything == 1200
    page.fill(BOX, "  PIER 77 ferry")
    assert shown(page) == ["Ferry pier waiting hall 77"]
    assert page.inner_text("[role=status]:near(.hb-find)") == "1 of 1200"
    page.fill(BOX, "ferry stop")  # the outcome is a word of the line too
    assert all("Ferry" in each for each in shown(page))
    page.fill(BOX, "")
    assert page.locator(".hb-sites li:visible").count() == everything


def test_nothing_found_is_said_and_escape_brings_all_back(page: Any) -> None:
    page.fill(BOX, "moon")
    assert shown(page) == []
    assert page.inner_text("[role=status]:near(.hb-find)") == "No site has all of these words."
    page.press(BOX, "Escape")
    assert page.input_value(BOX) == ""
    assert page.locator(".hb-sites li:visible").count() == 1200


def test_enter_opens_the_first_that_is_left(page: Any) -> None:
    page.fill(BOX, "gym")
    first = page.locator(".hb-sites li:visible a").first.get_attribute("href")
    page.press(BOX, "Enter")
    page.wait_for_url(f"**/{first}*")  # from files the address carries where one is


def test_a_short_list_has_no_box(watched: Any, site: Path) -> None:
    """As the demonstration's."""
    watched.page.goto((site / "sites" / "index.html").as_uri())
    assert watched.page.locator(BOX).count() == 0
    assert watched.page.locator(".hb-sites li").count() == 12

"""The keyboard alone: Tab reaches everything that can be used, shows where it is, and gets out again."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser

PAGES = ("index.html", "procedures/level-and-bear.html", "procedures/find-a-fault.html",
         "safety/emergency.html", "calculators/clearance.html", "reference/tables.html",
         "learn/packs.html", "sites/ferry-pier.html")  # fmt: skip
# What can be used: seen, not switched off, in the order of Tab. Of radio buttons of one name Tab meets one.
USABLE = """() => { window.met = new Set();
  const seen = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex]")]
    .filter((part) => part.tabIndex >= 0 && !part.disabled && part.type !== "hidden" && part.checkVisibility({
      visibilityProperty: true, contentVisibilityAuto: true }));
  window.usable = seen;
  return seen.length; }"""
STEP = """() => { const part = document.activeElement;
  if (part === document.body) return "out";
  window.met.add(part);
  const mark = (each) => { const style = getComputedStyle(each);
    return (style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0) || style.boxShadow !== "none"; };
  return mark(part) || mark(part.parentElement) || part.matches(":has(+ *)") && mark(part.nextElementSibling)
    ? "seen" : "hidden " + part.outerHTML.slice(0, 120); }"""
# The theme takes its button “back to the top” away while the page stands at the top.
MISSED = """() => window.usable.filter((part) => !window.met.has(part) && part.tabIndex >= 0 && part.checkVisibility())
  .filter((part) => part.type !== "radio").map((part) => part.outerHTML.slice(0, 120))"""


# A calculator's result is made anew when its Python has come: wait for that.
READY = "[...document.querySelectorAll('[data-calculator]')].every((part) => part.dataset.state === 'ready')"


def tabbed(page: Any) -> list[str]:
    """What each press of Tab said, until the focus leaves the page."""
    said: list[str] = []
    for _ in range(page.evaluate(USABLE) + 5):
        page.keyboard.press("Tab")
        said.append(page.evaluate(STEP))
        if said[-1] == "out":
            break
    return said


@pytest.mark.parametrize("name", PAGES)
def test_tab_reaches_everything_and_leaves(name: str, watched: Any, site: Path) -> None:
    """No part is left out, none holds the focus, and the focus can be seen at each stop."""
    page = watched.page
    page.goto((site / name).as_uri())
    page.wait_for_load_state("load")
    page.evaluate("document.querySelectorAll('[data-calculator]').forEach((part) => part.scrollIntoView())")
    watched.wait(READY)
    said = tabbed(page)
    assert [each for each in said if each.startswith("hidden")] == []
    assert page.evaluate(MISSED) == []
    assert said.count("seen") > 5
    assert said[-1] == "out"


def test_a_part_that_tab_cannot_reach_is_found(watched: Any, site: Path) -> None:
    """A button that swallows the focus, and one that shows none."""
    page = watched.page
    page.goto((site / "safety/emergency.html").as_uri())
    page.evaluate("""() => { const part = document.createElement("button");
      part.addEventListener("keydown", (event) => event.preventDefault());
      document.querySelector("article").prepend(part); }""")
    assert tabbed(page)[-1] != "out"
    assert page.evaluate(MISSED) != []


def test_a_step_is_ticked_and_a_fold_opened_by_keys(watched: Any, site: Path) -> None:
    """From the top of the page with Tab, space and Enter, without a pointer."""
    page = watched.page
    page.goto((site / "procedures/level-and-bear.html").as_uri())
    page.wait_for_selector(".hb-checklist summary")
    ticked = opened = False
    for _ in range(page.evaluate(USABLE)):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.hb-checklist summary')") and not opened:
            page.keyboard.press("Enter")
            opened = page.evaluate("document.activeElement.parentElement.open")
        if page.evaluate("document.activeElement.matches('.hb-tick')"):
            page.keyboard.press("Space")
            ticked = page.evaluate("document.activeElement.checked")
            break
    assert (opened, ticked) == (True, True)

"""A calculator in a procedure: a closed row, opened over the page, whose answer comes back; and where the reader is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Watched, until

pytestmark = pytest.mark.browser

OVER = "dialog [data-calculator]"
ANSWERED = f"document.querySelector('{OVER}')?.dataset.state === 'ready' && !document.querySelector('{OVER}').hasAttribute('data-withdrawn')"
RECORD = "document.querySelector('[data-answer=clearance] textarea').value"


def over(watched: Watched, site: Path, page_name: str = "procedures/set-the-spot.html") -> Any:
    page = watched.page
    if not page.url.startswith("file"):
        page.goto((site / page_name).as_uri())
    page.click(".hb-open")
    watched.wait(ANSWERED)
    return page


def test_the_answer_comes_back_into_the_row_the_record_and_the_paper(watched: Watched, site: Path) -> None:
    """Back, as the phone has it, is the way back to the step; after a reload the answer stands there still."""
    page = over(watched, site)
    assert page.input_value("dialog [name=rear_gap]"), "filled in from the data"
    page.fill("dialog [name=rear_gap]", "1")
    watched.wait(f"{ANSWERED} && document.querySelector('{OVER}').dataset.outcome === 'stop'")
    page.go_back()
    watched.wait("!document.querySelector('dialog').open")
    assert "set-the-spot" in page.url
    said = page.inner_text(".hb-last")
    assert "Stop" in said
    assert "Gap behind" in said
    assert page.evaluate(RECORD).startswith("Stop. ")
    page.emulate_media(media="print")
    assert page.locator(".hb-last").is_visible()
    assert not page.locator(".hb-work > .hb-on-paper").is_visible()
    page.emulate_media(media="screen")
    page.reload()
    watched.wait("document.querySelector('.hb-work').hasAttribute('data-answered')")
    assert page.inner_text(".hb-last") == said
    assert page.evaluate(RECORD).startswith("Stop. ")
    over(watched, site)
    assert page.input_value("dialog [name=rear_gap]") == "1", "what was typed stands there again"
    page.click(".hb-back")
    page.click(".hb-checklist-more summary")
    page.click("button:text-is('Start anew')")
    assert page.inner_text(".hb-last") == "Not worked out here yet."
    assert page.evaluate(RECORD) == ""
    assert not watched.violations()
    assert not watched.complaints


def test_what_nobody_touched_is_nobodys_answer(watched: Watched, site: Path) -> None:
    """The data's first site is not the reader's; on paper there is room to write."""
    page = over(watched, site)
    assert "Choose or type your own" in page.inner_text("dialog .hb-notice")
    page.keyboard.press("Escape")
    watched.wait("!document.querySelector('dialog').open")
    assert page.inner_text(".hb-last") == "Not worked out here yet."
    assert page.evaluate("document.activeElement.className").startswith("hb-button hb-open")
    page.emulate_media(media="print")
    assert page.locator(".hb-work > .hb-on-paper").is_visible()
    assert not page.locator(".hb-last").is_visible()


def test_what_somebody_wrote_into_the_record_stays(watched: Watched, site: Path) -> None:
    page = watched.page
    page.goto((site / "procedures/set-the-spot.html").as_uri())
    page.fill("[data-answer=clearance] textarea", "by eye")
    over(watched, site)
    page.fill("dialog [name=rear_gap]", "1")
    watched.wait(f"{ANSWERED} && document.querySelector('{OVER}').dataset.outcome === 'stop'")
    page.click(".hb-back")
    assert "Stop" in page.inner_text(".hb-last")
    assert page.evaluate(RECORD) == "by eye"


def test_an_answer_that_cannot_be_used_leaves_the_row_empty(watched: Watched, site: Path) -> None:
    page = over(watched, site)
    page.fill("dialog [name=rear_gap]", "1")
    watched.wait(f"{ANSWERED} && document.querySelector('{OVER}').dataset.outcome === 'stop'")
    page.click(".hb-back")
    assert "Stop" in page.inner_text(".hb-last")
    page.click(".hb-open")
    page.fill("dialog [name=rear_gap]", "wide")
    watched.wait("!document.querySelector('dialog .hb-errors').hidden")
    page.click(".hb-back")
    assert page.inner_text(".hb-last") == "Not worked out here yet."
    assert page.evaluate(RECORD) == ""


def test_without_scripts_the_row_is_a_link(browser: Any, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "procedures/set-the-spot.html").as_uri())
    page.click(".hb-open")
    assert page.url.endswith("calculators/clearance.html")
    context.close()


def test_a_missing_form_is_told(watched: Watched, site: Path) -> None:
    page = watched.page
    page.route("**/assets/forms/*", lambda route: route.abort())
    page.goto((site / "procedures/set-the-spot.html").as_uri())
    page.click(".hb-open")
    watched.wait("document.querySelector('.hb-last').textContent.includes('copy the whole folder')")


def test_where_the_reader_is_fills_forms_heads_and_sheets(watched: Watched, site: Path) -> None:
    """Said once on the first page; followed over links, also where each file has a store of its own."""
    page = watched.page
    page.goto((site / "index.html").as_uri())
    page.click(".hb-here")
    page.fill(".hb-where input", "lib")
    page.click(".hb-where-one:visible:has-text('Library foyer')")
    assert "Library foyer" in page.inner_text(".hb-at-home")
    page.click(".hb-at-home a:has-text('Site sheet')")
    assert page.inner_text("h1").startswith("Library foyer")
    # As in a browser that has forgotten: only the link tells it.
    page.evaluate("localStorage.clear()")
    page.goto(f"{(site / 'calculators/clearance.html').as_uri()}?here=library-foyer")
    watched.wait("document.querySelector('.hb-presets select')?.selectedOptions[0]?.textContent === 'Library foyer'")
    assert page.inner_text(".hb-here") == "Library foyer"
    page.click(".md-tabs a:has-text('Home')")
    page.click(".hb-tasks a:has-text('Set the spot')")
    assert page.input_value(".hb-checklist-job input") == "Library foyer"
    page.emulate_media(media="print")
    assert page.inner_text(".hb-at") == "You are at: Library foyer"
    page.emulate_media(media="screen")
    page.click(".hb-open")
    watched.wait(ANSWERED)
    page.click(".hb-back")
    watched.wait("document.querySelector('.hb-work').hasAttribute('data-answered')")
    assert "(Library foyer, " in page.evaluate(RECORD)
    page.click(".hb-here")
    page.click(".hb-where-one:has-text('Swim hall gallery')")
    assert page.inner_text(".hb-last") == "Not worked out here yet.", "an answer is about its own place"
    assert page.evaluate(RECORD) == ""
    page.click(".hb-here")
    page.click(".hb-where-one:has-text('Library foyer')")
    assert page.inner_text(".hb-last") != "Not worked out here yet.", "and stands there again"
    assert "(Library foyer, " in page.evaluate(RECORD)
    page.click(".hb-here")
    page.click(".hb-where-one:has-text('Nowhere yet')")
    assert page.inner_text(".hb-here") == "Where?"
    assert not watched.violations()
    assert not watched.complaints


def test_a_row_waits_for_what_our_data_say_of_the_place(watched: Watched, site: Path) -> None:
    """The list of places comes by a script of its own: until it is there, another place's values are nobody's answer."""
    held: list[Any] = []
    page = watched.page

    def hold(route: Any) -> None:
        held.append(route)

    page.route("**/assets/presets/clearance.js", hold)
    page.goto(f"{(site / 'procedures/set-the-spot.html').as_uri()}?here=swim-hall")
    watched.wait("document.querySelector('.hb-here').innerText.trim() === 'Swim hall gallery'")
    page.click(".hb-open")
    watched.wait("document.querySelector('dialog')?.open")
    assert page.get_attribute(OVER, "data-from") == "data"
    until(lambda: held, "the list to be asked for")
    held[0].continue_()
    watched.wait(f"document.querySelector('{OVER}').dataset.from === 'reader'")
    assert page.evaluate("document.querySelector('dialog .hb-presets select').selectedOptions[0].textContent") == "Swim hall gallery"


def test_what_was_typed_at_one_place_does_not_stand_under_another(watched: Watched, site: Path) -> None:
    """In the open page, where Undo has it still, and in a page opened anew."""
    page = watched.page
    page.goto(f"{(site / 'calculators/clearance.html').as_uri()}?here=library-foyer")
    chosen = "document.querySelector('.hb-presets select').selectedOptions[0].textContent"
    watched.wait(f"{chosen} === 'Library foyer'")
    page.fill("[name=rear_gap]", "9")
    page.click(".hb-here")
    page.click(".hb-where-one:has-text('Swim hall gallery')")
    watched.wait(f"{chosen} === 'Swim hall gallery'")
    assert page.input_value("[name=rear_gap]") != "9"
    page.click("[data-do=undo]")
    assert page.input_value("[name=rear_gap]") == "9"
    page.goto(f"{(site / 'calculators/clearance.html').as_uri()}?here=hotel-landing")
    watched.wait(f"{chosen} === 'Hotel landing'")
    assert page.input_value("[name=rear_gap]") != "9"


def test_an_address_names_a_place_of_ours_or_none(watched: Watched, site: Path) -> None:
    page = watched.page
    page.goto(f"{(site / 'index.html').as_uri()}?here=%3Cb%3Ex")
    watched.wait("document.querySelector('.hb-here').textContent.trim() === 'Where?'")
    assert page.locator(".hb-at-home").count() == 0
    assert not watched.complaints

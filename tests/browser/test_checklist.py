"""Checklists that remember on the device: who, when, saved as a file and back, printed blank."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser

PAGE = "procedures/level-and-bear.html"
TICKED = "document.querySelectorAll('.hb-tick:checked').length"


def opened(watched: Any, site: Path, page: str = PAGE) -> Any:
    watched.page.goto((site / page).as_uri())
    watched.page.click(".hb-checklist summary")
    return watched.page


def count(page: Any) -> str:
    return str(page.inner_text(".hb-checklist-count"))


def test_ticks_and_the_record_are_there_again(watched: Any, site: Path) -> None:
    """After the page was closed, with who ticked and when."""
    page = opened(watched, site)
    page.fill(".hb-checklist-who input", "Second installer")
    page.fill(".hb-checklist-job input", "Ferry pier")
    page.check(".hb-step:nth-child(1) .hb-tick")
    page.check(".hb-step:nth-child(3) .hb-tick")
    page.fill(".hb-record textarea >> nth=0", "by the east wall")
    steps = page.locator(".hb-step .hb-tick").count()
    page.reload()
    page.wait_for_selector(".hb-checklist")
    assert count(page) == f"2 of {steps} ticked"
    assert page.is_checked(".hb-step:nth-child(3) .hb-tick")
    assert re.search(r"Ticked .*\d.* by Second installer", page.inner_text(".hb-step:nth-child(1) .hb-done"))
    assert page.input_value(".hb-record textarea >> nth=0") == "by the east wall"
    assert page.input_value(".hb-checklist-job input") == "Ferry pier"
    assert not watched.complaints
    assert not watched.violations()


def test_each_page_keeps_its_own(watched: Any, site: Path) -> None:
    """The name of who ticks is shared, the ticks are not."""
    page = opened(watched, site)
    page.fill(".hb-checklist-who input", "Route keeper")
    page.check(".hb-step:nth-child(1) .hb-tick")
    opened(watched, site, "procedures/take-delivery.html")
    assert page.evaluate(TICKED) == 0
    assert page.input_value(".hb-checklist-who input") == "Route keeper"


def test_starting_anew_can_be_taken_back(watched: Any, site: Path) -> None:
    """Nothing is lost by one wrong tap."""
    page = opened(watched, site)
    page.check(".hb-step:nth-child(2) .hb-tick")
    page.click("button:has-text('Start anew')")
    assert page.evaluate(TICKED) == 0
    page.click(".hb-said >> text=Undo")
    assert page.evaluate(TICKED) == 1


def test_a_saved_checklist_comes_back_on_another_device(watched: Any, site: Path, browser: Any, tmp_path: Path) -> None:
    """A file is saved, and opened in a browser that knows nothing."""
    page = opened(watched, site)
    page.fill(".hb-checklist-job input", "Ferry pier")
    page.check(".hb-step:nth-child(1) .hb-tick")
    page.fill(".hb-record textarea >> nth=1", "12 mm")
    with page.expect_download() as download:
        page.click("text=Save as a file")
    saved = tmp_path / download.value.suggested_filename
    download.value.save_as(saved)
    assert saved.name.startswith("level-and-bear-ferry-pier-")
    told = json.loads(saved.read_text("utf-8"))
    assert len(told["ticks"]) == 1

    other = browser.new_context().new_page()
    other.goto((site / PAGE).as_uri())
    other.wait_for_selector(".hb-checklist")
    other.set_input_files(".hb-checklist input[type=file]", saved)
    other.wait_for_selector(".hb-done")
    assert other.evaluate(TICKED) == 1
    assert other.input_value(".hb-record textarea >> nth=1") == "12 mm"
    other.context.close()


@pytest.mark.parametrize("text", ["no JSON", "{}", '{"ticks": {"a": 1}, "record": {}}', '{"ticks": {}, "record": []}'])
def test_a_file_that_is_no_checklist_changes_nothing(watched: Any, site: Path, tmp_path: Path, text: str) -> None:
    """It is told in words, and what was ticked stays."""
    page = opened(watched, site)
    page.check(".hb-step:nth-child(1) .hb-tick")
    wrong = tmp_path / "wrong.json"
    wrong.write_text(text, encoding="utf-8")
    page.set_input_files(".hb-checklist input[type=file]", wrong)
    page.wait_for_selector(".hb-said:has-text('Nothing was changed')")
    assert page.evaluate(TICKED) == 1


def test_another_page_s_checklist_is_refused(watched: Any, site: Path, tmp_path: Path) -> None:
    """With the name of the page it belongs to."""
    page = opened(watched, site)
    other = tmp_path / "other.json"
    told = {"checklist": "procedures/take-delivery", "title": "Take delivery", "job": "", "ticks": {}, "record": {}}
    other.write_text(json.dumps(told), encoding="utf-8")
    page.set_input_files(".hb-checklist input[type=file]", other)
    page.wait_for_selector(".hb-said:has-text('belongs to “Take delivery”')")


def test_a_browser_that_keeps_nothing_says_so(watched: Any, site: Path) -> None:
    """The ticks work all the same until the page is closed."""
    watched.page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('no') } })")
    page = opened(watched, site)
    page.check(".hb-step:nth-child(1) .hb-tick")
    assert "keeps nothing" in page.inner_text(".hb-checklist")
    assert count(page).startswith("1 of")


def test_paper_is_filled_or_blank(watched: Any, site: Path) -> None:
    """“Print blank” hides the ticks and the writing while it prints, and only then."""
    page = opened(watched, site)
    page.evaluate("window.print = () => { window.blank = document.documentElement.className; }")
    page.check(".hb-step:nth-child(1) .hb-tick")
    page.click("text=Print blank")
    assert "hb-print-blank" in page.evaluate("window.blank")
    page.emulate_media(media="print")
    assert not page.is_visible(".hb-done")
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert page.is_visible(".hb-done")
    page.evaluate("window.blank = undefined")
    page.emulate_media(media="screen")
    page.click("text=Print as it is")
    assert "hb-print-blank" not in page.evaluate("document.documentElement.className")


def test_the_keyboard_alone_ticks(watched: Any, site: Path) -> None:
    """Tab to a step, space to tick it."""
    page = opened(watched, site)
    page.focus(".hb-step:nth-child(1) .hb-tick")
    page.keyboard.press("Space")
    assert count(page).startswith("1 of")


def test_a_site_sheet_remembers_too(watched: Any, site: Path) -> None:
    """The checklist of the day and the van list."""
    page = opened(watched, site, "sites/ferry-pier.html")
    page.check(".hb-list .hb-tick >> nth=0")
    page.reload()
    page.wait_for_selector(".hb-checklist")
    assert page.evaluate(TICKED) == 1


def at(page: Any, name: str) -> None:
    """Say where one is."""
    page.click(".hb-here")
    page.click(f".hb-where-one:has-text('{name}')")


def test_each_place_has_a_list_of_its_own(watched: Any, site: Path) -> None:
    """Ticks, record and job; the reader is told which list stands there and which others are kept."""
    page = opened(watched, site)
    at(page, "Ferry pier waiting hall")
    page.check(".hb-step:nth-child(1) .hb-tick")
    page.check(".hb-step:nth-child(3) .hb-tick")
    page.fill(".hb-record textarea >> nth=0", "by the east wall")
    assert count(page).endswith("ticked at Ferry pier waiting hall")
    at(page, "Library foyer")
    assert page.evaluate(TICKED) == 0
    assert count(page).startswith("0 of")
    assert page.input_value(".hb-record textarea >> nth=0") == ""
    assert page.input_value(".hb-checklist-job input") == "Library foyer"
    assert page.inner_text(".hb-checklist-apart") == "Kept apart on this page: Ferry pier waiting hall, 2 ticked."
    page.check(".hb-step:nth-child(2) .hb-tick")
    page.click("button:has-text('Start anew')")
    at(page, "Ferry pier waiting hall")
    page.reload()
    page.wait_for_selector(".hb-done")
    assert page.evaluate(TICKED) == 2
    assert page.input_value(".hb-record textarea >> nth=0") == "by the east wall"
    assert page.inner_text(".hb-checklist-apart") == ""


def test_what_was_ticked_before_the_place_was_said_can_be_brought_to_it(watched: Any, site: Path) -> None:
    """It is never there by itself, and never lost."""
    page = opened(watched, site)
    page.check(".hb-step:nth-child(2) .hb-tick")
    at(page, "Library foyer")
    assert page.evaluate(TICKED) == 0
    page.click("text=Bring what was ticked with no place said to Library foyer")
    assert page.evaluate(TICKED) == 1
    assert page.inner_text(".hb-checklist-apart") == ""
    at(page, "Nowhere yet")
    assert page.evaluate(TICKED) == 0
    assert page.inner_text(".hb-checklist-apart") == "Kept apart on this page: Library foyer, 1 ticked."


def test_a_site_s_sheet_is_that_site_s_wherever_the_reader_is(watched: Any, site: Path) -> None:
    page = opened(watched, site, "sites/ferry-pier.html")
    page.check(".hb-list .hb-tick >> nth=0")
    at(page, "Library foyer")
    assert page.evaluate(TICKED) == 1
    assert page.input_value(".hb-checklist-job input") == ""


def test_a_list_saved_at_one_place_is_not_opened_at_another(watched: Any, site: Path, tmp_path: Path) -> None:
    page = opened(watched, site)
    at(page, "Ferry pier waiting hall")
    page.check(".hb-step:nth-child(1) .hb-tick")
    with page.expect_download() as download:
        page.click("text=Save as a file")
    saved = tmp_path / "saved.json"
    download.value.save_as(saved)
    page.click("button:has-text('Start anew')")
    at(page, "Library foyer")
    page.set_input_files(".hb-checklist input[type=file]", saved)
    page.wait_for_selector(".hb-said:has-text('was saved at “Ferry pier waiting hall”')")
    assert page.evaluate(TICKED) == 0
    at(page, "Ferry pier waiting hall")
    page.set_input_files(".hb-checklist input[type=file]", saved)
    page.wait_for_selector(".hb-done")
    assert page.evaluate(TICKED) == 1


FULL = """localStorage.setItem("left", "from others"); Storage.prototype.setItem = function () { throw new DOMException("no room", "QuotaExceededError"); };"""
BLOCKED = """Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } });"""


@pytest.mark.parametrize(("store", "words"), [(FULL, "store is full"), (BLOCKED, "keeps nothing here")], ids=["full", "blocked"])
def test_a_store_that_keeps_nothing_is_told_where_one_ticks(store: str, words: str, watched: Any, site: Path) -> None:
    """Beside the tick itself: the head of the list is screens away. It goes with the next tick that is kept."""
    watched.page.add_init_script(f"if (sessionStorage.getItem('closed') !== 'no') {{ {store} }}")
    page = opened(watched, site)
    page.check(".hb-step:nth-child(4) .hb-tick")
    assert words in page.inner_text(".hb-step:nth-child(4) .hb-not-kept")
    assert page.locator(".hb-not-kept").count() == 1
    assert page.is_checked(".hb-step:nth-child(4) .hb-tick"), "it is ticked all the same"
    page.check(".hb-step:nth-child(5) .hb-tick")
    assert page.locator(".hb-not-kept").count() == 1
    assert page.locator(".hb-step:nth-child(5) .hb-not-kept").is_visible()

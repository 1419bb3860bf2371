"""The reader's own card in the pages: of several models' words those of the chosen one, and no steps it does not need."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Watched
from tools.book import card
from tools.book.data import load

pytestmark = pytest.mark.browser

DATA = load(Path(__file__).parents[2] / "docs" / "data")
PAGE = "procedures/connect.html"
# Words of the page as a reader sees them, and the steps that stand there.
SEEN = "document.querySelector('article').innerText"
STEPS = "[...document.querySelectorAll('li.hb-step:not([hidden]) .hb-step-number')].filter(e => e.offsetParent).map(e => Number(e.textContent))"


def at(watched: Watched, site: Path, place: str, page_name: str = PAGE) -> Any:
    """The page as a link from another page brings it, with the place chosen there."""
    watched.page.goto(f"{(site / page_name).as_uri()}?here={place}")
    watched.wait(f"HandbookHere.get()?.key === '{place}'")
    return watched.page


def said(machine: str, item: str) -> str:
    return card.words(DATA, DATA.row("machines", machine), item)


def test_nowhere_yet_each_model_has_its_words(watched: Watched, site: Path) -> None:
    """And every step stands there, with a line that says for which cabinets."""
    watched.page.goto((site / PAGE).as_uri())
    words = watched.page.evaluate(SEEN)
    for machine in DATA.tables["machines"]:
        assert said(machine.typed["key"], "power_switch") in words
        assert f"{machine.typed['name']}:" in words
    assert "cabinets that cool only." in words
    steps = watched.page.evaluate(STEPS)
    assert steps == list(range(1, len(steps) + 1))


def test_at_a_site_the_words_are_its_cabinets(watched: Watched, site: Path) -> None:
    """The others' are neither seen nor heard nor printed, until another place is chosen."""
    at(watched, site, "ferry-pier")
    words = watched.page.evaluate(SEEN)
    assert said("tall-forty", "power_switch") in words
    assert said("chill-thirty", "power_switch") not in words
    assert "Tall Forty:" not in words
    watched.page.emulate_media(media="print")
    assert said("chill-thirty", "power_switch") not in watched.page.evaluate(SEEN)
    watched.page.emulate_media(media="screen")
    at(watched, site, "factory-canteen")
    assert said("chill-thirty", "power_switch") in watched.page.evaluate(SEEN)
    assert not watched.violations()
    assert not watched.complaints


def test_a_cabinet_without_cooling_is_never_told_to_be_cold(watched: Watched, site: Path) -> None:
    """Its steps keep their numbers; where some are left out, a line says which. What was folded is no open tick."""
    page = watched.page
    page.goto((site / PAGE).as_uri())
    every = page.evaluate(STEPS)
    at(watched, site, "school-gym")
    kept = page.evaluate(STEPS)
    assert set(kept) < set(every)
    left = page.evaluate("[...document.querySelectorAll('.hb-folded > .hb-only-head')].filter(e => e.offsetParent).map(e => e.innerText)")
    assert left
    assert all("cool" in each for each in left)
    for number in set(every) - set(kept):
        assert not page.locator(f"#step-{number} .hb-step-text").is_visible()
    assert f"of {len(kept)} ticked" in page.inner_text(".hb-checklist-count")
    assert not watched.complaints


def test_a_cabinet_that_is_gone_hides_nothing(watched: Watched, site: Path) -> None:
    """A place kept from another edition: no step that works is folded, and nothing is said not to be there."""
    page = at(watched, site, "ferry-pier")
    page.evaluate("""HandbookStore.shelf("here", null, () => true).write({...HandbookHere.get(), key: "gone", machine: "gone"})""")
    page.goto((site / PAGE).as_uri())
    assert said("chill-thirty", "power_switch") in page.evaluate(SEEN)
    assert page.locator(".hb-none, .hb-folded").count() == 0


def test_no_bullet_and_no_line_of_a_record_stands_empty(watched: Watched, site: Path) -> None:
    """On pages that speak of cold things, at a cabinet without cooling; elsewhere each stands there."""
    page = watched.page
    for name in ("clean", "commission", "visit"):
        at(watched, site, "school-gym", f"procedures/{name}.html")
        bare = page.evaluate("""[...document.querySelectorAll("article li:not(.hb-step), article .hb-record tbody tr")]
            .filter((each) => each.offsetParent && !(each.querySelector("th")?.firstChild ?? each).textContent.trim()).length""")
        gone = page.evaluate("[...document.querySelectorAll('article li:not(.hb-step)[hidden], .hb-record tr[hidden]')].map((each) => each.textContent)")
        assert bare == 0
        assert gone, name
        at(watched, site, "ferry-pier", f"procedures/{name}.html")
        assert page.evaluate("document.querySelectorAll('article li:not(.hb-step)[hidden], .hb-record tr[hidden]').length") == 0


def test_a_site_s_own_facts_stand_where_a_page_asks_for_them(watched: Watched, site: Path) -> None:
    """What the table says of the site; before a site is chosen, where to find it."""
    name = "procedures/prove-the-outlet.html"
    watched.page.goto((site / name).as_uri())
    assert "see the site sheet" in watched.page.inner_text("[data-fact=panel]")
    at(watched, site, "ferry-pier", name)
    panel = DATA.row("sites", "ferry-pier").typed["panel"]
    watched.wait(f"document.querySelector('[data-fact=panel]').textContent === {panel!r}")
    at(watched, site, "tall-forty", name)
    watched.wait("document.querySelector('[data-fact=panel]').textContent.includes('site sheet')")


def test_what_is_written_into_the_form_comes_back_as_rows(watched: Watched, site: Path, tmp_path: Path) -> None:
    """It stays over a reload, counts its blanks, gives a file that the build reads, and can be forgotten and had back."""
    page = watched.page
    page.goto((site / "reference/card-form.html").as_uri())
    page.select_option("[data-card-form] select", "slim-eighteen")
    assert not page.locator("#card-refrigerant").is_visible()
    assert page.input_value("#card-power_switch") == said("slim-eighteen", "power_switch")
    page.fill("#card-power_switch", 'Low, "left"\nside, by the cord')
    page.fill("#card-spacers", "")
    assert page.inner_text(".hb-card-count").startswith("1 of ")
    page.reload()
    page.select_option("[data-card-form] select", "slim-eighteen")
    assert page.input_value("#card-spacers") == ""
    with page.expect_download() as got:
        page.click("[data-do=rows]")
    got.value.save_as(tmp_path / "cards.csv")
    rows = list(csv.DictReader((tmp_path / "cards.csv").open(encoding="utf-8", newline="")))
    written = {row["item"]: row["text"] for row in rows}
    assert written.pop("power_switch") == 'Low, "left" side, by the cord'
    assert {row["machine"] for row in rows} == {"slim-eighteen"}
    assert written == {key: said("slim-eighteen", key) for key, item in card.items().items()
                       if key not in ("power_switch", "spacers") and not item.column and said("slim-eighteen", key)}  # fmt: skip
    page.click("[data-do=forget]")
    assert page.input_value("#card-spacers") == said("slim-eighteen", "spacers")
    page.click(".hb-said button")
    assert page.input_value("#card-spacers") == ""
    assert not watched.violations()
    assert not watched.complaints

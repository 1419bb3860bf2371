"""The list of past differences beside the cash count: kept here, by place, with its sum and the limits of the rules."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Watched

pytestmark = pytest.mark.browser

PART = ".hb-past"
KEEP = f"{PART} button:has-text('Keep this difference')"
STANDS = "[data-calculator][data-outcome]"


@pytest.fixture
def page(browser: Any, site: Path) -> Iterator[Any]:
    """The Cash count from a folder, with its example in it."""
    context = browser.new_context(locale="en-US")
    watched = Watched(context)
    watched.page.goto((site / "calculators" / "cash.html").as_uri())
    watched.page.wait_for_selector(STANDS)
    watched.page.locator("[data-do=example]").click()
    watched.page.wait_for_selector(f"{KEEP}:enabled")
    yield watched.page
    assert (watched.complaints, watched.violations()) == ([], [])
    context.close()


def keep(page: Any, extra: str) -> None:
    """Count so much more, and keep the difference."""
    page.locator("[name=other]").evaluate("each => each.closest('details').setAttribute('open', '')")
    page.locator("[name=other]").fill(extra)
    page.wait_for_selector(f"{KEEP}:enabled")
    page.locator(KEEP).click()


def lines(page: Any) -> list[str]:
    return [each.strip() for each in page.locator(f"{PART} tbody tr td:nth-child(2)").all_inner_texts()]


def test_a_difference_is_kept_summed_and_still_there_after_a_reload(page: Any) -> None:
    """The newest first, with signs; the limits are those that the answer used; the same count is kept once."""
    keep(page, "0.00")
    assert lines(page) == ["−$0.25"]
    assert page.locator(KEEP).is_disabled()
    keep(page, "1.00")
    assert lines(page) == ["+$0.75", "−$0.25"]
    told = page.locator(PART).inner_text()
    assert "The last 2 together: +$0.50." in told
    assert "beyond $5.00 in all, and at 3 in a row" in told
    page.reload()
    page.wait_for_selector(STANDS)
    assert len(lines(page)) == 2


def test_the_list_says_when_to_ask(page: Any) -> None:
    """Three on one side; and a sum beyond the limit."""
    for extra in ("1.00", "1.25", "1.50"):
        keep(page, extra)
    assert "3 in a row lie on the same side: ask." in page.locator(PART).inner_text()
    keep(page, "5.00")
    assert "beyond $5.00: ask." in page.locator(PART).inner_text()
    keep(page, "0.00")
    assert "in a row lie" not in page.locator(PART).inner_text()


def test_what_is_removed_can_be_put_back(page: Any) -> None:
    keep(page, "0.00")
    keep(page, "2.00")
    page.locator(f"{PART} tbody button").first.click()
    assert lines(page) == ["−$0.25"]
    page.locator(f"{PART} button:has-text('Put it back')").click()
    assert lines(page) == ["+$1.75", "−$0.25"]


def test_a_difference_that_is_not_known_to_the_cent_is_not_kept(page: Any) -> None:
    """A blank reading leaves nothing to keep."""
    page.locator("[name=cash_in_now]").fill("")
    page.wait_for_selector(f"{PART}:has-text('knows it to the cent')")
    assert page.locator(KEEP).is_disabled()


def test_each_place_has_a_list_of_its_own(page: Any) -> None:
    """What was kept at one site does not stand at another."""
    keep(page, "0.00")
    page.evaluate("""() => HandbookStore.placed("differences", [], Array.isArray).at("elsewhere")
        .write([{ at: new Date().toISOString(), gap: 700, counted: 800, must: 100 }])""")
    page.reload()
    page.wait_for_selector(STANDS)
    assert lines(page) == ["−$0.25"]

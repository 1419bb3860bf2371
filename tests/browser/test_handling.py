"""The job that is chosen decides what the form asks: no box, list or part of another job is left standing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.browser.test_answer import STANDS, ready

pytestmark = pytest.mark.browser

PARTS = "[...document.querySelectorAll('.hb-form .hb-part')].filter((each) => each.checkVisibility()).map((each) => each.querySelector('.hb-part-name').textContent)"


def test_only_the_chosen_job_is_asked_about(watched: Any, site: Path) -> None:
    """Rows hang on a choice as boxes do, and a part of which nothing applies is not there."""
    page = ready(watched, site, "handling")
    assert page.locator("[data-rows=lifts]").is_visible()
    assert page.evaluate(PARTS) == ["The job", "To compare with a book"]
    page.select_option("[name=job]", "roll")
    watched.wait(STANDS)
    assert page.locator("[name=cabinet_mass]").is_visible()
    assert not page.locator("[data-rows=lifts]").is_visible()
    assert page.evaluate(PARTS) == ["The job", "Moving", "Cabinet"]
    page.locator(".hb-part", has=page.locator("[data-rows=route]")).locator("> summary").click()
    assert page.locator("[data-rows=route]").is_visible()
    page.select_option("[name=job]", "tilt")
    assert not page.locator("[data-rows=route]").is_visible()
    assert page.locator("[name=tilt_over]").is_visible()
    assert not page.locator("[name=surface]").is_visible()

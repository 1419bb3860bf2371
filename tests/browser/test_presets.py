"""A form is filled from our data also where a shared script brings it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.blocks.test_presets import DATA

pytestmark = pytest.mark.browser

SELECT = ".hb-presets select"
FORM = "Object.fromEntries(new FormData(document.querySelector('.hb-form')))"


def test_a_choice_that_a_script_brought_fills_the_form(watched: Any, site: Path) -> None:
    """With what the cabinet gives and what the site gives, every row of it."""
    page = watched.page
    page.goto((site / "calculators" / "plan.html").as_uri())
    wanted = next(each for each in DATA.presets("plan") if each["key"] == "school-gym")
    page.select_option(SELECT, label=wanted["name"])
    watched.wait("document.querySelector('[data-calculator]').dataset.from === 'reader'")
    form = page.evaluate(FORM)
    for key in ("products", "coils"):
        rows = wanted["inputs"][key]
        assert [form[f"{key}.{number}.name"] for number in range(len(rows))] == [row["name"] for row in rows]
    # The unit stands beside the box.
    assert {key: form[key] for key in ("usable_length", "days")} == {"usable_length": "17 1/2", "days": "7"}
    assert page.locator(f"{SELECT} option").count() == 1 + len(DATA.presets("plan"))
    assert not watched.complaints
    assert not watched.violations()


def test_a_row_s_own_choice_stands_when_the_list_has_come(watched: Any, site: Path) -> None:
    """The list is a script's; what the row is filled from is chosen in it, unless somebody typed meanwhile."""
    page = watched.page
    page.goto((site / "procedures" / "choose-coils-and-load.html").as_uri())
    first = DATA.presets("spiral")[0]["name"]
    page.locator(".hb-open").first.click()
    watched.wait(f"document.querySelectorAll('dialog [data-calculator=spiral] {SELECT} option').length > 40")
    watched.wait(f"document.querySelector('dialog {SELECT}').selectedOptions[0].textContent === {json.dumps(first)}")
    assert not watched.complaints


def test_where_the_reader_is_waits_for_the_list(watched: Any, site: Path) -> None:
    """The plan's list is a script: the place fills the form when it has come."""
    page = watched.page
    site_key, name = DATA.presets("plan")[2]["key"], DATA.presets("plan")[2]["name"]
    page.goto(f"{(site / 'calculators' / 'plan.html').as_uri()}?here={site_key}")
    watched.wait(f"document.querySelector('{SELECT}').selectedOptions[0].textContent === {json.dumps(name)}")
    assert not watched.complaints


def test_a_list_that_is_missing_says_so_and_the_calculator_works(watched: Any, site: Path) -> None:
    page = watched.page
    page.route("**/assets/presets/*.js", lambda route: route.abort())
    page.goto((site / "calculators" / "spiral.html").as_uri())
    watched.wait(f"document.querySelectorAll('{SELECT} option:disabled').length === 1")
    assert "copy the whole handbook again" in page.locator(f"{SELECT} option:disabled").inner_text()
    watched.wait("document.querySelector('[data-calculator]').dataset.state === 'ready'")

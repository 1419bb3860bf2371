"""Each calculator from its file, in each engine: what its page says is what native Python says."""

from __future__ import annotations

import json
from typing import Any

import pytest

import calculators
from calculators.core.html import unbroken
from tests.engines.page import Page
from tests.support.inputs import random_request

pytestmark = pytest.mark.browser

STATE = "document.querySelector('[data-calculator]').dataset.state"

# The menu's first line goes away where a page is scrolled.
HOME = "a.md-logo[href*='index.html']"


def follow_to_clearance(page: Page) -> None:
    """From the first page over the list of calculators, by links alone."""
    page.click(".md-tabs a[href^='calculators/index.html']")
    page.wait("location.pathname.endsWith('calculators/index.html')")
    page.click("article a[href*='clearance.html']")


def ready(page: Page, name: str, rest: str = "") -> None:
    page.open(f"calculators/{name}.html{rest}")
    page.wait(f"['ready', 'failed'].includes({STATE})")
    assert page.evaluate(STATE) == "ready", page.text(".hb-status")


def another(name: str) -> dict[str, Any]:
    """A request far from the example that has an answer."""
    found = calculators.get(name)
    made = (random_request(found, 70_000 + seed, "si") for seed in range(100))
    return next(each for each in made if "errors" not in found.run(each))


@pytest.mark.parametrize("name", calculators.NAMES)
def test_a_calculator_computes_from_its_file(name: str, page: Page) -> None:
    ready(page, name)
    found = calculators.get(name)
    native = found.run({"units": found.example_units, "inputs": dict(found.example)})
    assert page.evaluate("document.querySelector('.hb-outcome').dataset.outcome") == native["outcome"]
    assert page.text(".hb-headline") == unbroken(native["headline"].split(". ", 1)[-1])
    request = another(name)
    native = found.run(request)
    answer = json.loads(page.promised("window.HandbookPython.run(arguments[0], arguments[1])", name, json.dumps(request)))
    assert [answer["outcome"], answer["headline"]] == [native["outcome"], native["headline"]]

"""A link is what anybody may send: taken as it is meant, or refused in words with nothing shown as if it were its own."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest

from tests.browser.test_answer import ROOT, STANDS, ready
from tests.browser.test_calculators import STATE

pytestmark = pytest.mark.browser

GOOD: dict[str, Any] = {"calculator": "clearance", "units": "us", "rules": "us", "inputs": {"cabinet_width": "41 1/2"}}
DAMAGED = "damaged"
OLD = "another edition"
NONE = "no value"


def with_inputs(**inputs: Any) -> dict[str, Any]:
    return {**GOOD, "inputs": inputs}


# What somebody may send, and the words that tell of it.
WRONG: dict[str, tuple[Any, str]] = {
    "cut off": (json.dumps(GOOD)[:40], DAMAGED),
    "bad encoding": ("raw:%E0%A4%A", DAMAGED),
    "nothing": ("", DAMAGED),
    "a list": ([GOOD], DAMAGED),
    "null": (None, DAMAGED),
    "deep": ("[" * 50_000, DAMAGED),
    "huge": (with_inputs(cabinet_width="1" * 300_000), DAMAGED),
    "of another calculator": ({**GOOD, "calculator": "circuit"}, "another calculator (circuit)"),
    "of no calculator": ({**GOOD, "calculator": "<b>x</b>"}, "another calculator."),
    "calculator is no word": ({**GOOD, "calculator": {"length": 3}}, DAMAGED),
    "without inputs": ({"calculator": "clearance", "units": "us"}, "no measurements"),
    "with no inputs": (with_inputs(), "no measurements"),
    "inputs are a list": ({**GOOD, "inputs": [1]}, "no measurements"),
    "units of a third kind": ({**GOOD, "units": "imperial"}, DAMAGED),
    "units left out": ({"calculator": "clearance", "inputs": GOOD["inputs"]}, DAMAGED),
    "rules unknown": ({**GOOD, "rules": "__proto__"}, OLD),
    "a part more": ({**GOOD, "local": {"space.rear_gap": 0}}, OLD),
    "an input that is gone": (with_inputs(cabinet_girth="3"), "“cabinet_girth” is not asked for"),
    "the units as an input": (with_inputs(units="si"), OLD),
    "a choice that is gone": (with_inputs(route=[{"kind": "catapult"}]), "“catapult” is no choice"),
    "many rows": (with_inputs(route=[{}] * 1500), "1500 of"),
    "a length of rows": (with_inputs(route={"length": 1500}), NONE),
    "rows of a length": (with_inputs(length=1500), OLD),
    "rows are no rows": (with_inputs(route=["door"]), NONE),
    "a row's strange input": (with_inputs(route=[{"colour": "red"}]), OLD),
    "a value that is a set": (with_inputs(cabinet_width={"length": 1e9}), NONE),
    "a value that is nothing": (with_inputs(cabinet_width=None), NONE),
    "a long text": (with_inputs(cabinet_width="9" * 201), NONE),
    "an own prototype": ('{"calculator":"clearance","units":"us","rules":"us","inputs":{"__proto__":{"cabinet_width":"3"}}}', OLD),
    "an infinite number": ('{"calculator":"clearance","units":"us","rules":"us","inputs":{"cabinet_width":1e999}}', NONE),
}  # fmt: skip


def fragment(link: Any) -> str:
    if isinstance(link, str) and link.startswith("raw:"):
        return f"#inputs={link[4:]}"
    return "#inputs=" + quote(link if isinstance(link, str) else json.dumps(link))


def open_with(watched: Any, site: Path, link: Any, name: str = "clearance") -> Any:
    page = watched.page
    page.goto((site / "calculators" / f"{name}.html").as_uri() + fragment(link))
    watched.wait(f"{STATE} === 'ready'")
    watched.wait(STANDS)
    return page


def typed(page: Any) -> list[str]:
    return page.evaluate("[...document.querySelectorAll('.hb-form input[type=text]')].map((each) => each.value).filter(Boolean)")


@pytest.mark.parametrize("name", ["cut off", "of another calculator", "without inputs", "many rows"])
def test_a_link_that_cannot_be_used_leaves_an_empty_form(name: str, watched: Any, site: Path) -> None:
    """Opened with it, the page says why; neither example nor “Ready” stands there as if it were the link's."""
    link, words = WRONG[name]
    page = open_with(watched, site, link)
    assert words in page.inner_text(".hb-notice")
    assert "the form is empty" in page.inner_text(".hb-notice")
    assert typed(page) == []
    assert page.locator(".hb-row").count() == 0
    assert not page.inner_text(".hb-status").startswith("Ready")
    assert page.get_attribute("[data-calculator]", "data-outcome") == "unknown"
    assert not watched.complaints
    page.fill("[name=cabinet_width]", "38")
    assert not page.locator(".hb-notice").is_visible()


def test_every_wrong_link_is_told_and_leaves_what_was_typed(watched: Any, site: Path) -> None:
    """Arriving in an open page: the reader's values and their answer stay, the words say whose they are."""
    page = ready(watched, site)
    page.fill("[name=cabinet_width]", "37 1/4")
    watched.wait(STANDS)
    before, answer = typed(page), page.inner_text(".hb-result")
    for name, (link, words) in WRONG.items():
        page.evaluate("(hash) => { location.hash = hash; }", fragment(link))
        watched.wait("!document.querySelector('.hb-notice').hidden && document.querySelector('.hb-notice').innerText")
        told = page.inner_text(".hb-notice")
        assert words in told, (name, told)
        assert "not from the link" in told
        assert len(told) < 400
        assert (typed(page), page.inner_text(".hb-result")) == (before, answer), name
        page.evaluate("document.querySelector('.hb-notice').hidden = true")
    assert page.evaluate("({}).cabinet_width") is None
    assert page.locator(".hb-notice b").count() == 0
    assert not watched.complaints


def test_a_link_is_taken_by_an_open_page(watched: Any, site: Path) -> None:
    """It fills the form at once and withdraws what stood there; after an edit the same link works again."""
    page = ready(watched, site)
    page.evaluate("window.hold()")
    page.evaluate("(hash) => { location.hash = hash; }", fragment(GOOD))
    watched.wait("document.querySelector('[name=cabinet_width]').value === '41 1/2'")
    assert page.locator(".hb-outcome").count() == 0
    assert page.input_value("[name=cabinet_depth]") == ""
    page.evaluate("window.release()")
    watched.wait(STANDS)
    assert page.inner_text(".hb-notice").startswith("Filled in from the link.")
    page.fill("[name=cabinet_width]", "30")
    assert page.evaluate("location.hash") == ""
    page.evaluate("(hash) => { location.hash = hash; }", fragment(GOOD))
    watched.wait("document.querySelector('[name=cabinet_width]').value === '41 1/2'")


def test_a_link_carries_values_units_and_rules(watched: Any, site: Path) -> None:
    """Copied here and opened elsewhere: the same form, the same units, the same answer."""
    page = ready(watched, site)
    page.evaluate("() => { navigator.clipboard.writeText = async (text) => { window.copied = text; }; }")
    page.check("input[name=units][value=si]")
    watched.wait(f"{STANDS} && document.querySelector('[name=cabinet_width]').value.length > 2")
    page.fill("[name=cabinet_width]", "985")
    watched.wait(STANDS)
    page.click("[data-do=link]")
    link = watched.wait("window.copied")
    was = typed(page), page.inner_text(".hb-result")
    other = page.context.new_page()
    other.goto(str(link))
    while other.evaluate(f"!({STANDS})"):
        other.wait_for_load_state()
    assert (typed(other), other.inner_text(".hb-result")) == was
    assert other.is_checked("input[name=units][value=si]")
    assert '"rules":"us"' in other.evaluate("decodeURIComponent(location.hash)")
    assert other.evaluate(f"{ROOT}.dataset.from") == "reader"
    other.close()


@pytest.mark.parametrize(("rules", "words"), [
    ("uk", "made under the rules of the United Kingdom"), (None, "does not say whose rules"), ("us", "")])  # fmt: skip
def test_a_link_of_other_rules_says_whose_rules_answer(rules: str | None, words: str, watched: Any, site: Path) -> None:
    """The measures are the link's, the rules are this handbook's: the reader is told where they differ."""
    link = {key: value for key, value in {**GOOD, "rules": rules}.items() if value}
    page = open_with(watched, site, link)
    told = page.inner_text(".hb-notice")
    assert words in told
    assert (told == "Filled in from the link.") == (rules == "us")
    assert page.input_value("[name=cabinet_width]") == "41 1/2"


def test_a_link_with_a_value_that_cannot_be_read_is_told_at_the_field(watched: Any, site: Path) -> None:
    """Its form is right, its value is not: the value stands there with its error, and there is no answer."""
    page = watched.page
    page.goto((site / "calculators" / "clearance.html").as_uri() + fragment(with_inputs(cabinet_width="wide")))
    watched.wait("!document.querySelector('.hb-errors').hidden")
    watched.wait(f"{STATE} === 'ready'")
    assert page.input_value("[name=cabinet_width]") == "wide"
    assert page.locator(".hb-outcome").count() == 0
    assert not page.inner_text(".hb-status").startswith("Ready")


def test_the_units_of_a_link_stand_beside_its_values_before_python_comes(watched: Any, site: Path) -> None:
    """Nobody reads 990 as inches while the calculator is fetched."""
    page = watched.page
    page.route("**/python-wasm-*.js", lambda route: None)
    link = {**with_inputs(cabinet_width="990"), "units": "si"}
    page.goto((site / "calculators" / "clearance.html").as_uri() + fragment(link), wait_until="domcontentloaded")
    watched.wait("document.querySelector('[name=cabinet_width]').value === '990'")
    assert page.inner_text(".hb-field:has([name=cabinet_width]) .hb-unit") == "mm"
    assert page.locator(".hb-outcome").count() == 0

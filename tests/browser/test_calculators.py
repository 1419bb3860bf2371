"""The calculators in their pages, opened as files: they compute what native Python computes."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators.core.html import unbroken
from tests.browser.conftest import until
from tests.browser.workers import COUNTED, EARLY, HEAVY, HOLD, STEPPED
from tests.support import published, replay
from tests.support.inputs import random_request
from tools.book.data import load
from tools.commands import inside_page
from tools.runtime.scripts import PART_SIZE

pytestmark = pytest.mark.browser

RANDOM = 200
RUN = """async ([name, texts]) => {
  const answers = [];
  for (const text of texts) answers.push(await HandbookPython.run(name, text));
  return answers;
}"""
# Elements of the longest answer, which a page puts in place in one go. The plan's and the spiral's have
# under 1,500; what this costs in processor time is for `bench` to say.
MOST_ELEMENTS = 3_000
STATE = "document.querySelector('[data-calculator]').dataset.state"


def open_ready(watched: Any, site: Path, name: str) -> Any:
    watched.page.goto((site / "calculators" / f"{name}.html").as_uri())
    watched.wait(f"{STATE} === 'ready' || {STATE} === 'failed'")
    assert watched.page.evaluate(STATE) == "ready", watched.page.inner_text(".hb-status")
    return watched.page


@pytest.mark.parametrize("name", calculators.NAMES)
def test_a_calculator_computes_in_its_page(name: str, watched: Any, site: Path) -> None:
    """Nothing but files is asked for, nothing complained of, and all heavy work is the worker's."""
    watched.page.add_init_script(HOLD)
    watched.page.add_init_script(HEAVY)
    page = open_ready(watched, site, name)
    # Each part is handed on as it came.
    assert page.evaluate("[window.unpacked, window.compiled, window.workers.length]") == [0, 0, 2]
    parts = page.evaluate("window.told.filter(({ type }) => type === 'part').map(({ text }) => text.length)")
    assert len(parts) > 4
    assert max(parts) <= PART_SIZE
    assert page.evaluate("document.querySelectorAll('.hb-result *').length") <= MOST_ELEMENTS
    # The page's question is the one that was asked while it was read.
    assert page.evaluate("window.told.filter(({ json }) => json).length") == 1
    found = calculators.get(name)
    native = found.run({"units": found.example_units, "inputs": dict(found.example)})
    assert page.get_attribute(".hb-outcome", "data-outcome") == native["outcome"]
    assert page.inner_text(".hb-headline") == unbroken(native["headline"].split(". ", 1)[-1])
    assert all(url.startswith(("file:", "blob:", "data:")) for url in watched.asked)
    assert not watched.complaints
    assert not watched.violations()


@pytest.fixture(scope="module")
def python_page(browser: Any, site: Path) -> Iterator[Any]:
    page = browser.new_page()
    page.goto((site / "calculators" / "clearance.html").as_uri())
    until(lambda: page.evaluate(f"{STATE} === 'ready'"), "Python in the page")
    yield page
    page.close()


@pytest.mark.parametrize("name", calculators.NAMES)
def test_the_page_s_python_agrees_with_native_python(name: str, python_page: Any) -> None:
    """Outcomes and every printed text are equal; raw values within 1e-12 relative."""
    texts = [json.dumps({**request, "html": True}) for request in requests(name)]
    assert len(texts) >= RANDOM
    answers = python_page.evaluate(RUN, [name, texts])
    for text, answer in zip(texts, answers, strict=True):
        native = json.loads(calculators.run_json(name, text))
        differences = list(compare(native, json.loads(answer), ""))
        assert not differences, (text, differences[:5])


def test_published_functions_agree_in_the_page_s_python(browser: Any, site: Path) -> None:
    """Cases that call one function: the packed Python gives what native Python gives."""
    page = browser.new_page()
    page.add_init_script(inside_page.SCRIPT)
    page.goto((site / "calculators" / "clearance.html").as_uri())
    source = Path(replay.__file__).read_text(encoding="utf-8")
    for name in published.NAMES:
        jobs = json.dumps(published.jobs(name))
        text = json.dumps({"source": source, "jobs": jobs})
        answers = json.loads(page.evaluate(RUN, ["replay", [text]])[0])
        native = json.loads(replay.answer(jobs))
        assert len(native) >= published.LEAST
        differences = list(compare(native, answers, name))
        assert not differences, differences[:5]
    page.close()


def requests(name: str) -> list[dict[str, Any]]:
    """Random requests in both unit systems, and the calculator's own example and published cases."""
    found = calculators.get(name)
    made = [random_request(found, 50_000 + seed, ("us", "si")[seed % 2]) for seed in range(RANDOM)]
    own = [{"units": found.example_units, "inputs": dict(found.example)}]
    sets = [{"units": "si", "rules": rules, "inputs": dict(inputs)} for rules, inputs in found.set_examples.items()]
    return [*made, *own, *sets, *published.requests(name)]


def compare(native: Any, page: Any, path: str) -> Iterator[str]:
    """Every difference that a reader or a further calculation could meet."""
    if isinstance(native, dict) and isinstance(page, dict):
        for key in native.keys() | page.keys():
            yield from compare(native.get(key), page.get(key), f"{path}.{key}")
    elif isinstance(native, list) and isinstance(page, list) and len(native) == len(page):
        for number, (left, right) in enumerate(zip(native, page, strict=True)):
            yield from compare(left, right, f"{path}.{number}")
    elif isinstance(native, float) or isinstance(page, float):
        # 1e-12 absolute: what is left of a difference of equal lengths (mm, V, A) is noise.
        if not math.isclose(native, page, rel_tol=1e-12, abs_tol=1e-12):
            yield f"{path}: {native!r} is not {page!r}"
    elif isinstance(native, str) and isinstance(page, str):
        if words(native) != words(page):
            yield f"{path}: {words(native)!r} is not {words(page)!r}"
    elif native != page:
        yield f"{path}: {native!r} is not {page!r}"


def words(text: str) -> str:
    """What a reader reads of a text or a fragment: drawn coordinates are no words."""
    return re.sub(r"<[^>]*>", " ", text) if "<" in text else text


def test_a_form_tells_every_mistake_and_keeps_what_was_typed(watched: Any, site: Path) -> None:
    """The errors are listed above the form, linked to their fields; nothing is lost."""
    page = open_ready(watched, site, "clearance")
    page.fill("[name=cabinet_width]", "3,5")
    page.fill("[name=cabinet_depth]", "wide")
    page.press("[name=cabinet_width]", "Enter")
    watched.wait("document.querySelectorAll('.hb-errors li').length === 2")
    assert page.input_value("[name=cabinet_width]") == "3,5"
    assert page.get_attribute("[name=cabinet_depth]", "aria-invalid") == "true"
    page.click(".hb-errors li:nth-child(2) a")
    assert page.evaluate("document.activeElement.name") == "cabinet_depth"
    page.fill("[name=cabinet_width]", "39")
    page.fill("[name=cabinet_depth]", "34")
    page.press("[name=cabinet_width]", "Enter")
    watched.wait("document.querySelector('.hb-errors').hidden")


def test_switching_units_keeps_the_measures(watched: Any, site: Path) -> None:
    """The same cabinet in the other system: numbers are converted, the outcome stays."""
    page = open_ready(watched, site, "clearance")
    outcome = page.get_attribute(".hb-outcome", "data-outcome")
    page.fill("[name=cabinet_width]", "39")
    page.check("input[name=units][value=si]")
    watched.wait("document.querySelector('[name=cabinet_width]').value.startsWith('990')")
    assert page.get_attribute(".hb-outcome", "data-outcome") == outcome


def test_rows_are_added_removed_and_numbered(watched: Any, site: Path) -> None:
    """A leg more, a leg less; names stay in order so that nothing is mixed up."""
    page = open_ready(watched, site, "clearance")
    before = page.evaluate("document.querySelectorAll('[data-rows=route] .hb-row').length")
    page.click("[data-rows=route] [data-do=add]")
    assert page.evaluate("document.activeElement.name") == f"route.{before}.kind"
    page.click("[data-rows=route] .hb-row:nth-child(1) > summary")
    page.click("[data-rows=route] .hb-row:nth-child(1) [data-do=remove]")
    names = page.evaluate(
        "[...document.querySelectorAll('[data-rows=route] .hb-row select[name$=kind]')].map((e) => e.name)"
    )
    assert names == [f"route.{number}.kind" for number in range(before)]


def test_a_link_carries_what_was_typed(watched: Any, site: Path) -> None:
    """Opened afresh, the page shows the same inputs and result."""
    carried = {"calculator": "clearance", "units": "us", "inputs": {"cabinet_width": "41 1/2"}}
    address = (site / "calculators" / "clearance.html").as_uri()
    watched.page.goto(f"{address}#inputs={json.dumps(carried)}")
    watched.wait(f"{STATE} === 'ready'")
    assert watched.page.input_value("[name=cabinet_width]") == "41 1/2"
    assert watched.page.input_value("[name=cabinet_depth]") == ""


def test_without_scripts_the_page_reads_and_shows_the_example(browser: Any, site: Path) -> None:
    """Form, example and its working stand in the page as built."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for name in calculators.NAMES:
        page.goto((site / "calculators" / f"{name}.html").as_uri())
        assert page.locator(".hb-outcome").count() == 1
        assert page.locator(".hb-check").count() >= 1
        assert "worked example" in page.inner_text(".hb-status").lower()
    context.close()


def test_without_webassembly_the_page_says_so(watched: Any, site: Path) -> None:
    """The state is failed, in words, and the example stays."""
    watched.page.add_init_script("delete window.WebAssembly")
    watched.page.goto((site / "calculators" / "clearance.html").as_uri())
    watched.wait(f"{STATE} === 'failed'")
    assert "WebAssembly" in watched.page.inner_text(".hb-status")
    assert watched.page.locator(".hb-check").count() >= 1


WATCHED = """async ([text, stops]) => {
  const seen = [];
  const answer = await HandbookPython.run("plan", text, (progress, halt) => {
    seen.push(progress);
    if (stops) halt();
  });
  return [seen, answer];
}"""


def long_plan() -> str:
    """A whole cabinet of the demo, as a request."""
    inputs = load(Path(__file__).parents[2] / "docs" / "data").prefill("plan", {"site": "ferry-pier"})
    return json.dumps({"units": "us", "inputs": inputs})


def test_a_long_plan_tells_how_far_it_is(watched: Any, site: Path) -> None:
    """A slice is one step here, whatever the machine takes for it: each tells its share, in order."""
    watched.page.add_init_script(COUNTED)
    page, text = open_ready(watched, site, "plan"), long_plan()
    seen, whole = page.evaluate(WATCHED, [text, False])
    shares = [each["share"] for each in seen if each["share"] is not None]
    assert seen[0]["text"].startswith("Trying your coils")
    assert len(seen) > 1
    assert all(0 <= share <= 1 for share in shares)
    assert not list(compare(json.loads(calculators.run_json("plan", text)), json.loads(whole), ""))


def test_a_long_plan_can_be_stopped(watched: Any, site: Path) -> None:
    """Stopped at its first slice it claims nothing."""
    watched.page.add_init_script(STEPPED)
    page = open_ready(watched, site, "plan")
    told, early = page.evaluate(WATCHED, [long_plan(), True])
    assert len(told) == 1
    assert json.loads(early)["outcome"] == "unknown"


def test_the_stop_button_ends_a_plan(watched: Any, site: Path) -> None:
    """Progress shows while it works; the button ends it, and the line goes away."""
    watched.page.add_init_script(STEPPED)
    page = open_ready(watched, site, "plan")
    page.select_option(".hb-presets select", label="Ferry pier waiting hall")
    page.wait_for_selector(".hb-progress:not([hidden])")
    assert page.inner_text(".hb-progress span").startswith("Trying your coils")
    assert page.locator(".hb-outcome").count() == 0
    page.click(".hb-progress [data-do=stop]")
    watched.wait("document.querySelector('.hb-progress').hidden")
    assert page.get_attribute(".hb-outcome", "data-outcome") == "unknown"
    assert not watched.complaints


def test_a_first_answer_is_to_be_read_and_no_more(watched: Any, site: Path) -> None:
    """It comes before the full one and says so; it is not copied or printed, and what a reader opens stays open."""
    watched.page.add_init_script(EARLY)
    page = open_ready(watched, site, "float")
    root = page.locator("[data-calculator]")
    assert page.locator(".hb-early").count() == 0  # the built answer stands
    page.fill("[name=sales_per_day]", "23")
    page.wait_for_selector(".hb-early")
    assert "less exact" in page.inner_text(".hb-early")
    assert page.locator(".hb-outcome").count() == 1
    assert root.get_attribute("data-outcome") is None
    assert page.inner_text(".hb-bar .hb-badge").split() == page.inner_text(".hb-outcome .hb-badge").split()
    page.click("[data-do=copy]", force=True)
    watched.wait(f"document.querySelector('.hb-status').textContent === {json.dumps(NONE_YET)}")
    fold = page.locator(".hb-result details").last
    fold.locator("summary").click()
    page.click(".hb-progress [data-do=stop]")
    watched.wait("!document.querySelector('.hb-early') && !document.querySelector('[data-calculator]').hasAttribute('data-withdrawn')")
    assert "You stopped it" in page.inner_text(".hb-result")
    assert page.locator(".hb-result details[open]").count() == 1
    assert not watched.complaints


NONE_YET = "There is no result for what stands in the form, so there is nothing to print or copy."
ASKED = "window.told.filter(({ name }) => name)"


@pytest.mark.parametrize(("name", "field"), [("float", "sales_per_day"), ("plan", "days")])
def test_typing_goes_on_while_an_answer_is_worked_out(name: str, field: str, watched: Any, site: Path) -> None:
    """Keys in one go are one question; a key while it is worked on stands at once, and drops that question."""
    page = watched.page
    page.clock.install()
    page.add_init_script(HOLD)
    open_ready(watched, site, name)
    page.evaluate("window.hold(); window.told = []")
    page.clock.pause_at(datetime.now(tz=UTC) + timedelta(days=1))
    page.fill(f"[name={field}]", "")
    page.keyboard.type("12")
    assert page.evaluate(ASKED) == []
    page.clock.run_for(400)
    watched.wait(f"{ASKED}.length === 1")
    page.keyboard.press("Backspace")
    page.keyboard.type("4")
    assert page.input_value(f"[name={field}]") == "14"
    assert page.evaluate(ASKED + ".length") == 1
    page.clock.run_for(400)
    watched.wait(f"{ASKED}.length === 2")
    asked = page.evaluate(f"{ASKED}.map(({{ json }}) => JSON.parse(json).inputs['{field}'])")
    assert asked == ["12", "14"]
    page.clock.resume()
    page.evaluate("window.release()")
    page.wait_for_selector("[data-calculator][data-outcome]:not([aria-busy])")
    assert not watched.complaints

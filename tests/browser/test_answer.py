"""An answer belongs to its inputs: it goes with the first change, and errors stand at their fields."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from tests.browser.test_calculators import STATE, open_ready
from tests.browser.workers import HOLD

pytestmark = pytest.mark.browser

ROOT = "document.querySelector('[data-calculator]')"
STANDS = f"{ROOT}.dataset.outcome && !{ROOT}.hasAttribute('aria-busy')"
REFUSED = "!document.querySelector('.hb-errors').hidden"
WORDS = re.compile(r"\b(Go|Take care|Stop|Not known yet)\b")
# Where an old word, colour or mark could be left: text, classes, data for other scripts.
LEFT = f"""() => {{ const root = {ROOT};
  const seen = [root, ...root.querySelectorAll(".hb-result, .hb-result *, .hb-bar *")];
  return [root.querySelector(".hb-result").innerText + " " + root.querySelector(".hb-bar").textContent, root.querySelector(".hb-status").innerText,
    ...seen.filter((each) => each.dataset.outcome).map((each) => `${{each.className}} ${{each.dataset.outcome}}`),
    ...seen.filter((each) => /hb-(badge|outcome)/.test(each.className)).map((each) => each.className)]; }}"""


def ready(watched: Any, site: Path, name: str = "clearance") -> Any:
    """A page whose worker can be held, its first answer standing."""
    watched.page.add_init_script(HOLD)
    page = open_ready(watched, site, name)
    watched.wait(STANDS)
    return page


def left(page: Any) -> list[str]:
    """What of a verdict is left on the page, without the neutral sentence."""
    result, status, *marks = page.evaluate(LEFT)
    return [*WORDS.findall(result.replace("Stop and show", "")), *WORDS.findall(status), *marks]


def unfolded(page: Any, number: int) -> Any:
    """The page with a row of the way in opened, as a reader does."""
    row = page.locator("[data-rows=route] .hb-row").nth(number - 1)
    if row.get_attribute("open") is None:
        row.locator("> summary").click()
    return page


def act(page: Any, number: int, what: str) -> None:
    """Press one of a row's buttons."""
    unfolded(page, number).locator(f"[data-rows=route] .hb-row:nth-child({number}) [data-do={what}]").click()


CHANGES: dict[str, Callable[[Any], object]] = {
    "type": lambda page: (page.press("[name=cabinet_width]", "End"), page.keyboard.type(".5")),
    "choose": lambda page: unfolded(page, 1).select_option("[name='route.0.kind']", index=2),
    "units": lambda page: page.check("input[name=units][value=si]"),
    "add": lambda page: page.click("[data-rows=route] [data-do=add]"),
    "remove": lambda page: act(page, 1, "remove"),
    "copy": lambda page: act(page, 1, "double"),
    "undo": lambda page: (page.evaluate("window.release()"), act(page, 1, "down"), page.evaluate("window.hold()"), page.click("[data-do=undo]")),
    "clear": lambda page: page.click("[data-do=clear]"),
    "example": lambda page: (page.evaluate("document.querySelector('[name=cabinet_width]').value = '30'"), page.click("[data-do=example]")),
}  # fmt: skip


def test_the_old_answer_is_gone_before_the_new_one_comes(watched: Any, site: Path) -> None:
    """Whatever changes the form takes word, colour and data away in the same moment: each on the example, of one page."""
    page = ready(watched, site)
    for name, change in CHANGES.items():
        assert left(page), name
        page.evaluate("window.hold()")
        change(page)
        assert left(page) == [], name
        assert "Working it out" in page.inner_text(".hb-pending"), name
        page.evaluate("window.release()")
        watched.wait(STANDS)
        assert left(page), name
        assert page.locator(".hb-pending").count() == 0, name
        page.check("input[name=units][value=us]")
        page.click("[data-do=example]")
        watched.wait(STANDS)
    assert not watched.violations()


def test_an_answer_to_an_older_form_is_dropped(watched: Any, site: Path) -> None:
    """Asked, then changed, then answered: what comes is about what stood there before."""
    page = ready(watched, site)
    page.evaluate("window.hold()")
    page.fill("[name=cabinet_width]", "38")
    watched.wait("window.held.length")
    page.fill("[name=cabinet_width]", "in the way")
    page.evaluate("{ const [first] = window.held.splice(0); first(); }")
    assert left(page) == []
    page.evaluate("window.release()")
    watched.wait(REFUSED)
    assert left(page) == []


def test_what_cannot_be_read_has_no_answer(watched: Any, site: Path) -> None:
    """The old Go is not shown, not copied, not printed, not in a link; the form says why."""
    page = ready(watched, site)
    page.evaluate("""() => { window.printed = 0; window.print = () => { window.printed++; };
      window.copied = []; navigator.clipboard.writeText = async (text) => { window.copied.push(text); }; }""")
    page.fill("[name=cabinet_width]", "3,5")
    watched.wait(REFUSED)
    assert left(page) == []
    assert page.inner_text(".hb-pending").startswith("Not worked out")
    for act in ("print", "copy", "link"):
        assert page.get_attribute(f".hb-after [data-do={act}]", "aria-disabled") == "true"
        page.click(f".hb-after [data-do={act}]", force=True)
        assert "no result" in page.inner_text(".hb-status")
    assert page.evaluate("[window.printed, window.copied, document.querySelectorAll('.hb-copy').length]") == [0, [], 0]
    page.emulate_media(media="print")
    assert "Not worked out" in page.inner_text(".hb-result")
    assert not page.locator(".hb-calculator .hb-print-only").is_visible()
    page.emulate_media(media="screen")
    page.fill("[name=cabinet_width]", "38")
    watched.wait(STANDS)
    for act in ("print", "copy", "link"):
        page.click(f".hb-after [data-do={act}]")
    watched.wait("window.copied.length === 2")
    assert page.evaluate("window.printed") == 1


def test_a_text_to_copy_by_hand_goes_with_its_answer(watched: Any, site: Path) -> None:
    """Where the clipboard is closed the text is shown; it must not outlive the inputs."""
    page = ready(watched, site)
    page.evaluate("() => { navigator.clipboard.writeText = async () => { throw new Error('no'); }; }")
    page.click(".hb-after [data-do=copy]")
    page.wait_for_selector(".hb-copy")
    page.fill("[name=cabinet_width]", "38")
    assert page.locator(".hb-copy").count() == 0


def test_an_error_stands_at_its_field(watched: Any, site: Path) -> None:
    """Marked, with the sentence beside it, read out with the field; in a fold, in a row; gone when mended."""
    page = ready(watched, site)
    fields = ["cabinet_width", page.evaluate(
        "document.querySelector('.hb-form > .hb-more:not([open]) input[type=text]').name"), "route.0.width"]  # fmt: skip
    page.evaluate("""(names) => { for (const name of names) {
      const box = document.querySelector(`[name="${name}"]`);
      box.value = "wide"; box.dispatchEvent(new Event("input", { bubbles: true })); } }""", fields)  # fmt: skip
    watched.wait("document.querySelectorAll('.hb-errors li').length === 3")
    for name in fields:
        box = page.locator(f'[name="{name}"]')
        ids = box.get_attribute("aria-describedby").split()
        said = [page.inner_text(f'[id="{each}"]') for each in ids]
        assert box.get_attribute("aria-invalid") == "true"
        assert "“wide” cannot be used" in said[-1]
        assert page.locator(f'[id="{ids[-1]}"]').is_visible(), "the fold round it is open"
        assert page.locator(f'.hb-field:has([name="{name}"]) .hb-wrong').count() == 1
    page.fill("[name=cabinet_width]", "38")
    watched.wait("document.querySelectorAll('.hb-errors li').length === 2")
    assert page.locator(".hb-wrong").count() == 2
    assert page.get_attribute("[name=cabinet_width]", "aria-invalid") is None
    assert page.get_attribute("[name=cabinet_width]", "aria-describedby").split() == [
        page.get_attribute(".hb-field:has([name=cabinet_width]) .hb-hint", "id")]  # fmt: skip


def test_rows_keep_names_ids_and_labels_together(watched: Any, site: Path) -> None:
    """After rows came and went each label, hint and error still finds its own box."""
    page = ready(watched, site)
    for _ in range(2):
        page.click("[data-rows=route] [data-do=add]")
    act(page, 2, "remove")
    lost = page.evaluate("""() => [...document.querySelectorAll("[data-rows] .hb-row .hb-field")].filter((field) => {
      const control = field.querySelector("[name]");
      return field.querySelector("label").htmlFor !== control.id
        || (control.getAttribute("aria-describedby") ?? "").split(" ").filter(Boolean)
          .some((id) => field.querySelector(`[id="${id}"]`) === null);
    }).map((field) => field.outerHTML)""")
    ids = page.evaluate("[...document.querySelectorAll('[id]')].map((each) => each.id)")
    prefix = page.get_attribute("[data-calculator]", "id")
    assert lost == []
    assert len(ids) == len(set(ids))
    assert page.evaluate("[...document.querySelectorAll('.hb-row [id]')].map((each) => each.id)")[0].startswith(f"{prefix}-route-0-")


# -- units ----------------------------------------------------------------------------

MARK = ".hb-field:has([name={}]) .hb-unit"


def test_a_value_with_a_unit_of_its_own_stands_without_the_mark(watched: Any, site: Path) -> None:
    """“65 mm” never stands in a box marked in; converted it takes the mark again."""
    page = ready(watched, site)
    mark = page.locator(MARK.format("cabinet_width"))
    assert mark.inner_text() == "in"
    page.fill("[name=cabinet_width]", "990 mm")
    assert not mark.is_visible()
    page.fill("[name=cabinet_width]", "38 1/2")
    assert mark.is_visible()
    page.fill("[name=cabinet_width]", "990 mm")
    page.check("input[name=units][value=si]")
    watched.wait("document.querySelector('[name=cabinet_width]').value === '990'")
    assert (mark.is_visible(), mark.inner_text()) == (True, "mm")


def test_marks_of_new_rows_are_in_the_units_of_the_form(watched: Any, site: Path) -> None:
    """A row that was made after the switch is marked like the others."""
    page = ready(watched, site)
    page.check("input[name=units][value=si]")
    watched.wait(f"{STANDS} && document.querySelector('{MARK.format('cabinet_width')}').textContent === 'mm'")
    page.click("[data-rows=route] [data-do=add]")
    marks = page.evaluate("[...document.querySelectorAll('.hb-row [data-unit-of=length]')].map((each) => each.textContent)")
    assert set(marks) == {"mm"}


def test_switching_units_types_nothing_and_forgets_nothing(watched: Any, site: Path) -> None:
    """Blank stays blank, and a field that does not apply just now keeps the measure it had."""
    page = ready(watched, site)
    blank = "[...document.querySelectorAll('.hb-form input[type=text]')].filter((each) => !each.value).map((each) => each.name)"
    before = page.evaluate(blank)
    assert before
    unfolded(page, 1).fill("[name='route.0.width']", "42 1/4")
    kind = page.input_value("[name='route.0.kind']")
    other = page.evaluate("""() => { const box = document.querySelector("[name='route.0.width']");
      const fitting = box.closest("[data-when]").dataset.is.split(" ");
      return [...document.querySelector("[name='route.0.kind']").options].map((each) => each.value)
        .find((each) => each && !fitting.includes(each)); }""")
    page.select_option("[name='route.0.kind']", other)
    assert not page.locator("[name='route.0.width']").is_visible()
    page.check("input[name=units][value=si]")
    watched.wait(f"{STANDS} && document.querySelector('[name=cabinet_width]').value.length > 2")
    assert page.evaluate(blank) == before
    page.select_option("[name='route.0.kind']", kind)
    assert page.input_value("[name='route.0.width']") == "42 1/4 in"
    assert not page.locator(".hb-field:has([name='route.0.width']) .hb-unit").is_visible()


def test_units_and_a_key_at_once_keep_the_measures(watched: Any, site: Path) -> None:
    """Switched and typed before the answer came: what was typed is still in the unit beside it."""
    page = ready(watched, site)
    page.evaluate("window.hold()")
    page.check("input[name=units][value=si]")
    page.fill("[name=cabinet_width]", "40")
    page.evaluate("window.release()")
    watched.wait("document.querySelector('[name=cabinet_width]').value === '1016'")
    assert page.inner_text(MARK.format("cabinet_width")) == "mm"


def test_clear_takes_the_choice_from_the_data_back(watched: Any, site: Path) -> None:
    """Nothing of a site is left, its name neither, and the page says so."""
    page = ready(watched, site)
    page.select_option(".hb-presets select", index=1)
    watched.wait(STANDS)
    page.click("[data-do=clear]")
    assert page.input_value(".hb-presets select") == ""
    assert "from our data is taken back" in page.inner_text(".hb-notice")
    watched.wait(STANDS)
    assert "from our data is taken back" in page.inner_text(".hb-notice")
    assert page.evaluate("[...document.querySelectorAll('.hb-form input[type=text]')].every((each) => !each.value)")
    page.select_option(".hb-presets select", index=1)
    page.click("[data-do=example]")
    assert page.input_value(".hb-presets select") == ""


def test_the_page_starts_with_the_answer_it_was_built_with(watched: Any, site: Path) -> None:
    """As built, the form and the answer belong together: nothing is withdrawn while Python comes."""
    watched.page.route("**/python-wasm-*.js", lambda route: None)
    watched.page.goto((site / "calculators" / "clearance.html").as_uri(), wait_until="domcontentloaded")
    watched.wait(f"{STATE} === 'loading' && document.querySelector('.hb-notice')")
    assert watched.page.locator(".hb-outcome").count() == 1
    watched.page.fill("[name=cabinet_width]", "38")
    assert left(watched.page) == []


def test_what_was_typed_outlives_reload_back_and_a_link(watched: Any, site: Path) -> None:
    """A row that was added too; a link that is opened meanwhile is taken, and undone it gives way."""
    page = ready(watched, site)
    page.fill("[name=cabinet_width]", "38.5")
    act(page, 1, "double")
    rows = page.locator("[data-rows=route] .hb-row").count()
    watched.wait(STANDS)

    def stands() -> None:
        watched.wait(f"document.querySelectorAll('[data-rows=route] .hb-row').length === {rows}")
        assert page.input_value("[name=cabinet_width]") == "38.5"
        assert "still stands" in page.inner_text(".hb-notice")

    page.reload()
    stands()
    page.goto((site / "index.html").as_uri())
    page.go_back()
    stands()
    page.goto((site / "index.html").as_uri())
    page.goto((site / "calculators/clearance.html").as_uri())
    stands()
    page.evaluate("""location.hash = "inputs=" + encodeURIComponent(JSON.stringify({ calculator: "clearance",
      units: "us", rules: "us", inputs: { cabinet_width: "22" } }))""")
    watched.wait("document.querySelector('[name=cabinet_width]').value === '22'")
    page.click("[data-do=undo]")
    assert page.input_value("[name=cabinet_width]") == "38.5"


def test_steps_are_taken_back_one_by_one(watched: Any, site: Path) -> None:
    page = ready(watched, site)
    lines = "[...document.querySelectorAll('[data-rows=route] .hb-row .hb-brief')].map((each) => each.textContent)"
    built = page.evaluate(lines)
    assert len(built) > 2
    assert all(built)
    act(page, 1, "down")
    assert page.evaluate(lines) == [built[1], built[0], *built[2:]]
    act(page, 1, "double")
    assert page.evaluate(lines) == [built[1], built[1], built[0], *built[2:]]
    act(page, 2, "remove")
    page.click("[data-do=clear]")
    assert page.evaluate(lines) == []
    for _ in range(4):
        page.click("[data-do=undo]")
    assert page.evaluate(lines) == built
    assert not page.locator("[data-do=undo]").is_visible()


def test_what_is_changed_by_hand_is_not_our_data_s_any_more(watched: Any, site: Path) -> None:
    page = ready(watched, site, "spiral")
    page.select_option(".hb-presets select", index=1)
    name = page.evaluate("document.querySelector('.hb-presets select').selectedOptions[0].textContent")
    assert not page.evaluate("document.querySelector('[data-known]').open"), "what the data hold is not asked again"
    page.click("[data-known] > summary")
    page.fill("[name=diameter]", "62 mm")
    assert page.input_value(".hb-presets select") == ""
    assert name in page.inner_text(".hb-notice")


def test_a_line_says_the_same_as_when_the_page_was_built(watched: Any, site: Path) -> None:
    """The page's own words for rows and groups, and those that Python wrote."""
    page = ready(watched, site)
    lines = "[...document.querySelectorAll('.hb-form .hb-brief')].map((each) => each.textContent)"
    html = (site / "calculators" / "clearance.html").read_text("utf-8").split("<template>")
    built = [unescape(each) for part in html for each in
             re.findall(r'class="?hb-brief"?>([^<]*)<', part.split("</template>")[-1])]  # fmt: skip
    assert page.evaluate(lines) == built
    assert sum(bool(each) for each in built) > 6

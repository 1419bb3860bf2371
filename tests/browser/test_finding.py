"""Finding: a fault by what one sees, in three taps; what a search found; both by the keyboard alone."""

from __future__ import annotations

from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any
from unicodedata import normalize

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests.browser.conftest import Watched
from tests.browser.test_accessibility import axe, faults, settle
from tests.support.booklets import squeezed

__all__ = ["axe"]
pytestmark = pytest.mark.browser

SIZES = {"phone": (390, 844), "desk": (1280, 900)}
FAULT = "procedures/find-a-fault.html"
HITS = ".md-search-result__item"
ASK, TOLD, PATH = ".hb-finder-ask", ".hb-finder-told", ".hb-finder-path"


@pytest.fixture(params=SIZES.values(), ids=SIZES.keys())
def screen(request: Any, browser: Browser) -> Any:
    """A page of the size of a phone and of a desk, where nothing was stored."""
    width, height = request.param
    context = browser.new_context(viewport={"width": width, "height": height}, reduced_motion="reduce")
    yield Watched(context)
    context.close()


@pytest.fixture(params=["light", "dark"])
def page(request: Any, browser: Browser) -> Any:
    """A phone's page for axe-core, which the policy of a page would refuse."""
    context = browser.new_context(bypass_csp=True, color_scheme=request.param, reduced_motion="reduce",
                                  viewport={"width": 390, "height": 844})  # fmt: skip
    yield context.new_page()
    context.close()


def home(screen: Watched, site: Path) -> Page:
    screen.page.goto((site / "index.html").as_uri())
    return screen.page


def in_reach(page: Page, selector: str) -> bool:
    """Whether a part ends no more than one screen below what is seen."""
    below: float = page.locator(selector).first.evaluate("(part) => part.getBoundingClientRect().bottom / innerHeight")
    return below <= 2


def tap(page: Page, selector: str) -> None:
    """One tap, on what is at most one screen away."""
    assert in_reach(page, selector)
    page.click(selector)


THINGS = {
    "note jam": ("note", ["No"], f"{TOLD} a[href*='note-unit.html#step-2']"),
    "what a light means": ("light", [], ".hb-finder li a[href='#fault-warm']"),
    "a customer not paid out": ("paid", ["Yes"], f"{TOLD} a[href*='complaints-and-refunds.html#step-3']"),
}


@pytest.mark.parametrize(("key", "answers", "wanted"), THINGS.values(), ids=THINGS.keys())
def test_three_taps_from_home(key: str, answers: list[str], wanted: str, screen: Watched, site: Path) -> None:
    """Something is wrong, what one sees, and at most one answer: what to do stands on the screen."""
    page = home(screen, site)
    tap(page, "a[href='procedures/find-a-fault.html']")
    tap(page, f".hb-symptoms a[href='#fault-{key}']")
    for answer in answers:
        tap(page, f".hb-finder-answers button:has-text('{answer}')")
    assert len(answers) <= 1
    screen.wait(f"document.querySelector({wanted!r})")
    assert page.is_visible(wanted)
    assert in_reach(page, wanted)
    assert (screen.complaints, screen.violations()) == ([], [])


def test_the_link_of_an_answer_leads_to_its_step(screen: Watched, site: Path) -> None:
    """The address names the step, and the step is there."""
    page = screen.page
    page.goto((site / FAULT).as_uri() + "#fault-note")
    page.click(".hb-finder-answers button:has-text('No')")
    page.click(f"{TOLD} a[href*='#step-2']")
    page.wait_for_url("**/note-unit.html*")
    screen.wait("location.hash === '#step-2' && document.querySelector('#step-2')")
    assert "Pull the plug" in page.inner_text("#step-2")


def test_one_question_at_a_time_with_back_and_start_again(screen: Watched, site: Path) -> None:
    """The path so far stands in one line; Back undoes one answer, as the browser's own does; Start again shows the buttons."""
    page = screen.page
    page.goto((site / FAULT).as_uri())
    page.evaluate("window.same = true")
    page.click(".hb-symptoms a[href='#fault-dead']")
    assert page.evaluate("window.same"), "a link within the page loaded it anew"
    first = page.inner_text(ASK)
    for _ in range(2):
        page.click(".hb-finder-answers button:first-child")
    assert page.inner_text(PATH) == "It is dead · 1 Yes · 2 Yes"
    assert page.evaluate(f"document.querySelector('{PATH}').scrollWidth <= document.querySelector('{PATH}').clientWidth")
    assert page.locator(ASK).count() == 1
    page.click(".hb-finder-leave button:has-text('Back')")
    screen.wait(f"document.querySelector('{PATH}').textContent === 'It is dead · 1 Yes'")
    page.go_back()
    screen.wait(f"document.querySelector('{ASK}').textContent === {first!r}")
    page.click(".hb-finder-answers button:has-text('Yes')")
    page.click(".hb-finder-leave button:has-text('Start again')")
    assert page.locator(".hb-symptoms a").first.is_visible()
    assert page.locator(".hb-finder").is_hidden()
    assert screen.complaints == []


# What is told at the end of each way that leaves a tree by No, pressed in the page: the button is the only one that can
# be seen with that word on it.
LEFT = """async ([key, questions]) => {
  const go = (hash) => new Promise((done) => {
    if (location.hash === hash) { done(); return; }
    addEventListener("hashchange", () => setTimeout(done), { once: true });
    location.hash = hash; });
  const press = (word) => {
    const [button, ...more] = [...document.querySelectorAll(".hb-finder-answers button")]
      .filter((one) => one.checkVisibility() && one.textContent.includes(word));
    if (!button || more.length) throw new Error(`${more.length} buttons more: ${word}`);
    button.click(); };
  const told = [];
  for (let yes = 0; yes < questions; yes++) {
    await go("");
    await go(`#fault-${key}`);
    for (let each = 0; each < yes; each++) press("Yes");
    press("No");
    told.push([[...document.querySelectorAll(".hb-finder-told")].at(-1).textContent, document.querySelectorAll(".hb-finder-ask").length]);
  }
  return told; }"""


def test_every_way_of_every_tree_ends_in_what_to_do(watched: Watched, site: Path) -> None:
    """By the buttons, against a walk of the page's own text: Yes onward until the last, No at any question."""
    page = watched.page
    page.goto((site / FAULT).as_uri())
    trees: dict[str, list[list[str]]] = page.evaluate("""() => Object.fromEntries([...document.querySelectorAll(".hb-fault")]
      .map((tree) => [tree.dataset.fault, [...tree.querySelectorAll(".hb-ask")]
        .map((asked) => [...asked.querySelectorAll(".hb-way span")].map((way) => way.textContent))]))""")
    assert len(trees) == 20
    for key, asked in trees.items():
        assert page.evaluate(LEFT, [key, len(asked)]) == [[no, 0] for _, no in asked], key
        page.evaluate("location.hash = ''")
        page.evaluate(f"location.hash = '#fault-{key}'")
        watched.wait("document.querySelector('.hb-finder-count')?.textContent.startsWith('Question 1 ')")
        for _ in asked:
            page.click(".hb-finder-answers button:has-text('Yes')")
        assert page.locator(TOLD).last.text_content() == asked[-1][0], key
        assert page.locator(ASK).count() == 0
    assert watched.complaints == []


def test_a_link_to_a_fault_opens_it(screen: Watched, site: Path) -> None:
    """From elsewhere, from the page itself, and from an answer that names another fault; what one sees is not asked again."""
    page = screen.page
    page.goto((site / FAULT).as_uri() + "#fault-light")
    assert page.inner_text(PATH) == "A light or a message"
    page.click(".hb-finder a[href='#fault-warm']")
    assert page.inner_text(PATH) == "It is too warm"
    page.evaluate("location.hash = '#fault-noise'")
    screen.wait(f"document.querySelector('{PATH}').textContent === 'A new noise'")
    page.evaluate("location.hash = '#fault-nothing'")
    screen.wait("document.querySelector('.hb-finder').hidden")
    assert screen.complaints == []


def test_a_caution_stands_before_the_first_question(screen: Watched, site: Path) -> None:
    """Also for somebody who comes by a link."""
    page = screen.page
    page.goto((site / FAULT).as_uri() + "#fault-coin")
    care, asked = (page.locator(f".hb-finder {name}").bounding_box() for name in (".hb-fault-care", ASK))
    assert care
    assert asked
    assert page.locator(".md-header").bounding_box()["height"] <= care["y"] < asked["y"]


def test_without_scripts_and_on_paper_the_whole_tree_stands(browser: Browser, site: Path) -> None:
    """The buttons lead to the trees; on paper the buttons are left out."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / FAULT).as_uri())
    assert page.locator(".hb-fault .hb-ask:visible").count() == page.locator(".hb-ask").count() > 50
    context.close()
    page = browser.new_page()
    page.goto((site / FAULT).as_uri() + "#fault-dead")
    page.emulate_media(media="print")
    assert page.locator(".hb-fault .hb-ask:visible").count() == page.locator(".hb-ask").count()
    assert page.locator(".hb-symptoms:visible, .hb-finder:visible").count() == 0
    page.close()


# Paper less its margins (print.css: 14 mm at the sides, 14 above and 16 below) at 96 pixels to the inch.
PAPER = {"A4": (182, 267), "Letter": (188, 249)}


@pytest.mark.parametrize("paper", PAPER)
def test_on_paper_no_tree_is_parted_and_no_sheet_of_them_half_empty(paper: str, browser: Browser, site: Path) -> None:
    """Short ones share a sheet where they fill it whole."""
    wide, high = (round(length / 25.4 * 96) for length in PAPER[paper])
    page = browser.new_page(viewport={"width": wide, "height": 1000})
    page.goto((site / FAULT).as_uri())
    page.emulate_media(media="print")
    trees = page.evaluate("""() => [...document.querySelectorAll(".hb-fault")].map((tree) => [tree.getBoundingClientRect().height,
      tree.querySelector("h3").firstChild.textContent, [...tree.querySelectorAll(".hb-ask-text")].map((each) => each.textContent)])""")
    leaves = [squeezed(normalize("NFKC", leaf.extract_text())) for leaf in PdfReader(BytesIO(page.pdf(format=paper))).pages]
    page.close()
    full: dict[int, float] = {}
    for tall, title, asked in trees:
        held = [at for at, leaf in enumerate(leaves) if all(squeezed(each) in leaf for each in (title, *asked))]
        assert len(held) == 1, title
        full[held[0]] = full.get(held[0], 0) + tall / high
    shares = [share for _, share in sorted(full.items())]
    assert all(one + two > 0.95 for one, two in pairwise(shares)), "two sheets in a row would have been one"
    assert all(share >= 0.5 for share in full.values()), full


def test_a_fault_is_found_with_the_keyboard_alone(watched: Watched, site: Path) -> None:
    """Enter on the drawing, Tab from the question to Yes and No, and the focus stands on what to do."""
    page = watched.page
    page.goto((site / FAULT).as_uri())
    page.focus(".hb-symptoms a[href='#fault-coin']")
    page.keyboard.press("Enter")
    watched.wait(f"document.activeElement.matches('{ASK}')")
    for key in ("Tab", "Tab", "Enter"):
        page.keyboard.press(key)
    watched.wait(f"document.activeElement.matches('{TOLD}')")
    assert "done" in page.inner_text(TOLD)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    watched.wait(f"document.activeElement.matches('{ASK}')")


@pytest.mark.parametrize("state", ["grid", "question", "light", "told"])
def test_no_state_of_it_has_a_fault(state: str, page: Page, site: Path, axe: str) -> None:
    page.goto((site / FAULT).as_uri() + {"grid": "", "light": "#fault-light"}.get(state, "#fault-warm"))
    settle(page)
    if state == "told":
        page.click(".hb-finder-answers button:has-text('Yes')")
        page.click(".hb-finder-answers button:has-text('No')")
    assert faults(page, axe) == []
    assert not page.evaluate("document.documentElement.scrollWidth > innerWidth")


# -- what a search found --------------------------------------------------------------


def searched(watched: Watched, words: str) -> Page:
    """The hits of words that are put in at once: while one types, each letter makes the list anew."""
    page = watched.page
    watched.search()
    page.fill("[name=query]", words)
    page.keyboard.press("End")
    page.locator(HITS).first.wait_for()
    return page


def test_a_hit_is_one_line_a_page_with_its_words_marked(screen: Watched, site: Path) -> None:
    """No page stands twice; the excerpt takes two lines, and shows what was found."""
    home(screen, site)
    page = searched(screen, "its leaning")
    places = page.eval_on_selector_all(f"{HITS} a", "(all) => all.map((each) => each.pathname)")
    assert len(places) == len(set(places)) == page.locator(HITS).count() > 1
    tall = page.eval_on_selector_all(f"{HITS} p", "(all) => all.map((p) => p.clientHeight / parseFloat(getComputedStyle(p).lineHeight))")
    assert max(tall) < 2.2
    marks = page.locator(f"{HITS} mark")
    assert {word.lower() for word in marks.all_inner_texts()} <= {"leaning", "lean", "leans"}
    inside = """(all) => all.filter((mark) => { const box = (mark.closest("p") ?? mark.parentElement).getBoundingClientRect();
      const { bottom } = mark.getBoundingClientRect(); return bottom > box.bottom + 1; }).length"""
    assert page.locator("p > mark").count() > 0
    assert page.eval_on_selector_all(f"{HITS} mark:first-of-type", inside) == 0


def test_a_hit_leads_to_the_part_and_opens_the_fault(screen: Watched, site: Path) -> None:
    """By the arrow keys and Enter alone."""
    home(screen, site)
    page = searched(screen, "bill stuck")
    page.keyboard.press("ArrowDown")
    screen.wait("document.activeElement.matches('.md-search-result__link')")
    assert page.evaluate("document.activeElement.hash") == "#fault-note"
    page.keyboard.press("Enter")
    page.wait_for_url("**/find-a-fault.html*")
    screen.wait(f"document.querySelector('{ASK}')")
    assert page.inner_text(PATH) == "A bill sticks"
    assert screen.complaints == []

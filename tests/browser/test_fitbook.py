"""The fit book in the page, opened as a file: recorded, kept, exported, read back, undone, printed."""

import csv
import io
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import Watched, until
from tests.browser.test_accessibility import AXE, WIDTHS, faults, settle
from tests.pages.test_fits import ROW, SEEDED
from tools.book import fits

ROOT = Path(__file__).parent.parent.parent
DEMO = ROOT / "docs" / "data" / "tables" / "fits.csv"
PAGE = "reference/fit-book.html"
CHART = "reference/coil-chart.html"
TEST = {**ROW, "product": "pier-cola", "coil": "six", "note": 'says "tight", at first'}
ROWS = ".hb-device .hb-tests tbody tr"


def open_book(watched: Watched, site: Path) -> Page:
    watched.page.goto((site / PAGE).as_uri())
    watched.wait("document.querySelector('.hb-list-place').hasChildNodes()")
    return watched.page


def fill(page: Page, row: dict[str, str]) -> None:
    """Answer as a person would: the cabinet first."""
    for column in sorted(row, key=lambda name: name != "machine"):
        if column in ("machine", "product", "coil", "who", "verdict"):
            page.select_option(f"#fit-{column}", row[column])
        else:
            page.fill(f"#fit-{column}", row[column])


def record(page: Page, row: dict[str, str]) -> None:
    fill(page, row)
    page.click("[data-fit-book] [type=submit]")


def said(page: Page) -> str:
    """What either place for messages says, and which errors stand."""
    return " ".join(page.locator("[data-fit-book] :is(.hb-said, .hb-errors:not([hidden]))").all_inner_texts())


def download(page: Page) -> str:
    with page.expect_download() as caught:
        page.click("[data-do=download]")
    assert caught.value.suggested_filename == "fits.csv"
    return Path(caught.value.path()).read_text(encoding="utf-8")


def as_csv(*rows: dict[str, str]) -> str:
    text = io.StringIO()
    table = csv.DictWriter(text, fits.HEADER, lineterminator="\n")
    table.writeheader()
    table.writerows(rows)
    return text.getvalue()


def read(page: Page, text: str) -> None:
    give(page, ".hb-file", {"name": "t.csv", "mimeType": "text/csv", "buffer": text.encode()})


def give(page: Page, where: str, file: object) -> None:
    """Choose a file, and wait until the page has said what came of it: files are read in the background."""
    page.evaluate("document.querySelectorAll('.hb-said').forEach((each) => { each.textContent = ''; })")
    page.set_input_files(where, file)
    until(lambda: page.inner_text(".hb-device .hb-said"), "what is said of the file")


def test_a_test_is_kept_and_comes_out_as_a_row(watched: Watched, site: Path) -> None:
    """Recorded, still there after closing the page, exported under the very header of fits.csv."""
    page = open_book(watched, site)
    record(page, TEST)
    assert "Saved: Pier cola 20 oz in the six-count single." in said(page)
    page = open_book(watched, site)
    assert page.locator(ROWS).count() == 1
    assert "3 of 3 lifted freely, 10 clean vends" in page.locator(ROWS).inner_text()
    assert download(page) == as_csv(TEST)
    assert download(page).splitlines()[0] == DEMO.read_text(encoding="utf-8").splitlines()[0]
    assert {url.split(":")[0] for url in watched.asked} <= {"file", "blob", "data"}
    assert (watched.complaints, watched.violations()) == ([], [])


def test_our_own_table_comes_back_to_the_letter(watched: Watched, site: Path) -> None:
    """Read in and downloaded, fits.csv is the same file; read once more, nothing stands twice."""
    page = open_book(watched, site)
    ours = DEMO.read_text(encoding="utf-8")
    read(page, ours)
    count = len(ours.splitlines()) - 1
    assert f"{count} tests" in said(page)
    assert download(page) == ours
    read(page, "\ufeff" + ours.replace("\n", "\r\n"))
    assert f"{count} tests stood here already" in said(page)
    assert page.locator(ROWS).count() == count
    page.click("[data-do=prune]")
    assert page.locator(ROWS).count() == 0


def test_every_change_can_be_undone(watched: Watched, site: Path) -> None:
    """New, changed, removed, read in: each step back in turn, and what is undone stays undone."""
    page = open_book(watched, site)
    record(page, TEST)
    page.get_by_role("button", name="Edit").click()
    assert page.input_value("#fit-note") == TEST["note"]
    page.fill("#fit-note", "clean")
    page.click("[data-fit-book] [type=submit]")
    assert (page.locator(ROWS).count(), "clean" in page.locator(ROWS).inner_text()) == (1, True)
    page.get_by_role("button", name="Remove:").click()
    assert page.evaluate("document.activeElement.dataset.do") == "undo"
    read(page, DEMO.read_text(encoding="utf-8"))
    assert page.locator(ROWS).count() > 1
    seen = []
    for _ in range(4):
        page.click("[data-do=undo]")
        seen.append(page.locator(ROWS).all_inner_texts())
    assert [len(rows) for rows in seen] == [0, 1, 1, 0]
    assert "clean" in seen[1][0]
    assert TEST["note"] in seen[2][0]
    assert page.locator("[data-do=undo]").is_hidden()
    assert open_book(watched, site).locator(ROWS).count() == 0


def test_the_page_refuses_what_the_build_refuses(watched: Watched, site: Path) -> None:
    """Each seeded mistake of the table is told with row and column, and nothing is read."""
    page = open_book(watched, site)
    for name, (change, _) in SEEDED.items():
        if name == "a size too large":  # only the calculator's own reader knows; see below
            continue
        column = SEEDED[name][1][0].removeprefix("column ")
        read(page, as_csv({**ROW, "product": "fizzy-water"}, {**ROW, **change}))
        told = said(page)
        assert f"Row 3, column {column}:" in told, (name, told)
        assert "Nothing was read" in told
        assert page.locator(ROWS).count() == 0
    read(page, as_csv(ROW).replace(",who,", ",hoo,", 1))
    assert "no column “hoo”" in said(page)
    read(page, as_csv(ROW) + "# seen by the lead\n")
    watched.wait(f"document.querySelectorAll('{ROWS}').length === 1")


def test_a_new_size_is_read_by_the_calculator(watched: Watched, site: Path) -> None:
    """A diameter no product has is refused in the calculator's own words; a bare number gets its unit."""
    page = open_book(watched, site)
    fill(page, TEST)
    page.get_by_text("The product measured differently").click()
    assert page.locator("#fit-thickness").is_hidden()
    page.fill("#fit-diameter", "3 ft")
    page.click("[data-fit-book] [type=submit]")
    watched.wait("!document.querySelector('[data-fit-book] form .hb-errors').hidden")
    assert "It must lie between" in said(page)
    page.fill("#fit-diameter", "2 3/4")
    page.click("[data-fit-book] [type=submit]")
    watched.wait(f"document.querySelectorAll('{ROWS}').length")
    assert download(page) == as_csv({**TEST, "diameter": "2 3/4 in"})


def test_what_is_known_stands_beside_the_question(watched: Watched, site: Path) -> None:
    """The calculated verdict and the last test of our data; only coils of the cabinet are offered."""
    page = open_book(watched, site)
    fill(page, {"machine": "tall-forty", "product": "pier-cola", "coil": "seven"})
    known = page.locator(".hb-known").inner_text()
    assert known == "Tried here 2026-09-08: too tight (0 of 3 lifted freely, 4 hung). Calculated: too tight."
    offered = page.eval_on_selector_all("#fit-coil option:not([hidden])", "each => each.map(o => o.value)")
    assert "short-five" not in offered
    assert "six" in offered


def test_the_whole_can_be_done_from_the_keyboard(watched: Watched, site: Path) -> None:
    """From the first field to the button by the tabulator alone; a mistake takes the focus."""
    page = open_book(watched, site)
    page.focus("#fit-machine")
    for keys in ("Tall", "Pier", "Six", "Route"):
        page.keyboard.type(keys, delay=5)
        page.keyboard.press("Tab")
    page.keyboard.type("11032026")
    page.keyboard.press("Tab")
    # Past what is left of the date's own parts.
    while page.evaluate("document.activeElement.id") != "fit-lifted":
        page.keyboard.press("Tab")
    for digit in "3000":
        page.keyboard.type(digit)
        page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert "Verdict is needed" in said(page)
    assert page.evaluate("document.activeElement.matches('.hb-errors')")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "fit-verdict"
    page.keyboard.type("Keep")
    while page.evaluate("document.activeElement.type") != "submit":
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.locator(ROWS).count() == 1


BROKEN = {
    "switched off": ("Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });",
                     "keeps nothing here"),
    "full": ("Storage.prototype.setItem = (key) => { throw new DOMException('no', 'QuotaExceededError'); };",
             "store is full"),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_without_a_store_it_says_so_and_works_on(name: str, watched: Watched, site: Path) -> None:
    """Private mode or a full store: told in words, and the test can still be taken out as a row."""
    script, words = BROKEN[name]
    page = open_book(watched, site)
    record(page, {**TEST, "date": "2026-11-01"})  # so that a full store holds something
    watched.page.context.add_init_script(script)
    page = open_book(watched, site)
    record(page, TEST)
    assert words in said(page) + page.locator(".hb-kept").inner_text()
    kept = [{**TEST, "date": "2026-11-01"}] if name == "full" else []
    assert download(page) == as_csv(*kept, TEST)
    # The theme asks the store for its colors unguarded; it complains in the words of our refusal.
    assert set(watched.complaints) <= {"no"}


def test_what_is_damaged_is_put_aside(watched: Watched, site: Path) -> None:
    """A text that is no list is not lost and not in the way; other handbooks' parts are left alone."""
    page = open_book(watched, site)
    ident = page.evaluate("document.querySelector('meta[name=handbook]').content")
    page.evaluate("""(id) => { localStorage.setItem(`handbook:${id}:fits`, "{broken");
      localStorage.setItem("handbook:another:fits", "theirs"); }""", ident)
    page = open_book(watched, site)
    assert "put aside" in page.locator(".hb-kept").inner_text()
    record(page, TEST)
    kept = page.evaluate("Object.fromEntries(Object.entries(localStorage))")
    assert kept[f"handbook:{ident}:fits:damaged"] == "{broken"
    assert kept["handbook:another:fits"] == "theirs"
    assert open_book(watched, site).locator(ROWS).count() == 1


def test_all_kept_lists_can_be_carried_to_another_device(watched: Watched, site: Path) -> None:
    """Packed as JSON, emptied, unpacked: the same list; a strange text changes nothing."""
    page = open_book(watched, site)
    record(page, TEST)
    packed = page.evaluate("HandbookStore.pack()")
    page.evaluate("localStorage.clear()")
    assert page.evaluate("HandbookStore.unpack('[1]').problem") != ""
    assert page.evaluate("HandbookStore.unpack('{').problem") != ""
    assert page.evaluate("HandbookStore.names()") == []
    assert page.evaluate("(text) => HandbookStore.unpack(text)", packed) == {"done": ["fits"], "problem": ""}
    assert download(open_book(watched, site)) == as_csv(TEST)
    page.get_by_text("Move to another device").click()
    with page.expect_download() as caught:
        page.click("[data-do=pack]")
    page.get_by_role("button", name="Remove:").click()
    give(page, ".hb-packed", caught.value.path())
    assert "Brought back" in said(page)
    assert page.locator(ROWS).count() == 1


def test_another_window_s_change_is_seen(watched: Watched, site: Path) -> None:
    """Two windows of one handbook never show different lists."""
    page = open_book(watched, site)
    other = page.context.new_page()
    other.goto((site / PAGE).as_uri())
    record(other, TEST)
    watched.wait(f"document.querySelectorAll('{ROWS}').length")
    other.close()


def test_the_chart_and_card_show_it_over_the_calculation(watched: Watched, site: Path) -> None:
    """A newer test of this device stands first in its cell; an older one than our data's does not."""
    page = open_book(watched, site)
    record(page, TEST)
    record(page, {**TEST, "coil": "seven", "date": "2026-09-01", "hung": "1", "verdict": "tight"})
    for name, row in ((CHART, "[data-product=pier-cola]"), ("products/pier-cola.html", "[data-product]")):
        page.goto((site / name).as_uri())
        cell = page.locator(f"[data-machine=tall-forty] {row} [data-coil=six], [data-machine=tall-forty]{row} [data-coil=six]")
        assert cell.inner_text().split("\n")[:2] == ["Keep this coil", "tried, on this device, 2026-11-03"]
        assert page.locator(".hb-on-device").count() == 1
    assert (watched.complaints, watched.violations()) == ([], [])


def test_it_prints_filled_and_blank(watched: Watched, site: Path) -> None:
    """One button prints the list without empty lines, the other empty lines without the list."""
    page = open_book(watched, site)
    record(page, TEST)
    page.evaluate("window.print = () => { window.printed = document.documentElement.dataset.print; }")
    page.emulate_media(media="print")
    shown = {}
    for what in ("filled", "blank"):
        page.evaluate("(what) => document.querySelector(`[data-do=print-${what}]`).click()", what)
        assert page.evaluate("window.printed") == what
        shown[what] = (page.locator(".hb-device .hb-tests").is_visible(), page.locator(".hb-blank").is_visible())
        page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert shown == {"filled": (True, False), "blank": (False, True)}
    assert page.evaluate("document.documentElement.dataset.print") is None
    assert page.locator(".hb-blank tbody tr").count() >= 12


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS.keys())
def test_filled_it_has_no_fault_and_fits_the_screen(width: int, scheme: str, browser: Browser, site: Path) -> None:
    """With a list, an open fold and mistakes shown: axe-core, no sideways page, targets of 44 px."""
    context = browser.new_context(bypass_csp=True, color_scheme=scheme, reduced_motion="reduce",
                                  viewport={"width": width, "height": 800})  # fmt: skip
    page = context.new_page()
    page.goto((site / PAGE).as_uri())
    read(page, DEMO.read_text(encoding="utf-8"))
    page.get_by_text("The product measured differently").click()
    page.click("[data-fit-book] [type=submit]")
    page.wait_for_selector("[data-fit-book] form .hb-errors:not([hidden])")
    settle(page)
    assert faults(page, AXE.read_text(encoding="utf-8")) == []
    assert not page.evaluate("document.documentElement.scrollWidth > innerWidth")
    small = page.evaluate("""() => [...document.querySelectorAll(
        "[data-fit-book] :is(button, select, input:not([type=file]), summary)")]
      .filter((part) => part.checkVisibility() && part.getBoundingClientRect().height < 43.5)
      .map((part) => part.outerHTML.slice(0, 80))""")
    assert small == []
    context.close()


@pytest.mark.parametrize("kept", ["[{}]", "[null]", '[{"machine": "constructor"}]', "{}"])
def test_a_list_that_is_none_of_ours_does_not_stop_the_fit_book(kept: str, watched: Watched, site: Path) -> None:
    """It is put aside, and said so; the form works."""
    page = watched.page
    page.goto((site / "reference/fit-book.html").as_uri())
    page.evaluate("""(kept) => { const id = document.querySelector('meta[name="handbook"]').content;
      localStorage.setItem(`handbook:${id}:fits`, `{"version":1,"value":${kept}}`); }""", kept)
    page.reload()
    watched.wait("document.body.innerText.includes('put aside')")
    assert not watched.complaints


def test_the_lists_of_another_handbook_change_nothing(watched: Watched, site: Path) -> None:
    page = watched.page
    page.goto((site / "reference/fit-book.html").as_uri())
    told = page.evaluate("""() => { const mine = JSON.parse(HandbookStore.pack());
      return HandbookStore.unpack(JSON.stringify({ ...mine, handbook: "other", shelves: { fits: [] } })); }""")
    assert told == {"done": [], "problem": "This file holds the lists of another handbook. Nothing was changed."}
    assert page.evaluate("HandbookStore.unpack(HandbookStore.pack()).problem") == ""

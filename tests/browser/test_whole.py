"""The whole handbook as one file, in Chromium: what a reader does with it, and what becomes of a damaged one."""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path
from urllib.parse import quote

import pytest

import calculators
from calculators.core.html import unbroken
from tests.browser.conftest import Watched
from tests.engines.test_whole import STRANGER
from tools.editions import inside
from tools.editions import whole as edition
from tools.post import manifest
from tools.runtime import scripts

pytestmark = pytest.mark.browser

STATE = "document.querySelector('[data-calculator]')?.dataset.state"
LEVEL = "procedures/level-and-bear.html"
STEP = "document.querySelector('#step-5').getBoundingClientRect().top"
ENTRIES = quote(json.dumps({"calculator": "clearance", "units": "us", "rules": "us", "inputs": {"cabinet_width": "41 1/2"}}))


def address(whole: Path, name: str = "") -> str:
    return whole.as_uri() + (f"#!/{name}" if name else "")


def comes(watched: Watched, title: str) -> None:
    watched.wait(f"document.title.startsWith({title!r}) && document.querySelector('h1, pre') && document.readyState === 'complete'")


def test_one_file_is_the_handbook(watched: Watched, whole: Path, site: Path) -> None:
    """By links alone, in one window, with nothing asked for but the file itself."""
    page = watched.page
    page.goto(address(whole))
    comes(watched, "What are you about to do?")
    page.click(".md-tabs a[href*='survey']")
    comes(watched, "Survey a site")
    page.evaluate("scrollTo(0, 700)")
    watched.wait("scrollY === 700")
    page.click(".hb-emergency")
    comes(watched, "Emergency")
    assert page.evaluate("scrollY") == 0
    page.go_back()
    comes(watched, "Survey a site")
    watched.wait("scrollY === 700")
    page.go_forward()
    comes(watched, "Emergency")
    computes(watched)
    shows_every_procedure(watched, site)
    opens_from_a_hit(watched)
    prints_the_page_in_view(watched, site)
    says_where_booklets_are(watched)
    shows_licenses_and_unknown_addresses(watched)
    checks_itself(watched)
    assert [url for url in watched.asked if not url.startswith("blob:")] == [whole.as_uri()]
    assert watched.complaints == []
    assert page.evaluate(STRANGER) is False
    assert "Content Security Policy" in watched.complaints.pop()


def computes(watched: Watched) -> None:
    """What is typed stays over another page; the next calculator finds Python warm; a link carries the entries."""
    page = watched.page
    found = calculators.get("clearance")
    native = found.run({"units": found.example_units, "inputs": dict(found.example)})
    page.evaluate("location.hash = '#!/calculators/clearance.html'")
    watched.wait(f"{STATE} === 'ready'")
    assert page.inner_text(".hb-headline") == unbroken(native["headline"].split(". ", 1)[-1])
    page.evaluate("window.stock = HandbookPython.start; void 0")
    page.fill("[name=cabinet_width]", "38.5")
    watched.wait("!document.querySelector('[data-calculator]').hasAttribute('data-withdrawn') && !document.querySelector('.hb-result[aria-busy]')")
    page.click(".md-tabs a[href*='calculators/index.html']")
    comes(watched, "Work it out")
    page.click("article a[href*='circuit.html']")
    watched.wait(f"document.querySelector('[data-calculator=circuit]') && {STATE} === 'ready'")
    assert page.evaluate("HandbookPython.start === window.stock"), "started once"
    page.go_back()
    page.go_back()
    watched.wait("document.querySelector('[name=cabinet_width]')?.value === '38.5'")
    made = page.evaluate("HandbookLink.make({calculator: 'clearance', units: 'us', rules: 'us', inputs: {}})")
    assert made.split("#inputs=")[0].endswith(f"/{edition.NAME}#!/calculators/clearance.html")
    page.evaluate(f"location.hash = '#!/calculators/clearance.html#inputs={ENTRIES}'")
    watched.wait("document.querySelector('[name=cabinet_width]')?.value === '41 1/2'")
    assert "Filled in from the link" in page.inner_text(".hb-notice")


def shows_every_procedure(watched: Watched, site: Path) -> None:
    """Each with what its scripts make of it: a count of steps to tick."""
    for path in sorted((site / "procedures").glob("*.html")):
        watched.page.evaluate(f"location.hash = '#!/procedures/{path.name}'")
        title = inside.title(path.read_text(encoding="utf-8"))
        watched.wait(f"document.title === {json.dumps(title)} && document.querySelector('.hb-checklist')")


def opens_from_a_hit(watched: Watched) -> None:
    """By the Enter key; and the address of a hit under the pointer is one that a new tab can open."""
    page = watched.page
    page.keyboard.press("Escape")
    page.fill(".md-search__input", "level and bear")
    watched.wait("document.querySelector('.md-search-result__link')")
    hit = page.locator(".md-search-result__link[href*='level-and-bear']").first
    hit.hover()
    assert hit.get_attribute("href").startswith(f"#!/{LEVEL}?h=")
    hit.click()
    comes(watched, "Level and bear")
    watched.wait("document.querySelectorAll('article mark').length")


def prints_the_page_in_view(watched: Watched, site: Path) -> None:
    """All of it, as the folder's page does: the window's own document is the page."""
    page, folder = watched.page, watched.page.context.new_page()
    folder.goto((site / LEVEL).as_uri())
    sheets = [len(re.findall(rb"/Type\s*/Page\b", each.pdf(format="Letter"))) for each in (page, folder)]
    folder.close()
    assert sheets[0] == sheets[1] > 2
    page.emulate_media(media="print")
    assert not page.is_visible(".md-header")
    assert page.is_visible(".hb-foot")
    page.emulate_media(media="screen")


def says_where_booklets_are(watched: Watched) -> None:
    page = watched.page
    page.evaluate("location.hash = '#!/learn/packs.html'")
    comes(watched, "New")
    assert "(in the folder edition)" in page.inner_text("article")
    assert page.locator("a[href*='.pdf']").count() == 0


def shows_licenses_and_unknown_addresses(watched: Watched) -> None:
    page = watched.page
    page.evaluate("location.hash = '#!/reference/licenses.html'")
    comes(watched, "Licenses")
    page.click("article a[href$='pyodide.txt']")
    comes(watched, "licenses/pyodide.txt")
    assert "Mozilla Public License" in page.inner_text("pre")
    page.click("a")
    comes(watched, "Licenses")
    page.evaluate("location.hash = '#!/nothing/<b>here.html'")
    watched.wait("document.querySelector('article')?.innerText.includes('404')")


def checks_itself(watched: Watched) -> None:
    """Known cases are worked out; what it cannot read of itself it says."""
    page = watched.page
    page.evaluate("location.hash = '#!/reference/check-this-copy.html'")
    comes(watched, "Check this copy")
    page.click("[data-copy-check] button")
    watched.wait("document.querySelector('[data-copy-check]').dataset.state === 'done'")
    said = page.inner_text("[data-copy-check]")
    assert "cases came out right" in said
    assert "compare its SHA-256" in said


def test_a_link_leads_to_a_step(watched: Watched, whole: Path) -> None:
    """From outside; a place in the page in view is one more entry of the history, under the page's own address."""
    page = watched.page
    page.goto(address(whole, f"{LEVEL}#step-5"))
    comes(watched, "Level and bear")
    watched.wait(f"scrollY > 0 && Math.abs({STEP}) < 200")
    page.evaluate("document.querySelector('a[href=\"#sign-off\"]').click()")
    watched.wait(f"location.hash === '#!/{LEVEL}#sign-off'")
    page.reload()
    comes(watched, "Level and bear")
    page.go_back()
    watched.wait(f"location.hash === '#!/{LEVEL}#step-5'")
    comes(watched, "Level and bear")
    assert watched.complaints == []


def test_it_opens_where_it_has_no_place_of_its_own(watched: Watched, whole: Path) -> None:
    """As in a program that shows what came with a message."""
    watched.page.goto("about:blank")
    watched.page.set_content(whole.read_bytes().decode("utf-16"))
    comes(watched, "What are you about to do?")
    watched.page.click(".md-tabs a[href*='survey']")
    comes(watched, "Survey a site")
    watched.page.go_back()
    comes(watched, "What are you about to do?")
    # There is no store either; the theme's scripts say so.
    assert [each for each in watched.complaints if "localStorage" not in each] == []


def test_every_link_of_every_page_leads_within_the_file(whole: Path, site: Path) -> None:
    """Pages, texts and pictures: nothing is left that only the folder has, and every word is carried."""
    files, archive = carried(whole)
    assert {name for name in files if name.endswith(".html")} == {path.relative_to(site).as_posix() for path in site.rglob("*.html")}
    for name in files:
        if not name.endswith((".html", ".txt")):
            continue
        found = {each for each in manifest.addresses(text(archive, files[name])) if "\ue000" not in each}
        assert not found, f"{name} refers to {found}"
        if (site / name).suffix == ".html":
            assert said(text(archive, files[name])) == said((site / name).read_text(encoding="utf-8")), name
        inner = re.findall(r'href="#!/([^"?#]*)', text(archive, files[name]))
        assert set(inner) <= set(files), name


def said(page: str) -> str:
    """What stands between a page's tags, but for the words about booklets."""
    page = re.sub(r"<script(?! type=\"application/json\")[^>]*></script>|\ue000[^\ue000]*\ue000", "", page)
    page = page.replace(f" <em>({inside.ELSEWHERE})</em>", "")
    return " ".join(re.sub(r"<[^>]*>", " ", page).split())


def carried(whole: Path) -> tuple[dict[str, list[int]], bytes]:
    """What a reader's browser takes out of the file, taken out by another path."""
    told = whole.read_bytes().decode("utf-16")
    packed = re.search(r'id="hb-archive">(.)(.*?)</script>', told, re.DOTALL)
    assert packed
    letters = re.sub("\ue000(.)", lambda match: chr(ord(match[1]) ^ 0x8000), packed[2], flags=re.DOTALL)
    data = letters.encode("utf-16-le", "surrogatepass")
    facts = re.search(r"const WHOLE = (\{.*\});", told)
    assert facts
    return json.loads(facts[1])["files"], data[: len(data) - int(packed[1])]


def text(archive: bytes, place: list[int]) -> str:
    return gzip.decompress(archive[place[0] : sum(place)]).decode()


@pytest.mark.parametrize("fault", ["cut off", "one letter"])
def test_a_damaged_file_says_so(fault: str, watched: Watched, whole: Path, tmp_path: Path) -> None:
    data = whole.read_bytes()
    half = len(data) // 2 & ~1
    middle = data.index('id="hb-archive">'.encode("utf-16-le")) + 600
    flipped = data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1 :]
    (tmp_path / "copy.html").write_bytes(data[:half] if fault == "cut off" else flipped)
    watched.page.goto((tmp_path / "copy.html").as_uri())
    if fault == "one letter":
        watched.page.evaluate("location.hash = '#!/' + 404")
    watched.wait("document.body.innerText.includes('have it sent again') || document.body.innerText.includes('have the file sent again')")


def test_it_stays_small(whole: Path) -> None:
    """What a mail program takes along with room to spare: Python is 5 of it, the pages 1.2."""
    assert whole.stat().st_size <= 8_000_000
    assert whole.read_bytes().startswith(scripts.MARK_OF_ORDER)

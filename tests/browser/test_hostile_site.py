"""One handbook of an operator who typed what looks like a script, a tag or a mark into every text field there is."""

from __future__ import annotations

import io
import json
import re
import shutil
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pikepdf
import pytest

from tests.support import operator
from tests.support.hostile import TEXTS
from tools.book import book
from tools.commands import build
from tools.editions import whole
from tools.memory import Memory
from tools.post import listing
from tools.print import booklets, stamp

pytestmark = [pytest.mark.browser, pytest.mark.slow]
DOCS = Path(__file__).parents[2] / "docs"
NAMED = {
    "products/shortbread.html": ("products", "shortbread"), "products/pier-cola.html": ("products", "pier-cola"),
    "learn/pack-cash.html": ("packs", "cash"), "learn/pack-safe.html": ("packs", "safe"),
}  # fmt: skip
OTHERS = ("index.html", "404.html", "sites/index.html", "sites/ferry-pier.html", "products/index.html", "reference/coil-chart.html",
          "reference/cabinet-tall-forty.html", "reference/fit-book.html", "reference/rules.html",
          "learn/packs.html", "learn/drills.html", "learn/drill-answers.html", "safety/emergency.html", "procedures/connect.html",
          "calculators/float.html", "calculators/spiral.html")  # fmt: skip
# Where an address in a name would show up as something that is asked for.
LOOK = """() => ({
  ran: window.ran, title: document.title, heads: [...document.querySelectorAll("h1")].map((each) => each.firstChild.textContent),
  policy: document.head.querySelectorAll("meta[http-equiv]").length, text: document.body.innerText,
  all: document.documentElement.textContent, foot: document.querySelector(".hb-foot")?.textContent ?? "",
  strange: document.querySelectorAll("article :is(iframe, object, style, script:not([type='application/json'], [src$='/js/inputs.js'], [src$='/js/ahead.js'])), [onerror], [onload], [onclick]").length,
  links: [...document.querySelectorAll("a[href]")].map((each) => each.href).filter((each) => !/^(file|https?):/.test(each)),
})"""


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory, site: Path) -> SimpleNamespace:
    """The finished site, and what each thing in it is called."""
    work = tmp_path_factory.mktemp("hostile")
    told = operator.write(work / "data")
    packed = listing.read(site).build
    read = book.read(work / "data", DOCS, packed)
    ours = build.write_pages(read, work / "site")
    shutil.copytree(site / "assets" / "runtime", work / "site" / "assets" / "runtime")
    build.share(read, work / "site", Memory())
    # What stands in a booklet is asked in tests/print: here a sheet of paper stands for each.
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(booklets, "pdf", lambda *_: sheet())
        patch.setattr(stamp, "stamped", lambda booklet, _: booklet)
        booklets.make(read, work / "site", print)
    build.finish(read, work / "site", ours, print)
    return SimpleNamespace(site=work / "site", told=told)


def sheet() -> bytes:
    """A booklet of one empty sheet."""
    made, sheet = io.BytesIO(), pikepdf.new()
    sheet.add_blank_page()
    sheet.save(made)
    return made.getvalue()


def look(watched: Any, path: Path) -> dict[str, Any]:
    """Open a page and see that nothing ran, was refused, or is missing."""
    watched.page.goto(path.as_uri())
    watched.wait("document.readyState === 'complete'")
    found: dict[str, Any] = watched.page.evaluate(LOOK)
    assert found["ran"] is None
    assert watched.violations() == []
    assert found["policy"] == 1
    assert found["strange"] == 0
    assert found["links"] == []
    return found


def words(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()


@pytest.mark.parametrize("name", NAMED)
def test_a_page_bears_the_very_name(watched: Any, hostile: SimpleNamespace, name: str) -> None:
    """In its title, its one heading, its foot and the theme's head."""
    called, company = hostile.told[NAMED[name]], hostile.told["company", "name"]
    found = look(watched, hostile.site / name)
    assert words(found["title"]) == words(f"{called} - {company}")
    assert [words(each) for each in found["heads"]] == [words(called)]
    assert words(company) in words(found["foot"])
    assert words(called) in words(found["foot"])
    assert watched.page.evaluate("document.querySelector('.md-logo').title") == company
    assert watched.page.evaluate("document.querySelector('.md-logo').ariaLabel") == company
    assert watched.complaints == []


def test_in_one_file_a_page_bears_the_very_name(watched: Any, hostile: SimpleNamespace, tmp_path: Path) -> None:
    (tmp_path / whole.NAME).write_bytes(whole.make(hostile.site))
    watched.page.goto((tmp_path / whole.NAME).as_uri())
    watched.wait("document.querySelector('.hb-tasks')")
    for name, key in NAMED.items():
        watched.page.evaluate(f"location.hash = '#!/{name}'")
        title = words(f"{hostile.told[key]} - {hostile.told['company', 'name']}")
        watched.wait(f"document.title.replace(/\\s+/g, ' ').trim() === {json.dumps(title)} && document.querySelector('article h1')")
        found = watched.page.evaluate(LOOK)
        assert (found["ran"], found["strange"], found["links"]) == (None, 0, []), name
        assert [words(each) for each in found["heads"]] == [words(hostile.told[key])]
    assert [url for url in watched.asked if not url.startswith(("blob:", "data:"))] == [(tmp_path / whole.NAME).as_uri()]
    assert watched.complaints == []


@pytest.mark.parametrize("name", OTHERS)
def test_no_other_page_lost_its_head(watched: Any, hostile: SimpleNamespace, name: str) -> None:
    found = look(watched, hostile.site / name)
    company = hostile.told["company", "name"]
    assert words(found["title"]).endswith(words(f"{company}"))
    assert len(found["heads"]) == 1
    left = words(found["text"])
    for text in sorted({*TEXTS, *hostile.told.values()}, key=len, reverse=True):
        left = left.replace(words(text), "")
    assert not re.search(r"&(?:amp|lt|gt|quot|#\w+);", left), "escaped twice"
    if name != "404.html":  # it looks for its files on a server
        assert watched.complaints == []


def test_names_stand_readable_where_they_belong(watched: Any, hostile: SimpleNamespace) -> None:
    """In the list of sites, the menu, the tabs, the sheet, the chart and the lists of forms."""
    sheet = words(look(watched, hostile.site / "sites" / "ferry-pier.html")["all"])
    menu = words(watched.page.evaluate("document.querySelector('.md-nav--primary').textContent"))
    for key in (("sites", "ferry-pier"), ("machines", "tall-forty"), ("crew", "lead"), ("gear", "power-jack"), ("products", "shortbread")):
        assert words(hostile.told[key]) in sheet, key
    assert words(hostile.told["sites", "ferry-pier"]) in menu
    listed = words(look(watched, hostile.site / "index.html")["text"])
    assert words(hostile.told["sites", "ferry-pier"]) in listed
    chart = words(look(watched, hostile.site / "reference" / "coil-chart.html")["all"])
    book_ = words(look(watched, hostile.site / "reference" / "fit-book.html")["all"])
    for key in (("machines", "tall-forty"), ("products", "pier-cola"), ("coils", "ten")):
        assert words(hostile.told[key]) in chart, key
        assert words(hostile.told[key]) in book_, key
    options = """[...document.querySelectorAll("select[id^='fit-'] option")].map((each) => each.textContent)"""
    assert {hostile.told["products", "shortbread"], hostile.told["crew", "lead"]} <= set(watched.page.evaluate(options))


def test_search_lists_a_name_as_it_is(watched: Any, hostile: SimpleNamespace) -> None:
    """The list is made by the theme's script, from texts that are HTML."""
    found = ""
    for text in sorted({text for (table, _), text in hostile.told.items() if table in ("machines", "products", "sites")}):
        look(watched, hostile.site / "index.html")  # a list of before is not taken for the next one
        watched.search()
        # Procedures name the trainer, and stand before all else: each name is asked for by its own letters.
        watched.page.fill(".md-search__input", " ".join(["qz", *re.findall(r"[a-z]{4,}", text.lower())][:3]))
        watched.wait("document.querySelectorAll('.md-search-result__link').length")
        found += words(watched.page.evaluate("document.querySelector('.md-search-result__list').textContent"))
    assert sum(words(text) in found for text in TEXTS) > 2
    assert watched.page.evaluate("document.querySelectorAll('.md-search-result__list :is(script, img, style, [onerror], [onload])').length") == 0
    assert watched.page.evaluate("window.ran") is None
    assert (watched.violations(), watched.complaints) == ([], [])


def test_an_answer_in_the_page_shows_names_as_they_are(watched: Any, hostile: SimpleNamespace) -> None:
    """Filled in from our data and worked out by the page's own Python, drawing and all."""
    look(watched, hostile.site / "calculators" / "clearance.html")
    state = "document.querySelector('[data-calculator]').dataset.state"
    watched.wait(f"{state} === 'ready'")
    watched.page.select_option(".hb-presets select", index=1)
    watched.wait(f"{state} === 'ready' && !document.querySelector('[data-withdrawn]') && document.querySelector('.hb-result .hb-given')")
    given = words(watched.page.evaluate("document.querySelector('.hb-result').textContent"))
    assert sum(words(text).lower() in given.lower() for text in TEXTS) > 2
    assert watched.page.evaluate("window.ran") is None
    assert (watched.violations(), watched.complaints) == ([], [])


def test_the_app_is_called_by_the_very_name(hostile: SimpleNamespace) -> None:
    described = json.loads((hostile.site / "app.webmanifest").read_text("utf-8"))
    assert described["name"] == hostile.told["company", "name"]


def test_file_names_are_plain(hostile: SimpleNamespace) -> None:
    """Whatever things are called: keys alone name files."""
    for path in hostile.site.rglob("*"):
        assert re.fullmatch(r"[A-Za-z0-9._-]+", path.name), path

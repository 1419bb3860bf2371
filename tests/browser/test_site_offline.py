"""The built handbook without a network: from a folder, and installed with the server gone."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.browser.conftest import until
from tests.support.served import Server
from tools.post import app, manifest, policy

HEADER_STAYS = "getComputedStyle(document.querySelector('.md-header')).position"
CALCULATOR = "[data-calculator]"
EVERY_CALCULATOR = f"document.querySelectorAll('{CALCULATOR}').forEach((part) => part.scrollIntoView())"
STARTED = f"[...document.querySelectorAll('{CALCULATOR}')].every((part) => part.dataset.state !== 'loading')"
# What is drawn, and what watches it, has run.
TWO_FRAMES = "new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
# Notes what becomes of a worker that keeps the handbook; one whose install fails ends as redundant.
INSTALLING = """
const register = ServiceWorkerContainer.prototype.register;
ServiceWorkerContainer.prototype.register = async function (...given) {
  const registration = await register.apply(this, given);
  const worker = registration.installing;
  window.installing = worker ? worker.state : "redundant";
  worker?.addEventListener("statechange", () => { window.installing = worker.state; });
  return registration;
};
"""
READY = f"document.querySelector('{CALCULATOR}').dataset.state === 'ready'"
MARKS = "document.querySelectorAll('article mark').length"
HITS = "document.querySelectorAll('.md-search-result__item').length"


def page_with(site: Path, folder: str, mark: str = "") -> str:
    """Return the first page of a folder that holds a mark, as a path in the site."""
    found = sorted(
        path.relative_to(site).as_posix()
        for path in (site / folder).rglob("*.html")
        if mark in path.read_text(encoding="utf-8")
    )
    assert found, f"no page in {folder} holds {mark!r}"
    return found[0]


def a_page_of_each_kind(site: Path) -> list[str]:
    """Return the home page and the first page of each folder that pages stand in."""
    first = {}
    for path in sorted(site.rglob("*.html")):
        name = path.relative_to(site).as_posix()
        if name != "404.html":  # served, never opened from a folder
            first.setdefault(path.parent, name)
    calculator = page_with(site, "calculators", "data-calculator")
    return sorted({*first.values(), "index.html", calculator})


def search(watched, words: str) -> str:
    """Type into the search field as a reader does; return the first hit's address."""
    watched.search()
    watched.page.keyboard.type(words)
    watched.wait(HITS)
    return watched.page.evaluate("document.querySelector('.md-search-result__link').href")


# --- from a folder ---


def test_search_from_a_folder_finds_a_page(watched, site):
    """A word of a procedure's heading finds it; nothing but the folder is asked."""
    procedure = page_with(site, "procedures", "<h1")
    text = (site / procedure).read_text(encoding="utf-8")
    title = re.sub("<[^>]+>", "", re.search(r"<h1[^>]*>(.*?)</h1>", text)[1].replace("¶", ""))
    watched.page.goto((site / "index.html").as_uri())
    hit = search(watched, title)
    assert urlsplit(hit).path.startswith(site.resolve().as_uri().removeprefix("file://"))
    assert procedure in watched.page.evaluate(
        "[...document.querySelectorAll('.md-search-result__link')].map((a) => a.href).join(' ')"
    )
    assert {urlsplit(url).scheme for url in watched.asked} <= {"file", "blob", "data"}
    assert (watched.complaints, watched.violations()) == ([], [])


def test_pasted_words_are_searched(watched, site):
    """No key is let go when words are pasted or spoken."""
    watched.page.goto((site / "index.html").as_uri())
    search(watched, "cabinet")
    watched.page.fill(".md-search__input", "refund")
    watched.wait("document.querySelector('.md-search-result__link[href*=\"h=refund\"]')?.href")


def test_nothing_of_search_is_loaded_before_a_search(watched, site):
    """Index and worker wait for the first word."""
    watched.page.goto((site / "index.html").as_uri())
    watched.wait("document.readyState === 'complete'")
    ours = (site / "search").resolve().as_uri()
    assert [url for url in watched.asked if url.startswith(ours)] == []
    search(watched, "cabinet")
    names = {url.rpartition("/")[2] for url in watched.asked if url.startswith(ours)}
    assert names == {"search_index.js", "search_worker.js"}


def test_a_hit_marks_the_words_on_its_page(watched, site):
    """Following a hit, the words looked for are marked."""
    watched.page.goto((site / "index.html").as_uri())
    watched.search()
    # At once: typed, the hits of its first letters come before, and stay as long as the machine is busy.
    watched.page.fill(".md-search__input", "cabinet")
    watched.page.goto(str(watched.wait("document.querySelector('.md-search-result__link[href*=\"h=cabinet\"]')?.href")))
    watched.wait(MARKS)
    assert watched.complaints == []
    style = "(({ backgroundColor, textDecorationLine }) => [backgroundColor, textDecorationLine])(getComputedStyle(document.querySelector('article mark')))"
    assert watched.page.evaluate(style)[1] == "underline"
    watched.page.emulate_media(media="print")
    assert watched.page.evaluate(style) == ["rgba(0, 0, 0, 0)", "none"], "a sheet is the same for whoever came to it by a search"


def test_words_are_marked_where_the_theme_s_script_comes_late(watched, site):
    """A calculator's page is read before it comes: marks and contents are there all the same."""
    watched.page.goto((site / "calculators" / "outlet.html").as_uri() + "?h=outlet")
    watched.wait(MARKS)
    watched.wait("document.querySelector('.md-nav--secondary .md-nav__link')")
    watched.page.evaluate("scrollTo(0, document.body.scrollHeight)")
    watched.wait("document.querySelector('.md-nav--secondary .md-nav__link--active')")
    assert watched.complaints == []


STATE = f"document.querySelector('{CALCULATOR}').dataset.state"
LATE = "document.querySelectorAll('script[data-late]').length"


def test_the_theme_s_script_comes_after_the_first_result(watched, site):
    """On a calculator's page: then menu and search work as everywhere."""
    watched.page.goto((site / "calculators" / "outlet.html").as_uri())
    watched.wait("document.documentElement.classList.contains('js')")
    assert watched.page.evaluate(STATE) == "ready"
    assert watched.page.evaluate(LATE) == 1
    assert search(watched, "cabinet")


def test_the_theme_s_script_comes_at_a_touch(watched, site):
    """Python may take as long as it likes: whoever touches the page does not wait for it."""
    watched.page.emulate_media(color_scheme="dark")
    watched.page.route("**/python-wasm-*.js", lambda route: None)
    watched.page.goto((site / "calculators" / "outlet.html").as_uri(), wait_until="domcontentloaded")
    assert watched.page.evaluate(LATE) == 0
    # Dark where the device is, without a flash of light.
    assert watched.page.evaluate("document.body.dataset.mdColorScheme") == "slate"
    watched.page.keyboard.press("Tab")
    watched.wait("document.documentElement.classList.contains('js')")
    assert watched.page.evaluate(LATE) == 1
    assert watched.page.evaluate(STATE) == "loading"


def test_an_address_with_a_search_searches(watched, site):
    """`?q=` opens the search with its words."""
    watched.page.goto((site / "index.html").as_uri() + "?q=cabinet")
    assert watched.wait(HITS)


def test_every_page_has_its_policy_and_nothing_it_refuses(site):
    """All pages, by their text."""
    found = [
        str(problem)
        for path in sorted(site.rglob("*.html"))
        for problem in policy.refused(path.read_text(encoding="utf-8"), path.name)
    ]
    assert found == []


def test_the_policy_refuses_nothing_on_any_kind_of_page(watched, site):
    """Opened from the folder and scrolled to its end, no page trips over its policy."""
    for name in a_page_of_each_kind(site):
        watched.page.goto((site / name).as_uri())
        watched.wait("document.readyState === 'complete'")
        watched.page.evaluate(EVERY_CALCULATOR)
        watched.wait(STARTED)
        watched.page.evaluate("scrollTo(0, document.body.scrollHeight)")
        watched.page.evaluate(TWO_FRAMES)
        assert (name, watched.violations(), watched.complaints) == (name, [], [])


def test_the_policy_does_refuse(watched, site):
    """An inline script, an inline style and a request elsewhere are all stopped."""
    watched.page.goto((site / "index.html").as_uri())
    watched.page.evaluate("""() => {
      const script = document.createElement("script");
      script.textContent = "window.ran = true";
      document.body.append(script);
      document.body.insertAdjacentHTML("beforeend", '<p style="color:red">x</p>');
      const image = new Image();
      image.src = "http://127.0.0.1:9/x.png";
    }""")
    watched.wait("window.violations.length >= 3")
    assert watched.page.evaluate("window.ran") is None
    kinds = {line.split(":")[0] for line in watched.violations()}
    assert kinds == {"script-src-elem", "style-src-attr", "img-src"}


def test_the_build_is_whole(site):
    """It holds what a handbook must hold, and every file is the one that was built."""
    assert [str(problem) for problem in manifest.check(site)] == []


# --- installed from a server ---


@pytest.fixture
def server(site, tmp_path) -> Iterator[Server]:
    """A server on a copy of the handbook that a test may change."""
    shutil.copytree(site, tmp_path / "site")
    started = Server(tmp_path / "site")
    yield started
    started.stop()


def install(watched, server: Server) -> None:
    """Open the home page and wait until the handbook is kept and answers."""
    watched.page.goto(server.address + "index.html")
    watched.wait("document.documentElement.dataset.offline")
    assert watched.page.evaluate("document.documentElement.dataset.offline") == "ready"
    watched.wait("Boolean(navigator.serviceWorker.controller)")


def test_over_a_line_the_page_itself_comes_first(watched, server):
    """Neither Python nor what is kept for later is asked for before all that the page is made of."""
    page = watched.page
    page.goto(server.address + "calculators/clearance.html")
    watched.wait(READY)
    shown, begun = page.evaluate("""() => [performance.getEntriesByType("navigation")[0].loadEventStart,
      performance.getEntriesByType("resource").filter(({ name }) => name.includes("/python-")).map(({ startTime }) => startTime)]""")
    assert begun
    assert min(begun) >= shown
    watched.wait("document.documentElement.dataset.offline === 'ready'")
    assert server.fetched.index("sw.js") > server.fetched.index("assets/javascripts/app.js")


def test_installed_it_opens_with_the_server_stopped(watched, server, site):
    """Home, a procedure, a calculator and the search all work without the server."""
    install(watched, server)
    server.stop()
    procedure = page_with(site, "procedures")
    calculator = page_with(site, "calculators", CALCULATOR.strip("[]"))
    for name in ("index.html", procedure, calculator):
        response = watched.page.goto(server.address + name)
        assert (name, response.ok, response.from_service_worker) == (name, True, True)
        # With its styles: without them a header moves away with the page.
        assert watched.page.evaluate(HEADER_STAYS) == "sticky"
    # The calculator is open last: it fetches its Python from what is kept, and computes.
    state = f"document.querySelector('{CALCULATOR}').dataset.state"
    watched.wait(f"['ready', 'failed'].includes({state})")
    assert watched.page.evaluate(state) == "ready"
    assert watched.page.locator(f"{CALCULATOR}[data-outcome]").count() == 1
    assert search(watched, "cabinet").startswith(server.address)
    assert watched.violations() == []


def test_installed_an_unknown_address_says_so_without_the_server(watched, server):
    """The page for wrong addresses answers, with its status."""
    install(watched, server)
    server.stop()
    response = watched.page.goto(server.address + "nothing/here.html")
    assert response.status == 404
    assert "404" in watched.page.inner_text("article")


def test_an_update_fetches_only_what_changed_and_waits_for_the_reader(watched, server, tmp_path):
    """One changed page: its file alone is fetched, the bar asks, the reload shows it."""
    install(watched, server)
    folder = tmp_path / "site"
    home = folder / "index.html"
    text = home.read_text(encoding="utf-8").replace("<h1", "<h1 data-new", 1)
    home.write_text(text, encoding="utf-8")
    app.write_worker(folder, "another")
    server.fetched.clear()
    watched.page.set_viewport_size({"width": 360, "height": 640})
    watched.page.reload()
    watched.wait("Boolean(document.querySelector('.handbook-update button'))")
    bar, emergency = (
        watched.page.locator(part).bounding_box() for part in (".handbook-update", ".hb-emergency")
    )
    assert emergency["y"] + emergency["height"] <= bar["y"], "the bar must not cover the emergency link"
    assert bar["y"] + bar["height"] <= 640
    assert bar["x"] >= 0
    assert bar["x"] + bar["width"] <= 360
    assert watched.page.locator("h1[data-new]").count() == 0
    assert set(server.fetched) == {"sw.js", "index.html"}
    watched.page.click(".handbook-update button")
    until(lambda: watched.page.locator("h1[data-new]").count(), "the new page")


def test_a_file_of_another_build_is_not_kept(watched, server, tmp_path):
    """A server that mixes builds is refused as a whole; the page still works."""
    other = page_with(tmp_path / "site", "procedures")
    (tmp_path / "site" / other).write_text("of another build")
    watched.page.add_init_script(INSTALLING)
    watched.page.goto(server.address + "index.html")
    watched.wait("window.installing === 'redundant'")
    assert other in server.fetched
    assert watched.page.evaluate("document.documentElement.dataset.offline") != "ready"
    assert watched.page.locator("h1").count() == 1


def test_it_can_be_installed(watched, server):
    """Chromium finds nothing wrong with the web manifest."""
    install(watched, server)
    session = watched.page.context.new_cdp_session(watched.page)
    until(lambda: session.send("Page.getAppManifest")["url"], "the web manifest")
    found = session.send("Page.getAppManifest")
    assert found["errors"] == []
    assert session.send("Page.getInstallabilityErrors")["installabilityErrors"] in (
        [],
        [{"errorId": "in-incognito", "errorArguments": []}],
    )

"""The packed Python in a real browser, on a page opened as a file, under the policy."""

import base64
import hashlib
import json
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import until
from tests.browser.workers import HEAVY, HOLD, before_the_worker
from tests.runtime.test_pack import asset
from tools.runtime import pack as packer
from tools.runtime.folders import read_tree, stored_zip, write_tree
from tools.runtime.scripts import PART_SIZE, write_asset

INLINE = HOLD + HEAVY
HASH = base64.b64encode(hashlib.sha256(INLINE.encode()).digest()).decode()
POLICY = (
    f"default-src 'none'; script-src 'self' 'sha256-{HASH}' 'wasm-unsafe-eval'; "
    "style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; "
    "worker-src 'self' blob:; manifest-src 'self'; base-uri 'none'; form-action 'none'"
)
PAGE = f"""<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Test</title>
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
<link rel="icon" href="data:,"><script>{INLINE}</script>
<script src="python/runtime.js"></script></head><body></body></html>
"""
CALCULATORS = '''
from __future__ import annotations
import dataclasses, html, inspect, json, pkgutil, posix, sys, traceback, typing


class Coil(typing.NamedTuple):
    """A tuple with a default, a method and a property."""

    count: int
    pitch: float = 50.0

    def length(self) -> float:
        return self.count * self.pitch

    @property
    def name(self) -> str:
        return f"{self.count} turns"


@dataclasses.dataclass(frozen=True)
class Lane:
    """Without a text of its own its signature would be worked out, with all of inspect."""

    coils: typing.ClassVar[int] = 2
    width: float | typing.Any = 1.0


def put_off():
    """What is wanted of put-off modules; which of them were read whole before and after."""
    whole = lambda: sorted(name for name in sys.modules if "_whole_" in name)
    before = whole()
    said = [
        Coil(3), Coil(3).length(), Coil(2, pitch=1.5).name, Coil._fields, repr(Coil(1)),
        [field.name for field in dataclasses.fields(Lane)], html.escape("<a b='c'>&"),
    ]
    late = [
        str(inspect.signature(Coil.length)),
        typing.get_type_hints(Coil.length)["return"].__name__,
        traceback.format_exception_only(ValueError("no"))[0],
    ]
    return {"before": before, "said": said, "late": late, "after": whole()}


def run_json(name, text):
    """Sum, read a file, ask for what the page's machine has not, spin for ever, or fail."""
    if name == "put-off":
        return json.dumps(put_off())
    if name == "forever":
        while True:
            pass
    if name == "sum" and text == '"table"':
        return pkgutil.get_data("calculators", "table.json").decode()
    if name == "folder":
        posix.mkdir("/made")
        return json.dumps(posix.listdir("/made"))
    if name == "broken":
        raise ValueError("a spiral cannot turn backwards")
    return json.dumps({"name": name, "sum": sum(json.loads(text)), "sign": "½″"})
'''


@pytest.fixture(scope="module")
def packed(tmp_path_factory, node, pyodide_dir, runtime_cache) -> Path:
    """The runtime, packed once with a tiny package."""
    folder = tmp_path_factory.mktemp("packed")
    write_tree(folder / "source", {"calculators/__init__.py": CALCULATORS.encode(), "calculators/table.json": b"[7]"})
    packer.pack(
        folder / "python",
        node=node,
        pyodide_dir=pyodide_dir,
        source_dir=folder / "source",
        cache_dir=runtime_cache,
        build_id="build-1",
        warm=[("sum", "[]")],
    )
    return folder / "python"


@pytest.fixture
def site(packed, tmp_path) -> Path:
    """A folder with one page and its own copy of the runtime."""
    files = {f"python/{name}": data for name, data in read_tree(packed).items()}
    write_tree(tmp_path, files | {"index.html": PAGE.encode()})
    return tmp_path


@pytest.fixture
def page(browser, site):
    """The page, opened as a file, noting what it asks for and complains about."""
    opened = browser.new_page()
    opened.asked, opened.complaints = [], []
    opened.on("request", lambda request: opened.asked.append(request.url))
    opened.on("console", lambda line: opened.complaints.append(line.text))
    opened.on("pageerror", lambda error: opened.complaints.append(str(error)))
    opened.goto((site / "index.html").as_uri())
    yield opened
    opened.close()


def wait_for_state(page: Page, *wanted: str) -> str:
    """Poll from here: the driver's own wait helper uses eval, which the policy forbids."""
    until(lambda: page.evaluate("HandbookPython.state") in wanted, " or ".join(wanted))
    return page.evaluate("HandbookPython.state")


def run(page: Page, name: str, value: object) -> dict:
    """Run one calculation in the page."""
    call = "([name, text]) => HandbookPython.run(name, text)"
    return json.loads(page.evaluate(call, [name, json.dumps(value)]))


def failure(page: Page) -> str:
    """Start, expect it to fail, and return the message a reader sees."""
    page.evaluate("HandbookPython.start().catch(() => {})")
    # What a first answer needs may be there, and the rest missing.
    wait_for_state(page, "failed")
    return page.evaluate("HandbookPython.message")


def test_it_starts_and_computes(page):
    """A run starts Python by itself; the answer comes back as JSON, letters intact."""
    assert page.evaluate("HandbookPython.state") == "idle"
    assert run(page, "sum", [1, 2, 3]) == {"name": "sum", "sum": 6, "sign": "½″"}
    info = page.evaluate("HandbookPython.start()")
    assert info["build"] == "build-1"
    assert info["python"].startswith("3.")
    assert info["ms"]["total"] > info["ms"]["calculators"]
    assert (info["restored"], info["trouble"]) == (True, None)


def spoil_part(path: Path) -> None:
    """Turn one character of a part into another."""
    text = path.read_text(encoding="utf-16")
    path.write_text(text[:5000] + chr(ord(text[5000]) ^ 1) + text[5001:], encoding="utf-16")


def of_another_wasm(path: Path) -> None:
    """Make it the memory of a wasm that is not there, whole in itself."""
    data = asset(path.parent, "snapshot")
    assert b'"wasm": [' in data
    for part in path.parent.glob("python-snapshot-*.js"):
        part.unlink()
    write_asset(path.parent, "snapshot", data.replace(b'"wasm": [', b'"wasm":[7'))


@pytest.mark.parametrize(("spoil", "trouble"), [
    (spoil_part, "snapshot: "), (of_another_wasm, "belongs to another wasm"),
])  # fmt: skip
def test_where_memory_cannot_be_put_back_python_starts_from_nothing(page, site, spoil, trouble):
    """The reader is told nothing: the same answers come, later."""
    spoil(site / "python" / "python-snapshot-0.js")
    assert run(page, "sum", [1, 2, 3]) == {"name": "sum", "sum": 6, "sign": "½″"}
    info = page.evaluate("HandbookPython.start()")
    assert info["restored"] is False
    assert trouble in info["trouble"]
    # Two workers of the first try, two of the second; one runs on.
    assert page.evaluate("workers.length") == 4
    told = run(page, "put-off", [])
    assert (told["before"], len(told["said"])) == ([], 7)


# Python calls C functions of other shapes through a module that tests references (ref.test, 0xFB 0x14): not every engine
# has that, and Pyodide does without it on iOS.
NO_TEST_OF_REFERENCES = before_the_worker("""
  const Whole = WebAssembly.Module;
  WebAssembly.Module = class extends Whole {
    static [Symbol.hasInstance](value) { return value instanceof Whole; }
    constructor(given) {
      const bytes = [...new Uint8Array(given.buffer ?? given)];
      if (bytes.some((byte, at) => byte === 0xfb && bytes[at + 1] === 0x14)) {
        self.refused = true;
        throw new Error("no such instruction");
      }
      super(given);
    }
  };
  const tell = self.postMessage.bind(self);
  self.postMessage = (told, ...rest) => (told.type === "ready" && !self.refused ? self.close() : tell(told, ...rest));
""")


def test_memory_is_put_back_where_references_cannot_be_tested(browser, site):
    """The one word of it that this concerns is the browser’s own, whatever Node had there when it was taken."""
    opened = browser.new_page()
    opened.add_init_script(NO_TEST_OF_REFERENCES)
    opened.goto((site / "index.html").as_uri())
    assert run(opened, "sum", [1, 2, 3])["sum"] == 6
    assert len(run(opened, "put-off", [])["late"]) == 3
    assert opened.evaluate("HandbookPython.start().then(({ restored }) => restored)") is True
    opened.close()


def test_without_a_kept_memory_python_starts_from_nothing(page, site, packed, node, pyodide_dir, runtime_cache):
    """A handbook may be packed without it."""
    packer.pack(site / "python", node=node, pyodide_dir=pyodide_dir, source_dir=packed.parent / "source",
                cache_dir=runtime_cache, build_id="build-1", warm=None)  # fmt: skip
    assert not list((site / "python").glob("python-snapshot-*"))
    page.reload()
    assert run(page, "sum", [1, 2, 3])["sum"] == 6
    assert page.evaluate("HandbookPython.start().then(({ restored, trouble }) => [restored, trouble])") == [False, None]
    assert page.evaluate("workers.length") == 2


def test_a_kept_memory_of_another_build_does_not_answer(page, site, packed, node, pyodide_dir, runtime_cache, tmp_path):
    """The page's own build is asked of the memory too, and its calculators answer."""
    other = tmp_path / "other"
    packer.pack(other, node=node, pyodide_dir=pyodide_dir, source_dir=packed.parent / "source",
                cache_dir=runtime_cache, build_id="build-0")  # fmt: skip
    for part in other.glob("python-snapshot-*.js"):
        (site / "python" / part.name).write_bytes(part.read_bytes())
    assert run(page, "sum", [1, 2, 3])["sum"] == 6
    assert "different builds" in page.evaluate("HandbookPython.start()")["trouble"]


def test_what_was_put_off_comes_when_it_is_wanted(page):
    """Classes stand on the light modules; the whole of one is read once somebody asks for it."""
    told = run(page, "put-off", [])
    assert told["before"] == []
    assert told["said"] == [
        [3, 50.0], 150.0, "2 turns", ["count", "pitch"], "Coil(count=1, pitch=50.0)",
        ["width"], "&lt;a b=&#x27;c&#x27;&gt;&amp;",
    ]  # fmt: skip
    assert told["late"] == ["(self) -> 'float'", "float", "ValueError: no\n"]
    assert {"_whole_inspect", "_whole_traceback", "_whole_typing"} <= {*told["after"]}


@pytest.fixture
def served(browser, site):
    """The page over http, from a server that says of every script that it is UTF-8, as many do."""
    kinds = {".html": "text/html", ".js": "text/javascript"}

    def serve(route):
        path = site / route.request.url.removeprefix("http://127.0.0.1:9/")
        if not path.is_file():
            return route.fulfill(status=404, body="Not here", content_type="text/html")
        return route.fulfill(body=path.read_bytes(), content_type=f"{kinds[path.suffix]}; charset=utf-8")

    opened = browser.new_page()
    opened.route("**/*", lambda route: serve(route) if route.request.url.startswith("http:") else route.fallback())
    opened.goto("http://127.0.0.1:9/index.html")
    yield opened
    opened.close()


def test_over_a_line_no_part_is_a_script(served):
    """What a server says of its letters does not matter then, and the page reads none of the megabytes."""
    parts = []
    served.on("request", lambda request: parts.append((request.resource_type, "python-" in request.url)))
    assert run(served, "sum", [1, 2, 3])["sum"] == 6
    assert served.evaluate("HandbookPython.start().then(({ restored, trouble }) => [restored, trouble])") == [True, None]
    assert {kind for kind, is_part in parts if is_part} == {"fetch"}
    assert served.evaluate("[window.HandbookAssets === undefined, unpacked, compiled]") == [True, 0, 0]


def test_over_a_line_a_missing_part_is_named(served, site):
    """The server's own page about it is no part."""
    (site / "python" / "python-library-0.js").unlink()
    assert "missing: python-library-0.js" in failure(served)


@pytest.mark.parametrize("keep", [2, 60, 5001])
def test_over_a_line_a_part_cut_off_is_a_damaged_copy(served, site, keep):
    """Before its text, at the beginning of it, within it."""
    path = site / "python" / "python-wasm-1.js"
    path.write_bytes(path.read_bytes()[: 2 * keep + 1])
    assert "seems to be damaged" in failure(served)


def test_nothing_leaves_the_folder(page, site):
    """No request but to files beside the page, and not a word on the console."""
    run(page, "sum", [1])
    beside = (site.as_uri(), "blob:", "data:")
    assert [url for url in page.asked if not url.startswith(beside)] == []
    assert page.complaints == []


def test_the_page_is_never_held_up(page):
    """The page unpacks and compiles nothing, and hands parts on one by one.

    How long its tasks take is for `bench` to say: a busy machine makes any of them as long as it likes.
    """
    run(page, "sum", [1])
    assert page.evaluate("[unpacked, compiled, workers.length]") == [0, 0, 2]
    parts = page.evaluate("told.filter(({ type }) => type === 'part').map(({ text }) => text.length)")
    assert len(parts) > 4
    assert max(parts) <= PART_SIZE


def test_the_page_keeps_no_asset_text(page):
    """Once handed over, the megabytes are gone from the page, tags included; parts that no answer waits for come a little later."""
    run(page, "sum", [1])
    until(lambda: page.evaluate("document.querySelectorAll('script[src*=python-]').length") == 0, "no tag of a part is left")
    assert page.evaluate("Object.keys(HandbookAssets)") == []


def test_states_are_told_in_order(page):
    """A listener hears the present state at once, then each change with words."""
    page.evaluate("window.heard = []; HandbookPython.onstate((s, m) => heard.push([s, m])); null")
    page.evaluate("HandbookPython.start()")
    heard = page.evaluate("heard")
    assert [state for state, _ in heard] == ["idle", "loading", "ready"]
    assert all(message for _, message in heard)


def test_an_error_in_a_calculator_is_one_sentence(page):
    """The run is rejected with the last line; the traceback is kept beside it."""
    call = "HandbookPython.run('broken', '[]').catch((e) => [e.message, e.detail])"
    message, detail = page.evaluate(call)
    assert message == "ValueError: a spiral cannot turn backwards"
    assert detail.startswith("Traceback")
    assert run(page, "sum", [2])["sum"] == 2


WITHHELD = """
const pages = window.Worker.prototype.postMessage;
window.withheld = [];
window.Worker.prototype.postMessage = function (message, ...rest) {
  if (["calculators", "library"].includes(message.asset)) window.withheld.push(() => pages.call(this, message, ...rest));
  else pages.call(this, message, ...rest);
};
"""


def test_a_calculator_that_has_answered_before_needs_no_files(browser, site):
    """Where one is wanted all the same, the calculation waits for it and begins anew."""
    opened = browser.new_page()
    opened.add_init_script(WITHHELD)
    opened.goto((site / "index.html").as_uri())
    opened.evaluate("HandbookPython.start('sum')")
    assert opened.evaluate("withheld.length") == 0, "files were sent for before a first answer"
    assert run(opened, "sum", [1, 2])["sum"] == 3
    opened.evaluate("(text) => { window.came = HandbookPython.run('sum', text); }", '"table"')
    until(lambda: opened.evaluate("withheld.length") == 2, "the two files")
    assert run(opened, "sum", [3, 4])["sum"] == 7, "what needs no file waits for none"
    opened.evaluate("withheld.forEach((send) => send())")
    assert opened.evaluate("came") == "[7]"
    assert opened.evaluate("HandbookPython.start().then(({ restored }) => restored)") is True
    opened.close()


def test_what_only_the_whole_of_pyodide_can_do_is_done_by_it(page):
    """The question is not lost, and the next ones are answered there too."""
    assert run(page, "sum", [1])["sum"] == 1
    assert run(page, "folder", []) == []
    info = page.evaluate("HandbookPython.start()")
    assert info["restored"] is True  # what was told of the first start
    assert page.evaluate("workers.length") == 4
    assert run(page, "sum", [2])["sum"] == 2


def test_after_an_overflow_python_answers_as_before(page):
    """Lists a hundred thousand deep are more than the browser’s own stack holds: its error flies through Python’s C."""
    call = "HandbookPython.run('sum', '['.repeat(1e5)).catch(({ message }) => message)"
    assert "call stack" in page.evaluate(call)
    assert run(page, "sum", [1, 2])["sum"] == 3
    assert page.evaluate("HandbookPython.start().then(({ restored }) => restored)") is True
    assert page.evaluate("workers.length") == 2


def asked(page: Page) -> int:
    return page.evaluate("told.filter(({ json }) => json).length")


def test_a_question_asked_ahead_is_asked_once(page):
    """Whoever asks the same has its answer; with another question it is not wanted any more."""
    page.evaluate("HandbookPython.ahead('sum', '[1, 2]')")
    assert run(page, "sum", [1, 2])["sum"] == 3
    assert asked(page) == 1
    assert run(page, "sum", [1, 2])["sum"] == 3
    assert asked(page) == 2
    page.evaluate("HandbookPython.ahead('sum', '[5]')")
    assert run(page, "sum", [6])["sum"] == 6
    assert run(page, "sum", [5])["sum"] == 5
    assert asked(page) == 5


def test_a_question_ahead_of_a_start_that_fails_is_told(page, site):
    """As if it were asked then."""
    (site / "python" / "python-wasm-1.js").unlink()
    page.evaluate("HandbookPython.ahead('sum', '[1]')")
    call = "HandbookPython.run('sum', '[1]').catch(({ message }) => message)"
    assert "missing: python-wasm-1.js" in page.evaluate(call)


def test_long_work_can_be_stopped(page):
    """stop() ends a calculation that would never end; the next run starts anew."""
    page.evaluate("HandbookPython.start()")
    page.evaluate("window.late = HandbookPython.run('forever', '[]').catch((e) => e.message); null")
    page.evaluate("HandbookPython.stop()")
    assert page.evaluate("late") == "The calculators were stopped."
    assert page.evaluate("HandbookPython.state") == "idle"
    assert run(page, "sum", [4])["sum"] == 4


def test_restart_while_loading(page):
    """A restart in the midst of a start leaves one running Python."""
    page.evaluate("HandbookPython.start().catch(() => {}); null")
    assert page.evaluate("HandbookPython.restart()")["build"] == "build-1"
    assert run(page, "sum", [5])["sum"] == 5
    assert page.complaints == []


@pytest.mark.parametrize("name", ["python-wasm-1.js", "python-snapshot-0.js"])
def test_a_missing_asset_is_named(page, site, name):
    """The message says which file is missing."""
    (site / "python" / name).unlink()
    assert f"missing: {name}" in failure(page)


def test_the_program_that_starts_python_from_nothing_is_fetched_only_then(page, site):
    """Its absence is told where it is needed."""
    assert run(page, "sum", [1])["sum"] == 1
    assert not [url for url in page.asked if "python-program" in url]
    (site / "python" / "python-program-0.js").unlink()
    spoil_part(site / "python" / "python-snapshot-0.js")
    page.reload()
    assert "missing: python-program-0.js" in failure(page)


def test_a_damaged_asset_fails_instead_of_waiting(page, site):
    """Bytes that are not what was packed end in a failure at once."""
    path = site / "python" / "python-wasm-2.js"
    text = path.read_text(encoding="utf-16")
    path.write_text(text[:5000] + "A" * 400 + text[5400:], encoding="utf-16")
    assert "cannot run here" in failure(page)


def test_mixed_builds_are_refused(page, site):
    """Calculators of another build than the page's do not answer."""
    package = {packer.BUILD_ID: b"build-0", "calculators/__init__.py": b"run_json = 1"}
    other = stored_zip(package)
    write_asset(site / "python", "calculators", other)
    message = failure(page)
    assert "build-1" in message
    assert "build-0" in message
    assert "copy the whole handbook again" in message


@pytest.mark.parametrize("name", ["WebAssembly", "DecompressionStream", "Worker"])
def test_an_old_browser_is_told_what_it_lacks(page, name):
    """Each feature that Python needs is named when it is not there."""
    page.evaluate(f"delete window.{name}; null")
    assert f"it has no {name}" in failure(page)

"""Index and worker as scripts, and the theme's bundle made to use them."""

import base64
import gzip
import json
import re
import subprocess
from pathlib import Path

import material
import pytest

from tools.post import bundle, pages, search

THEME = Path(material.__file__).parent / "templates"
INDEX = {
    "config": {"lang": ["en"], "separator": r"[\s\-]+", "pipeline": [], "fields": {"title": {}}},
    "docs": [{"location": "a.html", "title": "Coils </script> \u2028", "text": "ü"}],
}


@pytest.fixture
def built(tmp_path) -> Path:
    """The parts of a built site that search needs, from the installed theme."""
    wanted = ("javascripts/bundle.*.min.js", "javascripts/workers/*", "javascripts/lunr/**/*.js")
    for path in (path for pattern in wanted for path in THEME.glob(f"assets/{pattern}")):
        target = tmp_path / path.relative_to(THEME)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(path.read_bytes())
    pages.write(tmp_path / "search" / "search_index.json", json.dumps(INDEX))
    return tmp_path


def run(node: str, script: Path, then: str, **given: object) -> object:
    """Run a script in a world without Node's own names, then an expression; return its JSON."""
    source = f"""
      const vm = require("vm");
      const world = vm.createContext({{ console, setTimeout }});
      const run = (text) => vm.runInContext(text, world);
      run("var self = globalThis, window = globalThis;");
      run({json.dumps(script.read_text(encoding="utf-8"))});
      Object.assign(world, {json.dumps(given)});
      Promise.resolve(run({json.dumps(then)})).then((value) => console.log(JSON.stringify(value)));
    """
    done = subprocess.run([node, "-"], input=source, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


# Starts the worker's source, sends it the messages one after the other, returns its answers.
TALK = """(async () => {
  const heard = [], answers = [];
  self.addEventListener = (_, listener) => heard.push(listener);
  self.postMessage = (message) => answers.push(message);
  (0, eval)(HandbookAssets["search-worker"]);
  for (const data of messages) await Promise.all(heard.map((listener) => listener({ data })));
  return answers;
})()"""


def test_the_scripts_hold_the_same_index(built, node):
    """Its settings in one, its texts packed in the other."""
    search.install(built)
    assert run(node, built / search.INDEX, "__index") == {**INDEX, "docs": []}
    texts = run(node, built / search.WORKER, 'HandbookAssets["search-docs"]')
    assert json.loads(gzip.decompress(base64.b64decode(str(texts)))) == INDEX["docs"]


def test_the_worker_answers_the_themes_messages(built, node):
    """Its one source holds all it needs: it is set up, and finds a word by another form."""
    search.install(built)
    docs = [{"location": "a.html", "title": "consisted", "text": ""}]
    # One stem in the sample vocabulary that the Snowball project prints.
    messages = [{"type": 0, "data": {"docs": docs}}, {"type": 2, "data": "consistency"}]
    ready, result = run(node, built / search.WORKER, TALK, messages=messages)
    assert (ready["type"], result["type"]) == (1, 3)
    assert [item[0]["location"] for item in result["data"]["items"]] == ["a.html"]


def test_the_locked_themes_bundle_is_patched_in_every_place(built):
    """It starts no worker from a file and asks no server for the index."""
    search.install(built)
    script = pages.read(bundle.the_only(built, bundle.BUNDLE))
    assert "new Worker" not in script
    assert script.count("HandbookSearchWorker") == 1
    assert not re.search(r'location\.protocol==="file:"\?\w+\(`\$\{new URL\("search', script)


def test_a_theme_page_loads_the_stand_in_before_the_bundle():
    page = (
        '<script id="__config" type="application/json">{"base": "..", "search": "w.js"}</script>'
        '<script src="../assets/javascripts/bundle.0a.min.js"></script>'
    )
    done = search.page(page)
    assert pages.config(done)["search"] == "../search/search_worker.js"
    assert done.index("../assets/javascripts/search.js") < done.index("bundle.0a")


def test_other_pages_stay_as_they_are():
    assert search.page("<p>booklet</p>") == "<p>booklet</p>"

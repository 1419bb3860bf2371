"""The least that a page could take to its first result: Python's wasm read, decoded, unpacked and compiled, nothing run.

A bare page opened as a file, with the handbook's own parts and one small worker.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tools.runtime.scripts import own_script

from . import build

WORKER = """
self.onmessage = ({ data }) => (data.count ? compile(data) : slot("wasm", data.index).arrive(data.text));
async function compile({ count }) {
  parts = { wasm: count };
  const headers = { "Content-Type": "application/wasm" };
  await WebAssembly.compileStreaming(new Response(stream("wasm"), { headers }));
  self.postMessage("compiled");
}
"""
SCRIPT = """
const worker = new Worker(URL.createObjectURL(new Blob([WORKER], { type: "text/javascript" })));
worker.onmessage = () => (window.readyAt = performance.now());
worker.postMessage({ count: COUNT });
for (let index = 0; index < COUNT; index++) {
  const tag = document.createElement("script");
  tag.onload = () => worker.postMessage({ index, text: HandbookAssets[`python-wasm-${index}`] });
  tag.src = `python-wasm-${index}.js`;
  document.head.append(tag);
}
"""
PAGE = '<!doctype html><html lang="en"><head><title>Floor</title></head><body><script src="floor.js"></script></body></html>'


@contextmanager
def page() -> Iterator[str]:
    """The address of the bare page; its ``window.readyAt`` is when the wasm was compiled."""
    parts = sorted((build.SITE / "assets" / "runtime").glob("python-wasm-*.js"))
    worker = "\n".join((own_script("unpack.js"), own_script("arrivals.js"), WORKER))
    facts = f"const WORKER = {json.dumps(worker)};\nconst COUNT = {len(parts)};"
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for part in parts:
            (folder / part.name).symlink_to(part.resolve())
        (folder / "floor.js").write_text(facts + SCRIPT, encoding="utf-8")
        (folder / "index.html").write_text(PAGE, encoding="utf-8")
        yield (folder / "index.html").as_uri()

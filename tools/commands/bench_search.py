"""What an answer of the search costs, in processor time of Node; part of `bench`."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

from tools.post import search

# What is typed into it: every beginning of these is asked too, as it is letter by letter.
TYPED = ("college hall", "coin jam", "seven-count single", "who has the keys", "clearnce")
RUNS = 5
CODE = """
const [path, typed, runs] = JSON.parse(require("fs").readFileSync(0, "utf8"));
require("vm").runInThisContext(require("fs").readFileSync(path, "utf8"));
const spent = (work) => { const before = process.cpuUsage(); work(); const { user, system } = process.cpuUsage(before); return (user + system) / 1000; };
const docs = JSON.parse(require("zlib").gunzipSync(Buffer.from(self.HandbookAssets["search-docs"], "base64")));
let finder;
const begun = spent(() => { finder = new HandbookFinder(docs); });
const middle = (times) => times.sort((a, b) => a - b)[times.length >> 1];
const answers = typed.map((query) => middle(Array.from({ length: runs }, () => spent(() => finder.search(query)))));
console.log(JSON.stringify([begun, Math.max(...answers)]));
"""


def measure(site: Path, node: str) -> tuple[float, float]:
    """Milliseconds to begin with, once a visit, and of the slowest of all answers, each the middle one of several."""
    sources = "\n".join((search.HERE / name).read_text("utf-8") for name in ("stem.js", "finder.js"))
    typed = sorted({word[:length] for word in TYPED for length in range(1, len(word) + 1)})
    given = json.dumps([str(site / search.WORKER), typed, RUNS])
    done = subprocess.run([node, "-e", f"globalThis.self = globalThis;\n{sources}\n{CODE}"], input=given, capture_output=True,
                          text=True, check=True)  # fmt: skip
    begun, slowest = json.loads(done.stdout)
    return begun, slowest

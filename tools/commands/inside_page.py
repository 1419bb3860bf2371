"""Asks the Python inside a page for more than whole calculators: for tests and `bench` only.

A page that SCRIPT was added to before it opened answers ``HandbookPython.run("replay", text)``; the
text is JSON of ``source``, a module with a function ``answer``, and ``jobs``, what that is given.
"""

from __future__ import annotations

import json

# The worker takes whole calculators only; here its Python is given one more thing to answer.
TAUGHT = """
import json
import calculators

class Replay:
    def __init__(self, text):
        self.asked = json.loads(text)

    def advance(self):
        names = {}
        exec(self.asked["source"], names)
        return names["answer"](self.asked["jobs"])

    def stop(self):
        pass

usual = calculators.Running
calculators.Running = lambda name, text: Replay(text) if name == "replay" else usual(name, text)
"""
EVALUATE = """
// Of the three workers one unpacks; the others start Python in two ways.
if (typeof caller === "function") {
  const usual = caller;
  caller = (exports, entry) => {
    const bytes = new TextEncoder().encode(TAUGHT + "\\0");
    const place = exports.malloc(bytes.length);
    new Uint8Array(exports.memory.buffer).set(bytes, place);
    if (exports.PyRun_SimpleString(place)) throw new Error(complaints.join(""));
    exports.free(place);
    return usual(exports, entry);
  };
} else if (typeof python === "function") {
  const usual = python;
  python = async () => {
    const made = await usual();
    const builtins = made.begin.__globals__.get("importlib").import_module("builtins");
    builtins.exec(TAUGHT, builtins.dict());
    return made;
  };
}
""".replace("TAUGHT", json.dumps(TAUGHT))
ADDED = """
{
  const Plain = window.Blob;
  window.Blob = class extends Plain {
    constructor(parts, options) {
      super(String(options?.type).includes("javascript") ? [...parts, ADDITION] : parts, options);
    }
  };
}
"""
SCRIPT = ADDED.replace("ADDITION", json.dumps(EVALUATE))

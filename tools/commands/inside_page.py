"""Asks the Python inside a page for more than whole calculators: for tests and `bench` only.

A page that SCRIPT was added to before it opened answers ``HandbookPython.run("replay", text)``; the
text is JSON of ``source``, a module with a function ``answer``, and ``jobs``, what that is given.
"""

from __future__ import annotations

import json

# The worker takes whole calculators only; here its program is given one more thing to answer.
EVALUATE = """
// The worker that unpacks has nothing of the kind.
if (typeof answer === "function") {
  const usual = answer;
  answer = (message) => {
    if (message.name !== "replay") return usual(message);
    const { source, jobs } = JSON.parse(message.json);
    const builtins = started.begin.__globals__.get("importlib").import_module("builtins");
    const names = builtins.dict();
    builtins.exec(source, names);
    self.postMessage({ id: message.id, json: names.get("answer")(jobs) });
  };
}
"""
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

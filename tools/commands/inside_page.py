"""Asks the Python inside a page for more than whole calculators: for tests and `bench` only.

A page that SCRIPT was added to before it opened answers ``HandbookPython.run("replay", text)``; the
text is JSON of ``source``, a module with a function ``answer``, and ``jobs``, what that is given.
"""

from __future__ import annotations

import json

# The worker takes whole calculators only; here its program is given one more thing to answer.
EVALUATE = """
{
  const load = loadPyodide;
  loadPyodide = async () => (self.python = await load());
  const usual = answer;
  answer = (message) => {
    if (message.name !== "replay") return usual(message);
    const { source, jobs } = JSON.parse(message.json);
    self.python.FS.writeFile("/tmp/replay.py", source);
    self.python.pyimport("sys").path.append("/tmp");
    self.postMessage({ id: message.id, json: self.python.pyimport("replay").answer(jobs) });
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

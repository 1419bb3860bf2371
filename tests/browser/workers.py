"""Scripts that take hold of a page's worker, so that a test waits for states and never for a time."""

from __future__ import annotations

# Every worker of the page is kept, and what it was told; while `window.held` is a list, what it says waits in it.
HOLD = """
window.workers = [];
window.told = [];
window.held = null;
window.Worker = class extends Worker {
  constructor(...given) { super(...given); window.workers.push(this); }
  postMessage(message, ...given) { window.told.push(message); super.postMessage(message, ...given); }
  set onmessage(hear) { super.onmessage = (event) => (window.held ? window.held.push(() => hear(event)) : hear(event)); }
};
window.hold = () => { window.held = []; };
window.release = () => { const waiting = window.held; window.held = null; waiting.forEach((each) => each()); };
"""

# Counts what would hold up the page's own thread: assets unpacked and programs compiled in it.
HEAVY = """
window.unpacked = 0;
window.compiled = 0;
window.DecompressionStream = class extends DecompressionStream {
  constructor(...given) { super(...given); window.unpacked++; }
};
for (const name of ["compile", "instantiate", "compileStreaming", "instantiateStreaming", "Module", "Instance"]) {
  const plain = WebAssembly[name];
  WebAssembly[name] = function (...given) {
    window.compiled++;
    return new.target ? new plain(...given) : plain(...given);
  };
}
"""

# What stands before the worker's own text.
_BEFORE = """
const PLAIN = window.Blob;
window.Blob = class extends PLAIN {
  constructor(parts, options = {}) {
    super(options.type === "text/javascript" ? [%s, ...parts] : parts, options);
  }
};
"""
# Each look at the clock finds a second gone: a slice is one step of the work, however fast the machine is.
_COUNTED = "performance.now = ((now) => () => (now += 1000))(0);"
# From the second question on (the first is the page's own), the slice after the first waits until somebody
# asks to stop.
_STEPPED = """(() => {
  const later = self.setTimeout;
  let asked = 0;
  let next = null;
  self.setTimeout = (then, ms, ...rest) => (asked > 1 && ms === 0 ? void (next = then) : later(then, ms, ...rest));
  addEventListener("message", ({ data }) => {
    asked += Boolean(data.name);
    if (data.stop && next) later(next, 0);
  });
})();"""


def before_the_worker(text: str) -> str:
    """A page's script that puts a text before its worker's."""
    return _BEFORE % repr(text.replace("\n", " "))


COUNTED = before_the_worker(_COUNTED)
STEPPED = before_the_worker(_COUNTED + _STEPPED)
# From the second question on, once a first answer was told, the next slice waits until somebody asks to stop.
_EARLY = """(() => {
  const later = self.setTimeout;
  const tell = self.postMessage.bind(self);
  let asked = 0;
  let isTold = false;
  let next = null;
  self.postMessage = (message, ...rest) => { isTold ||= asked > 1 && Boolean(message.early); tell(message, ...rest); };
  self.setTimeout = (then, ms, ...rest) => (isTold && ms === 0 ? void (next = then) : later(then, ms, ...rest));
  addEventListener("message", ({ data }) => {
    asked += Boolean(data.name);
    if (data.stop && next) [isTold] = [false, later(next, 0)];
  });
})();"""
EARLY = before_the_worker(_COUNTED + _EARLY)

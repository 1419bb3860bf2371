"""Takes out of a wasm module what its exports do not reach, with the npm package `binaryen`."""

from __future__ import annotations

import tempfile
from pathlib import Path

from .errors import PackError
from .programs import run_node

# Named one by one: with all of them on, it writes a kind of section that engines may not know yet.
FEATURES = (
    "mutable-globals", "sign-ext", "nontrapping-float-to-int", "bulk-memory", "bulk-memory-opt", "reference-types",
    "multivalue", "exception-handling", "simd", "tail-call", "extended-const",
)  # fmt: skip
OPTIONS = ("--mvp-features", *(f"--enable-{name}" for name in FEATURES), "--remove-unused-module-elements")


class Binaryen:
    """The package, beside Pyodide's, and the Node that runs it."""

    def __init__(self, node: str, folder: Path) -> None:
        self.node, self.program = node, folder / "bin" / "wasm-opt"
        if not self.program.is_file():
            raise PackError(f"{self.program} is missing; `npm ci --ignore-scripts` installs it")

    def without_dead_code(self, module: bytes) -> bytes:
        """Return the module without functions, imports, types and globals that nothing reaches."""
        with tempfile.TemporaryDirectory() as name:
            before, after = Path(name) / "before.wasm", Path(name) / "after.wasm"
            before.write_bytes(module)
            arguments = [str(self.program), str(before), "-o", str(after), *OPTIONS]
            run_node(self.node, arguments, "cutting down Python's wasm failed")
            return after.read_bytes()

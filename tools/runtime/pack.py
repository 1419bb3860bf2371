"""Pack Python and the calculators for a page that may be opened as a file.

A page at file:// may load classic scripts and start a classic worker from a
blob: URL; it may not fetch, import or start anything else. So:

* Each asset is a classic script that puts gzip as text on one global object,
  `self.HandbookAssets["python-wasm-0"] = "..."`, cut into parts of about a
  megabyte: reading a longer one holds up the page. The files are UTF-16, whose text
  carries two bytes a character: a quarter shorter than base64, and read faster.
* runtime.js (page) adds those script tags when a calculator is wanted and hands
  the text to the worker, which unpacks it: the page never freezes.
* A second worker unpacks what is not the wasm (aside.js): two cores share the work.
* "snapshot" is Python's memory with the calculators imported; the page puts it back
  (restored.js, machine.js: text within runtime.js) and starts nothing. Where that fails,
  Python starts as ever (begun.js), with the same wasm, library and calculators.
* The source of the worker that starts as ever is the asset "program": Pyodide's glue
  (pyodide.asm.mjs, its default export returned and import.meta.url replaced) and
  pyodide.js, each inside a function whose parameter is named `fetch`, then
  worker.js. A fetch of that name answers from memory; nothing global is patched.
  It has to be in the blob itself: the page's policy forbids eval and any further
  script there.
* Glue and wasm are cut down first, to the same files with less in them (patches.py).
* "library" is Python's standard library, trimmed to what Pyodide loads plus
  library.txt, and byte-compiled: that is what makes the start quick. Only Pyodide
  can write its own bytecode, so inside.py does it under Node. The files in
  without/ take the place of two parts of Pyodide that a handbook never uses.
* "calculators" is our package, compiled, with its data files and the build's
  identity, which the page compares with its own.

Traps met on the way:

* Zips are stored, not deflated: gzip around them does better on the whole.
* Everything is byte-identical from build to build: fixed times, sorted names, a
  fixed hash seed (it orders set constants), gzip without a time.
* A module loaded only when called (_strptime) is not observed: hence library.txt.
* Files in a zip cannot be opened by path; pkgutil.get_data reads them.
* Pyodide reports a wasm that does not compile as a mere warning and then waits
  for ever; worker.js turns that into a failure.
"""

from __future__ import annotations

import json
import shutil
import tempfile
import tomllib
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from . import patches, stdlib
from .binaryen import Binaryen
from .cache import Cache
from .errors import PackError
from .folders import read_tree, stored_zip, write_tree
from .programs import run_node
from .scripts import page_script, program, restored, write_asset
from .snapshot import Warm, snapshot

HERE = Path(__file__).parent
PYODIDE_FILES = (
    "pyodide.asm.wasm",
    "pyodide.asm.mjs",
    "pyodide.js",
    "pyodide.mjs",
    "python_stdlib.zip",
    "pyodide-lock.json",
    "package.json",
)
PACKAGE = "calculators"
PACKAGE_ZIP = "/lib/calculators.zip"  # as in worker.js
BUILD_ID = f"{PACKAGE}/_build_id.txt"

def pack(
    out_dir: Path,
    *,
    node: str,
    pyodide_dir: Path,
    source_dir: Path,
    cache_dir: Path,
    build_id: str,
    warm: Warm | None = (),
    say: Callable[[str], object] = print,
) -> dict[str, object]:
    """Write runtime.js and the python-*.js assets into `out_dir`.

    Args:
        out_dir: where the page loads them from; older python-*.js there go.
        node: the Node program, version 20 or later.
        pyodide_dir: the unpacked npm package `pyodide`.
        source_dir: the folder that holds the package `calculators`, or that
            package itself.
        cache_dir: keeps compiled work between builds; may be deleted any time.
        build_id: names this build; page and calculators must agree on it.
        warm: a calculator's name and a request as JSON each, answered before Python's memory is kept for the page;
            None keeps none, so that each page starts Python from nothing.
        say: told about each slow step.

    Returns:
        cached (nothing had to be made), build_id, pyodide (its version), python,
        files (name: bytes, sorted) and bytes (their sum).

    Raises:
        PackError: something is missing, or a calculator does not import in the
            packed Python.
    """
    sources = package_files(source_dir)
    heavy, light = read_tools()
    inputs = [read_all(pyodide_dir, PYODIDE_FILES), heavy, sources, light, build_id, warm]
    cache = Cache(cache_dir, say)

    def make(folder: Path) -> None:
        tools = Tools(node, cache.folder("python", inputs[:2], lambda to: make_python(to, node, pyodide_dir)))
        library = cache.folder("library", inputs[:2], lambda to: make_library(to, tools))
        compiled = cache.folder(
            "calculators", inputs[:3], lambda to: make_package(to, tools, library, tables_as_json(sources))
        )
        make_assets(folder, tools, library, compiled, build_id, warm)

    cached = cache.holds("assets", inputs)
    folder = cache.folder("assets", inputs, make)
    return {"cached": cached, **deliver(folder, out_dir)}


# --- what goes in -----------------------------------------------------------


def read_all(folder: Path, names: Iterable[str]) -> dict[str, bytes]:
    """Return {name: bytes} of these files; raise PackError if one is missing."""
    try:
        return {name: (folder / name).read_bytes() for name in names}
    except FileNotFoundError as error:
        raise PackError(
            f"{error.filename} is missing; `npm ci --ignore-scripts` installs pyodide"
        ) from error


def read_tools() -> tuple[dict[str, bytes], dict[str, bytes]]:
    """Return this folder's own files: those the library depends on, and the scripts."""
    files = {name: data for name, data in read_tree(HERE).items() if is_packed(name)}
    light = {name: data for name, data in files.items() if name.endswith(".js")}
    return {name: data for name, data in files.items() if name not in light}, light


def package_files(source_dir: Path) -> dict[str, bytes]:
    """Return {path: bytes} of the calculators package, what the browser wants of it."""
    root = source_dir if source_dir.name == PACKAGE else source_dir / PACKAGE
    if not (root / "__init__.py").is_file():
        raise PackError(f"{root} is not a package: it has no __init__.py")
    paths = sorted(path for path in root.rglob("*") if path.is_file())
    found = {path.relative_to(root.parent).as_posix(): path for path in paths}
    return {name: path.read_bytes() for name, path in found.items() if is_packed(name)}


def tables_as_json(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return the files with each TOML table as JSON, which the browser reads twenty times as fast."""
    return dict(map(_as_json, files.items()))


def _as_json(file: tuple[str, bytes]) -> tuple[str, bytes]:
    name, data = file
    if not name.endswith(".toml"):
        return file
    table = tomllib.loads(data.decode())
    return name.removesuffix(".toml") + ".json", json.dumps(table, ensure_ascii=False).encode()


def is_packed(name: str) -> bool:
    """Tell whether a file belongs in the browser: no tests, caches, notes or CLI."""
    parts = name.split("/")
    unwanted = {"tests", "__pycache__", "__main__.py"}
    hidden = any(part.startswith(".") for part in parts)
    return not hidden and unwanted.isdisjoint(parts) and not name.endswith((".md", ".pyc"))


# --- compiling, inside Pyodide ------------------------------------------------


class Tools:
    """Node and Pyodide, ready to run one job of inside.py."""

    def __init__(self, node: str, pyodide_dir: Path) -> None:
        self.node, self.pyodide_dir = node, pyodide_dir

    def run(self, job: Mapping[str, object], work: Path, library: Path | None = None) -> object:
        """Do a job and return its answer; `library` replaces the standard library."""
        paths = (HERE / "pack.mjs", self.pyodide_dir, work, HERE / "inside.py")
        arguments = [*map(str, paths), json.dumps(job), *([str(library)] if library else [])]
        return json.loads(run_node(self.node, arguments, "packing Python failed").splitlines()[-1])


def make_python(folder: Path, node: str, pyodide_dir: Path) -> None:
    """Put Pyodide's files into `folder`, cut down; what compiles in it is what a browser gets."""
    binaryen = Binaryen(node, pyodide_dir.parent / "binaryen")
    write_tree(folder, patches.cut(read_all(pyodide_dir, PYODIDE_FILES), binaryen.without_dead_code))


def make_library(folder: Path, tools: Tools) -> None:
    """Put the trimmed library and the assets that seldom change into `folder`."""
    modules = stdlib.modules()
    with tempfile.TemporaryDirectory() as work:
        whole = Path(work) / "whole.zip"
        whole.write_bytes(stored_zip(stdlib.whole(tools.pyodide_dir / "python_stdlib.zip")))
        tools.run({"do": "library", "modules": modules}, Path(work), whole)
        trimmed = stored_zip(read_tree(Path(work) / "out"))
    (folder / "library.zip").write_bytes(trimmed)
    # A module that the trimming lost must show here, not in a reader's hand.
    python = tools.run({"do": "check", "modules": modules}, folder, folder / "library.zip")
    (folder / "python.txt").write_text(str(python), encoding="utf-8")
    write_asset(folder, "wasm", (tools.pyodide_dir / "pyodide.asm.wasm").read_bytes())
    write_asset(folder, "library", trimmed)


def make_package(folder: Path, tools: Tools, library: Path, sources: dict[str, bytes]) -> None:
    """Put the compiled calculators and their data files into `folder`."""
    code = [name for name in sources if name.endswith(".py")]
    write_tree(folder / "source", sources)
    job = {"do": "package", "files": code, "seen_in": PACKAGE_ZIP}
    tools.run(job, folder, library / "library.zip")
    write_tree(folder / "out", {n: d for n, d in sources.items() if n not in code})
    shutil.rmtree(folder / "source")


# --- what comes out -----------------------------------------------------------


def make_assets(folder: Path, tools: Tools, library: Path, compiled: Path, build_id: str, warm: Warm | None) -> None:
    """Put every file of the finished runtime into `folder`."""
    for asset in library.glob("python-*.js"):
        shutil.copyfile(asset, folder / asset.name)
    package = stored_zip(read_tree(compiled / "out") | {BUILD_ID: build_id.encode()})
    if warm is not None:
        whole = (library / "library.zip").read_bytes()
        write_asset(folder, "snapshot", snapshot(tools.node, tools.pyodide_dir, whole, package, warm, build_id))
    write_asset(folder, "calculators", package)
    # How many parts the page has to fetch, in this order; it starts the program by itself.
    counts = {name: count_parts(folder, name) for name in ("wasm", "snapshot", "calculators", "library")}
    parts = {name: count for name, count in counts.items() if count}
    write_asset(folder, "program", program(tools.pyodide_dir).encode())
    known = {"build": build_id, "parts": parts, "warm": sorted({name for name, _ in warm or ()})}
    page = page_script(known, restored(tools.pyodide_dir))
    (folder / "runtime.js").write_text(page, encoding="utf-8")
    write_versions(folder, tools.pyodide_dir, library, build_id)


def write_versions(folder: Path, pyodide_dir: Path, library: Path, build_id: str) -> None:
    """Note what the runtime was made from, for deliver() to return."""
    package = json.loads((pyodide_dir / "package.json").read_text(encoding="utf-8"))
    python = (library / "python.txt").read_text(encoding="utf-8")
    versions = {"build_id": build_id, "pyodide": package["version"], "python": python}
    (folder / "versions.json").write_text(json.dumps(versions), encoding="utf-8")


def count_parts(folder: Path, asset: str) -> int:
    """Return how many scripts write_asset made."""
    return len(list(folder.glob(f"python-{asset}-*.js")))


def deliver(folder: Path, out_dir: Path) -> dict[str, object]:
    """Copy the finished scripts to `out_dir` and describe them."""
    out_dir.mkdir(parents=True, exist_ok=True)
    for stale in out_dir.glob("python-*.js"):
        stale.unlink()
    scripts = sorted(folder.glob("*.js"))
    for script in scripts:
        shutil.copyfile(script, out_dir / script.name)
    files = {script.name: script.stat().st_size for script in scripts}
    versions = json.loads((folder / "versions.json").read_text(encoding="utf-8"))
    return {**versions, "files": files, "bytes": sum(files.values())}

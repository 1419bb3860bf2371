"""Pack Python and the calculators for a page that may be opened as a file.

A page at file:// may load classic scripts and start a classic worker from a
blob: URL; it may not fetch, import or start anything else. So:

* Each asset is a classic script that puts gzip in base64 on one global object,
  `self.HandbookAssets["python-wasm-0"] = "..."`, cut into parts of about a
  megabyte: reading a longer one holds up the page.
* runtime.js (page) adds those script tags when a calculator is wanted and hands
  the text to the worker, which unpacks it: the page never freezes.
* The worker's own source is the asset "program": Pyodide's glue
  (pyodide.asm.mjs, its default export returned and import.meta.url replaced) and
  pyodide.js, each inside a function whose parameter is named `fetch`, then
  worker.js. A fetch of that name answers from memory; nothing global is patched.
  It has to be in the blob itself: the page's policy forbids eval and any further
  script there.
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

import base64
import gzip
import hashlib
import io
import json
import os
import re
import shutil
import subprocess
import tempfile
import tomllib
import zipfile
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

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
PART_SIZE = 1_000_000  # characters; a multiple of 4, so that each part decodes alone
KEEP = 6  # cached results of one kind


class PackError(Exception):
    """The runtime cannot be packed; the message says what to do about it."""


def pack(
    out_dir: Path,
    *,
    node: str,
    pyodide_dir: Path,
    source_dir: Path,
    cache_dir: Path,
    build_id: str,
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
    inputs = [read_all(pyodide_dir, PYODIDE_FILES), heavy, sources, light, build_id]
    cache = Cache(cache_dir, say)

    def make(folder: Path) -> None:
        tools = Tools(node, pyodide_dir)
        library = cache.folder("library", inputs[:2], lambda to: make_library(to, tools))
        compiled = cache.folder(
            "calculators", inputs[:3], lambda to: make_package(to, tools, library, sources)
        )
        make_assets(folder, pyodide_dir, library, compiled, build_id)

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
    """Return {path in the zip: bytes} of the calculators package."""
    root = source_dir if source_dir.name == PACKAGE else source_dir / PACKAGE
    if not (root / "__init__.py").is_file():
        raise PackError(f"{root} is not a package: it has no __init__.py")
    paths = sorted(path for path in root.rglob("*") if path.is_file())
    found = {path.relative_to(root.parent).as_posix(): path for path in paths}
    packed = {name: path.read_bytes() for name, path in found.items() if is_packed(name)}
    return packed | tables_as_json(packed)


def tables_as_json(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return a JSON copy beside each TOML table, which the browser reads twenty times as fast."""
    return {
        name.removesuffix(".toml") + ".json": json.dumps(tomllib.loads(data.decode())).encode()
        for name, data in files.items()
        if name.endswith(".toml")
    }


def is_packed(name: str) -> bool:
    """Tell whether a file belongs in the browser: no tests, caches, notes or CLI."""
    parts = name.split("/")
    unwanted = {"tests", "__pycache__", "__main__.py"}
    hidden = any(part.startswith(".") for part in parts)
    return not hidden and unwanted.isdisjoint(parts) and not name.endswith((".md", ".pyc"))


def allowed_modules(text: str) -> list[str]:
    """Read library.txt: `module  # reason` a line; a missing reason is an error."""
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    for line in lines:
        if not re.fullmatch(r"[\w.]+ +# \S.*", line):
            raise PackError(f"library.txt: {line!r} is not `module  # reason`")
    return [line.split()[0] for line in lines]


# --- cache ------------------------------------------------------------------


class Cache:
    """Finished folders, each named by its kind and the hash of its inputs."""

    def __init__(self, root: Path, say: Callable[[str], object]) -> None:
        self.root, self.say = root, say

    def path(self, kind: str, inputs: object) -> Path:
        """Return where this result is, or would be."""
        return self.root / f"{kind}-{digest(inputs)}"

    def holds(self, kind: str, inputs: object) -> bool:
        """Tell whether this result is there."""
        return self.path(kind, inputs).is_dir()

    def folder(self, kind: str, inputs: object, make: Callable[[Path], None]) -> Path:
        """Return the folder of this result, calling `make(folder)` if it is new."""
        target = self.path(kind, inputs)
        if not target.is_dir():
            self.say(f"python runtime: making {kind}")
            self.root.mkdir(parents=True, exist_ok=True)
            self.make_whole(target, make)
            self.forget(kind)
        return target

    def make_whole(self, target: Path, make: Callable[[Path], None]) -> None:
        """Make a result aside and move it in, so that none is ever half there."""
        with tempfile.TemporaryDirectory(dir=self.root) as aside:
            made = Path(aside) / "made"
            made.mkdir()
            make(made)
            if not target.is_dir():  # another build may have been quicker
                os.replace(made, target)

    def forget(self, kind: str) -> None:
        """Drop all but the newest results of a kind."""
        results = sorted(self.root.glob(f"{kind}-*"), key=lambda path: path.stat().st_mtime)
        for old in results[:-KEEP]:
            shutil.rmtree(old, ignore_errors=True)


def digest(inputs: object) -> str:
    """Return a short hash of nested lists, dicts, text and bytes."""
    text = json.dumps(inputs, sort_keys=True, default=lambda data: hashlib.sha256(data).hexdigest())
    return hashlib.sha256(text.encode()).hexdigest()[:20]


# --- compiling, inside Pyodide ------------------------------------------------


class Tools:
    """Node and Pyodide, ready to run one job of inside.py."""

    def __init__(self, node: str, pyodide_dir: Path) -> None:
        self.node, self.pyodide_dir = node, pyodide_dir

    def run(self, job: Mapping[str, object], work: Path, library: Path | None = None) -> object:
        """Do a job and return its answer; `library` replaces the standard library."""
        paths = (HERE / "pack.mjs", self.pyodide_dir, work, HERE / "inside.py")
        command = [self.node, *map(str, paths), json.dumps(job)]
        command += [str(library)] if library else []
        try:
            done = subprocess.run(command, capture_output=True, text=True, check=False)
        except OSError as error:
            raise PackError(f"cannot run Node ({self.node}): {error}") from error
        if done.returncode:
            raise PackError(f"packing Python failed: {done.stderr.strip()[-2000:]}")
        return json.loads(done.stdout.splitlines()[-1])


def make_library(folder: Path, tools: Tools) -> None:
    """Put the trimmed library and the assets that seldom change into `folder`."""
    modules = allowed_modules((HERE / "library.txt").read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory() as work:
        whole = Path(work) / "whole.zip"
        whole.write_bytes(stored_zip(whole_library(tools.pyodide_dir)))
        tools.run({"do": "library", "modules": modules}, Path(work), whole)
        library = stored_zip(read_tree(Path(work) / "out"))
    (folder / "library.zip").write_bytes(library)
    # A module that the trimming lost must show here, not in a reader's hand.
    python = tools.run({"do": "check", "modules": modules}, folder, folder / "library.zip")
    (folder / "python.txt").write_text(str(python), encoding="utf-8")
    write_asset(folder, "wasm", (tools.pyodide_dir / "pyodide.asm.wasm").read_bytes())
    write_asset(folder, "library", library)


def whole_library(pyodide_dir: Path) -> dict[str, bytes]:
    """Return Pyodide's standard library with the replacements of without/."""
    with zipfile.ZipFile(pyodide_dir / "python_stdlib.zip") as archive:
        names = [name for name in archive.namelist() if not name.endswith("/")]
        files = {name: archive.read(name) for name in names}
    return files | read_tree(HERE / "without")


def make_package(folder: Path, tools: Tools, library: Path, sources: dict[str, bytes]) -> None:
    """Put the compiled calculators and their data files into `folder`."""
    code = [name for name in sources if name.endswith(".py")]
    write_tree(folder / "source", sources)
    job = {"do": "package", "files": code, "seen_in": PACKAGE_ZIP}
    tools.run(job, folder, library / "library.zip")
    write_tree(folder / "out", {n: d for n, d in sources.items() if n not in code})
    shutil.rmtree(folder / "source")


# --- what comes out -----------------------------------------------------------


def make_assets(
    folder: Path, pyodide_dir: Path, library: Path, compiled: Path, build_id: str
) -> None:
    """Put every file of the finished runtime into `folder`."""
    for asset in library.glob("python-*.js"):
        shutil.copyfile(asset, folder / asset.name)
    package = read_tree(compiled / "out") | {BUILD_ID: build_id.encode()}
    write_asset(folder, "calculators", stored_zip(package))
    # How many parts the page has to fetch; it starts the program by itself.
    parts = {name: count_parts(folder, name) for name in ("wasm", "library", "calculators")}
    write_asset(folder, "program", program(pyodide_dir).encode())
    page = (HERE / "runtime.js").read_text(encoding="utf-8")
    packed = json.dumps({"build": build_id, "parts": parts})
    (folder / "runtime.js").write_text(
        replace_once(page, "const PACKED = {};", f"const PACKED = {packed};"), encoding="utf-8"
    )
    write_versions(folder, pyodide_dir, library, build_id)


def write_versions(folder: Path, pyodide_dir: Path, library: Path, build_id: str) -> None:
    """Note what the runtime was made from, for deliver() to return."""
    package = json.loads((pyodide_dir / "package.json").read_text(encoding="utf-8"))
    python = (library / "python.txt").read_text(encoding="utf-8")
    versions = {"build_id": build_id, "pyodide": package["version"], "python": python}
    (folder / "versions.json").write_text(json.dumps(versions), encoding="utf-8")


def program(pyodide_dir: Path) -> str:
    """Return the worker's whole source: Pyodide's two scripts, then worker.js."""
    glue = (pyodide_dir / "pyodide.asm.mjs").read_text(encoding="utf-8")
    loader = (pyodide_dir / "pyodide.js").read_text(encoding="utf-8")
    lock = json.loads((pyodide_dir / "pyodide-lock.json").read_text(encoding="utf-8"))
    parts = (
        wrapped("pyodideGlue", glue_body(glue)),
        wrapped("pyodideLoader", loader_body(loader)),
        "const PYODIDE_LOCK = " + json.dumps({"info": lock["info"], "packages": {}}) + ";",
        (HERE / "worker.js").read_text(encoding="utf-8"),
    )
    return "\n".join(parts)


def wrapped(name: str, body: str) -> str:
    """Return a function whose parameter hides the global fetch from `body`."""
    return f"const {name} = (fetch) => {{\n{body}\n}};"


def glue_body(text: str) -> str:
    """Turn the module pyodide.asm.mjs into a function body."""
    export = "export default _createPyodideModule;"
    body = replace_once(text, export, "return _createPyodideModule;")
    # Only ever used to find files beside it, and there are none.
    return body.replace("import.meta.url", '"file:///python/"')


def loader_body(text: str) -> str:
    """Turn pyodide.js into a function body, without the map a debugger would fetch."""
    body = re.sub(r"^//# sourceMappingURL=.*$", "", text, flags=re.MULTILINE)
    return body + "\nreturn loadPyodide.loadPyodide;"


def replace_once(text: str, old: str, new: str) -> str:
    """Replace the single `old`; another count means that the source has changed."""
    if text.count(old) != 1:
        raise PackError(f"expected {old!r} once, found it {text.count(old)} times")
    return text.replace(old, new)


def write_asset(folder: Path, asset: str, data: bytes) -> None:
    """Write one asset as scripts of at most PART_SIZE characters of base64."""
    text = base64.b64encode(gzip.compress(data, 9, mtime=0)).decode()
    for index, start in enumerate(range(0, len(text), PART_SIZE)):
        name = f"python-{asset}-{index}"
        part = text[start : start + PART_SIZE]
        script = f'(self.HandbookAssets ??= {{}})["{name}"] = "{part}";\n'
        (folder / f"{name}.js").write_text(script, encoding="ascii")


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


# --- small helpers ------------------------------------------------------------


def read_tree(folder: Path) -> dict[str, bytes]:
    """Return {relative path: bytes} of every file below `folder`."""
    paths = [path for path in folder.rglob("*") if path.is_file()]
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def write_tree(folder: Path, files: dict[str, bytes]) -> None:
    """Write {relative path: bytes} below `folder`."""
    for name, data in files.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)


def stored_zip(files: dict[str, bytes]) -> bytes:
    """Return an uncompressed zip that depends on names and contents alone."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            entry.create_system = 3  # else it names the builder's operating system
            archive.writestr(entry, files[name])
    return buffer.getvalue()

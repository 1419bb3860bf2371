"""`wheel`: pack the calculators so that a hosted page or a notebook can load them by name.

Makes in dist/: the plain wheel; the same compiled for the bundled Pyodide; and a lock file
that names it, to be given to Pyodide as `lockFileURL`. The compiling and the lock entry are
pyodide-build's work (`pyodide lockfile add-wheels`, `pyodide py-compile`). Its versions for
Python 3.11 know neither this Pyodide's lock file nor its bytecode, and even a newer Python
would compile for itself. So it runs where the wheel is to run: inside the bundled Pyodide,
under Node, whatever Python the machine has. All of it works offline once installed.
"""

from __future__ import annotations

import argparse
import json
import shutil
import tempfile
from pathlib import Path

from . import node, wheels
from .house import ROOT
from .progress import Progress

RUNNER = ROOT / "tools" / "runtime" / "pack.mjs"
INSIDE = Path(__file__).with_name("wheel_inside.py")
SOURCES = ("calculators", "pyproject.toml", "LICENSE")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where to put it."""
    parser.add_argument("--out", type=Path, default=ROOT / "dist", help="default: dist")


def main(args: argparse.Namespace) -> int:
    """Make the wheels and the lock file, and say how to load them."""
    progress = Progress(4)
    progress.step("Looking for Node and the runtime")
    found = node.find_node(progress.note)
    modules = node.ensure_packages(found, progress.note)
    progress.step("Looking for pyodide-build")
    wheels.ensure_tools(progress.note)
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        progress.step("Building the wheel")
        for name in SOURCES:
            wheels.copy(ROOT / name, work / "source" / name)
        wheels.build(work / "source", work / "dist")
        progress.step("Compiling it and writing the lock file, inside the runtime")
        answer = run_inside(found, modules / "pyodide", work)
        publish(work / "dist", args.out)
    progress.finish(f"Made in {args.out}: {', '.join(answer['files'])}")
    print(f'Load it: loadPyodide({{ lockFileURL }}), then loadPackage("{answer["name"]}").')
    return 0


def run_inside(node_path: str, pyodide: Path, work: Path) -> dict[str, list[str] | str]:
    """Have wheel_inside.py do its part in Pyodide; `work` is /work there."""
    # Only `work` can be seen from inside.
    shutil.copytree(wheels.TOOLS, work / "tools")
    info = json.loads((pyodide / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]
    job = json.dumps({"info": info, "epoch": wheels.EPOCH})
    printed = wheels.run([node_path, str(RUNNER), str(pyodide), str(work), str(INSIDE), job], ROOT)
    answer: dict[str, list[str] | str] = json.loads(printed.splitlines()[-1])
    return answer


def publish(built: Path, out: Path) -> None:
    """Put what was built into `out`, in place of what was there of the same kind."""
    out.mkdir(parents=True, exist_ok=True)
    for old in [*out.glob("handbook_calculators-*.whl"), out / "pyodide-lock.json"]:
        old.unlink(missing_ok=True)
    for path in sorted(built.iterdir()):
        shutil.copy(path, out)


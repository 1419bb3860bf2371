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
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from . import environment, node
from .environment import ROOT, VENV
from .progress import Progress, Trouble

TOOLS = VENV / "runtime-tools"
RUNNER = ROOT / "tools" / "runtime" / "pack.mjs"
INSIDE = Path(__file__).with_name("wheel_inside.py")
SOURCES = ("calculators", "pyproject.toml", "LICENSE")
# Any fixed moment will do: two builds of the same sources must give the same bytes.
EPOCH = "1577836800"
# What pip has to be told to install for Pyodide's Python rather than for its own.
FOR_RUNTIME = (
    "--ignore-requires-python",
    "--no-compile",
    "--python-version=3.14",
    "--platform=any",
    "--implementation=py",
    "--abi=none",
)


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
    ensure_tools(progress)
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        progress.step("Building the wheel")
        build_wheel(work)
        progress.step("Compiling it and writing the lock file, inside the runtime")
        answer = run_inside(found, modules / "pyodide", work)
        publish(work / "dist", args.out)
    progress.finish(f"Made in {args.out}: {', '.join(answer['files'])}")
    print(f'Load it: loadPyodide({{ lockFileURL }}), then loadPackage("{answer["name"]}").')
    return 0


def ensure_tools(progress: Progress) -> None:
    """Install pyodide-build for the runtime's Python, beside the environment's own packages."""
    stamp = TOOLS / ".handbook"
    digest = environment.lock_hash("wheel")
    with environment.alone():
        if stamp.is_file() and stamp.read_text(encoding="utf-8") == digest:
            return
        progress.note(f"Installing it: {environment.lock_size('wheel')} packages.")
        shutil.rmtree(TOOLS, ignore_errors=True)
        environment.pip_install("wheel", *FOR_RUNTIME, "--target", str(TOOLS))
        stamp.write_text(digest, encoding="utf-8")


def build_wheel(work: Path) -> None:
    """Build the plain wheel from a copy: setuptools litters the folder it works in."""
    source = work / "source"
    source.mkdir()
    for name in SOURCES:
        copy(ROOT / name, source / name)
    code = "import sys; from setuptools import build_meta as b; b.build_wheel(sys.argv[1])"
    run([sys.executable, "-c", code, str(work / "dist")], source, PYTHONPATH=str(TOOLS))


def copy(source: Path, target: Path) -> None:
    """Copy a file or a folder, without what Python leaves behind while it runs."""
    if source.is_dir():
        shutil.copytree(source, target, ignore=shutil.ignore_patterns("__pycache__"))
    else:
        shutil.copy(source, target)


def run_inside(node_path: str, pyodide: Path, work: Path) -> dict[str, list[str] | str]:
    """Have wheel_inside.py do its part in Pyodide; `work` is /work there."""
    # Only `work` can be seen from inside.
    shutil.copytree(TOOLS, work / "tools")
    info = json.loads((pyodide / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]
    job = json.dumps({"info": info, "epoch": EPOCH})
    printed = run([node_path, str(RUNNER), str(pyodide), str(work), str(INSIDE), job], ROOT)
    answer: dict[str, list[str] | str] = json.loads(printed.splitlines()[-1])
    return answer


def publish(built: Path, out: Path) -> None:
    """Put what was built into `out`, in place of what was there of the same kind."""
    out.mkdir(parents=True, exist_ok=True)
    for old in [*out.glob("handbook_calculators-*.whl"), out / "pyodide-lock.json"]:
        old.unlink(missing_ok=True)
    for path in sorted(built.iterdir()):
        shutil.copy(path, out)


def run(command: list[str], folder: Path, **variables: str) -> str:
    """Run a command and return what it printed; Trouble with its last lines where it fails."""
    environ = {**os.environ, "SOURCE_DATE_EPOCH": EPOCH, **variables}
    answer = subprocess.run(
        command, cwd=folder, env=environ, capture_output=True, text=True, check=False
    )
    if answer.returncode:
        title = "The calculators could not be packed"
        raise Trouble(environment.explain(title, answer.stdout + answer.stderr))
    return answer.stdout

"""Wheels, built by setuptools as its own lock layer holds it: what the commands `wheel` and `package` share."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from . import environment
from .environment import VENV
from .progress import Trouble

TOOLS = VENV / "runtime-tools"
# Any fixed moment will do: two builds of the same sources must give the same bytes.
EPOCH = "1577836800"
# A wheel keeps each file's rights, and what setuptools writes has those that the machine usually gives.
UMASK = 0o022 if os.name == "posix" else -1
# What pip has to be told to install for Pyodide's Python rather than for its own.
FOR_RUNTIME = (
    "--ignore-requires-python",
    "--no-compile",
    "--python-version=3.14",
    "--platform=any",
    "--implementation=py",
    "--abi=none",
)


def ensure_tools(say: Callable[[str], object]) -> None:
    """Install setuptools and pyodide-build for the runtime's Python, beside the environment's own packages."""
    stamp = TOOLS / ".handbook"
    digest = environment.lock_hash("wheel")
    with environment.alone():
        if stamp.is_file() and stamp.read_text(encoding="utf-8") == digest:
            return
        say(f"Installing it: {environment.lock_size('wheel')} packages.")
        shutil.rmtree(TOOLS, ignore_errors=True)
        environment.pip_install("wheel", *FOR_RUNTIME, "--target", str(TOOLS))
        stamp.write_text(digest, encoding="utf-8")


def build(source: Path, target: Path) -> None:
    """Build the plain wheel of a project that was copied: setuptools litters the folder it works in."""
    for path in source.rglob("*"):
        path.chmod(0o755 if path.is_dir() else 0o644)
    code = "import sys; from setuptools import build_meta as b; b.build_wheel(sys.argv[1])"
    run([sys.executable, "-c", code, str(target)], source, PYTHONPATH=str(TOOLS))


def copy(source: Path, target: Path, *left_out: str) -> None:
    """Copy a file or a folder without what Python leaves behind, or what a path of ``left_out`` names.

    Such a path is taken from ``source`` on, and may hold the signs of ``Path.match``.
    """
    found = [path for path in sorted(source.rglob("*")) if path.is_file()] if source.is_dir() else [source]
    for path in found:
        inside = path.relative_to(source)
        if "__pycache__" not in inside.parts and not _named(inside, left_out):
            place = target / inside
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, place)


def _named(inside: Path, left_out: tuple[str, ...]) -> bool:
    above = [inside, *inside.parents]
    return any(each.match(pattern) and len(each.parts) == pattern.count("/") + 1
               for each in above for pattern in left_out)  # fmt: skip


def run(command: list[str], folder: Path, **variables: str) -> str:
    """Run a command and return what it printed; Trouble with its last lines where it fails."""
    environ = {**os.environ, "SOURCE_DATE_EPOCH": EPOCH, **variables}
    answer = subprocess.run(
        command, cwd=folder, env=environ, capture_output=True, text=True, check=False, umask=UMASK
    )
    if answer.returncode:
        raise Trouble(environment.explain("It could not be packed", answer.stdout + answer.stderr))
    return answer.stdout

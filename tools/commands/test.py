"""`test`: every check, in the machine's own browsers, ending with pytest's summary."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tomllib

from . import browsers, node
from .house import ROOT
from .progress import Progress

PASSES_ON = True
# A file's tests stay together: they share a browser. Files go out in the order of tests/conftest.py, the long ones first,
# so that at the end no core waits for another. Chosen tests run one after the other.
ON_ALL_CORES = ("--numprocesses=auto", "--dist=loadfile", "--no-loadscope-reorder")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """None of its own: the rest goes to pytest."""
    parser.epilog = "All other arguments go to pytest, for example: test -k clearance -x"


def main(args: argparse.Namespace) -> int:
    """Find what the checks run on, then run them all; return 0 if none failed."""
    checks = linters()
    progress = Progress(4 + len(checks) + 1)
    prepare(progress)
    progress.step("Building the handbook, for the checks in the browser")
    # In a process of its own, so that the other checks follow even where the build fails.
    built = run([sys.executable, str(ROOT / "tools" / "handbook.py"), "build"]) == 0
    failed = [name for name, command in checks.items() if not passes(name, command, progress)]
    if failed:
        progress.note(f"{' and '.join(failed)} failed (above), so this run fails; tests follow.")
    progress.step("pytest")
    code = run([sys.executable, "-m", "pytest", *(args.rest or ON_ALL_CORES)])
    return code or bool(failed) or not built


def prepare(progress: Progress) -> None:
    """Find or install Node, its packages and the browsers, and name them to the tests."""
    progress.step("Looking for Node")
    os.environ["HANDBOOK_NODE"] = found = node.find_node(progress.note)
    progress.note(f"{found} ({node.version(found)})")
    progress.step("Looking for the packages of package.json")
    node.ensure_packages(found, progress.note, checks=True)
    progress.step("Looking for the browsers")
    for program, path in browsers.find(browsers.ALL, progress).items():
        os.environ[program.variable] = path
        progress.note(path)


def linters() -> dict[str, list[str]]:
    """Return the checks that run ahead of pytest; mypy where pyproject.toml sets it up."""
    checks = {"ruff": ["ruff", "check", "--quiet", "."]}
    if "mypy" in tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]:
        checks["mypy"] = ["mypy"]
    return checks


def passes(name: str, command: list[str], progress: Progress) -> bool:
    """Run a linter; its own words say what is wrong."""
    progress.step(name)
    return run([sys.executable, "-m", *command]) == 0


def run(command: list[str]) -> int:
    """Run a command in the repository's root, its output as it comes."""
    sys.stdout.flush()
    return subprocess.run(command, cwd=ROOT, check=False).returncode

"""`test`: every check, on the machine's own Chromium, ending with pytest's summary."""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tomllib

from . import environment, node
from .house import ROOT
from .progress import Progress, Trouble

PASSES_ON = True
CHROMIUM = "/usr/bin/chromium"
# A file's tests stay together: they share a browser. Chosen tests run one after the other.
ON_ALL_CORES = ("--numprocesses=auto", "--dist=loadfile")
HOW = (
    "The checks in the browser need Chromium, and this machine has none that was found.\n"
    "  On Debian, as root:  apt-get update && apt-get install chromium\n"
    "  Elsewhere: install Chromium and set HANDBOOK_CHROMIUM to its program file.\n"
    "They are never left out: a handbook that was not seen in a browser was not checked."
)


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
    """Find or install Node, its packages and Chromium, and name them to the tests."""
    progress.step("Looking for Node")
    os.environ["HANDBOOK_NODE"] = found = node.find_node(progress.note)
    progress.note(f"{found} ({node.version(found)})")
    progress.step("Looking for the packages of package.json")
    node.ensure_packages(found, progress.note)
    progress.step("Looking for Chromium")
    os.environ["HANDBOOK_CHROMIUM"] = find_chromium(progress)
    progress.note(os.environ["HANDBOOK_CHROMIUM"])


def find_chromium(progress: Progress) -> str:
    """Return Chromium's path, installing Debian's where that is allowed; else Trouble."""
    found = own_chromium()
    if not found and can_install():
        progress.note("Installing Debian's package chromium …")
        apt_get("update")
        apt_get("install", "--yes", "--no-install-recommends", "chromium")
        found = own_chromium()
    if not found:
        raise Trouble(HOW)
    return found


def own_chromium() -> str:
    """Return the path of a Chromium on this machine, or ""."""
    named = os.environ.get("HANDBOOK_CHROMIUM", "")
    if named and not os.access(named, os.X_OK):
        raise Trouble(f"HANDBOOK_CHROMIUM names no program: {named}")
    places = (named, CHROMIUM, "chromium", "chromium-browser")
    return next((found for place in places if place and (found := shutil.which(place))), "")


def can_install() -> bool:
    """Whether this is root on a machine with Debian's package manager."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and bool(shutil.which("apt-get"))


def apt_get(*arguments: str) -> None:
    """Run apt-get without questions; Trouble with its last lines where it fails."""
    answer = subprocess.run(
        ["apt-get", "--quiet", *arguments],
        env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    if answer.returncode:
        title = f"apt-get {' '.join(arguments)} failed"
        raise Trouble(environment.explain(title, answer.stdout + answer.stderr) + f"\n\n{HOW}")


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

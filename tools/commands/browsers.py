"""The browsers that the checks run in: found on this machine, or installed from Debian's packages."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass

from . import environment
from .progress import Progress, Trouble


@dataclass(frozen=True)
class Program:
    """A program by the name people call it, what names it to the tests, where it is looked for, Debian's package."""

    name: str
    variable: str
    places: tuple[str, ...]
    package: str


CHROMIUM = Program(
    "Chromium",
    "HANDBOOK_CHROMIUM",
    ("/usr/bin/chromium", "chromium", "chromium-browser"),
    "chromium",
)
FIREFOX = Program("Firefox", "HANDBOOK_FIREFOX", ("firefox-esr", "firefox"), "firefox-esr")
WEBKIT = Program("WebKitGTK", "HANDBOOK_WEBKIT", ("WebKitWebDriver",), "webkit2gtk-driver")
XVFB = Program("Xvfb", "HANDBOOK_XVFB", ("Xvfb",), "xvfb")
ALL = (CHROMIUM, FIREFOX, WEBKIT, XVFB)


def find(programs: Sequence[Program], progress: Progress) -> dict[Program, str]:
    """Return the path of each, installing Debian's where that is allowed; else Trouble."""
    missing = [each for each in programs if not own(each)]
    if missing and can_install():
        packages = [each.package for each in missing]
        progress.note(f"Installing from Debian's packages: {', '.join(packages)} …")
        apt_get(missing, "update")
        apt_get(missing, "install", "--yes", "--no-install-recommends", *packages)
    found = {each: own(each) for each in programs}
    missing = [each for each in programs if not found[each]]
    if missing:
        raise Trouble(how(missing))
    return found


def own(program: Program) -> str:
    """Return the path of this machine's, or ""."""
    named = os.environ.get(program.variable, "")
    if named and not os.access(named, os.X_OK):
        raise Trouble(f"{program.variable} names no program: {named}")
    places = (named, *program.places)
    return next((found for place in places if place and (found := shutil.which(place))), "")


def how(missing: Sequence[Program]) -> str:
    """Return what to do where some are not to be had."""
    names = ", ".join(each.name for each in missing)
    packages = " ".join(each.package for each in missing)
    variables = ", ".join(each.variable for each in missing)
    lines = [
        f"The checks in the browser need {names}: not found on this machine.",
        f"  On Debian, as root:  apt-get update && apt-get install {packages}",
        f"  Elsewhere: install what is missing and set {variables} to its program file.",
    ]
    if WEBKIT in missing or XVFB in missing:
        lines.append("  WebKitGTK (its program WebKitWebDriver) and Xvfb run on Linux alone.")
    lines.append("They are never left out: a handbook that was not seen in a browser was not checked.")
    return "\n".join(lines)


def can_install() -> bool:
    """Whether this is root on a machine with Debian's package manager."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and bool(shutil.which("apt-get"))


def apt_get(missing: Sequence[Program], *arguments: str) -> None:
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
        raise Trouble(environment.explain(title, answer.stdout + answer.stderr) + f"\n\n{how(missing)}")

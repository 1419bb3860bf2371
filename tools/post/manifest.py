"""The list of the built site's files with their hashes, and what a good build must hold."""

from __future__ import annotations

import hashlib
import json
import posixpath
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote

from tools.problems import Problem

from . import app, pages, policy, search

NAME = app.LISTING
REQUIRED = (
    "index.html",
    "404.html",
    search.INDEX,
    search.WORKER,
    search.SHIM,
    app.SCRIPT,
    app.WORKER,
    app.WEB_MANIFEST,
    *(path for path, _, _ in app.ICONS),
)
REQUIRED_KINDS = (
    "assets/javascripts/bundle.*.min.js",
    "assets/stylesheets/main.*.min.css",
    "procedures/*.html",
    "calculators/*.html",
    "assets/runtime/*.js",
)
AGAIN = "Build the handbook again; if that does not help, the build itself is at fault."


def write(site: Path, build_id: str) -> dict[str, object]:
    """Write the list of all files but itself; return it."""
    listed: dict[str, object] = {"build": build_id, "files": hashes(site)}
    pages.write(site / NAME, json.dumps(listed, ensure_ascii=False, indent=1) + "\n")
    return listed


def hashes(site: Path) -> dict[str, str]:
    """Return the SHA-256 of each file by its path, sorted."""
    paths = sorted(path for path in site.rglob("*") if path.is_file())
    named = {path.relative_to(site).as_posix(): path for path in paths}
    return {
        name: hashlib.sha256(path.read_bytes()).hexdigest()
        for name, path in named.items()
        if name != NAME
    }


def check(site: Path) -> list[Problem]:
    """Return everything that is wrong with a built site; an empty list is a good build.

    It must hold the files every handbook has, be what its list of files says, refer to no
    file it lacks, and have nothing that its own policy would refuse.
    """
    return [
        *missing(site),
        *changed(site),
        *(problem for path in pages.all_pages(site) for problem in page_faults(site, path)),
    ]


def missing(site: Path) -> list[Problem]:
    """Return a problem for each file a handbook must have and this has not."""
    lacking = [name for name in REQUIRED if not (site / name).is_file()]
    lacking += [pattern for pattern in REQUIRED_KINDS if not any(site.glob(pattern))]
    return [Problem(name, "", "The built handbook has no such file.", AGAIN) for name in lacking]


def changed(site: Path) -> list[Problem]:
    """Return a problem for each file that is not what the list of files says."""
    try:
        listed = json.loads(pages.read(site / NAME))["files"]
    except (FileNotFoundError, ValueError, KeyError):
        return [Problem(NAME, "", "The list of files is missing or damaged.", AGAIN)]
    there = hashes(site)
    different = sorted(name for name in {*listed, *there} if listed.get(name) != there.get(name))
    return [Problem(name, "", "This is not the file that was built.", AGAIN) for name in different]


def page_faults(site: Path, path: Path) -> list[Problem]:
    """Return what is wrong with one page."""
    text, name = pages.read(path), path.relative_to(site).as_posix()
    # The page for wrong addresses names its files from the server's root.
    lost = [] if name == "404.html" else sorted(set(lost_files(site, name, text)))
    return policy.refused(text, name) + [
        Problem(name, "", f"{file} is not in the handbook.", AGAIN) for file in lost
    ]


def lost_files(site: Path, name: str, text: str) -> Iterator[str]:
    """Yield the files a page refers to that are not there."""
    for tag in pages.tags(text):
        for attribute in ("src", "href"):
            address = re.sub(r"[?#].*", "", tag.attributes.get(attribute) or "", flags=re.DOTALL)
            if not address or re.match(r"[a-z][a-z0-9+.-]*:|//", address, re.IGNORECASE):
                continue
            file = posixpath.normpath(posixpath.join(posixpath.dirname(name), unquote(address)))
            if file.startswith("..") or not (site / file).exists():
                yield address

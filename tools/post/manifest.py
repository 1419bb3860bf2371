"""What a good build must hold: the files that every handbook has, each as the list of files says."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable
from pathlib import Path
from urllib.parse import unquote

from tools.problems import Problem

from . import app, listing, pages, policy, search

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
    "licenses/*.txt",
)
AGAIN = "Build the handbook again; if that does not help, the build itself is at fault."


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
        different = listing.compare(site).all
    except (FileNotFoundError, listing.Damaged):
        return [Problem(listing.NAME, "", "The list of files is missing or damaged.", AGAIN)]
    return [Problem(name, "", "This is not the file that was built.", AGAIN) for name in different]


def page_faults(site: Path, path: Path) -> list[Problem]:
    """Return what is wrong with one page."""
    text, name = pages.read(path), path.relative_to(site).as_posix()
    return policy.refused(text, name) + lost(site, name, addresses(text))


def lost(site: Path, name: str, found: Iterable[str]) -> list[Problem]:
    """Return a problem for each address of a page at which there is no file."""
    if name == "404.html":  # the page for wrong addresses names its files from the server's root
        return []
    return [Problem(name, "", f"{each} is not in the handbook.", AGAIN) for each in found if not _leads(site, name, each)]


def _leads(site: Path, name: str, address: str) -> bool:
    file = posixpath.normpath(posixpath.join(posixpath.dirname(name), unquote(address)))
    return not file.startswith("..") and (site / file).exists()


def addresses(text: str) -> list[str]:
    """Return the files a page refers to, each once, as it names them."""
    found = (_address(told.get(attribute)) for start in set(pages.starts(text)) if "src" in start or "href" in start
             for told in (pages.attributes(start),) for attribute in ("src", "href"))  # fmt: skip
    return sorted(set(found) - {""})


def _address(value: str | None) -> str:
    """The file of an address; "" where it is the page itself or another place."""
    address = re.sub(r"[?#].*", "", value or "", flags=re.DOTALL)
    return "" if re.match(r"[a-z][a-z0-9+.-]*:|//", address, re.IGNORECASE) else address

"""Changes the theme's own script where a folder needs it otherwise; a build with another version of it stops."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from tools.problems import Problem, Problems

from . import pages

BUNDLE = "assets/javascripts/bundle.*.min.js"

Patches = Iterable[tuple[str, str]]


def patch(site: Path, patches: Patches) -> None:
    """Patch the bundle of a site.

    Raises:
        Problems: the theme is another version than the one the patches were written for.
    """
    path = the_only(site, BUNDLE)
    pages.write(path, patched(pages.read(path), patches))


def patched(bundle: str, patches: Patches) -> str:
    """Return the bundle's text with each pattern replaced, which must be found exactly once."""
    for pattern, instead in patches:
        bundle, count = re.subn(pattern, instead, bundle)
        if count != 1:
            raise mismatch(f"The theme's script has {count} places like {pattern}, not 1.")
    return bundle


def the_only(folder: Path, pattern: str) -> Path:
    """Return the one file that matches."""
    found = sorted(folder.glob(pattern))
    if len(found) != 1:
        raise mismatch(f"The theme has {len(found)} files like {pattern}, not 1.")
    return found[0]


def mismatch(what: str) -> Problems:
    """Return the error for a theme that is not the one the patches were written for."""
    mend = "Use the locked version of the theme, or adapt the patches to the new one."
    return Problems([Problem("tools/post/bundle.py", "patches", what, mend)])

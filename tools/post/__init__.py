"""Finishes the built site: small, searchable from a folder, under a policy, installable.

Everything here works on the folder that the site generator left, and knows nothing of how.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from tools.problems import Problem, Problems

from . import (
    accessibility,
    app,
    contents,
    late,
    lean,
    listing,
    manifest,
    pages,
    policy,
    search,
    sheets,
    shell,
    trim,
    unused,
)
from .keep import Finished, Keep
from .policy import Ours, strangers

__all__ = ["Keep", "Ours", "check", "finish", "strangers"]

check = manifest.check
HOME = "index.html"


@dataclass(frozen=True)
class Alike:
    """What all pages of a site have in common, and what stands once in its stead: a script and a style sheet."""

    shell: shell.Shell | None = None
    sheets: tuple[str, ...] = ()

    @classmethod
    def of(cls, home: str) -> Alike:
        """The same, read off the home page."""
        return cls(shell.of(home), sheets.of(home))

    @property
    def mark(self) -> str:
        """What names it."""
        return " ".join([self.shell.mark if self.shell else "", *self.sheets])

    def install(self, site: Path) -> None:
        """Write the script and the style sheet."""
        if self.shell:
            pages.write(site / shell.SCRIPT, self.shell.script)
        if self.sheets:
            sheets.install(site, self.sheets)

    def out_of(self, text: str) -> str:
        """Return a page without it."""
        return shell.page(sheets.page(text, self.sheets, pages.root(text)), self.shell)


def finish(
    site: Path,
    *,
    build_id: str,
    site_name: str,
    accent: str,
    ours: Ours,
    say: Callable[[str], object] = print,
    keep: Keep | None = None,
) -> None:
    """Finish a freshly built site in place.

    Whatever the pages load (assets/runtime, booklets, drawings) must be in the folder
    already: the list of files and the service worker are made of what is there.

    Args:
        site: the folder the site generator wrote into, not finished yet.
        build_id: names this build, in the list of files and the service worker.
        site_name: what an installed handbook is called.
        accent: the operator's colour, ``#rrggbb``, for icons and the device's title bar.
        ours: the scripts that a page may run.
        say: told what was done, in one line a step.
        keep: pages finished by earlier builds.

    Raises:
        Problems: the theme is not the locked version, or a page holds something that its
            policy would refuse.
        ValueError: ``accent`` is not a colour.
    """
    search.install(site)
    accessibility.install(site)
    late.install(site)
    contents.install(site)
    keep = keep or Keep()
    app.install(site, site_name=site_name, accent=accent, keep=keep)
    saved = trim.trim(site)
    say(f"theme: {saved / 1e6:.1f} MB of unused files taken out")
    alike = Alike.of(ready(pages.read(site / HOME), accent))
    alike.install(site)
    found = finish_pages(site, accent, ours, alike, keep)
    say(f"pages: {len(found)} under a policy, searchable from a folder")
    if faults := [fault for name, page in found.items() for fault in _faults(site, name, page)]:
        raise Problems(faults)
    unused.trim(site, {word for page in found.values() for word in page.words})
    kept = app.write_worker(site, build_id)
    listing.write(site, build_id)
    say(f"app: keeps {kept / 1e6:.1f} MB for use without a signal")


def finish_pages(site: Path, accent: str, ours: Ours, alike: Alike, keep: Keep) -> dict[str, Finished]:
    """Finish every page; return them by name, without their text."""
    made = {}
    asked = unused.wanted(site)
    how = f"{accent} {ours.mark} {alike.mark} {sorted(asked)}"
    whole = functools.partial(_whole, accent=accent, ours=ours, alike=alike, asked=asked)
    for path in pages.all_pages(site):
        page = keep.page(pages.read(path), how, whole)
        pages.write(path, page.text)
        made[path.relative_to(site).as_posix()] = replace(page, text="")
    return made


def _whole(text: str, accent: str, ours: Ours, alike: Alike, asked: frozenset[str]) -> Finished:
    page = finished(text, accent, ours, alike)
    faults = [(each.place, each.what, each.mend) for each in policy.refused(page, "")]
    return Finished(page, manifest.addresses(page), faults, unused.named(page, asked))


def _faults(site: Path, name: str, page: Finished) -> list[Problem]:
    return [Problem(name, *each) for each in page.faults] + manifest.lost(site, name, page.addresses)


def finished(text: str, accent: str, ours: Ours, alike: Alike) -> str:
    """Return one page as the reader gets it.

    The policy comes last, because it lists the hashes of what stands in the page by then.
    """
    return policy.page(lean.unquoted(alike.out_of(ready(text, accent))), ours)


def ready(text: str, accent: str) -> str:
    """Return one page with all that it needs in it, also what it has in common with others."""
    text = search.page(trim.trim_page(text))
    text = accessibility.scripts(accessibility.page(text))
    text = lean.squeeze(lean.drawn(lean.unremarked(late.page(app.page(text, accent)))))
    return contents.page(lean.plain(text))

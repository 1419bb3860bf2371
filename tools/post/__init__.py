"""Finishes the built site: small, searchable from a folder, under a policy, installable.

Everything here works on the folder that MkDocs left, and knows nothing of MkDocs.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from tools.problems import Problem, Problems

from . import accessibility, app, late, lean, manifest, pages, policy, search, trim
from .keep import Finished, Keep

__all__ = ["Keep", "check", "finish"]

check = manifest.check


def finish(
    site: Path,
    *,
    build_id: str,
    site_name: str,
    accent: str,
    say: Callable[[str], object] = print,
    keep: Keep | None = None,
) -> None:
    """Finish a freshly built site in place.

    Whatever the pages load (assets/runtime, booklets, drawings) must be in the folder
    already: the list of files and the service worker are made of what is there.

    Args:
        site: the folder MkDocs built into, not finished yet.
        build_id: names this build, in the list of files and the service worker.
        site_name: what an installed handbook is called.
        accent: the operator's colour, ``#rrggbb``, for icons and the device's title bar.
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
    app.install(site, site_name=site_name, accent=accent)
    saved = trim.trim(site)
    say(f"theme: {saved / 1e6:.1f} MB of unused files taken out")
    found = finish_pages(site, accent, keep or Keep())
    say(f"pages: {len(found)} under a policy, searchable from a folder")
    if faults := [fault for name, page in found.items() for fault in _faults(site, name, page)]:
        raise Problems(faults)
    kept = app.write_worker(site, build_id)
    manifest.write(site, build_id)
    say(f"app: keeps {kept / 1e6:.1f} MB for use without a signal")


def finish_pages(site: Path, accent: str, keep: Keep) -> dict[str, Finished]:
    """Finish every page; return them by name, without their text."""
    moved = policy.Moved()
    found = {path.relative_to(site).as_posix(): path for path in pages.all_pages(site)}
    made = {}
    for name, path in found.items():
        up = "../" * name.count("/")
        page = keep.page(pages.read(path), f"{up} {accent}", functools.partial(_whole, up=up, accent=accent))
        pages.write(path, page.text)
        moved.rules.update(page.styles)
        made[name] = replace(page, text="")
    moved.write(site)
    return made


def _whole(text: str, up: str, accent: str) -> Finished:
    moved = policy.Moved()
    page = finished(text, up, accent, moved)
    faults = [(each.place, each.what, each.mend) for each in policy.refused(page, "")]
    return Finished(page, moved.rules, manifest.addresses(page), faults)


def _faults(site: Path, name: str, page: Finished) -> list[Problem]:
    return [Problem(name, *each) for each in page.faults] + manifest.lost(site, name, page.addresses)


def finished(text: str, up: str, accent: str, moved: policy.Moved) -> str:
    """Return one page as the reader gets it.

    ``up`` is the way to the site's root, for pages that are not the theme's. The policy
    comes last, because it lists the hashes of what stands in the page by then.
    """
    root = pages.root(text) if pages.config(text) is not None else up
    text = search.page(trim.trim_page(text))
    text = accessibility.scripts(accessibility.page(text))
    return policy.page(lean.squeeze(late.page(app.page(text, accent))), moved, root)

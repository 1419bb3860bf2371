"""Finishes the built site: small, searchable from a folder, under a policy, installable.

Everything here works on the folder that MkDocs left, and knows nothing of MkDocs.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tools.problems import Problems

from . import accessibility, app, late, lean, manifest, pages, policy, search, trim

__all__ = ["check", "finish"]

check = manifest.check


def finish(
    site: Path,
    *,
    build_id: str,
    site_name: str,
    accent: str,
    say: Callable[[str], object] = print,
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
    count = finish_pages(site, accent)
    say(f"pages: {count} under a policy, searchable from a folder")
    faults = [fault for path in pages.all_pages(site) for fault in manifest.page_faults(site, path)]
    if faults:
        raise Problems(faults)
    kept = app.write_worker(site, build_id)
    manifest.write(site, build_id)
    say(f"app: keeps {kept / 1e6:.1f} MB for use without a signal")


def finish_pages(site: Path, accent: str) -> int:
    """Finish every page; return how many there are."""
    moved = policy.Moved()
    found = pages.all_pages(site)
    for path in found:
        depth = len(path.relative_to(site).parts) - 1
        pages.write(path, finished(pages.read(path), "../" * depth, accent, moved))
    moved.write(site)
    return len(found)


def finished(text: str, up: str, accent: str, moved: policy.Moved) -> str:
    """Return one page as the reader gets it.

    ``up`` is the way to the site's root, for pages that are not the theme's. The policy
    comes last, because it lists the hashes of what stands in the page by then.
    """
    root = pages.root(text) if pages.config(text) is not None else up
    text = search.page(trim.trim_page(text))
    text = accessibility.scripts(accessibility.page(text))
    return policy.page(lean.squeeze(late.page(app.page(text, accent))), moved, root)

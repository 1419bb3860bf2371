"""`build`: make the handbook and say which file to open."""

from __future__ import annotations

import argparse
import hashlib
import os
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from . import house, onlyone, place
from .house import ROOT
from .place import DOCS, Place
from .progress import Pace, Progress, Trouble

if TYPE_CHECKING:
    from tools.book.answers import Answers
    from tools.book.book import Book
    from tools.material.rendered import Rendered
    from tools.post import Keep, Ours
    from tools.print.kept import Kept as Booklets
    from tools.results.kept import Kept

SITE = ROOT / "site"
# What every handbook is made of beside the operator's folder.
SOURCES = ("calculators", "docs", "tools", "mkdocs.yml", "package-lock.json")
LEFT = ("__pycache__", "site", "editions", ".handbook", ".git")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose handbook, and whether to build although nothing has changed."""
    place.add_argument(parser)
    parser.add_argument("--force", action="store_true", help="build although nothing has changed")


def main(args: argparse.Namespace) -> int:
    """Build, alone: a second build of the same handbook waits for this one."""
    here = place.of(args.folder)
    here.work.mkdir(exist_ok=True)
    with onlyone.alone(here.work, "Another build is running: waiting for it …"):
        if onlyone.recover(here.site, here.work / "old"):
            print("An earlier build was stopped at its last step: its handbook is back in place.")
        return build_site(here, force=args.force)


def build_site(here: Place, *, force: bool) -> int:
    """Build into a folder beside, then put it in the place of the last good site."""
    wanted = fingerprint([*(ROOT / name for name in SOURCES), here.folder])
    if not force and is_current(here, wanted):
        print(f"Nothing has changed since the last build. Open {index(here)}")
        return 0
    progress = Progress(5)
    staging = here.work / "staging"
    shutil.rmtree(staging, ignore_errors=True)
    progress.step("Getting the Python for the browser")
    python = house.HERE.python(progress.note)
    progress.step("Reading the pages, the rules and the data")
    kept = answers(here)
    book = read_book(here, python.build_id, kept)
    for note in notes(book):
        progress.note(note)
    work_out(book, progress)
    rendered = kept_pages(here)
    ours = write_pages(book, staging, rendered)
    progress.step("Packing the calculators for the browser")
    python.put(staging / "assets" / "runtime")
    progress.note(f"{size(staging / 'assets' / 'runtime') / 1e6:.1f} MB of Python and calculators")
    progress.step("Finishing: packs, search, policy, offline app")
    booklets = kept_booklets(here)
    keep = finish(here, book, staging, ours, progress, booklets)
    progress.step("Putting the new handbook in place")
    onlyone.put_in_place(staging, here.site, here.work / "old")
    here.stamp.write_text(wanted, encoding="utf-8")
    kept.forget_unused()
    keep.forget_unused()
    rendered.forget_unused()
    booklets.forget_unused()
    progress.finish(f"The handbook is ready. Open {index(here)}")
    return 0


def size(folder: Path) -> int:
    """The bytes of a folder's files."""
    return sum(each.stat().st_size for each in folder.iterdir())


def index(here: Place) -> str:
    """The file to open, as a person would type it."""
    return os.path.relpath(here.site / "index.html")


def is_current(here: Place, wanted: str) -> bool:
    """Whether the site on disk was made from the sources as they are now."""
    made = here.stamp.read_text(encoding="utf-8") if here.stamp.is_file() else ""
    return made == wanted and (here.site / "index.html").is_file()


def fingerprint(places: Iterable[Path]) -> str:
    """The SHA-256 of files and folders by name and content; what building leaves behind does not count."""
    total = hashlib.sha256()
    for top in places:
        for path in sorted(top.rglob("*")) if top.is_dir() else [top]:
            name = path.relative_to(top.parent)
            if path.is_file() and not set(LEFT) & set(name.parts[1:]):
                total.update(name.as_posix().encode())
                total.update(hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()


UNTOUCHED = "The last good handbook, if there is one, is untouched."


def answers(here: Place) -> Kept:
    """The calculators' answers kept from earlier builds of this handbook."""
    from tools.results.kept import Kept

    mark = fingerprint([ROOT / "calculators", ROOT / "tools" / "results"])
    return Kept(here.work / "answers", mark, workers=cores())


def cores() -> int:
    """How many cores this process may use."""
    allowed = getattr(os, "sched_getaffinity", None)  # Linux alone knows; a container may have fewer than the machine
    return len(allowed(0)) if allowed else os.cpu_count() or 1


def work_out(book: Book, progress: Progress) -> None:
    """Have the calculators' answers ready that the pages will show, on every core of the machine."""
    from tools.results import ahead

    ahead.work_out(book.data, Pace(progress.note, "Working out sites and coils"))


def read_book(here: Place, build_id: str = "", kept: Answers | None = None) -> Book:
    """Read the operator's folder; every mistake at once."""
    from tools.book import book
    from tools.problems import Problems

    try:
        return book.read(here.folder, DOCS, build_id, kept)
    except Problems as error:
        raise Trouble(f"{error}\n{UNTOUCHED}") from error


def notes(book: Book) -> list[str]:
    """What stops nothing and should be known: pages of ours that changed under the operator's, gaps of the cards."""
    from tools.book import card

    return [*book.written.notes, *card.notes(book.data)]


def kept_pages(here: Place) -> Rendered:
    """The pages that earlier builds of this handbook read."""
    from tools.material.rendered import Rendered

    code = fingerprint([ROOT / "mkdocs.yml", ROOT / "calculators" / "core", ROOT / "calculators" / "rules" / "words.toml",
                        *(ROOT / "tools" / name for name in ("blocks", "book", "material", "pages"))])  # fmt: skip
    return Rendered(here.work / "rendered", code)


def write_pages(book: Book, staging: Path, rendered: Rendered | None = None) -> Ours:
    """Write the pages and return the scripts that they may run.

    A warning is a mistake, and a mistake leaves the last good site alone.
    """
    from tools.material import bridge, scripts
    from tools.post import Ours, strangers
    from tools.problems import Problems

    try:
        site_url = bridge.write_pages(book, ROOT / "mkdocs.yml", staging, rendered)
    except bridge.NotBuilt as error:
        raise Trouble(f"{error}\n{UNTOUCHED}") from error
    ours = Ours(scripts.inline(site_url), scripts.files(book.docs))
    found = list(strangers(staging, ours))
    if found:
        raise Trouble(f"{Problems(found)}\n{UNTOUCHED}")
    return ours


def share(book: Book, staging: Path) -> None:
    """Write what no page carries: forms, what they can be filled from, the places to choose, the state of the data."""
    from tools.blocks import presets, row
    from tools.book import facts
    from tools.pages import here, papers, thiscopy
    from tools.pages.proof import context
    from tools.post import listing

    parts = ((here.PATH, here.script(book.data)), (papers.SCRIPT, papers.script(book.data)),
             (thiscopy.PATH, thiscopy.script(book.data.rules.name, listing.STRAY)),
             (facts.STATE, facts.state_sheet(book.data)))  # fmt: skip
    for name, script in (*presets.scripts(book.data), *row.scripts(context(book)), *parts):
        path = staging / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(script, encoding="utf-8", newline="\n")


def kept_booklets(here: Place) -> Booklets:
    """The booklets that earlier builds of this handbook set."""
    from tools.print.kept import Kept

    return Kept(here.work / "booklets")


def finish(here: Place, book: Book, staging: Path, ours: Ours, progress: Progress, kept: Booklets) -> Keep:
    """Everything that works on the finished folder; return the pages that are kept for the next build."""
    from tools import post
    from tools.print.booklets import make as booklets
    from tools.problems import Problems

    company = book.data.company
    keep = post.Keep(here.work / "pages")
    share(book, staging)
    try:
        booklets(book, staging, progress.note, kept)
        post.finish(
            staging, build_id=book.build_id, site_name=company["name"],
            accent=company.get("accent", "#0b5c6b"), ours=ours, say=progress.note, keep=keep,
        )  # fmt: skip
    except (Problems, ValueError) as error:
        raise Trouble(str(error)) from error
    return keep

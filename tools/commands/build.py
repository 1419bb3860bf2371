"""`build`: make the handbook and say which file to open."""

from __future__ import annotations

import argparse
import hashlib
import os
import shutil
from collections.abc import Callable, Iterable, Iterator
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
    from tools.memory import Memory
    from tools.post import Keep, Ours
    from tools.print.kept import Kept as Booklets
    from tools.results.kept import Kept

    from .again import Draft

SITE = ROOT / "site"
# What every handbook is made of beside the operator's folder.
SOURCES = ("calculators", "docs", "tools", "mkdocs.yml", "package-lock.json")
LEFT = ("__pycache__", "site", "editions", ".handbook", ".git")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose handbook, and whether to build although nothing has changed."""
    place.add_argument(parser)
    # For `serve`, which asks a builder that goes on.
    parser.add_argument("--again", action="store_true", help=argparse.SUPPRESS)
    parser.add_argument("--force", action="store_true", help="build although nothing has changed")


def main(args: argparse.Namespace) -> int:
    """Build, alone: a second build of the same handbook waits for this one."""
    here = place.of(args.folder)
    here.work.mkdir(exist_ok=True)
    if args.again:
        from . import again

        return again.main(here)
    return build(here, force=args.force)


def build(here: Place, *, force: bool, memory: Memory | None = None, draft: Draft | None = None) -> int:
    """Build as :func:`build_site` does, once nobody else builds the same handbook."""
    with onlyone.alone(here.work, "Another build is running: waiting for it …"):
        if onlyone.recover(here.site, here.work / "old"):
            print("An earlier build was stopped at its last step: its handbook is back in place.")
        return build_site(here, force=force, memory=memory, draft=draft)


def build_site(here: Place, *, force: bool, memory: Memory | None = None, draft: Draft | None = None) -> int:
    """Build into a folder beside, then put it in the place of the last good site.

    ``memory`` is what this process remembers of earlier builds, ``draft`` who wants the pages before their booklets.
    """
    from tools.memory import Memory

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
    state = state_of(here, kept.mark, python.build_id)
    memory = memory or Memory()
    memory.begin(state)
    # One for as long as the data is the same: it knows what was asked, and drops all else in the end.
    kept = memory.of("answers", lambda: kept)
    book = read_book(here, python.build_id, kept, memory)
    for note in notes(book):
        progress.note(note)
    memory.of("worked out", lambda: work_out(book, progress))
    rendered = kept_pages(here, state)
    ours = write_pages(book, staging, rendered, memory)
    if state_of(here, kept.mark, python.build_id) == state:
        rendered.save()
    else:
        memory.begin("")  # the data changed while it was read: who knows of which state that is
    progress.step("Packing the calculators for the browser")
    python.put(staging / "assets" / "runtime")
    progress.note(f"{size(staging / 'assets' / 'runtime') / 1e6:.1f} MB of Python and calculators")
    share(book, staging, memory)
    progress.step("Finishing: packs, search, policy, offline app")
    keep, booklets = kept_finished(here), kept_booklets(here)
    if draft:
        draft.show(book, staging, lambda folder: finish(book, folder, ours, _silent, keep))
    set_booklets(book, staging, progress.note, booklets, draft.halt if draft else _silent)
    finish(book, staging, ours, progress.note, keep)
    progress.step("Putting the new handbook in place")
    onlyone.put_in_place(staging, here.site, here.work / "old")
    here.stamp.write_text(wanted, encoding="utf-8")
    kept.forget_unused()
    keep.forget_unused()
    rendered.forget_unused()
    booklets.forget_unused()
    progress.finish(f"The handbook is ready. Open {index(here)}")
    return 0


def _silent(*_: object) -> None:
    """Say nothing, and halt at nothing."""


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
        for path in files(top):
            total.update(path.relative_to(top.parent).as_posix().encode())
            total.update(hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()


def files(top: Path) -> Iterator[Path]:
    """The files of a folder in a fixed order, or the one file; not what building and Python leave behind."""
    if top.is_file():
        yield top
    for folder, below, names in os.walk(top):
        below[:] = sorted(set(below) - set(LEFT))
        yield from (path for name in sorted(set(names) - set(LEFT)) if (path := Path(folder, name)).is_file())


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


def read_book(here: Place, build_id: str = "", kept: Answers | None = None, memory: Memory | None = None) -> Book:
    """Read the operator's folder; every mistake at once."""
    from tools.book import book
    from tools.problems import Problems

    try:
        return book.read(here.folder, DOCS, build_id, kept, memory)
    except Problems as error:
        raise Trouble(f"{error}\n{UNTOUCHED}") from error


def notes(book: Book) -> list[str]:
    """What stops nothing and should be known: pages of ours that changed under the operator's, gaps of the cards."""
    from tools.book import card

    return [*book.written.notes, *card.notes(book.data)]


def state_of(here: Place, *drawn_from: str) -> str:
    """The hash of all that pages are drawn from beside their source: data, drawings, and ``drawn_from``."""
    from tools.book.written import FOLDER

    data = (each for each in sorted(here.folder.iterdir()) if each.name not in (FOLDER, *LEFT))
    return " ".join([fingerprint([*data, DOCS / "assets" / "drawings"]), *drawn_from])


def kept_pages(here: Place, state: str) -> Rendered:
    """The pages that earlier builds of this handbook read."""
    from tools.material.rendered import Rendered

    code = fingerprint([ROOT / "mkdocs.yml", ROOT / "calculators" / "core", ROOT / "calculators" / "rules" / "words.toml",
                        *(ROOT / "tools" / name for name in ("blocks", "book", "material", "pages"))])  # fmt: skip
    return Rendered(here.work / "rendered", code, state)


def write_pages(book: Book, staging: Path, rendered: Rendered | None = None, memory: Memory | None = None) -> Ours:
    """Write the pages and return the scripts that they may run.

    A warning is a mistake, and a mistake leaves the last good site alone.
    """
    from tools.material import bridge, scripts
    from tools.post import Ours, strangers
    from tools.problems import Problems

    try:
        site_url = bridge.write_pages(book, ROOT / "mkdocs.yml", staging, rendered, memory)
    except bridge.NotBuilt as error:
        raise Trouble(f"{error}\n{UNTOUCHED}") from error
    ours = Ours(scripts.inline(site_url), scripts.files(book.docs))
    found = list(strangers(staging, ours))
    if found:
        raise Trouble(f"{Problems(found)}\n{UNTOUCHED}")
    return ours


def share(book: Book, staging: Path, memory: Memory) -> None:
    """Write what no page carries: forms, what they can be filled from, the places to choose, the state of the data."""
    for name, script in memory.of("shared", lambda: list(shared(book))):
        path = staging / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(script, encoding="utf-8", newline="\n")


def shared(book: Book) -> Iterator[tuple[str, str]]:
    """Those files, each with its path."""
    from tools.blocks import presets, row
    from tools.book import facts
    from tools.pages import here, papers, thiscopy
    from tools.pages.proof import context
    from tools.post import listing

    asked = context(book)
    yield from presets.scripts(asked)
    yield from row.scripts(asked)
    yield here.PATH, here.script(book.data)
    yield papers.SCRIPT, papers.script(book.data)
    yield thiscopy.PATH, thiscopy.script(book.data.rules.name, listing.STRAY, book.data.answers)
    yield facts.STATE, facts.state_sheet(book.data)


def kept_booklets(here: Place) -> Booklets:
    """The booklets that earlier builds of this handbook set."""
    from tools.print.kept import Kept

    return Kept(here.work / "booklets")


def kept_finished(here: Place) -> Keep:
    """The pages that earlier builds of this handbook finished."""
    from tools.post import Keep

    return Keep(here.work / "pages")


def set_booklets(book: Book, site: Path, say: Callable[[str], object], kept: Booklets, halt: Callable[[], object]) -> None:
    """The packs, made of the pages as they were written; ``halt`` raises where nobody waits for them any more."""
    from tools.print.booklets import make
    from tools.problems import Problems

    try:
        make(book, site, say, kept, halt)
    except Problems as error:
        raise Trouble(str(error)) from error


def finish(book: Book, site: Path, ours: Ours, say: Callable[[str], object], keep: Keep | None = None) -> None:
    """Everything that works on the finished folder; ``keep`` has pages of earlier builds."""
    from tools import post
    from tools.problems import Problems

    company = book.data.company
    try:
        post.finish(
            site, build_id=book.build_id, site_name=company["name"],
            accent=company.get("accent", "#0b5c6b"), ours=ours, say=say, keep=keep,
        )  # fmt: skip
    except (Problems, ValueError) as error:
        raise Trouble(str(error)) from error

"""`editions`: from the finished handbook its zip, the hosted app and the one file, with checksums and licenses."""

from __future__ import annotations

import argparse
from pathlib import Path

from . import house, place
from .house import ROOT
from .progress import Progress, Trouble

NAME = "editions"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose handbook, and where to put it."""
    place.add_argument(parser)
    parser.add_argument("--out", type=Path, metavar="DIR", help="where to put them (without it: editions, beside site)")


def main(args: argparse.Namespace) -> int:
    """Make all of them from the site as it is; a site that is not as it was built stops it."""
    from tools import editions
    from tools.problems import Problems

    here = place.of(args.folder)
    out = args.out or here.site.with_name(NAME)
    progress = Progress(2)
    progress.step("Looking at the handbook")
    ensure_built(here)
    progress.step("Making the editions")
    try:
        made = editions.make(here.site, locks())
    except Problems as error:
        raise Trouble(str(error)) from error
    editions.write(made, out)
    for name, data in made.items():
        progress.note(f"{name:24}{len(data) / 1e6:5.1f} MB")
    progress.finish(f"The editions are in {out}")
    return 0


def ensure_built(here: place.Place) -> None:
    """Stop where there is no handbook, or one of which something was changed or lost."""
    from tools import editions

    build = f"{house.HERE.command} build {'' if here.folder == place.DEMONSTRATION else here.folder}".strip()
    if not (here.site / "index.html").is_file():
        raise Trouble(f"There is no handbook yet. Make it first: {build}")
    if found := editions.faults(here.site):
        raise Trouble("\n".join([*found, f"Make the handbook again: {build} --force"]))


def locks() -> Path | None:
    """Where the locks are, in a clone."""
    folder = ROOT / "tools" / "locks"
    return folder if folder.is_dir() else None

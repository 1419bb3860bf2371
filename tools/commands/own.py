"""`own`: copy one of our pages into an operator's folder, to write it anew."""

from __future__ import annotations

import argparse
import tomllib
from pathlib import Path

from calculators.core.words import BASE

from . import place
from .progress import Trouble


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose folder, and which page."""
    parser.add_argument("folder", type=Path, metavar="DIR", help="an operator's folder")
    parser.add_argument("page", metavar="PAGE", help="a page of ours, such as procedures/clean")


def main(args: argparse.Namespace) -> int:
    """Copy the page, marked with the state of ours that it replaces; one that is there stays."""
    from tools.book import country, written
    from tools.problems import nearest

    name = f"{args.page.removesuffix('.md')}.md"
    ours, target = place.DOCS / name, place.of(args.folder).folder / written.FOLDER / name
    known = [path.relative_to(place.DOCS).with_suffix("").as_posix() for path in place.DOCS.glob("*/*.md")]
    if args.page.removesuffix(".md") not in known:
        raise Trouble(f"There is no page “{args.page}”. {nearest(args.page, known)}")
    if target.exists():
        raise Trouble(f"{target} is there already, and stays as it is.")
    target.parent.mkdir(parents=True, exist_ok=True)
    text = country.source(ours.read_text(encoding="utf-8"), rules_of(place.of(args.folder).folder))
    target.write_text(text.replace("---\n", f'---\nreplaces: "{written.mark(ours)}"\n', 1), encoding="utf-8")
    print(f"{target} is yours now: it stands in the handbook in place of ours.")
    return 0


def rules_of(folder: Path) -> str:
    """The rule set of a folder, whose words the copy is written in; a mistake in it is told by `check`."""
    try:
        return str(tomllib.loads((folder / place.SETTINGS).read_text(encoding="utf-8")).get("rules", BASE))
    except (OSError, ValueError):
        return BASE

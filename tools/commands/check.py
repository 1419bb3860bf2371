"""`check`: tell every mistake in an operator's folder, in seconds, without making the handbook."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from . import build, place
from .progress import Trouble

if TYPE_CHECKING:
    from tools.book.book import Book
    from tools.problems import Problem


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose folder."""
    place.add_argument(parser)
    parser.add_argument("--strict", action="store_true", help="a card without what work stops for is a mistake")


def main(args: argparse.Namespace) -> int:
    """0 where nothing is wrong; notes stop nothing."""
    from tools.pages import proof
    from tools.problems import Problems

    book = build.read_book(place.of(args.folder))
    for note in build.notes(book):
        print(note)
    if problems := [*proof.check(book), *(_stops(book) if args.strict else ())]:
        raise Trouble(str(Problems(problems)))
    rows = sum(map(len, book.data.tables.values()))
    print(f"Nothing is wrong. Rows of tables: {rows}. Packs: {len(book.packs)}. "
          f"Pages of your own: {len(book.written.own)}.")  # fmt: skip
    return 0


def _stops(book: Book) -> list[Problem]:
    """Each item that work stops for and a model's card does not say."""
    from tools.book import card
    from tools.problems import Problem

    return [Problem("cards.csv", machine, f"The card does not say “{gap.item.label}”.",
                    f"Add a row with the item {gap.item.key}." if not gap.item.column else
                    f"Fill in {gap.item.column} of machines.csv.")
            for machine, found in card.gaps(book.data).items() for gap in found if gap.item.stop]  # fmt: skip

"""`check`: tell every mistake in an operator's folder, in seconds, without making the handbook."""

from __future__ import annotations

import argparse

from . import build, place
from .progress import Trouble


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Whose folder."""
    place.add_argument(parser)


def main(args: argparse.Namespace) -> int:
    """0 where nothing is wrong; notes stop nothing."""
    from tools.pages import proof
    from tools.problems import Problems

    book = build.read_book(place.of(args.folder))
    for note in book.written.notes:
        print(note)
    if problems := proof.check(book):
        raise Trouble(str(Problems(problems)))
    rows = sum(map(len, book.data.tables.values()))
    print(f"Nothing is wrong. Rows of tables: {rows}. Packs: {len(book.packs)}. "
          f"Pages of your own: {len(book.written.own)}.")  # fmt: skip
    return 0

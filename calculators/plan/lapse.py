"""Where not all wishes can be kept: the problem with some pins given up, their products free to move.

A product with a pin that lies in the pin's tray is taken to keep it. Where a foe's pin lies beside
it that may be the wrong thing to hold on to: the product may sell from another lane of that tray.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from .model import Problem

MOST_LAPSES = 60  # sets of pins that are tried without


def lapses(problem: Problem, missed: int) -> list[tuple[int, Problem]]:
    """The problem without each set of at most ``missed`` pins, and how many those are.

    One set more than MOST_LAPSES shows that there would be more to try.
    """
    pins = [(number, spot) for number, product in enumerate(problem.products) for spot in product.pins]
    sets = itertools.chain.from_iterable(itertools.combinations(pins, many) for many in range(1, missed + 1))
    return list(itertools.islice(_without(problem, sets), MOST_LAPSES + 1))


def _without(problem: Problem, sets: Iterator[tuple[tuple[int, tuple[int, int]], ...]]) -> Iterator[tuple[int, Problem]]:
    for given_up in sets:
        products = tuple(
            replace(product, pins=tuple(spot for spot in product.pins if (number, spot) not in given_up))
            for number, product in enumerate(problem.products)
        )
        yield len(given_up), replace(problem, products=products)

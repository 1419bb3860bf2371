"""How many pieces sell: buyers by chance (Poisson) until the lanes of a product are empty."""

from __future__ import annotations

import math

MILLIONTHS = 1_000_000  # of a sale; gains are whole numbers of these


def sold(mean: float, most: int) -> list[float]:
    """Expected sales with room for 0, 1 … ``most`` pieces when ``mean`` are asked for on average.

    E[min(D, c)] is the sum over j < c of the chance that more than j are asked for; so each further
    piece adds less than the one before it.
    """
    chance = math.exp(-mean)  # that nobody asks; 0 for a mean beyond 745, where every piece sells
    more, total, found = 1.0, 0.0, [0.0]
    for piece in range(most):
        more = max(0.0, more - chance)
        total += more
        found.append(total)
        chance *= mean / (piece + 1)
    return found


def gains(mean: float, most: int) -> tuple[int, ...]:
    """:func:`sold` in whole millionths of a sale, so that plans compare alike on every machine."""
    return tuple(round(MILLIONTHS * amount) for amount in sold(mean, most))


def sold_out(mean: float, pieces: int) -> float:
    """The chance, in percent, that as many or more are asked for than there are pieces."""
    chance, less = math.exp(-mean), 0.0
    for piece in range(pieces):
        less += chance
        chance *= mean / (piece + 1)
    return 100.0 * max(0.0, 1.0 - less)

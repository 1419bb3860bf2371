"""Buyers by chance (Poisson), exact: how many are wanted, how many go short, how many are left, how much pays.

Means are pieces; chances are shares of one. Terms are taken at logarithms, so that a mean of tens of thousands is no
more trouble than one of two. The quantities are those of any text on inventory: base stock, loss function, newsvendor.
"""

from __future__ import annotations

import functools
import math

LONGEST = 999.0  # days; what lasts longer lasts
TINY = 1e-18  # of a chance; smaller terms change no printed digit
ROUNDS = 60  # halvings; the last one moves a day by nothing that a double holds
MOST = 0.999  # what costs nothing would never have to run short; no stock promises that
# A chance that meets what is wanted by rounding alone meets it.
NOISE = 1e-12


def point(mean: float, count: int) -> float:
    """The chance that exactly ``count`` are wanted."""
    if count < 0:
        return 0.0
    if mean <= 0:
        return 1.0 if count == 0 else 0.0
    return math.exp(count * math.log(mean) - mean - math.lgamma(count + 1))


@functools.lru_cache(maxsize=20_000)
def chance(mean: float, count: int) -> float:
    """The chance that at most ``count`` are wanted."""
    if count < 0:
        return 0.0
    if count > mean:  # the shorter tail has no large terms to lose the small ones in
        return max(0.0, 1.0 - _above(mean, count))
    terms, term = [], point(mean, count)
    for number in range(count, -1, -1):
        terms.append(term)
        term *= number / mean if mean else 0.0
        if term < TINY:
            break
    return min(1.0, math.fsum(terms))


def _above(mean: float, count: int) -> float:
    terms, number = [], count + 1
    term = point(mean, number)
    while term > TINY * 1e-4:
        terms.append(term)
        number += 1
        term *= mean / number
    return math.fsum(terms)


def enough(mean: float, wanted: float) -> int:
    """The least stock that lasts with that chance: the smallest S with P(D ≤ S) ≥ ``wanted``."""
    low, high = -1, 1
    while chance(mean, high) < wanted - NOISE:
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if chance(mean, middle) >= wanted - NOISE else (middle, high)
    return high


def surely(mean: float, wanted: float, most: int) -> int:
    """How many, of ``most``, sell out with that chance: the greatest S with P(D ≥ S) ≥ ``wanted``."""
    low, high = 0, most + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if 1.0 - chance(mean, middle - 1) >= wanted - NOISE else (low, middle)
    return low


def lasting(stock: int, wanted: float) -> float:
    """The mean up to which a stock lasts with that chance."""
    low, high = 0.0, float(stock + 1)
    while chance(high, stock) >= wanted:
        low, high = high, 2 * high
    for _ in range(ROUNDS):
        middle = (low + high) / 2
        low, high = (middle, high) if chance(middle, stock) >= wanted else (low, middle)
    return low


def days_lasting(stock: int, rate: float, wanted: float) -> float:
    """Days until a stock may run short, at so many sales a day."""
    if rate <= 0:
        return LONGEST
    if stock <= 0:  # whatever pays: a lane that sells and is empty has run short
        return 0.0
    if wanted <= 0:
        return LONGEST
    return min(LONGEST, lasting(stock, wanted) / rate)


def short(mean: float, stock: int) -> float:
    """Expected buyers who find it empty: the loss function E[(D − S)+]."""
    if stock <= 0:
        return mean
    return max(0.0, (mean - stock) * (1.0 - chance(mean, stock)) + mean * point(mean, stock))


def sold(mean: float, stock: int) -> float:
    """Expected sales E[min(D, S)]."""
    return max(0.0, mean - short(mean, stock))


def left(mean: float, stock: int) -> float:
    """Expected pieces left E[(S − D)+]."""
    return max(0.0, stock - sold(mean, stock))


def share(price: float, cost: float) -> float:
    """The chance of lasting that pays: what a sale more earns, of that and what a piece too many costs."""
    return min(MOST, max(0.0, (price - cost) / price))


def best(mean: float, price: float, cost: float) -> int:
    """How many pay best where what is left goes out (newsvendor): the smallest Q with P(D ≤ Q) ≥ the share."""
    wanted = share(price, cost)
    return enough(mean, wanted) if wanted > 0 else 0


def earned(mean: float, stock: int, price: float, cost: float, *, goes_out: bool) -> float:
    """Expected money over cost; what goes out is paid for and earns nothing."""
    return (price - cost) * sold(mean, stock) - (cost * left(mean, stock) if goes_out else 0.0)

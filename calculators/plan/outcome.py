"""What a search tells on its way, and what it ends with."""

from __future__ import annotations

from dataclasses import dataclass

from .demand import MILLIONTHS
from .model import Lane

TENTH = MILLIONTHS // 10  # of a sale: as fine as a bound is told


@dataclass(frozen=True)
class Stage:
    """How far the search is: worths of the best plan and of the bound, bonuses left in."""

    nodes: int
    best: int
    bound: int


@dataclass(frozen=True)
class Plan:
    """The best plan. No plan is worth more than ``bound``; ``proven`` where this one is worth it.

    ``worth`` and ``bound`` are in millionths of a sale. ``missed`` counts pins and needed
    products that could not be had; ``bound`` is None where more of them might have been.
    """

    lanes: tuple[Lane, ...]
    worth: int
    bound: int | None
    proven: bool
    missed: int
    nodes: int
    coil_prices: tuple[float, ...]

    @property
    def sales_bound(self) -> float | None:
        """The bound in sales: that of a proven plan is its own, any other is rounded up to be sure."""
        if self.bound is None:
            return None
        return (self.worth if self.proven else TENTH * -(-self.bound // TENTH)) / MILLIONTHS

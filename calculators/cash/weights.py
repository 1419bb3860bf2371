"""What the rule set says of weighing a coin: its issues, how far each may be off, and who weighs alike."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from ..core import Work
from ..float.coinage import Coin

TABLE, OFF, ISSUES, ALIKE = "coins.table", "coins.mass_off", "coins.issues", "coins.alike"


@dataclass(frozen=True)
class Weights:
    """Grams of one coin as people's pockets have it.

    ``lightest`` and ``heaviest`` are None where the set does not say how far a coin may be off; ``older``
    are the words of issues that weigh differently.
    """

    usual: float
    lightest: float | None
    heaviest: float | None
    older: tuple[str, ...] = ()


def of(work: Work, coin: Coin) -> Weights:
    """One coin's weights, over all its issues."""
    older = [row for row in _rows(work, ISSUES) if row["name"] == coin.name]
    off = next((row["off_g"] for row in _rows(work, OFF) if row["name"] == coin.name), None)
    issues = [(coin.mass, off), *((row["mass_g"], row.get("off_g")) for row in older)]
    told = tuple(f"{row['what']} weigh {row['mass_g']:.2f} g" for row in older)
    if any(each is None for _, each in issues):
        return Weights(coin.mass, None, None, told)
    return Weights(coin.mass, min(mass - each for mass, each in issues), max(mass + each for mass, each in issues), told)


def alike(work: Work, coins: dict[str, Coin]) -> tuple[Coin, ...]:
    """The coins that are worth the same for each gram, the smallest first."""
    named = [coins[row["name"]] for row in _rows(work, ALIKE) if row["name"] in coins]
    return tuple(sorted(named, key=lambda coin: coin.value))


def mixed(work: Work, pile: tuple[Coin, ...]) -> Weights:
    """Grams of as much of a mixed pile as its smallest coin is worth."""
    each = [of(work, coin) for coin in pile]
    shares = [pile[0].value / coin.value for coin in pile]
    if any(found.lightest is None for found in each):
        return Weights(pile[0].mass, None, None)
    return Weights(pile[0].mass, min(found.lightest * share for found, share in zip(each, shares, strict=True)),  # type: ignore[operator]
                   max(found.heaviest * share for found, share in zip(each, shares, strict=True)))  # type: ignore[operator]


def _rows(work: Work, key: str) -> list[dict[str, Any]]:
    """A listing of the set; a set without older issues, or without any figure, has none."""
    if key not in work.rules.figures:
        return []
    figure = work.rule_of(key)
    return [] if figure is None else list(figure.value)


def step(pile: tuple[Coin, ...]) -> int:
    """What every sum of such coins is a multiple of, in cents."""
    return math.gcd(*(coin.value for coin in pile))

"""What each lot of coins is worth: by number, roll, bag or weight, written down step by step.

A weight leaves a range of counts. A lot is worth at least ``low``, at most ``high`` and most likely ``likely``
cents; each is None where it cannot be told.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..core import Work
from ..float.coinage import Coin, pack_name
from . import weights
from .inputs import HEAVY, Inputs, Lot
from .weights import Weights

Number = float | None
LEAST, MOST = "ceil((M - e) / H - 0.000001)", "floor((M + e) / L + 0.000001)"


@dataclass(frozen=True)
class Counted:
    """One lot: what it is called, how counted, coins (least, likely, most), worth in cents, what it rests on.

    ``symbols`` stand for low, likely and high in the working. ``fits`` is whether any whole number of coins
    weighs so; None where that cannot be told, and of a lot that is not weighed. ``lacks`` names the figures without
    which nothing can be told.
    """

    number: int
    name: str
    how: str
    needs: tuple[str, ...]
    coins: tuple[Number, Number, Number] = (None, None, None)
    worth: tuple[Number, Number, Number] = (None, None, None)
    symbols: tuple[str, str, str] = ("", "", "")
    weighed: bool = False
    fits: bool | None = None
    weight: Weights | None = None
    recount: str = ""
    lacks: tuple[str, ...] = ()

    @property
    def open(self) -> bool:
        """Whether a weight leaves more than one sum, or any sum, open; one that is not told is asked for instead."""
        return (bool(self.fits) and self.worth[0] != self.worth[2]) or (self.weighed and bool(self.lacks))

    @property
    def told(self) -> bool:
        """Whether all that its worth rests on is given."""
        return not self.weighed or self.fits is not None


def of(work: Work, inputs: Inputs, coins: dict[str, Coin]) -> list[Counted]:
    """Every lot, and the mixed pile where one was weighed."""
    found = [_lot(work, number, lot, coins) for number, lot in enumerate(inputs.coins)]
    if inputs.mixed_scale is not None or inputs.mixed_container is not None:
        found.append(_pile(work, len(found), weights.alike(work, coins)))
    return found


def _lot(work: Work, number: int, lot: Lot, coins: dict[str, Coin]) -> Counted:
    coin = coins.get(lot.coin or "")
    at = f"coins.{number}"
    way = lot.way or "number"
    if way == "mass":
        made = Counted(number, _name(coin), "weighed", (f"{at}.coin", f"{at}.scale", f"{at}.container", "scale_off"), weighed=True,
                       recount=f"{at}.number")  # fmt: skip
    else:
        made = Counted(number, _name(coin), {"number": "by number", "roll": f"full {pack_name(work, 2)}"}.get(way, "standard bags"),
                       (f"{at}.coin", f"{at}.number"))  # fmt: skip
    if coin is None:
        return made
    work.section(f"Lot {number + 1}: {coin.many}")
    work.given("w", "Worth of a coin", coin.value, "money", note=coin.cited(work, weights.TABLE, "value"))
    return _weighed(work, made, at, coin) if way == "mass" else _numbered(work, made, at, coin, way)


def _name(coin: Coin | None) -> str:
    return "Coins" if coin is None else coin.many[0].upper() + coin.many[1:]


def _numbered(work: Work, made: Counted, at: str, coin: Coin, way: str) -> Counted:
    """Coins by number, or so many full rolls or bags."""
    symbol, pack = f"V_{made.number + 1}", _pack(work, coin, way)
    if way != "number" and pack is None:
        return replace(made, lacks=("coins.bags",))
    if pack is None:
        coins = work.take(f"{at}.number", "n", "Coins")
    else:
        work.take(f"{at}.number", "r", "Full ones")
        work.given("b", "Coins in each", pack[0], "count", note=pack[1])
        coins = work.step("n", "Coins", "r*b", "count")
    worth = work.step(symbol, "They are worth", "n*w", "money")
    work.share(symbol)
    return replace(made, coins=(coins,) * 3, worth=(worth,) * 3, symbols=(symbol,) * 3)


def _pack(work: Work, coin: Coin, way: str) -> tuple[int, str] | None:
    """Coins in a roll or bag, and where that stands; None by number, or where the set has none."""
    if way == "roll":
        return coin.roll, coin.cited(work, "coins.rolls", "roll")
    figure = work.rule_of("coins.bags") if way == "bag" else None
    found = [] if figure is None else [row["count"] for row in figure.value if row["name"] == coin.name]
    return (found[0], figure.citation) if figure is not None and found else None


def _weighed(work: Work, made: Counted, at: str, coin: Coin) -> Counted:
    """The least, likely and most coins that weigh so."""
    found = weights.of(work, coin)
    made = replace(made, weight=found)
    if found.lightest is None:  # no better reading of a scale helps
        made = replace(made, lacks=(weights.OFF,), needs=(f"{at}.coin", made.recount))
    if not _net(work, f"{at}.scale", f"{at}.container", found):
        return _at_most(work, made, MOST, "w")
    likely = work.step("n", "Coins, most likely", "floor(M / m + 0.5)", "count")
    least = work.step("n_low", "Coins, at least", f"max(0, {LEAST})", "count")
    most = work.step("n_high", "Coins, at most", MOST, "count")
    names = _symbols(made.number)
    worth = [work.step(name, f"They are worth, {word}", f"{symbol}*w", "money")
             for name, symbol, word in zip(names, ("n_low", "n", "n_high"), ("at least", "most likely", "at most"), strict=True)]  # fmt: skip
    work.share(*names)
    return _fitted(made, (least, likely, most), (worth[0], worth[1], worth[2]), names)


def _symbols(number: int) -> tuple[str, str, str]:
    return f"V_{number + 1}low", f"V_{number + 1}", f"V_{number + 1}high"


def _fitted(made: Counted, coins: tuple[Number, Number, Number], worth: tuple[Number, Number, Number],
            names: tuple[str, str, str]) -> Counted:  # fmt: skip
    """With its bounds; a weight that no number of coins has bounds nothing."""
    low, _, high = worth
    fits = None if low is None or high is None else low <= high
    if fits is False:
        worth = (None, worth[1], None)
    return replace(made, coins=coins, worth=worth, symbols=names, fits=fits)


def _net(work: Work, scale: str, container: str, found: Weights) -> bool:
    """What the coins weigh, and what one of them may; whether all of it is told."""
    shown, alone = work.take(scale), work.take(container)
    work.take("scale_off")
    work.given("m", "A coin weighs", found.usual, "coin_mass")
    work.given("L", "The lightest weighs", found.lightest, "coin_mass")
    work.given("H", "The heaviest weighs", found.heaviest, "coin_mass")
    if shown is not None and alone is not None:
        work.step("M", "Coins alone", "S - K", "coin_mass")
        return True
    work.given("S_most", "The scale shows, at most", HEAVY if shown is None else shown, "coin_mass")
    work.given("K_least", "Container alone, at least", alone or 0.0, "coin_mass")
    work.step("M", "Coins alone, at most", "S_most - K_least", "coin_mass")
    return False


def _at_most(work: Work, made: Counted, most: str, worth: str) -> Counted:
    """With a weight that is not told: from nothing to what the coins are worth where they weigh the most."""
    names = _symbols(made.number)
    least = work.given(names[0], "They are worth, at least", 0.0, "money")
    work.given(names[1], "They are worth, most likely", None, "money")
    highest = work.step(names[2], "They are worth, at most", f"{most}*{worth}", "money")
    work.share(*names)
    return replace(made, worth=(None if highest is None else least, None, highest), symbols=names)


def _pile(work: Work, number: int, pile: tuple[Coin, ...]) -> Counted:
    """A mixed pile of coins that are worth the same for each gram, in steps of what all their sums are multiples of."""
    made = Counted(number, "Mixed coins", "weighed", ("mixed_scale", "mixed_container", "scale_off"), weighed=True)
    if not pile:
        return replace(made, lacks=(weights.ALIKE,))
    found = weights.mixed(work, pile)
    made = replace(made, weight=found, lacks=() if found.lightest is not None else (weights.OFF,))
    work.section("Mixed coins, weighed")
    told = _net(work, "mixed_scale", "mixed_container", found)
    work.given("w", f"Worth of a {pile[0].label.lower()}, and of as many grams of the others", pile[0].value, "money")
    work.given("z", "Every sum is a multiple of", weights.step(pile), "money")
    names = _symbols(number)
    low, high = (text.replace(" / H", " / H * w / z").replace(" / L", " / L * w / z") for text in (LEAST, MOST))
    if not told:
        return _at_most(work, made, high, "z")
    least = work.step(names[0], "Worth, at least", f"max(0, {low}) * z", "money")
    likely = work.step(names[1], "Worth, most likely", "floor(M / m * w / z + 0.5) * z", "money")
    most = work.step(names[2], "Worth, at most", f"{high} * z", "money")
    work.share(*names)
    return _fitted(made, (None, None, None), (least, likely, most), names)

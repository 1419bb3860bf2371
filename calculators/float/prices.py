"""Whether each price can be paid, and changed, with the kinds of coin that the tubes hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..core import Work
from ..core.report import Mend
from . import payout
from .cash import rounding
from .coinage import Coin, notes
from .inputs import Inputs
from .setup import Shares, coin_sale, note_sale, taken

FARTHEST = 200  # cents; a mend looks for another price no farther off


@dataclass(frozen=True)
class Till:
    """What decides it: coins with tubes, notes that come in, coins of exact and of overpaying buyers."""

    values: tuple[int, ...]
    notes: tuple[int, ...]
    exact: tuple[int, ...]
    over: int | None
    payer: payout.Payer

    def trouble(self, price: int, work: Work) -> str:
        """What cannot be paid or given back, even with plenty of every coin; "" for nothing."""
        changes = [note_sale(price, note, len(self.values)).change for note in self.notes]
        if self.over is not None:
            changes.append(coin_sale(price, self.values, {self.over: -(-price // self.over)}).change)
        for change in changes:
            if payout.plenty(self.values, self.payer, change) is None:
                return (f"{work.text(change, 'money')} in change cannot be given with these kinds "
                        "of coin and this payout rule.")  # fmt: skip
        if self.exact and payout.fewest(self.exact, price) is None:
            return "It cannot be paid exactly with these kinds of coin."
        return ""


def till(work: Work, coins: dict[str, Coin], split: Shares | None) -> Till | None:
    """The till of the inputs; None while a tube’s coin or the share of notes is unknown."""
    inputs = work.asked(Inputs)
    kinds = {tube.coin for tube in inputs.tubes}
    if split is None or not kinds or not kinds <= set(coins):
        return None
    values = {coins[name].value for name in kinds}
    loose = {coins[row.coin].value for row in inputs.coin_mix if row.coin in coins}
    over = coins[inputs.over_coin].value if inputs.over_coin in coins else max(values)
    return Till(
        tuple(sorted(values, reverse=True)),
        tuple(taken(inputs, notes(work))) if split.notes > 0 else (),
        tuple(sorted(values | loose, reverse=True)) if split.exact > 0 else (),
        over if split.over > 0 else None,
        payout.PAYERS[inputs.payout],
    )


def check_prices(work: Work, coins: dict[str, Coin], split: Shares | None,
                 paid: Sequence[int | None]) -> None:  # fmt: skip
    """One check a price as cash pays it; the mend is the nearest price that works."""
    inputs = work.asked(Inputs)
    found = till(work, coins, split)
    needs = ("tubes", "share_notes", *(f"tubes.{row}.coin" for row in range(len(inputs.tubes))))
    for number, price in enumerate(paid):
        bad = None if found is None or price is None else found.trouble(price, work)
        work.verdict("price", None if bad is None else not bad, at=f"Price {number + 1}",
                     good="The tubes’ kinds of coin can make it up and give change for it.",
                     bad=bad or "", needs=(f"prices.{number}.price", *needs),
                     mend=_mend(work, number, found) if found and bad else None,
                     note="Or fit a tube for the smaller coin." if bad else "")  # fmt: skip


def _mend(work: Work, number: int, found: Till) -> Mend | None:
    """The nearest price that works, the higher one of two first."""
    inputs = work.asked(Inputs)
    price = inputs.prices[number].price
    row = rounding(work)
    step = 1 if row is None else row["step"]
    price -= price % step  # a whole step is paid as it stands
    for off in range(step, FARTHEST + 1, step):
        for tried in (price + off, price - off):
            if tried > 0 and not found.trouble(tried, work):
                return work.mend(f"prices.{number}.price", tried, how="Change the price.")
    return None

"""Inputs of a float that cannot all be true: a tube and what it holds, bill buyers and their bills."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..core import Contradiction
from ..core.units import Units
from .inputs import Inputs

READ = 25.4 / 16  # mm; a height is printed to a sixteenth of an inch, and may be typed back so
NO_BILL = ("Sales are paid with bills, and no buyer is said to bring one. Give a share to the bills they bring, "
           "or make the sales paid with bills 0%.")  # fmt: skip


def conflicts(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Every pair of inputs of which one must be wrong."""
    yield from _tubes(inputs, show)
    yield from _bills(inputs, show)


def _tubes(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """A tube that is said to hold more new coins than its height has room for."""
    table = show.rules.get("coins.table") if show.rules else None
    thick = {row["name"]: row.get("thickness_mm") for row in table.value} if table else {}
    for number, tube in enumerate(inputs.tubes):
        thickness = thick.get(tube.coin)
        if thickness is None or tube.height is None or tube.capacity is None:
            continue
        if tube.capacity > math.floor((tube.height + READ) / thickness + 1e-6):
            fit, high = math.floor(tube.height / thickness + 1e-6), show.text(tube.height, "length")
            yield Contradiction((f"tubes.{number}.height", f"tubes.{number}.capacity"),
                                f"{tube.capacity} coins do not fit: {high} has room for {fit}. Measure the height "
                                "and read the plate again, or clear one of the two.")  # fmt: skip


def _bills(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Bill buyers, and no bill that any of them has."""
    shares = [each.key for each in inputs.fields() if each.rule == "coins.notes" and each.key.startswith("share_")
              and each.offered(show.rules)]  # fmt: skip
    if inputs.share_notes and shares and not any(getattr(inputs, key) for key in shares):
        yield Contradiction(("share_notes", *shares), NO_BILL)

"""Whether the bill unit takes what the buyers bring: no change in the tubes helps a buyer whose bill comes back."""

from __future__ import annotations

import math

from ..core import Work
from .coinage import notes
from .inputs import Inputs
from .setup import Shares, turned_away


def check_bills(work: Work, split: Shares | None) -> None:
    """Every bill that buyers are said to bring must be taken, where any sales are paid with bills."""
    known = notes(work)
    left = turned_away(work.asked(Inputs), known)
    bad = None if split is None or not known else bool(left) and split.notes > 0
    named = " and ".join(work.text(known[name], "money") for name in left)
    part = work.text(100 * math.fsum(left.values()), "percent", "up")
    how = ["Set the bill unit to take them.", *("" for _ in left)]
    mend = work.mends(*(work.mend(f"takes_{name}", True, how=each) for name, each in zip(left, how, strict=False)))
    work.verdict("bills", None if bad is None else not bad, needs=("share_notes",), mend=mend if bad else None,
                 good="No buyer is said to bring a bill that is not taken.",
                 bad=f"Bills of {named} are not taken: {part} of the bill buyers are turned away.",
                 note="Or make their share 0%, where those buyers have other money." if bad else "")  # fmt: skip

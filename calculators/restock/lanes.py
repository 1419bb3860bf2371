"""Lanes worth adding or giving up: what one lane more would earn, and one fewer lose, until the visit after."""

from __future__ import annotations

from dataclasses import dataclass

from ..core import Work
from . import maths
from .inputs import Inputs
from .model import WEEK, Selection

# Below that a change of coils is not worth the work: a round sum of money of any country, and our own choice.
LEAST = 100


@dataclass(frozen=True)
class Lane:
    """One selection's lanes: ``gains`` by one more, ``loses`` by one fewer (in cents); None where it is not known."""

    each: Selection
    gains: float | None
    loses: float | None
    slow: bool


def find(inputs: Inputs, work: Work, found: list[Selection]) -> list[Lane]:
    """Each selection whose lanes are told."""
    share, weeks = work.rule_of("upkeep.slow_share"), work.rule_of("upkeep.slow_weeks")
    made = []
    for each in found:
        if each.row.lanes is not None and each.row.capacity is not None:
            of_lane = each.row.capacity // each.row.lanes
            slow = (share is not None and weeks is not None and each.rate is not None
                    and each.rate * WEEK * weeks.value < share.value / 100 * of_lane)  # fmt: skip
            made.append(Lane(each, _changed(inputs, each, of_lane), _less(inputs, each, of_lane), slow))
    return made


def _less(inputs: Inputs, each: Selection, pieces: int) -> float | None:
    change = _changed(inputs, each, -pieces)
    return None if change is None else -change


def _changed(inputs: Inputs, each: Selection, pieces: int) -> float | None:
    """What so many pieces more room bring from one visit to the next."""
    row, cover = each.row, inputs.cover
    if None in (each.rate, each.need, cover, row.price, row.cost, row.perishable):
        return None
    mean = each.rate * cover
    room = (row.capacity, max(0, row.capacity + pieces))
    # What goes out when left is filled to what pays, however much room there is.
    now, then = (min(size, each.need) if row.perishable else size for size in room)
    worth = [maths.earned(mean, stock, row.price, row.cost, goes_out=row.perishable) for stock in (now, then)]
    return worth[1] - worth[0]


def swap(lanes: list[Lane]) -> tuple[Lane, Lane, float] | None:
    """Who should get whose lane, and what that earns from one visit to the next; None where nothing is known."""
    pairs = [(more, fewer, more.gains - fewer.loses) for more in lanes for fewer in lanes
             if more is not fewer and more.gains is not None and fewer.loses is not None]  # fmt: skip
    return max(pairs, key=lambda pair: pair[2], default=None)


def table(work: Work, lanes: list[Lane]) -> None:
    """Lane by lane what a change would bring, and the best one as an action."""
    rows: list[tuple[str, ...]] = [(lane.each.name, str(lane.each.row.lanes), work.text(lane.gains, "money", "down"),
             work.text(lane.loses, "money", "up"), "slow" if lane.slow else "") for lane in lanes]  # fmt: skip
    if not rows:
        return
    work.table("lanes", "One lane more, one lane fewer", {
        "name": "Selection", "lanes": "Lanes", "gains": "One more earns", "loses": "One fewer loses", "slow": "Slow"}, rows,
               "From one visit to the next, over cost. Whether a coil fits the other lane: see Cabinet plan.", detail=True)  # fmt: skip
    best = swap(lanes)
    if best and best[2] >= LEAST:
        more, fewer, gain = best
        work.actions.append(f"A lane of {fewer.each.name} would earn {work.text(gain, 'money', 'down')} more from one visit to "
                            f"the next with {more.each.name}. See Cabinet plan whether it fits.")  # fmt: skip

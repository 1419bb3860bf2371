"""Fills the working sheet: each state, the push, the wind, the anchors, the drawing."""

from __future__ import annotations

from ..core import Work
from . import anchor, figure, free, masses, maths, wind
from .free import Pair
from .held import Judge
from .inputs import Inputs
from .masses import EDGES, EMPTY, FULL, OPEN

COLUMNS = {"state": "State", "edge": "Falls first", "angle": "When it leans by", "rise": "Its middle rises by", "push": "Or is pushed with"}


def solve(inputs: Inputs, work: Work) -> None:
    """One cabinet in its place."""
    if inputs.anchor_paper and inputs.anchored is None:
        # Anchors that were fitted hold it: nobody has to say so twice.
        inputs = inputs.changed({"anchored": True})
    states, judge = masses.states(inputs, work), Judge(inputs, work)
    pairs = free.solve(inputs, work, states, judge)
    blows = wind.solve(inputs, work, states, judge)
    _values(inputs, work, states, pairs, blows)
    anchor.solve(inputs, work, states, blows, judge)
    if not work.again:
        _table(inputs, work, states)
        if svg := figure.draw(inputs, work, pairs, blows):
            work.figure(svg)


def _values(inputs: Inputs, work: Work, states: dict[str, masses.State | None], pairs: dict[str, Pair | None],
            blows: dict[str, wind.Blow | None]) -> None:  # fmt: skip
    for key, names in (("empty", (EMPTY,)), ("full", (FULL,)), ("open", (FULL + OPEN,)), ("tray", free.DRAWN)):
        angles = [pair[0].angle for pair in map(pairs.get, names) if pair is not None]
        work.value(f"angle_{key}", min(angles) if len(angles) == len(names) else None)
    pushes = [free.push(inputs, work, pair).least for pair in free.pushed(inputs, states).values()]
    known = [each for each in pushes if each is not None]
    work.value("push", min(known) if len(known) == len(pushes) else None)
    forces = [blow.force for blow in blows.values() if blow is not None]
    work.value("wind", max(forces) if forces and len(forces) == len(blows) else None)


def _table(inputs: Inputs, work: Work, states: dict[str, masses.State | None]) -> None:
    """Each state at its worst: what a lean, a rock and a push need, each over the edge that it takes first."""
    rows = [_row(inputs, work, name, masses.over(inputs, state)) for name, state in states.items()]
    if any(rows):
        work.table("states", "How it stands", COLUMNS, [row for row in rows if row],
                   note="At worst, all that is not known being tried. A cabinet that rocks needs only its middle lifted "
                   f"by so much to fall by itself. {_slides(inputs, work, states)}")  # fmt: skip


def _row(inputs: Inputs, work: Work, name: str, stands: list[masses.Worst]) -> tuple[str, ...]:
    if not stands:
        return ()
    first, pushed = min(stands, key=lambda each: round(each.angle, 9)), min(stands, key=lambda each: round(each.inside, 9))
    rise = min(maths.rise(each.inside, each.whole.up) for each in stands)
    push = free.push(inputs, work, (pushed, pushed)).least
    return (name, EDGES[first.edge], work.text(first.angle, "angle", "down"), work.text(rise, "length", "down"),
            work.text(push, "force", "down"))  # fmt: skip


def _slides(inputs: Inputs, work: Work, states: dict[str, masses.State | None]) -> str:
    """Whether a push makes it slide or tip, over all friction that floors have."""
    low, high = (work.inner(f"standing.friction_{end}") for end in ("least", "most"))
    stands = [each for name in free.FREE for each in masses.over(inputs, states[name])]
    if not stands or inputs.cabinet_height is None or low is None or high is None:
        return ""
    turns = min(each.inside for each in stands) / free.at_height(inputs)
    if turns >= high:
        return "Pushed at that height it slides on any floor before it tips; it falls where its feet meet an edge."
    if turns <= low:
        return "Pushed at that height it tips on any floor before it slides."
    share = work.text(100 * turns, "percent", "down")
    return (f"Pushed at that height it tips before it slides where sliding it takes more than {share} of its weight; "
            "where it slides, it falls when its feet meet an edge.")  # fmt: skip

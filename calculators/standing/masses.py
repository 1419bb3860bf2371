"""What hangs where: the cabinet empty and full, its door open, a tray drawn out.

A place that is not known is its whole range, the same as in :mod:`calculators.clearance.tipping`, which has the
cabinet's own middle of mass. The door takes its mass half a leaf forward when it stands square open, and a whole leaf
to the side when it lies all the way round; in between it does both a little, so that these two are its worst.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import NamedTuple

from ..clearance import tipping
from ..clearance.leg_inputs import TAPE
from ..clearance.tipping import Span
from ..core import Work
from .inputs import Inputs
from .maths import Part, critical_angle, joined

EDGES = {"front": "forward", "back": "back", "left": "to the left", "right": "to the right"}
FAR = 2 * TAPE  # mm; what two tapes, to the middle of mass and to the foot, may be off


@dataclass(frozen=True)
class Load:
    """A mass between two bounds, and how far its middle lies inside each edge and above the floor, mm.

    ``anywhere`` marks one whose place nobody measures: it counts at its worst, as no measurement could tell another one.
    """

    mass: Span
    inside: dict[str, Span]
    up: Span
    anywhere: bool = False

    def at(self, edge: str, *, worst: bool) -> float:
        """How far inside an edge it hangs at worst, or at best."""
        span = self.inside[edge]
        return (span.least if worst or self.anywhere else span.most) or 0.0


@dataclass(frozen=True)
class Moved:
    """A mass (kg) that goes out by a way (mm), by the edge that it goes toward; 0 where it may stay."""

    mass: Span
    way: dict[str, Span]


@dataclass(frozen=True)
class State:
    """A cabinet as it stands: what is in it, and what of it has moved. Its key is the name of its check's place."""

    key: str
    loads: tuple[Load, ...]
    moved: tuple[Moved, ...]

    @property
    def mass(self) -> float:
        """All of it, kg."""
        return math.fsum(load.mass.least or 0.0 for load in self.loads)


class Worst(NamedTuple):
    """One edge at the worst, or the best, that is possible: the whole as one mass and what its parts were."""

    edge: str
    whole: Part
    parts: tuple[Part, ...]
    out: tuple[tuple[float, float], ...]
    slope: float

    @property
    def angle(self) -> float:
        """How much farther it may lean over the edge, degrees."""
        return critical_angle(self.whole.inside, self.whole.up, self.slope)

    @property
    def inside(self) -> float:
        """How far below the middle of mass is inside the edge, square to gravity, mm."""
        return self.whole.inside - self.whole.up * self.slope

    def off(self, level: float) -> float:
        """How much less the angle may be, tapes and the level being off."""
        return self.angle - critical_angle(self.whole.inside - FAR, self.whole.up + TAPE, self.slope + level)


EMPTY, FULL = "Empty", "Full"
OPEN, TRAY = ", door open", ", door open, a tray out"


def states(inputs: Inputs, work: Work) -> dict[str, State | None]:
    """Every state by its name, in the order in which they are judged; None where something is not known."""
    empty, goods = _empty(inputs, work), _goods(inputs, work)
    door, tray = _door(inputs, work), _tray(inputs, work)
    full = None if empty is None or goods is None else (empty, goods)
    shut = {EMPTY: None if empty is None else (empty,), FULL: full}
    found = {name: None if loads is None else State(name, loads, ()) for name, loads in shut.items()}
    for name, loads in shut.items():
        known = loads is not None and door is not None
        found[name + OPEN] = State(name + OPEN, loads or (), (door,)) if known and door else None
    both = full is not None and door is not None and tray is not None
    found[FULL + TRAY] = State(FULL + TRAY, full or (), (door, tray)) if both and door and tray else None
    first = None if tray is None else _first(inputs, work, tray)
    bare = empty is not None and door is not None and first is not None
    found[EMPTY + TRAY] = State(EMPTY + TRAY, (empty, first), (door,)) if bare and empty and door and first else None
    return found


def _feet(inputs: Inputs, around: dict[str, Span]) -> dict[str, Span] | None:
    """The places inside the feet's edges, from those inside the cabinet's faces."""
    inset = inputs.leg_inset
    if inset is None or any(span.least is None or span.most is None for span in around.values()):
        return None
    return {edge: Span((span.least or 0.0) - inset, (span.most or 0.0) - inset) for edge, span in around.items()}


def _empty(inputs: Inputs, work: Work) -> Load | None:
    inside = _feet(inputs, tipping.edges(inputs, work))
    up = tipping.share(work, inputs.cabinet_height, inputs.cg_height)
    if inside is None or up.least is None or inputs.cabinet_mass is None:
        return None
    return Load(Span(inputs.cabinet_mass, inputs.cabinet_mass), inside, up)


def _goods(inputs: Inputs, work: Work) -> Load | None:
    """A full load."""
    mass = inputs.stock_mass
    return None if mass is None else _goods_of(inputs, work, Span(mass, mass))


def _goods_of(inputs: Inputs, work: Work, mass: Span) -> Load | None:
    """Goods in their places; from side to side and front to back their middle may lie anywhere within the usual share."""
    low, high = work.inner("standing.goods_least"), work.inner("standing.goods_most")
    sizes = (inputs.cabinet_depth, inputs.cabinet_width, inputs.cabinet_height)
    if low is None or high is None or None in sizes:
        return None
    depth, width, tall = sizes
    around = {edge: Span(size * low / 100, size * high / 100)
              for edge, size in (("front", depth), ("back", depth), ("left", width), ("right", width))}  # fmt: skip
    inside, told = _feet(inputs, around), inputs.stock_height
    up = Span(tall * low / 100, tall * high / 100) if told is None else Span(told, told)
    return None if inside is None else Load(mass, inside, up, anywhere=True)


def _first(inputs: Inputs, work: Work, tray: Moved) -> Load | None:
    """The goods of the first tray that is loaded, drawn out; filled from below, they lie no higher than all of them will."""
    goods, way = _goods_of(inputs, work, tray.mass), tray.way["front"]
    if goods is None:
        return None
    out = {"front": Span(-(way.most or 0.0), -(way.least or 0.0)), "back": way}
    inside = {edge: Span((span.least or 0.0) + (out[edge].least or 0.0), (span.most or 0.0) + (out[edge].most or 0.0)) if edge in out
              else span for edge, span in goods.inside.items()}  # fmt: skip
    return Load(goods.mass, inside, goods.up, anywhere=True)


def _door(inputs: Inputs, work: Work) -> Moved | None:
    most, mass = work.inner("standing.door_most"), inputs.cabinet_mass
    leaf = _reach(inputs.door_leaf, inputs.cabinet_width)
    if leaf is None or mass is None or most is None:
        return None
    own = inputs.door_mass
    heavy = Span(0.0, mass * most / 100) if own is None else Span(own, own)
    hinges = (inputs.hinge_side,) if inputs.hinge_side else ("left", "right")
    around = leaf if inputs.hinge_side else Span(0.0, leaf.most)
    half = Span((leaf.least or 0.0) / 2, (leaf.most or 0.0) / 2)
    return Moved(heavy, {"front": half, **dict.fromkeys(hinges, around)})


def _reach(told: float | None, size: float | None) -> Span | None:
    """How far a door or a tray reaches: no farther than the cabinet where nobody measured it."""
    if told is not None:
        return Span(told, told)
    return None if size is None else Span(0.0, size + FAR)


def _tray(inputs: Inputs, work: Work) -> Moved | None:
    most, goods, way = work.inner("standing.tray_most"), inputs.stock_mass, _reach(inputs.tray_pullout, inputs.cabinet_depth)
    own = inputs.tray_load
    if way is None or most is None or (own is None and goods is None):
        return None
    heavy = Span(0.0, (goods or 0.0) * most / 100) if own is None else Span(own, own)
    return Moved(heavy, {"front": way, "back": Span(-(way.most or 0.0), -(way.least or 0.0))})


# -- the worst and the best of a state ----------------------------------------------------------


def slope_to(inputs: Inputs, edge: str) -> float | None:
    """How far it leans toward an edge at worst, as rise over run."""
    lean = inputs.lean_along if edge in ("front", "back") else inputs.lean_across
    return None if lean is None else lean / 1000


def at_edge(state: State, edge: str, slope: float, *, worst: bool) -> Worst:
    """A state over one edge, with every range at the end that makes it fall sooner, or later."""
    gone = tuple(_out(moved, edge, worst=worst) for moved in state.moved if edge in moved.way)
    tried = []
    # Where it hangs outside the edge already, lower is worse: both ends of each height are tried.
    for ups, masses in itertools.product(*(_ends([getattr(load, of) for load in state.loads]) for of in ("up", "mass"))):
        parts = tuple(Part(mass, load.at(edge, worst=worst), up)
                      for load, mass, up in zip(state.loads, masses, ups, strict=True))  # fmt: skip
        whole = joined(parts)
        lost = math.fsum(mass * way for mass, way in gone) / whole.mass
        tried.append(Worst(edge, Part(whole.mass, whole.inside - lost, whole.up), parts, gone, slope))
    return (min if worst else max)(tried, key=lambda each: each.angle)


def _out(moved: Moved, edge: str, *, worst: bool) -> tuple[float, float]:
    """The mass and way that take most over the edge, or least."""
    way = moved.way[edge]
    pairs = itertools.product((moved.mass.least or 0.0, moved.mass.most or 0.0), (way.least or 0.0, way.most or 0.0))
    return (max if worst else min)(pairs, key=lambda pair: pair[0] * pair[1])


def critical_inside(worst: Worst, angle: float) -> float:
    """How far inside the feet the middle of mass must hang to take a lean, at the same height, mm."""
    return worst.whole.up * math.tan(math.radians(angle) + math.atan(worst.slope))


def _ends(spans: list[Span]) -> list[tuple[float, ...]]:
    low, high = tuple(span.least or 0.0 for span in spans), tuple(span.most or 0.0 for span in spans)
    return [low] if low == high else [low, high]


def over(inputs: Inputs, state: State | None, edges: tuple[str, ...] = tuple(EDGES), *, worst: bool = True) -> list[Worst]:
    """A state over each edge; nothing where state or lean is not known."""
    slopes = {edge: slope_to(inputs, edge) for edge in edges}
    if state is None or None in slopes.values():
        return []
    return [at_edge(state, edge, slope or 0.0, worst=worst) for edge, slope in slopes.items()]


def both(inputs: Inputs, state: State | None, edges: tuple[str, ...] = tuple(EDGES), *, by: str = "angle") -> tuple[Worst, Worst] | None:
    """The edge over which it falls first, at worst and at best; None where state or lean is not known.

    ``by`` says what is compared: the "angle" left, or how far "inside" the weight hangs, which counts for a push.
    """
    sides = [over(inputs, state, edges, worst=worst) for worst in (True, False)]
    if not sides[0]:
        return None
    # Where two edges are alike, the first one named is told, whatever the last digits are.
    first, last = (min(each, key=lambda one: round(float(getattr(one, by)), 9)) for each in sides)
    return first, last


# -- what a state rests on -----------------------------------------------------------------------

SIZES = ("cabinet_width", "cabinet_depth", "cabinet_height", "cabinet_mass", "leg_inset", "lean_along", "lean_across")
CG = ("cg_height", "cg_back", "cg_side")


def needs(inputs: Inputs, name: str) -> tuple[str, ...]:
    """The inputs that a state cannot do without; where all are there, those whose whole range is tried."""
    found, ranged = [*SIZES], [*CG]
    if name.startswith(FULL) or ("tray" in name and inputs.tray_load is None):
        found.append("stock_mass")
    if name.startswith(FULL) or "tray" in name:
        ranged.append("stock_height")
    if "door" in name:
        ranged += ["door_leaf", "door_mass", "hinge_side"]
    if "tray" in name:
        ranged += ["tray_pullout", "tray_load"]
    return tuple(found if any(getattr(inputs, key) is None for key in found) else ranged)

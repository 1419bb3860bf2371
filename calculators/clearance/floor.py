"""The floor: load spread over the footprint, load on one patch, and the wheels while moving."""

from __future__ import annotations

from typing import NamedTuple

from ..core import Work
from ..core.report import Mend
from ..core.work import judge
from . import maths, tipping
from .fit import Number
from .inputs import FLOOR_USES, TAPE, Inputs
from .push import hushed
from .tipping import Span

ENGINEER = (
    "The figure is what such floors are built for at least, over the whole floor. The building's "
    "engineer knows what this one carries."
)
MASSES = ("cabinet_width", "cabinet_depth", "cabinet_mass", "stock_mass")
CG = ("cg_back", "cg_side")  # how high it lies moves nothing here
GAPS = ("left_gap", "right_gap", "rear_gap", "front_clear")
NO_PLATE = "No stiff plate large enough fits there: use another spot."
ROOM = "A stiff plate helps where it fits: measure the gaps."


class Limit(NamedTuple):
    """What the floor carries; ``soft`` where it is a usual figure and not the floor's own."""

    value: Number
    rule: tuple[str, ...]
    soft: bool
    needs: tuple[str, ...]
    note: str


class Load(NamedTuple):
    """One load on a floor: its check, its value, the inputs it rests on, and what limits it.

    ``value`` lies between its ends where the card does not tell where the weight is. ``own`` are the inputs with the
    ratings of the floors that bear it, ``use`` those that name their kinds, ``table`` the rules by kind.
    """

    key: str
    value: Span
    needs: tuple[str, ...]
    own: tuple[str, ...]
    use: tuple[str, ...]
    table: str


def solve(inputs: Inputs, work: Work) -> None:
    """All checks of the floor."""
    work.section("The floor")
    spread = _spread(inputs, work)
    patch = _feet(inputs, work)
    wheels = _wheels(inputs, work)
    for load in (
        Load("floor_spread", Span(spread, spread), (*MASSES, *(GAPS if inputs.spread_area else ())), ("floor_rating",),
             ("floor_use",), "uniform"),
        Load("floor_patch", patch, (*MASSES, "legs", "leg_inset", *CG), ("point_rating",), ("floor_use",), "point"),
        # The way ends where it will stand: the weaker of both floors counts.
        Load("floor_wheels", wheels, ("cabinet_mass", "gear_mass", "wheels_apart", *_place_needs(inputs, work)),
             ("way_rating", "point_rating"), ("way_use", "floor_use"), "point"),
    ):  # fmt: skip
        _check(inputs, work, load)


# -- spread over the footprint or a plate ---------------------------------------------


def _spread(inputs: Inputs, work: Work) -> Number:
    """The load spread over the footprint, or over as much of a stiff plate as can lie there."""
    work.given("b", "Width of the footprint", _metres(inputs.cabinet_width), "run")
    work.given("d", "Depth of the footprint", _metres(inputs.cabinet_depth), "run")
    if inputs.spread_area:
        work.take("spread_area", "S")
        work.given("g_x", "Room for a plate on either side", _metres(_lesser(inputs.left_gap, inputs.right_gap)), "run")
        work.given("g_y", "Room for it behind and in front", _metres(_lesser(inputs.rear_gap, inputs.front_clear)), "run",
                   "The lesser of both: it spreads the load only with the cabinet in its middle.")  # fmt: skip
        work.step("A", "Area that carries it", "max(b*d, min(S, (b + 2*g_x)*(d + 2*g_y)))", "area")
    else:
        work.step("A", "Area that carries it", "b*d", "area")
    work.take("stock_mass", "m_s")
    work.step("m_f", "Mass when full", "m + m_s", "mass")
    spread = work.step("Q", "Load spread over that area", "m_f/A", "floor_load")
    work.value("floor_load", spread)
    return spread


def _metres(length: Number) -> Number:
    return None if length is None else length / 1000


def _lesser(one: Number, other: Number) -> Number:
    return None if one is None or other is None else min(one, other)


def _plate(inputs: Inputs, work: Work, limit: float) -> Mend | None:
    """A plate that spreads it enough, where such a one can lie there."""
    sides, ends = _lesser(inputs.left_gap, inputs.right_gap), _lesser(inputs.rear_gap, inputs.front_clear)
    mend = work.mend("spread_area", (inputs.cabinet_mass + inputs.stock_mass) / limit, "at least", how="Stand it on a stiff plate.")
    if mend is None or sides is None or ends is None:
        return None
    room = (inputs.cabinet_width + 2 * sides) * (inputs.cabinet_depth + 2 * ends) / 1e6
    return mend if work.find("spread_area")[0].read(mend.changes["spread_area"], work.show.system) <= room else None


# -- feet and wheels ------------------------------------------------------------------


def _feet(inputs: Inputs, work: Work) -> Span:
    """Load on one foot (a result), and on the worst patch (for the check)."""
    patch = work.inner("floor.patch")
    one, on_patch = _share(inputs, work, 0.0), Span(None, None) if patch is None else _share(inputs, work, patch + 2 * TAPE)
    work.given("k_1", "Greatest share of one foot", one.most, "ratio",
               "However unevenly the feet bear, wherever the weight may lie: found over every three that can carry it.")  # fmt: skip
    foot = work.step("m_1", "Load on one foot at worst", "k_1*m_f", "mass")
    work.value("foot_load", foot)
    work.take("foot_area", "A_1")
    work.value("foot_pressure", work.step("Q_1", "Load under that foot", "m_1/A_1", "floor_load"))
    work.given("k_2", "Greatest share on one patch", on_patch.most, "ratio", "Feet close together count together.")
    work.rule("c", "floor.patch")
    most = work.step("m_2", "Load on one patch at worst", "k_2*m_f", "mass")
    return Span(None if most is None else most * (on_patch.least or 0.0) / (on_patch.most or 1.0), most)


def _share(inputs: Inputs, work: Work, patch: float) -> Span:
    """The greatest share on a patch wherever the middle of all may be, and what it is at the least."""
    width, depth, inset = inputs.cabinet_width, inputs.cabinet_depth, inputs.leg_inset
    if width is None or depth is None or inset is None or inputs.legs is None:
        return Span(None, None)
    if 2 * inset >= min(width, depth) - 1.0:
        return Span(1.0, 1.0)  # legs that meet in the middle: one of them may carry all
    middle = _middle(inputs, work, width, depth)
    if middle is None:
        return Span(None, None)
    legs = maths.leg_layout(6 if inputs.legs == "six" else 4, width, depth, inset)
    most = maths.worst_over(legs, *middle, patch)
    if None not in (inputs.cg_back, inputs.cg_side):
        return Span(most, most)
    # Wherever the middle is, one foot may carry half; and a patch that holds all feet carries all.
    return Span(1.0 if max(width, depth) - 2 * inset <= patch else 0.5, most)


def _middle(inputs: Inputs, work: Work, width: float, depth: float) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Between what the middle of cabinet and goods lies, from the left and from the front.

    What the card does not tell is tried over all its range. No card tells where the goods are: their middle may be
    anywhere within its usual share.
    """
    around, low, high = tipping.edges(inputs, work), work.inner("standing.goods_least"), work.inner("standing.goods_most")
    cabinet, goods = inputs.cabinet_mass, inputs.stock_mass
    if low is None or high is None or cabinet is None or goods is None:
        return None
    found = []
    for size, own in ((width, around["left"]), (depth, around["front"])):
        if own.least is None or own.most is None:
            return None
        ends = (own.least, low), (own.most, high)
        found.append([(cabinet * place + goods * size * share / 100) / (cabinet + goods) for place, share in ends])
    return (found[0][0], found[0][1]), (found[1][0], found[1][1])


def _wheels(inputs: Inputs, work: Work) -> Span:
    """What of the wheels stands on one patch while it is moved, and what on one of them."""
    work.take("gear_mass", "m_g")
    whole = work.step("m_w", "Mass on the wheels while moving", "m + m_g", "mass")
    aside, apart, patch = tipping.off_center(inputs, work), inputs.wheels_apart, work.inner("floor.patch")
    work.given("k_w", "Greatest share of the cabinet on one wheel", _on_wheel(apart, aside.most), "ratio",
               "Where the floor is uneven two of the wheels may carry it all, and the nearer one more.")  # fmt: skip
    one = work.step("m_o", "Load on one wheel at worst", "m*k_w + m_g/2", "mass")
    work.value("wheel_load", one)
    if apart is None or patch is None:
        return Span(None, None)
    if apart > patch + 2 * TAPE:
        if one is None:  # wherever the weight is, one of two wheels has no less than half, and no more than all
            return Span(None if whole is None else whole / 2, whole)
        least = _on_wheel(apart, aside.least)
        return Span(None if least is None else inputs.cabinet_mass * least + inputs.gear_mass / 2, one)
    work.step("m_3", "Wheels on one patch at worst", "m_w", "mass", note="All wheels may stand on one patch.")
    return Span(whole, whole)


def _place_needs(inputs: Inputs, work: Work) -> tuple[str, ...]:
    """What tells where the weight is over the wheels, where not all of them stand on one patch."""
    apart, patch = inputs.wheels_apart, work.inner("floor.patch")
    return (*CG, *MASSES[:2]) if apart is not None and patch is not None and apart > patch + 2 * TAPE else ()


def _on_wheel(apart: Number, aside: Number) -> Number:
    """The share of one of two wheels, so far apart, of a weight that lies so far off the middle between them."""
    if apart is None or aside is None:
        return None
    if not aside:
        return 0.5
    return min(1.0, 0.5 + aside / apart) if apart else 1.0


# -- limits ---------------------------------------------------------------------------


def _limit(inputs: Inputs, work: Work, load: Load) -> Limit:
    """The weakest of the floors that bear it; open where one that is not known may be weaker yet."""
    if inputs.floor_known is None:
        return Limit(None, (), True, ("floor_known", *load.use, *load.own), ENGINEER)
    found = [_one_limit(inputs, work, load, use, own) for use, own in zip(load.use, load.own, strict=True)
             if inputs.floor_known == "rating" or getattr(inputs, use) != "ground"]  # fmt: skip
    blind = [each for each in found if each.value is None]
    weakest = min((each for each in found if each.value is not None), key=lambda each: each.value or 0.0, default=None)
    least = load.value.least
    if weakest and (not blind or (least is not None and least > (weakest.value or 0.0))):
        return weakest
    return blind[0]._replace(needs=tuple(path for each in blind for path in each.needs))


def _one_limit(inputs: Inputs, work: Work, load: Load, use: str, own: str) -> Limit:
    """A floor's own rating, or the usual figure for its kind."""
    kind = getattr(inputs, use)
    if inputs.floor_known == "rating":
        return Limit(getattr(inputs, own), (), False, (own,), "The floor's own rating.")
    if kind is None:
        return Limit(None, (), True, (use, own), ENGINEER)
    key = f"floor.{load.table}_{kind}"
    if work.rules.get(key) is None:
        return Limit(None, (), True, (), "No usual figure for this kind of floor: ask the building for its rating.")
    floor = f"Floor: {FLOOR_USES[kind].lower()}. " if load.key == "floor_wheels" else ""
    return Limit(_mass(work, key), (key,), True, (), floor + ENGINEER)


def _mass(work: Work, key: str) -> Number:
    """A figure of the floor as a mass; some rule sets give the force of its weight instead."""
    figure, gravity = work.rule_of(key), work.inner("handling.gravity")
    if figure is None or figure.kind != "force":
        return None if figure is None else figure.inner
    if gravity is None:
        return None
    work.rule("p", key)
    work.rule("g_n", "handling.gravity")
    return work.step("m_p", "Mass of that weight", "p/g_n", "mass")


def _check(inputs: Inputs, work: Work, load: Load) -> None:
    if inputs.floor_known == "kind" and all(getattr(inputs, use) == "ground" for use in load.use):
        work.verdict(load.key, True, good="A slab on the ground carries it.",
                     note="Hollow places are not looked for.")  # fmt: skip
        return
    limit = _limit(inputs, work, load)
    value, spread = _deciding(load.value, limit.value), load.key == "floor_spread"
    mend = _plate(inputs, work, limit.value) if spread and value is not None and limit.value else None
    note = limit.note if limit.soft else f"{limit.note} Ask the building's engineer."
    blind = any(getattr(inputs, gap) is None for gap in GAPS)
    hushed(work.check(load.key, value, limit.value, needs=(*load.needs, *limit.needs), rules=limit.rule, soft=limit.soft,
                      mend=mend, note=note, instead="" if mend or not spread else ROOM if blind else NO_PLATE))  # fmt: skip


def _deciding(value: Span, limit: Number) -> Number:
    """The load that decides wherever the weight lies; None while both answers are possible."""
    if value.least is None or value.most is None or limit is None:
        return value.most
    if value.least == value.most or judge(limit - value.most, limit, 0.0, False) == "pass":
        return value.most
    return value.least if judge(limit - value.least, limit, 0.0, False) == "stop" else None

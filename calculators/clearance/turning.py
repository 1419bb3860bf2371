"""Every way round a leg, and the best of them: straight through, round a corner, by a side door."""

from __future__ import annotations

from . import fit, maths, sidedoor
from .fit import MARGIN_NOISE, Cargo, Number, Room, Trial
from .inputs import Leg


def best_trial(leg: Leg, cargo: Cargo, worse: Cargo) -> Trial | None:
    """The best way round through a leg, or None where the leg compares no lengths."""
    found = trials(leg, cargo, worse)
    best = found[0] if found else None
    for trial in found[1:]:
        if best is not None and _better(trial, best):
            best = trial
    return best if best is None else _settled(leg, best)


def _settled(leg: Leg, best: Trial) -> Trial:
    """A side door into which turning could not be tried may pass unturned, but does not fail."""
    blind = leg.wall is None or fit.doorway_width(leg) is None or leg.width_in is None
    if leg.kind != "side_door" or not blind or min((room.sure for room in best.rooms), default=-1.0) > 0:
        return best
    return best._replace(rooms=tuple(room for room in best.rooms if room.key == "height"), way="")


def trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    """Every permitted way round with its comparisons; unknown ones are left out."""
    if leg.kind == "turn":
        return _turn_trials(leg, cargo, worse)
    if leg.kind == "side_door":
        return _side_trials(leg, cargo, worse)
    if leg.kind == "tail_lift":
        return fit.platform_trials(leg, cargo, worse)
    if leg.kind == "ramp":
        return fit.ramp_trials(leg, cargo, worse)
    return fit.opening_trials(leg, cargo, worse)


def _better(one: Trial, other: Trial) -> bool:
    """Whether the least sure margin is larger; ties go on to the next."""
    pairs = zip(sorted(room.sure for room in one.rooms), sorted(room.sure for room in other.rooms),
                strict=False)  # fmt: skip
    for mine, theirs in pairs:
        if abs(mine - theirs) > MARGIN_NOISE:
            return mine > theirs
    return False


# -- a corner -------------------------------------------------------------------------


def _turn_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    into, out = leg.width_in, leg.width_out
    if into is None or out is None or not fit.sized(cargo) or cargo.along(False) is None or cargo.along(True) is None:
        return []
    less_in, less_out = into - fit.off(leg, "width_in"), out - fit.off(leg, "width_out")
    made = []
    for side_first in (False, True):
        sizes = [
            each(side_first) or 0.0
            for each in (cargo.across, cargo.along, worse.across, worse.along)
        ]
        made += _ways(side_first, (into, out, *sizes[:2]), (less_in, less_out, *sizes[2:]))
    return made


Turn = tuple[float, float, float, float]  # width in, width out, across, along


def _ways(side_first: bool, plain: Turn, worst: Turn) -> list[Trial]:
    """Turning the box, and the two ways that only push it round the corner unturned."""
    angle = maths.tightest_turn(plain[0], plain[1], max(plain[2:]))[0]
    pairs = [("turned", _turned(plain), _turned(worst)),
             ("across first", _unturned(*plain), _unturned(*worst)),
             ("along first", _unturned(plain[0], plain[1], plain[3], plain[2]),
              _unturned(worst[0], worst[1], worst[3], worst[2]))]  # fmt: skip
    return [
        Trial(side_first, (Room("turn", have, want, (have - want) - (low - high)),), way,
              angle if way == "turned" else 0.0)
        for way, (have, want), (low, high) in pairs
    ]  # fmt: skip


def _turned(turn: Turn) -> tuple[float, float]:
    into, out, across, along = turn
    return maths.tightest_turn(into, out, max(across, along))[1], min(across, along)


def _unturned(into: float, out: float, first: float, second: float) -> tuple[float, float]:
    """The tighter of the two comparisons when the box keeps its direction."""
    return (into, first) if into - first <= out - second else (out, second)


# -- a door in the side of a corridor -------------------------------------------------


def _side_trials(leg: Leg, cargo: Cargo, worse: Cargo) -> list[Trial]:
    height = fit.height_side(leg, cargo, worse)
    made = [
        Trial(side_first, fit.rooms_of([*sides, height]), way, angle, meets)
        for side_first in (False, True)
        for way, angle, meets, sides in _side_ways(leg, cargo, worse, side_first)
    ]
    return made or [Trial(False, fit.rooms_of([height]))]


Box = tuple[float, float]  # across and along


def _box(cargo: Cargo, side_first: bool) -> Box | None:
    across, along = cargo.across(side_first), cargo.along(side_first)
    return None if across is None or along is None or not fit.sized(cargo) else (across, along)


def _side_ways(
    leg: Leg, cargo: Cargo, worse: Cargo, side_first: bool
) -> list[tuple[str, float, str, list[fit.Side]]]:
    box, large = _box(cargo, side_first), _box(worse, side_first)
    if box is None or large is None:
        return []
    door, tape, walls = fit.doorway_width(leg), fit.off(leg, *fit.width_keys(leg)), fit.off(leg, "width_in")
    ways = []
    for way, (first, second), (first_most, second_most) in (
        ("across first", box, large), ("along first", box[::-1], large[::-1])):  # fmt: skip
        sides: list[fit.Side] = [("side_room", leg.width_in, first, first_most, walls),
                                 ("width", door, second, second_most, tape)]  # fmt: skip
        ways.append((way, 0.0, "", sides))
    turned = _turned_in(leg, box, large, door)
    if turned:
        need, most = turned
        sides = [("side_room", leg.width_in, need.width, most, walls),
                 ("width", door, min(box), min(large), tape)]  # fmt: skip
        ways.insert(0, ("turned", need.angle, need.meets, sides))
    return ways


def _turned_in(leg: Leg, box: Box, large: Box, door: Number) -> tuple[sidedoor.Need, float] | None:
    """The corridor wanted to turn in, as measured and with every measure off the bad way."""
    if door is None or leg.wall is None:
        return None
    need = sidedoor.corridor_wanted(max(box), min(box), door, leg.wall, leg.beyond)
    narrow = max(door - fit.off(leg, *fit.width_keys(leg)), 1.0)
    worst = sidedoor.corridor_wanted(
        max(large), min(large), narrow, leg.wall + fit.off(leg, "wall"),
        max(leg.beyond - fit.off(leg, "beyond"), 0.0))  # fmt: skip
    return need, max(worst.width, need.width)

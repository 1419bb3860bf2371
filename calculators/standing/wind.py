"""Wind on a cabinet outdoors, by the code of the rule set: its pressure, overturning and sliding."""

from __future__ import annotations

from typing import NamedTuple

from ..clearance.leg_inputs import TAPE
from ..core import Work
from . import masses, maths
from .held import Found, Judge
from .inputs import LEVEL, Inputs
from .masses import EMPTY, FULL, State

Number = float | None
SIDES = {"front or back": ("cabinet_width", ("front", "back")), "a side": ("cabinet_depth", ("left", "right"))}
FLAT = "On flat open land; on a hill, a roof or between walls the wind is stronger than worked out."
SQUARE = 1e-6  # m² in a mm²
UNSURE = -1e12  # a least value that holds nothing: only what is lost at best is then sure


class Blow(NamedTuple):
    """What the wind does from one direction: force, overturning and steadying moments (N, N·m), lever of the anchors (m)."""

    force: float
    over: float
    steady: float
    best: float
    off: float
    lever: float


def solve(inputs: Inputs, work: Work, states: dict[str, State | None], judge: Judge) -> dict[str, Blow | None]:
    """The checks of the wind, and what it does from each direction; nothing indoors."""
    if inputs.outdoors is False:
        return {}
    pressure = _pressure(inputs, work) if inputs.outdoors else None
    parts = tuple(work.inner(f"standing.{part}_part") for part in ("wind", "dead"))
    blows = {side: _blow(inputs, work, states, side, pressure, parts) for side in SIDES}
    for side, blow in blows.items():
        if blow is not None:
            _working(inputs, work, side, blow)
        _tip(inputs, judge, side, blow)
    _slide(inputs, work, judge, states, blows)
    return blows


def needs(inputs: Inputs, work: Work) -> tuple[str, ...]:
    """What the wind's pressure rests on in this rule set."""
    if not inputs.outdoors:
        return ("outdoors", "wind_speed")
    place = [key for key, rule in (("exposure", "exposures"), ("terrain", "terrains"), ("altitude", "altitude"))
             if work.rules.get(f"standing.{rule}")]  # fmt: skip
    return ("wind_speed", *place, "hill")


# -- pressure --------------------------------------------------------------------------------------


def _pressure(inputs: Inputs, work: Work) -> Number:
    """The pressure on the cabinet on flat ground, Pa; None where the set has no code, or something is not known."""
    if work.rules.get("standing.exposures"):
        return _gust(inputs, work)
    return _peak(inputs, work) if work.rules.get("standing.terrains") else None


def _gust(inputs: Inputs, work: Work) -> Number:
    work.section("Pressure of the wind")
    work.take("wind_speed")
    work.given("h", "Cabinet height", None if inputs.cabinet_height is None else inputs.cabinet_height / 1000, "run")
    if inputs.exposure is None:
        return None
    for symbol, key in (("h_1", "height_least"), ("α", f"alpha_{inputs.exposure}"), ("h_g", f"gradient_{inputs.exposure}"),
                        ("k_1", "height_factor"), ("K_t", "flat"), ("K_d", "direction"), ("K_e", "sea_level"),
                        ("c", "wind_factor"), ("G", "gust"), ("C_f", "force_shape"), ("p_1", "pressure_least")):  # fmt: skip
        work.rule(symbol, f"standing.{key}")
    work.step("h_k", "Height that counts", "max(h, h_1)", "run")
    work.step("K_z", "Factor of exposure and height", "k_1*exp(2/α*ln(h_k/h_g))", "ratio")
    work.step("q_z", "Velocity pressure", "c*K_z*K_t*K_d*K_e*V**2", "pressure")
    return work.step("p", "Pressure on the cabinet", "max(q_z*G*C_f, p_1)", "pressure")


def _peak(inputs: Inputs, work: Work) -> Number:
    work.section("Pressure of the wind")
    work.take("wind_speed")
    work.take("cabinet_height", "h")
    if inputs.terrain is None:
        return None
    for symbol, key in (("z_0", f"rough_{inputs.terrain}"), ("z_2", "rough_ii"), ("z_1", f"low_{inputs.terrain}"),
                        ("k_1", "terrain_factor"), ("k_2", "terrain_power"), ("c_o", "flat"), ("k_I", "turbulence"),
                        ("k_p", "peak"), ("ρ", "air"), ("c_s", "build"), ("c_f", "force_shape"), ("ψ", "end_effect")):  # fmt: skip
        work.rule(symbol, f"standing.{key}")
    if work.rules.get("standing.altitude"):
        work.take("altitude")
        work.rule("A_1", "standing.altitude")
        work.step("v_b", "Basic wind speed at this height above the sea", "V*(1 + A/A_1)", "wind")
    else:
        work.step("v_b", "Basic wind speed", "V", "wind")
    work.step("q_b", "Its pressure", "ρ*v_b**2/2", "pressure")
    work.step("h_k", "Height that counts", "max(h, z_1)", "length")
    work.step("k_r", "Terrain factor", "k_1*exp(k_2*ln(z_0/z_2))", "ratio")
    work.step("c_r", "Roughness factor", "k_r*ln(h_k/z_0)", "ratio")
    work.step("v_m", "Mean wind there", "c_r*c_o*v_b", "wind")
    work.step("I_v", "Turbulence", "k_I/(c_o*ln(h_k/z_0))", "ratio")
    work.step("q_p", "Peak velocity pressure", "(1 + k_p*I_v)*ρ*v_m**2/2", "pressure")
    return work.step("p", "Pressure on the cabinet", "q_p*c_s*c_f*ψ", "pressure")


# -- overturning --------------------------------------------------------------------------------------


def _blow(inputs: Inputs, work: Work, states: dict[str, State | None], side: str, pressure: Number,
          parts: tuple[Number, ...]) -> Blow | None:  # fmt: skip
    """The wind on one face, at the height of its middle, against the weight over the far feet."""
    face, edges = SIDES[side]
    other = "cabinet_depth" if face == "cabinet_width" else "cabinet_width"
    wide, deep, tall = getattr(inputs, face), getattr(inputs, other), inputs.cabinet_height
    steady = _steady(inputs, work, states, edges)
    if pressure is None or steady is None or None in (wide, deep, tall, *parts) or inputs.leg_inset is None:
        return None
    wind, dead = parts[0] or 0.0, parts[1] or 0.0
    force = wind * pressure * wide * tall * SQUARE
    over = force * tall / 2000
    more = ((wide + TAPE) / wide) * ((tall + TAPE) / tall) ** 2 - 1
    least, best, off = (dead * each for each in steady)
    return Blow(force, over, least, best, off + over * more, max(deep - 2 * inputs.leg_inset, 0.0) / 1000)


def _steady(inputs: Inputs, work: Work, states: dict[str, State | None], edges: tuple[str, ...]) -> tuple[float, float, float] | None:
    """The weight's moment over the feet, N·m, at worst and at best, and how far it may be off; empty or full, door shut."""
    pull = work.inner("handling.gravity")
    pairs = [masses.both(inputs, states[name], edges, by="inside") for name in (EMPTY, FULL)]
    if pull is None or pairs[0] is None:
        return None
    known = [pair for pair in pairs if pair is not None]
    # Without the goods only a loss of the empty cabinet is sure.
    sure = len(known) == len(pairs)
    least = min(pull * pair[0].whole.mass * pair[0].inside for pair in known) / 1000 if sure else UNSURE
    best = min(pull * pair[1].whole.mass * pair[1].inside for pair in known) / 1000
    off = max(pull * pair[0].whole.mass * (masses.FAR + pair[0].whole.up * LEVEL / 1000) for pair in known) / 1000
    return least, best, off


def _working(inputs: Inputs, work: Work, side: str, blow: Blow) -> None:
    work.section(f"Wind on {side}")
    face = SIDES[side][0]
    work.rule("k_w", "standing.wind_part")
    work.rule("k_g", "standing.dead_part")
    work.given("p", "Pressure on the cabinet", blow.force / (work.inner("standing.wind_part") or 1.0)
               / (getattr(inputs, face) * inputs.cabinet_height * SQUARE), "pressure")  # fmt: skip
    work.given("w", "Width of that face", getattr(inputs, face) / 1000, "run")
    work.given("h", "Cabinet height", inputs.cabinet_height / 1000, "run")
    work.given("R", "Steadying moment of its weight, at least", blow.steady / (work.inner("standing.dead_part") or 1.0), "torque")
    work.step("F", "Force counted", "k_w*p*w*h", "force")
    work.step("D", "Overturning moment", "F*h/2", "torque")
    work.step("R_g", "Steadying moment counted", "k_g*R", "torque")


def _tip(inputs: Inputs, judge: Judge, side: str, blow: Blow | None) -> None:
    found = Found(None, None, None)
    if blow is not None:
        # Elsewhere than on flat ground the wind is stronger: then only a loss is sure.
        found = Found(blow.steady, blow.best, blow.over, blow.off)
    judge.check("wind_tip", flat(inputs, found), at=f"Wind on {side}", note=FLAT,
                needs=(*needs(inputs, judge.work), *masses.needs(inputs, FULL)))  # fmt: skip


def flat(inputs: Inputs, found: Found) -> Found:
    """What is found for flat ground, where it is not known to be flat: only at best."""
    if not found.known or inputs.hill is False:
        return found
    return found._replace(least=UNSURE)


# -- sliding -----------------------------------------------------------------------------------------


def _slide(inputs: Inputs, work: Work, judge: Judge, states: dict[str, State | None], blows: dict[str, Blow | None]) -> None:
    """The empty cabinet on its feet: friction, less what the slope takes, against the stronger wind."""
    grip = _grip(inputs, work, states[EMPTY])
    forces = [blow.force for blow in blows.values() if blow is not None]
    found = Found(None, None, None)
    if grip is not None and len(forces) == len(blows):
        found = Found(*grip, max(forces), max(forces) * 2 * TAPE / min(inputs.cabinet_width, inputs.cabinet_depth))
    judge.check("wind_slide", flat(inputs, found), note=FLAT,
                needs=(*needs(inputs, work), *masses.needs(inputs, EMPTY), "friction"))  # fmt: skip


def _grip(inputs: Inputs, work: Work, state: State | None) -> tuple[float, float] | None:
    """The level force that the feet bear before they slide, N, at worst and at best."""
    dead, pull = work.inner("standing.dead_part"), work.inner("handling.gravity")
    ends = [work.inner(f"standing.friction_{end}") for end in ("least", "most")]
    leans = (inputs.lean_along, inputs.lean_across)
    if inputs.friction is not None:
        ends = [inputs.friction, inputs.friction]
    if state is None or dead is None or pull is None or None in (*ends, *leans):
        return None
    slope = (leans[0] ** 2 + leans[1] ** 2) ** 0.5 / 1000
    least, most = (maths.sliding_force(dead * pull * state.mass, end or 0.0, slope) for end in ends)
    return least, most

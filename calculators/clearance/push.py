"""Pushing on the level, and steps: what the crew can and may do."""

from __future__ import annotations

from typing import cast

from ..core import Work
from ..core.report import Check, Mend
from . import openings
from .fit import Number, leg_at
from .inputs import Inputs

SHARES = {"smooth": "handling.rolling_smooth", "uneven": "handling.rolling_uneven"}
CREW_NOTE = (
    "People who push together do not add up: two count as 1.33, three or more as 1.5. "
    "Above the figure, use a powered tug or a winch with a trained driver."
)
NEEDS = ("cabinet_mass", "gear_mass", "surface", "crew", "mover")
MOST_HANDS = 3  # the largest team that a figure is known for: a fourth adds nothing
TEAM = {2: "handling.team_two", MOST_HANDS: "handling.team_three"}


def hushed(check: Check) -> None:
    """Take the advice off a check that passed: it would only be in the way."""
    if check.outcome == "pass":
        check.note = ""


def level(inputs: Inputs, work: Work) -> Number:
    """The push to start the cabinet rolling on the level, and to keep it rolling."""
    work.section("Pushing on the level")
    weight(work)
    force = work.step("F", "Push to roll it", "M*k*p/100", "force")
    pushes = (("push_start", "f_s"), ("push_keep", "f_k"))
    mends = [more_hands(work, force, f"handling.{key}") for key, _ in pushes]
    # One crew does both: where one push is too much for people, more of them help neither.
    powered = next((mend for mend in mends if mend and "mover" in mend.changes), None)
    for (key, symbol), mend in zip(pushes, mends, strict=True):
        if inputs.mover == "powered":
            work.verdict(key, True, good="A powered tug or winch moves it, not people.", at="On the level")
            continue
        limit = crew_force(work, symbol, f"handling.{key}")
        hushed(work.check(key, force, limit if inputs.mover else None, at="On the level", needs=NEEDS,
                          note=CREW_NOTE, mend=powered or mend, rules=team_rules(inputs.crew)))  # fmt: skip
    return force


def crew(work: Work) -> None:
    """Whether there are enough people to lead it and to steady it, whatever moves it."""
    people, least = cast(Inputs, work.inputs).crew, work.inner("handling.crew_least")
    ok = None if people is None or least is None else people >= least
    mend = work.mend("crew", least, "at least", how="Wait for them: nobody moves a cabinet alone.")
    work.verdict("crew", ok, needs=("crew",), mend=mend, good="Enough to lead and to steady.",
                 bad="Too few: one leads, two steady.")  # fmt: skip


def weight(work: Work) -> None:
    """Name the mass that moves, what a mass weighs, and the share of it that rolling takes."""
    inputs = cast(Inputs, work.inputs)
    work.take("gear_mass", "m_g")
    work.step("M", "Mass that moves", "m + m_g", "mass")
    work.rule("k", "handling.gravity")
    if inputs.surface is None:
        work.given("p", "Push to roll it, as a share of its weight", None, "percent")
    else:
        work.rule("p", SHARES[inputs.surface])


def share_of(inputs: Inputs, work: Work) -> Number:
    """The share of the weight that rolling takes, in percent."""
    return None if inputs.surface is None else work.inner(SHARES[inputs.surface])


def team_rules(crew: int | None) -> tuple[str, ...]:
    """The figure for people who push together."""
    return () if crew is None or crew < 2 else (TEAM[min(crew, MOST_HANDS)],)


def crew_force(work: Work, symbol: str, rule: str) -> Number:
    """The push of the crew: that of one person, times what so many together count for."""
    crew = cast(Inputs, work.inputs).crew
    figure = next(iter(team_rules(crew)), None)
    if figure is None:
        work.given("n", "People who push", crew, "count")
    else:
        work.rule("n", figure)
    work.rule(f"{symbol}1", rule)
    return work.step(symbol, "Push the crew may give", f"n*{symbol}1", "force")


def team(work: Work, force: float, one: float) -> int | None:
    """The fewest people whose push together covers a force, None where no team's does."""
    counts: dict[int, Number] = {1: 1.0, **{people: work.inner(rule) for people, rule in TEAM.items()}}
    # The last part lets a force that is a whole number of pushes stay that number.
    return next((people for people, count in counts.items() if force <= (count or 0.0) * one * (1 + 1e-9)), None)


def more_hands(work: Work, force: Number, rule: str) -> Mend | None:
    """Enough people where so many can push together, otherwise a powered mover."""
    one = work.inner(rule)
    if force is None or one is None:
        return None
    people = team(work, force, one)
    if people is None:
        return work.mend("mover", "powered", how="Too much for people.")
    # No fewer than lead and steady it: two changes of one crew must not differ.
    return work.mend("crew", max(people, work.inner("handling.crew_least") or 0.0), "at least", how="More people to push.")


def people_wanted(work: Work, forces: list[Number]) -> Number:
    """The fewest people whose lower figure covers every push; None when a machine moves it or must."""
    one = work.inner("handling.push_keep")
    known = [force for force in forces if force is not None]
    if cast(Inputs, work.inputs).mover == "powered" or not known or one is None:
        return None
    people = team(work, max(known), one)
    return None if people is None else float(people)


# -- steps ----------------------------------------------------------------------------


SURVEY = "Specialist movers take it: they look at width, headroom and landings first, and ask what the stairs carry."
STAIRS = "Width, headroom and landings of steps and stairs, and what these carry."


def steps(work: Work, number: int, at: str) -> None:
    """Steps are never for people alone; a step no higher than an edge that wheels roll over is such an edge."""
    path = f"route.{number}"
    leg = leg_at(work, number)
    rise, rolls = work.take(f"{path}.rise", "j"), work.inner("handling.sill_roll")
    if rise is not None and rolls is not None and rise <= rolls:
        work.verdict("people_alone", True, at=at, good="No higher than an edge that the wheels roll over.")
        openings.sill(work, number, at, "rise")
        return
    if STAIRS not in work.not_checked:
        work.not_checked.append(STAIRS)
    # Those who know such work have not looked yet: nobody has measured that it fits, or what carries it.
    ok = None if rise is None and rolls is not None else False
    work.verdict("people_alone", ok, at=at, needs=(f"{path}.rise",), soft=leg.specialists,
                 bad=SURVEY if leg.specialists else "People alone do not carry a cabinet up or down steps.",
                 instead="Take another way, by lift or ramp, or leave it to specialist movers.")  # fmt: skip

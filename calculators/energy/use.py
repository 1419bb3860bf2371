"""The energy: of a day, against what the rule allows and what the plate says, and its cost a year."""

from __future__ import annotations

from ..core import Work
from . import maths, model
from .inputs import CLASSES, PERIODS, Inputs

Number = float | None

YEAR = 365.0  # days
PRICED = 100.0  # kWh, for which the price is asked: a whole number of cents is then fine enough
UNRULED = (("comb_a", "y2012"), ("comb_b", "y2012"))
LOOK = "Look for dust at the slots and the cooler’s grille, a door seal that gapes, and a warm place."
LONGER = "Let the meter count for one day or longer: cooling, lamps and defrosting change over a day."


def solve(inputs: Inputs, work: Work) -> None:
    """Working, checks and values of the energy."""
    _daily(inputs, work)
    limits = allowances(inputs, work)
    _allowance(inputs, work)
    _allowed(inputs, work, limits)
    _as_sold(inputs, work)
    _cost(inputs, work)
    energy = model.daily(inputs, work)
    work.value("daily", energy, (energy or 0.0) * model.meter_share(inputs, work))
    one = limits[0] if len(limits) == 1 else None
    work.value("allowance", one)


# -- working --------------------------------------------------------------------------


def _daily(inputs: Inputs, work: Work) -> None:
    work.section("Energy of a day")
    if inputs.source == "meter" and model.whole_days(inputs, work):
        work.take("used")
        work.take("hours")
        work.given("d", "Hours of a day", maths.HOURS, "hours")
        work.step("E", "Energy a day", "W_m*d/h", "energy_day", rule="energy.reading_hours")
    elif inputs.source == "plate":
        work.take("plate_daily", "E", "Energy a day, by the plate")
    else:
        work.given("E", "Energy a day", None, "energy_day")
    work.share("E")


def _ruled(inputs: Inputs) -> bool:
    """Whether class and date name one allowance."""
    known = inputs.energy_class not in (None, "none") and inputs.energy_made not in (None, "before")
    return known and (inputs.energy_class, inputs.energy_made) not in UNRULED


def _allowance(inputs: Inputs, work: Work) -> None:
    if work.rules.get("energy.classes") is None or not _ruled(inputs):
        return
    work.section("Energy the rule allows")
    work.rule("k", f"energy.per_{inputs.energy_class}_{inputs.energy_made}")
    work.take("chilled_volume")
    work.rule("b", f"energy.base_{inputs.energy_class}_{inputs.energy_made}")
    work.step("E_max", "Energy allowed a day", "k*V_c + b", "energy_day")


def _cost(inputs: Inputs, work: Work) -> None:
    work.section("Cost of a year")
    work.take("energy_price")
    work.given("D", "Days of a year", YEAR, "days")
    work.given("w", "The price is for", PRICED, "energy")
    work.value("cost", work.step("C", "Cost a year", "p*E*D/w", "money"))


# -- what is allowed ------------------------------------------------------------------


def allowance(kind: str, made: str, volume: float, work: Work) -> Number:
    """Energy allowed a day, kWh; None where the rule sets no limit."""
    if kind == "none" or made == "before" or (kind, made) in UNRULED:
        return None
    return work.rules[f"energy.per_{kind}_{made}"].inner * volume + work.rules[f"energy.base_{kind}_{made}"].inner


def allowances(inputs: Inputs, work: Work) -> list[Number]:
    """Every allowance that class, date and volume, or what may stand in their place, leave open."""
    if work.rules.get("energy.classes") is None:
        return []
    kinds = [inputs.energy_class] if inputs.energy_class else list(CLASSES)
    dates = [inputs.energy_made] if inputs.energy_made else list(PERIODS)
    field = type(inputs).field("chilled_volume")
    volumes = [field.least, field.most] if inputs.chilled_volume is None else [inputs.chilled_volume]
    found = {allowance(kind, made, volume or 0.0, work) for kind in kinds for made in dates for volume in volumes}
    return sorted(found, key=lambda limit: float("inf") if limit is None else limit)


def _allowed(inputs: Inputs, work: Work, limits: list[Number]) -> None:
    """Against the rule; blanks of class, date and volume are decided here, as their ends are known."""
    if not limits:
        work.not_checked.append(work.rules["energy.no_such_rule"].note)
        return
    if limits == [None]:
        work.verdict("allowed", True, good="No allowance is set for a cabinet of this kind and date.",
                     needs=("energy_class", "energy_made"))  # fmt: skip
        return
    low = _reading(inputs, work, limits[0])
    work.check("allowed", low, _deciding(low, limits), tolerance=(low or 0.0) * model.meter_share(inputs, work),
               rules=_figures(inputs), needs=(*_energy_needs(inputs), "energy_class", "energy_made", "chilled_volume"),
               note=_reading_note(inputs, work), instead=f"{_tested(work)} {LOOK}".strip())  # fmt: skip


def _deciding(energy: Number, limits: list[Number]) -> Number:
    """The limit that settles it: the only one, the least where that is kept, the greatest where that is passed."""
    if len(limits) == 1 or energy is None:
        return limits[0] if len(limits) == 1 else None
    least, most = limits[0], limits[-1]
    if least is not None and energy * 1.1 <= least:
        return least
    return most if most is not None and energy > most * (1 + 1e-9) else None


def _figures(inputs: Inputs) -> tuple[str, ...]:
    if not _ruled(inputs):
        return ()
    return tuple(f"energy.{part}_{inputs.energy_class}_{inputs.energy_made}" for part in ("per", "base"))


def _tested(work: Work) -> str:
    room = work.inner("energy.test_room")
    if room is None:
        return ""
    return f"The rule tells of a test in air at {work.text(room, 'temperature')}: warmer air and many sales take more."


def _energy_needs(inputs: Inputs) -> tuple[str, ...]:
    return ("source", *({"plate": ("plate_daily",), "meter": ("used", "hours")}.get(inputs.source or "", ())))


def _reading(inputs: Inputs, work: Work, limit: Number) -> Number:
    """Energy of a day; of a reading that is too short, only where it has passed the limit already."""
    energy = model.daily(inputs, work)
    if energy is not None or inputs.source != "meter" or inputs.used is None or limit is None or inputs.hours is None:
        return energy
    surely = inputs.used * (1 - model.meter_share(inputs, work))
    return float(inputs.used) if surely > limit * (1 + 1e-9) else None


def _reading_note(inputs: Inputs, work: Work) -> str:
    short = inputs.source == "meter" and inputs.hours is not None and not model.whole_days(inputs, work)
    return LONGER if short else ""


def _as_sold(inputs: Inputs, work: Work) -> None:
    """A meter's reading against the plate."""
    if inputs.source == "plate":
        work.verdict("as_sold", True, good="Not metered: the plate’s own figure is counted.")
        return
    times = work.inner("energy.above_plate")
    limit = None if times is None or inputs.plate_daily is None else times * inputs.plate_daily
    energy = _reading(inputs, work, limit) if inputs.source == "meter" else None
    needs = ("source", "used", "hours", "plate_daily") if inputs.source else ("source",)
    work.check("as_sold", energy, limit, tolerance=(energy or 0.0) * model.meter_share(inputs, work), needs=needs,
               note=_reading_note(inputs, work),
               instead=f"It uses more than its plate leads one to expect. {LOOK} Else tell the technician.")  # fmt: skip

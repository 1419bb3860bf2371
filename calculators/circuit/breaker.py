"""Amperes against breaker, shares and outlet."""

from __future__ import annotations

from typing import Any

from ..core import Work
from ..core.work import judge
from .conductor import ELECTRICIAN
from .currents import Circuit, Number, bounded, total
from .inputs import THREE_PHASE_VOLTAGES, Inputs

PLATE = "circuit.plate_most_"
WARM = "For hours on end so much warms a {outlet}. "
ELSEWHERE = "Do not plug it in here. " + ELECTRICIAN


def solve(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """The ampere checks up to the outlet; the current counted for the breaker comes back."""
    design = _breaker(work, circuit)
    _own_circuit(work, circuit)
    if absent(work):
        work.not_checked.append(work.rules["circuit.no_such_rule"].note)
    _shares(work, circuit)
    _receptacle(inputs, work, circuit)
    return design
UNNAMED = "The rule set does not name this {outlet} for this breaker. " + ELECTRICIAN


def absent(work: Work) -> tuple[str, ...]:
    """The checks of other rule sets for which this one has no rule."""
    figure = work.rules.get("circuit.no_such_rule")
    return () if figure is None else tuple(figure.value)


def _breaker(work: Work, circuit: Circuit) -> Number:
    steady = work.step("I_t", "Current of all together", total(circuit.known), "current")
    lasting = [each for each in circuit.known if each.continuous is not False]
    guessed = [each.place for each in lasting if each.continuous is None]
    note = f"Not known, so counted as continuous: {', '.join(guessed)}." if guessed else ""
    work.step("I_c", "Of it continuous", total(lasting), "current", note=note)
    work.rule("k_c", "circuit.continuous")
    design = work.step("I_d", "Current counted for the breaker", "I_t + (k_c - 1)*I_c", "current",
                       rule="circuit.continuous", note=_hours(work))  # fmt: skip
    work.value("running_amps", steady if circuit.sure else None)
    work.value("design_amps", design if circuit.sure else None)
    work.check("breaker_load", bounded(circuit, design, circuit.breaker), circuit.breaker,
               needs=("breaker", *circuit.lacking), note=" ".join(filter(None, (note, ELSEWHERE))))  # fmt: skip
    return design


def _hours(work: Work) -> str:
    figure = work.rules.get("circuit.continuous_hours")
    return f"{figure.label}: {figure.value}." if figure else ""


def _own_circuit(work: Work, circuit: Circuit) -> None:
    work.verdict(
        "own_circuit", None if circuit.shared is None else not circuit.shared, needs=("dedicated",),
        good="It has the circuit to itself.",
        bad="It shares the circuit, so anything else on it can switch the cabinet off.",
        note="Food may spoil when the breaker trips unseen. Have a {electrician} add a circuit.",
        rules=("circuit.individual",) if "circuit.individual" in work.rules.figures else (),
    )  # fmt: skip


def _shares(work: Work, circuit: Circuit) -> None:
    alone = "The circuit feeds this cabinet alone."
    keys = [key for key in ("shared_size", "plug_share", "fixed_share") if key not in absent(work)]
    for key in keys:
        if circuit.shared is False:
            work.verdict(key, True, good=alone)
    if circuit.shared is not False and keys:
        most = work.inner("circuit.shared_most")
        work.check("shared_size", _if_shared(circuit, circuit.breaker, most), most,
                   needs=("breaker", *_sharing(circuit)), note=ELSEWHERE)  # fmt: skip
        work.section("Shares of a shared circuit")
        _plug_share(work, circuit)
        _fixed_share(work, circuit)


def _sharing(circuit: Circuit) -> tuple[str, ...]:
    return ("dedicated",) if circuit.shared is None else ()


def _if_shared(circuit: Circuit, value: Number, limit: Number) -> Number:
    """The value; where nobody knows whether the circuit is shared, only if it would do even so."""
    good = circuit.shared or (value is not None and limit is not None and judge(limit - value, limit, 0.0, False) == "pass")
    return value if good else None


def _plug_share(work: Work, circuit: Circuit) -> None:
    plugged = [each for each in circuit.known if each.plugged is not False]
    terms = [each.sym("I") for each in plugged]
    formula = f"max({', '.join(terms)})" if len(terms) > 1 else (terms or ["0"])[0]
    largest = work.step("I_p", "Largest single plugged appliance", formula, "current")
    work.rule("k_p", "circuit.plug_share")
    limit = work.step("I_q", "Most for one plugged appliance", "k_p*I_b", "current",
                      rule="circuit.plug_share")  # fmt: skip
    work.check("plug_share", _if_shared(circuit, bounded(circuit, largest, limit), limit), limit,
               needs=("breaker", *circuit.lacking, *_sharing(circuit)), note=ELSEWHERE)  # fmt: skip


def _fixed_share(work: Work, circuit: Circuit) -> None:
    most = work.inner("circuit.fixed_share_breaker")
    if circuit.breaker is not None and most is not None and circuit.breaker > most:
        work.verdict("fixed_share", True, good="The share is asked for on smaller breakers only.")
        return
    fixed = [each for each in circuit.known if each.plugged is not True]
    amount = work.step("I_f", "All fixed equipment", total(fixed), "current")
    work.rule("k_f", "circuit.fixed_share")
    limit = work.step("I_g", "Most for fixed equipment", "k_f*I_b", "current", rule="circuit.fixed_share")
    work.check("fixed_share", _if_shared(circuit, bounded(circuit, amount, limit), limit), limit,
               needs=("breaker", *circuit.lacking, *_sharing(circuit)), note=ELSEWHERE)  # fmt: skip


# -- the outlet -----------------------------------------------------------------------


def ratings(work: Work, breaker: str | None) -> tuple[str, ...] | None:
    """The outlets that the rule set names for a breaker; None where it names none."""
    figure = work.rules.get("circuit.receptacles")
    rows = [] if figure is None else [row for row in figure.value if row["breaker"] == breaker]
    return tuple(rows[0]["ratings"]) if rows else None


def _receptacle(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    rating, breaker = inputs.receptacle_rating, inputs.breaker
    # How many outlets the circuit has counts only where the rule set tells one from several.
    counted = ("dedicated", "outlets") if circuit.several is None else ()
    needs: tuple[str, ...] = ("breaker", "receptacle_rating")
    fits, rule = None, "circuit.receptacles"
    if rating is not None and breaker is not None:
        fits, rule = _fits(work, circuit, rating, breaker)
    more = " with several outlets." if circuit.several else "."
    work.verdict(
        "receptacle", fits, rules=(rule,),
        needs=(*needs, *(counted if work.rules.get("circuit.single_receptacle") else ())), good="The {outlet} suits the breaker.",
        bad=f"A {{outlet}} of {rating} A does not belong on a circuit of {breaker} A{more}",
        note=ELSEWHERE if fits is not None or rating is None or breaker is None else UNNAMED,
    )  # fmt: skip
    limit, key = _plug_limit(work, rating, breaker, circuit.several)
    if not work.rules.get("circuit.plug_most"):
        needs += counted
    work.check("receptacle_load", circuit.cabinet.amps, limit, needs=(*circuit.wanted, *needs),
               rules=(key,) if key else (), note=ELSEWHERE)  # fmt: skip
    _lasting(inputs, work, circuit)


def _lasting(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """What an ordinary outlet may give for hours, where the rule set says less than its rating."""
    less = {key.removeprefix(PLATE): figure.inner for key, figure in work.rules.figures.items()
            if key.startswith(PLATE) and figure.inner < float(key.removeprefix(PLATE))}  # fmt: skip
    rating, amps, named = inputs.receptacle_rating, circuit.cabinet.amps, inputs.nominal_voltage
    if not less or circuit.cabinet.continuous is False or named in THREE_PHASE_VOLTAGES or (rating is not None and rating not in less):
        return
    limit = less[rating] if rating is not None else min(less.values())
    over = amps is not None and amps > limit * (1 + 1e-9)
    told = not over or None not in (rating, named)  # another outlet may give more
    work.check("receptacle_load", amps if told else None, limit, at="For hours on end", soft=True, note=WARM + ELECTRICIAN,
               needs=(*circuit.wanted, "receptacle_rating", "nominal_voltage"),
               rules=tuple(f"{PLATE}{name}" for name in ([rating] if rating is not None else less)))  # fmt: skip


def _fits(work: Work, circuit: Circuit, rating: str, breaker: str) -> tuple[bool | None, str]:
    """Whether an outlet belongs on a breaker, and the rule that says so."""
    whole = float(rating) >= float(breaker)
    if "circuit.single_receptacle" in work.rules.figures:
        if circuit.several is None:
            return None, "circuit.receptacles"
        if not circuit.several:
            return whole, "circuit.single_receptacle"
        return rating in (ratings(work, breaker) or ()), "circuit.receptacles"
    if "circuit.outlet_least" in work.rules.figures:
        return whole, "circuit.outlet_least"
    if whole:
        return True, "circuit.outlet_whole"
    # Elsewhere the table names some that belong together, and forbids no others.
    return rating in (ratings(work, breaker) or ()) or None, "circuit.receptacles"


def _plug_limit(
    work: Work, rating: Any, breaker: Any, several: bool | None
) -> tuple[Number, str]:
    """Most for one plug at this outlet, and the rule that says so."""
    if rating is None or breaker is None:
        return None, ""
    if "circuit.plug_most" in work.rules.figures:
        return float(rating), "circuit.plug_most"
    if several is None:
        return None, ""
    if not several:
        return float(rating), "circuit.single_receptacle"
    key = f"circuit.plug_limit_{breaker}_{rating}"
    figure = work.rules.get(key)
    return None if figure is None else figure.inner, key

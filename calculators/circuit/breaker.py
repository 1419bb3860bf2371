"""Amperes against breaker, shares, receptacle and wire; how many more cabinets fit."""

from __future__ import annotations

from typing import Any

from ..core import Work
from . import conductor
from .conductor import ELECTRICIAN
from .currents import Circuit, Number, Thing, bounded, total
from .inputs import RATINGS, Inputs

ELSEWHERE = "Do not plug it in here. " + ELECTRICIAN


def solve(inputs: Inputs, work: Work, circuit: Circuit) -> Number:
    """All ampere checks; the current counted for the breaker comes back."""
    design = _breaker(work, circuit)
    _own_circuit(inputs, work, circuit)
    _shares(work, circuit)
    _receptacle(inputs, work, circuit)
    _wire(inputs, work, circuit, design)
    _more(inputs, work, circuit)
    return design


def _breaker(work: Work, circuit: Circuit) -> Number:
    steady = work.step("I_t", "Current of all together", total(circuit.known), "current")
    lasting = [each for each in circuit.known if each.continuous is not False]
    guessed = [each.place for each in lasting if each.continuous is None]
    note = f"Not known, so counted as continuous: {', '.join(guessed)}." if guessed else ""
    work.step("I_c", "Of it continuous", total(lasting), "current", note=note)
    work.rule("k_c", "circuit.continuous")
    design = work.step("I_d", "Current counted for the breaker", "I_t + (k_c - 1)*I_c", "current",
                       rule="circuit.continuous")  # fmt: skip
    work.value("running_amps", steady if circuit.sure else None)
    work.value("design_amps", design if circuit.sure else None)
    work.check("breaker_load", bounded(circuit, design, circuit.breaker), circuit.breaker,
               needs=("breaker", *circuit.lacking), note=" ".join(filter(None, (note, ELSEWHERE))))  # fmt: skip
    return design


def _own_circuit(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    contrary = inputs.dedicated is True and circuit.shared
    work.verdict(
        "own_circuit", None if circuit.shared is None else not circuit.shared, needs=("dedicated",),
        good="It has the circuit to itself.",
        bad="You say the circuit is for it alone, yet more is listed; it is counted as shared."
        if contrary else "It shares the circuit, so anything else on it can switch the cabinet off.",
        note="Food may spoil when the breaker trips unseen. Have a licensed electrician add a circuit.",
    )  # fmt: skip


def _shares(work: Work, circuit: Circuit) -> None:
    alone = "The circuit feeds this cabinet alone."
    for key in ("shared_size", "plug_share", "fixed_share"):
        if circuit.shared is False:
            work.verdict(key, True, good=alone)
        elif circuit.shared is None:
            work.verdict(key, None, needs=("dedicated",))
    if circuit.shared:
        work.check("shared_size", circuit.breaker, work.inner("circuit.shared_most"),
                   needs=("breaker",), note=ELSEWHERE)  # fmt: skip
        work.section("Shares of a shared circuit")
        _plug_share(work, circuit)
        _fixed_share(work, circuit)


def _plug_share(work: Work, circuit: Circuit) -> None:
    plugged = [each for each in circuit.known if each.plugged is not False]
    terms = [each.sym("I") for each in plugged]
    formula = f"max({', '.join(terms)})" if len(terms) > 1 else (terms or ["0"])[0]
    largest = work.step("I_p", "Largest single plugged appliance", formula, "current")
    work.rule("k_p", "circuit.plug_share")
    limit = work.step("I_q", "Most for one plugged appliance", "k_p*I_b", "current",
                      rule="circuit.plug_share")  # fmt: skip
    work.check("plug_share", bounded(circuit, largest, limit), limit,
               needs=("breaker", *circuit.lacking), note=ELSEWHERE)  # fmt: skip


def _fixed_share(work: Work, circuit: Circuit) -> None:
    most = work.inner("circuit.fixed_share_breaker")
    if circuit.breaker is not None and most is not None and circuit.breaker > most:
        work.verdict("fixed_share", True, good="The share is asked for on smaller breakers only.")
        return
    fixed = [each for each in circuit.known if each.plugged is not True]
    amount = work.step("I_f", "All fixed equipment", total(fixed), "current")
    work.rule("k_f", "circuit.fixed_share")
    limit = work.step("I_g", "Most for fixed equipment", "k_f*I_b", "current", rule="circuit.fixed_share")
    work.check("fixed_share", bounded(circuit, amount, limit), limit,
               needs=("breaker", *circuit.lacking), note=ELSEWHERE)  # fmt: skip


# -- receptacle -----------------------------------------------------------------------


def _receptacle(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    rating, breaker, several = inputs.receptacle_rating, inputs.breaker, circuit.several
    needs = ("breaker", "receptacle_rating", "dedicated", "outlets")
    fits = None
    if rating is not None and breaker is not None and several is not None:
        fits = rating in RATINGS[breaker] if several else float(rating) >= float(breaker)
    rule = "circuit.receptacles" if several else "circuit.single_receptacle"
    work.verdict(
        "receptacle", fits, needs=needs, rules=(rule,), good="The receptacle suits the breaker.",
        bad=f"A {rating} A receptacle does not belong on a {breaker} A circuit"
        + (" with several receptacles." if several else "."), note=ELSEWHERE,
    )  # fmt: skip
    limit, key = _plug_limit(work, rating, breaker, several)
    work.check("receptacle_load", circuit.cabinet.amps, limit, needs=(*circuit.wanted, *needs),
               rules=(key,) if key else (), note=ELSEWHERE)  # fmt: skip


def _plug_limit(
    work: Work, rating: Any, breaker: Any, several: bool | None
) -> tuple[Number, str]:
    """Most for one plug at this receptacle, and the rule that says so."""
    if rating is None or breaker is None or several is None:
        return None, ""
    if not several:
        return float(rating), "circuit.single_receptacle"
    key = f"circuit.plug_limit_{breaker}_{rating}"
    figure = work.rules.get(key)
    return (None, "") if figure is None else (figure.inner, key)


# -- wire -----------------------------------------------------------------------------


def _wire(inputs: Inputs, work: Work, circuit: Circuit, design: Number) -> None:
    note = conductor.advice(inputs)
    keys = [conductor.key(inputs, name) for name in ("breaker", "carries")] if conductor.figured(inputs) else []
    suits, carries = (work.inner(key) for key in keys) if keys else (None, None)
    work.check("wire_breaker", circuit.breaker, suits, needs=("breaker", "conductor"), note=note,
               rules=keys[:1])  # fmt: skip
    work.check("wire_load", bounded(circuit, design, carries), carries,
               needs=("conductor", *circuit.lacking), rules=keys[1:], note=note)  # fmt: skip


# -- how many more --------------------------------------------------------------------


def _more(inputs: Inputs, work: Work, circuit: Circuit) -> None:
    """More of this cabinet by amperes: breaker and wire, and one alone within its share."""
    work.section("How many more of this cabinet")
    if not conductor.figured(inputs) or not circuit.sure:
        work.value("more_amps", None)
        return
    work.rule("I_w", conductor.key(inputs, "carries"))
    work.rule("k_p", "circuit.plug_share")
    work.step("I_j", "One more counts", "k_c*I" if _lasting(circuit.cabinet) else "I", "current")
    work.step("r", "Times it goes into what is left", "max(0, (min(I_b, I_w) - I_d)/I_j)", "ratio")
    # The last part keeps a whole number whole when it comes out a hair below.
    count = work.step("N", "More of this cabinet, by amperes", "floor(r + 0.000001)", "count",
                      note="Two or more share the circuit, so one must also be within the share of one plug.")  # fmt: skip
    if count is not None and circuit.breaker is not None:
        share = work.step("I_q", "Most for one plugged appliance", "k_p*I_b", "current")
        if share is not None and (circuit.cabinet.amps or 0.0) > share + 1e-9:
            count = work.given("N_0", "None: one alone is above its share", 0.0, "count")
    work.value("more_amps", count)


def _lasting(thing: Thing) -> bool:
    return thing.continuous is not False

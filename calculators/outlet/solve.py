"""Fills the working sheet: what was read, the checks, what fits, what stays unseen."""

from __future__ import annotations

from ..core import Work
from . import checks, figure, model
from .inputs import METER, Inputs
from .model import Found

COLUMNS = {"what": "What", "why": "Why it matters", "status": "Status"}


def solve(inputs: Inputs, work: Work) -> None:
    """One outlet."""
    found = model.find(inputs, work.rules)
    _working(inputs, work)
    checks.solve(inputs, work, found)
    _values(inputs, work)
    _tables(work, found)
    work.figure(figure.draw(work, found))


def _working(inputs: Inputs, work: Work) -> None:
    work.section("When a pair counts as full")
    work.rule("V_n", "outlet.nominal")
    work.rule("k", "outlet.lit_share")
    work.step("V_full", "Full from", "k*V_n", "voltage")
    work.rule("V_none", "outlet.dark_most")
    if not model.usable(inputs):
        return
    work.section("Do the three fit together")
    for path in ("volts_ln", "volts_lg", "volts_ng"):
        work.take(path)
        work.share(type(inputs).field(path).symbol)
    work.step("G", "Greatest less the sum of the other two",
              "abs(2*max(V_ln, V_lg, V_ng) - (V_ln + V_lg + V_ng))", "voltage")  # fmt: skip
    _under_load(inputs, work)


def _under_load(inputs: Inputs, work: Work) -> None:
    work.section("What a load does")
    for path in ("loaded_ln", "loaded_ng", "load_amps", "cabinet_amps"):
        work.take(path)
    work.given("e", "Each reading may be off by", METER, "voltage")
    work.step("F", "Fall under the test load", "V_ln - W_ln", "voltage")
    work.step("Z_s", "Impedance up to the outlet", "F/I_t", "impedance")
    if model.tells(inputs):
        work.step("k_ng", "Share of the fall between neutral and ground", "abs(W_ng - V_ng)/F", "ratio",
                  note="Alike wires share the fall by halves. What stands there without a load is taken off.")  # fmt: skip
    if inputs.volts_ln is not None and inputs.volts_ln > METER:
        work.step("F_c", "Fall with the cabinet running", "max(F, 0)*I_c/I_t", "voltage")
        work.step("u", "The same in percent", "100*F_c/V_ln", "percent")
        work.step("V_c", "Volts with the cabinet running", "V_ln - F_c", "voltage")
        work.given("I_o", "Smallest outlet of the country", model.smallest_outlet(work.rules), "current")
        work.step("u_o", "Lost with that, at least", "100*max(F - 2*e, 0)*I_o/I_t/V_ln", "percent")


def _values(inputs: Inputs, work: Work) -> None:
    fall = model.fall(inputs)
    tells = model.tells(inputs) and inputs.load_amps is not None and fall is not None
    work.value("fall", fall, 2 * METER)
    work.value("impedance", fall / inputs.load_amps if tells and fall else None,
               2 * METER / inputs.load_amps if tells else 0.0)  # fmt: skip
    work.value("share", *(model.share(inputs) or (None,)))


def _tables(work: Work, found: Found) -> None:
    if found.right is False and found.fitting:
        work.table("fitting", "What fits these readings", COLUMNS, [_row(work, name) for name in found.fitting],
                   note="Likely, not certain. Finding out is a licensed electrician’s work.")  # fmt: skip
    unseen = [*found.hidden, *(key for key in work.rules.figures if key.startswith("outlet.unseen_"))]
    if unseen:
        work.table("unseen", "What no such tester can see", COLUMNS, [_row(work, name) for name in unseen],
                   note="A licensed electrician finds these with other instruments.")  # fmt: skip
    _tests(work)


def _tests(work: Work) -> None:
    """Readings that only a trained person takes, so that theirs can be understood."""
    rows: list[tuple[str, ...]] = [
        (rule.label, str(rule.value), rule.citation) for key in work.rules.figures
        if key.startswith("outlet.test_") and (rule := work.rule_of(key))
    ]  # fmt: skip
    if rows:
        work.table("tests", "What a trained person’s own tests look for", {
            "what": "What", "wanted": "Wanted", "source": "Source and status"}, rows,
                   note="Not for you to take. Ask for the last test’s date and readings.", detail=True)  # fmt: skip


def _row(work: Work, name: str) -> tuple[str, ...]:
    rule = work.rule_of(name)
    if rule is None:
        return name, "–", "–"
    why = rule.note or ("–" if name.startswith(model.PREFIX) else str(rule.value))
    return rule.label, why, rule.status

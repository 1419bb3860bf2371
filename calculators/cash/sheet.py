"""The sums: what the bag must hold, what was counted, the difference, and the cards by themselves."""

from __future__ import annotations

from dataclasses import dataclass

from ..core import Work
from ..float.coinage import Coin
from . import lots
from .inputs import Inputs
from .lots import Counted

Number = float | None
Three = tuple[Number, Number, Number]


@dataclass(frozen=True)
class Found:
    """What the sheet works out, in cents: each of counted and gap is (least, most likely, most)."""

    lots: list[Counted]
    must: Number
    counted: Three
    gap: Three
    sales: Number
    share: Number
    cards: Number
    limit: Number
    must_needs: tuple[str, ...]
    count_needs: tuple[str, ...]

    @property
    def lacks(self) -> tuple[str, ...]:
        """Figures that the set has none of, and without which a lot tells nothing."""
        return tuple(dict.fromkeys(key for lot in self.lots for key in lot.lacks))

    @property
    def open(self) -> tuple[Counted, ...]:
        """The weighed lots that leave more than one sum open."""
        return tuple(lot for lot in self.lots if lot.open)


def solve(inputs: Inputs, work: Work, coins: dict[str, Coin]) -> Found:
    """Every sum, each step written down."""
    must = _must(inputs, work)
    listed = lots.of(work, inputs, coins)
    counted = _counted(inputs, work, listed)
    gap = _gap(work, counted)
    sales, share = _sales(inputs, work, gap[1])
    return Found(listed, must, counted, gap, sales, share, _cards(inputs, work), limit(work), must_needs(inputs),
                 tuple(path for lot in listed for path in lot.needs) or ("coins",))  # fmt: skip


def must_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs that what the bag must hold rests on."""
    counters = ("cash_in", "paid_out") if inputs.figures == "period" else (
        "cash_in_last", "cash_in_now", "paid_out_last", "paid_out_now")  # fmt: skip
    moved = (*(() if inputs.filled_counted else ("filled",)), *(() if inputs.emptied_counted else ("emptied",)))
    return (*counters, "tubes_last", "tubes_now", *moved)


def sales_needs(inputs: Inputs) -> tuple[str, ...]:
    """The inputs that the cash sales rest on: the counters, and what these hold of filling and emptying."""
    counters = ("cash_in", "paid_out") if inputs.figures == "period" else (
        "cash_in_last", "cash_in_now", "paid_out_last", "paid_out_now")  # fmt: skip
    return (*counters, *(("filled",) if inputs.filled_counted else ()), *(("emptied",) if inputs.emptied_counted else ()))


def limit(work: Work) -> Number:
    """The difference from which one asks, in cents: it is written in whole money."""
    figure, currency = work.rule_of("coins.ask"), work.rule_of("coins.currency")
    return None if figure is None or currency is None else round(figure.value * currency.value["minor"])


def _must(inputs: Inputs, work: Work) -> Number:
    work.section("What the bag must hold")
    if inputs.figures == "period":
        work.take("cash_in", label="Cash in since")
        work.take("paid_out", label="Cash paid out since")
    else:
        for path in ("cash_in_last", "cash_in_now", "paid_out_last", "paid_out_now"):
            work.take(path)
        work.step("A", "Cash in since", "A_2 - A_1", "money")
        work.step("B", "Cash paid out since", "B_2 - B_1", "money")
    work.take("tubes_last")
    work.take("tubes_now")
    work.step("C", "What the tubes gained", "T_2 - T_1", "money")
    _moved(inputs, work)
    return work.step("X", "The bag must hold", "A - B - C + D - E", "money")


def _moved(inputs: Inputs, work: Work) -> None:
    """D and E, as far as the counters do not hold them already."""
    for symbol, path, is_counted in (("D", "filled", inputs.filled_counted), ("E", "emptied", inputs.emptied_counted)):
        if is_counted:
            work.given(symbol, work.find(path)[0].label, 0.0, "money", note="left out: the counters have it already")
        else:
            work.take(path)


def _counted(inputs: Inputs, work: Work, listed: list[Counted]) -> Three:
    """All lots with bills and sums; nothing at all given is not a bag without money."""
    work.section("What was counted")
    paper = {f"bills_{name}": value for name, value in notes_of(inputs, work).items()}
    if not listed and not inputs.given & {*paper, "other"}:
        return None, None, None
    terms = [_bills(work, path, value) for path, value in paper.items() if getattr(inputs, path)]
    if inputs.other or not (terms or listed):
        work.take("other", "P_s")
        terms.append("P_s")
    return _summed(work, listed, terms)


def notes_of(inputs: Inputs, work: Work) -> dict[str, int]:
    """The bills of the rule set that the form has boxes for: name in whole money → cents."""
    listed, currency = work.rule_of("coins.notes"), work.rule_of("coins.currency")
    if listed is None or currency is None:
        return {}
    named = {str(value // currency.value["minor"]): value for value in listed.value}
    return {name: value for name, value in named.items() if hasattr(inputs, f"bills_{name}")}


def _bills(work: Work, path: str, value: int) -> str:
    name = path.removeprefix("bills_")
    work.take(path, f"n_{name}")
    work.given(f"w_{name}", "One is worth", value, "money")
    work.step(f"P_{name}", "They are worth", f"n_{name}*w_{name}", "money")
    return f"P_{name}"


def _summed(work: Work, listed: list[Counted], terms: list[str]) -> Three:
    """The likely sum, and its bounds where a weight leaves any."""
    if any(not lot.symbols[0] for lot in listed):
        return None, None, None
    likely = work.step("Y", "Counted", " + ".join([*(lot.symbols[1] for lot in listed), *terms]), "money")
    if not any(lot.weighed for lot in listed):
        work.share("Y")
        return likely, likely, likely
    bounds = [work.step(symbol, label, " + ".join([*(lot.symbols[at] for lot in listed), *terms]), "money")
              for symbol, label, at in (("Y_low", "Counted, at least", 0), ("Y_high", "Counted, at most", 2))]  # fmt: skip
    work.share("Y", "Y_low", "Y_high")
    fits = all(lot.fits is not False for lot in listed)
    return (bounds[0], likely, bounds[1]) if fits else (None, likely, None)


def _gap(work: Work, counted: Three) -> Three:
    """Counted, less what must be there: below zero where money is short."""
    work.section("The difference")
    low, likely, high = counted
    known = None if likely is None else work.step("V", "Difference", "Y - X", "money")
    if low == likely == high:
        return known, known, known
    if low is None or high is None:
        return None, known, None
    return (work.step("V_low", "Difference, at least", "Y_low - X", "money"), known,
            work.step("V_high", "Difference, at most", "Y_high - X", "money"))  # fmt: skip


def _sales(inputs: Inputs, work: Work, gap: Number) -> tuple[Number, Number]:
    """Cash sales, without what the counters hold of our own filling and emptying; the difference as a share of them."""
    work.take("test_money")
    formula = "A - B - Q"
    if inputs.filled_counted:
        work.take("filled", "D_in", "Filled in by us, in cash in already")
        formula += " - D_in"
    if inputs.emptied_counted:
        work.take("emptied", "E_out", "Taken from tubes by us, in paid out already")
        formula += " + E_out"
    sales = work.step("Z", "Cash sales", formula, "money")
    if sales is None or sales <= 0 or gap is None:
        return sales, None
    return sales, work.step("s", "Difference as a share of cash sales", "100*V/Z", "percent")


def _cards(inputs: Inputs, work: Work) -> Number:
    """The card report, less the cabinet's own counters; it never meets the bag's money."""
    if inputs.cards != "now":
        return None
    work.section("Cards, by themselves")
    work.take("cards_counted")
    work.take("cards_report")
    return work.step("G", "Card report, less the counters", "R - N", "money")

"""Sales until the visit, how they are paid, and whether both boxes can take it."""

from __future__ import annotations

import math
from collections.abc import Callable
from statistics import NormalDist
from typing import Any

from ..core import Work
from ..core.report import Mend
from .inputs import Inputs
from .setup import Setup, Shares

# Sales are told, and worked with, in tenths, rounded up: a till counts no finer.
SALES = {"poisson": "ceil(10*S*d - 0.000001) / 10", "fixed": "ceil(S*d - 0.000001)"}
SPREAD = {"poisson": "m*{x} + z*sqrt(m*{y})", "fixed": "m*{x} + z*sqrt(max(0, n*(f*{y} - (f*{x})**2)))"}


Known = float | None


def sales_until(inputs: Inputs, days: float) -> float:
    """Sales until a visit, as :data:`SALES` prints them."""
    if inputs.sales == "fixed":
        return float(math.ceil(inputs.sales_per_day * days - 0.000001))
    return float(math.ceil(10 * inputs.sales_per_day * days - 0.000001)) / 10


def cash_sales(number: float, part: float, *, fixed: bool) -> float:
    """How many of them are paid in cash on average; to a tenth, up, where their number is a mean itself."""
    return number * part if fixed else math.ceil(10 * number * part - 0.000001) / 10


def working_sales(work: Work, split: Shares | None) -> tuple[Known, Known]:
    """Sales and cash sales until the visit, as working lines; gives f and z."""
    inputs = work.asked(Inputs)
    work.section("Sales until the visit")
    work.take("sales_per_day")
    work.take("days")
    fixed = inputs.sales == "fixed"
    work.step("n", "Sales until the visit" if fixed else "Sales until the visit, to a tenth", SALES[inputs.sales], "average")
    parts = (None,) * 3 if split is None else (split.notes, split.exact, split.over)
    for symbol, label, part in zip("abo", ("with bills", "with exact coins", "with coins over the price"),
                                   parts, strict=True):  # fmt: skip
        work.given(symbol, f"Sales paid {label}", part, "percent")
    total = None if split is None else split.total or 100.0
    work.given("T", "All ways to pay together", total, "percent")
    part = work.step("f", "Part of sales paid in cash", "min(1, (a + b + o) / T)", "ratio")
    work.step("m", "Cash sales until the visit, on average", "n*f" if fixed else "ceil(10*n*f - 0.000001) / 10", "average")
    work.given("W", "Wanted chance", inputs.wanted, "chance")
    deviations = work.given("z", "Standard deviations of a normal spread for it",
                            NormalDist().inv_cdf(inputs.wanted / 100.0), "ratio")  # fmt: skip
    for symbol in "nfmz":
        work.share(symbol)
    return part, deviations


def check_boxes(work: Work, setup: Setup | None, part: Known, deviations: Known) -> None:
    """Notes and coins that come in by the visit against what the boxes hold.

    ``part`` and ``deviations`` are f and z of :func:`working_sales`.
    """
    notes = _moments(setup, lambda sale: sale.notes)
    _check_box(work, "note_box", "Bill box", "Bills in a cash sale", notes, ("N", "u", "v"), (part, deviations))
    coins = _moments(setup, lambda sale: sale.pieces)
    _check_box(work, "coin_box", "Coin box", "Coins in a cash sale", coins, ("B", "g", "j"), (part, deviations))


def _moments(setup: Setup | None, count: Callable[[Any], int]) -> tuple[Known, Known]:
    """The mean of a count over cash sales, and the mean of its square."""
    if setup is None:
        return None, None
    total = math.fsum(setup.weights) or 1.0
    pairs = [(weight / total, count(sale)) for weight, sale in zip(setup.weights, setup.sales, strict=True)]
    return (math.fsum(part * each for part, each in pairs),
            math.fsum(part * each * each for part, each in pairs))  # fmt: skip


def _check_box(work: Work, key: str, title: str, label: str, moments: tuple[Known, Known],
               symbols: tuple[str, str, str], spread: tuple[Known, Known]) -> None:  # fmt: skip
    inputs = work.asked(Inputs)
    most, mean, square = symbols
    work.section(title)
    work.given(mean, f"{label}, on average", moments[0], "ratio")
    work.given(square, f"{label}, average of the square", moments[1], "ratio")
    value = work.step(f"{most}_w", f"Most that comes in, at the wanted chance ({title.lower()})",
                      SPREAD[inputs.sales].format(x=mean, y=square), "count")  # fmt: skip
    capacity = getattr(inputs, key)
    mend = None if None in (value, capacity) else _box_mend(work, key, (*spread, *moments), value)
    work.check(key, value, capacity, mend=mend,
               needs=(key, "tubes", "prices", "sales_per_day", "days", "share_notes"),
               note=_note(key))  # fmt: skip


def _note(key: str) -> str:
    if key == "coin_box":
        return "As if no coin stayed in the tubes. Or empty the box more often, or fit a larger one."
    return "A full box takes no more bills. Or empty it more often, or fit a larger one."


def _box_mend(work: Work, key: str, numbers: tuple[Any, ...], value: Any) -> Mend | None:
    """Visit earlier; where even the shortest stay is too long, a larger box."""
    inputs = work.asked(Inputs)
    step = 0.1
    low, high = 0, math.ceil(inputs.days / step)
    while high - low > 1:
        middle = (low + high) // 2
        if _comes_in(inputs, numbers, round(middle * step, 1)) <= getattr(inputs, key):
            low = middle
        else:
            high = middle
    if low:
        return work.mend("days", round(low * step, 1), how="Visit earlier.")
    return work.mend(key, math.ceil(value), "at least", how="Fit a larger box.")


def _comes_in(inputs: Inputs, numbers: tuple[Any, ...], days: float) -> float:
    """What the printed formula gives for another number of days."""
    part, deviations, mean, square = numbers
    fixed = inputs.sales == "fixed"
    number = sales_until(inputs, days)
    cash = cash_sales(number, part, fixed=fixed)
    variance = max(0.0, number * (part * square - (part * mean) ** 2)) if fixed else cash * square
    return float(cash * mean + deviations * math.sqrt(variance))

"""Inputs of a cash count that cannot all be true: names, counters, weights, test money."""

from __future__ import annotations

from collections.abc import Iterator

from ..core import Contradiction
from ..core.units import Units
from .inputs import Inputs

LOWER = ("The counter is lower than last time: read both again. If it is so, it was cleared or the part was changed: write it "
         "down and call the office. This bag cannot be compared.")  # fmt: skip
ONE_PERSON = "The same name twice: two people count, and neither does it alone."
HEAVIER = "The container alone weighs more than with the coins: weigh both again."


def conflicts(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Every pair of inputs of which one must be wrong."""
    if inputs.counted_by and inputs.checked_by and _plain(inputs.counted_by) == _plain(inputs.checked_by):
        yield Contradiction(("counted_by", "checked_by"), ONE_PERSON)
    if inputs.figures != "period":
        yield from _lower(inputs)
    for number, lot in enumerate(inputs.coins or []):
        if lot.way == "mass" and _is_less(lot.scale, lot.container):
            yield Contradiction((f"coins.{number}.scale", f"coins.{number}.container"), HEAVIER)
    if _is_less(inputs.mixed_scale, inputs.mixed_container):
        yield Contradiction(("mixed_scale", "mixed_container"), HEAVIER)
    yield from _test_money(inputs)


def _plain(name: str) -> str:
    """A name as people mean it: capitals and spaces tell nobody apart."""
    return "".join(name.casefold().split())


def _is_less(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and one < other


def _lower(inputs: Inputs) -> Iterator[Contradiction]:
    for last, now in (("cash_in_last", "cash_in_now"), ("paid_out_last", "paid_out_now")):
        if _is_less(getattr(inputs, now), getattr(inputs, last)):
            yield Contradiction((now, last), LOWER)


def _test_money(inputs: Inputs) -> Iterator[Contradiction]:
    """No more test money can have stayed inside than cash came in."""
    if inputs.figures == "period":
        path, came = "cash_in", inputs.cash_in
    else:
        now, last = inputs.cash_in_now, inputs.cash_in_last
        path, came = "cash_in_now", None if now is None or last is None else now - last
    if came is not None and 0 <= came < inputs.test_money:
        yield Contradiction((path, "test_money"), "More test money than cash came in: one of the two is wrong.")

"""Every figure that was seen somewhere is typed twice: in the rule sets, and in ``tests/cases/figures``."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

import pytest

from calculators.core.rules import OWN, STATUSES, Rule
from tests.support import figures
from tests.support.figures import Typed

TYPED = [pytest.param(each, id=f"{each.rule_set} {each.key}") for each in figures.typed()]


@pytest.mark.parametrize("typed", TYPED)
def test_a_figure_is_held_as_it_was_typed_again(typed: Typed) -> None:
    """Value, unit, clause, source, edition and how far it was seen."""
    rule = figures.held()[typed.rule_set, typed.key]
    assert typed.disagreements(rule) == [], rule


def test_every_figure_that_was_seen_is_typed_again_or_says_why_not() -> None:
    """None missing, none in both lists, no reason for a figure that nobody holds."""
    reasons = figures.untyped()
    assert figures.missing(figures.held()) == set()
    assert set(reasons) & {(each.rule_set, each.key) for each in figures.typed()} == set()
    assert set(reasons) <= figures.owed(figures.held())
    assert all(len(why) > 20 and why.endswith(".") for why in reasons.values())


def test_no_figure_is_typed_again_twice_and_each_says_where_it_was_seen() -> None:
    """A second typing that stands twice would hide which of the two was meant."""
    again = [(each.rule_set, each.key) for each in figures.typed()]
    assert len(again) == len(set(again))
    assert all(len(each.seen) > 15 for each in figures.typed())


def test_few_figures_are_left_untyped() -> None:
    """The list of reasons is for the odd one out, not for a whole table."""
    assert len(figures.untyped()) < len(figures.typed()) / 10


# -- the second typing bites ---------------------------------------------------------------


def _other_words(value: str) -> Iterator[str]:
    yield ""
    for found in figures.NUMBER.finditer(value):
        yield f"{value[: found.start()]}{float(found[0]) + 1:g}{value[found.end() :]}"
    for found in figures.TURNING.finditer(value):
        yield value[: found.start()] + value[found.end() :]
    yield from (f"not {value}", f"{value}, or 7 at least")


def _other_rows(rows: Any) -> Iterator[Any]:
    if isinstance(rows, list):
        yield from (rows[:-1], rows[1:], [*rows, rows[-1]])
        yield from ([*rows[:at], other, *rows[at + 1 :]] for at, row in enumerate(rows) for other in _other_rows(row))
    elif isinstance(rows, dict):
        for name, value in rows.items():
            yield {key: each for key, each in rows.items() if key != name}
            yield from ({**rows, name: other} for other in _other_rows(value))
    else:
        yield from _other_numbers(rows) if isinstance(rows, int | float) else (f"{rows}x", rows[:-1])


def _other_numbers(value: float) -> Iterator[float]:
    # One part in ten thousand is finer than any published figure.
    others = (value + 1, value * 1.0001, -value, value / 10, value * 25.4)
    yield from (other for other in others if other != value)


def _other_values(value: Any) -> Iterator[Any]:
    if isinstance(value, str):
        return _other_words(value)
    return _other_numbers(value) if isinstance(value, int | float) else _other_rows(value)


def mutants(rule: Rule) -> Iterator[Rule]:
    """The rule with one thing changed: another value, unit, clause, source, edition or status."""
    for value in _other_values(rule.value):
        yield dataclasses.replace(rule, value=value)
    for unit in {"", "mm", "in", "A", "mA", "%", "hours", "business days"} - {rule.unit}:
        yield dataclasses.replace(rule, unit=unit)
    for name in ("clause", "source", "edition"):
        written = getattr(rule, name)
        for other in {"", f"{written}1", written[:-1], written.replace("1", "2", 1)} - {written}:
            yield dataclasses.replace(rule, **{name: other})
    for status in sorted(set(STATUSES) - {rule.status, OWN}):
        yield dataclasses.replace(rule, status=status)


def test_any_change_of_a_figure_is_caught() -> None:
    """Each figure in turn, in memory: every other value, unit, clause, source, edition and status."""
    tried = 0
    for typed in figures.typed():
        for mutant in mutants(figures.held()[typed.rule_set, typed.key]):
            tried += 1
            assert typed.disagreements(mutant), mutant
    assert tried > 20 * len(figures.typed())


def test_a_new_figure_that_says_it_was_seen_is_asked_for() -> None:
    """A row that is published, and nowhere else, is owed a second typing; one from memory is not."""
    new = Rule(key="space.new", value=1, label="New", status="published", rule_set="us")
    held = figures.held()
    assert figures.missing({**held, ("us", "space.new"): new}) == {("us", "space.new")}
    assert figures.missing({**held, ("us", "space.new"): dataclasses.replace(new, status="from memory")}) == set()


def test_what_no_figure_holds_says_why() -> None:
    """A clause of the same tables that is left out has its reason."""
    assert all(each["clause"] and each["why"].endswith(".") for each in figures.left_out())


@pytest.mark.parametrize(("text", "value"), [("3/4*25.4", 19.05), ("1/13", 1 / 13), ("0.25*12", 3.0), ("7", 7.0),
                                             ("230*0.94", 216.2), ("1/2/4", 0.125)])  # fmt: skip
def test_arithmetic_is_exact_and_rounded_once(text: str, value: float) -> None:
    """A figure that is another in other units is typed as that sum."""
    assert figures.arithmetic(text) == value


# -- what the coins say about themselves ----------------------------------------------------


def test_clad_coins_weigh_by_their_value() -> None:
    """Dimes, quarters and halves of the United States are worth the same for each gram."""
    coins = {each["name"]: each for each in figures.held()["us", "coins.table"].value}
    assert {round(coins[name]["value"] / coins[name]["mass_g"], 6) for name in ("dime", "quarter", "half")} == {4.409171}


@pytest.mark.parametrize(("name", "cents"), [
    ("us", {"cent": 50, "nickel": 200, "dime": 500, "quarter": 1000, "half": 1000, "dollar": 2500}),
    ("ca", {"nickel": 200, "dime": 500, "quarter": 1000, "half": 1250, "dollar": 2500, "two": 5000}),
    ("uk", {"1p": 100, "2p": 100, "5p": 500, "10p": 500, "20p": 1000, "50p": 1000, "1gbp": 2000, "2gbp": 2000}),
    ("eu", {"1c": 50, "2c": 100, "5c": 250, "10c": 400, "20c": 800, "50c": 2000, "1eur": 2500, "2eur": 5000}),
    ("au", {"5c": 200, "10c": 400, "20c": 400, "50c": 1000, "dollar": 2000, "two": 5000}),
])  # fmt: skip
def test_a_roll_holds_its_round_sum(name: str, cents: dict[str, int]) -> None:
    """Coins times value is the sum that stands on the roll or the bag."""
    values = {each["name"]: each["value"] for each in figures.held()[name, "coins.table"].value}
    rolls = {each["name"]: each["count"] for each in figures.held()[name, "coins.rolls"].value}
    assert {coin: count * values[coin] for coin, count in rolls.items()} == cents

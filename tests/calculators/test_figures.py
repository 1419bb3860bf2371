"""Every figure that a sum or a citation rests on is typed twice: in the rule sets, and in ``tests/cases/figures``."""

from __future__ import annotations

import dataclasses
import math
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


def test_every_figure_that_counts_is_typed_again_or_says_why_not() -> None:
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


NEW = Rule(key="space.new", value="yes", label="New", status="common practice", rule_set="us")


@pytest.mark.parametrize(("new", "asked"), [
    (NEW, False), ({"value": {"outlet": "receptacle"}}, False), ({"status": "from memory"}, False),
    ({"status": "published"}, True), ({"status": "reprinted"}, True), ({"value": 1}, True), ({"value": 0.5}, True),
    ({"value": [1]}, True), ({"clause": "1"}, True), ({"status": "worked out here", "clause": "1"}, True),
])  # fmt: skip
def test_a_new_figure_is_asked_for_where_something_rests_on_it(new: Any, asked: bool) -> None:
    """What was seen, a number, a list, a clause; words of the trade without a source are not."""
    new = dataclasses.replace(NEW, **new) if isinstance(new, dict) else new
    assert figures.missing({**figures.held(), ("us", "space.new"): new}) == ({("us", "space.new")} if asked else set())


def test_what_was_seen_is_never_typed_as_unseen() -> None:
    """A figure that becomes published is typed anew, from its page."""
    for each in figures.typed():
        unseen = each.seen.startswith(("no page", "worked out"))
        assert unseen <= (not figures.seen(figures.held()[each.rule_set, each.key])), each


# What follows from other figures: set, key, how it is worked out, and how many decimals it is given to.
WORKED: tuple[tuple[str, str, float, int], ...] = (
    ("common", "goods.fall_speed", math.sqrt(2 * 9.80665 * 1.0), 4), ("common", "energy.air_heat", 1.2 * 1.005 / 3.6, 3),
    ("us", "standing.wind_factor", 0.0765 / 32.174 * (5280 / 3600) ** 2 / 2, 5),
    *((name, "circuit.drop_extra_over", 0.5 / 0.005, 0) for name in ("uk", "eu")),
    *((name, "circuit.supply_high_400", 400 * 1.1, 0) for name in ("uk", "eu", "au")),
    ("uk", "circuit.supply_low_400", 400 * 0.94, 0), ("au", "circuit.supply_low_400", 400 * 0.94, 0), ("eu", "circuit.supply_low_400", 400 * 0.9, 0),
    *((name, "outlet.volts_low", 230 * (1 - 0.06 - 0.05), 1) for name in ("uk", "au")),
    ("uk", "conductors.loop_alpha", 0.00393 / (1 + 0.00393 * 50), 5), ("au", "conductors.loop_alpha", 0.00393 / (1 + 0.00393 * 55), 6),
    ("eu", "conductors.rho_at", 20 + 0.25 / 0.00393, 1), ("eu", "conductors.warm", 20 + 0.25 / 0.00393, 1),
    ("eu", "conductors.rho_alpha", 0.00393 / 1.25, 6),
    # Rounded down, the side that asks for more room.
    *((name, "refrigerant.burns_r290", 0.038 * 1.7 / 2.1 - 0.00005, 4) for name in ("uk", "eu")),
)  # fmt: skip


@pytest.mark.parametrize(("name", "key", "value", "decimals"), WORKED, ids=[f"{name} {key}" for name, key, *_ in WORKED])
def test_what_was_worked_out_here_comes_out_again(name: str, key: str, value: float, decimals: int) -> None:
    """From the figures that its note names, to its last digit."""
    rule = figures.held()[name, key]
    assert rule.value == round(value, decimals)
    assert rule.status == "worked out here"


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

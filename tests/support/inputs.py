"""Inputs made from a calculator's own definition: Hypothesis strategies and seeded ones."""

from __future__ import annotations

import random
from typing import Any

from hypothesis import strategies as st

from calculators.core import (
    Calculator,
    Choice,
    Contradiction,
    Day,
    Flag,
    Log,
    Moment,
    Quantity,
    Record,
    Rows,
    Text,
    rules,
)
from calculators.core.calculator import read_setting
from calculators.core.fields import Count, Field, Money
from calculators.core.reading import read_record
from calculators.core.units import Units

from . import logs

METRIC = Units("si")
ROUND = (0, 1, 2, 5, 10, 15, 20, 50, 100, 230, 500, 800, 900, 1000, 1500, 2000)
US = rules.load("us")  # what seeded requests choose from; a strategy draws on all sets' words


def typed(field: Field, value: float) -> Any:
    """An inner value as it is sent: whole for counts, text with its unit otherwise."""
    if isinstance(field, Day):
        return field.shown(round(value), METRIC)
    if isinstance(field, Money):
        return f"{round(value) // 100}.{round(value) % 100:02d}"
    if isinstance(field, Count):
        return round(value)
    return METRIC.number(value, field.kind)


def random_value(field: Field, rng: random.Random, of: rules.RuleSet = US) -> Any:
    """A value within the field's range, near the example as often as anywhere; None where a set offers none."""
    if isinstance(field, Flag):
        return rng.random() < 0.5
    if isinstance(field, Choice):
        words = list(field.words(of))
        return rng.choice(words) if words else None
    if isinstance(field, Log):
        return logs.random_log(rng)
    if isinstance(field, Text):
        return "x"
    if isinstance(field, Rows):
        few = int(min(field.most or 0, 4))
        return [random_record(field.record, rng, of=of) for _ in range(rng.randint(int(field.least or 0), few))]
    return typed(field, _random_number(field, rng))


def even_value(field: Field, rng: random.Random, of: rules.RuleSet = US) -> Any:
    """A value at which something may turn: an end of the field's range, its example, or a round number that others have too."""
    if isinstance(field, (Day, Choice, Flag, Log, Text, Rows)):
        return random_value(field, rng, of)
    ends = [each for each in (field.least, field.most, field.example) if isinstance(each, (int, float))]
    least, most = field.least or 0.0, field.most or 1e9
    return typed(field, rng.choice([*ends, *(each for each in ROUND if least <= each <= most)]))


def _random_number(field: Field, rng: random.Random) -> float:
    least = field.least if field.least is not None else 0.0
    most = field.most if field.most is not None else least + 1000.0
    if isinstance(field, Day) and rng.random() < 0.95:
        # Within days of each other, or hours, and what ends something mostly after it: other dates contradict each other.
        early, late = {"more": (-0.1, 1), "less": (-1, 0.1)}.get(str(field.worse), (-1, 1))
        return field.example + rng.uniform(early, late) * rng.choice((240, 2000) if isinstance(field, Moment) else (3, 12))
    if isinstance(field.example, (int, float)) and rng.random() < 0.7:
        near = field.example * rng.uniform(0.6, 1.5)
        return min(max(near, least), most)
    return rng.uniform(least, most)


def random_record(
    record: type[Record], rng: random.Random, known: float = 0.9, of: rules.RuleSet = US
) -> dict[str, Any]:
    """Values for most fields of a record, as JSON would carry them in metric units."""
    return {
        field.key: random_value(field, rng, of)
        for field in record.fields()
        if isinstance(field, Rows) or (field.offered(of) and rng.random() < known)
    }


def random_request(calculator: Calculator, seed: int, units: str = "si", rule_set: str = "") -> dict[str, Any]:
    """A seeded request; numbers are typed in metric, the result is printed in ``units``, by a rule set where one is named."""
    rng = random.Random(f"{calculator.name}-{seed}")
    named = {"rules": rule_set} if rule_set else {}
    return agreed(calculator, {"units": units, "typed": "si", **named, "inputs": random_record(calculator.inputs, rng)})


def agreed(calculator: Calculator, request: dict[str, Any]) -> dict[str, Any]:
    """The request without the second input of each contradiction, or its only one: both cannot be true."""
    inputs = {**request["inputs"]}
    found = contradictions(calculator, {**request, "inputs": inputs})
    while found:
        # What stood there at first: another contradiction may have taken it out meanwhile.
        out = [next(path for path in (*each.paths[1:], each.paths[0]) if _given(inputs, path)) for each in found]
        for path in out:
            _take_out(inputs, path)
        found = contradictions(calculator, {**request, "inputs": inputs})
    return {**request, "inputs": inputs}


def contradictions(calculator: Calculator, request: dict[str, Any]) -> list[Contradiction]:
    """What of a request cannot all be true."""
    if calculator.contradictions is None:
        return []
    setting = read_setting(request)
    return list(calculator.contradictions(read_record(calculator.inputs, request["inputs"], setting.typed), setting.show))


def _given(inputs: dict[str, Any], path: str) -> bool:
    """Whether an input was given: one that is left out may contradict another by its usual value."""
    *way, last = path.split(".")
    record: Any = inputs
    for name, number in zip(way[::2], way[1::2], strict=True):
        rows = record.get(name) or []
        record = rows[int(number)] if int(number) < len(rows) else {}
    return last in record


def _take_out(inputs: dict[str, Any], path: str) -> None:
    *way, last = path.split(".")
    record: Any = inputs
    for name, number in zip(way[::2], way[1::2], strict=True):
        record[name] = [dict(row) for row in record[name]]
        record = record[name][int(number)]
    record.pop(last, None)


def strategy(calculator: Calculator) -> st.SearchStrategy[dict[str, Any]]:
    """A Hypothesis strategy of requests, drawn from the definition's own ranges."""
    return st.fixed_dictionaries(
        {"units": st.sampled_from(["us", "si"]), "typed": st.just("si"),
         "inputs": _record(calculator.inputs)}
    ).map(lambda request: agreed(calculator, request))  # fmt: skip


def _record(record: type[Record]) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({}, optional={each.key: _value(each) for each in record.fields()})


def _value(field: Field) -> st.SearchStrategy[Any]:
    if isinstance(field, Rows):
        return st.lists(_record(field.record), min_size=int(field.least or 0),
                        max_size=int(min(field.most or 0, 4)))  # fmt: skip
    if isinstance(field, Flag):
        return st.booleans()
    if isinstance(field, Choice):
        return st.sampled_from(list(field.options))
    if isinstance(field, Log):
        return st.sampled_from(logs.SOME)
    if isinstance(field, Quantity):
        return st.floats(field.least if field.least is not None else 0.0,
                         field.most if field.most is not None else 1e6).map(
                             lambda value: typed(field, value))  # fmt: skip
    return st.just("x")

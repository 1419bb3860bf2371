"""Requests near a calculator's own example, and what changes one input of them at a time."""

from __future__ import annotations

import copy
import dataclasses
import functools
import random
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import calculators
from calculators.core import (
    Calculator,
    Choice,
    Flag,
    InputErrors,
    Quantity,
    Record,
    Rows,
    Text,
    rules,
)
from calculators.core.fields import Count, Field, Money
from calculators.core.reading import read_record

from .inputs import agreed, random_record, random_value, typed

SETS = tuple(rules.RULE_SETS)
Inputs = dict[str, Any]


class Place(NamedTuple):
    """An input that a request gives: its path and field."""

    path: str
    field: Field

    @property
    def key(self) -> str:
        """The path without numbers of rows: ``route.width``."""
        return ".".join(part for part in self.path.split(".") if not part.isdigit())


def get(inputs: Inputs, path: str) -> Any:
    """What a request gives at a path; None where nothing is."""
    found: Any = inputs
    for part in path.split("."):
        found = found[int(part)] if isinstance(found, list) else found.get(part)
    return found


def put(inputs: Inputs, path: str, value: Any) -> Inputs:
    """A copy of a request's inputs with one of them changed; None clears it."""
    made = copy.deepcopy(inputs)
    *way, last = path.split(".")
    record: Any = made
    for part in way:
        record = record[int(part)] if isinstance(record, list) else record[part]
    if value is None:
        record.pop(last, None)
    else:
        record[last] = value
    return made


def places(record: type[Record], inputs: Inputs, *, blank: bool = False, path: str = "") -> Iterator[Place]:
    """Every input that is given, or every one that is not, rows one by one."""
    for field in record.fields():
        if isinstance(field, Rows):
            for number, row in enumerate(inputs.get(field.key) or []):
                yield from places(field.record, row, blank=blank, path=f"{path}{field.key}.{number}.")
        elif not isinstance(field, Text) and (inputs.get(field.key) is None) == blank:
            yield Place(path + field.key, field)


def made(calculator: Calculator, seed: int, *, small: bool = False) -> tuple[Inputs, str]:
    """Inputs in metric units, and the rule set: three of four near the set's own example.

    ``small``: of a plan fewer rows, of a float fewer sales, which take a tenth of the time.
    """
    rng = random.Random(f"pairs {calculator.name} {seed}")
    rule_set = SETS[seed % len(SETS)]
    if rng.random() < 0.25:
        inputs = random_record(calculator.inputs, rng, of=rules.load(rule_set))
    else:
        inputs = copy.deepcopy(_example(calculator.name, rule_set))
        for _ in range(int(rng.random() * 6)):
            _redrawn(calculator, inputs, rng, rules.load(rule_set))
    if small:
        _shrink(calculator.name, inputs)
    return _agreed(calculator, inputs, rule_set), rule_set


# The most rows or the most of what is counted in a small request.
SMALL: dict[str, dict[str, float]] = {
    "plan": {"products": 2, "trays": 2, "coils": 2, "pins": 1, "tried": 1, "apart": 1}, "float": {"days": 2, "sales_per_day": 5}}


def _shrink(name: str, inputs: Inputs) -> None:
    for key, most in SMALL.get(name, {}).items():
        found = inputs.get(key)
        if isinstance(found, list):
            del found[int(most):]
        elif found is not None:
            inputs[key] = min(found, most)


def _agreed(calculator: Calculator, inputs: Inputs, rule_set: str) -> Inputs:
    """Without what a rule set offers nothing for, and without contradictions."""
    request = {"inputs": filled(inputs), "units": "si", "typed": "si", "rules": rule_set}
    found: Inputs = agreed(calculator, request)["inputs"]
    return found


def filled(inputs: Inputs) -> Inputs:
    """The inputs without those that a rule set offers nothing for."""
    return {key: [filled(row) for row in value] if isinstance(value, list) else value
            for key, value in inputs.items() if value is not None}  # fmt: skip


def _redrawn(calculator: Calculator, inputs: Inputs, rng: random.Random, of: rules.RuleSet) -> None:
    """Draw one input anew, given before or not; of a list of rows, one of a row."""
    field = rng.choice(calculator.inputs.fields())
    if not isinstance(field, Rows):
        inputs[field.key] = random_value(field, rng, of)
    elif inputs.get(field.key):
        row = rng.choice(inputs[field.key])
        inner = rng.choice(field.record.fields())
        row[inner.key] = random_value(inner, rng, of)
    else:
        inputs[field.key] = random_value(field, rng, of)


@functools.cache
def _example(name: str, rule_set: str) -> Inputs:
    """The example of a rule set as JSON in metric units."""
    calculator = calculators.get(name)
    given, units = calculator.example_in(rule_set)
    return raw(read_record(calculator.inputs, dict(given), units))


def raw(record: Record) -> Inputs:
    """A record's values as JSON carries them in metric units."""
    found: Inputs = {}
    for field in type(record).fields():
        value = getattr(record, field.key)
        if isinstance(field, Rows):
            found[field.key] = [raw(row) for row in value or []]
        elif value is not None and field.key in record.given:
            found[field.key] = typed(field, value) if isinstance(field, Quantity) else value
    return found


# -- runs -----------------------------------------------------------------------------------


def runner(calculator: Calculator, *, bounds: bool) -> Callable[[Inputs, str], dict[str, Any] | None]:
    """Runs inputs under a rule set; None where they cannot be used. ``bounds`` looks what blanks may hide."""
    sheet = dataclasses.replace(calculator, probe=calculator.probe and bounds, finish=None)

    def run(inputs: Inputs, rule_set: str) -> dict[str, Any] | None:
        request = {"inputs": inputs, "units": "si", "typed": "si", "rules": rule_set}
        try:
            return sheet.run(request)
        except InputErrors:
            return None

    return run


def ends(field: Field, rule_set: str) -> list[Any]:
    """Every option of a choice, or both ends of a range, as they are sent."""
    if isinstance(field, Flag):
        return [True, False]
    if isinstance(field, Choice):
        return list(field.words(rules.load(rule_set)))
    return [typed(field, end) for end in (field.least, field.most) if end is not None]


def any_value(field: Field, rng: random.Random, rule_set: str) -> Any:
    """A value within the range: an end, one near the example, or any."""
    chosen = ends(field, rule_set)
    if isinstance(field, Choice) or (chosen and rng.random() < 0.3):
        return rng.choice(chosen)
    return random_value(field, rng, rules.load(rule_set))


def worsened(field: Field, value: Any, rng: random.Random) -> Any:
    """A value farther along in the field's declared worse direction; None where there is none."""
    if isinstance(field, Choice):
        order = list(field.worse)
        word = {True: "yes", False: "no"}.get(value, value)
        after = order[order.index(word) + 1 :] if word in order else []
        return rng.choice(after) if after else None
    end = field.most if field.worse == "more" else field.least
    if end is None or not isinstance(field, Quantity):
        return None
    here = field.read(value, "si")
    share = rng.choice((1.0, rng.random(), 0.1 * rng.random(), 0.001))
    there = here + (end - here) * share
    if isinstance(field, (Count, Money)):
        there = round(there)
    return None if there == here else typed(field, there)


def fewer(inputs: Inputs, record: type[Record], still: Callable[[Inputs], bool]) -> Inputs:
    """The least of the inputs for which something still holds: whole rows go first, then inputs."""
    for key in [field.key for field in record.fields() if isinstance(field, Rows)]:
        for number in reversed(range(len(inputs.get(key) or []))):
            rows = [row for at, row in enumerate(inputs[key]) if at != number]
            inputs = _smaller(inputs, {**inputs, key: rows}, still)
    for place in list(places(record, inputs)):
        inputs = _smaller(inputs, put(inputs, place.path, None), still)
    return {key: value for key, value in inputs.items() if value != []}


def _smaller(inputs: Inputs, tried: Inputs, still: Callable[[Inputs], bool]) -> Inputs:
    try:
        return tried if still(tried) else inputs
    except (KeyError, IndexError, AttributeError):
        return inputs

"""What the ends of a range are taken to bound: each check goes one way along it, and what fits the rest is one stretch."""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

import pytest

import calculators
from calculators.core import Calculator, Quantity, rules
from calculators.core.fields import ends_of
from calculators.core.reading import read_record
from calculators.core.report import OUTCOMES
from calculators.core.units import Units
from tests.support import pairs
from tests.support.inputs import typed
from tests.support.pairs import Inputs, Place

PROBED = [name for name in calculators.NAMES if calculators.get(name).probe]
REQUESTS, VALUES = 12, 9
each = pytest.mark.parametrize("name", PROBED)


def ranges(calculator: Calculator, rng: random.Random, *, ends: bool) -> Iterator[tuple[Inputs, str, Place, list[Any]]]:
    """Requests, with one range of each that bounds something and values along it; ``ends``: of those without a direction."""
    for seed in range(70_000, 70_000 + REQUESTS):
        inputs, rule_set = pairs.made(calculator, seed)
        listed = [place for place in pairs.places(calculator.inputs, inputs) if isinstance(place.field, Quantity)
                  and ends_of(place.field) and not (ends and place.field.worse)]  # fmt: skip
        if listed:
            place = rng.choice(listed)
            yield inputs, rule_set, place, sorted(_values(place, pairs.get(inputs, place.path), rng))


def _values(place: Place, given: Any, rng: random.Random) -> set[float]:
    """Both ends, and as many near what was given as anywhere."""
    low, high = float(place.field.least or 0.0), float(place.field.most or 0.0)
    here = float(place.field.read(given, "si"))
    near = (min(high, max(low, here * (0.4 + 1.2 * rng.random()))) for _ in range(VALUES))
    return {low, high, here, *near, *(low + (high - low) * rng.random() for _ in range(VALUES))}


@each
def test_each_check_goes_one_way(name: str) -> None:
    """Along a range that is declared to have ends, no check gets worse and then better, or the other way round."""
    calculator = calculators.get(name)
    run = pairs.runner(calculator, bounds=False)
    for inputs, rule_set, place, values in ranges(calculator, random.Random(name), ends=True):
        told: dict[tuple[str, str], list[int]] = defaultdict(list)
        for value in values:
            result = run(pairs.put(inputs, place.path, typed(place.field, value)), rule_set)
            for check in result["checks"] if result else ():
                # An open check that can only be care stands between care and go, whatever its order.
                if check["outcome"] != "unknown":
                    told[check["key"], check["at"]].append(OUTCOMES.index(check["outcome"]))
        for key, found in told.items():
            assert found in (sorted(found), sorted(found, reverse=True)), (key, place.path, rule_set, inputs)


@each
def test_what_contradicts_nothing_is_one_stretch(name: str) -> None:
    """Between two values that fit the rest lies none that does not."""
    calculator = calculators.get(name)
    if calculator.contradictions is None:
        return
    for inputs, rule_set, place, values in ranges(calculator, random.Random(name), ends=False):
        show = Units("si", rules=rules.load(rule_set))
        fits = []
        for value in values:
            read = read_record(calculator.inputs, pairs.put(inputs, place.path, typed(place.field, value)), "si")
            fits.append(not any(calculator.contradictions(read, show)))
        inner = fits[fits.index(True) : len(fits) - fits[::-1].index(True)] if any(fits) else []
        assert all(inner), (place.path, rule_set, inputs)

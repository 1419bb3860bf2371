"""What may stand in blanks: ends, every option, values at random, and those at which something turns."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator, Mapping
from typing import Any

from calculators.core import Calculator, Choice, Quantity, Record, rules
from calculators.core.errors import InputErrors
from calculators.core.fields import Count, Field, Money
from calculators.core.reading import read_record
from calculators.core.units import Units

from . import pairs
from .inputs import METRIC, typed
from .pairs import Inputs, Place

FILLINGS = 36
HALVINGS = 24
BASES, AGAIN = 3, 40  # fillings beside which others are looked for
CORNERS = 200  # of choices with ends of measures; seven ways to stand, ten sides and two ends are 140
Result = Mapping[str, Any]


def fill(inputs: Inputs, filling: Inputs) -> Inputs:
    """The inputs with blanks filled in."""
    for path, value in filling.items():
        inputs = pairs.put(inputs, path, value)
    return inputs


def drawn(blanks: list[Place], inputs: Inputs, rng: random.Random, rule_set: str) -> Iterator[Inputs]:
    """What stood there, all ends at once and crosswise, every option, then values drawn at random."""
    yield {place.path: pairs.get(inputs, place.path) for place in blanks}
    options = [pairs.ends(place.field, rule_set) or [pairs.get(inputs, place.path)] for place in blanks]
    for number in range(max(len(words) for words in options)):
        for shift in range(2):
            yield {place.path: words[(number + shift * at) % len(words)]
                   for at, (place, words) in enumerate(zip(blanks, options, strict=True))}  # fmt: skip
    for _ in range(FILLINGS):
        yield {place.path: pairs.any_value(place.field, rng, rule_set) for place in blanks}


class Turns:
    """Fillings at the borders of what contradicts nothing, where a check turns, and between two such places."""

    def __init__(self, calculator: Calculator, rule_set: str) -> None:
        self.calculator, self.rules = calculator, rules.load(rule_set)
        self.run, self.bounded = pairs.runner(calculator, bounds=False), pairs.runner(calculator, bounds=True)
        self.rule_set = rule_set

    def near(self, cleared: Inputs, blanks: list[Place], tries: list[Inputs], bases: int) -> Iterator[Inputs]:
        """Such fillings along each measure, beside the first so many fillings that contradict nothing."""
        numbers = _measures(blanks)
        fitting = itertools.islice((filling for filling in tries if self._fits(cleared, filling)), bases if numbers else 0)
        for base, place in itertools.product(fitting, numbers):
            yield from self._along(cleared, base, place)

    def closer(self, cleared: Inputs, blanks: list[Place], tries: list[Inputs]) -> Iterator[Inputs]:
        """Such fillings, and where several blanks must fit together, all at their borders and such fillings beside those."""
        found = []
        for filling in self.near(cleared, blanks, tries, BASES):
            found.append(filling)
            yield filling
        if len(blanks) > 1:
            yield from self._corners(cleared, blanks, tries)
            yield from self._led(cleared, blanks, tries)
            step = max(1, len(found) // AGAIN)
            yield from self.near(cleared, blanks, found[::step], AGAIN)

    def _corners(self, cleared: Inputs, blanks: list[Place], tries: list[Inputs]) -> Iterator[Inputs]:
        """Every choice, and every measure as far as it may go one way or the other, from a filling that contradicts nothing."""
        numbers = _measures(blanks)
        chosen = [place for place in blanks if isinstance(place.field, Choice)]
        base = next((filling for filling in tries if self._fits(cleared, filling)), {})
        words = itertools.product(*(pairs.ends(place.field, self.rule_set) for place in chosen))
        sides = itertools.product(*((place.field.least, place.field.most) for place in numbers))
        for said, ends in itertools.islice(itertools.product(words, sides), CORNERS if base else 0):
            filling = base | {place.path: word for place, word in zip(chosen, said, strict=True)}
            if not self._fits(cleared, filling):
                continue
            for place, end in zip(numbers, ends, strict=True):
                filling = self._with(filling, place, self._border(cleared, filling, place, end))
            yield filling

    def _led(self, cleared: Inputs, blanks: list[Place], tries: list[Inputs]) -> Iterator[Inputs]:
        """Where only just so much of each will do: one measure after the other put where the fewest checks stop, and the most."""
        base = next((filling for filling in tries if self._fits(cleared, filling)), {})
        for order, sign in itertools.product(itertools.permutations(_measures(blanks)), (1, -1)) if base else ():
            filling = base
            for place in order:
                filling = min(self._along(cleared, filling, place), key=lambda tried: sign * self._stops(cleared, tried))
            yield filling

    def _stops(self, cleared: Inputs, filling: Inputs) -> int:
        sheet = self.run(fill(cleared, filling), self.rule_set)
        return sum(check["outcome"] == "stop" for check in sheet["checks"]) if sheet else 0

    def _along(self, cleared: Inputs, base: Inputs, place: Place) -> Iterator[Inputs]:
        low, high = (self._border(cleared, base, place, end) for end in (place.field.least, place.field.most))
        before, after = (self._sheet(fill(cleared, self._with(base, place, end))) for end in (low, high))
        shares = _crossings(before, after) if before and after else []
        between = [(one + other) / 2 for one, other in itertools.pairwise([0.0, *shares, 1.0])] if shares else []
        for share in (0.0, 1.0, *shares, *between):
            yield self._with(base, place, low + (high - low) * share)
        beside = {*(value for sheet in (before, after) for value in _limits(sheet, place.field)), *self._given(cleared, place.field)}
        yield from (self._with(base, place, value) for value in sorted(beside) if low <= value <= high)

    def _sheet(self, inputs: Inputs) -> Result | None:
        """The sheet with a filling; decided from bounds where other blanks leave a check open, which has no margin else."""
        plain = self.run(inputs, self.rule_set)
        is_open = plain is not None and any(check["outcome"] == "unknown" for check in plain["checks"])
        return self.bounded(inputs, self.rule_set) if is_open else plain

    def _given(self, cleared: Inputs, field: Field) -> Iterator[float]:
        """What is given of the same kind: one may only do where it is just as much as another."""
        for place in pairs.places(self.calculator.inputs, cleared):
            if type(place.field) is type(field) and place.field.kind == field.kind:
                yield float(place.field.read(pairs.get(cleared, place.path), "si"))

    def _with(self, base: Inputs, place: Place, value: float) -> Inputs:
        return {**base, place.path: typed(place.field, value)}

    def _border(self, cleared: Inputs, base: Inputs, place: Place, end: float) -> float:
        """How far one may go from a filling toward an end of the field without a contradiction."""
        here = float(place.field.read(base[place.path], "si"))
        if self._fits(cleared, self._with(base, place, end)):
            return end
        for _ in range(HALVINGS):
            middle = (here + end) / 2
            here, end = (middle, end) if self._fits(cleared, self._with(base, place, middle)) else (here, middle)
        return round(here) if isinstance(place.field, (Count, Money)) else here

    def _fits(self, cleared: Inputs, filling: Inputs) -> bool:
        try:
            read: Record = read_record(self.calculator.inputs, fill(cleared, filling), "si")
        except InputErrors:
            return False
        found = self.calculator.contradictions
        return found is None or not any(found(read, Units("si", rules=self.rules)))


def _measures(blanks: list[Place]) -> list[Place]:
    """The blanks that have two ends."""
    return [place for place in blanks if isinstance(place.field, Quantity) and None not in (place.field.least, place.field.most)]


def _limits(sheet: Result | None, field: Field) -> Iterator[float]:
    """The limits of what a blank may be compared with itself."""
    for check in sheet["checks"] if sheet else ():
        if check["limit"] is not None and check["unit"] == METRIC.unit(field.kind):
            yield METRIC.inner(check["limit"], field.kind)


def _crossings(before: Result, after: Result) -> list[float]:
    """Where checks turn between two sheets, were each straight, as shares of the way."""
    others = {(check["key"], check["at"]): check["margin"] for check in after["checks"]}
    found = set()
    for check in before["checks"]:
        one, other = check["margin"], others.get((check["key"], check["at"]))
        if one is not None and other is not None and one * other < 0:
            found.add(one / (one - other))
    return sorted(found)

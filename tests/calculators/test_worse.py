"""Worse is never better: what a field declares as its worse direction never helps a check.

What physics demands, and what is still open, stands in tests/cases/worse.toml, each with an
example that shows it: an entry whose example does not improve any more must be taken out.
"""

from __future__ import annotations

import json
import random
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

import calculators
from calculators.core import Calculator
from calculators.core.report import OUTCOMES
from tests.support import pairs
from tests.support.pairs import Inputs

from ..conftest import Far

CASES: list[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "worse.toml").read_text(encoding="utf-8")
).get("case", [])
EXEMPT = {(case["calculator"], case["input"], check) for case in CASES for check in case["checks"]}
# Requests of each calculator, and inputs of each that are made worse. `--requests` takes more.
REQUESTS = {"float": 8, "plan": 20, "circuit": 120, "spiral": 60}
OTHERS = 150
MOVES = 6
each = pytest.mark.parametrize("name", calculators.NAMES)


class Better(NamedTuple):
    """A check that came out better though an input got worse."""

    calculator: str
    input: str
    check: str
    rule_set: str
    path: str
    to: Any
    inputs: Inputs
    was: str
    became: str

    def entry(self) -> str:
        """The violation as an entry of the cases."""
        return (f"[[case]]\ncalculator = {self.calculator!r}\ninput = {self.input!r}\nchecks = [{self.check!r}]\n"
                f"reason = 'open: {self.was} became {self.became}'\nrules = {self.rule_set!r}\npath = {self.path!r}\n"
                f"to = {toml(self.to)}\ninputs = {toml(self.inputs)}\n")  # fmt: skip


def toml(value: Any) -> str:
    """A value as TOML in one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        named = {f'"{key}"' if "." in key else key: each_ for key, each_ in value.items()}
        return "{ " + ", ".join(f"{key} = {toml(each_)}" for key, each_ in named.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(toml(each_) for each_ in value) + "]"
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(value)


def better(before: dict[str, Any], after: dict[str, Any]) -> Iterator[tuple[str, str, str]]:
    """Checks of the first result that come out better in the second, or are not made there any more."""
    others = {(check["key"], check["at"]): check for check in after["checks"]}
    for check in before["checks"]:
        other = others.get((check["key"], check["at"]), {"outcome": "pass"})
        if OUTCOMES.index(other["outcome"]) > OUTCOMES.index(check["outcome"]) and not _failed_softly(check, other):
            yield check["key"], check["outcome"], other["outcome"]


def compared(name: str, before: Inputs, after: Inputs, rule_set: str) -> set[tuple[str, str, str]]:
    """What comes out better, blanks decided where they can be if the plain sheets differ for want of one."""
    found: set[tuple[str, str, str]] = set()
    for bounds in (False, True):
        run = pairs.runner(calculators.get(name), bounds=bounds)
        sheets = run(before, rule_set), run(after, rule_set)
        found = set(better(*sheets)) if sheets[0] and sheets[1] else set()
        if not any("unknown" in (was, became) for _, was, became in found):
            break
    return found


def _failed_softly(check: dict[str, Any], other: dict[str, Any]) -> bool:
    """A check that fails to “take care” at worst: what was open and now surely fails got no better."""
    short = other.get("margin") is None or other["margin"] < 0
    return (check["outcome"], other["outcome"]) == ("unknown", "caution") and short


def search(calculator: Calculator, count: int, first: int = 0) -> Iterator[Better]:
    """Every improvement by a worse input among so many seeded requests."""
    run = pairs.runner(calculator, bounds=False)
    for seed in range(first, first + count):
        inputs, rule_set = pairs.made(calculator, seed)
        declared = [place for place in pairs.places(calculator.inputs, inputs) if place.field.worse]
        before = run(inputs, rule_set) if declared else None
        if before is None:
            continue
        rng = random.Random(f"worse {calculator.name} {seed}")
        for place in (rng.choice(declared) for _ in range(MOVES)):
            to = pairs.worsened(place.field, pairs.get(inputs, place.path), rng)
            changed = pairs.put(inputs, place.path, to)
            after = None if to is None else run(changed, rule_set)
            found = any(better(before, after)) if after else False
            for check, was, became in sorted(compared(calculator.name, inputs, changed, rule_set)) if found else ():
                yield Better(calculator.name, place.key, check, rule_set, place.path, to, inputs, was, became)


def least(found: Better) -> Better:
    """The same with as few inputs as show it."""
    calculator = calculators.get(found.calculator)

    def still(inputs: Inputs) -> bool:
        return pairs.get(inputs, found.path) is not None and found.check in improved(
            found.calculator, inputs, found.path, found.to, found.rule_set)  # fmt: skip

    return found._replace(inputs=pairs.fewer(found.inputs, calculator.inputs, still))


def improved(name: str, inputs: Inputs, path: str, to: Any, rule_set: str) -> set[str]:
    """The checks that come out better when one input is changed."""
    return {check for check, *_ in compared(name, inputs, pairs.put(inputs, path, to), rule_set)}


@each
def test_no_check_comes_out_better_for_a_worse_input(name: str, far: Far) -> None:
    """Stop, not known yet, take care, go: a declared worse direction never goes up, in any rule set."""
    count = far.requests or REQUESTS.get(name, OTHERS)
    found = {(each_.input, each_.check): each_ for each_ in search(calculators.get(name), count, far.first)
             if (name, each_.input, each_.check) not in EXEMPT}  # fmt: skip
    assert not found, "\n" + "\n".join(least(each_).entry() for each_ in found.values())


@each
def test_with_blanks_decided_from_bounds_too(name: str) -> None:
    """The same where the ends of what is blank decide: what was a stop at best stays one."""
    calculator = calculators.get(name)
    run = pairs.runner(calculator, bounds=True)
    for seed in range(900_000, 900_000 + REQUESTS.get(name, OTHERS) // 10):
        inputs, rule_set = pairs.made(calculator, seed)
        declared = [place for place in pairs.places(calculator.inputs, inputs) if place.field.worse]
        if not declared:
            continue
        rng = random.Random(f"bounds {name} {seed}")
        place = rng.choice(declared)
        to = pairs.worsened(place.field, pairs.get(inputs, place.path), rng)
        if to is None:
            continue
        before, after = run(inputs, rule_set), run(pairs.put(inputs, place.path, to), rule_set)
        for check, was, became in better(before, after) if before and after else ():
            if (name, place.key, check) not in EXEMPT:
                pytest.fail(Better(name, place.key, check, rule_set, place.path, to, inputs, was, became).entry())


def test_every_exception_is_needed() -> None:
    """Each example still improves every check it names, by the declared direction of a declared field."""
    idle = []
    for case in CASES:
        calculator = calculators.get(case["calculator"])
        place = next(each_ for each_ in pairs.places(calculator.inputs, case["inputs"]) if each_.path == case["path"])
        assert (place.key, bool(place.field.worse)) == (case["input"], True), case
        assert case["reason"].strip(), case
        shown = improved(case["calculator"], case["inputs"], case["path"], case["to"], case["rules"])
        idle += [(case["calculator"], case["input"], check) for check in case["checks"] if check not in shown]
    assert not idle, "no longer needed: take these out"


def test_the_search_finds_a_direction_that_is_wrong() -> None:
    """Told that a longer thread is worse, it finds legs that get better."""
    calculator = calculators.get("level")
    field = calculator.inputs.field("stud_length")
    told, field.worse = field.worse, "more"
    try:
        assert any(found.check == "engaged" for found in search(calculator, 200))
    finally:
        field.worse = told

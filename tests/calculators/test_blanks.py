"""A blank is its whole range: it hides nothing worse, keeps nothing open that is decided, stops nothing that a filling lets go.

Fields whose blank says something of its own (“as the others”, “none”), and what is still open, stand in
tests/cases/blanks.toml, each with an example that shows it; one that shows nothing any more is taken out.
"""

from __future__ import annotations

import copy
import fnmatch
import itertools
import random
import tomllib
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

import calculators
from calculators.core import Calculator, Rows, rules
from calculators.core.report import OUTCOMES
from tests.support import pairs
from tests.support.fillings import Turns, drawn, fill
from tests.support.pairs import Inputs, Place

from ..conftest import Far
from .test_worse import toml

CASES: list[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "blanks.toml").read_text(encoding="utf-8")
).get("case", [])
# Requests of each calculator; each is tried with up to three blanks. `--requests` takes more.
REQUESTS = {"float": 22, "plan": 22, "circuit": 36, "spiral": 16}
OTHERS = 50
LARGE = 200  # of plans and floats, one in so many
HIDES, OPEN, EARLY = "hides", "open", "early"
# Fillings of a stop that are tried: one that lets go is no rare border, but a blank that was taken for a figure.
FIRST = 12
each = pytest.mark.parametrize("name", calculators.NAMES)


def exempt(name: str, keys: tuple[str, ...], fault: str, cleared: Inputs) -> bool:
    """Whether one of the blanks stands in the cases; a * there is any ending."""
    return any(fnmatch.fnmatchcase(key, case["input"]) and _holds(case, cleared) for case in CASES for key in keys
               if (case["calculator"], case["fault"]) == (name, fault))  # fmt: skip


def _holds(case: dict[str, Any], cleared: Inputs) -> bool:
    """Whether what a case names besides is given, or is blank too."""
    return (all(cleared.get(key) is not None for key in case.get("given", ()))
            and all(cleared.get(key) is None for key in case.get("blank", ())))  # fmt: skip


class Blank(NamedTuple):
    """Blanks that hide what is worse, or keep open what every filling decides alike."""

    calculator: str
    fault: str
    keys: tuple[str, ...]
    rule_set: str
    paths: tuple[str, ...]
    inputs: Inputs
    fillings: tuple[Inputs, ...]
    told: str

    def entry(self) -> str:
        """The violation as an entry of the cases."""
        return (f"[[case]]\ncalculator = {self.calculator!r}\ninput = {self.keys[0]!r}\nfault = {self.fault!r}\n"
                f"reason = 'open: {self.told}'\nrules = {self.rule_set!r}\npaths = {toml(list(self.paths))}\n"
                f"inputs = {toml(self.inputs)}\nfilling = {toml(self.fillings[0])}\n")  # fmt: skip


class Sheets:
    """The two ways to run a calculator, and what whole sheets say."""

    def __init__(self, name: str) -> None:
        self.calculator: Calculator = calculators.get(name)
        self._plain = pairs.runner(self.calculator, bounds=False)
        self._bounded = pairs.runner(self.calculator, bounds=True)

    def blank(self, inputs: Inputs, rule_set: str) -> str | None:
        """The outcome as a reader gets it, blanks decided where they can be."""
        result = self._bounded(inputs, rule_set)
        return None if result is None else str(result["outcome"])

    def one_stops(self, inputs: Inputs, rule_set: str) -> bool:
        """Whether a check of its own stops, and not several together."""
        result = self._bounded(inputs, rule_set)
        return result is not None and any(check["outcome"] == "stop" for check in result["checks"])

    def filled(self, inputs: Inputs, rule_set: str, wanted: str) -> str | None:
        """The outcome of a filling; the slow way only where the plain sheet is unknown and that would tell."""
        result = self._plain(inputs, rule_set)
        if result is not None and result["outcome"] == "unknown" and wanted != "unknown":
            result = self._bounded(inputs, rule_set)
        return None if result is None else str(result["outcome"])


def fillings(sheets: Sheets, blanks: list[Place], inputs: Inputs, rng: random.Random, rule_set: str) -> list[Inputs]:
    """All that is tried in the blanks of a request."""
    tries = list(drawn(blanks, inputs, rng, rule_set))
    cleared = fill(inputs, dict.fromkeys(place.path for place in blanks))
    return [*tries, *Turns(sheets.calculator, rule_set).closer(cleared, blanks, tries)]


def search(name: str, count: int, first: int = 0) -> Iterator[Blank]:
    """Every fault of a blank among so many seeded requests."""
    sheets = Sheets(name)
    for seed in range(first, first + count):
        # A large one holds no other blanks than a small one, and takes ten times as long.
        inputs, rule_set = pairs.made(sheets.calculator, seed, small=seed % LARGE > 0)
        rng = random.Random(f"blanks {name} {seed}")
        listed = [place for place in pairs.places(sheets.calculator.inputs, inputs) if _may_be_blank(place, rule_set)]
        if listed:
            blanks = list(dict.fromkeys(rng.choice(listed) for _ in range(rng.choice((1, 1, 2, 3)))))
            yield from _tried(sheets, blanks, inputs, rng, rule_set)


def _may_be_blank(place: Place, rule_set: str) -> bool:
    """A field with a setting for blanks is no blank, nor is one that the rule set does not ask for."""
    return place.field.default is None and place.field.offered(rules.load(rule_set))


def _tried(sheets: Sheets, blanks: list[Place], inputs: Inputs, rng: random.Random, rule_set: str) -> Iterator[Blank]:
    name = sheets.calculator.name
    keys = tuple(place.key for place in blanks)
    paths = tuple(place.path for place in blanks)
    cleared = fill(inputs, dict.fromkeys(paths))
    if any(_emptied(sheets.calculator, cleared, path) for path in paths):
        return
    outcome = sheets.blank(cleared, rule_set)
    tries = list(drawn(blanks, inputs, rng, rule_set))
    turns = Turns(sheets.calculator, rule_set)
    if outcome in ("pass", "caution") and not exempt(name, keys, HIDES, cleared):
        worse = _worse(sheets, cleared, itertools.chain(tries, turns.near(cleared, blanks, tries, 1)), rule_set, outcome)
        if worse:
            yield Blank(name, HIDES, keys, rule_set, paths, cleared, (worse[0],), f"{outcome} with blanks, {worse[1]} filled")
    if outcome == "unknown" and not exempt(name, keys, OPEN, cleared):
        alike = _alike(sheets, cleared, tries, rule_set)
        if alike:  # only then is it worth looking where something turns
            alike = _alike(sheets, cleared, itertools.chain(tries[:1], turns.closer(cleared, blanks, tries)), rule_set)
        if alike:
            tries += list(turns.closer(cleared, blanks, tries))
            yield Blank(name, OPEN, keys, rule_set, paths, cleared, tuple(tries), f"not known yet, {alike} whatever fills it")
    if outcome == "stop" and not exempt(name, keys, EARLY, cleared):
        better = _better(sheets, cleared, tries[:FIRST], rule_set)
        if better:
            yield Blank(name, EARLY, keys, rule_set, paths, cleared, (better[0],), f"stop with blanks, {better[1]} filled")


def _emptied(calculator: Calculator, cleared: Inputs, path: str) -> bool:
    """Whether nothing is left of the row a path is in but how it is typed: a row of blanks is no row."""
    if "." not in path:
        return False
    rows = calculator.inputs.field(path.partition(".")[0])
    assert isinstance(rows, Rows)
    return all(rows.record.field(key).default is not None for key in pairs.get(cleared, path.rpartition(".")[0]))


def _worse(sheets: Sheets, cleared: Inputs, tries: Iterable[Inputs], rule_set: str, outcome: str) -> tuple[Inputs, str] | None:
    """A filling that comes out worse than the blank."""
    for filling in tries:
        found = sheets.filled(fill(cleared, filling), rule_set, outcome)
        if found is not None and OUTCOMES.index(found) < OUTCOMES.index(outcome):
            return filling, found
    return None


def _better(sheets: Sheets, cleared: Inputs, tries: Iterable[Inputs], rule_set: str) -> tuple[Inputs, str] | None:
    """A filling that is no stop.

    Of checks that stop only together (:mod:`calculators.core.whole`), as many may be open when one is told, and yet one of
    them stops whatever the rest is: then only a filling that decides tells anything.
    """
    better = ("unknown", "caution", "pass") if sheets.one_stops(cleared, rule_set) else ("caution", "pass")
    for filling in tries:
        found = sheets.filled(fill(cleared, filling), rule_set, "stop")
        if found in better:
            return filling, found
    return None


def _alike(sheets: Sheets, cleared: Inputs, tries: Iterable[Inputs], rule_set: str) -> str:
    """The one outcome of all fillings; nothing where they differ or stay unknown."""
    found: set[str] = set()
    for filling in tries:
        outcome = sheets.filled(fill(cleared, filling), rule_set, "unknown" if not found else "any")
        if outcome is not None:
            found.add(outcome)
        if len(found) > 1 or "unknown" in found:
            return ""
    return found.pop() if found else ""


def still(found: Blank, inputs: Inputs, sheets: Sheets) -> bool:
    """Whether a fault shows with these inputs too."""
    if not all(_parent(inputs, path) for path in found.paths):
        return False
    outcome = sheets.blank(inputs, found.rule_set)
    if found.fault == HIDES:
        return outcome in ("pass", "caution") and _worse(sheets, inputs, list(found.fillings), found.rule_set, outcome) is not None
    if found.fault == EARLY:
        return outcome == "stop" and _better(sheets, inputs, list(found.fillings), found.rule_set) is not None
    return outcome == "unknown" and bool(_alike(sheets, inputs, list(found.fillings), found.rule_set))


def _parent(inputs: Inputs, path: str) -> bool:
    """Whether the row in which a path ends is there."""
    return "." not in path or pairs.get(inputs, path.rpartition(".")[0]) is not None


def least(found: Blank) -> Blank:
    """The same with as few inputs, and as few blanks, as show it."""
    sheets = Sheets(found.calculator)
    for place in [*found.paths] if len(found.paths) > 1 else []:
        keep = tuple(path for path in found.paths if path != place)
        less = found._replace(
            paths=keep, keys=tuple(key_of(path) for path in keep), inputs=fill(found.inputs, {place: found.fillings[0][place]}),
            fillings=tuple({path: value for path, value in filling.items() if path != place} for filling in found.fillings))  # fmt: skip
        if keep and still(less, less.inputs, sheets):
            found = less
    inputs = pairs.fewer(copy.deepcopy(found.inputs), sheets.calculator.inputs, lambda tried: still(found, tried, sheets))
    return found._replace(inputs=inputs)


def key_of(path: str) -> str:
    """The path without numbers of rows."""
    return ".".join(part for part in path.split(".") if not part.isdigit())


@each
def test_a_blank_hides_nothing_and_decides_nothing_too_early_or_too_late(name: str, far: Far) -> None:
    """Never go or take care where some filling is worse, never not known yet where all agree, never stop where one is none."""
    count = far.requests or REQUESTS.get(name, OTHERS)
    each_once = {(found.fault, found.keys): found for found in search(name, count, far.first)}
    faults = {(found.fault, found.keys): found.entry() for found in map(least, each_once.values())}
    assert not faults, "\n" + "\n".join(faults.values())


def test_every_exception_is_needed() -> None:
    """Its example still shows it, for a field that is there and left blank in it."""
    idle = []
    for case in CASES:
        sheets = Sheets(case["calculator"])
        assert any(fnmatch.fnmatchcase(key_of(path), case["input"]) for path in case["paths"]), case
        assert case["reason"].strip(), case
        assert _holds(case, case["inputs"]), case
        tries = [case["filling"]]
        if case["fault"] == OPEN:
            blank = [place for place in pairs.places(sheets.calculator.inputs, case["inputs"], blank=True) if place.path in case["paths"]]
            tries += fillings(sheets, blank, fill(case["inputs"], case["filling"]), random.Random("needed"), case["rules"])
        found = Blank(case["calculator"], case["fault"], (), case["rules"], tuple(case["paths"]), case["inputs"], tuple(tries), "")
        if not still(found, case["inputs"], sheets):
            idle.append((case["calculator"], case["input"], case["fault"]))
    assert not idle, "no longer needed: take these entries out"


def test_the_search_finds_a_blank_that_hides() -> None:
    """With the rock test left out of the level, a blank one hides that the cabinet rocks."""
    case = {"leg_layout": "four", "span_x": 800.0, "span_y": 700.0, "thread": "m10", "foot": "stud", "rocks": False,
            "thread_out": 14.0, "thread_least": 2.0, "thread_most": 40.0, "stud_length": 60.0,
            "readings": [{"high": "none_across", "slope": 0.0}, {"high": "none_along", "slope": 0.0}] * 2}  # fmt: skip
    sheets = Sheets("level")
    assert sheets.blank(case, "us") == "pass"
    place = next(each_ for each_ in pairs.places(sheets.calculator.inputs, case) if each_.path == "rocks")
    assert _worse(sheets, fill(case, {"rocks": None}), fillings(sheets, [place], case, random.Random(1), "us"), "us", "pass")
    assert sheets.blank(fill(case, {"rocks": None}), "us") == "unknown"

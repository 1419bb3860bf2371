"""What each calculator says today about many odd requests, kept so that nothing that is printed changes unnoticed.

So is what each field, result and check of it is declared to be, each column of an operator's tables, what is read from
them or told where they cannot be read, and each page that is made from them.

Right or wrong is told by other tests. These only say that a word, a digit or a line of a drawing is another one than it
was; whoever meant that records anew (``test --record`` with the file) and reads in the difference which parts of
which answers are changed, and that no others are.
"""

from __future__ import annotations

import copy
import functools
import hashlib
import itertools
import json
import random
import re
import tomllib
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

import calculators
from calculators.core import Calculator, InputErrors, Rows, forms, rules
from calculators.core.fields import Field
from tests.support import editions, inputs, pairs, spoiled
from tools.book import data, tables
from tools.problems import Problems

CASES = Path(__file__).parents[1] / "cases"
KEPT = CASES / "recorded"
# Requests that told a fault which no other test did, a line each with that fault: few that are drawn come by such a place.
TELLING = CASES / "telling"
SETS = tuple(rules.RULE_SETS)
FOLDERS = 300
ENOUGH = 20  # answers that are other ones, before it is no use to look on
SEARCHED = 10  # requests that are looked at for one that is refused
# What an answer is told apart into, so that a difference says where it is; all else stands in "said".
PARTS = {"checks": ("checks",), "working": ("working", "sources", "assumed"), "drawn": ("figures",),
         "page": ("html", "verdict", "plain")}  # fmt: skip
TAG = re.compile("<[^>]*>")
AGAIN = "meant? record anew with test --record, and read which answers the difference names"
Kept = dict[str, str]
Draw = Callable[[Field, random.Random, rules.RuleSet], Any]
WAYS: tuple[Draw, ...] = (inputs.random_value, inputs.even_value)


class Drawn(NamedTuple):
    """How many of each kind of request.

    The example with a few entries changed, with some of them where something may turn, or such that not all can be true; and
    requests drawn from nothing but the fields.
    """

    changed: int = 240
    even: int = 80
    refused: int = 40
    free: int = 30


FEWER = {"plan": Drawn(120, 40, 20, 12), "float": Drawn(60, 20, 20, 10)}  # of those that take long


def requests(calculator: Calculator) -> Iterator[tuple[str, dict[str, Any]]]:
    """Each request, with a name: the example of each set, that with entries changed, drawn ones, and those that tell a fault."""
    drawn = FEWER.get(calculator.name, Drawn())
    for of in SETS:
        example, typed = calculator.example_in(of)
        yield f"example {of}", {"units": typed, "typed": typed, "rules": of, "inputs": dict(example)}
    for seed in range(drawn.changed):
        yield f"changed {seed}", inputs.agreed(calculator, _changed(calculator, seed, inputs.random_value))
    for seed in range(drawn.even):
        yield f"even {seed}", inputs.agreed(calculator, _changed(calculator, seed, inputs.even_value))
    for seed in itertools.islice(_contradictory(calculator, drawn.refused * SEARCHED), drawn.refused):
        yield f"refused {seed}", _changed(calculator, seed, WAYS[seed % 2])
    for seed in range(drawn.free):
        request = inputs.random_request(calculator, 9000 + seed, ("us", "si")[seed % 2])
        yield f"drawn {seed}", {**request, "rules": SETS[seed % len(SETS)]}
    for number, line in enumerate(telling(calculator.name)):
        yield f"telling {number}", {key: line[key] for key in ("units", "typed", "rules", "inputs")}


@functools.cache
def starts(name: str) -> list[dict[str, Any]]:
    """What is put otherwise in an example before anything is drawn, by its path.

    The examples show how a Stop reads, or a narrow Go; what is said of a Go, and what they never come by, is to change as well.
    """
    listed = tomllib.loads((CASES / "starts.toml").read_text(encoding="utf-8"))["start"]
    return [each["inputs"] for each in listed if each["calculator"] == name]


def telling(name: str) -> list[dict[str, Any]]:
    """The requests that tell a fault, each with the fault it tells."""
    path = TELLING / f"{name}.jsonl"
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()] if path.exists() else []


def _contradictory(calculator: Calculator, most: int) -> Iterator[int]:
    """Seeds, among the first so many, of requests that are refused as a whole."""
    for seed in range(most):
        if inputs.contradictions(calculator, _changed(calculator, seed, WAYS[seed % 2])):
            yield seed


def _changed(calculator: Calculator, seed: int, draw: Draw) -> dict[str, Any]:
    """The example of a set with one to four entries left out or put otherwise, also in a row of a list."""
    rng = random.Random(f"{calculator.name}-changed-{seed}")
    of = SETS[rng.randrange(len(SETS))]
    record = json.loads(json.dumps(calculator.example_for(of, "si")))
    ways = [{}, *starts(calculator.name)]
    for path, value in ways[seed % len(ways)].items():
        record = pairs.put(record, path, copy.deepcopy(value))
    for _ in range(rng.randint(1, 4)):
        _change(calculator.inputs.fields(), record, rng, rules.load(of), draw)
    units = ("us", "si")[seed // 2 % 2]
    return {"units": units, "typed": "si", "rules": of, "inputs": record}


def _change(fields: tuple[Field, ...], record: dict[str, Any], rng: random.Random, of: rules.RuleSet, draw: Draw) -> None:
    listed = [each for each in fields if each.offered(of)]
    # A list counts by all that one of its rows asks for.
    field = rng.choices(listed, [len(each.record.fields()) if isinstance(each, Rows) else 1 for each in listed])[0]
    rows = record.get(field.key)
    if isinstance(field, Rows) and rows:
        way = rng.random()
        if way < 0.15 and len(rows) > (field.least or 0):
            rows.pop(rng.randrange(len(rows)))
        elif way < 0.3 and len(rows) < (field.most or 0):
            rows.append(dict(rng.choice(rows)))
        else:
            _change(field.record.fields(), rng.choice(rows), rng, of, draw)
    elif rng.random() < 0.3:
        record.pop(field.key, None)
    elif not isinstance(field, Rows):
        record[field.key] = draw(field, rng, of)


def answers(calculator: Calculator) -> Iterator[tuple[str, Kept]]:
    """What is kept of each declaration, each form and each answer, by its name."""
    yield from _declared("field", _fields(calculator.inputs.fields()))
    yield from _declared("result", ((spec.key, spec) for spec in calculator.values))
    yield from _declared("check", ((spec.key, spec) for spec in calculator.checks))
    for of in SETS:
        held = rules.load(of)
        for units in ("us", "si"):
            for what, typed in (("filled", calculator.example_for(of, units)), ("blank", {})):
                yield f"form {of} {units} {what}", {
                    "page": _short(forms.form(calculator, typed, units, prefix="r", rules=held, from_data=of == "us"))}  # fmt: skip
    for name, request in requests(calculator):
        yield name, _answer(calculator, request)


def pages(name: str) -> Iterator[tuple[str, Kept]]:
    """What is kept of each page that is made from the data of a new operator of that rule set.

    Of those that people wrote it is the tags, which our blocks make, and in one set: words change there every week.
    """
    for place, (page, front) in editions.drawn(name).items():
        if not front and name == SETS[0]:
            yield place, {"tags": _short(TAG.findall(page))}
        elif front:
            # What is installed stands on the page of licenses.
            yield place, {"front": _short(front), **({} if place == "reference/licenses.md" else {"page": _short(page)})}


def columns() -> Iterator[tuple[str, Kept]]:
    """What is kept of each table that an operator may fill in."""
    for table in tables.TABLES:
        yield from _declared(table.name, table.columns().items())
        yield table.name, {key: _short(repr(value)) for key, value in vars(table).items() if key != "own"}


def folders() -> Iterator[tuple[str, Kept]]:
    """What is kept of each spoiled folder: what is told of it, or what is read from it."""
    for name, folder in spoiled.folders(FOLDERS):
        try:
            read = data.load(folder)
        except Problems as told:
            yield name, {"told": _short([str(problem) for problem in told.found])}
        else:
            rows = {table: [row.typed | {"": repr(sorted(row.values))} for row in rows] for table, rows in read.tables.items()}
            yield name, {"read": _short([read.company, rows])}


def _fields(fields: Iterable[Field], path: str = "") -> Iterator[tuple[str, Field]]:
    for field in fields:
        yield path + field.key, field
        if isinstance(field, Rows):
            yield from _fields(field.record.fields(), f"{path}{field.key}.")


def _declared(what: str, parts: Iterable[tuple[str, Any]]) -> Iterator[tuple[str, Kept]]:
    for key, part in parts:
        yield f"{what} {key}", {"declared": _short(repr(part))}


def _answer(calculator: Calculator, request: dict[str, Any]) -> Kept:
    try:
        told = calculators.run(calculator.name, {**request, "html": True})
    except InputErrors as refused:
        return {"refused": _short(sorted(map(str, refused.errors)))}
    parts = {part: _short([told[key] for key in keys]) for part, keys in PARTS.items()}
    apart = {key for keys in PARTS.values() for key in keys}
    return {"word": told["word"], "said": _short([value for key, value in sorted(told.items()) if key not in apart]), **parts}


def _short(told: Any) -> str:
    """A mark of all words in it. Bare numbers are left out: they are printed too, and there not to the last bit."""
    return hashlib.sha256("\n".join(_words(told)).encode()).hexdigest()[:8]


def _words(told: Any) -> Iterator[str]:
    if isinstance(told, str):
        yield told
    elif isinstance(told, dict):
        for key, value in told.items():
            yield str(key)
            yield from _words(value)
    elif isinstance(told, (list, tuple)):
        for value in told:
            yield from _words(value)
    elif told is None or isinstance(told, bool):
        yield str(told)


def kept(name: str) -> dict[str, Kept]:
    """What was recorded under a name."""
    told: dict[str, Kept] = json.loads((KEPT / f"{name}.json").read_text(encoding="utf-8"))
    return told


def held(name: str, said: Iterable[tuple[str, Kept]], request: pytest.FixtureRequest) -> None:
    """Hold what is said to what was recorded, or record it where that was asked for."""
    if request.config.getoption("--record"):
        KEPT.mkdir(exist_ok=True)
        lines = (f"{json.dumps(which)}: {json.dumps(told)}" for which, told in said)
        (KEPT / f"{name}.json").write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")
    else:
        compare(kept(name), said)


def compare(before: dict[str, Kept], said: Iterable[tuple[str, Kept]]) -> None:
    """Fail where what is said is not what was recorded, and tell the parts that are other ones."""
    named, other = [], {}
    for which, now in said:
        was = before.get(which, {})
        named.append(which)
        if parts := [part for part in was | now if was.get(part) != now.get(part)]:
            other[which] = parts
        # What changes so many changes most: the difference that recording anew leaves tells them all.
        assert len(other) < ENOUGH, f"{other} and perhaps more: {AGAIN}"
    assert other == {}, AGAIN
    assert named == list(before), AGAIN

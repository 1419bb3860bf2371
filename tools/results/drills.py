"""Finds drills: requests of the operator's own data with one value changed."""

from __future__ import annotations

import copy
import functools
import hashlib
import re
from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeGuard

import calculators
from calculators.core import InputErrors, Quantity, Rows
from calculators.core.fields import Field
from calculators.core.units import Units
from tools.book.data import OperatorData

from . import asking, coils

# What a value is tried at, as a share of its own; beyond these a drill would be a joke.
SHARES = (0.95, 1.05, 0.9, 1.1, 0.8, 1.2, 0.7, 1.35, 0.55, 1.6)
# The float plays thousands of sales for each answer, and nobody can judge it by eye.
SITE_CALCULATORS = ("clearance", "circuit")
# These stand on plates and drawings: no day changes them.
OFF_SITE = (
    "usable_length", "wire", "coil_outside", "axis_offset",
    "cabinet_volts_least", "cabinet_volts_most", "cabinet_power_factor",
)  # fmt: skip


@dataclass(frozen=True)
class Subject:
    """A real request: whose (a site or a product), and its inputs as they are on file."""

    calculator: str
    name: str
    inputs: dict[str, Any]


@dataclass(frozen=True)
class Drill:
    """One question with its answer as the calculator gives it.

    ``asked`` is the check that is to be judged, with its place; ``before`` and ``after`` are its
    outcomes. ``decides`` is what the calculator says of it then, ``working`` the steps behind it.
    """

    subject: Subject
    label: str
    was: str
    now: str
    inputs: dict[str, Any]
    asked: tuple[str, str]
    question: str
    before: str
    after: str
    decides: str
    todo: str
    working: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def turns(self) -> bool:
        """Whether go becomes stop, or the other way round."""
        return (self.before == "stop") != (self.after == "stop")

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What no two drills share."""
        return self.subject.calculator, self.subject.name, self.label, self.now


def subjects(data: OperatorData) -> list[Subject]:
    """Every site and every product of the operator, as the calculators take them."""
    found = []
    for site in data.tables["sites"]:
        for name in SITE_CALCULATORS:
            inputs = data.prefill(name, {"site": site.typed["key"]})
            found.append(Subject(name, site.typed["name"], inputs))
    for machine in data.tables["machines"]:
        for product in data.sold_in("products", machine.typed["key"]):
            found += _in_its_coil(data, machine.typed["key"], product.typed["key"])
    return found


def _in_its_coil(data: OperatorData, machine: str, product: str) -> Iterator[Subject]:
    """A product in the coil that its card names; none where no coil suits."""
    best = next(iter(coils.judged(data, machine, product)), None)
    if best and best.suits:
        inputs = data.prefill("spiral", {"machine": machine, "product": product})
        inputs.pop("coils", None)
        name = data.row("products", product).typed["name"]
        yield Subject("spiral", f"{name} in the {best.name.lower()}", {**inputs, **coils.coil_of(best.coil)})


@functools.lru_cache(maxsize=4)
def of(data: OperatorData) -> tuple[Drill, ...]:
    """The drills that an operator asks for."""
    return tuple(find(data, int(data.company.get("drills", "0"))))


def find(data: OperatorData, wanted: int, seed: int = 1) -> list[Drill]:
    """So many different drills, or as many as the data gives; the same for the same data.

    Some turn the answer and some do not, so that neither “stop” nor “no change” is a safe guess.
    """
    makers: dict[str, deque[Iterator[Drill]]] = {}
    for subject in subjects(data):
        makers.setdefault(subject.calculator, deque()).append(_drills(data, subject, seed))
    found: dict[str, Drill] = {}
    # In turn over the calculators, so that forty products do not crowd out one site.
    while any(makers.values()) and len(found) < wanted:
        for queue in makers.values():
            drill = _next(queue, found)
            if drill:
                # Two sites may differ in nothing but their names: the question would be the same.
                found.setdefault(f"{drill.subject.calculator} {drill.inputs}", drill)
    first = list(found.values())[:wanted]
    return sorted(first, key=lambda drill: _shuffled(seed, *drill.key))


def _next(queue: deque[Iterator[Drill]], found: Mapping[str, Drill]) -> Drill | None:
    """The next drill of a calculator; one that turns nothing only while the others are no fewer."""
    turns = sum(drill.turns for drill in found.values())
    while queue:
        drill = next(queue[0], None)
        if drill is None:
            queue.popleft()
            continue
        queue.rotate(-1)
        if drill.turns or len(found) - turns <= turns:
            return drill
    return None


def _shuffled(*parts: object) -> str:
    """A sort key that mixes things up, the same on every machine."""
    return hashlib.sha256(repr(parts).encode()).hexdigest()


def _drills(data: OperatorData, subject: Subject, seed: int) -> Iterator[Drill]:
    """The drills of one request, a field after the other, over and over with other shares."""
    base = _run(data, subject.calculator, subject.inputs)
    paths = sorted(_paths(subject), key=lambda each: _shuffled(seed, subject.name, each[0]))
    for number in range(len(SHARES)):
        for place, (path, field, value) in enumerate(paths):
            share = SHARES[(number + place) % len(SHARES)]
            drill = _tried(data, subject, base, path, field, value, share)
            if drill and (drill.turns or (number + place) % 3 == 0):
                yield drill


def _paths(subject: Subject) -> Iterator[tuple[str, Quantity, Any]]:
    """The measured fields that the request holds, also in its rows."""
    record = calculators.get(subject.calculator).inputs
    for field in record.fields():
        if isinstance(field, Rows):
            for number, row in enumerate(subject.inputs.get(field.key) or []):
                for each in field.record.fields():
                    if _is_measured(each) and row.get(each.key):
                        yield f"{field.key}.{number}.{each.key}", each, row[each.key]
        elif _is_measured(field) and subject.inputs.get(field.key):
            yield field.key, field, subject.inputs[field.key]


def _is_measured(field: Field) -> TypeGuard[Quantity]:
    return isinstance(field, Quantity) and field.key not in OFF_SITE


def _tried(data: OperatorData, subject: Subject, base: dict[str, Any], path: str,
           field: Quantity, value: Any, share: float) -> Drill | None:  # fmt: skip
    now = _scaled(field, value, share, data.units)
    if not now:
        return None
    inputs = copy.deepcopy(subject.inputs)
    _put(inputs, path, now)
    try:
        result = _run(data, subject.calculator, inputs)
    except InputErrors:
        return None  # a value that contradicts another is no question
    pair = _moved(base, result)
    if pair is None:
        return None
    old, check = pair
    return Drill(
        subject, _label(subject, path, field), str(value), now, inputs, (check["key"], check["at"]),
        check["place"], old["outcome"], check["outcome"], check["text"],
        check["mend"]["text"] if check["mend"] else check["note"], _working(result, check),
        tuple(check["citations"]),
    )  # fmt: skip


def _scaled(field: Quantity, value: Any, share: float, units: str) -> str:
    """Another value as a person would write it, in the unit of the one on file; "" where none."""
    text = str(value).lower()
    system = "si" if re.search(r"[\d\s](mm|cm|m|kg|g)\b", text) else units
    inner = field.read(value, units)
    now = Units(system).text(inner * share, field.kind)
    try:
        return "" if field.read(now, system) == inner else now
    except ValueError:
        return ""  # beyond what the form takes


def _moved(base: dict[str, Any], result: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]] | None:
    """The check to ask about, before and after: one that turns, or else one that only moved.

    None where the change moved nothing that is known.
    """
    before = {(each["key"], each["at"]): each for each in base["checks"]}
    pairs = [(old, each) for each in result["checks"]
             if (old := before.get((each["key"], each["at"]))) and old["text"] != each["text"]
             and "unknown" not in (old["outcome"], each["outcome"])]  # fmt: skip
    turned = [pair for pair in pairs if (pair[0]["outcome"] == "stop") != (pair[1]["outcome"] == "stop")]
    return next(iter(turned or pairs), None)


def _label(subject: Subject, path: str, field: Field) -> str:
    rows, _, rest = path.partition(".")
    if not rest:
        return field.label
    row = subject.inputs[rows][int(rest.split(".")[0])]
    where = row.get("place") or row.get("name") or row.get("kind") or ""
    return f"{field.label}, {where}" if where else field.label


def _put(inputs: dict[str, Any], path: str, value: Any) -> None:
    target: Any = inputs
    *way, last = path.split(".")
    for part in way:
        target = target[int(part)] if isinstance(target, list) else target[part]
    target[last] = value


def _working(result: dict[str, Any], check: dict[str, Any]) -> tuple[str, ...]:
    """The steps of the working that give the two numbers the check compares.

    A round number may be another step's by chance, so only a formula's uneven value counts.
    """
    wanted = {value for value in (check["value"], check["limit"]) if value and value != round(value, 2)}
    lines = {}
    for group in result["working"]:
        for step in group["steps"]:
            if step["formula"] and step["value"] in wanted:
                lines[step["value"]] = (f"{step['label']}: {step['symbol']} = {step['formula']} = "
                                        f"{step['substituted']} = {step['printed']}")  # fmt: skip
    return tuple(lines.values())


def _run(data: OperatorData, name: str, inputs: dict[str, Any]) -> dict[str, Any]:
    return asking.report(data, name, inputs)

"""Requests out of requests: a value, a name or a part is another one."""

from __future__ import annotations

import functools
import json
import random
from typing import Any

import calculators
from calculators.core import Choice, Day, Log, Quantity, Record, Rows, rules
from calculators.core.units import Units

ODD: tuple[Any, ...] = (
    None, True, False, 0, -0.0, 1, -1, 2, 7, 0.1, 1e-9, 1e9, 1e300, -1e300, 5e-324, 2**63, 10**25, "", " ", "?",
    "0", "-1", "1e5", "1/3", "1/0", "0/0", "3 1/2 in", "6' 2 3/8\"", "12,5", "½", "5 ½", "1.89 m", "NaN", "inf",
    "9" * 40, "0x10", "١٢", "\u0000", "\ud800", "\u2028", "<b>&\"'", "yes", "no", "not measured", [], {}, [[]],
    [None], {"": None}, "__class__", "constructor", "a" * 200,
)  # fmt: skip

METRIC = Units("si")


def text_of(data: bytes) -> str:
    """The fuzzer's bytes as text; bytes that are no text become odd text."""
    try:
        return data.decode("utf-8", "surrogatepass")
    except UnicodeDecodeError:
        return data.decode("utf-8", "surrogateescape")


def data_of(text: str) -> bytes:
    """The inverse."""
    return text.encode("utf-8", "surrogatepass")


def seeds(name: str) -> list[bytes]:
    """A calculator's example in every rule set, and a blank form."""
    one = calculators.get(name)
    found = []
    for key in rules.RULE_SETS:
        inputs, units = one.example_in(key)
        request = {"inputs": dict(inputs), "units": units, "rules": key, "html": key == "us"}
        found += [data_of(json.dumps(request)), data_of(json.dumps({"rules": key}))]
    return found


def changed(name: str, data: bytes, seed: int) -> bytes:
    """Another request near this one; the bytes as they are where they hold none."""
    dice = random.Random(seed)  # noqa: S311 - no secret
    try:
        request = json.loads(text_of(data))
    except (ValueError, RecursionError):
        return data
    if not isinstance(request, dict):
        return data
    if not isinstance(request.get("inputs"), dict):
        request = {**request, "inputs": {}}
    for _ in range(1 + int(dice.random() * 3)):
        _change(name, request, dice)
    return data_of(json.dumps(request, ensure_ascii=dice.random() < 0.5))


def _one(of: Any, dice: random.Random) -> Any:
    return of[int(dice.random() * len(of))]


def _change(name: str, request: dict[str, Any], dice: random.Random) -> None:
    where = dice.random()
    if where < 0.03:
        key = _one(("units", "typed", "rules", "local", "html", "inputs", "other"), dice)
        request[key] = _one(ODD, dice)
    elif where < 0.13:
        request[_one(("units", "typed"), dice)] = _one(("us", "si"), dice)
        request["rules"] = _one(tuple(rules.RULE_SETS), dice)
    elif where < 0.17:
        _own(request, dice)
    elif isinstance(request.get("inputs"), dict):
        _input(calculators.get(name).inputs, request["inputs"], dice)


@functools.cache
def _figures(name: str) -> tuple[str, ...]:
    return tuple(rules.load(name).figures)


def _own(request: dict[str, Any], dice: random.Random) -> None:
    name = request.get("rules")
    key = _one(_figures(name if name in tuple(rules.RULE_SETS) else "us"), dice)
    rule = rules.load("us").get(key)
    entry: dict[str, Any] = {"value": rule.value, "unit": rule.unit, "kind": rule.kind} if rule else {}
    if isinstance(entry.get("value"), (list, dict)) and dice.random() < 0.7:
        request["local"] = {key: {**entry, "value": _cell(entry["value"], dice)}}
        return
    entry[_one(("value", "unit", "kind", "label", "reason", "decided_by", "status", "odd"), dice)] = _one(ODD, dice)
    if isinstance(entry.get("value"), (int, float)) and dice.random() < 0.5:
        entry["value"] = rule.value * _one((0, 0.5, 2, -1), dice) if rule and isinstance(
            rule.value, (int, float)) else 1  # fmt: skip
    request["local"] = {key: entry if dice.random() < 0.9 else _one(ODD, dice)}


def _cell(table: Any, dice: random.Random) -> Any:
    """A table with another cell, without one, or with another row."""
    if not isinstance(table, (list, dict)) or not table or dice.random() < 0.1:
        return _one(ODD, dice)
    made: Any = dict(table) if isinstance(table, dict) else list(table)
    at = _one(list(made), dice) if isinstance(made, dict) else int(dice.random() * len(made))
    if dice.random() < 0.2:
        made.pop(at)
    elif isinstance(made, list) and dice.random() < 0.2:
        made = [made[at]]
    else:
        made[at] = _cell(made[at], dice)
    return made


def _input(record: type[Record], inputs: dict[str, Any], dice: random.Random) -> None:
    field = _one(record.fields(), dice)
    if dice.random() < 0.1:
        inputs.pop(field.key, None)
    elif dice.random() < 0.015:
        inputs[str(_one(ODD, dice))] = _one(ODD, dice)
    elif isinstance(field, Rows) and dice.random() < 0.8:
        _rows(field, inputs, dice)
    else:
        inputs[field.key] = _value(field, inputs.get(field.key), dice)


def _rows(field: Rows, inputs: dict[str, Any], dice: random.Random) -> None:
    rows = inputs.get(field.key)
    rows = [dict(row) if isinstance(row, dict) else {} for row in rows] if isinstance(rows, list) else []
    what = dice.random()
    if what < 0.25 or not rows:
        rows.append(dict(_one(rows, dice)) if rows else {})
    elif what < 0.35:
        rows.pop(int(dice.random() * len(rows)))
    if rows:
        _input(field.record, _one(rows, dice), dice)
    inputs[field.key] = rows


def _value(field: Any, now: Any, dice: random.Random) -> Any:
    if dice.random() < 0.05:
        return _one(ODD, dice)
    if isinstance(field, Choice):
        return _one((*field.options, None), dice)
    if isinstance(field, Log):
        return _lines(now, dice)
    if isinstance(field, Day):
        return field.shown(_one((field.least, field.most, field.example, field.example + 1), dice), METRIC)
    if isinstance(field, Quantity):
        least = field.least if field.least is not None else 0.0
        most = field.most if field.most is not None else 1000.0
        near = now if isinstance(now, (int, float)) and abs(now) < 1e12 else least + (most - least) * dice.random() ** 3
        number = _one((least, most, near, near * 1.5, near / 2, near + 1, round(near), round(near, 1)), dice)
        return number if dice.random() < 0.8 else str(number)
    return _one(ODD, dice)


def _lines(now: Any, dice: random.Random) -> str:
    """A log with a line changed, taken out, doubled or put elsewhere, or with a sign of it changed."""
    lines = str(now or "2026-11-28 09:00,4 C").split("\n")
    at, to = (int(dice.random() * len(lines)) for _ in range(2))
    what = dice.random()
    if what < 0.3:
        lines[at] = lines[at].replace(str(_one(tuple(lines[at] or " "), dice)), str(_one((";", ",", "\t", "-", "0", "9", "x", ""), dice)))
    elif what < 0.5:
        lines.insert(to, lines[at])
    elif what < 0.7:
        lines.insert(to, lines.pop(at))
    elif what < 0.8:
        lines.insert(at, str(_one(ODD, dice)))
    elif len(lines) > 1:
        lines.pop(at)
    return "\n".join(lines)

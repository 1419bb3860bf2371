"""What may change between the sheet and the day: the list of ``changes.toml``, put on real inputs."""

from __future__ import annotations

import copy
import functools
import hashlib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import calculators
from calculators.core import Count, Quantity, Rows
from calculators.core.fields import Choice, Field, Money
from calculators.core.units import Units

METRIC = re.compile(r"[\d\s](mm|cm|m|kg|g)\b")
BARE = re.compile(r"[+-]?[\d ./]+")
NAMED = ("place", "name", "coin", "kind")  # what tells rows of one kind apart, the first that a row has


@dataclass(frozen=True)
class Change:
    """One entry of the list; ``number`` is its place among those of its calculator."""

    calculator: str
    number: int
    entry: Mapping[str, Any]

    def variants(self, system: str) -> tuple[Any, ...]:
        """Its steps, words or sets of inputs, for readers of one system of units."""
        keys = ("to", system, "sets", f"{system}_sets")
        return next((tuple(self.entry[key]) for key in keys if key in self.entry), ("",) if "remove" in self.entry else ())


@dataclass(frozen=True)
class Case:
    """A change put on some inputs, in words and in fact."""

    change: Change
    label: str
    was: str
    now: str
    inputs: dict[str, Any]
    near: tuple[dict[str, Any], ...] = ()  # the same with the new value off by what its measuring may hide, either way

    @property
    def happened(self) -> str:
        """What happened, as a sentence."""
        return str(self.change.entry["happened"])

    @property
    def checks(self) -> tuple[str, ...]:
        """What may be asked about."""
        return tuple(self.change.entry["checks"])


@functools.cache
def listed(calculator: str) -> tuple[Change, ...]:
    """All changes of a calculator."""
    told = tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))
    return tuple(Change(calculator, number, entry) for number, entry in enumerate(told.get(calculator, ())))


def shuffled(*parts: object) -> str:
    """A sort key that mixes things up, the same on every machine."""
    return hashlib.sha256(repr(parts).encode()).hexdigest()


def put(change: Change, variant: Any, inputs: Mapping[str, Any], show: Units, turn: int = 0) -> Case | None:
    """The change with one of its variants on these inputs; None where it cannot happen there.

    Each ``turn`` takes another row where it can happen to several.
    """
    if any(inputs.get(key) != word for key, word in change.entry.get("needs", {}).items()):
        return None
    made = copy.deepcopy(dict(inputs))
    told = _told(change, variant, made, show, turn)
    if told is None:
        return None
    for path, word in change.entry.get("also", {}).items():
        _set(made, path, word)
    return Case(change, told.label, told.was, told.now, made, _near(told, made, show.system))


@dataclass(frozen=True)
class Told:
    """What it is, how it was, how it is now; and where one input was set, which."""

    label: str
    was: str
    now: str
    path: str = ""
    field: Field | None = None


def _near(told: Told, made: dict[str, Any], system: str) -> tuple[dict[str, Any], ...]:
    """What was read may be a little more or less."""
    field = told.field
    if not isinstance(field, Quantity) or not field.tolerance:
        return ()
    found, inner = [], field.read(_get(made, told.path), system)
    for sign in (-1, 1):
        inputs = copy.deepcopy(made)
        _set(inputs, told.path, f"{Units('si').number(inner + sign * field.tolerance, field.kind)} {Units('si').unit(field.kind)}")
        found.append(inputs)
    return tuple(found)


def _told(change: Change, variant: Any, made: dict[str, Any], show: Units, turn: int) -> Told | None:
    entry = change.entry
    if "remove" in entry:
        return _removed(change, made, turn)
    if isinstance(variant, Mapping):
        for path, word in variant.items():
            if path != "say":
                _set(made, path, word)
        return Told(entry["label"], entry["was"], variant["say"])
    return _stepped(change, str(variant), made, show, turn)


def _removed(change: Change, made: dict[str, Any], turn: int) -> Told | None:
    entry = change.entry
    rows = made.get(entry["remove"]) or []
    if len(rows) < 2:
        return None
    gone = rows.pop(_some(len(rows), turn, change.number, rows))
    return Told(f"{entry['label']}, {_called(change, entry['remove'], gone)}", entry["was"], entry["now"])


def _some(count: int, turn: int, *parts: object) -> int:
    """One of so many, mixed, and each turn the next."""
    return (int(shuffled(*parts)[:8], 16) + turn) % count


def _stepped(change: Change, step: str, made: dict[str, Any], show: Units, turn: int) -> Told | None:
    """One input set by a step from its value on file, or in its place."""
    found = _place(change, step, made, turn)
    if found is None:
        return None
    path, field, where = found
    on_file = _get(made, path)
    if on_file in (None, ""):
        on_file = _assumed(field)
    now = _moved(field, on_file, step, show.system)
    if now is None or (now == on_file and "was" not in change.entry):
        return None
    _set(made, path, now)
    label = f"{field.label}, {where}" if where else field.label
    return Told(label, change.entry.get("was") or _shown(field, on_file, show), _shown(field, now, show), path, field)


def _place(change: Change, step: str, made: Mapping[str, Any], turn: int) -> tuple[str, Field, str] | None:
    """The path of the input, its field, and what its row is called."""
    record = calculators.get(change.calculator).inputs
    rows, _, rest = change.entry["path"].partition(".")
    if not rest:
        return rows, record.field(rows), ""
    row, _, key = rest.partition(".")
    field = _column(record.field(rows), key)
    if row != "*":
        return change.entry["path"], field, ""
    fitting = [number for number, each in enumerate(made.get(rows) or []) if _fits(change, each, field, key)]
    if not fitting:
        return None
    number = fitting[_some(len(fitting), turn, change.number, step, made[rows])]
    return f"{rows}.{number}.{key}", field, "" if rows == "prices" else _called(change, rows, made[rows][number])


def _column(rows: Field, key: str) -> Field:
    if not isinstance(rows, Rows):
        raise TypeError(f"{rows.key} has no rows")
    return rows.record.field(key)


def _fits(change: Change, row: Mapping[str, Any], field: Field, key: str) -> bool:
    """Whether the change can happen to a row: of its kind, and with what it starts from on file."""
    needed = change.entry.get("needs_row", key if isinstance(field, Quantity) else "")
    return (all(row.get(name) == word for name, word in change.entry.get("where", {}).items())
            and (not needed or row.get(needed) not in (None, "")))  # fmt: skip


def _called(change: Change, rows: str, row: Mapping[str, Any]) -> str:
    """What a row is called: its place or name, or else the word of its choice."""
    record = calculators.get(change.calculator).inputs.field(rows)
    for key in NAMED:
        if row.get(key):
            field = _column(record, key)
            return _small(field.options.get(row[key], row[key])) if isinstance(field, Choice) else str(row[key])
    return ""


def _assumed(field: Field) -> Any:
    """What stands where nothing is written."""
    if isinstance(field, Choice):
        return next((word for word in field.options if field.default in (word, word == "yes")), "")
    return "" if field.default is None else str(field.default)


def _moved(field: Field, on_file: Any, step: str, system: str) -> str | None:
    """The value after a step, as a person would write it; None where the field does not take it."""
    if isinstance(field, Choice):
        return step if step in field.options else None
    if not isinstance(field, Quantity):
        return None
    try:
        now = step if step[0] not in "+-" else _added(field, str(on_file), step, system)
        field.read(now, system)
    except (ValueError, OverflowError):
        return None  # nothing on file to start from, or beyond what the form takes
    return now


def _added(field: Quantity, on_file: str, step: str, system: str) -> str:
    """A value moved by a step, written in the unit that stands on file."""
    own = "si" if METRIC.search(on_file) else system
    bare = type(field)("") if isinstance(field, (Count, Money)) else Quantity("", kind=field.kind)
    sign = -1 if step.startswith("-") else 1
    inner = field.read(on_file, system) + sign * bare.read(step[1:], system)
    if isinstance(field, Money):
        return f"{inner / 100:.2f}"
    if BARE.fullmatch(on_file):
        return f"{round(Units(system).number(inner, field.kind), 3):g}"
    return Units(own).text(inner, field.kind)


def _shown(field: Field, typed: Any, show: Units) -> str:
    """A value as a person says it: with its unit, or as the words of its choice."""
    text = str(typed)
    if isinstance(field, Choice):
        return _small(field.options.get(text, text)) if text else "nothing"
    if isinstance(field, Money):
        return show.text(field.read(text, show.system), "money")
    if isinstance(field, Quantity) and BARE.fullmatch(text):
        return f"{text} {show.unit(field.kind)}".strip()
    return text


def _small(word: str) -> str:
    """A choice's words inside a sentence; units keep their capitals."""
    return word[:1].lower() + word[1:] if word[1:2].islower() else word


def _get(inputs: Mapping[str, Any], path: str) -> Any:
    found: Any = inputs
    for part in path.split("."):
        found = found[int(part)] if isinstance(found, list) else found.get(part)
    return found


def _set(inputs: dict[str, Any], path: str, word: Any) -> None:
    """Set one input; an empty word takes it out, and a path that begins with + adds a row."""
    if path.startswith("+"):
        inputs[path[1:]] = [*(inputs.get(path[1:]) or []), dict(word)]
        return
    target: Any = inputs
    *way, last = path.split(".")
    for part in way:
        target = target[int(part)] if isinstance(target, list) else target[part]
    if word == "":
        target.pop(last, None)
    else:
        target[last] = word

"""An operator's own figures: read strictly, and looser than a safety limit only in somebody's name.

``local`` maps a figure's key to ``value``, and where they help ``unit``, ``kind``, ``label``, ``note``,
``reason`` and ``decided_by``. What stands beside the figure in the rule set (its clause, source,
status) is never carried over, and cannot be written by hand.
"""

from __future__ import annotations

import functools
import json
import math
import pkgutil
from collections.abc import Iterator, Mapping
from typing import Any

from . import units
from .errors import InputError, InputErrors
from .rules import RULE_SETS, Rule, RuleSet, load

PARTS = ("value", "unit", "kind", "label", "note", "reason", "decided_by")
# What a row of a table may say of itself.
STATUS = "status"
# Tables and words on which nobody's safety rests: subjects, and single figures.
_HARMLESS = ("coins", "goods", "circuit.words")
_LONGEST = 400


def with_own(rules: RuleSet, local: Any) -> RuleSet:
    """The rule set with the operator's own figures in it.

    Raises :class:`InputErrors` with every figure that cannot be used.
    """
    if local in (None, {}):
        return rules
    if not isinstance(local, Mapping):
        raise InputErrors((InputError("local", "Own figures", _short(local), "Figures by their keys are required.",
                                      'For example {"space.rear_gap": {"value": 6, "unit": "in"}}.'),))  # fmt: skip
    errors = tuple(error for key, facts in local.items() for error in _errors(rules, str(key), facts))
    if errors:
        raise InputErrors(errors)
    stands_for = {key: base(rules, key) for key in local}
    return rules.with_local({key: _figure(found, local[key], rules.get(key))
                             for key, found in stands_for.items() if found})  # fmt: skip


def base(rules: RuleSet, key: str) -> Rule | None:
    """The figure that an own one stands in for; another set's where this set has none."""
    found = rules.get(key)
    if found is not None:
        return found
    others = (load(name).get(key) for name in RULE_SETS if name != rules.name)
    return next((figure for figure in others if figure is not None), None)


def stricter(key: str) -> str:
    """The direction in which a safety limit gets stricter: "more", "less", or "" for other figures."""
    subject, _, name = key.partition(".")
    return str(_directions().get(subject, {}).get(name, ""))


@functools.cache
def _directions() -> dict[str, dict[str, str]]:
    for ending in ("json", "toml"):  # packed for the browser it is JSON
        try:
            data = pkgutil.get_data("calculators.rules", f"stricter.{ending}") or b""
        except OSError:
            continue
        if ending == "json":
            return dict(json.loads(data))
        import tomllib  # not wanted in the browser, where importing it would cost the reader time

        return tomllib.loads(data.decode())
    return {}


def _errors(rules: RuleSet, key: str, facts: Any) -> Iterator[InputError]:
    found = base(rules, key)
    if found is None:
        yield _refused(key, key, "There is no such figure in any rule set.", "Copy the key from the page of the rules.")
        return
    if not isinstance(facts, Mapping) or "value" not in facts:
        yield _refused(key, facts, "It is not a figure.", "Write its value, and its unit where it has one.")
        return
    yield from _part_errors(key, facts)
    wrong = _value_error(found, facts)
    if wrong:
        yield _refused(key, facts["value"], wrong, _as_published(found))
        return
    looser = _looser_than(found, facts, rules.get(key))
    if looser and not (_text(facts, "reason") and _text(facts, "decided_by")):
        yield _refused(key, facts["value"], *(
            (f"It is looser than {looser}, which is a safety limit.",
             "Write a stricter figure, or a reason and decided_by: who answers for it.") if _is_number(found.value) else
            (f"It may be looser than {looser}, and safety rests on it.", "Write a reason and decided_by: who answers for it.")))  # fmt: skip


def _part_errors(key: str, facts: Mapping[str, Any]) -> Iterator[InputError]:
    for part in facts:
        if part not in PARTS:
            yield _refused(f"{key}.{part}", facts[part], "An own figure has no such part.", f"Parts: {', '.join(PARTS)}.")
        elif part != "value" and not (isinstance(facts[part], str) and len(facts[part]) <= _LONGEST):
            yield _refused(f"{key}.{part}", facts[part], f"A text of at most {_LONGEST} characters is required.", "")


def _value_error(found: Rule, facts: Mapping[str, Any]) -> str:
    """What is wrong with the value beside the figure it stands in for; "" for nothing."""
    value = facts["value"]
    if not _is_number(found.value):
        return "" if _alike(found.value, value) else "It must have the shape of the figure that it stands in for."
    if not _is_number(value):
        return "A number is required."
    if not math.isfinite(value) or value < 0 <= found.value:
        return "A number of 0 or more is required."
    if facts.get("kind", found.kind) != found.kind:
        return f"It must be of the kind “{found.kind or 'number'}”."
    return _unit_error(found, facts.get("unit", found.unit))


def _unit_error(found: Rule, unit: str) -> str:
    if not found.kind:
        return "" if unit == found.unit else f"It must be in {found.unit or 'plain numbers'}."
    try:
        units.to_inner(1.0, unit, found.kind)
    except (KeyError, AttributeError, TypeError):
        return f"The unit “{_short(unit)}” does not fit."
    return ""


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _alike(published: Any, own: Any) -> bool:
    """Whether an own table, row or cell can stand where the published one does.

    A table has a row; a row has the columns that every published row has, and none that no
    published row has; a number is no less than 0, and more where every published one is.
    """
    if isinstance(published, list):
        return isinstance(own, list) and bool(own or not published) and _rows_alike(published, own)
    if isinstance(published, Mapping):
        return isinstance(own, Mapping) and _rows_alike([published], [own])
    if _is_number(published):
        return _is_number(own) and math.isfinite(own) and (own > 0 or own == 0 >= published or own == published)
    return type(own) is type(published) and len(str(own)) <= _LONGEST


def _rows_alike(published: list[Any], own: list[Any]) -> bool:
    rows = [row for row in published if isinstance(row, Mapping)]
    if not rows:
        return all(_alike(min(published, default=each), each) for each in own)
    columns = {column: [row[column] for row in rows if column in row] for row in rows for column in row}
    always = {column for column, cells in columns.items() if len(cells) == len(rows)} - {STATUS}
    return all(
        isinstance(row, Mapping) and always <= set(row) <= set(columns)
        and all(_alike(_least(columns[column]), cell) for column, cell in row.items())
        for row in own
    )  # fmt: skip


def _least(cells: list[Any]) -> Any:
    """The cell that allows most: the smallest number, else any."""
    return min(cells) if all(_is_number(cell) for cell in cells) else cells[0]


def _figure(found: Rule, facts: Mapping[str, Any], published: Rule | None) -> dict[str, Any]:
    """The facts of an own figure, complete, with what it is looser than."""
    looser = _looser_than(found, facts, published)
    return {"label": found.label, "unit": found.unit, "kind": found.kind, "note": "", **facts,
            "value": _without_status(facts["value"]), "looser_than": looser}  # fmt: skip


def _without_status(value: Any) -> Any:
    """A row's own word on how far to trust it was the published row's: an own one has none."""
    if not isinstance(value, list):
        return value
    return [{key: cell for key, cell in row.items() if key != STATUS} if isinstance(row, Mapping) else row
            for row in value]  # fmt: skip


def _looser_than(found: Rule, facts: Mapping[str, Any], published: Rule | None) -> str:
    """What an own figure is looser than, or may be where nobody can tell by a number; "" for nothing.

    A table or a word may take a check away, or add a permission, by its mere presence: only what concerns coins and
    goods alone, or names things, is free.
    """
    if _is_number(found.value):
        return _as_published(published) if published and _is_looser(published, facts) else ""
    if found.key.partition(".")[0] in _HARMLESS or found.key in _HARMLESS:
        return ""
    if published is None:
        return "this rule set, which has no such rule"
    return "" if facts["value"] == published.value else _as_published(published)


def _is_looser(published: Rule, facts: Mapping[str, Any]) -> bool:
    if not stricter(published.key):
        return False
    own = Rule("", facts["value"], "", facts.get("unit", published.unit), published.kind).inner
    noise = 1e-9 * max(1.0, abs(published.inner))
    if stricter(published.key) == "more":
        return bool(own < published.inner - noise)
    return bool(own > published.inner + noise)


def _as_published(rule: Rule) -> str:
    value = f"{rule.value} {rule.unit}".strip() if not isinstance(rule.value, (list, dict)) else "a table"
    return f"{value} ({rule.citation})"


def _refused(key: str, value: Any, limit: str, mend: str) -> InputError:
    return InputError(f"local.{key}", f"Own figure {_short(key)}", _short(value), limit, mend)


def _short(value: Any) -> str:
    text = str(value)
    return text if len(text) <= 80 else f"{text[:80]}…"


def _text(facts: Mapping[str, Any], part: str) -> str:
    value = facts.get(part, "")
    return value.strip() if isinstance(value, str) else ""

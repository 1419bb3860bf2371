"""What stands in a row or a group of a form, in one short line; `docs/assets/js/brief.js` says the same of an open page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from .fields import Choice, Field, Flag, Log, Quantity, Record, Rows
from .rules import RuleSet
from .units import Units

# A number and nothing else, as the page's own script has it (inputs.js).
BARE = re.compile(r"[\d\s.,/⁄+−–\-¼½¾⅛⅜⅝⅞]*")
MOST = 5  # more than so many values nobody takes in at a glance
_JOINT = re.compile(r"([*/])")
_JOINED = {"*": " × ", "/": " of "}


def value(field: Field, typed: Any, show: Units) -> str:
    """A typed value as one reads it out: with its unit, a choice by its first words, a yes by what it is about."""
    if typed in (None, "", []):
        return ""
    if isinstance(field, Rows):
        return f"{len(typed)} {field.noun}{'s' if len(typed) > 1 else ''}"
    if isinstance(field, Flag):
        return field.label if typed in (True, "yes") else ""
    if isinstance(field, Choice):
        return re.split(r"[:,(]", field.words(show.rules).get(typed, str(typed)))[0].strip()
    if isinstance(field, Log):
        return lines(str(typed))
    unit = show.unit(field.kind) if isinstance(field, Quantity) else ""
    text = str(typed).strip()
    return f"{text} {unit}" if unit and BARE.fullmatch(text) else text


def lines(text: str) -> str:
    """How much a long text holds."""
    count = text.strip().count("\n") + 1
    return f"{count} line{'s' if count > 1 else ''}"


def group(fields: Iterable[Field], typed: Mapping[str, Any], show: Units) -> str:
    """The first values of a group of fields."""
    said = [value(field, typed.get(field.key), show) for field in fields if field.applies(typed)]
    return ", ".join([each for each in said if each][:MOST])


def row(field: Rows, typed: Mapping[str, Any], show: Units) -> str:
    """A row by what its list says of one: ``width*height`` is one measure by another, ``count/capacity`` one of another."""
    said = (_joined(field.record, entry, typed, show) for entry in field.brief or _all(field.record, show.rules))
    return " · ".join([each for each in said if each][:MOST])


def _all(record: type[Record], rules: RuleSet | None) -> list[str]:
    return [each.key for each in record.fields() if each.offered(rules)]


def _joined(record: type[Record], entry: str, typed: Mapping[str, Any], show: Units) -> str:
    text = ""
    for joint, key in zip(["", *_JOINT.findall(entry)], re.split(_JOINT.pattern, entry)[::2], strict=True):
        field = record.field(key)
        said = value(field, typed.get(key), show) if field.applies(typed) else ""
        unit = show.unit(field.kind) if isinstance(field, Quantity) else ""
        if text and said and unit and said.endswith(f" {unit}"):
            text = text.removesuffix(f" {unit}")  # 36 × 80 in, as one says it
        text += (_JOINED.get(joint, "") if text else "") + said if said else ""
    return text

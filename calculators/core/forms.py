"""A calculator's form as an HTML fragment, from its fields alone."""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape
from typing import Any

from .calculator import Calculator
from .fields import Choice, Field, Quantity, Rows
from .html import symbol
from .rules import RuleSet
from .units import SYSTEM_NAMES, Units

# A number and nothing else, as the page's own script has it (inputs.js).
_BARE = re.compile(r"[\d\s.,/⁄+−–\-¼½¾⅛⅜⅝⅞]*")


def form(
    calculator: Calculator, typed: Mapping[str, Any], system: str, *, prefix: str, rules: RuleSet | None = None
) -> str:
    """The form with ``typed`` values in it; ``prefix`` keeps the ids of a page apart.

    ``rules`` leaves out fields and choices that its own listings do not have.
    """
    show = Units(system, rules=rules)
    fields = [field for field in calculator.inputs.fields() if field.offered(rules)]
    first = [field for field in fields if field.first]
    rest = [field for field in fields if not field.first]
    body = _fieldset("", first, typed, show, prefix)
    groups = list(dict.fromkeys(field.group for field in rest))
    more = "".join(
        _fieldset(group, [field for field in rest if field.group == group], typed, show, prefix)
        for group in groups
    )
    closed = f'<details class="hb-more"><summary>More measurements</summary>{more}</details>' if more else ""
    return (
        f'<form class="hb-form" novalidate autocomplete="off" aria-label="{escape(calculator.title)}">'
        f'<div class="hb-errors" role="alert" tabindex="-1" hidden></div>'
        f"{_systems(system, prefix)}{body}{closed}"
        '<div class="hb-buttons"><button type="submit" class="hb-button hb-button--main">Work it out'
        '</button><button type="button" class="hb-button" data-do="clear">Clear</button>'
        '<button type="button" class="hb-button" data-do="example">Example</button></div></form>'
    )


def progress() -> str:
    """The line that a long calculation fills, with the button that ends it early."""
    return (
        '<div class="hb-progress" hidden><progress max="1" aria-label="Share of the work done"></progress>'
        '<span></span><button type="button" class="hb-button" data-do="stop">Stop and show the best so far'
        "</button></div>"
    )


def _systems(system: str, prefix: str) -> str:
    radios = "".join(
        f'<label class="hb-radio"><input type="radio" name="units" value="{key}"'
        f"{' checked' if key == system else ''}> {escape(name)}</label>"
        for key, name in SYSTEM_NAMES.items()
    )
    return f'<fieldset class="hb-systems"><legend>Units</legend>{radios}</fieldset>'


def _fieldset(title: str, fields: list[Field], typed: Mapping[str, Any], show: Units, prefix: str) -> str:
    legend = f"<legend>{escape(title)}</legend>" if title else ""
    body = "".join(control(field, typed.get(field.key), show, f"{prefix}-{field.key}", field.key)
                   for field in fields)  # fmt: skip
    return f'<fieldset class="hb-group">{legend}{body}</fieldset>' if body else ""


def control(field: Field, value: Any, show: Units, ident: str, path: str) -> str:
    """One labelled control with its hint and unit."""
    if isinstance(field, Rows):
        return _rows(field, value or [], show, ident, path)
    hint = _hint(field, show)
    described = f' aria-describedby="{ident}-hint"' if hint else ""
    when = f' data-when="{field.when[0]}" data-is="{" ".join(field.when[1])}"' if field.when else ""
    inner = _choice(
        field, value, ident, path, described, show) if isinstance(field, Choice) else _entry(
        field, value, show, ident, path, described)  # fmt: skip
    hint_html = f'<span class="hb-hint" id="{ident}-hint">{escape(hint)}</span>' if hint else ""
    mark = f' <span class="hb-small">{symbol(field.symbol)}</span>' if field.symbol else ""
    return (
        f'<div class="hb-field"{when}><label for="{ident}">{escape(field.label)}{mark}</label>'
        f"{hint_html}{inner}</div>"
    )


def _hint(field: Field, show: Units) -> str:
    parts = [field.help]
    if field.default is not None and not isinstance(field, Choice):
        parts.append(f"Left blank: {field.assumed(show)}.")
    return " ".join(part for part in parts if part)


def _entry(field: Field, value: Any, show: Units, ident: str, path: str, described: str) -> str:
    numeric = isinstance(field, Quantity)
    # decimal keyboards lack the space, the slash and the foot mark, which US lengths need
    plain_number = numeric and not (field.kind in ("length", "run") and show.system == "us")
    mode = ' inputmode="decimal"' if plain_number else ""
    unit = show.unit(field.kind) if numeric else ""
    # The unit stands beside the box already; a value in a unit of its own stands alone.
    shown = str(value or "").removesuffix(f" {unit}") if unit else str(value or "")
    own = "" if _BARE.fullmatch(shown) else " hidden"
    suffix = f'<span class="hb-unit" data-unit-of="{field.kind}"{own}>{escape(unit)}</span>' if unit else ""
    return (
        f'<span class="hb-entry"><input type="text" id="{ident}" name="{path}" '
        f'value="{escape(shown)}"{mode}{described}>{suffix}</span>'
    )


def _choice(field: Choice, value: Any, ident: str, path: str, described: str, show: Units) -> str:
    chosen = {True: "yes", False: "no"}.get(value, value)
    words = field.words(show.rules)
    options = "".join(
        f'<option value="{escape(word)}"{" selected" if word == chosen else ""}>{escape(shown)}</option>'
        for word, shown in words.items()
    )
    usual = words.get(field.default) if field.default in words else None
    blank = "Not known" if field.default is None else f"As usual: {usual or field.assumed_word()}"
    return (
        f'<select id="{ident}" name="{path}"{described}><option value="">{escape(blank)}</option>{options}</select>'
    )


def _rows(field: Rows, values: list[Mapping[str, Any]], show: Units, ident: str, path: str) -> str:
    rows = "".join(_row(field, row, show, f"{ident}-{number}", f"{path}.{number}", number)
                   for number, row in enumerate(values))  # fmt: skip
    blank = _row(field, {}, show, f"{ident}-#", f"{path}.#", -1)
    hint = f'<p class="hb-hint">{escape(field.help)}</p>' if field.help else ""
    return (
        f'<fieldset class="hb-rows" data-rows="{path}" data-most="{field.most:g}">'
        f"<legend>{escape(field.label)}</legend>{hint}<div>{rows}</div>"
        f'<template>{blank}</template><button type="button" class="hb-button" data-do="add">'
        f"Add {escape(field.noun)}</button></fieldset>"
    )


def _controls(
    field: Rows, row: Mapping[str, Any], show: Units, ident: str, path: str, *, settings: bool
) -> str:
    """The controls of one row: those to measure, or the settings that are right as they are."""
    return "".join(
        control(each, row.get(each.key), show, f"{ident}-{each.key}", f"{path}.{each.key}")
        for each in field.record.fields()
        if (each.default is not None and each.key not in row) == settings
    )


def _row(field: Rows, row: Mapping[str, Any], show: Units, ident: str, path: str, number: int) -> str:
    shown = _controls(field, row, show, ident, path, settings=False)
    folded = _controls(field, row, show, ident, path, settings=True)
    more = f'<details class="hb-more"><summary>More about it</summary>{folded}</details>'
    controls = shown + (more if folded else "")
    name = f"{field.noun.capitalize()} {number + 1 if number >= 0 else ''}".strip()
    return (
        f'<fieldset class="hb-row" data-noun="{escape(field.noun.capitalize())}"><legend>{escape(name)}'
        f"</legend>{controls}"
        f'<button type="button" class="hb-button hb-button--quiet" data-do="remove">'
        f"Remove {escape(field.noun)}</button></fieldset>"
    )

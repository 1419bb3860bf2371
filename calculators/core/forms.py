"""A calculator's form as an HTML fragment, from its fields alone."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from typing import Any

from . import brief
from .calculator import Calculator
from .fields import Choice, Field, Log, Quantity, Rows
from .moments import Day, Moment
from .rules import RuleSet
from .units import SYSTEM_NAMES, Units

# Rows of so few boxes stand in one line each, as in a table; longer ones open to be edited.
IN_LINE = 3
# A list with longer words than these takes a whole line of a phone.
LONG = 14


def form(
    calculator: Calculator, typed: Mapping[str, Any], system: str, *, prefix: str, rules: RuleSet | None = None,
    from_data: bool = False,
) -> str:  # fmt: skip
    """The form with ``typed`` values in it; ``prefix`` keeps the ids of a page apart.

    ``rules`` leaves out fields and choices that its own listings do not have; what our data hold is folded away
    where the values are ``from_data``.
    """
    show = Units(system, rules=rules)
    fields = [field for field in calculator.inputs.fields() if field.offered(rules)]
    first, rest = ([field for field in fields if field.first is wanted] for wanted in (True, False))
    few = [_first(part, typed, show, prefix, from_data) for part in _parts(first)]
    more = [_fold(_rest(group, first), _of(rest, group), typed, show, prefix) for group in _groups(rest)]
    return (
        f'<form class="hb-form" novalidate autocomplete="off" aria-label="{escape(calculator.title)}">'
        f'<div class="hb-errors" role="alert" tabindex="-1" hidden></div>{"".join(few)}{"".join(more)}'
        f'<div class="hb-buttons hb-form-foot">{_systems(system)}'
        '<button type="button" class="hb-button" data-do="clear">Clear</button>'
        '<button type="button" class="hb-button" data-do="example">Example</button>'
        '<button type="button" class="hb-button" data-do="undo" hidden>Undo</button></div></form>'
    )


def _rest(group: str, first: list[Field]) -> str:
    """The heading of what is left of a group."""
    return f"{group}, more" if group and group in _groups(first) else group or "More"


def _groups(fields: list[Field]) -> list[str]:
    return list(dict.fromkeys(field.group for field in fields))


def _of(fields: list[Field], group: str) -> list[Field]:
    return [field for field in fields if field.group == group]


def _parts(first: list[Field]) -> list[list[Field]]:
    """The short form's fields by group; groups of one field that follow each other stand together."""
    parts: list[list[Field]] = []
    for group in _groups(first):
        fields = _of(first, group)
        if parts and len(fields) == 1 and not _is_group(parts[-1]):
            parts[-1] += fields
        else:
            parts.append(fields)
    return parts


def _is_group(fields: list[Field]) -> bool:
    return len(fields) > 1 and bool(fields[0].group) and fields[0].group == fields[-1].group


def _first(fields: list[Field], typed: Mapping[str, Any], show: Units, prefix: str, from_data: bool) -> str:
    """A group of the short form can be folded away; what stands alone just stands there."""
    if _is_group(fields):
        known = all(field.card for field in fields)
        return _fold(fields[0].group, fields, typed, show, prefix, is_open=not (from_data and known), known=known)
    return _fieldset(fields, typed, show, prefix)


def _fold(title: str, fields: list[Field], typed: Mapping[str, Any], show: Units, prefix: str, *,
          is_open: bool = False, known: bool = False) -> str:  # fmt: skip
    """A group with a heading that says, while it is closed, what stands in it."""
    named = not (len(fields) == 1 and isinstance(fields[0], Rows))
    return (
        f'<details class="hb-more hb-part"{" data-known" if known else ""}{" open" if is_open else ""}><summary>'
        f'<span class="hb-part-name">{escape(title)}</span> '
        f'<span class="hb-brief">{escape(brief.group(fields, typed, show))}</span></summary>'
        f"{_fieldset(fields, typed, show, prefix, title if named else '')}</details>"
    )


def progress() -> str:
    """The line that a long calculation fills, with the button that ends it early."""
    return (
        '<div class="hb-progress" hidden><progress max="1" aria-label="Share of the work done"></progress>'
        '<span></span><button type="button" class="hb-button" data-do="stop">Stop and show the best so far'
        "</button></div>"
    )


def _systems(system: str) -> str:
    radios = "".join(
        f'<label class="hb-radio"><input type="radio" name="units" value="{key}"'
        f"{' checked' if key == system else ''}> {escape(name)}</label>"
        for key, name in SYSTEM_NAMES.items()
    )
    return f'<fieldset class="hb-systems"><legend>Units</legend>{radios}</fieldset>'


def _fieldset(fields: list[Field], typed: Mapping[str, Any], show: Units, prefix: str, title: str = "") -> str:
    body = "".join(control(field, typed.get(field.key), show, f"{prefix}-{field.key}", field.key)
                   for field in fields)  # fmt: skip
    if not title:
        return f'<div class="hb-group">{body}</div>'
    return f'<fieldset class="hb-group"><legend class="hb-visually-hidden">{escape(title)}</legend>{body}</fieldset>'


def control(field: Field, value: Any, show: Units, ident: str, path: str) -> str:
    """One labelled control with its hint and unit."""
    if isinstance(field, Rows):
        return _rows(field, value or [], show, ident, path)
    hint = _hint(field, show)
    described = f' aria-describedby="{ident}-hint"' if hint else ""
    inner = _choice(
        field, value, ident, path, described, show) if isinstance(field, Choice) else _entry(
        field, value, show, ident, path, described)  # fmt: skip
    is_long = isinstance(field, (Log, Moment)) or (isinstance(field, Choice) and _longest(field, show) > LONG)
    long = " hb-field--long" if is_long else ""
    hint_html = f'<span class="hb-hint" id="{ident}-hint">{escape(hint)}</span>' if hint else ""
    return (
        f'<div class="hb-field{long}"{_when(field)}><label for="{ident}">{escape(field.label)}</label>{inner}{hint_html}</div>'
    )


def _when(field: Field) -> str:
    """What it hangs on, for the page to hide it elsewhere."""
    return f' data-when="{field.when[0]}" data-is="{" ".join(field.when[1])}"' if field.when else ""


def _longest(field: Choice, show: Units) -> int:
    return max(map(len, (*field.words(show.rules).values(), _blank(field))))


def _blank(field: Choice) -> str:
    """What stands in a list of which nothing is chosen."""
    return "Not known" if field.default is None else f"As usual: {field.assumed_word()}"


def _hint(field: Field, show: Units) -> str:
    parts = [field.help]
    if field.default is not None and not isinstance(field, Choice):
        parts.append(f"Left blank: {field.assumed(show)}.")
    return " ".join(part for part in parts if part)


def _entry(field: Field, value: Any, show: Units, ident: str, path: str, described: str) -> str:
    if isinstance(field, Log):
        return _log(field, value, ident, path, described)
    if isinstance(field, Day):
        # The browser's own calendar; a moment has a T between day and time there.
        shown = str(value or "").replace(" ", "T")
        return (f'<span class="hb-entry"><input type="{field.control}" id="{ident}" name="{path}" value="{escape(shown)}"'
                f"{described}></span>")  # fmt: skip
    numeric = isinstance(field, Quantity)
    # decimal keyboards lack the space, the slash and the foot mark, which US lengths need
    plain_number = numeric and not (field.kind in ("length", "run") and show.system == "us")
    mode = ' inputmode="decimal"' if plain_number else ""
    unit = show.unit(field.kind) if numeric else ""
    # The unit stands beside the box already; a value in a unit of its own stands alone.
    shown = str(value or "").removesuffix(f" {unit}") if unit else str(value or "")
    own = "" if brief.BARE.fullmatch(shown) else " hidden"
    suffix = f'<span class="hb-unit" data-unit-of="{field.kind}"{own}>{escape(unit)}</span>' if unit else ""
    return (
        f'<span class="hb-entry"><input type="text" id="{ident}" name="{path}" '
        f'value="{escape(shown)}"{mode}{described}>{suffix}</span>'
    )


def _log(field: Log, value: Any, ident: str, path: str, described: str) -> str:
    """A box to paste lines into; the page's script adds a button that opens a file, and says how much it holds."""
    # A new line after the tag is not part of the text, so that one must stand there.
    return (
        f'<span class="hb-log" data-most="{field.most:g}"><textarea id="{ident}" name="{path}" rows="4" spellcheck="false" '
        f'autocapitalize="off"{described}>\n{escape(str(value or ""))}</textarea></span>'
    )


def _choice(field: Choice, value: Any, ident: str, path: str, described: str, show: Units) -> str:
    chosen = {True: "yes", False: "no"}.get(value, value)
    words = field.words(show.rules)
    options = "".join(
        f'<option value="{escape(word)}"{" selected" if word == chosen else ""}>{escape(shown)}</option>'
        for word, shown in words.items()
    )
    return (
        f'<select id="{ident}" name="{path}"{described}><option value="">{escape(_blank(field))}</option>{options}</select>'
    )


def _rows(field: Rows, values: list[Mapping[str, Any]], show: Units, ident: str, path: str) -> str:
    rows = "".join(_row(field, row, show, f"{ident}-{number}", f"{path}.{number}", number)
                   for number, row in enumerate(values))  # fmt: skip
    blank = _row(field, {}, show, f"{ident}-#", f"{path}.#", -1)
    hint = f'<p class="hb-hint">{escape(field.help)}</p>' if field.help else ""
    return (
        f'<fieldset class="hb-rows" data-rows="{path}"{_when(field)} data-most="{field.most:g}" '
        f'data-noun="{escape(field.noun)}" data-brief="{escape(" ".join(field.brief))}">'
        f"<legend>{escape(field.label)}</legend>{hint}<div>{rows}</div>"
        f'<template>{blank}</template><button type="button" class="hb-button" data-do="add">'
        f"Add {escape(field.noun)}</button></fieldset>"
    )


def _is_settled(field: Field, row: Mapping[str, Any]) -> bool:
    """A setting that is right as it is."""
    return field.default is not None and field.key not in row


def _controls(fields: list[Field], row: Mapping[str, Any], show: Units, ident: str, path: str) -> str:
    return "".join(
        control(each, row.get(each.key), show, f"{ident}-{each.key}", f"{path}.{each.key}") for each in fields
    )


def _row(field: Rows, row: Mapping[str, Any], show: Units, ident: str, path: str, number: int) -> str:
    fields = [each for each in field.record.fields() if each.offered(show.rules)]
    name = f"{field.noun.capitalize()} {number + 1 if number >= 0 else ''}".strip()
    noun = escape(field.noun)
    if len(fields) <= IN_LINE and not any(each.when for each in fields):
        return (
            f'<fieldset class="hb-row hb-row--line" data-columns="{len(fields)}" data-noun="{noun.capitalize()}">'
            f'<legend class="hb-row-name">{escape(name)}</legend>{_controls(fields, row, show, ident, path)}'
            f"{_tool('remove', '✕', f'Remove {noun}')}</fieldset>"
        )
    return _long_row(field, fields, row, show, ident, path, name)


def _long_row(field: Rows, fields: list[Field], row: Mapping[str, Any], show: Units, ident: str, path: str,
              name: str) -> str:  # fmt: skip
    """One line that opens to be edited; a row still blank stands open."""
    settled = [each for each in fields if _is_settled(each, row)]
    shown = [each for each in fields if each not in settled]
    folded = _controls(settled, row, show, ident, path)
    more = f'<details class="hb-more"><summary>More about it</summary><div class="hb-group">{folded}</div></details>'
    noun = escape(field.noun)
    tools = "".join(_tool(act, sign, f"{words} {noun}") for act, sign, words in _ROW_TOOLS)
    return (
        f'<details class="hb-row" data-noun="{noun.capitalize()}"{"" if row else " open"}><summary>'
        f'<span class="hb-row-name">{escape(name)}</span> '
        f'<span class="hb-brief">{escape(brief.row(field, row, show))}</span></summary>'
        f'<div class="hb-group">{_controls(shown, row, show, ident, path)}</div>{more if folded else ""}'
        f'<div class="hb-row-tools">{tools}</div></details>'
    )


_ROW_TOOLS = (("up", "↑", "Move up"), ("down", "↓", "Move down"), ("double", "⧉", "Copy"), ("remove", "✕", "Remove"))


def _tool(act: str, sign: str, words: str) -> str:
    return (
        f'<button type="button" class="hb-button hb-button--quiet" data-do="{act}" aria-label="{words}" '
        f'title="{words}"><span aria-hidden="true">{sign}</span></button>'
    )

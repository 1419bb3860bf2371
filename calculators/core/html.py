"""Definitions and results as HTML fragments, in the order a reader wants them.

The same functions serve the built page, the page in the browser and the printed sheet,
so that their texts cannot differ. Plain strings only; nothing here knows a page.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

from .calculator import Calculator
from .fields import Choice, Field, Rows
from .own import stricter
from .report import OUTCOME_SIGNS, OUTCOME_WORDS, OUTCOMES
from .units import KINDS, Units, to_inner

# A limit that stands alone in another unit is rounded to where it is stricter.
SAFE_SIDE = {"more": "up", "less": "down", "": "near"}
_CUSTOMARY = {Units("us").unit(kind) for kind in KINDS} - {Units("si").unit(kind) for kind in KINDS} | {"ft", "°F"}
EARLY = "A first answer: its figures are less exact. The full one follows by itself."
WIDE = 18  # characters; a longer text has a line of its own on paper
NARROW = 39  # characters; what fits a phone of 390 px, measured
REASON = 23  # characters; the least width of a fourth or later column of reasons, as calculator.css has it
SHORT = 16  # characters; a longer text at the end of a row is a reason
_FIGURE = re.compile(r"[−+±]?[$€£]?[\d.,]*\d(?: ?[^\s\d]{1,8})?")
_SUBSCRIPT = re.compile(r"([^\W_]+)_(\w+)")
_MIXED = re.compile(r"(?<=\d) (?=\d+/\d+\b)(?![^<>]*>)", re.ASCII)


def symbol(text: str) -> str:
    """A symbol or formula with its subscripts set."""
    return _SUBSCRIPT.sub(r"\1<sub>\2</sub>", escape(text))


def unbroken(markup: str) -> str:
    """Markup in whose text a number keeps its fraction beside it: of 9 1/2 in, a line that begins with 1/2 in reads as a half."""
    return _MIXED.sub("\N{NO-BREAK SPACE}", markup)


def badge(outcome: str) -> str:
    """An outcome as a shape, a word and (through its class) a colour."""
    return (
        f'<span class="hb-badge hb-badge--{outcome}"><span class="hb-sign" aria-hidden="true">'
        f"{OUTCOME_SIGNS[outcome]}</span> {OUTCOME_WORDS[outcome]}</span>"
    )


# -- results --------------------------------------------------------------------------


def report(calculator: Calculator, result: Mapping[str, Any]) -> str:
    """A whole result in the order of its use: verdict, what to do, what is open, figure, main values; the rest folded."""
    passed = [check for check in result["checks"] if check["outcome"] == "pass"]
    main = [value for value in result["values"] if value["main"]] or result["values"]
    more = [value for value in result["values"] if value not in main]
    parts = [
        _given(calculator, result), _head(result), _early(result), _todo(result), _open_checks(result), _figures(result),
        _values("Worked out", main), _tables(result, detail=False), _passed(passed),
        folded("More values", _grid_of(more)) if more else "", _tables(result, detail=True), _working(result),
        _sources(result), _assumed(result), _unchecked(result),
    ]  # fmt: skip
    return unbroken("".join(parts))


def _given(calculator: Calculator, result: Mapping[str, Any]) -> str:
    """What was measured, for paper: there the form is left out."""
    items = _items(calculator.inputs.fields(), result["inputs"])
    rows = "".join(f"<dt{wide}>{escape(label)}</dt><dd{wide}>{escape(text)}</dd>" for label, text in items
                   for wide in [' class="hb-wide"' if len(text) > WIDE else ""])  # fmt: skip
    return f'<dl class="hb-given">{rows}</dl>' if rows else ""


def _items(fields: tuple[Field, ...], typed: Mapping[str, Any]) -> list[tuple[str, str]]:
    items = []
    for field in fields:
        value = typed.get(field.key)
        if not field.applies(typed):
            continue
        if isinstance(field, Rows):
            for number, row in enumerate(value or [], 1):
                inner = ", ".join(f"{label.lower()} {text}" for label, text in
                                  _items(field.record.fields(), row))  # fmt: skip
                items.append((f"{field.noun.capitalize()} {number}", inner))
        elif value not in (None, ""):
            shown = field.options.get(value, value) if isinstance(field, Choice) else value
            items.append((field.label, str(shown)))
    return items


def _head(result: Mapping[str, Any]) -> str:
    local = ", ".join(result["local"])
    looser = "".join(f"<br>{escape(each)}" for each in result["looser"])
    warn = f'<p class="hb-local">This operator’s own figures are used: {escape(local)}.{looser}</p>' if local else ""
    caution = result["caution"]
    before = f'<p class="hb-before"><strong>Before you rely on this:</strong> {escape(caution)}</p>' if caution else ""
    return (
        f'<div class="hb-outcome hb-outcome--{result["outcome"]}" '
        f'data-outcome="{result["outcome"]}">{badge(result["outcome"])}'
        f'<p class="hb-headline">{escape(result["after_word"])}</p></div>{before}{warn}'
    )


def _early(result: Mapping[str, Any]) -> str:
    return f'<p class="hb-early hb-small">{EARLY}</p>' if result.get("early") else ""


def verdict(result: Mapping[str, Any]) -> str:
    """The answer in one line, for where there is room for no more."""
    return f'{badge(result["outcome"])} <span class="hb-bar-why">{escape(result["brief"])}</span>'


def _todo(result: Mapping[str, Any]) -> str:
    rows = "".join(f"<li>{escape(action)}</li>" for action in result["actions"])
    follow = result["measure_next"]
    help_ = f'<p class="hb-next hb-small">{escape(follow["help"])}</p>' if follow and follow["help"] else ""
    return f'<div class="hb-todo"><h3>What to do now</h3><ul>{rows}</ul>{help_}</div>' if rows else ""


def _figures(result: Mapping[str, Any]) -> str:
    drawn = "".join(f'<figure class="hb-plan">{svg}</figure>' for svg in result["figures"])
    return f'<div class="hb-plans">{drawn}</div>' if drawn else ""


def _values(title: str, values: list[Mapping[str, Any]]) -> str:
    return _headed(title, _grid_of(values)) if values else ""


def _grid_of(values: list[Mapping[str, Any]]) -> str:
    rows = "".join(
        f'<tr><th scope="row">{escape(value["label"])}</th><td class="hb-number">'
        f'<output data-value="{value["key"]}">{escape(value["text"])}</output>'
        f'{_small("± " + escape(value["tolerance"])) if value["tolerance"] else ""}</td></tr>'
        for value in values
    )
    return f'<table class="hb-values"><tbody>{rows}</tbody></table>'


def _small(text: str) -> str:
    return f' <span class="hb-small">{text}</span>' if text else ""


def _tables(result: Mapping[str, Any], *, detail: bool) -> str:
    each = [table for table in result["tables"] if table["detail"] == detail]
    draw = folded if detail else _headed
    drawn = "".join(draw(table["title"], cells(table)) for table in each)
    return drawn if detail or not drawn else f'<div class="hb-tables">{drawn}</div>'


def _headed(title: str, inner: str) -> str:
    return f"<h3>{escape(title)}</h3>{inner}"


def folded(title: str, inner: str, name: str = "") -> str:
    """Something a reader opens on demand; ``name`` is a class of its own."""
    return f'<details class="{f"hb-details {name}".strip()}"><summary>{escape(title)}</summary>{inner}</details>'


def cells(each: Mapping[str, Any]) -> str:
    """A table of a result without its heading."""
    return grid(each["title"], each["columns"], each["rows"], each["note"], result=True)


def table(title: str, columns: Any, rows: Any, note: str = "") -> str:
    """A titled table of printed cells; it scrolls by itself on a narrow screen."""
    return _headed(title, grid(title, columns, rows, note))


def grid(title: str, columns: Any, rows: Any, note: str = "", *, result: bool = False) -> str:
    """The table alone; ``title`` is what a listener hears. Of a ``result``: what people typed shapes no other."""
    head = "".join(f'<th scope="col">{escape(name)}</th>' for name in columns)
    # A reason at the end of a row wants a readable width; a figure there does not.
    is_short = all(len(row[-1]) <= SHORT for row in rows)
    # On a phone each row of a wide one is a few short lines, its cells named: nothing to push sideways.
    is_wide = result and _width(columns, rows, is_short) > NARROW
    names = [f' data-label="{escape(name)}"' if is_wide else "" for name in columns]
    body = "".join(f"<tr>{''.join(map(_cell, names, row))}</tr>" for row in rows)
    after = f'<p class="hb-small">{escape(note)}</p>' if note else ""
    looks = f'hb-table{" hb-short" if result and is_short else ""}{" hb-named" if is_wide else ""}'
    return (
        f'<div class="hb-scroll" tabindex="0" role="region" '
        f'aria-label="{escape(title)}"><table class="{looks}"><thead><tr>{head}</tr></thead><tbody>{body}'
        f"</tbody></table></div>{after}"
    )


def _width(columns: Sequence[str], rows: Sequence[Sequence[str]], is_short: bool) -> int:
    """How wide a table is at least, in characters: by its heads and figures, as other texts may be what people typed."""
    told = ([head, *filter(_FIGURE.fullmatch, cells)] for head, *cells in zip(columns, *rows, strict=True))
    needed = [max(len(word) for text in texts for word in text.split(" ")) for texts in told]
    if not is_short and len(needed) > 3:
        needed[-1] = REASON
    return sum(needed) + 2 * len(needed)


def _cell(name: str, text: str) -> str:
    return f"<td{name}>{escape(text)}</td>"


def _open_checks(result: Mapping[str, Any]) -> str:
    """What fails, is close or is not known, in this order."""
    open_ = sorted((check for check in result["checks"] if check["outcome"] != "pass"),
                   key=lambda check: OUTCOMES.index(check["outcome"]))  # fmt: skip
    return _headed("Not settled", _list_of(open_)) if open_ else ""


def _passed(checks: list[Mapping[str, Any]]) -> str:
    count = "1 check passes" if len(checks) == 1 else f"{len(checks)} checks pass"
    return folded(count, _list_of(checks), "hb-passed") if checks else ""


def _list_of(checks: list[Mapping[str, Any]]) -> str:
    return f'<ul class="hb-checks">{"".join(_check(check) for check in checks)}</ul>'


def _check(check: Mapping[str, Any]) -> str:
    cited = "; ".join(dict.fromkeys(check["citations"]))
    parts = [
        f'<li class="hb-check" data-outcome="{check["outcome"]}" data-check="{check["key"]}">',
        f'<div>{badge(check["outcome"])} <strong>{escape(check["place"])}</strong></div>',
        f'<div>{escape(check["text"])}</div>',
        f'<div class="hb-mend">Fix: {escape(check["mend"]["text"])}</div>' if check["mend"] else "",
        f'<div class="hb-small">{escape(check["note"])}</div>' if check["note"] else "",
        f'<div class="hb-caution">{escape(check["caution"])}</div>'
        if check["caution"] and check["outcome"] != "pass" else "",
        f'<div class="hb-small">Rule: {escape(cited)}</div>' if cited else "",
        "</li>",
    ]  # fmt: skip
    return "".join(parts)


def _working(result: Mapping[str, Any]) -> str:
    if not result["working"]:
        return ""
    groups = "".join(
        f"<h4>{escape(group['title'])}</h4><ol class=\"hb-working\">"
        + "".join(_step(step) for step in group["steps"]) + "</ol>"
        for group in result["working"]
    )  # fmt: skip
    return folded("Working, step by step", groups)


def _step(step: Mapping[str, Any]) -> str:
    unit = f" {step['unit']}" if step["unit"] else ""
    name = symbol(step["symbol"])
    if step["formula"]:
        middle = f"{name} = {symbol(step['formula'])}<br>= {escape(step['substituted'])} = "
    else:
        middle = f"{name} = "
    tail = "; ".join(part for part in (step["citation"], step["note"]) if part)
    return (
        f"<li><span>{escape(step['label'])}</span> <span class=\"hb-math\">{middle}"
        f"<strong>{escape(step['printed'] + unit)}</strong></span>{_small(escape(tail))}</li>"
    )


def _sources(result: Mapping[str, Any]) -> str:
    if not result["sources"]:
        return ""
    rows = "".join(
        f"<li>{escape(rule['label'])}: {escape(_figure(rule, result.get('units', 'us')))} – {escape(rule['citation'])}."
        f"{_small(escape(rule['note']))}</li>"
        for rule in result["sources"]
    )
    return folded(f"Rules used ({result['rules_title']})", f"<ul>{rows}</ul>")


def _figure(rule: Mapping[str, Any], system: str) -> str:
    """As it was published; for whoever measures in metric, inches and pounds in metric, toward the safe side."""
    value, unit, kind = rule["value"], rule["unit"], rule.get("kind", "")
    if isinstance(value, (list, dict)):
        return "table"
    if system == "us" or not kind or unit not in _CUSTOMARY:
        return f"{value} {unit}".strip()
    return Units("si").text(to_inner(value, unit, kind), kind, SAFE_SIDE[stricter(rule["key"])])


def _assumed(result: Mapping[str, Any]) -> str:
    rows = "".join(f"<li>{escape(each['label'])}: {escape(each['text'])}</li>" for each in result["assumed"])
    return folded("What is assumed", f"<ul>{rows}</ul>") if rows else ""


def _unchecked(result: Mapping[str, Any]) -> str:
    """Never folded: what nobody looked at must not be overlooked."""
    rows = "".join(f"<li>{escape(each)}</li>" for each in result["not_checked"])
    return f'<h3>Not checked here</h3><ul class="hb-unchecked">{rows}</ul>' if rows else ""


def plain(result: Mapping[str, Any]) -> str:
    """The result as plain text, to copy into a message."""
    lines = [f"{result['title']}: {result['headline']}"]
    lines += [f"- {action}" for action in result["actions"]]
    lines += [f"{value['label']}: {value['text']}" for value in result["values"]]
    lines += [f"[{check['word']}] {check['place']}: {check['text']}" for check in result["checks"]]
    lines += ["Not checked: " + " ".join(result["not_checked"])] if result["not_checked"] else []
    return "\n".join(lines)

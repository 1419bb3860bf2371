"""``{{rule key}}`` and ``{{data path}}`` in prose: numbers that cannot drift.

Beside them ``{{why}}…{{/why}}`` round sentences that only give a reason: the short form on paper leaves them out;
``{{card ITEM}}`` and ``{{site FACT}}`` (:mod:`.card`), and ``{{only FEATURE}}`` (:mod:`.only`).
"""

from __future__ import annotations

import functools
import re
from collections.abc import Callable

from calculators.core import rules
from calculators.core.html import SAFE_SIDE
from calculators.core.own import stricter
from calculators.core.rules import Rule
from calculators.core.units import Units
from tools.book import text as written
from tools.problems import nearest

from . import card, only
from .context import Context

MARK = re.compile(r"\{\{\s*(.*?)\s*\}\}")
REASON = {"why": '<span class="hb-reason">', "/why": "</span>"}


def fill(text: str, line: int, context: Context) -> str:
    """The line with every mark replaced; mistakes are reported, the mark then stays."""
    alone = bool(MARK.fullmatch(text.strip()))

    def put(found: re.Match[str]) -> str:
        word, _, rest = found.group(1).partition(" ")
        if found.group(1) in REASON:
            return REASON[word]
        readers: dict[str, Callable[[str, int, Context], str]] = {"rule": _rule, "data": _data, "site": card.site, "card": functools.partial(card.item, alone=alone)}
        if word not in readers:
            context.report(line, f"“{found.group()}” is neither a rule nor data.",
                           "Write {{rule KEY}}, {{data PATH}}, {{card ITEM}}, {{site FACT}} or {{why}}…{{/why}}.")  # fmt: skip
            return found.group()
        return readers[word](rest.strip(), line, context) or found.group()

    if [word for word in MARK.findall(text) if word in REASON] != ["why", "/why"] * text.count("{{/why}}"):
        context.report(line, "A {{why}} and its {{/why}} do not stand in one line.", "Write {{why}}A reason.{{/why}}")
    return MARK.sub(put, only.fill(text, line, context))


def _rule(key: str, line: int, context: Context) -> str:
    figure = context.rules.get(key)
    if figure is None and in_another_set(key):
        return f"(no figure in our rules, {context.rules.title}: ask the authority)"
    if figure is None:
        close = nearest(key, list(context.rules.figures))
        context.report(line, f"There is no rule “{key}”.", close)
        return ""
    return written.markdown(figure_text(figure, context.data.units))


def in_another_set(key: str) -> bool:
    """Whether any rule set has this figure: then its lack is told to the reader, and is no mistake."""
    return any(rules.load(name).get(key) for name in rules.RULE_SETS)


def figure_text(figure: Rule, system: str = "us") -> str:
    """A figure as prose shows it.

    In US units the published one first and the other system's beside it, as tapes there show both; in a metric
    handbook the metric one alone.
    """
    value = f"{figure.value:g}" if isinstance(figure.value, (int, float)) else str(figure.value)
    gap = "" if figure.unit.startswith("%") else " "
    own = f"{value}{gap}{figure.unit}".strip()
    if not figure.kind:
        return own
    if system == "si":
        return own if figure.unit == Units("si").unit(figure.kind) else Units("si").text(
            figure.inner, figure.kind, SAFE_SIDE[stricter(figure.key)])  # fmt: skip
    other = Units("si" if figure.unit == Units("us").unit(figure.kind) else "us")
    if other.unit(figure.kind) in ("", figure.unit):
        return own
    return f"{own} ({other.text(figure.inner, figure.kind)})"


def _data(path: str, line: int, context: Context) -> str:
    try:
        return written.markdown(context.data.value(path))
    except KeyError as error:
        context.report(line, f"The data has no “{path}”.", str(error.args[0]))
        return ""

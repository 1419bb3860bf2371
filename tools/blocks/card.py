"""``{{card power_switch}}`` and ``{{site panel}}``: the reader's own cabinet and site in the middle of a step.

Alone in its line an item of the card becomes an inset with its label; inside a sentence it is the words themselves,
where they are short. Of several models each has its words, and the page's script leaves those of the reader's
cabinet. What a card lacks is a line to write on, and a stop where safety hangs on it.
"""

from __future__ import annotations

import posixpath

from tools.book import card, text
from tools.book.card import Item
from tools.book.tables import SITE_FACTS, Row
from tools.problems import nearest

from .context import Context

# Longer words interrupt a sentence.
SHORT = 40
BLANK = '<span class="hb-write">____________________</span>'
STOP = "<strong>Stop: do not go on.</strong> The office must fill this in first."


def item(key: str, line: int, context: Context, *, alone: bool) -> str:
    """An item of the card as HTML in a line; empty where there is none of that name."""
    known = card.items()
    if key not in known:
        context.report(line, f"There is no item “{key}” of the card.", nearest(key, list(known)))
        return ""
    context.items_used.setdefault(key, set()).add(context.page)
    said = _said(known[key], context)
    if not alone and all(len(words) <= SHORT for words, _ in said) and all(words for words, _ in said):
        return _in_line(known[key], said)
    return _inset(known[key], said, context)


def _said(item: Item, context: Context) -> list[tuple[str, list[Row]]]:
    """What the models' cards say, each with those that say so."""
    found: dict[str, list[Row]] = {}
    for machine in context.data.tables["machines"]:
        if card.may_have(machine, item.has):
            found.setdefault(card.words(context.data, machine, item.key), []).append(machine)
    return list(found.items())


def _in_line(item: Item, said: list[tuple[str, list[Row]]]) -> str:
    if not said:
        return "(none of our cabinets has this)"
    several = len(said) > 1
    parts = [f'<span data-for="{_keys(models)}">{text.markdown(words.rstrip("."))}'
             f'{f"""<span class="hb-whose"> ({_names(models)})</span>""" if several else ""}</span>'
             for words, models in said]  # fmt: skip
    between = '<span class="hb-whose">, </span>'
    return f'<span class="hb-incard">{between.join(parts)}</span>'


def _inset(item: Item, said: list[tuple[str, list[Row]]], context: Context) -> str:
    if not said:
        words = "none of our cabinets has this."
    else:
        words = " ".join(_of_models(item, each, models, context, named=len(said) > 1) for each, models in said)
    return f'<span class="hb-oncard"><strong>{text.markdown(item.label)}:</strong> {words}</span>'


def _of_models(item: Item, words: str, models: list[Row], context: Context, *, named: bool) -> str:
    whose = f'<em class="hb-whose">{_names(models)}:</em> ' if named else ""
    shown = text.markdown(words) if words else f"{STOP if item.stop else ''}{BLANK}"
    pictures = "".join(_picture(item, model, context) for model in models)
    return f'<span data-for="{_keys(models)}">{whose}{shown}{pictures}</span>'


def _picture(item: Item, machine: Row, context: Context) -> str:
    """A way to the picture, which stands on the card's own page."""
    row = card.rows(context.data).get((machine.typed["key"], item.key))
    if row is None or not row.typed.get("picture"):
        return ""
    page = f"reference/cabinet-{machine.typed['key']}.md"
    return f" [Picture]({posixpath.relpath(page, posixpath.dirname(context.page) or '.')}#card-{item.key})"


def _names(models: list[Row]) -> str:
    return text.markdown(", ".join(model.typed["name"] for model in models))


def _keys(models: list[Row]) -> str:
    return " ".join(model.typed["key"] for model in models)


def site(key: str, line: int, context: Context) -> str:
    """A site's own fact: the page's script puts it in for the reader's site."""
    if key not in SITE_FACTS:
        context.report(line, f"There is no fact “{key}” of a site.", nearest(key, list(SITE_FACTS)))
        return ""
    label = SITE_FACTS[key].label
    return f'<span class="hb-onsite" data-fact="{key}">see the site sheet, “{label}”</span>'

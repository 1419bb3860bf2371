"""No text of a reader, a rule or a definition ever becomes markup, wherever it is shown."""

from __future__ import annotations

import functools
import json
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from hypothesis import given, settings

import calculators
from calculators.core import (
    Calculator,
    CheckSpec,
    Choice,
    Count,
    Flag,
    Log,
    Money,
    Quantity,
    Record,
    Rows,
    Text,
    ValueSpec,
    Work,
    forms,
    html,
)  # fmt: skip
from calculators.core.drawing import Drawing, bars
from calculators.core.units import Units
from tests.support.markup import BREAKS, NASTY, holds, hostile

# Keys of our own that a result is drawn by, and drawings, which are markup (see below for theirs).
OURS = {"outcome", "key", "kind", "calculator", "units", "rules", "field", "figures", "data", "sense"}


def spoiled(value: Any, text: str) -> Any:
    """A result with a text behind every text of it that is shown."""
    if isinstance(value, dict):
        return {key: each if key in OURS else spoiled(each, text) for key, each in value.items()}
    if isinstance(value, (list, tuple)):
        return [spoiled(each, text) for each in value]
    return f"{value} {text}" if isinstance(value, str) and value else value


@functools.cache
def example(name: str, rules: str) -> str:
    """The result of an example, as JSON so that none is changed by its user."""
    one = calculators.get(name)
    inputs, units = one.example_in(rules)
    return json.dumps(calculators.run(name, {"inputs": dict(inputs), "units": units, "rules": rules}))


@settings(max_examples=15)
@given(text=hostile)
@pytest.mark.parametrize("rules", ["us", "uk"])
@pytest.mark.parametrize("name", calculators.NAMES)
def test_no_text_of_a_result_becomes_markup(name: str, rules: str, text: str) -> None:
    one = calculators.get(name)
    result = json.loads(example(name, rules))
    assert holds(lambda word: html.report(one, spoiled(result, word)), text) > 20


def test_every_kind_of_text_that_a_result_can_show_is_escaped() -> None:
    """One of each part, each said here, so that no example has to happen to have it."""
    check = {"outcome": "stop", "key": "k", "place": "", "text": "", "mend": {"text": ""}, "note": "", "caution": "",
             "citations": [""]}  # fmt: skip
    step = {"symbol": "", "formula": "", "label": "", "substituted": "", "printed": "", "unit": "", "note": "",
            "citation": ""}  # fmt: skip

    def drawn(text: str) -> str:
        filled = dict.fromkeys(step, text)
        result = {
            "inputs": {"name": text}, "local": [text], "looser": [text], "caution": text, "outcome": "stop",
            "headline": f"Stop. {text}", "after_word": f"Stop. {text}", "decides": f"Stop. {text}", "brief": text, "actions": [text], "figures": [],
            "values": [{"label": text, "symbol": text, "key": "k", "text": text, "tolerance": text, "main": main} for main in (False, True)],
            "tables": [{"title": text, "columns": [text], "rows": [[text]], "note": text, "detail": detail}
                       for detail in (False, True)] + [{"title": "", "columns": [text] * 9, "rows": [[text] * 9], "note": "", "detail": False}],
            "checks": [{key: [text] if key == "citations" else {"text": text} if key == "mend" else
                        value or text for key, value in check.items()}],
            "working": [{"title": text, "steps": [filled, {**filled, "formula": ""}]}],
            "sources": [{"label": text, "value": text, "unit": text, "citation": text, "note": text}],
            "rules_title": text, "assumed": [{"label": text, "text": text}], "not_checked": [text],
            "measure_next": {"label": text, "help": text},
        }  # fmt: skip
        return html.report(hostile_calculator("t"), result) + html.verdict(result)

    assert holds(drawn, NASTY) >= 42 + 27


def hostile_calculator(text: str) -> Calculator:
    """A calculator of which every text is this one."""

    class Row(Record):
        """A row."""

        name = Text(text, text)
        wide = Quantity(text, text, kind="length", symbol=text, least=1, most=10_000, example=900, default=100)

    class Inputs(Record):
        """One field of each type."""

        name = Text(text, text, first=True)
        wide = Quantity(text, text, kind="length", symbol=text, least=1, most=10_000, example=900, group=text)
        many = Count(text, help=text, example=1, default=2)
        price = Money(text, help=text)
        sort = Choice(text, {text: text, "b": text}, help=text, group=text)
        usual = Choice(text, {"a": text, "b": text}, default="a")
        sure = Flag(text, help=text)
        rows = Rows(text, Row, text, help=text, example=())

    def solve(inputs: Any, work: Work) -> None:
        work.check("k", inputs.wide, 1e4, at=text, note=text, instead=text, needs=("wide",))
        work.value("v", inputs.wide)
        work.table("key", text, {"column": text}, [(text,)], text)

    return Calculator("t", text, text, text, Inputs, (ValueSpec("v", text, "length", text, text),),
                      (CheckSpec("k", text, "length", caution=text),), solve, {}, text, (text,))  # fmt: skip


@settings(max_examples=50)
@given(text=hostile)
def test_no_text_of_a_definition_becomes_markup_in_its_form(text: str) -> None:
    typed = {"name": text, "wide": text, "many": text, "price": text, "rows": [{"name": text, "wide": text}]}
    # 21 texts of the fields and their groups, two rows (one of them blank) and what was typed.
    assert holds(lambda word: forms.form(hostile_calculator(word), {**typed, **dict.fromkeys(
        ("name", "wide", "many", "price"), word), "rows": [{"name": word, "wide": word}]}, "us", prefix="p"), text) >= 35


@settings(max_examples=30)
@given(text=hostile)
def test_no_text_of_a_definition_becomes_markup_in_its_result(text: str) -> None:
    def drawn(word: str) -> str:
        one = hostile_calculator(word)
        request = {"inputs": {"name": word, "wide": 900, "sort": "b", "rows": [{"name": word}]}, "units": "si"}
        return html.report(one, one.run(request))

    assert holds(drawn, text) >= 12


@pytest.mark.parametrize("half", [BREAKS[:10], BREAKS[10:]], ids=["first", "second"])
@pytest.mark.parametrize("name", calculators.NAMES)
def test_a_text_of_every_calculator_s_inputs_stays_a_text(name: str, half: tuple[str, ...]) -> None:
    """Every free text, of the rows too, and an own figure's words, all the way through the border."""
    text = f"a{''.join(half)}z"
    assert len(text) + 2 <= Text.longest
    holds(functools.partial(answered, name), text, whole=name not in ("plan", "cold", "restock"))  # which shorten names in a drawing, lines of a log


def answered(name: str, text: str) -> str:
    """The page's fragment for an example with a text in every text field and beside an own figure."""
    one = calculators.get(name)
    inputs = dict(one.example)
    for number, field in enumerate(one.inputs.fields()):
        if isinstance(field, Log):
            inputs[field.key] = f"{inputs[field.key]}\n{text}"  # among lines that can be read
        elif isinstance(field, Text):  # two names must differ: the same person counts once
            inputs[field.key] = f"{text}{number}"
        elif isinstance(field, Rows):
            words = [each.key for each in field.record.fields() if isinstance(each, Text)]
            inputs[field.key] = [{**row, **dict.fromkeys(words, text)} for row in inputs.get(field.key, [])]
    read = json.loads(example(name, "us"))
    own = next((rule for rule in read["sources"] if isinstance(rule["value"], (int, float))), None)
    local = {own["key"]: {"value": own["value"], "unit": own["unit"], "label": text, "note": text}} if own else {}
    request = {"inputs": inputs, "units": one.example_units, "html": True, "local": local}
    answer = json.loads(calculators.run_json(name, json.dumps(request)))
    assert "html" in answer, answer
    if own:
        assert text in {rule["label"] for rule in answer["sources"]}
    return str(answer["html"])


@settings(max_examples=50)
@given(text=hostile)
def test_no_text_of_a_drawing_becomes_markup(text: str) -> None:
    """Words, dimensions, bars, title and description; strict XML, so that every mark counts."""
    show = Units("si")

    def drawn(word: str) -> str:
        drawing = Drawing((0, 0, 100, 100), show, title=word, description=word)
        drawing.text((1, 1), word)
        drawing.dim((0, 0), (50, 0), words=word)
        drawing.dim((0, 0), (0, 50), words=word)
        return drawing.svg()

    def rows(word: str) -> str:
        return bars([(word, 1.0, 2.0)], "ratio", show, title=word, description=word)

    for picture, times in ((drawn, 5), (rows, 3)):
        assert holds(picture, text) == times
        words = [each.text for each in ET.fromstring(picture(text)).iter() if each.text]
        assert sum(text in word for word in words) == times


def test_plain_text_is_as_it_was_written() -> None:
    """What is copied into a message is no markup, so nothing in it is changed."""
    result = spoiled(json.loads(example("level", "us")), NASTY)
    assert html.plain(result).count(NASTY) > 5
    assert "&amp;lt;" not in html.plain(result)

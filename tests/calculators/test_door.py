"""Whatever text comes in, JSON in UTF-8 goes out, and it names what is wrong."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators import door
from calculators.core import Quantity
from calculators.core.errors import InputError

FILE = Path(__file__).parents[1] / "cases" / "door.json"
CASES = json.loads(FILE.read_text(encoding="utf-8"))


def text_of(case: dict[str, Any], field: str) -> str:
    """A case's text: a pair in it is a text and how often it stands there."""
    parts = (part if isinstance(part, str) else part[0] * part[1] for part in case["text"])
    return "".join(parts).replace("FIELD", field)


def number_of(name: str) -> str:
    """The first field of a calculator that takes a number."""
    fields = calculators.get(name).inputs.fields()
    return next(each.key for each in fields if isinstance(each, Quantity))


def answered(name: str, text: str) -> dict[str, Any]:
    """The answer, held to what every answer must be."""

    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is not JSON")

    written = calculators.run_json(name, text)
    answer: dict[str, Any] = json.loads(written.encode().decode(), parse_constant=refuse)
    assert "fault" not in answer, answer["fault"]
    assert ("errors" in answer) != ("outcome" in answer)
    return answer


# A case that the fuzz found names its calculator; one made by hand is put to all, and says what is wrong.
TRIED = [(name, case) for case in CASES for name in ([case["name"]] if "name" in case else calculators.NAMES)]


@pytest.mark.parametrize(("name", "case"), TRIED, ids=[f"{case['why']}-{name}" for name, case in TRIED])
def test_every_text_is_answered_with_what_is_wrong(name: str, case: dict[str, Any]) -> None:
    field = number_of(name)
    answer = answered(name, text_of(case, field))
    if "says" in case:
        assert answer["errors"][0]["field"] == case.get("field", "").replace("FIELD", field)
        assert case["says"] in answer["errors"][0]["message"]


@pytest.mark.parametrize("text", ["{}", '{"inputs": null}', '{"inputs": {}, "units": null, "local": null}',
                                  "\ufeff{}", ' {"html": false} '])  # fmt: skip
@pytest.mark.parametrize("name", calculators.NAMES)
def test_what_says_nothing_is_a_blank_form(name: str, text: str) -> None:
    """Absent and null say nothing; so does the mark that some editors put before a text."""
    assert answered(name, text)["outcome"] == "unknown"


def test_lists_may_lie_as_deep_as_the_limit_and_no_deeper() -> None:
    most = door.DEEPEST
    for opened, closed in (("[", "]"), ('{"b":', "}")):
        inner = "[0, 1]" if opened == "[" else "1"
        lists = most - 2 if opened == "[" else most - 1  # the request and the innermost count too
        assert door.read('{"c": 0, "a":' + opened * lists + inner + closed * lists + "}")
        with pytest.raises(calculators.CalculatorError, match=f"at most {most} deep"):
            door.read('{"c": 0, "a":' + opened * (lists + 1) + inner + closed * (lists + 1) + "}")


def test_a_number_stays_a_number_as_long_as_a_float_holds_it() -> None:
    read = door.read('{"a": %s, "b": %s, "c": 1.5e308, "d": 1.9e308}' % ("1" * 300, "1" * 301))  # noqa: UP031
    assert read["a"] == int("1" * 300)
    assert read["b"] == "1" * 301
    assert (read["c"], read["d"]) == (1.5e308, "1.9e308")


def test_a_fault_is_told_as_one_and_is_no_result(monkeypatch: pytest.MonkeyPatch) -> None:
    """An error of the program itself reaches a page as an answer, not as silence."""

    def fails(*_: Any) -> None:
        raise ZeroDivisionError("a fault made for this test")

    monkeypatch.setattr(calculators, "get", fails)
    answer = json.loads(calculators.run_json("clearance", "{}"))
    assert answer["fault"] == "ZeroDivisionError: a fault made for this test"
    assert "handbook’s" in answer["errors"][0]["message"]
    assert "outcome" not in answer


def test_a_result_that_json_cannot_hold_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(calculators, "_steps", lambda *_: never(float("nan")))
    assert "JSON" in json.loads(calculators.run_json("clearance", "{}"))["fault"]


def never(value: Any) -> Any:
    """Work that yields nothing and ends with a value."""
    yield from ()
    return {"value": value}


def test_an_answer_stays_the_answer() -> None:
    """A page that asks once more than it had to gets the same again."""
    running = calculators.begin_json("level", "{}")
    answer = running.advance()
    assert not answer.startswith(calculators.PROGRESS)
    assert running.advance() == answer


def test_there_is_no_such_calculator() -> None:
    answer = json.loads(calculators.run_json("levle", "{}"))
    assert answer["errors"][0]["label"] == "Request"
    assert "clearance" in answer["errors"][0]["message"]


@pytest.mark.parametrize(("length", "whole"), [(79, True), (80, True), (81, False)])
def test_a_message_repeats_a_value_only_as_far_as_a_reader_can_bear(length: int, whole: bool) -> None:
    error = InputError("a", "Label", "x" * length, "Too long.", "")
    assert ("x" * 80 + "…" in error.message) != whole
    assert "x" * 81 not in error.message
    assert error.to_dict()["value"] == "x" * length

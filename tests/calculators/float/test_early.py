"""The first answer: it comes before the full one, decides nothing otherwise, and is not there where it would be the same."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest

import calculators
from calculators.core.progress import Early
from calculators.float import CALCULATOR, buyers, effort
from tests.calculators.float.test_search import varied, watched_judges

SMALL: dict[str, Any] = {
    "tubes": [{"coin": "quarter", "capacity": 20, "count": 8}, {"coin": "nickel", "capacity": 20, "count": 8}],
    "prices": [{"price": "1.25", "share": 1}], "sales_per_day": 3, "days": 2, "share_notes": 40, "share_exact": 20,
}  # fmt: skip


def both(inputs: Any, rules: str = "us", **more: Any) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """The first answers, and the last."""
    buyers._LAST.clear()
    running = calculators.begin_json("float", json.dumps({"inputs": inputs, "rules": rules, "early": True, **more}))
    found = []
    while (answer := running.advance()).startswith((calculators.PROGRESS, calculators.EARLY)):
        if answer.startswith(calculators.EARLY):
            found.append(json.loads(answer)["early"])
    return found, json.loads(answer)


def chance(report: dict[str, Any]) -> dict[str, Any]:
    return next(each for each in report["checks"] if each["key"] == "chance")


def value(report: dict[str, Any], key: str) -> Any:
    return next(each["inner"] for each in report["values"] if each["key"] == key)


@pytest.mark.parametrize("seed", range(20))
def test_the_last_answer_is_the_same_with_and_without_a_first_one(seed: int) -> None:
    """What was played for the first changes nothing of it."""
    inputs = varied(seed)
    _, last = both(inputs)
    buyers._LAST.clear()
    assert last == json.loads(calculators.run_json("float", json.dumps({"inputs": inputs})))


@pytest.mark.parametrize("seed", range(20))
def test_what_the_first_answer_decides_stays_decided(seed: int) -> None:
    """Enough or not enough: the last answer says the same. What it leaves open may go either way."""
    firsts, last = both(varied(seed))
    assert "early" not in last
    if "Worked out exactly." in chance(last)["note"]:
        assert firsts == []
        return
    [first] = firsts
    assert first["early"] is True
    early, late = chance(first), chance(last)
    if "cannot be told apart from the wanted chance" not in early["note"]:
        assert early["outcome"] == late["outcome"]
    # A load that is said to do costs no less than the least one that is found in the end.
    if value(first, "money") is not None:
        assert value(last, "money") is not None
        assert value(last, "money") <= value(first, "money")


@pytest.mark.parametrize("rules", ["us", "ca", "uk", "eu", "au"])
def test_the_first_answer_says_how_exact_it_is(rules: str) -> None:
    """Fewer runs, a wider error, and so told; the last one stands within what the first one allows for."""
    [first], last = both(dict(CALCULATOR.example_in(rules)[0]), rules, units=CALCULATOR.example_in(rules)[1], html=True)
    assert "class=\"hb-early" in first["html"]
    assert "class=\"hb-early" not in last["html"]
    runs = [next(step["value"] for section in report["working"] for step in section["steps"] if step["symbol"] == "R")
            for report in (first, last)]  # fmt: skip
    assert runs[0] <= effort.GLANCE.runs < runs[1]
    assert value(first, "error") > 1.5 * value(last, "error") > 0
    assert abs(value(first, "chance") - value(last, "chance")) < 4 * value(first, "error")


def test_the_first_answer_plays_a_fraction_of_what_the_last_one_does(monkeypatch: pytest.MonkeyPatch) -> None:
    """By the sales that were played for each, over all sets' examples and twenty cabinets."""
    judges = watched_judges(monkeypatch)
    cases = [(dict(CALCULATOR.example_in(rules)[0]), rules) for rules in ("us", "ca", "uk", "eu", "au")]
    cases += [(varied(seed), "us") for seed in range(20)]
    shares: list[float] = []
    for inputs, rules in cases:
        judges.clear()
        if both(inputs, rules)[0]:
            early, full = (sum(each._sales for each in judges if (each.effort is effort.GLANCE) == glance) for glance in (True, False))
            shares.append(early / full)
    assert len(shares) > 15
    assert sum(shares) / len(shares) < 0.35


def test_no_first_answer_where_it_would_be_the_same_or_nobody_asked() -> None:
    """Worked out exactly; not known at all; or asked without the word for it."""
    assert both(SMALL)[0] == []
    assert "Worked out exactly." in chance(both(SMALL)[1])["note"]
    assert both({"days": 3})[0] == []
    inputs = varied(random.Random(1).randrange(20))
    assert not any(isinstance(each, Early) for each in CALCULATOR.steps({"inputs": inputs}))
    assert not any(isinstance(each, Early) for each in calculators.get("clearance").steps({"inputs": {}, "early": True}))


def test_a_shell_is_told_the_last_answer_alone() -> None:
    answer = json.loads(calculators.run_json("float", json.dumps({"inputs": varied(3), "early": True})))
    assert answer["calculator"] == "float"
    assert "early" not in answer
    assert json.loads(calculators.run_json("float", '{"inputs": {}, "early": 1}'))["errors"][0]["field"] == "early"


def test_stopped_after_the_first_answer_the_last_says_so() -> None:
    running = calculators.begin_json("float", json.dumps({"inputs": dict(CALCULATOR.example), "early": True}))
    while not running.advance().startswith(calculators.EARLY):
        pass
    running.stop()
    while (answer := running.advance()).startswith(calculators.PROGRESS):
        pass
    assert "You stopped it" in chance(json.loads(answer))["note"]

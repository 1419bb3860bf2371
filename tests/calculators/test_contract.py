"""What every calculator owes its reader, whatever it works out."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import calculators
from calculators.core import Calculator, Rows, forms
from calculators.core.report import OUTCOMES
from calculators.core.rules import RULE_SETS, load
from tests.support import formulas
from tests.support.inputs import random_request, strategy
from tests.support.mends import changed, printed, same

ALL = [calculators.get(name) for name in calculators.NAMES]
each = pytest.mark.parametrize("calculator", ALL, ids=calculators.NAMES)
# The float plays sales; the others answer in a few milliseconds.
FAILURES = 100  # in each system of units


@each
def test_a_blank_request_is_unknown_and_names_what_to_measure(calculator: Calculator) -> None:
    """Nothing is required: a blank form gives a result that asks for the first measurement."""
    result = calculator.run({"inputs": {}})
    assert result["outcome"] == "unknown"
    assert result["measure_next"] is not None


@each
def test_the_example_gives_a_whole_result(calculator: Calculator) -> None:
    """The example decides every part that the page shows."""
    result = calculator.run({"units": calculator.example_units, "inputs": dict(calculator.example)})
    for part in ("checks", "values", "figures", "working"):
        assert result[part], part
    assert all(check["outcome"] in OUTCOMES for check in result["checks"])


@each
def test_the_short_form_has_at_most_six_fields(calculator: Calculator) -> None:
    """Nobody types forty fields on a phone. Of those that hang on a choice, what one word of it brings up at once."""
    first = [field for field in calculator.inputs.fields() if field.first]
    words = [(field.when[0], word) for field in first if field.when for word in field.when[1]] or [("", "")]
    shown = [sum(field.applies({key: word}) for field in first) for key, word in words]
    assert 1 <= max(shown) <= 6


@each
def test_every_field_explains_itself(calculator: Calculator) -> None:
    """A label and a help for each input, also in rows; an example for each number."""
    fields = list(calculator.inputs.fields())
    for field in list(fields):
        if isinstance(field, Rows):
            fields += field.record.fields()
    assert all(field.label and field.help for field in fields)


@each
@pytest.mark.parametrize("units", ["us", "si"])
def test_printed_formulas_equal_their_values(calculator: Calculator, units: str) -> None:
    """Each printed formula, read back with the printed-unit numbers, gives the printed value."""
    seen = 0
    for seed in range(40):
        for step in _steps(calculator.run(random_request(calculator, seed, units))):
            value = formulas.evaluate(step["formula"], step["numbers"])
            # 1e-9: unit conversion of each number costs a few units in the last place.
            assert math.isclose(value, step["value"], rel_tol=1e-9, abs_tol=1e-9), step
            seen += 1
    assert seen > 100


def _steps(result: dict[str, Any]) -> list[dict[str, Any]]:
    return [step for group in result["working"] for step in group["steps"] if step["formula"]]


# Those with a test_mends.py of their own are held to more: 500, spread over every kind of check.
PLAIN = [name for name in calculators.NAMES if not (Path(__file__).parent / name / "test_mends.py").exists()]


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("name", PLAIN)
def test_a_printed_mend_turns_its_check_to_pass(name: str, units: str) -> None:
    """What a reader is told to change, changed as printed, makes that very check pass."""
    calculator = calculators.get(name)
    mended = 0
    seed = 0
    while mended < FAILURES:
        request = printed(calculator, random_request(calculator, 10_000 + seed, units))
        seed += 1
        for check in calculator.run(request)["checks"]:
            if check["mend"]:
                inputs = changed(request["inputs"], check["mend"]["changes"])
                again = same(calculator.run({**request, "inputs": inputs}), check)
                # A row that is left out altogether cannot fail any more.
                assert again is None or again["outcome"] == "pass", (check, again)
                mended += 1
        assert seed < 4000, "too few failures came up"


@each
def test_a_stop_or_caution_says_what_to_do(calculator: Calculator) -> None:
    """A check that fails carries a mend, or a note that says what to do instead."""
    for seed in range(60):
        for check in calculator.run(random_request(calculator, 500 + seed))["checks"]:
            if check["outcome"] in ("stop", "caution"):
                assert check["mend"] or check["note"], check


@each
def test_both_unit_systems_give_the_same_result(calculator: Calculator) -> None:
    """The same inputs printed in either system: same outcomes, same inner values."""
    for seed in range(25):
        us, si = (calculator.run(random_request(calculator, 900 + seed, units)) for units in ("us", "si"))
        assert [check["outcome"] for check in us["checks"]] == [
            check["outcome"] for check in si["checks"]
        ]
        assert [value["inner"] for value in us["values"]] == [value["inner"] for value in si["values"]]


@each
@given(data=st.data())
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_readable_input_gives_a_result(calculator: Calculator, data: st.DataObject) -> None:
    """Whatever lies within the fields' ranges is worked out; it serialises and repeats exactly."""
    request = data.draw(strategy(calculator))
    first = json.dumps(calculators.run(calculator.name, {**request, "html": True}), allow_nan=False)
    assert first == json.dumps(calculators.run(calculator.name, {**request, "html": True}))


@each
def test_every_check_names_rules_that_exist(calculator: Calculator) -> None:
    """A check's rule keys are in the US rule set, or the check would say “no figure”."""
    from calculators.core import rules

    known = rules.load("us").figures
    missing = [key for check in calculator.checks for key in check.rules if key not in known]
    assert not missing


@each
def test_bad_inputs_are_all_reported_at_once(calculator: Calculator) -> None:
    """Every bad value is named with its field, and nothing is worked out."""
    bad = {field.key: "no such value ;" for field in calculator.inputs.fields()
           if field.type in ("quantity", "count", "choice", "flag", "money")}  # fmt: skip
    answer = json.loads(calculators.run_json(calculator.name, json.dumps({"inputs": {**bad, "zz": 1}})))
    assert {error["field"] for error in answer["errors"]} == {*bad, "zz"}
    assert all(error["message"] and error["label"] for error in answer["errors"])


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("rules", RULE_SETS)
@each
def test_an_example_in_the_other_units_is_the_same_case(calculator: Calculator, rules: str, system: str) -> None:
    """It reads and decides the same: what a page opens with is no mistake."""
    given, typed = calculator.example_in(rules)
    made = calculator.example_for(rules, system)
    assert made.keys() == given.keys()
    assert typed != system or made == given
    before = calculator.run({"units": typed, "rules": rules, "inputs": dict(given)})
    after = calculator.run({"units": system, "rules": rules, "inputs": made})
    assert after["outcome"] == before["outcome"]


@pytest.mark.parametrize("rules", RULE_SETS)
@each
def test_its_form_can_be_made_under_every_rule_set(calculator: Calculator, rules: str) -> None:
    """Each input that is offered there has a control, and a choice has words to choose from."""
    ours = load(rules)
    made = forms.form(calculator, {}, "si", prefix="p", rules=ours)
    for field in calculator.inputs.fields():
        assert (re.search(rf'"p-{field.key}["-]', made) is not None) == field.offered(ours), field.key
        if field.type in ("choice", "flag") and field.offered(ours):
            assert field.words(ours), field.key

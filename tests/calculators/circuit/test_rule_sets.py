"""Each rule set by itself: its clauses, its words, its gaps, and all that every calculator owes."""

from __future__ import annotations

import copy
import dataclasses
import json
import math
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.circuit import CALCULATOR, SET_EXAMPLES
from calculators.circuit.words import PLAIN
from calculators.core import rules
from calculators.core.report import OUTCOME_WORDS
from tests.support import formulas
from tests.support.inputs import random_request

QUICK = dataclasses.replace(CALCULATOR, probe=False)
SETS = tuple(rules.RULE_SETS)
FAILURES = tomllib.loads((Path(__file__).parents[2] / "cases" / "circuit" / "failures.toml").read_text())
each_set = pytest.mark.parametrize("name", SETS)


def run(name: str, inputs: dict[str, Any], units: str = "si") -> dict[str, Any]:
    return QUICK.run({"rules": name, "units": units, "typed": units, "inputs": inputs})


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


def site(name: str) -> dict[str, Any]:
    facts = FAILURES["sets"][name]
    return {**FAILURES["common"], **FAILURES[facts["base"]], **facts["changes"]}


def rows() -> list[Any]:
    return [pytest.param(name, row, id=f"{name} {row['key']}")
            for name in SETS for row in FAILURES["sets"][name]["checks"]]  # fmt: skip


# -- a site on which all fails ----------------------------------------------------------


@pytest.mark.parametrize(("name", "row"), rows())
def test_a_failing_site_shows_clause_status_and_caution(name: str, row: dict[str, Any]) -> None:
    """The outcome and its word, the clause with its status, and the warning where someone may be hurt."""
    found = check(run(name, site(name)), row["key"])
    wanted = "unknown" if row["outcome"] == "no figure" else row["outcome"]
    assert (found["outcome"], found["word"]) == (wanted, OUTCOME_WORDS[wanted])
    if row["outcome"] == "no figure":
        assert found["text"].startswith("No figure in this rule set")
    if "status" in row:
        line = next(each for each in found["citations"] if each.startswith(row.get("cites", "")))
        assert line.removesuffix(")").endswith(row["status"])
    assert bool(found["caution"]) >= row.get("caution", False)


@each_set
def test_the_failing_site_leaves_no_check_out(name: str) -> None:
    """Every check is in the table, but those that passed there or that the rule set does not know."""
    absent = rules.load(name).get("circuit.no_such_rule")
    listed = {row["key"] for row in FAILURES["sets"][name]["checks"]}
    passed = {each["key"] for each in run(name, site(name))["checks"] if each["outcome"] == "pass"}
    # This wire is copper; of one of the further sites it is not.
    assert any(more.get("material") == "aluminum" for more in FAILURES["sets"][name]["more"])
    assert {spec.key for spec in CALCULATOR.checks} - listed - passed - {"aluminum"} <= set(absent.value if absent else ())


def test_a_breaker_too_large_to_share_stops_in_the_united_states() -> None:
    """210.23: nothing plugged shares a circuit of 40 A."""
    found = check(run("us", {**site("us"), "breaker": "40"}), "shared_size")
    assert found["outcome"] == "stop"
    assert "210.23" in found["citations"][0]


@each_set
def test_what_a_rule_set_does_not_ask_is_said(name: str) -> None:
    """A check that has no counterpart is not made, and the sheet says so among what it did not check."""
    absent = rules.load(name).get("circuit.no_such_rule")
    result = run(name, site(name))
    made = {each["key"] for each in result["checks"]}
    assert bool(absent) == (name != "us")
    if absent:
        assert not made & set(absent.value)
        assert absent.note in result["not_checked"]


# -- words --------------------------------------------------------------------------------

FOREIGN = {
    "us": r"RCD|socket|earth leakage|mm²",
    "ca": r"RCD|socket|mm²",
    "uk": r"GFCI|receptacle|AWG|licensed|NFPA|NEC\b",
    "eu": r"GFCI|receptacle|AWG|licensed|NFPA|NEC\b",
    "au": r"GFCI|receptacle|AWG|NFPA|NEC\b",
}


def told(result: dict[str, Any]) -> list[str]:
    """All that a result says in sentences, without the labels that every rule set shares."""
    texts = [*result["actions"], *result["not_checked"]]
    for each in result["checks"]:
        texts += [each["text"], each["note"], each["mend"]["text"] if each["mend"] else ""]
    for group in result["working"]:
        texts += [group["title"], *(step["label"] for step in group["steps"]), *(step["note"] for step in group["steps"])]
    for table in result["tables"]:
        texts += [table["title"], table["note"], *(cell for row in table["rows"] for cell in row)]
    return texts


def own_labels() -> list[str]:
    """Labels and cautions that stand in the definition, for every rule set alike."""
    fields = [field.label for field in CALCULATOR.inputs.fields()] + [
        option for field in CALCULATOR.inputs.fields() for option in getattr(field, "options", {}).values()]
    shared = [*fields, *(spec.label for spec in CALCULATOR.checks), *(spec.caution for spec in CALCULATOR.checks)]
    return [each for each in shared if len(each) > 12]


@each_set
def test_a_result_speaks_the_trade_of_its_country(name: str) -> None:
    """No other country's words in what is worked out, and no word left unfilled."""
    plain = sorted(own_labels(), key=len, reverse=True)
    requests = [site(name), *(random_request(CALCULATOR, seed, "si", name)["inputs"] for seed in range(6))]
    for inputs in requests:
        size = "12" if name in ("us", "ca") else "2.5mm2"
        for text in told(run(name, {**inputs, "conductor": size, "cord_gauge": None})):
            text = re.sub(r"\b(circuit|conductors)\.\w+", "", text)  # noqa: PLW2901  (a rule's key)
            for label in plain:
                text = text.replace(label, "")  # noqa: PLW2901
            assert not re.search(FOREIGN[name], text), text
            assert not any(f"{{{mark}}}" in text for mark in PLAIN), text


# -- what every calculator owes, in each rule set -------------------------------------------


@each_set
def test_a_blank_request_asks_for_a_measurement(name: str) -> None:
    """Nothing is required, wherever one is."""
    result = CALCULATOR.run({"rules": name, "inputs": {}})
    assert result["outcome"] == "unknown"
    assert result["measure_next"] is not None


@each_set
@pytest.mark.parametrize("seed", range(6))
def test_formulas_systems_and_notes(name: str, seed: int) -> None:
    """Printed formulas hold, both unit systems agree, a failure says what to do, an unknown says why."""
    request = random_request(CALCULATOR, 300 + seed, rule_set=name)
    us, si = (QUICK.run({**request, "units": units}) for units in ("us", "si"))
    assert [each["outcome"] for each in us["checks"]] == [each["outcome"] for each in si["checks"]]
    assert [each["inner"] for each in us["values"]] == [each["inner"] for each in si["values"]]
    for result in (us, si):
        for step in (step for group in result["working"] for step in group["steps"] if step["formula"]):
            value = formulas.evaluate(step["formula"], step["numbers"])
            # 1e-9: unit conversion of each number costs a few units in the last place.
            assert math.isclose(value, step["value"], rel_tol=1e-9, abs_tol=1e-9), step
        for each in result["checks"]:
            if each["outcome"] in ("stop", "caution"):
                assert each["mend"] or each["note"], each
            if each["outcome"] == "unknown":
                assert each["needs"] or each["note"] or each["text"].startswith("No figure"), each


@pytest.mark.parametrize("name", [each for each in SETS if each != "us"])
def test_a_mend_works_in_every_rule_set(name: str) -> None:
    """Forty printed mends, each typed in as printed, turn their check to pass (test_contract has the US)."""
    mended = seed = 0
    while mended < 40:
        request = random_request(CALCULATOR, 20_000 + seed, "si", name)
        request["inputs"] = {**QUICK.run(request)["inputs"]}
        seed += 1
        for each in QUICK.run(request)["checks"]:
            if each["mend"]:
                changed = copy.deepcopy(request)
                changed["inputs"].update(each["mend"]["changes"])
                again = next(found for found in QUICK.run(changed)["checks"]
                             if (found["key"], found["at"]) == (each["key"], each["at"]))  # fmt: skip
                assert again["outcome"] == "pass", (each, again)
                mended += 1
        assert seed < 400, "too few failures came up"


@each_set
def test_an_operator_s_figure_fills_a_gap_and_is_named(name: str) -> None:
    """A local figure for what the set lacks, or in place of what it has: the check is decided and says so."""
    size = "14" if name in ("us", "ca") else "1.5mm2"
    key = f"conductors.carries_{size}"
    local = {key: {"value": 12, "unit": "A", "kind": "current", "label": "What our wire carries"}}
    inputs = {"breaker": "10", "dedicated": "yes", "material": "copper", "conductor": size, "cabinet_amps": 11, "cabinet_continuous": "no",
              "ambient": 30}  # fmt: skip
    result = QUICK.run({"rules": name, "typed": "si", "inputs": inputs, "local": local})
    assert check(result, "wire_load")["outcome"] == "pass"
    assert result["local"] == [key]
    assert "this operator's rule" in check(result, "wire_load")["citations"]
    more = QUICK.run({"rules": name, "typed": "si", "inputs": {**inputs, "cabinet_amps": 12.5}, "local": local})
    assert check(more, "wire_load")["outcome"] != "pass"


@each_set
def test_it_serialises_and_repeats(name: str) -> None:
    """The same request gives the same bytes."""
    request = {"rules": name, "inputs": site(name)}
    assert json.dumps(QUICK.run(request), allow_nan=False) == json.dumps(QUICK.run(request))


@each_set
def test_each_set_has_an_example_that_fits(name: str) -> None:
    """It draws both figures, and every check of it passes."""
    typed, units = (SET_EXAMPLES[name], "si") if name in SET_EXAMPLES else (CALCULATOR.example, "us")
    result = run(name, dict(typed), units)
    assert len(result["figures"]) == 2
    for each in result["checks"]:
        assert each["outcome"] == "pass", each
    assert result["outcome"] == "pass"

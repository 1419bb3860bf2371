"""A site at which everything is wrong, and one that is right, judged by each of the rule sets."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.clearance import CALCULATOR
from calculators.core import rules

FILE = Path(__file__).parents[2] / "cases" / "clearance" / "failures.toml"
DATA = tomllib.loads(FILE.read_text())
SITES = {site["rules"]: site["expected"] for site in DATA["site"]}
each_set = pytest.mark.parametrize("name", rules.RULE_SETS)


def judged(name: str, units: str = "si") -> list[dict[str, Any]]:
    answer = CALCULATOR.run({"rules": name, "units": units, "typed": "si", "inputs": DATA["inputs"]})
    assert answer["rules"] == name
    return answer["checks"]


def found(checks: list[dict[str, Any]], key: str, at: str) -> dict[str, Any]:
    return next(each for each in checks if each["key"] == key and each["at"].startswith(at))


def test_every_rule_set_has_its_failures() -> None:
    """No set is left out of the file, and every check that any set knows fails somewhere in it."""
    assert set(SITES) == set(rules.RULE_SETS)
    tried = {line[0] for lines in SITES.values() for line in lines}
    tried |= {line[0] for line in DATA["everywhere"][0]["checks"]}
    # The way in as a whole is only ever unknown; the wheels of the way are the patch's twin; powered gear has a site of its own.
    assert {spec.key for spec in CALCULATOR.checks} - tried == {"route", "floor_wheels", "ramp_gear"}


@each_set
def test_each_failure_shows_its_own_clause_and_status(name: str) -> None:
    """Outcome, clause and status word; or that the set has no figure, and which."""
    checks = judged(name)
    for key, at, outcome, clause, status in SITES[name]:
        check = found(checks, key, at)
        if outcome == "no figure":
            assert check["outcome"] == "unknown", check
            assert check["text"].startswith("No figure in this rule set ("), check
            missing = re.findall(r"\b(?:space|floor|handling)\.\w+", check["text"])
            assert missing
            assert not set(missing) & set(rules.load(name).figures)
            continue
        assert check["outcome"] == outcome, check
        assert any(clause in line and status in line for line in check["citations"]), check


@each_set
def test_what_no_rule_decides_is_the_same_everywhere(name: str) -> None:
    """Lengths, loads and cautions do not change with the country."""
    checks = judged(name)
    for key, at, outcome, caution in DATA["everywhere"][0]["checks"]:
        check = found(checks, key, at)
        assert check["outcome"] == outcome, check
        assert bool(check["caution"]) == caution, check


@each_set
def test_both_unit_systems_judge_alike(name: str) -> None:
    """The same outcomes and margins whichever system is printed."""
    for one, other in zip(judged(name), judged(name, "us"), strict=True):
        assert (one["key"], one["at"], one["outcome"]) == (other["key"], other["at"], other["outcome"])


@each_set
def test_no_other_country_s_rule_is_cited(name: str) -> None:
    """A set cites its own sources; guidance from abroad says in its note that it is."""
    own = {rule.source for rule in rules.load(name).figures.values()}
    for check in judged(name):
        for key in check["rules"]:
            assert rules.load(name)[key].source in own
    for key, rule in rules.load(name).figures.items():
        if key.startswith("handling.") and "Great Britain" in rule.source and name != "uk":
            assert "Guidance from Great Britain" in rule.note, key


@each_set
@pytest.mark.parametrize("use", ["few", "many", "school", "beds"])
def test_each_kind_of_way_has_its_figure_or_says_that_it_has_none(name: str, use: str) -> None:
    """A corridor's use picks the set's own figure; its own words stand in the note."""
    inputs = {"in_corridor": "yes", "corridor_width": 2500, "cabinet_depth": 850, "rear_gap": 150, "front_clear": 1500}
    answer = CALCULATOR.run({"rules": name, "units": "si", "inputs": {**inputs, "corridor_use": use}})
    check = found(answer["checks"], "passage", "Corridor")
    figure = rules.load(name).get(f"space.corridor_{use}")
    if figure is None:
        assert check["text"] == f"No figure in this rule set (space.corridor_{use})."
    else:
        assert check["limit"] == pytest.approx(figure.inner)
        assert check["note"] == f"{figure.label}."


def test_an_operator_s_figure_fills_a_gap() -> None:
    """Where a set has no figure an operator's own one makes the check, and is named as theirs."""
    local = {"handling.push_start": {"value": 15, "unit": "kgf", "kind": "force", "label": "Our own push"}}
    answer = CALCULATOR.run({"rules": "eu", "units": "si", "inputs": DATA["inputs"], "local": local})
    check = found(answer["checks"], "push_start", "On the level")
    assert check["outcome"] == "stop"
    assert any("this operator's rule" in line for line in check["citations"])
    assert answer["local"] == ["handling.push_start"]

"""Two kinds of protection, their buttons, weather and leakage: every combination, in every rule set."""

from __future__ import annotations

import dataclasses
import itertools
from typing import Any

import pytest

from calculators.circuit import CALCULATOR
from calculators.core import rules
from tests.support.sheet import check, value

QUICK = dataclasses.replace(CALCULATOR, probe=False)
SETS = tuple(rules.RULE_SETS)
STATES = ("yes", "no", "")
each_set = pytest.mark.parametrize("name", SETS)
# Whether a device in the cabinet's own plug or cord is enough for the cabinet, and what a device that
# cannot be reached is: 422.5(B) in the United States; in Canada no clause asks for one there.
OWN_COUNTS = {"us": True, "ca": True, "uk": False, "eu": False, "au": False}
OUT_OF_REACH = {"us": "stop", "ca": "caution", "uk": "caution", "eu": "caution", "au": "caution"}


def run(name: str, **inputs: Any) -> dict[str, Any]:
    return QUICK.run({"rules": name, "units": "si", "typed": "si", "inputs": inputs})


def wanted(name: str, outlet: str, own: str) -> str:
    """The outcome for the cabinet by what stands there."""
    states = (outlet, own) if OWN_COUNTS[name] else (outlet,)
    if "yes" in states:
        return "pass"
    if "" in states:
        return "unknown"
    return "unknown" if name == "ca" else "stop"  # Canada has no figure for it


@each_set
@pytest.mark.parametrize(("outlet", "own"), list(itertools.product(STATES, STATES)))
def test_what_counts_for_the_cabinet_and_what_for_the_outlet(name: str, outlet: str, own: str) -> None:
    """In a wet place the outlet's own device alone counts, in every rule set."""
    result = run(name, protection=outlet, cabinet_protection=own, location="outdoors")
    assert check(result, "gfci")["outcome"] == wanted(name, outlet, own)
    assert check(result, "gfci_place")["outcome"] == {"yes": "pass", "no": "stop", "": "unknown"}[outlet]
    told = [check(result, key)["text"] for key in ("gfci", "gfci_place") if check(result, key)["outcome"] == "stop"]
    for text in told:
        assert ("protects only what is behind it" in text) == (own == "yes")


@each_set
@pytest.mark.parametrize(("outlet", "own", "reach"), list(itertools.product(STATES, STATES, STATES)))
def test_buttons_within_reach(name: str, outlet: str, own: str, reach: str) -> None:
    """There is a device and its buttons are in reach; neither may be lacking, either may be unknown."""
    found = check(run(name, protection=outlet, cabinet_protection=own, protection_reach=reach), "gfci_reach")
    device = "yes" if "yes" in (outlet, own) else "" if "" in (outlet, own) else "no"
    bad = "no" in (device, reach)
    assert found["outcome"] == (OUT_OF_REACH[name] if bad else "unknown" if "" in (device, reach) else "pass")
    if found["outcome"] == "unknown":
        blank = {"protection_reach"} if reach == "" else set()
        blank |= {key for key, state in (("protection", outlet), ("cabinet_protection", own)) if device == "" and state == ""}
        assert set(found["needs"]) == blank


@each_set
def test_a_device_out_of_reach_is_mended_by_moving_one_of_the_two(name: str) -> None:
    """The change passes as printed; where there is no device it begins with one."""
    for outlet in ("yes", "no", ""):
        inputs = {"protection": outlet, "cabinet_protection": "no", "protection_reach": "no"}
        mend = check(run(name, **inputs), "gfci_reach")["mend"]
        assert ("protection" in mend["changes"]) == (outlet != "yes")
        assert check(run(name, **{**inputs, **mend["changes"]}), "gfci_reach")["outcome"] == "pass"


@each_set
@pytest.mark.parametrize("location", ["dry", "damp", "wet", "outdoors", ""])
def test_weather_asks_by_place(name: str, location: str) -> None:
    """The outlet in every damp or wet place, the cord where it gets wet; blank places and marks stay open."""
    soft = name in ("uk", "ca")
    for path, key, where, bad in (("weather_rated", "weather", ("damp", "wet", "outdoors"), "caution" if soft else "stop"),
                                  ("cord_weather", "cord_weather", ("wet", "outdoors"), "stop")):  # fmt: skip
        for mark, told in (("yes", "pass"), ("no", bad), ("", "unknown")):
            outcome = "unknown" if location == "" else told if location in where else "pass"
            found = check(run(name, location=location, **{path: mark}), key)
            assert found["outcome"] == outcome, (path, mark)
            assert bool(found["mend"]) == (outcome in ("stop", "caution"))


@each_set
def test_leaks_add_up_on_what_is_shared_and_not_on_what_each_has(name: str) -> None:
    """Two cabinets: on one device twice the leak, on a device in each plug once; not known is counted as shared."""
    base = {"dedicated": "no", "loads_listed": "yes", "cabinet_count": 2, "cabinet_leakage": 1.5}
    told = {(outlet, own): value(run(name, **base, protection=outlet, cabinet_protection=own), "leakage")
            for outlet in STATES for own in STATES}  # fmt: skip
    for (outlet, own), leak in told.items():
        assert leak == pytest.approx(1.5 if (outlet, own) == ("no", "yes") else 3.0)


def test_the_table_tells_what_stands_there() -> None:
    """Beside each rule what was said of it here, in each rule's own column."""
    inputs = {"location": "outdoors", "protection": "no", "cabinet_protection": "yes", "protection_reach": "no",
              "weather_rated": "yes", "cord_weather": "no", "cover": "in_use", "extension": "no"}  # fmt: skip
    table = next(each for each in run("us", **inputs)["tables"] if each["title"].startswith("Protection"))
    assert [row[3] for row in table["rows"]] == [
        "Yes", "No", "No", "Keeps water out with the plug in (deep hood)", "Yes", "No", "None is used"]
    blank = next(each for each in run("us", location="outdoors")["tables"] if each["title"].startswith("Protection"))
    assert {row[3] for row in blank["rows"]} == {"Not known"}


@pytest.mark.parametrize(("breaker", "outlet", "outcome"), [("40", "13", "stop"), ("40", "32", "stop"), ("32", "32", "stop")])
def test_a_large_breaker_excuses_no_outlet(breaker: str, outlet: str, outcome: str) -> None:
    """BS 7671 411.3.3 goes by the outlet, up to 32 A, whatever stands before it."""
    assert check(run("uk", breaker=breaker, receptacle_rating=outlet, protection="no"), "gfci")["outcome"] == outcome


@pytest.mark.parametrize(("outlet", "outcome"), [("32", "pass"), ("16", "stop"), ("13", "stop"), ("", "stop")])
def test_only_where_breaker_and_outlet_are_larger_the_rule_asks_nothing(outlet: str, outcome: str) -> None:
    """By an own figure of 16 A: an outlet of 32 A on 32 A lies above it, one of 16 A, of 13 A or unknown does not."""
    local = {"circuit.gfci_cabinet_most": {"value": 16, "unit": "A", "kind": "current", "reason": "for this test",
                                           "decided_by": "nobody"}}  # fmt: skip
    inputs = {"breaker": "32", "receptacle_rating": outlet, "protection": "no"}
    found = check(QUICK.run({"rules": "uk", "inputs": inputs, "local": local}), "gfci")
    assert found["outcome"] == outcome
    assert ("smaller circuits only" in found["text"]) == (outcome == "pass")

"""Lamp tables, a resistor circuit of every fault, limits, and what may never be advised."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.core import rules
from calculators.core.rules import STATUSES
from calculators.outlet import CALCULATOR, maths
from tests.support.inputs import random_request

from .circuit import WIRING, seen

FOLDER = Path(__file__).parents[2] / "cases" / "outlet"
DOCS = Path(__file__).parents[3] / "docs" / "calculators" / "outlet.md"
PATTERNS = tomllib.loads((FOLDER / "patterns.toml").read_text())["case"]
LIMITS = tomllib.loads((FOLDER / "limits.toml").read_text())["case"]
US = rules.load("us")
QUICK = dataclasses.replace(CALCULATOR, probe=False)
LAMPS = ("lamp_ln", "lamp_lg", "lamp_ng")
SOUND = dict(CALCULATOR.example)
# Each true condition, and how its faults are named in the tables.
LABELS = {name: US[f"outlet.pattern_{name}"].label for name in WIRING}


def run(inputs: dict[str, Any]) -> dict[str, Any]:
    return QUICK.run({"units": "us", "inputs": inputs})


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


def fitting(result: dict[str, Any]) -> set[str]:
    return {row[0] for table in result["tables"] if table["title"].startswith("What fits") for row in table["rows"]}


def named_in(result: dict[str, Any], condition: str) -> bool:
    """Whether a condition is told: as what fits, as right, or as what such a tester cannot see."""
    if condition == "right":
        return check(result, "wiring")["outcome"] == "pass"
    return LABELS[condition] in fitting(result) | unseen(result)


def unseen(result: dict[str, Any]) -> set[str]:
    return {row[0] for table in result["tables"] if table["title"].startswith("What no") for row in table["rows"]}


# -- the lamp table ----------------------------------------------------------------------


@pytest.mark.parametrize("case", PATTERNS, ids=lambda case: case["id"])
def test_a_pattern_names_what_fits(case: dict[str, Any]) -> None:
    """The condition and all that show the same; those that show as right are told as unseen."""
    result = run(dict(zip(LAMPS, case["lamps"], strict=True)))
    right = case["lamps"] == ["lit", "lit", "dark"]
    named = {LABELS[name] for name in (case["condition"], *case["fits"]) if not right or name != "right"}
    assert fitting(result) == (set() if right else named)
    assert named <= unseen(result) | fitting(result)
    assert check(result, "wiring")["outcome"] == ("pass" if right else "stop")
    if not case["seen"]:
        assert LABELS[case["condition"]] in unseen(result)
    assert case["citation"]
    assert case["status"] in STATUSES


@pytest.mark.parametrize("lamps", [("lit", "lit", "lit"), ("dark", "dark", "lit")])
def test_a_pattern_that_nothing_explains_is_a_stop(lamps: tuple[str, ...]) -> None:
    """No fault fits: still a stop, never a guess."""
    result = run(dict(zip(LAMPS, lamps, strict=True)))
    assert check(result, "wiring")["outcome"] == "stop"
    assert fitting(result) == set()


def test_one_wrong_lamp_is_enough_to_stop() -> None:
    """A lit neutral–ground lamp stops, whatever the other two would say."""
    assert check(run({"lamp_ng": "lit"}), "wiring")["outcome"] == "stop"
    assert check(run({"lamp_ln": "lit", "lamp_lg": "lit"}), "wiring")["outcome"] == "unknown"


# -- the circuit itself ------------------------------------------------------------------


@pytest.mark.parametrize("condition", WIRING)
def test_lamps_on_a_real_circuit_name_its_fault(condition: str) -> None:
    """Neon lamps across resistors: the true condition is among what fits."""
    lamps = seen(condition, across=150_000.0).lamps
    result = run(dict(zip(LAMPS, lamps, strict=True)))
    assert named_in(result, condition)


@pytest.mark.parametrize("condition", WIRING)
def test_volts_of_a_real_circuit_name_its_fault(condition: str) -> None:
    """A meter across each pair: the same, and the three readings fit together."""
    volts = seen(condition)
    result = run({"volts_ln": volts.ln, "volts_lg": volts.lg, "volts_ng": volts.ng})
    assert named_in(result, condition)
    assert check(result, "sum")["outcome"] == "pass"


def loaded(condition: str, ohms: float = 10.0) -> dict[str, Any]:
    idle, run_ = seen(condition), seen(condition, load=ohms)
    return {"volts_ln": idle.ln, "volts_lg": idle.lg, "volts_ng": idle.ng, "loaded_ln": run_.ln,
            "loaded_ng": run_.ng, "load_amps": run_.ln / ohms, "cabinet_amps": 9}  # fmt: skip


def test_a_sound_circuit_passes_and_gives_its_wires() -> None:
    """Fall, impedance and the neutral's share are the circuit's own."""
    result = run(SOUND | loaded("right"))
    assert result["outcome"] == "pass"
    values = {value["key"]: value["inner"] for value in result["values"]}
    assert values["impedance"] == pytest.approx(0.3, rel=1e-5)
    assert values["share"] == pytest.approx(0.5, rel=1e-5)


@pytest.mark.parametrize("condition", ["joined", "joined_swapped"])
def test_a_ground_joined_to_the_neutral_shows_under_load(condition: str) -> None:
    """Lamps call it right; the volts between neutral and ground do not move, and that is told."""
    result = run(SOUND | loaded(condition))
    assert check(result, "wiring")["outcome"] == "pass"
    assert check(result, "apart")["outcome"] == "caution"
    assert "licensed electrician" in check(result, "apart")["note"]


def test_a_live_ground_shows_beside_a_non_contact_tester() -> None:
    """The worst fault that lamps miss is a stop by the tester beside the ground hole."""
    assert check(run(SOUND | {"nearby": "alerts"}), "nearby")["outcome"] == "stop"


# -- limits ------------------------------------------------------------------------------


@pytest.mark.parametrize("case", LIMITS, ids=lambda case: case["id"])
def test_limits(case: dict[str, Any]) -> None:
    """An input on one side of a limit has that outcome."""
    assert check(run(SOUND | case["inputs"]), case["check"])["outcome"] == case["outcome"]
    assert case["citation"]
    assert case["status"] in STATUSES


@given(amps=st.floats(0.5, 20), more=st.floats(0.01, 20), fall=st.floats(0, 30))
@settings(max_examples=60, deadline=None)
def test_more_amperes_never_drop_less(amps: float, more: float, fall: float) -> None:
    """The drop with the cabinet running grows with what it draws."""
    given_ = SOUND | {"loaded_ln": 121 - fall}
    small, large = (check(run(given_ | {"cabinet_amps": each}), "drop")["value"] for each in (amps, amps + more))
    assert large >= small


@given(st.lists(st.floats(0, 300), min_size=3, max_size=3))
def test_three_voltages_in_step_leave_no_gap(volts: list[float]) -> None:
    """Of two voltages and their sum nothing is left, in any order; the gap knows no order."""
    one, two, _ = volts
    assert maths.gap_of_sum([one, one + two, two]) == pytest.approx(0, abs=1e-9)
    assert maths.gap_of_sum(volts) == maths.gap_of_sum(volts[::-1])


def test_every_figure_says_where_it_comes_from() -> None:
    """A clause for each figure, or common practice without one."""
    for key, rule in US.figures.items():
        if key.startswith("outlet."):
            assert bool(rule.clause) != (rule.status == "common practice"), key
            assert rule.label


# -- what may never be advised -----------------------------------------------------------

# Work on an outlet, as an order: at the start of a sentence or after a comma, “and”, “then”.
ORDER = re.compile(
    r"(?:^|[.;:,]\s*|\band\s+|\bthen\s+|\bor\s+)(?:please\s+)?"
    r"(?:open|remove|unscrew|replace|rewire|repair|tighten|fit|install|swap|undo|loosen|strip|probe|"
    r"disconnect|connect|bond|take (?:it|off)|pull)\b",
    re.IGNORECASE,
)


def texts(part: Any) -> Iterator[str]:
    """Every sentence of a result or of a definition."""
    if isinstance(part, str):
        yield from re.split(r"(?<=[.!?])\s+", part)
    elif isinstance(part, dict):
        for each in part.values():
            yield from texts(each)
    elif isinstance(part, (list, tuple)):
        for each in part:
            yield from texts(each)


def told() -> set[str]:
    """All that this calculator ever said in 600 random runs, in its definition and on its page."""
    said = set(texts(QUICK.describe()))
    for seed in range(600):
        result = QUICK.run(random_request(CALCULATOR, seed))
        said |= set(texts([result[part] for part in ("checks", "actions", "tables", "not_checked", "caution")]))
    page = re.sub(r"^:::.*$", "", DOCS.read_text(encoding="utf-8"), flags=re.MULTILINE)
    return said | set(texts(" ".join(page.split())))


def test_the_search_for_orders_would_find_one() -> None:
    """The pattern catches what must never be said."""
    for bad in ("Open the outlet.", "Switch off, then remove the cover.", "Fit a GFCI.", "Look and tighten it."):
        assert ORDER.search(bad)


def test_nobody_is_told_to_work_on_an_outlet() -> None:
    """No order to open, fit or repair; probes and covers are named only to forbid them."""
    said = told()
    assert len(said) > 100
    orders = {text for text in said if ORDER.search(text) and "never" not in text.lower()}
    assert not orders
    probes = {text for text in said if re.search(r"\bprobes?\b|\bcovers?\b", text, re.IGNORECASE)}
    allowed = ("never", "licensed", "not used", "somebody else", "others", "kill")
    assert not {text for text in probes if not any(word in text.lower() for word in allowed)}


def test_a_stop_sends_for_the_electrician_and_asks_for_nothing_more() -> None:
    """Where the outlet has failed, no further reading is asked for."""
    stops = 0
    for seed in range(300):
        result = QUICK.run(random_request(CALCULATOR, seed))
        failed = [each for each in result["checks"] if each["outcome"] == "stop"]
        stops += len(failed)
        for each in failed:
            assert each["mend"] or re.search("licensed electrician", each["note"]), each
        if failed:
            assert result["measure_next"] is None
            assert not any(each["outcome"] == "unknown" for each in result["checks"])
    assert stops > 300

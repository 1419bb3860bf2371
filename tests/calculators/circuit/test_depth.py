"""Outlets along the run, warmth, rings, cords and foreign supplies: what depends on the inputs alone."""

from __future__ import annotations

import dataclasses
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.circuit import CALCULATOR
from calculators.core import rules
from tests.support.limits import jump

QUICK = dataclasses.replace(CALCULATOR, probe=False)
UK: dict[str, Any] = {
    "breaker": "32", "nominal_voltage": "230", "dedicated": "no", "loads_listed": "yes", "material": "copper", "conductor": "4mm2",
    "run": 40, "cabinet_amps": 6, "cabinet_power_factor": 0.8, "cabinet_start_amps": 24, "volts_idle": 232,
    "cabinet_volts_least": 207, "cabinet_leakage": 2, "outlets": 4, "receptacle_rating": "13", "ambient": 30, "protection": "yes",
}  # fmt: skip
US: dict[str, Any] = {
    "breaker": "20", "nominal_voltage": "120", "dedicated": "yes", "material": "copper", "conductor": "12", "run": 10, "cabinet_amps": 8,
    "cabinet_continuous": "no", "outlets": 1, "receptacle_rating": "20", "ambient": 30,
}  # fmt: skip


def run(name: str, inputs: dict[str, Any]) -> dict[str, Any]:
    return QUICK.run({"rules": name, "typed": "si", "units": "si", "inputs": inputs})


def value(result: dict[str, Any], key: str) -> Any:
    return next(each["inner"] for each in result["values"] if each["key"] == key)


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    return next(each for each in result["checks"] if each["key"] == key)


def along(rng: random.Random, run_: float) -> list[dict[str, Any]]:
    return [{"amps": rng.uniform(0.5, 4), "power_factor": rng.uniform(0.5, 1), "count": rng.randint(1, 2),
             "plugged": "yes", "leakage": 0.2, "distance": rng.uniform(1, 1.5 * run_)} for _ in range(3)]  # fmt: skip


@pytest.mark.parametrize("where", ["UK", "US"])
def test_what_draws_nothing_loses_nothing_in_any_size_of_wire(where: str) -> None:
    """A lamp of 0 W beside the cabinet: every size of wire loses and carries what it does without it."""
    base = {"UK": ("uk", UK), "US": ("us", {**US, "dedicated": "no", "loads_listed": "yes"})}[where]

    def sizes(loads: list[dict[str, Any]]) -> list[list[str]]:
        found = run(base[0], {**base[1], "loads": loads})
        return next(each["rows"] for each in found["tables"] if each["key"] == "sizes")  # type: ignore[no-any-return]

    lamp = {"watts": 0, "power_factor": 1, "count": 3, "plugged": "no"}
    assert len(sizes([])) > 3
    assert sizes([lamp]) == sizes([])
    assert sizes([{**lamp, "watts": 60}]) != sizes([])


# -- outlets along one run ------------------------------------------------------------------


@pytest.mark.parametrize("name", rules.RULE_SETS)
@given(st.integers(0, 10_000), st.floats(3, 140), st.floats(1.0, 2.0))
@settings(max_examples=20, deadline=None)
def test_a_longer_run_never_loses_less_with_outlets_on_the_way(
    name: str, seed: int, length: float, longer: float
) -> None:
    """In every rule set: the cabinet farther along the same wire, what else is on it left where it is."""
    base = {**US, "dedicated": "no", "loads_listed": "yes", "volts_idle": 121} if name in ("us", "ca") else UK
    inputs = {**base, "loads": along(random.Random(seed), length)}
    short, far = (run(name, {**inputs, "run": each}) for each in (length, length * longer))
    assert value(far, "drop_volts") >= value(short, "drop_volts") - 1e-9
    assert value(far, "volts_running") <= value(short, "volts_running") + 1e-9


@pytest.mark.parametrize("name", ["uk", "us"])
@pytest.mark.parametrize("seed", range(10))
def test_the_longest_run_told_loses_just_the_advice(name: str, seed: int) -> None:
    """Typed in as the run, it gives the advised drop, wherever the other outlets are."""
    rng = random.Random(seed)
    inputs = {**UK, "loads": along(rng, 40)} if name == "uk" else {**US, "loads": along(rng, 12), "dedicated": "no",
                                                                    "loads_listed": "yes"}  # fmt: skip
    longest = value(run(name, inputs), "longest_run")
    again = run(name, {**inputs, "run": longest})
    assert longest > 0.5
    assert value(again, "drop_share") == pytest.approx({"uk": 5, "us": 3}[name], rel=1e-9)


def test_an_outlet_beyond_the_cabinet_counts_as_one_at_it() -> None:
    """Its current runs the cabinet's whole way and no farther as far as the cabinet's voltage goes."""
    load = {"amps": 3, "power_factor": 0.9}
    at, beyond = (run("uk", {**UK, "loads": [{**load, **more}]}) for more in ({}, {"distance": 200}))
    assert value(at, "drop_volts") == pytest.approx(value(beyond, "drop_volts"), rel=1e-12)


def test_half_way_costs_half() -> None:
    """One load of 4 A at 20 m of 40: it loses half of what it would at the cabinet."""
    alone, near, far = (value(run("uk", {**UK, "loads": loads}), "drop_volts") for loads in (
        [], [{"amps": 4, "power_factor": 1, "distance": 20}], [{"amps": 4, "power_factor": 1, "distance": 40}]))  # fmt: skip
    assert (near - alone) / (far - alone) == pytest.approx(0.5)
    # 4 A over 40 m of 4 mm² at 11 mV/A/m.
    assert far - alone == pytest.approx(4 * 40 * 0.011, rel=1e-9)


def test_the_table_of_sizes_counts_the_places_too() -> None:
    """Its row of the wire at hand shows the drop and the longest run worked out above it."""
    result = run("uk", {**UK, "loads": along(random.Random(3), 40)})
    row = next(each for each in next(table for table in result["tables"] if "size" in table["title"])["rows"]
               if each[0] == "4 mm²")  # fmt: skip
    shown = {each["key"]: each["text"] for each in result["values"]}
    assert (row[3], row[4]) == (shown["drop_volts"], shown["longest_run"])


# -- how many more ----------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(12))
def test_the_count_by_drop_is_right(seed: int) -> None:
    """So many more at this outlet lose no more than is advised, and one more again does."""
    rng = random.Random(seed)
    inputs = {**UK, "cabinet_amps": rng.uniform(1.5, 6), "run": rng.uniform(25, 60), "loads": along(rng, 20)}
    more = value(run("uk", inputs), "more_drop")
    share = [value(run("uk", {**inputs, "cabinet_count": 1 + count}), "drop_share")
             for count in (int(more), int(more) + 1)]  # fmt: skip
    assert share[0] <= 5 + 1e-6 or more == 0
    assert all(each > 5 for each in share[1:])


def test_the_least_of_the_counts_is_told() -> None:
    """Amperes, drop and leakage each set a number; with a device in each plug leakage sets none."""
    inputs = {**UK, "dedicated": "yes", "cabinet_amps": 2, "cabinet_leakage": 3, "run": 10}
    both = run("uk", inputs), run("uk", {**inputs, "protection": "no", "cabinet_protection": "yes"})
    for result, keys in zip(both, (("amps", "drop", "leakage"), ("amps", "drop")), strict=True):
        assert value(result, "more_cabinets") == min(value(result, f"more_{key}") for key in keys)
    assert value(both[0], "more_cabinets") == 4
    assert value(both[1], "more_cabinets") > 4


# -- warmth, rings, cords -----------------------------------------------------------------------


@pytest.mark.parametrize(("name", "warmth", "share"), [
    ("us", 30, 1.0), ("us", 31, 0.91), ("us", 40, 0.82), ("us", 45, 0.71), ("us", 50, 0.58), ("us", 51, None),
    ("uk", 35, 0.94), ("uk", 40, 0.87), ("uk", 50, 0.71), ("ca", 40, 0.82), ("ca", 50, 0.58), ("ca", 51, None),
    ("eu", 40, 0.87), ("eu", 50, 0.71), ("au", 40, 1.0), ("au", 41, 0.91), ("au", 50, 0.82), ("au", 55, 0.72), ("au", 56, None),
])  # fmt: skip
def test_wire_in_a_hot_place_carries_less(name: str, warmth: float, share: float | None) -> None:
    """The 60 °C columns of Table 310.15(B)(1)(1) and Table 5A, the 70 °C ones of two others, Table 27(1); else no figure."""
    wire = {"us": ("12", 20), "ca": ("12", 20), "uk": ("2.5mm2", 20), "eu": ("2.5mm2", 18.5), "au": ("2.5mm2", 19)}[name]
    table = {"us": "310.15", "ca": "Table 5A", "uk": "7671", "eu": "B.52.14", "au": "Table 27(1)"}[name]
    inputs = {**US, "conductor": wire[0], "cabinet_amps": 1, "ambient": warmth, "run": 5}
    found = check(run(name, inputs), "wire_load")
    if share is None:
        assert found["outcome"] == "unknown"
    else:
        assert found["limit"] == pytest.approx(share * wire[1])
        assert any(table in each for each in found["citations"])


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_warmth_left_blank_keeps_both_wire_checks_open(name: str) -> None:
    """What a cool place would allow a hot one would not: both ask for the warmth, and too much at any stops."""
    size = "12" if name in ("us", "ca") else "2.5mm2"
    small = {**US, "conductor": size, "breaker": "16" if name in ("uk", "eu", "au") else "15", "ambient": None}
    for key in ("wire_breaker", "wire_load"):
        found = check(CALCULATOR.run({"rules": name, "typed": "si", "inputs": small}), key)
        assert (found["outcome"], "ambient" in found["needs"]) == ("unknown", True)
    large = CALCULATOR.run({"rules": name, "typed": "si", "inputs": {**small, "breaker": "32" if name not in ("us", "ca") else "30"}})
    assert check(large, "wire_breaker")["outcome"] == "stop"


def test_a_ring_is_counted_by_its_shorter_way() -> None:
    """As much drop as one way of the wire, which is more than a ring can lose; and it says so."""
    ring, one = (run("uk", {**UK, "conductor": "2.5mm2", "layout": way}) for way in ("ring", "radial"))
    assert value(ring, "drop_volts") == value(one, "drop_volts")
    notes = [step["note"] for group in ring["working"] for step in group["steps"] if step["symbol"] == "D"]
    assert "shorter" in notes[0]
    assert (check(ring, "wire_breaker")["outcome"], check(one, "wire_breaker")["outcome"]) == ("pass", "stop")


@pytest.mark.parametrize(("name", "cord", "ohms"), [
    ("us", "14", 3.14 / 0.3048), ("uk", "1.5mm2", 16.0), ("eu", "1.5mm2", 13.3 * (1 + 0.00393 * 63.6)),
    ("au", "2.5mm2", 7.98 * (1 + 0.00393 * 55)),
])  # fmt: skip
def test_the_cord_s_loss_by_each_table(name: str, cord: str, ohms: float) -> None:
    """There and back through 3 m of the cabinet's own cord."""
    base = UK if name != "us" else {**US, "volts_idle": 120}
    bare, corded = run(name, base), run(name, {**base, "cord_gauge": cord, "cord_length": 3})
    lost = value(bare, "volts_running") - value(corded, "volts_running")
    assert lost == pytest.approx(2 * base["cabinet_amps"] * ohms * 0.003)


def test_a_cord_without_a_figure_is_left_out_and_said() -> None:
    """A cord by gauge under rules in mm²: no figure, no guess."""
    result = run("eu", {**UK, "cord_gauge": "14", "cord_length": 3})
    assert any("no figure" in each and "cord" in each for each in result["not_checked"])
    assert check(result, "cord")["outcome"] == "unknown"


# -- foreign supplies -----------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "plate", "outcome"), [
    ("us", "60", "pass"), ("us", "both", "pass"), ("us", "50", "stop"), ("uk", "50", "pass"), ("au", "60", "stop")])
def test_frequency(name: str, plate: str, outcome: str) -> None:
    """60 Hz in North America, 50 Hz elsewhere."""
    base = US if name == "us" else UK
    assert check(run(name, {**base, "cabinet_frequency": plate}), "supply_kind")["outcome"] == outcome


def test_a_voltage_that_is_not_usual_there_is_asked_about() -> None:
    """120 V in Britain is a slip or a site with its own transformer: take care, and no figure for its range."""
    result = run("uk", {**UK, "nominal_voltage": "120", "volts_idle": None})
    assert check(result, "supply_kind")["outcome"] == "caution"
    assert check(result, "volts_running")["text"].startswith("No figure")
    assert [each["at"] for each in run("uk", UK)["checks"] if each["key"] == "supply_kind"] == ["50 Hz"]


# -- a feeder -------------------------------------------------------------------------------------


def test_a_feeder_s_drop_shortens_the_longest_run() -> None:
    """3 % gone before the board of the 5 % of the whole way: two fifths of the run are left."""
    free, fed = (value(run("uk", {**UK, **more}), "longest_run") for more in ({}, {"feeder_drop": 3}))
    assert free > 100  # and so with the addition for long runs
    plain = value(run("au", UK), "longest_run")
    assert value(run("au", {**UK, "feeder_drop": 3}), "longest_run") == pytest.approx(plain * 2 / 5)
    assert fed < free * 2 / 5 + 1e-9


# -- limits ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "key", "path", "low", "high"), [
    ("uk", "breaker_load", "cabinet_amps", 1, 40), ("uk", "receptacle_load", "cabinet_amps", 1, 40),
    ("uk", "drop", "run", 1, 250), ("eu", "drop", "run", 1, 250), ("au", "drop", "run", 1, 250),
    ("uk", "volts_running", "run", 1, 250), ("uk", "leakage", "cabinet_leakage", 1, 35), ("au", "leakage", "cabinet_leakage", 1, 35),
    ("eu", "breaker_load", "cabinet_amps", 1, 40), ("uk", "cord", "cabinet_amps", 1, 40), ("uk", "drop_total", "feeder_drop", 0.5, 9),
])  # fmt: skip
def test_margins_run_through_nothing_at_their_limits(name: str, key: str, path: str, low: float, high: float) -> None:
    """Where an outcome changes from pass the margin does not jump, in no rule set."""
    base = {**UK, "dedicated": "yes", "cord_gauge": "1.5mm2", "cord_length": 2, "cabinet_volts_least": 222}
    if path == "cabinet_amps":
        base["cabinet_start_amps"] = high  # nothing starts with less than it runs on

    def tried(amount: float) -> dict[str, Any]:
        return check(run(name, {**base, path: amount}), key)

    assert jump(tried, low, high, 32) <= 1e-6

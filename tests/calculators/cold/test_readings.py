"""What a reading is good for: how far it may be off, what no such cabinet shows, and what it says of hard food and the shutoff."""

from __future__ import annotations

from typing import Any

import pytest

from calculators.cold.inputs import PROBE

from . import ask
from .ask import log, outcome, run, with_at
from .test_checks import LIMITS, each_set
from .test_dates import fields

# °C, typed again from the sets: 3 °F, 1 °C, 2 °C, 2 °C and common practice.
AIR = {"us": 3 / 1.8, "ca": 1.0, "uk": 2.0, "eu": 2.0, "au": 1.5}


# -- how far it may be off --------------------------------------------------------------------------


@each_set
def test_air_is_off_by_as_much_as_the_cabinet_s_own_thermometer(rules: str) -> None:
    """Within it is no Go, and a reason to read the food; where nobody says what was read it counts as air."""
    for measured, off in (("air", AIR[rules]), (None, AIR[rules]), ("food", PROBE)):
        for more, wanted in ((-0.05, "caution"), (0.05, "pass")):
            degrees = round(LIMITS[rules] - off - more, 2)
            check = ask.check(run(rules, measured=measured, log=log([degrees] * 13)), "warmest")
            assert check["outcome"] == wanted, (measured, degrees, check)
    note = ask.check(run(rules, measured="air", log=log([LIMITS[rules] - 0.5] * 13)), "warmest")["note"]
    assert note.startswith("Read the food between two packs")
    assert "throw" not in note
    food = ask.check(run(rules, log=log([LIMITS[rules] - 0.5] * 13)), "warmest")["note"]
    assert "throw it out" in food
    assert "throw it out" in ask.check(run(rules, measured="air", log=log([LIMITS[rules] + 0.5] * 13)), "warmest")["note"]


@each_set
def test_air_in_its_grace_counts_no_more_just_below_the_limit_than_above_it(rules: str) -> None:
    """Half an hour after filling and not later; where there is no other reading it counts."""
    for degrees in (LIMITS[rules] - 0.1, LIMITS[rules] + 3):
        warm = log([1, degrees, 1, *[1] * 20], step=10)
        assert outcome("warmest", rules, measured="air", log=warm, now="2026-11-28 09:40") == "pass", degrees
    near = LIMITS[rules] - 0.1
    for at, wanted in ((3, "pass"), (4, "caution")):
        warm = log([near if each == at else 1 for each in range(23)], step=10)
        assert outcome("warmest", rules, measured="air", log=warm, now="2026-11-28 09:40") == wanted, at
        assert outcome("warmest", rules, log=warm, now="2026-11-28 09:40") == "caution"
    assert outcome("warmest", rules, measured="air", log=log([near] * 3, step=10), now="2026-11-28 06:20") == "caution"


@pytest.mark.parametrize("rules", ["us", "ca", "uk", "au"])
def test_hours_of_a_plan_hold_only_where_the_thermometer_may_be_off(rules: str) -> None:
    """Six hours just below the limit may be six hours above it; well below they are none, and once is none of that kind."""
    plan = {"plan": "time", "marked": "yes"}
    for measured, off in (("food", PROBE), ("air", AIR[rules]), (None, AIR[rules])):
        for more, wanted in ((-0.1, "caution"), (0.1, "pass")):
            check = ask.check(run(rules, **plan, measured=measured, log=log([LIMITS[rules] - off - more] * 13)), "above")
            assert (check["outcome"], check["value"]) == (wanted, 0), (measured, more)
            assert ("off it may be 360 min." in check["text"]) == ("Read the food" in check["note"]) == (wanted == "caution")
    late = log([0] * 11 + [LIMITS[rules] - 0.5, 0])
    assert outcome("above", rules, **plan, log=late) == "pass", "an hour at most"
    assert outcome("above", rules, log=log([LIMITS[rules] - 0.5] * 13)) == "pass", "without a plan the warmest says so"


def test_what_air_is_off_stands_beside_the_check_with_its_source() -> None:
    key = "food.air_thermometer_accuracy"
    for measured, wanted in (("air", True), ("food", False)):
        assert (key in ask.check(run("uk", measured=measured, log=log([6.9] * 13)), "warmest")["rules"]) == wanted


def test_the_temperature_of_a_frozen_pack_is_passed_by_more_than_the_thermometer_is_off() -> None:
    frozen = {"cooling": "frozen", "hard": "yes", "pack_names": "yes", "pack_limit": "-18 °C", "loaded": "-20 °C", "log": log([-19.5] * 13)}
    assert [outcome("pack", "uk", **frozen, measured=each) for each in ("food", "air")] == ["pass", "caution"]


# -- what no chilled cabinet shows ------------------------------------------------------------------


@each_set
@pytest.mark.parametrize("degrees", [-40, -5.1])
def test_a_reading_far_too_cold_for_a_chilled_cabinet_is_told_and_its_time_is_not_known(rules: str, degrees: float) -> None:
    """All of them, or one: a broken sensor is no cold food."""
    for lines, silent in (([degrees] * 13, None), (with_at({5: degrees}), [["2026-11-28 08:00", "2026-11-28 09:00", "60 min"]])):
        result = run(rules, log=log(lines))
        assert result["outcome"] == "unknown"
        assert ask.check(result, "log")["outcome"] == "caution"
        assert ask.rows(result, "log")[0][1] == "It is far too cold for a chilled cabinet."
        assert silent is None or ask.rows(result, "silent") == silent
    assert run(rules, log=log([-5] * 13))["outcome"] == "pass"
    last = run(rules, log=log(with_at({12: degrees})))
    assert ask.rows(last, "silent") == [["2026-11-28 11:30", "2026-11-28 12:00", "30 min"]]


def test_such_a_line_takes_no_doubt_of_its_own_away() -> None:
    """A clock that was put back to it leaves its hour in doubt, and a line that could not be read before it stays one."""
    lines = log([2, 2, -40, 2, 2], step=60).splitlines()
    twice = "\n".join([*lines[:4], "2026-11-28 08:00,-41", *lines[4:]])
    result = run(log=twice, now="2026-11-28 10:00")
    assert sum(int(row[2].split()[0]) for row in ask.rows(result, "silent")) == 180
    assert ask.rows(run(log=log(with_at({5: "---", 6: -40}))), "silent")[0][:2] == ["2026-11-28 08:00", "2026-11-28 09:30"]
    assert [row[0] for row in ask.rows(run(log=log(with_at({6: "---", 5: -40}))), "log")] == ["line 7", "line 8"]


def test_a_frozen_cabinet_may_be_as_cold_and_what_is_frozen_may_go_in_to_thaw() -> None:
    assert run(cooling="frozen", hard="yes", log=log([-40] * 13))["outcome"] == "pass"
    assert outcome("start", loaded="-18 °C") == "pass"


def test_a_reading_by_hand_far_too_cold_is_an_error_at_it_and_at_the_cabinet() -> None:
    cold = {"readings": [{"at": "2026-11-28 08:00", "degrees": 2}, {"at": "2026-11-28 09:00", "degrees": -12}]}
    assert fields(**cold) == ["cooling", "readings.1.degrees"]
    run(**cold, cooling="frozen")
    run(readings=[{"at": "2026-11-28 09:00", "degrees": -5}])


# -- frozen hard ------------------------------------------------------------------------------------

HARD = {"cooling": "frozen", "hard": "yes", "loaded": "-20 °C"}


def by_hand(degrees: float, at: str | None = "2026-11-28 09:00") -> dict[str, Any]:
    return {"readings": [{"at": at, "degrees": degrees}], "log": log([-20] * 13)}


def test_food_that_was_read_above_freezing_was_not_hard() -> None:
    """By more than the thermometer is off it is a stop, by less it is not known; before it went in it is nothing."""
    for degrees, wanted in ((1.1, "stop"), (1.0, "unknown"), (0.1, "unknown"), (0.0, "pass"), (-0.5, "pass")):
        assert outcome("hard", **HARD, **by_hand(degrees)) == outcome("hard", **HARD, **by_hand(degrees, None)) == wanted
        assert outcome("hard", **{**HARD, "hard": "no"}, **by_hand(degrees)) == "stop"
    assert ask.check(run(**HARD, log=log([3.5] * 13)), "hard")["text"] == "It was read above freezing, and what is hard is not."
    early = [{"at": "2026-11-28 05:00", "degrees": 9}]
    assert outcome("hard", **HARD, log=log([-20] * 13), readings=early) == "pass"
    assert outcome("hard", **HARD, log=log([-20] * 13), readings=early, put_in=None) == "unknown"


def test_air_above_freezing_tells_against_hard_food_once_it_lasts() -> None:
    """As long as after a filling it tells nothing; where nobody says what was read, any reading above leaves it open."""
    for warm, wanted in ((3, "pass"), (4, "unknown")):  # 30 and 45 min from the first of them to the last
        lines = log([-20, *[3.5] * warm, *[-20] * (20 - warm)], step=15)
        assert outcome("hard", **HARD, measured="air", log=lines, now="2026-11-28 11:00") == wanted, warm
    open_ = ask.check(run(**HARD, measured=None, log=log([-20] * 6 + [3.5] + [-20] * 6)), "hard")
    assert (open_["outcome"], open_["needs"]) == ("unknown", ["measured"])
    assert "Read the food between two packs" in open_["note"]


# -- a shutoff that did nothing ---------------------------------------------------------------------


@each_set
@pytest.mark.parametrize("plan", [{}, {"plan": "time", "marked": "yes"}])
def test_a_shutoff_that_stayed_quiet_while_it_was_warm_has_failed(rules: str, plan: dict[str, str]) -> None:
    """Surely warm for longer than after a filling: three half-hourly readings, and not two; what is within the thermometer is not sure."""
    for degrees, warm, wanted in ((20, 3, "stop"), (20, 2, "pass"), (LIMITS[rules] + PROBE, 6, "pass"),
                                  (round(LIMITS[rules] + PROBE + 0.1, 1), 6, "stop")):  # fmt: skip
        text = log(with_at(dict.fromkeys(range(2, 2 + warm), degrees)))
        assert outcome("shutoff", rules, **plan, log=text) == wanted, (degrees, warm)
        assert outcome("shutoff", rules, **plan, log=text, shutoff="proved") == "pass"
    check = ask.check(run(rules, **plan, log=log(with_at({2: 20, 3: 20, 4: 20}))), "shutoff")
    assert check["text"] == "It has not tripped, though all readings of 60 min were too warm."
    gap = log(with_at({2: 20, 3: 20, 4: 20, 5: 20})).splitlines()
    assert outcome("shutoff", rules, **plan, log=log([2, *[20, "---"] * 6])) == "pass", "no two of them hang together"
    assert outcome("shutoff", rules, **plan, log="\n".join([*gap[:4], *gap[6:]])) == "pass"


def test_what_the_shutoff_did_before_this_food_came_is_not_about_it() -> None:
    """And where nobody says when it came, it is not known."""
    early = log([20] * 4 + [2] * 9)
    for put_in, wanted in (("2026-11-28 06:00", "stop"), ("2026-11-28 08:00", "pass"), (None, "unknown")):
        assert outcome("shutoff", log=early, put_in=put_in) == wanted, put_in


def test_a_pack_with_a_limit_of_its_own_trips_no_shutoff() -> None:
    """It is set to the rule's figure."""
    assert outcome("shutoff", pack_names="yes", pack_limit="1 °C", log=log([4] * 13)) == "pass"

"""Each check at its very limit: one step to the good side passes, one to the bad side does not."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from calculators.core import InputErrors
from calculators.core.rules import RULE_SETS

from . import ask
from .ask import log, outcome, run, with_at

LIMITS = {"us": 5.0, "ca": 4.0, "uk": 8.0, "eu": 4.0, "au": 5.0}  # °C, typed again from the facts; 41 °F is 5 °C
DAYS = {"us": 7, "ca": 3, "uk": 3, "eu": 3, "au": 3}
each_set = pytest.mark.parametrize("rules", RULE_SETS)


@each_set
def test_the_plain_case_is_a_go(rules: str) -> None:
    """Cold all the time, dated, a quiet shutoff."""
    assert run(rules)["outcome"] == "pass"


def test_a_cabinet_that_does_not_cool_is_told_so() -> None:
    """The page does not apply, and asks for nothing more."""
    result = run(cooling="ambient")
    assert result["outcome"] == "stop"
    assert [check["key"] for check in result["checks"]] == ["applies"]
    assert result["measure_next"] is None


@each_set
def test_the_warmest_reading_is_held_against_the_set_s_limit(rules: str) -> None:
    """A tenth above is a stop; within what a thermometer may be off is no Go."""
    limit = LIMITS[rules]
    for above, wanted in ((0.1, "stop"), (0.0, "caution"), (-0.9, "caution"), (-1.1, "pass")):
        assert outcome("warmest", rules, log=log(with_at({4: round(limit + above, 2)}))) == wanted, above
        assert outcome("start", rules, loaded=f"{limit + above} °C") == wanted, above


@each_set
def test_any_time_above_is_a_stop_without_a_plan(rules: str) -> None:
    """From the last cold reading to the next one: an hour for one warm reading of half-hourly ones."""
    check = ask.check(run(rules, log=log(with_at({4: 12}))), "above")
    assert (check["outcome"], check["value"]) == ("stop", 60)


def until_cold(warm: int, degrees: float = 15, **changes: Any) -> dict[str, Any]:
    """So many warm readings after a cold one, and the answer asked for as soon as one is cold again."""
    now = ask.BEGIN + timedelta(minutes=30 * (warm + 1))
    return {"log": log([2, *[degrees] * warm, 2]), "now": f"{now:%Y-%m-%d %H:%M}", **changes}


@pytest.mark.parametrize(("rules", "hours"), [("us", 4), ("ca", 2), ("uk", 4), ("au", 4)])
def test_a_time_plan_allows_the_set_s_hours(rules: str, hours: int) -> None:
    """At the hours themselves it is no Go, in the United Kingdom a stop; past them it is one, and without its mark."""
    plan = {"plan": "time", "marked": "yes"}
    fits = 2 * hours - 2  # readings above, with half an hour on either side
    for more, wanted in ((-1, "pass"), (0, "pass"), (1, "stop" if rules == "uk" else "caution"), (2, "stop")):
        changes = until_cold(fits + more, **plan)
        minutes = 30 * (fits + more + 1)
        check = ask.check(run(rules, **changes), "above")
        assert check["value"] == minutes
        assert check["outcome"] == wanted, (more, check)
    assert outcome("marked", rules, **plan | {"marked": "no"}) == "stop"
    assert outcome("marked", rules, **plan) == "pass"


def test_no_figure_of_the_union_allows_a_time_plan() -> None:
    """The set has none: the check says so and is not known."""
    check = ask.check(run("eu", plan="time", marked="yes"), "above")
    assert (check["outcome"], "No figure" in check["text"]) == ("unknown", True)


def test_under_watched_time_six_hours_and_seventy_degrees() -> None:
    """At 21.0 °C it still holds within the thermometer, above it does not; 5 hours pass that four would stop."""
    plan = {"plan": "watched", "marked": "yes"}
    warm = until_cold(9, **plan)
    assert ask.check(run(**warm), "above")["value"] == 300
    assert outcome("above", **warm) == "pass"
    assert outcome("above", **{**warm, "plan": "time"}) == "stop"
    for degrees, wanted in ((21.2, "stop"), (21.0, "caution"), (20.0, "pass")):
        assert outcome("warmest", **plan, log=log(with_at({4: degrees}))) == wanted


def test_once_only_is_once_and_counts_from_the_first_period_to_the_last() -> None:
    """Two short periods: within four hours in all elsewhere; in the United Kingdom a second time is a stop however near."""
    plan = {"plan": "time", "marked": "yes"}
    for places, minutes in (((1, 11), 360), ((1, 3), 120)):
        two = {**plan, "log": log(with_at(dict.fromkeys(places, 12)))}
        assert ask.check(run("au", **two), "above")["value"] == 120
        assert ask.check(run("uk", **two), "above")["value"] == minutes
        assert (outcome("above", "au", **two), outcome("once", "uk", **two)) == ("pass", "stop")
        assert "once" not in [check["key"] for check in run("au", **two)["checks"]]
    assert outcome("once", "uk", **plan, log=log(with_at({1: 12, 2: 12}))) == "pass"
    assert outcome("once", "uk", **plan) == "pass"


def test_a_silence_may_be_the_second_time_out_of_the_cold() -> None:
    """One silence alone is no more than one; beside a warm reading, or another silence, it is not known."""
    plan = {"plan": "time", "marked": "yes"}

    def lines(degrees: list[Any], *silent: int) -> str:
        kept = log(degrees).splitlines()
        return "\n".join(line for at, line in enumerate(kept, -1) if at not in silent)

    for text, wanted in ((lines(ask.COLD, 3, 4), "pass"), (lines(ask.COLD, 3, 4, 8, 9), "unknown"),
                         (lines(with_at({1: 12}), 8, 9), "unknown"), (lines(with_at({1: 12}), 2, 3), "unknown"), (lines(with_at({1: 12, 6: 12}), 9, 10), "stop")):  # fmt: skip
        assert outcome("once", "uk", **plan, log=text) == wanted, text
    far = lines(ask.COLD, 1, 2, 10, 11)
    check = ask.check(run("uk", **plan, log=far), "above")
    assert check["outcome"] == "unknown", "from 06:00 to 12:00 at most, though two silences of 90 min"


@pytest.mark.parametrize("plan", ["time", "watched"])
def test_the_hours_of_a_written_plan_run_on_when_it_is_cold_again(plan: str) -> None:
    """United States: from the moment it left the cold until now; the sets that add up do not count so."""
    hours = {"time": 4, "watched": 6}[plan]
    for late, wanted in ((-2, "pass"), (0, "caution"), (2, "stop")):
        count = 2 * hours + late  # half hours from 06:00, when it was last cold
        now = ask.BEGIN + timedelta(minutes=30 * count)
        changes = {"plan": plan, "marked": "yes", "log": log([2, 19, *[2] * (count - 1)]), "now": f"{now:%Y-%m-%d %H:%M}"}
        check = ask.check(run("us", **changes), "above")
        assert (check["value"], check["outcome"]) == (30 * count, wanted)
        values = {each["key"]: each["inner"] for each in run("us", **changes)["values"]}
        assert values["above"] == 30 * count
        assert ["Since it left the cold", f"{30 * count} min"] in ask.rows(run("us", **changes), "record")
        assert ask.check(run("au", **{**changes, "plan": "time"}), "above")["value"] == 60
    assert "food.time_runs_on" in check["rules"]


def test_a_silence_before_it_was_warm_may_be_when_it_left_the_cold() -> None:
    """United States: nothing is known from 06:00 to 08:00, so that the hours may run from 06:00."""
    silent = log(ask.COLD).splitlines()
    for now, wanted in (("2026-11-28 09:30", "pass"), ("2026-11-28 12:00", "unknown")):
        kept = [line for line in silent[5:] if line[:16] <= now]
        check = ask.check(run(plan="time", marked="yes", now=now, log="\n".join([*silent[:2], *kept])), "above")
        assert check["outcome"] == wanted
        assert check["value"] in (210, None)


def test_after_two_hours_it_does_not_go_back_into_the_cold() -> None:
    """Australia: two hours at most for a cold cabinet, four for eating at once."""
    plan = {"plan": "time", "marked": "yes"}
    for count, wanted in ((2, "pass"), (3, "caution"), (4, "stop")):
        result = run("au", **plan, log=log(with_at(dict.fromkeys(range(1, 1 + count), 15))))
        assert ask.check(result, "back")["outcome"] == wanted, count
        assert ask.check(result, "above")["outcome"] == "pass"
    assert "back" not in [check["key"] for check in run("us", **plan)["checks"]]


# -- air and its grace ------------------------------------------------------------------------------


def air(minutes: int, rules: str = "us", **changes: Any) -> dict[str, Any]:
    """Air above the limit for so many minutes after filling at 06:00, read every minute."""
    degrees = [15 if 0 < at < minutes else 1 for at in range(90)]
    return run(rules, **{"measured": "air", "log": log(degrees, step=1), "now": "2026-11-28 07:29", **changes})


@each_set
def test_air_has_thirty_minutes_after_filling(rules: str) -> None:
    """Thirty are allowed and thirty-one are not; then they all count."""
    for minutes, wanted in ((30, "pass"), (31, "stop")):
        result = air(minutes, rules)
        assert ask.check(result, "filling")["value"] == minutes
        assert {ask.check(result, key)["outcome"] for key in ("filling", "above", "warmest")} == {wanted}


def test_food_has_no_grace() -> None:
    """The same readings of the food are a stop."""
    assert {ask.check(air(20, measured="food"), key)["outcome"] for key in ("above", "warmest")} == {"stop"}
    assert ask.check(air(20, measured=None), "above")["outcome"] == "unknown"
    assert ask.check(air(40, measured=None), "above")["outcome"] == "stop"


def test_the_grace_is_for_a_filling_and_for_nothing_else() -> None:
    """Warm air in the middle of the day counts, unless somebody filled it then."""
    warm = {"measured": "air", "log": log(with_at({4: 12}), step=10), "now": "2026-11-28 08:00"}
    assert outcome("above", **warm) == "stop"
    assert outcome("above", **warm, filled="2026-11-28 06:35") == "pass"
    assert outcome("above", **warm, filled="2026-11-28 06:45") == "stop"


# -- what is not known ------------------------------------------------------------------------------


def test_readings_of_hand_far_apart_rest_on_the_shutoff_and_are_never_a_go() -> None:
    """Two cold readings six hours apart: take care beside a quiet shutoff, not known without it."""
    two = [{"at": "2026-11-28 06:00", "degrees": 2}, {"at": "2026-11-28 12:00", "degrees": 2}]
    by_hand = {"log": None, "readings": two}
    assert outcome("above", **by_hand) == "caution"
    assert [outcome("above", **by_hand, shutoff=each) for each in ("proved", "none", "tripped")] == ["unknown"] * 3
    lines = "\n".join(log([2, 2], step=360).splitlines())
    assert outcome("above", log=lines) == "unknown"


def test_both_bounds_decide_over_a_gap() -> None:
    """Under a plan, what is known and all that is not together stay below four hours; or what is known is too much."""
    plan = {"plan": "time", "marked": "yes"}
    lines = log(with_at({2: 15})).splitlines()
    gap = "\n".join([*lines[:6], *lines[8:]])  # 08:00 to 09:30 is not known, an hour is above
    assert ask.check(run("au", log=gap, **plan), "above")["value"] == 150
    assert outcome("above", "au", log=gap, **plan) == "pass"
    assert outcome("above", "ca", log=gap, **plan) == "unknown"
    warm = log([15] * 6 + [2] * 7).splitlines()
    assert outcome("above", "ca", log="\n".join([*warm[:9], *warm[12:]]), **plan) == "stop"


def test_before_the_first_and_after_the_last_reading_nothing_is_known() -> None:
    """An hour is bridged, more is not."""
    for put_in, wanted in (("2026-11-28 05:00", "pass"), ("2026-11-28 04:59", "unknown")):
        assert outcome("above", put_in=put_in) == wanted
    for now, wanted in (("2026-11-28 13:00", "pass"), ("2026-11-28 13:01", "unknown")):
        assert outcome("above", now=now) == wanted


def test_what_was_read_before_the_food_came_is_not_about_it() -> None:
    """A warm night counts for what stood there then, and not for what was put in later."""
    night = log(with_at({0: 12, 1: 12}))
    assert outcome("above", log=night) == "stop"
    assert outcome("above", log=night, put_in="2026-11-28 07:00") == "pass"


def test_in_what_order_readings_of_one_moment_are_written_does_not_count() -> None:
    """Two by hand at one time, and one at a time of the log: what is said of them is the same either way round."""
    two = [{"at": "2026-11-28 09:00", "degrees": 12}, {"at": "2026-11-28 09:00", "degrees": 3}, {"at": "2026-11-28 08:10", "degrees": 11}]
    found = [run(readings=rows) for rows in (two, two[::-1])]
    assert [each["value"] for each in found[0]["checks"]] == [each["value"] for each in found[1]["checks"]]
    assert found[0]["values"] == found[1]["values"]


def test_a_warm_reading_without_its_time_counts() -> None:
    """And keeps open how long."""
    result = run(readings=[{"degrees": 12}])
    assert ask.check(result, "warmest")["outcome"] == "stop"
    assert ask.check(result, "above")["needs"] == ["readings.0.at"]


# -- pack, shutoff, frozen --------------------------------------------------------------------------


def test_a_lower_limit_on_the_pack_counts_and_a_higher_one_does_not() -> None:
    for named, wanted in (("3.1 °C", "pass"), ("2 °C", "caution"), ("1.9 °C", "stop"), ("12 °C", "pass")):
        assert outcome("warmest", pack_names="yes", pack_limit=named) == wanted
    assert outcome("warmest", pack_names="yes", pack_limit="12 °C", log=log(with_at({4: 9}))) == "stop"
    assert outcome("warmest", pack_names=None) == "unknown"
    assert outcome("warmest", pack_names=None, log=log(with_at({4: 9}))) == "stop"


def test_the_shutoff_by_law_and_by_our_own_rule() -> None:
    """Without one no such food is sold where a law asks for it; elsewhere sales are stopped by hand."""
    assert [outcome("shutoff", shutoff=each) for each in ("quiet", "proved", "none", "tripped", "failed")] == [
        "pass", "pass", "stop", "stop", "stop"]  # fmt: skip
    assert [outcome("shutoff", rules, shutoff="none") for rules in ("ca", "uk", "eu", "au")] == ["caution"] * 4
    assert outcome("shutoff", "uk", shutoff="tripped") == "stop"


def test_frozen_food_stays_hard_and_is_never_frozen_again() -> None:
    """Its pack's temperature is about quality, so that it is never a stop; soft is one."""
    frozen = {"cooling": "frozen", "hard": "yes", "pack_names": "yes", "pack_limit": "-18 °C", "loaded": "-20 °C"}
    cold = {"log": log([-20] * 13)}
    assert run(**frozen, **cold)["outcome"] == "pass"
    assert outcome("hard", **frozen | {"hard": "no"}, **cold) == "stop"
    assert outcome("hard", **frozen | {"hard": None}, **cold) == "unknown"
    warm = {"log": log([-20] * 6 + [-10] + [-20] * 6)}
    assert outcome("pack", **frozen, **warm) == "caution"
    assert outcome("above", **frozen, **warm) == "pass"
    assert outcome("above", **frozen, log=log([-20] * 6 + [9] + [-20] * 6)) == "stop"


# -- dates ------------------------------------------------------------------------------------------


@each_set
def test_days_of_a_kitchen_count_from_one(rules: str) -> None:
    """The last day passes, the next is a stop."""
    last = 28 - DAYS[rules] + 1
    for day, wanted in ((last, "pass"), (last - 1, "stop")):
        assert outcome("days", rules, lots=[{"dated": "kitchen", "made": f"2026-11-{day}"}]) == wanted


def test_a_date_on_the_pack_holds_to_its_end() -> None:
    """Past a date for safety it is a stop, past one for quality the office decides; without a date it is out."""
    for kind, wanted in (("use_by", "stop"), ("best_before", "caution"), (None, "stop")):
        past = {"dated": "pack", "date": "2026-11-27", **({"date_kind": kind} if kind else {})}
        assert outcome("date", lots=[past]) == wanted
        assert outcome("date", lots=[past | {"date": "2026-11-28"}]) == "pass"
    assert outcome("dated", lots=[{"dated": "none"}]) == "stop"
    assert outcome("dated", lots=[{}]) == "unknown"
    assert outcome("dated", lots=[]) == "unknown"


def test_freezing_stops_the_count_and_does_not_turn_it_back() -> None:
    """Day 1 and 2, frozen on day 2; thawed today it is day 3; still frozen it is day 2; frozen again it is out."""
    lot = {"dated": "kitchen", "made": "2026-11-01", "state": "thawed", "frozen": "2026-11-02", "thawed": "2026-11-28"}
    assert ask.check(run(lots=[lot]), "days")["value"] == 3
    assert ask.check(run(cooling="frozen", lots=[lot | {"state": "frozen"}]), "days")["value"] == 2
    assert outcome("refrozen", lots=[lot | {"state": "again"}]) == "stop"
    assert outcome("days", lots=[{key: each for key, each in lot.items() if key != "thawed"}]) == "unknown"


def test_the_earliest_date_counts_for_lots_that_lie_mixed() -> None:
    """The value is that of the earliest; one lot that is past stops the sheet and goes out by itself."""
    lots = [{"name": "a", "dated": "pack", "date": "2026-12-05"}, {"name": "b", "dated": "pack", "date": "2026-11-30"}]
    values = {each["key"]: each["inner"] for each in run(lots=lots)["values"]}
    assert values["left"] == 2
    lots[1]["date"] = "2026-11-27"
    result = run(lots=lots)
    assert result["outcome"] == "stop"
    assert [row[-1] for row in ask.rows(result, "lots")] == ["Its date allows it.", "Throw it out: its date."]
    warm = run(lots=lots, log=log(with_at({4: 12})))
    assert ask.rows(warm, "lots")[0][-1].startswith("Not for sale")


@pytest.mark.parametrize(("changes", "fields"), [
    ({"now": "2026-11-28 11:59"}, ["now", "log"]), ({"put_in": "2026-11-28 12:01"}, ["now", "put_in"]),
    ({"filled": "2026-11-29 06:00"}, ["now", "filled"]),
    ({"readings": [{"at": "2026-11-28 12:30", "degrees": 2}]}, ["now", "readings.0.at"]),
    ({"lots": [{"dated": "kitchen", "made": "2026-11-29"}]}, ["now", "lots.0.made"]),
    ({"lots": [{"dated": "kitchen", "made": "2026-11-20", "state": "thawed", "frozen": "2026-11-19", "thawed": "2026-11-21"}]},
     ["lots.0.made", "lots.0.frozen"]),
    ({"lots": [{"dated": "pack", "date": "2026-12-20", "state": "thawed", "frozen": "2026-11-21", "thawed": "2026-11-20"}]},
     ["lots.0.frozen", "lots.0.thawed"]),
])  # fmt: skip
def test_what_cannot_be_true_is_an_error_at_both_fields(changes: dict[str, Any], fields: list[str]) -> None:
    with pytest.raises(InputErrors) as caught:
        run(**changes)
    assert [error.field for error in caught.value.errors] == fields


# -- the estimate -----------------------------------------------------------------------------------


def test_an_estimate_turns_no_check() -> None:
    """Whatever it says, every outcome is as without it; and it is told as an estimate."""
    warm = {"log": log(with_at({4: 12}))}
    plain = run(**warm)
    for life in ("400 days", "0.5 days"):
        with_it = run(**warm, life_days=life, life_at="4 °C", q10="2")
        assert [check["outcome"] for check in with_it["checks"]] == [check["outcome"] for check in plain["checks"]]
        assert with_it["outcome"] == "stop"
        table = next(each for each in with_it["tables"] if each["key"] == "estimate")
        assert "never a permission" in table["note"]
    assert not ask.rows(plain, "estimate")

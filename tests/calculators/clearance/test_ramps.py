"""Ramps and people: whoever moves it, the slope, the width, the load and the balance are looked at."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from calculators.core import rules
from tests.calculators.clearance import statics
from tests.calculators.clearance.test_route import CABINET, check, run

KNOWN = {"cg_height": 850, "cg_back": 430, "cg_side": 480}
RAMP = {"kind": "ramp", "rise": 100, "run": 4000, "ramp_width": 1500, "ramp_made": "built"}
POWERED = {"mover": "powered", "gear_grade": 20}


def on(ramp: dict[str, Any], **more: Any) -> dict[str, Any]:
    return run({**CABINET, **KNOWN, **more, "route": [{**RAMP, **ramp}]})


def without(ramp: str) -> dict[str, Any]:
    return run({**CABINET, **KNOWN, "route": [{key: value for key, value in RAMP.items() if key != ramp}]})


# -- the slope is always looked at ------------------------------------------------------


@pytest.mark.parametrize("who", [
    {"crew": 20}, {"mover": "powered", "gear_grade": 60}, {"specialists": True},
    {"specialists": True, "mover": "powered", "gear_grade": 60, "crew": 20},
])  # fmt: skip
def test_nobody_takes_it_up_a_slope_beyond_the_steepest(who: dict[str, Any]) -> None:
    """27 degrees: a stop for any crew, any gear and any specialist."""
    own = {key: who[key] for key in who if key == "specialists"}
    result = on({"rise": 2038, "run": 4000, **own}, **{key: who[key] for key in who if key != "specialists"})
    found = check(result, "ramp_steep")
    assert (found["value"], found["outcome"]) == (pytest.approx(27.0, abs=0.01), "stop")
    assert result["outcome"] == "stop"


@pytest.mark.parametrize("who", [{"crew": 20}, POWERED, {}])
@pytest.mark.parametrize("blank", ["rise", "run"])
def test_a_slope_nobody_measured_is_never_go(who: dict[str, Any], blank: str) -> None:
    """Rise and run left blank keep every check of the slope open, also with powered gear."""
    leg = {key: value for key, value in RAMP.items() if key != blank}
    result = run({**CABINET, **KNOWN, **who, "route": [leg]})
    for key in ("ramp_steep", "ramp_balance"):
        found = check(result, key)
        assert (found["outcome"], found["needs"]) == ("unknown", [f"route.0.{blank}"])


def test_ten_degrees_are_the_most_with_the_tape_off_the_bad_way() -> None:
    """The limit, what the tape makes of it, and the mend that is a longer ramp."""
    run_at = 100 / math.tan(math.radians(10))
    worst = 105 / math.tan(math.radians(10)) + 5
    for long, word in ((worst + 0.1, "pass"), (worst - 0.1, "caution"), (run_at + 0.1, "caution"), (run_at - 0.1, "stop")):
        assert check(on({"run": long}), "ramp_steep")["outcome"] == word, long
    mend = check(on({"run": 400}), "ramp_steep")["mend"]["changes"]
    assert check(on({"run": mend["route.0.run"]}), "ramp_steep")["outcome"] == "pass"


def test_it_stands_on_the_slope_or_not_as_vectors_say() -> None:
    """The nearest edge decides, whichever way round; the gear lifts the middle of mass."""
    found = check(on({}), "ramp_balance")
    assert found["limit"] == pytest.approx(statics.balance_angle(430, 850 + 76), abs=1e-9)
    off = found["limit"] - statics.balance_angle(425, 850 + 81)
    worst = statics.balance_angle(105, 3995) - statics.balance_angle(100, 4000)
    slope = statics.balance_angle(100, 4000)
    # 100 over 4000 with the middle of mass so far forward that it just balances.
    assert slope < found["limit"] - off - worst
    assert check(on({"rise": 1900}), "ramp_balance")["outcome"] == "stop"
    assert check(on({"rise": 1850, "run": 4000}), "ramp_balance")["outcome"] == "caution"
    assert check(on({"rise": 1700, "run": 4000}), "ramp_balance")["outcome"] == "pass"


def test_a_silent_card_leaves_the_balance_on_a_slope_open() -> None:
    """All places of the middle of mass are tried: 13 degrees surely stand, 40 surely fall."""
    blind = {**CABINET}
    least = statics.balance_angle(0.3 * 864, 0.7 * 1829 + 76)
    most = statics.balance_angle(0.7 * 864, 0.3 * 1829 + 76)
    for angle, word in ((least - 1.0, "pass"), (least + 0.5, "unknown"), (most - 0.5, "unknown"), (most + 0.5, "stop")):
        leg = {**RAMP, "rise": 4000 * math.tan(math.radians(angle))}
        assert check(run({**blind, "route": [leg]}), "ramp_balance")["outcome"] == word, angle


# -- whose push -------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(20))
def test_the_push_is_that_of_vectors(seed: int) -> None:
    """Weight along the slope and rolling: against the vectors, on either floor."""
    rng = random.Random(f"push-{seed}")
    rise, long, mass = rng.uniform(10, 1500), rng.uniform(1000, 9000), rng.uniform(100, 700)
    for surface, share in (("smooth", 0.02), ("uneven", 0.10)):
        found = check(on({"rise": rise, "run": long}, cabinet_mass=mass, surface=surface), "ramp_push")
        assert found["value"] == pytest.approx(statics.push_up(mass + 60, rise, long, share), rel=1e-9)


@pytest.mark.parametrize("name", rules.RULE_SETS)
@pytest.mark.parametrize(("crew", "count"), [(1, 1.0), (2, 1.33), (3, 1.5), (4, 1.5), (20, 1.5)])
def test_people_do_not_add_up(name: str, crew: int, count: float) -> None:
    """Two thirds of two, half of three, and no more for a fourth: start, keep on, and ramp alike."""
    from tests.calculators.clearance.test_route import BARE

    inputs = {**CABINET, **KNOWN, "crew": crew, "route": [RAMP]}
    checks = BARE.run({"rules": name, "units": "si", "inputs": inputs})["checks"]
    one = {key: rules.load(name)[f"handling.{key}"].inner for key in ("push_start", "push_keep")}
    found = {each["key"]: each for each in checks}
    assert found["push_start"]["limit"] == pytest.approx(count * one["push_start"])
    assert found["push_keep"]["limit"] == found["ramp_push"]["limit"] == pytest.approx(count * one["push_keep"])
    cited = {"handling.team_two", "handling.team_three"} & set(found["push_keep"]["rules"])
    assert cited == (set() if crew == 1 else {"handling.team_two" if crew == 2 else "handling.team_three"})


def test_more_hands_are_named_only_while_they_help() -> None:
    """Three are named where more hands help, for no fewer lead and steady it; too much for any team: powered gear for both."""
    # 2 % of 700 kg and 60 kg is 149 N: one keeps 111 N rolling, two 148 N, three 167 N.
    tight = run({**CABINET, "surface": "smooth", "crew": 1, "cabinet_mass": 700})
    assert check(tight, "push_keep")["mend"]["changes"] == {"crew": "3"}
    two = run({**CABINET, "surface": "smooth", "crew": 1, "cabinet_mass": 600})
    assert check(two, "push_keep")["mend"]["changes"] == {"crew": "3"}
    heavy = run({**CABINET, "surface": "uneven", "crew": 1})
    assert {key: check(heavy, key)["mend"]["changes"]["mover"] for key in ("push_start", "push_keep")} == {
        "push_start": "powered", "push_keep": "powered"}  # fmt: skip
    people = {value["key"]: value["inner"] for value in tight["values"]}["people"]
    assert people == 3
    assert {value["key"]: value["inner"] for value in heavy["values"]}["people"] is None


def test_an_unsaid_mover_keeps_push_and_gear_open() -> None:
    """Nobody knows whether people push it."""
    blank = {key: value for key, value in CABINET.items() if key != "mover"}
    result = run({**blank, **KNOWN, "route": [RAMP]})
    for key in ("push_start", "push_keep", "ramp_push"):
        assert (check(result, key)["outcome"], check(result, key)["needs"]) == ("unknown", ["mover"])
    assert check(result, "ramp_gear")["needs"] == ["gear_grade", "mover"]


def test_the_push_counts_the_tape() -> None:
    """Just under the crew's push it is a matter of 5 mm of rise and run."""
    one = 25 * 4.4482216152605
    weight = one / statics.push_up(1, 100, 4000, 0.02)
    worst = statics.push_up(1, 105, 3995, 0.02) / statics.push_up(1, 100, 4000, 0.02)
    for part, word in ((0.999 / worst, "pass"), (1.001 / worst, "caution"), (0.999, "caution"), (1.001, "stop")):
        result = on({}, crew=1, surface="smooth", cabinet_mass=weight * part - 60)
        assert check(result, "ramp_push")["outcome"] == word, part


# -- gear, width, load ------------------------------------------------------------------


def test_powered_gear_has_a_slope_of_its_own() -> None:
    """2.5 % against its plate, with the tape; a blank plate keeps the check; specialists bring their own."""
    grade, worst = 100 * 100 / 4000, 100 * 105 / 3995
    for most, word in ((worst + 0.01, "pass"), (worst - 0.01, "caution"), (grade - 0.01, "stop")):
        assert check(on({}, mover="powered", gear_grade=most), "ramp_gear")["outcome"] == word, most
    assert check(on({}, mover="powered"), "ramp_gear")["needs"] == ["gear_grade"]
    assert "movers who do this work" in check(on({}, mover="powered", gear_grade=grade - 0.1), "ramp_gear")["mend"]["text"]
    assert check(on({}, mover="powered"), "ramp_push")["outcome"] == "pass"
    keys = {each["key"] for each in on({"specialists": True}, mover="powered")["checks"]}
    assert "ramp_gear" not in keys
    assert check(on({"specialists": True, "rise": 600}), "ramp_push")["outcome"] == "pass"


def test_the_ramp_is_as_wide_as_gear_cabinet_and_hands() -> None:
    """The depth goes through side first: 864 mm, gear of 30 beyond it on each side, an inch of hand."""
    wide = 864 + 2 * 30 + 2 * 25.4
    # Tape at the ramp, at the cabinet and twice at the gear.
    for width, word in ((wide + 20.1, "pass"), (wide + 19.9, "caution"), (wide - 0.1, "stop")):
        assert check(on({"ramp_width": width}, gear_wide=30), "ramp_width")["outcome"] == word, width
    assert check(without("ramp_width"), "ramp_width")["needs"] == ["route.0.ramp_width"]


def test_a_loose_ramp_carries_cabinet_gear_and_crew() -> None:
    """350 and 60 kg and four people of 220 lb; a built ramp is a floor; unsaid it is open."""
    total = 350 + 60 + 4 * 220 * 0.45359237
    for rated, word in ((total + 0.1, "pass"), (total - 0.1, "stop")):
        found = check(on({"ramp_made": "loose", "rated_load": rated}), "ramp_load")
        assert (found["value"], found["outcome"]) == (pytest.approx(total), word)
    assert check(on({}), "ramp_load")["outcome"] == "pass"
    assert check(on({"ramp_made": "loose"}), "ramp_load")["needs"] == ["route.0.rated_load"]
    assert check(without("ramp_made"), "ramp_load")["needs"] == ["route.0.ramp_made", "route.0.rated_load"]


# -- tipped on the ramp -----------------------------------------------------------------

TIPPED = {"tilt": True, "tilt_angle": 15, "tilt_over": "back", "tilt_hands": 1200, "tilt_gear": True, "max_tilt": 40, "tilt_ceiling": 9000}


@pytest.mark.parametrize(("edge", "far"), [("back", 434), ("front", 430), ("left", 480), ("right", 511)])
def test_a_slope_and_a_tip_add_up(edge: str, far: float) -> None:
    """Its low edge downhill it leans by both; on its gear it balances where vectors say."""
    found = check(on({"rise": 300}, **TIPPED | {"tilt_over": edge}), "ramp_tipped")
    assert found["value"] == pytest.approx(15 + math.degrees(math.atan2(300, 4000)))
    assert found["limit"] == pytest.approx(statics.balance_angle(far, 926))
    assert found["outcome"] == "pass"


def test_what_holds_on_the_level_and_upright_may_fall_tipped_on_a_ramp() -> None:
    """Each lean for itself passes; both together are past the balance, and upright it goes."""
    both = on({"rise": 500}, **TIPPED | {"tilt_angle": 21})
    assert [check(both, key)["outcome"] for key in ("tilt_balance", "ramp_balance", "ramp_tipped")] == ["pass", "pass", "stop"]
    assert check(both, "ramp_tipped")["mend"]["changes"] == {"tilt": "no"}
    assert all(each["key"] != "ramp_tipped" for each in on({"rise": 500})["checks"])


def test_a_tip_on_a_ramp_counts_tape_and_level() -> None:
    """Rise and run, the edge, and 2 degrees of the tip, each off the bad way."""
    slope, limit = math.degrees(math.atan2(300, 4000)), statics.balance_angle(434, 926)
    off = math.degrees(math.atan2(305, 3995)) - slope + 2 + limit - statics.balance_angle(429, 931)
    for tip, word in ((limit - slope - off - 0.01, "pass"), (limit - slope - off + 0.01, "caution"), (limit - slope - 0.01, "caution"),
                      (limit - slope + 0.01, "stop")):  # fmt: skip
        assert check(on({"rise": 300}, **TIPPED | {"tilt_angle": tip}), "ramp_tipped")["outcome"] == word, tip


def test_on_a_ramp_too_it_is_said_whether_it_is_tipped() -> None:
    """A blank keeps it open; where the card is silent both ends of the middle of mass are tried."""
    unsaid = run({**{key: value for key, value in {**CABINET, **KNOWN}.items() if key != "tilt"}, "route": [RAMP]})
    assert (check(unsaid, "ramp_tipped")["outcome"], "tilt" in check(unsaid, "ramp_tipped")["needs"]) == ("unknown", True)
    for blank in ("tilt_angle", "tilt_over"):
        left = {key: value for key, value in TIPPED.items() if key != blank}
        assert blank in check(on({}, **left), "ramp_tipped")["needs"]
    silent = {**CABINET, **TIPPED, "route": [RAMP]}
    for tip, word in ((5, "pass"), (20, "unknown"), (45, "stop")):
        assert check(run({**silent, "tilt_angle": tip}), "ramp_tipped")["outcome"] == word, tip


# -- crew, and hands --------------------------------------------------------------------


@pytest.mark.parametrize("who", [{}, POWERED, {"cabinet_mass": 100}])
def test_fewer_than_three_move_no_cabinet(who: dict[str, Any]) -> None:
    """Powered gear and a light cabinet want somebody to lead and two to steady too."""
    for crew, word in ((1, "stop"), (2, "stop"), (3, "pass")):
        assert check(on({}, **who, crew=crew), "crew")["outcome"] == word
    blank = run({**{key: value for key, value in CABINET.items() if key != "crew"}, **who})
    assert (check(blank, "crew")["outcome"], check(blank, "crew")["needs"]) == ("unknown", ["crew"])
    assert check(on({}, **who, crew=1), "crew")["mend"]["changes"] == {"crew": "3"}


def test_nobody_pulls_higher_than_hands_lift() -> None:
    """70 in: hands that are said to be higher pull no better."""
    pulled = {**TIPPED, "tilt_gear": False, "tilt_over": "back"}
    highest = check(on({}, **pulled | {"tilt_hands": 1778}), "tilt_pull")["value"]
    assert highest == pytest.approx(statics.pull(350, 434, 1778))
    assert check(on({}, **pulled | {"tilt_hands": 2500}), "tilt_pull")["value"] == pytest.approx(highest)


# -- steps ------------------------------------------------------------------------------


def test_a_step_no_higher_than_an_edge_is_one() -> None:
    """Half an inch rolls, with the tape; higher it is a step, whoever takes it, and never Go."""
    for rise, word in ((7.6, "pass"), (7.8, "caution"), (12.6, "caution")):
        result = run({**CABINET, "route": [{"kind": "steps", "rise": rise}]})
        assert (check(result, "sill")["outcome"], check(result, "people_alone")["outcome"]) == (word, "pass"), rise
    for who, word in ((False, "stop"), (True, "caution")):
        for rise in (12.8, 180, 4500):
            result = run({**CABINET, "route": [{"kind": "steps", "rise": rise, "specialists": who}]})
            assert check(result, "people_alone")["outcome"] == word
            assert all(each["key"] != "sill" for each in result["checks"])
    blank = run({**CABINET, "route": [{"kind": "steps", "specialists": True}]})
    assert (check(blank, "people_alone")["outcome"], check(blank, "people_alone")["needs"]) == ("unknown", ["route.0.rise"])


def test_what_stairs_hold_and_carry_is_said_to_be_open() -> None:
    """Specialists are told what to look at, and the sheet that nobody has."""
    result = run({**CABINET, "route": [{"kind": "steps", "rise": 180, "specialists": True}]})
    assert all(word in check(result, "people_alone")["text"] for word in ("width", "headroom", "landings", "carry"))
    assert [line for line in result["not_checked"] if "stairs" in line] == ["Width, headroom and landings of steps and stairs, and what these carry."]
    assert not any("stairs" in line for line in run({**CABINET, "route": [RAMP]})["not_checked"])

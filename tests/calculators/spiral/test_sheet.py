"""Every check of the sheet against arithmetic done here: value, limit, how far the measuring may be off, outcome."""

from __future__ import annotations

import math
import random
from collections import Counter
from typing import Any

import pytest

import calculators
from calculators.core import Work, rules
from calculators.core.report import Check
from calculators.core.units import Units
from calculators.spiral import CALCULATOR, room
from calculators.spiral.fit import Found
from calculators.spiral.inputs import Inputs
from calculators.spiral.solve import assess

US = rules.load("us")
# The figures of common practice, typed a second time.
PLAY, TURNS, ABOVE, RIDES, ALONE, MOST = 25.4 / 8, 25.4 / 32, 25.4 / 2, 0.4, 20.0, 25.0
BASE: dict[str, Any] = {
    "shape": "round", "diameter": 65.0, "foot_diameter": 60.0, "height": 205.0, "mass": 520.0, "coil_count": 7,
    "usable_length": 546.1, "coil_outside": 76.2, "wire": 4.0, "lane_width": 79.0, "height_above": 280.0,
    "rail_height": 100.0, "drop_height": 600.0, "drop_limit": 900.0, "end_clock": 12,
}  # fmt: skip
PAIR = {"coil_kind": "dual", "axis_offset": 40.0, "coil_count": 5, "lane_width": 180.0}
BOX = {"shape": "flat", "breadth": 60.0, "thickness": 30.0, "height": 100.0, "coil_count": 10}


def sheet(**inputs: Any) -> tuple[Found, dict[str, Check]]:
    work = Work(CALCULATOR, Inputs(**{**BASE, **inputs}), US, Units("si"))
    found = assess(work.inputs, work)  # type: ignore[arg-type]
    return found, {check.key: check for check in work.checks}


def same(check: Check, value: float, limit: float, tolerance: float, outcome: str = "") -> None:
    """A comparison's three numbers, and the outcome that they give."""
    assert check.value == pytest.approx(value, abs=1e-9)
    assert check.limit == pytest.approx(limit, abs=1e-9)
    assert check.tolerance == pytest.approx(tolerance, abs=1e-9)
    if outcome:
        assert check.outcome == outcome


def test_the_figures_of_common_practice_are_these() -> None:
    """Half a degree or a thirty-second of an inch off would be another practice."""
    keys = ("side_play", "coil_room", "height_room", "rest_share", "stands_alone", "lean_care", "lean_most")
    assert [US[f"goods.{key}"].inner for key in keys] == pytest.approx([PLAY, TURNS, ABOVE, RIDES, ALONE, 15.0, 25.0])
    assert {US[f"goods.{key}"].status for key in keys} == {"common practice"}
    assert US["goods.fall_speed"].inner == pytest.approx(math.sqrt(2 * 9.80665 * 1.0), abs=5e-5)


@pytest.mark.parametrize(("lane", "outcome"), [(79.0, "pass"), (70.0, "caution"), (68.0, "stop")])
def test_the_lane_of_a_round_product(lane: float, outcome: str) -> None:
    """Its diameter and an eighth of an inch; each ruler is a millimetre off."""
    same(sheet(lane_width=lane)[1]["lane"], lane, 65.0 + PLAY, 2.0, outcome)


@pytest.mark.parametrize(("lane", "outcome"), [(79.0, "pass"), (77.0, "caution"), (76.9, "stop")])
def test_the_lane_of_a_coil(lane: float, outcome: str) -> None:
    """Its outside and a thirty-second of an inch; the calliper is half a millimetre off."""
    same(sheet(lane_width=lane)[1]["coil_lane"], lane, 76.2 + TURNS, 1.5, outcome)


def test_the_lane_of_a_pair() -> None:
    """Both axes and a diameter; half the distance counts twice."""
    same(sheet(**PAIR)[1]["coil_lane"], 180.0, 80.0 + 76.2 + TURNS, 2.5, "pass")
    same(sheet(**PAIR)[1]["pair"], 80.0, 76.2, 1.5, "pass")
    same(sheet(**{**PAIR, "axis_offset": 38.6})[1]["pair"], 77.2, 76.2, 1.5, "caution")
    same(sheet(**{**PAIR, "axis_offset": 38.0})[1]["pair"], 76.0, 76.2, 1.5, "stop")


def test_a_box_takes_up_its_corners() -> None:
    """At the least skew at which it goes in; turned sideways its breadth and thickness change places."""
    found, checks = sheet(**{**BOX, "thickness": 40.0})
    turn = math.radians(found.fit.skew)
    assert found.fit.skew > 1
    wide = 60.0 * math.cos(turn) + 40.0 * math.sin(turn)
    same(checks["lane"], 79.0, wide + PLAY, 2.0)
    assert found.play == pytest.approx(79.0 - wide)
    turned, _ = sheet(**{**BOX, "breadth": 30.0, "thickness": 60.0, "may_turn": True})
    assert turned.fit.turned
    assert turned.wanted_lane == pytest.approx(60.0 * math.cos(math.radians(turned.fit.skew))
                                               + 30.0 * math.sin(math.radians(turned.fit.skew)) + PLAY)  # fmt: skip


def test_what_goes_in_and_how_far_that_may_be_off() -> None:
    """The room less what is needed; ruler, calliper, wire and the tape's share of a turn, and of a pair its axes."""
    found, checks = sheet()
    assert found.fit.opening is not None
    same(checks["goes_in"], found.fit.opening.size, 65.0, 1.0 + 0.5 + 0.1 + 2.0 / 7, "pass")
    assert found.slack == pytest.approx(found.fit.opening.size - 65.0)
    _, pair = sheet(**PAIR)
    assert pair["goes_in"].tolerance == pytest.approx(1.0 + 0.5 + 0.1 + 0.5 + 2.0 / 5)
    soft, checks = sheet(**{**BOX, "thickness": 44.0, "squeeze": 5.0})
    assert checks["goes_in"].limit == 39.0
    assert soft.fit.along == 39.0
    assert sheet(**{**BOX, "thickness": 5.0, "squeeze": 9.0})[1]["goes_in"].limit == 0.0
    inputs = Inputs(**BOX)
    assert room.tolerance(inputs, Work(CALCULATOR, inputs, US, Units("si"))) == 1.0, "only what is measured counts"


def test_heights() -> None:
    """Foot, top, the tray above, the coil's own height, and how high it may ride."""
    found, checks = sheet()
    foot = found.foot or 0.0
    assert 15 < foot < 25
    same(checks["height"], 280.0, foot + 205.0 + ABOVE, 3.5, "pass")
    same(checks["short"], foot + 205.0, 76.2, 1.5, "pass")
    same(checks["ride"], foot, RIDES * 76.2, 0.0, "pass")
    assert found.riser == 0.0
    assert found.middle == pytest.approx(foot + 102.5)
    assert sheet(height_above=foot + 205.0 + ABOVE + 1)[1]["height"].outcome == "caution"
    assert sheet(height_above=foot + 205.0 + ABOVE - 1)[1]["height"].outcome == "stop"
    low, checks = sheet(height=50.0)
    assert low.riser == pytest.approx(26.2)
    assert checks["short"].outcome == "caution"
    raised, checks = sheet(strip_height=45.0)
    assert raised.foot == 45.0
    assert checks["ride"].outcome == "pass"
    assert "strips" in checks["ride"].text
    assert sheet(strip_height=5.0)[0].foot == foot
    wide = {**BOX, "breadth": 130.0, "coil_count": 6, "lane_width": 158.0, "thickness": 55.0}
    assert sheet(**wide)[1]["ride"].outcome == "caution"


@pytest.mark.parametrize(("rail", "outcome"), [(126.0, "pass"), (60.0, "caution"), (50.0, "stop"), (15.0, "stop")])
def test_a_slender_product_leans_on_its_rail(rail: float, outcome: str) -> None:
    """Above its middle of mass it rests on it; below it the play decides; below its foot nothing holds it."""
    found, checks = sheet(rail_height=rail)
    assert found.foot is not None
    if outcome == "pass":
        same(checks["side"], leans(14.0, rail - found.foot), MOST, math.degrees(math.atan(2.0 / (rail - found.foot))))
    elif rail > found.foot:
        reach = rail - found.foot
        off = math.degrees(math.atan(2.0 / reach))
        same(checks["side"], leans(14.0, reach), math.degrees(math.atan(60.0 / 205.0)), off)
    else:
        assert "below its foot" in checks["side"].text
    judged = sheet(rail_height=rail)[1]["side"].outcome
    assert judged == (outcome if rail != 60.0 else judged)


def test_the_outcome_of_a_rail_goes_with_its_height() -> None:
    """Stop, take care, go, as the rail rises; at its middle of mass plus what the ruler hides it surely rests on it."""
    found, _ = sheet()
    middle = found.middle or 0.0
    outcomes = [sheet(rail_height=float(rail))[1]["side"].outcome for rail in range(22, 130, 2)]
    assert outcomes == sorted(outcomes, key=("stop", "caution", "pass").index)
    assert set(outcomes) == {"stop", "caution", "pass"}
    assert sheet(rail_height=middle + 2.0)[1]["side"].limit == MOST
    assert sheet(rail_height=middle + 1.9)[1]["side"].limit == pytest.approx(math.degrees(math.atan(60.0 / 205.0)))


def leans(play: float, reach: float, high: float = 205.0) -> float:
    """On the rail's top edge, or with its own top's edge on a rail that is higher than it reaches."""
    return math.degrees(max(math.atan(play / reach), math.asin(min(play / high, 1.0))))


@pytest.mark.parametrize(("lane", "outcome"), [(100.0, "pass"), (139.0, "pass"), (151.2, "caution"), (170.0, "stop"), (300.0, "stop")])
def test_a_high_rail_holds_no_product_that_leans_too_far_before_it_rests(lane: float, outcome: str) -> None:
    """As on wire, 25° is the most, however high the rail; with more play than it is tall it lies down flat."""
    for rail in (140.0, 200.0, 399.0):
        found, checks = sheet(lane_width=lane, rail_height=rail)
        play, reach = lane - 65.0, rail - (found.foot or 0.0)
        same(checks["side"], leans(play, reach), MOST, math.degrees(math.atan(2.0 / reach)), outcome if rail == 399.0 else "")
    assert sheet(lane_width=280.0, rail_height=399.0)[1]["side"].value == pytest.approx(90.0)


@pytest.mark.parametrize("product", [{}, {"height": 90.0, "foot_diameter": 64.0}, {"sides": "widening", "height": 90.0}, BOX,
                                     {**BOX, "may_skew": False}, {**BOX, "pillow": True}, {**BOX, **PAIR}],
                         ids=["bottle", "broad", "cup", "pack", "square", "bag", "pair"])  # fmt: skip
def test_no_product_may_stand_beside_its_coil(product: dict[str, Any]) -> None:
    """Pushed against a divider its middle is still within the wire, whose ends lie 36.1 mm from a coil's axis."""
    pair = "axis_offset" in product
    ends = 36.1 + (40.0 if pair else 0.0)
    off = (1.0 + 1.0 + 0.5 + 0.1) / 2 + (0.5 if pair else 0.0)
    outcomes = []
    for lane in (2 * ends + 53.0, 2 * ends + 62.0, 2 * ends + 100.0, 600.0):
        found, checks = sheet(**{**product, "lane_width": lane, "rail_height": 399.0})
        assert found.play is not None
        same(checks["aside"], found.play / 2, ends, off)
        outcomes.append(checks["aside"].outcome)
    assert outcomes == sorted(outcomes, key=("pass", "caution", "stop").index)
    assert (outcomes[0], outcomes[-1]) == ("pass", "stop")
    assert sheet(**{**product, "lane_width": None})[1]["aside"].outcome == "unknown"


WORDS = {"shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm", "coil_count": 7, "usable_length": "546.1 mm",
         "coil_outside": "76.2 mm", "wire": "4 mm", "end_clock": 12, "height_above": "250 mm", "drop_height": "600 mm", "drop_limit": "3 m"}


@pytest.mark.parametrize("rail", ["60 mm", "130 mm"])
def test_a_higher_rail_is_one_on_which_it_surely_rests_upright_enough(rail: str) -> None:
    """Not just above its middle of mass, where it would still lean too far; a few millimeters less are not enough."""
    given = {**WORDS, "lane_width": "130 mm", "rail_height": rail}
    mend = next(check for check in calculators.run("spiral", {"units": "si", "inputs": given})["checks"] if check["key"] == "side")["mend"]
    wanted = float(mend["changes"]["rail_height"].split()[0])
    for less, outcome in ((0.0, "pass"), (4.0, "caution")):
        again = calculators.run("spiral", {"units": "si", "inputs": {**given, "rail_height": f"{wanted - less} mm"}})
        assert next(check for check in again["checks"] if check["key"] == "side")["outcome"] == outcome


def test_a_lane_too_wide_is_told_with_one_that_does() -> None:
    """The narrower lane is the mend of both; a rail alone cannot mend it."""
    result = calculators.run("spiral", {"units": "si", "inputs": {**WORDS, "lane_width": "300 mm", "rail_height": "80 mm"}})
    found = {check["key"]: check for check in result["checks"]}
    assert result["outcome"] == found["side"]["outcome"] == found["aside"]["outcome"] == "stop"
    assert found["side"]["mend"]["changes"] == found["aside"]["mend"]["changes"] == {"lane_width": "80 mm"}


def test_a_broad_product_needs_no_rail_and_one_too_wide_for_its_lane_is_not_asked() -> None:
    """From 20 degrees it stands by itself."""
    at = 60.0 / math.tan(math.radians(ALONE))
    assert sheet(height=at - 0.1, rail_height=None)[1]["side"].outcome == "pass"
    assert sheet(height=at + 0.1, rail_height=None)[1]["side"].outcome == "unknown"
    assert "rail_height" in sheet(height=at + 0.1, rail_height=None)[1]["side"].needs
    assert "side" not in sheet(lane_width=64.0)[1]
    assert sheet(height=None)[1]["side"].outcome == "unknown"


@pytest.mark.parametrize(("limit", "outcome"), [(630.0, "pass"), (621.0, "caution"), (610.0, "stop")])
def test_the_drop(limit: float, outcome: str) -> None:
    """From its foot to where goods land; a tape is 5 mm off there. It lands as a stone falls."""
    found, checks = sheet(drop_limit=limit)
    assert found.fall == pytest.approx(600.0 + (found.foot or 0.0))
    same(checks["drop"], found.fall or 0.0, limit, 5.0, outcome)
    assert found.speed == pytest.approx(math.sqrt(2 * 9.80665 * (found.fall or 0.0) / 1000), abs=1e-3)


@pytest.mark.parametrize(("empty", "turns", "count"), [(0, 1, 7), (1, 1, 6), (0, 2, 3), (1, 2, 3), (3, 4, 1)])
def test_how_many(empty: int, turns: int, count: int) -> None:
    """Whole turns for each sale, those in front left empty."""
    found, _ = sheet(end_empty=empty, turns_per_sale=turns)
    assert found.capacity == count
    assert found.lane_mass == 520.0 * count


def test_no_fewer_than_none() -> None:
    """Two turns and three left empty hold nothing."""
    assert sheet(coil_count=2, end_empty=3, diameter=40.0, foot_diameter=38.0)[0].capacity == 0


def test_sizes_taken_at_the_wrong_end() -> None:
    """A foot wider than the body and a thin end thicker than the thick one stop; equal ones pass."""
    for foot, outcome in ((65.0, "pass"), (65.5, "stop")):
        same(sheet(foot_diameter=foot)[1]["foot"], foot, 65.0, 0.0, outcome)
    wedge = {**BOX, "thick_end": "foot"}
    for thin, outcome in ((30.0, "pass"), (30.5, "stop")):
        same(sheet(**wedge, thin_end=thin)[1]["thin"], thin, 30.0, 0.0, outcome)
    assert "thin" not in sheet(**BOX, thin_end=50.0)[1], "no wedge"
    assert "thin" not in sheet(**wedge, thin_end=50.0, pillow=True)[1], "a bag has no thin end"


def test_the_pitch_is_a_share_of_the_length() -> None:
    """And the radius runs to the middle of the wire."""
    found, _ = sheet()
    assert found.fit.coil is not None
    assert found.fit.coil == (546.1 / 7, (76.2 - 4.0) / 2, 4.0, 0.0)
    pair, _ = sheet(**PAIR)
    assert pair.fit.coil is not None
    assert pair.fit.coil.offset == 40.0


def test_tipping_angles_of_every_shape() -> None:
    """Half the base over the height of the middle of mass: of a cup and a wedge, by slices."""
    slices = [(k + 0.5) / 2000 for k in range(2000)]
    cup, _ = sheet(sides="widening", diameter=80.0, foot_diameter=50.0, height=100.0, coil_count=5)
    area = [(50 + 30 * share) ** 2 for share in slices]
    middle = 100 * math.fsum(s * a for s, a in zip(slices, area, strict=True)) / math.fsum(area)
    assert cup.tip == pytest.approx(math.degrees(math.atan(25.0 / middle)), abs=0.01)
    for end, foot, top in (("foot", 30.0, 10.0), ("top", 10.0, 30.0)):
        wedge, _ = sheet(**BOX, thick_end=end, thin_end=10.0)
        thick = [foot + (top - foot) * share for share in slices]
        middle = 100 * math.fsum(s * t for s, t in zip(slices, thick, strict=True)) / math.fsum(thick)
        assert wedge.tip == pytest.approx(math.degrees(math.atan(foot / 2 / middle)), abs=0.01)
    assert sheet(**BOX)[0].tip == pytest.approx(math.degrees(math.atan(15.0 / 50.0)))
    assert sheet()[0].tip == pytest.approx(math.degrees(math.atan(30.0 / 102.5)))


@pytest.mark.parametrize("blank", ["diameter", "height", "foot_diameter", "lane_width", "height_above", "usable_length",
                                   "coil_outside", "wire", "coil_count"])  # fmt: skip
def test_a_blank_is_named_by_each_check_that_rests_on_it(blank: str) -> None:
    """No check of the whole sheet is lost by one blank, but those that say what a whole sheet would."""
    whole, part = sheet()[1], sheet(**{blank: None})[1]
    assert set(whole) - set(part) <= {"foot"}
    for key, check in part.items():
        if check.outcome == "unknown":
            assert blank in check.needs, key
        else:
            assert check.outcome == whole[key].outcome, key
    assert any(check.outcome == "unknown" for check in part.values())


def test_too_tight_is_said_only_where_no_blank_can_make_it_go_in() -> None:
    """A product of unknown height may be so low that little wire is beside it; a huge one is not."""
    tight = sheet(coil_count=8, height=None)[1]["goes_in"]
    assert tight.outcome == "unknown"
    assert tight.needs == ("height",)
    assert sheet(coil_count=8)[1]["goes_in"].outcome == "stop"
    assert sheet(coil_count=8, height=30.0)[1]["goes_in"].outcome == "pass"
    broad = {**BOX, "breadth": 130.0, "lane_width": 158.0, "thickness": 45.0, "coil_count": 20,
             "may_skew": False}
    assert sheet(**{**broad, "height": None})[1]["goes_in"].outcome == "stop", "it rides so high that every wire counts"
    assert {sheet(**{**broad, "height": float(high)})[1]["goes_in"].outcome for high in range(10, 200, 10)} == {"stop"}
    low = sheet(coil_count=8, height=None, foot_diameter=None)[1]["goes_in"]
    assert low.needs == ("height", "foot_diameter")
    wedge = {**BOX, "thickness": 45.0, "thick_end": "foot"}
    assert sheet(**wedge)[1]["goes_in"].needs == ("thin_end",)
    assert sheet(**wedge, thin_end=1.0)[1]["goes_in"].outcome != "stop"
    assert sheet(coil_count=7, height=None)[1]["goes_in"].outcome == "pass"


def test_a_lane_is_judged_without_the_coil_where_every_coil_says_the_same() -> None:
    """A pack takes up more or less across as it skews, which the coil decides; too narrow or wide enough for all skews is told at once."""
    rng = random.Random("lane")
    told: Counter[str] = Counter()
    for _ in range(120):
        pack = {"shape": "flat", "breadth": rng.uniform(40, 160), "thickness": rng.uniform(10, 50), "height": 120,
                "lane_width": rng.uniform(40, 200), "may_turn": rng.random() < 0.3, "may_skew": rng.random() < 0.8,
                "pillow": rng.random() < 0.3, "squeeze": rng.choice((0, 3)), "usable_length": 546}  # fmt: skip
        blank = lane_of(pack)
        told[blank] += 1
        coils = [{"coil_count": count, "coil_outside": 76, "wire": wire} for count in (4, 7, 12) for wire in (2, 5)]
        filled = {lane_of({**pack, **coil}) for coil in coils}
        if blank != "unknown":
            assert filled <= {blank, "caution"}, pack
        elif not pack["may_turn"]:
            assert pack["may_skew"], "one that stands straight is as broad as it is"
    assert min(told["stop"], told["pass"], told["unknown"]) > 15


def lane_of(inputs: dict[str, Any]) -> str:
    result = calculators.run("spiral", {"units": "si", "inputs": inputs})
    return next(str(check["outcome"]) for check in result["checks"] if check["key"] == "lane")


@pytest.mark.parametrize(("lane", "turn", "outcome"), [(115, "no", "stop"), (120, "no", "unknown"), (115, "yes", "unknown")])
def test_how_broad_it_is_may_be_enough_to_say_no(lane: float, turn: str, outcome: str) -> None:
    """Its thickness not measured, 160 mm across: askew by 45° as a sheet of paper it takes up 113.1 mm, and 3.2 mm are wanted beside it."""
    assert lane_of({"shape": "flat", "breadth": 160, "lane_width": lane, "may_turn": turn}) == outcome


@pytest.mark.parametrize(("turn", "coil", "outcome"), [
    ("no", {}, "pass"), ("yes", {}, "unknown"), ("yes", {"coil_count": 6, "coil_outside": 76, "wire": 4, "usable_length": 546}, "stop"),
])  # fmt: skip
def test_what_may_be_turned_is_not_judged_before_it_is_known_whether_it_is(turn: str, coil: dict[str, Any], outcome: str) -> None:
    """40 mm across and 90 mm along: in a coil whose turns are too close for 90 mm it stands turned, too broad for a lane of 60 mm."""
    pack = {"shape": "flat", "breadth": 40, "thickness": 90, "height": 120, "lane_width": 60, "may_skew": "no", "may_turn": turn}
    assert lane_of({**pack, **coil}) == outcome

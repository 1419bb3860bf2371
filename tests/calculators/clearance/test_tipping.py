"""Balance: tipped on purpose, on a ramp and on its gear, against vectors; what is not known stays open."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from calculators.clearance import CALCULATOR
from calculators.core import InputErrors, rules
from tests.calculators.clearance import statics
from tests.calculators.clearance.test_route import CABINET, check, run

TIPPED = {**CABINET, "tilt": True, "tilt_angle": 10, "tilt_over": "back", "tilt_hands": 1200, "tilt_gear": False,
          "max_tilt": 15, "cg_height": 850, "cg_back": 430, "cg_side": 480}  # fmt: skip
EDGES = {"back": 864 - 430, "front": 430, "left": 480, "right": 991 - 480}
TAPE, TURN = 5.0, 2.0  # mm of a tape, degrees of a level


def outcome(inputs: dict[str, Any], key: str, at: str = "") -> str:
    return str(check(run(inputs), key, at)["outcome"])


# -- tipped on purpose ------------------------------------------------------------------


@pytest.mark.parametrize("edge", EDGES)
def test_it_balances_where_vectors_say(edge: str) -> None:
    """The limit is the angle at which the weight has no moment about the low edge, on its skid too."""
    found = check(run({**TIPPED, "tilt_over": edge}), "tilt_balance")
    assert found["limit"] == pytest.approx(statics.balance_angle(EDGES[edge], 850), abs=1e-9)
    on = check(run({**TIPPED, "tilt_over": edge, "skid": "on", "skid_height": 120, "skid_beyond": 30}), "tilt_balance")
    assert on["limit"] == pytest.approx(statics.balance_angle(EDGES[edge], 970), abs=1e-9)


def test_past_the_balance_it_is_a_stop_however_much_room_there_is() -> None:
    """Pass, take care and stop change where the angle, the tape and the level put them."""
    limit = statics.balance_angle(434, 850)
    off = TURN + limit - statics.balance_angle(434 - TAPE, 850 + TAPE)
    wide = {**TIPPED, "max_tilt": 90, "tilt_ceiling": 9000, "route": [{"kind": "doorway", "width": 9000, "height": 9000, "sill": 0}]}
    for angle, word in ((limit - off - 0.01, "pass"), (limit - off + 0.01, "caution"), (limit - 0.01, "caution"),
                        (limit + 0.01, "stop"), (60, "stop")):  # fmt: skip
        assert outcome({**wide, "tilt_angle": angle}, "tilt_balance") == word, angle
    assert run({**wide, "tilt_angle": 30})["outcome"] == "stop"


def test_the_card_s_own_limit_counts_too() -> None:
    """15 degrees on the card, read to 2."""
    for angle, word in ((12.9, "pass"), (13.1, "caution"), (14.9, "caution"), (15.1, "stop")):
        assert outcome({**TIPPED, "tilt_angle": angle}, "tilt_card") == word, angle
    assert outcome({**TIPPED, "tilt_angle": 0}, "tilt_card") == "pass"
    blank = {key: value for key, value in TIPPED.items() if key != "max_tilt"}
    assert check(run(blank), "tilt_card")["needs"] == ["max_tilt"]


def test_a_silent_card_leaves_the_balance_open_between_its_bounds() -> None:
    """30 to 70 % of each size: pass below the least angle, stop above the greatest, open between."""
    blind = {key: value for key, value in TIPPED.items() if not key.startswith("cg_")} | {"max_tilt": 90}
    least = statics.balance_angle(0.3 * 864, 0.7 * 1829)
    most = statics.balance_angle(0.7 * 864, 0.3 * 1829)
    slack = TURN + least - statics.balance_angle(0.3 * 864 - TAPE, 0.7 * 1829 + TAPE)
    for angle, word in ((least - slack - 0.01, "pass"), (least - slack + 0.01, "unknown"), (25, "unknown"),
                        (most - 0.01, "unknown"), (most + 0.01, "stop")):  # fmt: skip
        assert outcome({**blind, "tilt_angle": angle}, "tilt_balance") == word, angle
    assert check(run({**blind, "tilt_angle": 25}), "tilt_balance")["needs"] == ["cg_height", "cg_back"]
    side = {**blind, "tilt_angle": 25, "tilt_over": "left"}
    assert check(run(side), "tilt_balance")["needs"] == ["cg_height", "cg_side"]


@pytest.mark.parametrize("told", ["cg_height", "cg_back"])
def test_one_place_told_and_the_other_not_is_open_still(told: str) -> None:
    """Both ends of the one that is not told are tried: tipping, ramp and lifting face."""
    known = {"cg_height": 850, "cg_back": 430}[told]
    blind = {key: value for key, value in TIPPED.items() if not key.startswith("cg_")} | {told: known, "cg_side": 480}
    ends = {"cg_height": ((0.3 * 864, 850), (0.7 * 864, 850)), "cg_back": ((434, 0.7 * 1829), (434, 0.3 * 1829))}[told]
    least, most = (statics.balance_angle(*end) for end in ends)
    for angle, word in ((least - 3, "pass"), (least + 0.1, "unknown"), (most - 0.1, "unknown"), (most + 0.1, "stop")):
        assert outcome({**blind, "max_tilt": 90, "tilt_angle": angle}, "tilt_balance") == word, angle


@pytest.mark.parametrize("edge", EDGES)
def test_the_pull_is_what_lifts_the_far_side(edge: str) -> None:
    """Against moments: the middle of mass over the low edge, the hands above it; a skid reaches farther."""
    plain = check(run({**TIPPED, "tilt_over": edge}), "tilt_pull")
    assert plain["value"] == pytest.approx(statics.pull(350, EDGES[edge], 1200), rel=1e-9)
    skid = {**TIPPED, "tilt_over": edge, "skid": "on", "skid_height": 120, "skid_beyond": 30}
    assert check(run(skid), "tilt_pull")["value"] == pytest.approx(statics.pull(350, EDGES[edge] + 30, 1200), rel=1e-9)
    assert plain["outcome"] == "stop"
    assert plain["mend"]["changes"] == {"tilt_gear": "yes"}


def test_a_light_cabinet_may_be_pulled_over_and_a_little_heavier_one_not() -> None:
    """41 lbf of one person, whatever the crew; the tape counts at the hands and at the edge."""
    limit = 41 * 4.4482216152605
    mass = limit / statics.pull(1, 434, 1200)
    worst = statics.pull(1, 439, 1195) / statics.pull(1, 434, 1200)
    for part, word in ((0.999 / worst, "pass"), (1.001 / worst, "caution"), (0.999, "caution"), (1.001, "stop")):
        assert outcome({**TIPPED, "cabinet_mass": mass * part, "crew": 20}, "tilt_pull") == word, part


def test_gear_that_tips_it_has_to_be_named() -> None:
    """A winch or a jack pulls for them; a blank keeps the check."""
    assert outcome({**TIPPED, "tilt_gear": True}, "tilt_pull") == "pass"
    blank = {key: value for key, value in TIPPED.items() if key != "tilt_gear"}
    assert check(run(blank), "tilt_pull")["needs"] == ["tilt_gear"]


@pytest.mark.parametrize(("mass", "word"), [(30, "pass"), (60, "unknown"), (100, "stop")])
def test_a_silent_card_leaves_the_pull_open_too(mass: float, word: str) -> None:
    """Over the back edge the middle of mass is 259 to 605 mm away: 182 N lift 86 kg to 37 kg at 1.2 m."""
    blind = {key: value for key, value in TIPPED.items() if not key.startswith("cg_")}
    assert outcome({**blind, "cabinet_mass": mass}, "tilt_pull") == word


def test_not_saying_whether_it_is_tipped_keeps_the_answer_open() -> None:
    """Upright there is nothing to check; unsaid it is unknown, and so is the room that it takes."""
    assert all(not each["key"].startswith("tilt") for each in run({**TIPPED, "tilt": False})["checks"])
    blank = {key: value for key, value in TIPPED.items() if key != "tilt"}
    found = run({**blank, "route": [{"kind": "doorway", "width": 1300, "height": 2100, "sill": 0}]})
    assert check(found, "tilt_balance")["needs"] == ["tilt"]
    assert [check(found, key)["outcome"] for key in ("width", "height")] == ["unknown"] * 2


@pytest.mark.parametrize("edge", EDGES)
def test_the_room_it_takes_while_tipped_is_that_of_its_corners(edge: str) -> None:
    """Turned by every angle up to the tilt, the corners of the box reach as far as the sheet says."""
    base, tall, angle = (864, 1829, 33.0) if edge in ("back", "front") else (991, 1829, 33.0)
    corners = [statics.Vector(x, y) for x in (0, base) for y in (0, tall)]
    spans = []
    for part in range(331):
        turned = [corner.turned(part / 10) for corner in corners]
        spans.append((max(each.y for each in turned) - min(each.y for each in turned),
                      max(each.x for each in turned) - min(each.x for each in turned)))  # fmt: skip
    high, long = (max(each) for each in zip(*spans, strict=True))
    lift = {"kind": "lift", "width": 9000, "height": 9000, "sill": 0, "car_width": 9000, "car_depth": 9000, "car_height": 9000}
    found = run({**TIPPED, "tilt_over": edge, "tilt_angle": angle, "route": [lift]})
    # The highest is at atan(base / tall), between two of the angles tried.
    assert check(found, "height")["limit"] == pytest.approx(high + 76, abs=0.01)
    wanted = {check(found, "car_width")["limit"], check(found, "car_depth")["limit"]}
    other = 991 if base == 864 else 864
    assert sorted(wanted) == pytest.approx(sorted((long + 50.8, other + 50.8)), abs=0.01)


# -- on its gear ------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(20))
def test_the_lifting_face_holds_the_lean_of_the_standard(seed: int) -> None:
    """Leaned by 10 degrees to the heavy side the middle of mass is still over the face, and just not below it."""
    rng = random.Random(f"face-{seed}")
    own = {"cg_height": rng.uniform(600, 1100), "cg_back": rng.uniform(300, 560), "cg_side": rng.uniform(350, 640)}
    aside = max(abs(own["cg_side"] - 991 / 2), abs(own["cg_back"] - 864 / 2))
    wanted = check(run({**CABINET, **own, "gear_face": 800}), "gear_face")["limit"]
    assert statics.stays_on(wanted + 0.01, aside, own["cg_height"] + 76, 10)
    assert not statics.stays_on(wanted - 0.01, aside, own["cg_height"] + 76, 10)
    off = TAPE * (3 + 2 * math.tan(math.radians(10)))
    for face, word in ((wanted + off + 0.01, "pass"), (wanted + off - 0.01, "caution"), (wanted - 0.01, "stop")):
        assert outcome({**CABINET, **own, "gear_face": face}, "gear_face") == word


def test_a_silent_card_asks_for_a_face_that_holds_every_place() -> None:
    """Open between the least face that can do and the one that surely does."""
    spread = 0.2 * 991
    least = 2 * (0.3 * 1829 + 76) * math.tan(math.radians(10))
    most = 2 * (spread + (0.7 * 1829 + 76) * math.tan(math.radians(10)))
    for face, word in ((most + 20, "pass"), (most + 1, "unknown"), (least + 1, "unknown"), (least - 1, "stop")):
        assert outcome({**CABINET, "gear_face": face}, "gear_face") == word, face


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_the_bounds_and_the_lean_are_every_country_s(name: str) -> None:
    """Physics and practice that stand in common."""
    held = rules.load(name)
    assert (held["handling.lean"].inner, held["handling.cg_least"].inner, held["handling.cg_most"].inner) == (10, 30, 70)


@pytest.mark.parametrize("more", [{"tilt": True}, {"skid": "on"}])
def test_what_is_too_large_without_it_is_so_with_it_too(more: dict[str, Any]) -> None:
    """How far it leans, how high its skid is: not measured, and the door is too low upright and off its skid."""
    low = {"kind": "doorway", "width": 2000, "height": 1800, "sill": 0}
    side = {"kind": "side_door", "width": 800, "height": 1800, "sill": 0, "width_in": 700, "wall": 100}
    turn = {"kind": "turn", "width_in": 700, "width_out": 700}
    checks = run({**CABINET, **more, "route": [side, turn]})["checks"]
    found = {each["key"]: each["outcome"] for each in checks if each["at"].startswith("Leg")}
    assert found["height"] == found["turn"] == found["side_room"] == found["width"] == "stop"
    result = run({**CABINET, **more, "route": [low]})
    assert check(result, "height")["outcome"] == "stop"
    assert check(result, "height")["value"] == pytest.approx(1800)
    assert "Measure again" in check(result, "height")["note"]
    assert check(run({**CABINET, **more, "route": [{**low, "height": 1906}]}), "height")["outcome"] == "unknown"


def test_a_skid_of_unknown_reach_never_makes_the_pull_less() -> None:
    """Too much without it is too much with it."""
    skid = {**TIPPED, "skid": "on", "skid_height": 120}
    assert outcome(skid, "tilt_pull") == "stop"
    assert outcome({**skid, "cabinet_mass": 30}, "tilt_pull") == "unknown"


@pytest.mark.parametrize(("size", "place"), [("cabinet_height", "cg_height"), ("cabinet_depth", "cg_back"), ("cabinet_width", "cg_side")])
def test_a_middle_of_mass_that_no_cabinet_has_is_refused(size: str, place: str) -> None:
    """30 to 70 % of its size; of a size that nobody measured, of the smallest to the largest that the form takes."""
    field = CALCULATOR.inputs.field(size)

    def named(inputs: dict[str, Any]) -> list[str]:
        try:
            CALCULATOR.run({"units": "si", "inputs": inputs})
        except InputErrors as errors:
            return [error.field for error in errors.errors]
        return []

    assert (named({size: 1000, place: 300}), named({size: 1000, place: 700})) == ([], [])
    assert named({size: 1000, place: 299}) == named({size: 1000, place: 701}) == [place, size]
    assert (named({place: 0.7 * field.most}), named({place: 0.3 * field.least})) == ([], [])
    assert named({place: 0.7 * field.most + 1}) == named({place: 0.3 * field.least - 1}) == [place]

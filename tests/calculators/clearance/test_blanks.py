"""Go is a promise: no blank removes a check, no two inputs clash unseen, cord and sprinklers are asked."""

from __future__ import annotations

import contextlib
import copy
import math
from typing import Any

import pytest

from calculators.clearance import CALCULATOR
from calculators.core import InputErrors, Rows, Text, rules
from tests.calculators.clearance.test_route import CABINET, check, run

# Everything is known here, and everything passes.
ALL: dict[str, Any] = {
    **CABINET, "surface": "smooth", "crew": 3, "gear_face": 690, "gear_rating": 2500, "wheels_apart": 400, "gear_grade": 10,
    "cg_height": 850, "cg_back": 430, "cg_side": 480, "rear_gap": 150, "rear_gap_plate": 100, "side_gap_plate": 20,
    "top_gap_plate": 100, "left_gap": 100, "right_gap": 100, "top_gap": 500, "door_leaf": 700, "hinge_side": "left",
    "tray_pullout": 600, "control_low": 430, "control_high": 1150, "stock_mass": 150, "legs": "four", "leg_inset": 50,
    "foot_area": 0.002, "cord_length": 2700, "outlet_way": 1500, "front_clear": 1500, "front_width": 1600, "alcove": 0,
    "in_corridor": True, "corridor_width": 2600, "corridor_use": "many", "overhang": 150, "overhang_low": 500, "slope": 5,
    "panel_space": False, "exit_blocked": False, "fire_gear": False, "outdoors": True, "outdoor_rated": True,
    "sprinklers": "some", "sprinkler_gap": 600, "floor_use": "yard", "way_use": "yard", "floor_known": "rating",
    "floor_rating": 2000, "point_rating": 2000, "way_rating": 2000, "max_tilt": 20,
    "controls": [{"name": "slot", "height": 1100, "over": 200}],
    "route": [
        {"kind": "doorway", "width": 1200, "height": 2100, "sill": 6},
        {"kind": "side_door", "width": 1200, "height": 2100, "sill": 0, "width_in": 1500, "wall": 100, "beyond": 600},
        {"kind": "turn", "width_in": 1500, "width_out": 1500},
        {"kind": "lift", "width": 1200, "height": 2100, "sill": 0, "car_width": 1500, "car_depth": 1500, "car_height": 2200,
         "rated_load": 1500},
        {"kind": "tail_lift", "platform_width": 1500, "platform_depth": 1500, "rated_load": 1500, "riders": 1},
        {"kind": "ramp", "rise": 10, "run": 6000, "ramp_width": 1500, "ramp_made": "loose", "rated_load": 1500},
    ],
}  # fmt: skip
# A blank of these turns nothing: why.
FREE = {
    "hinge_side": "only how far the door opens is worked out from it",
    "foot_area": "only the pressure under a foot is worked out from it",
    "gear_grade": "people push it here",
    "max_tilt": "it is not tipped here",
    "wheels_apart": "the way carries all wheels on one patch",
    "overhang": "its edge is low enough for a cane, whatever it is",
    "cg_height": "its bounds decide", "cg_back": "its bounds decide",
    "tray_pullout": "even a tray as long as it is deep comes out",
    "legs": "the floor carries all on one patch", "leg_inset": "the floor carries all on one patch",
    "alcove": "the floor in front is as wide as the deepest niche asks for", "sprinklers": "the height below is enough",
    "floor_use": "the floor's own rating counts", "way_use": "the floor's own rating counts",
    "floor_known": "rating and kind both carry it", "route.5.ramp_made": "its rating is enough",
    "route.1.wall": "it goes in unturned",
    "route.3.riders": "the whole crew is counted", "name": "a name",
    "mover": "people can push it, and gear can hold it", "in_corridor": "what is left of it is wide enough for a corridor",
    "outdoors": "it may stand there", "corridor_width": "what is free in front is wide enough, whatever lies beyond",
}  # fmt: skip
# The same where it is tighter, so that the blank decides: the input, and what is tighter.
KIND = {"floor_known": "kind", "floor_rating": None, "point_rating": None, "way_rating": None}
TIGHT: list[tuple[str, dict[str, Any]]] = [
    ("legs", {"point_rating": 300}), ("leg_inset", {"point_rating": 300, "legs": "six"}),
    ("alcove", {"front_width": 800}), ("sprinklers", {"sprinkler_gap": None}), ("floor_use", KIND), ("way_use", KIND),
    ("floor_known", KIND), ("wheels_apart", {"way_rating": 300}), ("overhang", {"overhang_low": 1000}),
    ("cg_height", {"gear_face": 350}), ("cg_back", {"gear_face": 360}), ("floor_rating", {}), ("gear_grade", {"mover": "powered"}),
    ("mover", {"crew": 1, "surface": "uneven"}), ("in_corridor", {"front_clear": 1000, "corridor_width": 2050}),
    ("outdoors", {"outdoor_rated": False}),
]  # fmt: skip


def blanks() -> list[str]:
    paths = []
    for field in CALCULATOR.inputs.fields():
        if isinstance(field, Rows):
            for number, row in enumerate(ALL[field.key]):
                paths += [f"{field.key}.{number}.{key}" for key in row
                          if key != "kind" and not isinstance(field.record.field(key), Text)]  # fmt: skip
        elif field.default is None and field.key in ALL:
            paths.append(field.key)
    return paths


def put(path: str, value: Any = None) -> dict[str, Any]:
    made: Any = copy.deepcopy(ALL)
    *way, last = path.split(".")
    target = made
    for part in way:
        target = target[int(part)] if isinstance(target, list) else target[part]
    if value is None:
        del target[last]
    else:
        target[last] = value
    return dict(made)


def outcome(inputs: dict[str, Any], name: str = "us") -> str:
    return str(CALCULATOR.run({"units": "si", "rules": name, "inputs": inputs})["outcome"])


def test_the_whole_sheet_is_go() -> None:
    """Every kind of part of a way, a corridor, sprinklers, outdoors: all known, all good."""
    result = CALCULATOR.run({"units": "si", "inputs": ALL})
    assert [each["place"] for each in result["checks"] if each["outcome"] != "pass"] == []


@pytest.mark.parametrize("path", blanks())
def test_no_blank_leaves_it_go(path: str) -> None:
    """Each input left out by itself: not known yet, and the measurement is named; or the reason why it may be."""
    result = CALCULATOR.run({"units": "si", "inputs": put(path)})
    if path in FREE or path == "route.1.beyond":
        assert result["outcome"] == "pass", path
        return
    assert result["outcome"] == "unknown", path
    needs = {need for each in result["checks"] for need in each["needs"]}
    assert path in needs


@pytest.mark.parametrize(("path", "fillings"), [
    ("mover", ["people", "powered"]), ("in_corridor", ["yes", "no"]), ("outdoors", ["yes", "no"]),
    ("sprinklers", ["some", "none"]), ("corridor_width", [2514, 2600, 50_000]),
])  # fmt: skip
def test_a_sheet_that_is_decided_together_is_so_with_each_filling(path: str, fillings: list[Any]) -> None:
    """Go with the blank is Go with whatever stands there and contradicts nothing."""
    told = []
    for filling in fillings:
        with contextlib.suppress(InputErrors):
            told.append(outcome(put(path, filling)))
    assert set(told) == {outcome(put(path))} == {"pass"}
    result = run_all(put(path))
    assert (result["measure_next"], [each for each in result["actions"] if "Measure" in each]) == (None, [])
    assert len(told) == len(fillings) - (path == "sprinklers")  # none, though somebody measured to one, is refused


def test_sprinklers_are_there_where_somebody_measured_to_one() -> None:
    """Too low a height says so, whether or not the question was answered."""
    low = {**ALL, "sprinkler_gap": 300}
    assert outcome({key: value for key, value in low.items() if key != "sprinklers"}) == outcome(low) == "stop"


@pytest.mark.parametrize(("path", "tighter"), TIGHT)
def test_a_blank_that_decides_is_not_known_yet(path: str, tighter: dict[str, Any]) -> None:
    """Where bounds let a blank pass above, a tighter place does not."""
    inputs = {key: value for key, value in {**ALL, **tighter, path: None}.items() if value is not None}
    result = run_all(inputs)
    found = [each for each in result["checks"] if path in each["needs"]]
    assert found, path
    assert result["outcome"] in ("unknown", "stop")


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_every_set_can_say_go(name: str) -> None:
    """No rule set lacks so much that a sound site stays open: nothing sticks out, no niche, nothing reached over."""
    plain = {key: value for key, value in ALL.items() if key != "controls"} | {"overhang": 0, "surface": "smooth", "crew": 3,
            "front_width": 2000, "control_low": 450, "control_high": 1050, "corridor_width": 3200, "front_clear": 2000}  # fmt: skip
    result = CALCULATOR.run({"units": "si", "rules": name, "inputs": plain})
    assert [(each["place"], each["text"]) for each in result["checks"] if each["outcome"] != "pass"] == []


# -- what is worked out besides -----------------------------------------------------------


def worth(inputs: dict[str, Any]) -> dict[str, Any]:
    return {value["key"]: value["inner"] for value in run_all(inputs)["values"]}


def test_the_values_are_those_of_a_pencil() -> None:
    """Each result of the sheet, from the numbers above by hand."""
    found = worth(ALL)
    # The goods' middle 30 % from the side where the cabinet's own is nearer, feet 50 mm in: one of two bears the rest.
    foot = 1 - ((350 * 480 + 150 * 0.3 * 991) / 500 - 50) / (991 - 100)
    back = 1 - ((350 * 430 + 150 * 0.3 * 864) / 500 - 50) / (864 - 100)
    foot, aside = min(foot, back), math.hypot(480 - 991 / 2, 430 - 864 / 2)
    by_hand = {
        "route_spare": 2100 - 6 - (1829 + 76), "least_width": 864 + 2 * 25.4, "least_height": 1829 + 76,
        "push": 410 * 9.80665 * (10 + 0.02 * 6000) / math.hypot(10, 6000), "people": 1,
        "door_opens": 90 + math.degrees(math.asin(100 / 700)), "passage_left": 1500, "passage_open": 800,
        "floor_load": 500 / (0.991 * 0.864), "foot_load": 500 * foot, "wheel_load": 350 * (0.5 + aside / 400) + 30,
        "foot_pressure": 500 * foot / 0.002,
    }  # fmt: skip
    assert found == pytest.approx(by_hand)
    narrow = worth({**ALL, "front_clear": 800})
    assert (narrow["passage_left"], narrow["passage_open"]) == (800, 100)
    assert worth({**ALL, "front_clear": 600})["door_opens"] == pytest.approx(math.degrees(math.asin(600 / 700)))
    assert worth({**ALL, "in_corridor": False, "left_gap": 5000})["door_opens"] == pytest.approx(180)
    assert worth({**ALL, "spread_area": 1.2})["floor_load"] == pytest.approx(500 / 1.2)
    # 100 mm on either side, 150 mm behind: no more of a plate can lie there with the cabinet in its middle.
    assert worth({**ALL, "spread_area": 2})["floor_load"] == pytest.approx(500 / (1.191 * 1.164))


# -- contradictions ---------------------------------------------------------------------

CLASHES = [
    ("door_leaf", 1001.1, 1000.9, "cabinet_width"), ("tray_pullout", 874.1, 873.9, "cabinet_depth"),
    ("control_low", 1160.1, 1159.9, "control_high"), ("control_high", 1839.1, 1838.9, "cabinet_height"),
    ("overhang_low", 1839.1, 1838.9, "cabinet_height"),
    ("corridor_width", 2493.9, 2494.1, "front_clear"), ("front_clear", 1606.1, 1605.9, "corridor_width"),
    ("cg_height", 548.6, 548.8, "cabinet_height"), ("cg_height", 1280.4, 1280.2, "cabinet_height"),
    ("cg_back", 259.1, 259.3, "cabinet_depth"), ("cg_back", 604.9, 604.7, "cabinet_depth"),
    ("cg_side", 297.2, 297.4, "cabinet_width"), ("cg_side", 693.8, 693.6, "cabinet_width"),
    ("route.3.riders", 4, 3, "crew"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "bad", "good", "other"), CLASHES)
def test_inputs_that_clash_are_errors_at_both(path: str, bad: float, good: float, other: str) -> None:
    """Both fields are named with the same words; what the tape may be off is let through."""
    with pytest.raises(InputErrors) as told:
        run_all(put(path, bad))
    assert {error.field for error in told.value.errors} == {path, other}
    assert len({error.limit for error in told.value.errors}) == 1
    run_all(put(path, good))


def run_all(inputs: dict[str, Any]) -> dict[str, Any]:
    return CALCULATOR.run({"units": "si", "inputs": inputs})


@pytest.mark.parametrize(("change", "fields"), [
    ({"floor_known": "kind"}, {"floor_known", "floor_rating", "point_rating", "way_rating"}),
    ({"sprinklers": "none"}, {"sprinklers", "sprinkler_gap"}),
    ({"leg_inset": 500, "cabinet_depth": 480, "cg_back": 240, "tray_pullout": 400}, {"leg_inset", "cabinet_depth"}),
    ({"leg_inset": 500, "cabinet_width": 480, "cg_side": 240, "door_leaf": 400}, {"leg_inset", "cabinet_width"}),
])  # fmt: skip
def test_words_that_clash_are_errors_too(change: dict[str, Any], fields: set[str]) -> None:
    """A rating beside “only its kind”, a height below sprinklers that are not there."""
    with pytest.raises(InputErrors) as told:
        run_all({**ALL, **change})
    assert {error.field for error in told.value.errors} == fields


def test_a_leaf_off_against_its_owner_is_an_error() -> None:
    """Said no, and taken off."""
    with pytest.raises(InputErrors) as told:
        run_all({**ALL, "route": [{"kind": "doorway", "leaf_off": True, "leaf_ok": False}]})
    assert {error.field for error in told.value.errors} == {"route.0.leaf_off", "route.0.leaf_ok"}


def test_the_corridor_s_sum_is_told_in_the_reader_s_units() -> None:
    """All four numbers stand in the sentence."""
    inputs = {"in_corridor": "yes", "corridor_width": "90 in", "cabinet_depth": "34 in", "rear_gap": "5 in", "front_clear": "88 in"}
    with pytest.raises(InputErrors) as told:
        CALCULATOR.run({"inputs": inputs})
    assert all(each in str(told.value) for each in ("90 in", "5 in", "34 in", "88 in", "127 in"))
    assert outcome({**inputs, "in_corridor": "no"}) == "unknown"


# -- cord, sprinklers, what stands opposite ---------------------------------------------


def test_the_cord_reaches_with_slack() -> None:
    """12 in hang slack, and the way is known to 5 mm; the mend is a nearer spot."""
    most = 2700 - 304.8
    for way, word in ((most - 5.1, "pass"), (most - 4.9, "caution"), (most + 0.1, "stop")):
        assert check(run({**ALL, "outlet_way": way}), "cord_reach")["outcome"] == word, way
    found = check(run({**ALL, "outlet_way": 4000}), "cord_reach")
    assert set(found["mend"]["changes"]) == {"outlet_way"}
    assert "licensed electrician" in found["mend"]["text"]


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_nothing_stands_high_below_sprinklers(name: str) -> None:
    """The set's own height with the tape; a room without sprinklers has nothing to keep clear of."""
    wanted = {"us": 457.2, "ca": 457.0}.get(name, 500.0)
    for gap, word in ((wanted + 5.1, "pass"), (wanted + 4.9, "caution"), (wanted - 0.1, "stop")):
        found = [each for each in CALCULATOR.run({"units": "si", "rules": name, "inputs": {**ALL, "sprinkler_gap": gap}})["checks"]
                 if each["key"] == "sprinklers"]  # fmt: skip
        assert [each["outcome"] for each in found] == [word], gap
    none = {key: value for key, value in ALL.items() if key != "sprinkler_gap"} | {"sprinklers": "none"}
    assert check(run(none), "sprinklers")["outcome"] == "pass"


def test_what_stands_opposite_narrows_the_way_past() -> None:
    """1586 mm from wall to wall, but a bench leaves 1000 mm: 44 in are asked for."""
    assert check(run(ALL), "passage", "Corridor")["value"] == pytest.approx(1500)
    bench = check(run({**ALL, "front_clear": 1000}), "passage", "Corridor")
    assert (bench["value"], bench["outcome"]) == (pytest.approx(1000), "stop")
    assert set(bench["mend"]["changes"]) == {"front_clear"}
    wall = check(run({**ALL, "corridor_width": 2014, "front_clear": 1000}), "passage", "Corridor")
    assert set(wall["mend"]["changes"]) == {"corridor_width", "front_clear"}
    wider = {**ALL, **wall["mend"]["changes"]}
    assert check(run_all(wider), "passage", "Corridor")["outcome"] == "pass"


def test_more_air_behind_takes_the_room_from_in_front() -> None:
    """In a way between two walls the change of one is the change of the other."""
    close = {**ALL, "rear_gap": 20, "front_clear": 1716}
    mend = check(run(close), "rear_gap")["mend"]["changes"]
    assert set(mend) == {"rear_gap", "front_clear"}
    assert check(run_all({**close, **mend}), "rear_gap")["outcome"] == "pass"
    assert set(check(run({**close, "in_corridor": False}), "rear_gap")["mend"]["changes"]) == {"rear_gap"}
    assert set(check(run({**close, "front_clear": 1200}), "rear_gap")["mend"]["changes"]) == {"rear_gap"}


@pytest.mark.parametrize(("key", "path", "side"), [
    ("door_swing", "door_leaf", 991), ("tray_room", "tray_pullout", 864),
])  # fmt: skip
def test_what_comes_out_in_front_is_no_longer_than_the_cabinet_s_side(key: str, path: str, side: float) -> None:
    """Not measured, it is decided where even that fits."""
    blank = {name: value for name, value in ALL.items() if name != path}
    assert check(run({**blank, "front_clear": side + 26, "corridor_width": 3000}), key)["outcome"] == "pass"
    assert check(run({**blank, "front_clear": side + 24, "corridor_width": 3000}), key)["outcome"] == "unknown"


# -- the spot: door, niche, gear, way out -----------------------------------------------


@pytest.mark.parametrize(("alcove", "wanted"), [(0, 900), (100, 991)])
def test_the_floor_in_front_takes_the_leaf_and_a_niche_takes_the_cabinet(alcove: float, wanted: float) -> None:
    """Side to side: open floor the leaf that swings over it, between walls the whole cabinet."""
    for width, word in ((wanted + 10.1, "pass"), (wanted + 9.9, "caution"), (wanted - 0.1, "stop")):
        found = check(run({**ALL, "door_leaf": 900, "alcove": alcove, "front_width": width}), "door_swing", "Side to side")
        assert found["outcome"] == word, width
    assert set(check(run({**ALL, "alcove": alcove, "front_width": 700, "door_leaf": 900}), "door_swing", "Side to side")["mend"]["changes"]) == {"front_width"}


@pytest.mark.parametrize(("blank", "width", "word"), [
    ("door_leaf", 1020, "pass"), ("door_leaf", 950, "unknown"), ("alcove", 1020, "pass"), ("alcove", 950, "unknown"), ("alcove", 890, "stop"),
])  # fmt: skip
def test_a_floor_as_wide_as_the_cabinet_takes_any_leaf(blank: str, width: float, word: str) -> None:
    """Not measured, leaf or niche is decided where either answer is the same."""
    inputs = {key: value for key, value in {**ALL, "door_leaf": 900, "front_width": width}.items() if key != blank}
    found = check(run(inputs), "door_swing", "Side to side")
    assert found["outcome"] == word
    assert found["needs"] == ([blank] if word == "unknown" else [])


@pytest.mark.parametrize(("width", "word"), [(990, "unknown"), (890, "stop")])
def test_a_niche_takes_no_cabinet_whose_leaf_it_does_not_take(width: float, word: str) -> None:
    """Not measured, the cabinet is no narrower than its door."""
    inputs = {key: value for key, value in {**ALL, "door_leaf": 900, "front_width": width, "alcove": 100}.items() if key != "cabinet_width"}
    found = check(run(inputs), "door_swing", "Side to side")
    assert (found["outcome"], found["needs"]) == (word, ["cabinet_width"] if word == "unknown" else [])


@pytest.mark.parametrize(("rating", "word"), [(420, "pass"), (330, "unknown"), (190, "stop")])
def test_a_wheel_bears_no_less_than_half_and_no_more_than_all(rating: float, word: str) -> None:
    """Without the cabinet's width nobody knows where its weight is over the wheels: half of 400 kg, or all of it."""
    blank = dict.fromkeys(("cabinet_width", "cg_side", "foot_area"))
    inputs = {**ALL, **blank, "cabinet_mass": 350, "gear_mass": 50, "wheels_apart": 900, "way_rating": rating}
    assert check(run({key: value for key, value in inputs.items() if value is not None}), "floor_wheels")["outcome"] == word


def test_gear_that_is_wider_than_the_cabinet_needs_room_beside_it() -> None:
    """It brings the cabinet to its place and comes out again; care, for it may be set down before."""
    for side, at in (("left_gap", "Left"), ("right_gap", "Right")):
        for gap, word in ((110.1, "pass"), (109.9, "caution"), (0, "caution")):
            assert check(run({**ALL, "gear_wide": 100, "side_gap_plate": 0, side: gap}), "gear_gap", at)["outcome"] == word, gap
        assert check(run({**ALL, "gear_wide": 0, "side_gap_plate": 0, side: 0}), "gear_gap", at)["outcome"] == "pass"
        blank = {key: value for key, value in ALL.items() if key != "gear_wide"}
        assert check(run(blank), "gear_gap", at)["needs"] == ["gear_wide"]


def test_an_open_door_leaves_a_way_out_or_asks_for_care() -> None:
    """28 in (711 mm) beside the open leaf; the cabinet shut, the way is wide enough."""
    for leaf, word in ((1500 - 711.2 - 10.1, "pass"), (1500 - 711.2 - 9.9, "caution"), (900, "caution")):
        result = run({**ALL, "cabinet_width": 1100, "cg_side": 550, "front_width": 2000, "door_leaf": leaf})
        assert check(result, "door_open")["outcome"] == word, leaf
        assert check(result, "passage", "Way to the exit")["outcome"] == "pass"
    wide = check(run({**ALL, "door_leaf": 900}), "door_open")
    assert "shut the door" in wide["note"]
    assert check(run_all({**ALL, "door_leaf": 900, **wide["mend"]["changes"]}), "door_open")["outcome"] == "pass"
    assert all(each["key"] != "door_open" for each in run({**ALL, "in_corridor": False})["checks"])
    unsaid = check(run({key: value for key, value in ALL.items() if key != "door_leaf"}), "door_open")
    assert (unsaid["outcome"], unsaid["needs"]) == ("unknown", ["door_leaf"])


def test_reached_over_an_edge_the_floor_is_that_of_somebody_side_on() -> None:
    """800 mm take a wheelchair head-on alone: where something is reached over, it must stand side-on."""
    narrow = {**ALL, "door_leaf": 700, "front_width": 800, "controls": [{"name": "slot", "height": 1100, "over": 0}]}
    plain = [each for each in run(narrow)["checks"] if each["key"] == "clear_floor"]
    assert {each["outcome"] for each in plain} == {"pass"}
    over = run({**narrow, "controls": [{"name": "slot", "height": 1100, "over": 200}]})
    assert check(over, "clear_floor", "Side to side")["outcome"] == "stop"
    assert "side-on, to reach over" in check(over, "clear_floor", "Side to side")["note"]
    assert [line for line in over["not_checked"] if "reaches over" in line] == ["How high that stands which a buyer reaches over."]
    assert not any("reaches over" in line for line in run(narrow)["not_checked"])


# -- what rides on gear and lifts -------------------------------------------------------


def test_a_skid_rides_on_the_gear_too() -> None:
    """Its mass stands with the gear's: what carries both passes, what carries the bare cabinet alone is care."""
    on = {**ALL, "skid": "on", "skid_height": 120, "skid_beyond": 20}
    for rated, word in ((410, "pass"), (409, "caution"), (350, "caution"), (349, "stop")):
        assert check(run({**on, "gear_rating": rated}), "gear_load")["outcome"] == word, rated
        assert check(run({**ALL, "gear_rating": rated}), "gear_load")["outcome"] == ("pass" if rated >= 350 else "stop")
    care = check(run({**on, "gear_rating": 350}), "gear_load")
    assert (care["mend"]["changes"], "skid" in care["note"]) == ({"gear_rating": "410 kg"}, True)
    unsaid = {key: value for key, value in ALL.items() if key != "skid"}
    for rated, word in ((410, "pass"), (400, "unknown"), (349, "stop")):
        assert check(run({**unsaid, "gear_rating": rated}), "gear_load")["outcome"] == word, rated
    blank = {key: value for key, value in on.items() if key != "gear_mass"}
    assert check(run({**blank, "gear_rating": 400}), "gear_load")["needs"] == ["gear_mass"]


def test_nobody_is_sent_to_stairs_that_a_truck_has_not() -> None:
    """Fewer ride on a tail-lift; in a lift the others walk."""
    tail = {"kind": "tail_lift", "platform_width": 1500, "platform_depth": 1500, "rated_load": 500, "riders": 2}
    lift = {**ALL["route"][3], "rated_load": 500}
    said = [check(run({**ALL, "route": [leg]}), "lift_load")["mend"]["text"] for leg in (tail, lift)]
    assert ["stairs" in text for text in said] == [False, True]
    assert any("room in the car" in line for line in run(ALL)["not_checked"])

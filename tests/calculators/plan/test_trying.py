"""Trying coils: the shortcuts give what spiral fit gives when it is asked afresh, and save what they should."""

from __future__ import annotations

import copy
from collections import Counter
from typing import Any

import pytest

import calculators
from calculators.core import Work
from calculators.core.calculator import read_setting
from calculators.core.progress import finish
from calculators.core.reading import read_record
from calculators.plan import CALCULATOR, fits, trying
from calculators.plan.barred import barred, hopeless
from calculators.plan.fits import Fit
from calculators.plan.inputs import CABINET, PRODUCT, TRAY, Inputs
from calculators.spiral import CALCULATOR as SPIRAL
from calculators.spiral.inputs import Inputs as Spiral
from calculators.spiral.ranking import JUDGED, rank
from calculators.spiral.solve import assess
from tests.calculators.plan.draws import cabinet

SINGLE = {"coil_count": 7, "coil_outside": "76.2 mm", "wire": "4 mm", "stock": 5}
TRAY_ROW = {"lanes": 8, "lane_width": "90 mm", "height_above": "260 mm", "strip_height": "0 mm",
            "rail_height": "110 mm", "drop_height": "600 mm"}  # fmt: skip
BOTTLE = {"shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm", "mass": "500 g"}


def read(raw: dict[str, Any]) -> tuple[Any, Work]:
    inputs, setting = read_record(Inputs, raw, "si"), read_setting({})
    return inputs, Work(CALCULATOR, inputs, setting.rules, setting.show)


def tried(raw: dict[str, Any]) -> list[list[list[Fit]]]:
    inputs, work = read(raw)
    bars = [[barred(row, t, inputs) for t in range(len(inputs.trays))] for row in inputs.products]
    return finish(trying.tried(inputs, work, bars))[0]


def small(**rows: Any) -> dict[str, Any]:
    made = {"days": 7, "usable_length": "546.1 mm", "products": [{"name": "p", "weekly_sales": 9, **BOTTLE}],
            "trays": [TRAY_ROW], "coils": [SINGLE]}  # fmt: skip
    return {**made, **rows}


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> dict[str, int]:
    """How often spiral fit is asked for a place, and for a whole sheet."""
    counts = {"place": 0, "sheet": 0}

    def counting(name: str, call: Any) -> Any:
        def counted(*words: Any) -> Any:
            counts[name] += 1
            return call(*words)

        return counted

    monkeypatch.setattr(fits, "fit_of", counting("place", fits.fit_of))
    monkeypatch.setattr(fits, "goes_in", counting("sheet", fits.goes_in))
    return counts


# -- the same answers ----------------------------------------------------------------------------


def afresh(product: Any, tray: Any, coil: Any, inputs: Any, work: Work) -> Fit:
    """The whole sheet of spiral fit for one lane by itself, nothing known beforehand."""
    values = {key: getattr(row, key) for row, keys in ((product, PRODUCT), (tray, TRAY), (coil, fits.COIL),
                                                       (inputs, CABINET)) for key in keys}  # fmt: skip
    sheet = Work(SPIRAL, Spiral(**values), work.rules, work.show)
    capacity = assess(sheet.inputs, sheet).capacity
    checks = {check.key: check for check in sheet.checks if check.key in fits.ASKED}
    if any(check.outcome == "stop" for check in checks.values()):
        return Fit(why="stop")
    needs = tuple(dict.fromkeys(path for check in checks.values() for path in check.needs))
    if capacity is None or rank({key: check for key, check in checks.items() if key in JUDGED}) > 1:
        return Fit(needs=needs)
    care, unknown = ([check.label for check in checks.values() if check.outcome == word] for word in ("caution", "unknown"))
    return Fit(int(capacity), tuple(care), tuple(unknown), needs)


@pytest.mark.parametrize("part", range(4))
def test_every_fit_is_that_of_spiral_fit_asked_afresh(part: int) -> None:
    """Over lanes wide and narrow, trays that differ in their heights alone, and sizes left blank.

    One difference is wanted: where plain sizes rule a lane out, nothing need be measured for it.
    """
    fitting = 0
    for seed in range(part * 4, part * 4 + 4):
        raw = cabinet(seed, products=4, trays=3, lanes=(6, 8, 9, 10), coils=4, blanks=0.01)
        inputs, work = read(raw)
        for p, trays in enumerate(tried(raw)):
            for t, row in enumerate(trays):
                for k, found in enumerate(row):
                    if barred(inputs.products[p], t, inputs):
                        assert found.pieces == 0
                        continue
                    wanted = afresh(inputs.products[p], inputs.trays[t], inputs.coils[k], inputs, work)
                    assert (found.pieces, found.care, found.unknown) == (wanted.pieces, wanted.care, wanted.unknown)
                    assert found.needs == wanted.needs or not (found.pieces or found.needs), (seed, p, t, k)
                    fitting += found.pieces > 0
    assert fitting > 2, "too few goods go in for the comparison to say much"


def test_trays_that_differ_in_one_height_are_told_apart() -> None:
    """Height above, rail and drop each decide for themselves though the place is worked out once."""
    drop = {**BOTTLE, "drop_limit": "700 mm"}
    trays = [TRAY_ROW, {**TRAY_ROW, "height_above": "212 mm"}, {**TRAY_ROW, "rail_height": "20 mm"},
             {**TRAY_ROW, "drop_height": "690 mm"}, {**TRAY_ROW, "drop_height": "650 mm"}]  # fmt: skip
    row = tried(small(products=[{"name": "p", "weekly_sales": 9, **drop}], trays=trays))[0]
    # It rests 11 mm up: from 690 mm it falls more than 700 mm.
    assert [bool(each[0].pieces) for each in row] == [True, False, False, False, True]


def test_the_lean_is_asked_last_and_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not where the rail stops a bottle anyway; where nothing does, once for all trays in which it stands the same."""
    asked = looks(monkeypatch)
    low = {**TRAY_ROW, "rail_height": "5 mm"}
    slim = {"name": "p", "weekly_sales": 9, **BOTTLE, "height": "300 mm"}
    high = {**TRAY_ROW, "height_above": "400 mm", "rail_height": "200 mm"}
    assert not any(each.pieces for row in tried(small(products=[slim], trays=[{**low, "height_above": "400 mm"}]))[0] for each in row)
    assert asked == []
    tried(small(products=[slim], trays=[high, {**high, "height_above": "390 mm"}, {**high, "rail_height": "5 mm"}]))
    assert asked == [False]


def looks(monkeypatch: pytest.MonkeyPatch) -> list[bool]:
    """Of each time that a lean is asked, whether the wire is looked along closely."""
    asked = []
    leans = fits.upright.leans

    def counted(inputs: Any, work: Work, found: Any, *, closely: bool = True) -> None:
        asked.append(closely)
        leans(inputs, work, found, closely=closely)

    monkeypatch.setattr(fits.upright, "leans", counted)
    return asked


@pytest.mark.parametrize("pillow", ["no", "yes"])
def test_a_lean_that_is_not_far_from_its_limit_is_looked_for_closely(pillow: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bars and bags from snug to loose: each is judged as spiral fit does, and most of them after a short look alone."""
    goods = {"name": "p", "weekly_sales": 9, "shape": "flat", "breadth": "70 mm", "height": "130 mm", "pillow": pillow}
    asked = [small(products=[{**goods, "thickness": f"{thick / 10} mm"}], coils=[{**SINGLE, "coil_count": 9}])
             for thick in range(200, 520, 4)]  # fmt: skip
    with monkeypatch.context() as watched:
        closely = looks(watched)
        told = [tried(raw)[0][0][0] for raw in asked]
    seen = Counter[str]()
    for raw, found in zip(asked, told, strict=True):
        inputs, work = read(raw)
        wanted = afresh(inputs.products[0], inputs.trays[0], inputs.coils[0], inputs, work)
        assert (found.pieces, found.care, found.unknown) == (wanted.pieces, wanted.care, wanted.unknown), raw
        seen["leans" if any("lean" in word.lower() or "upright" in word.lower() for word in found.care) else
             "stands" if found.pieces else "falls"] += 1  # fmt: skip
    assert {"leans", "stands", "falls"} == set(seen)
    assert 0 < closely.count(True) < closely.count(False)


def test_every_check_that_a_coil_or_a_tray_changes_is_asked() -> None:
    """In the order of the sheet, in which a plan names them; the first pack rests on neither."""
    bag = {"shape": "flat", "breadth": "80 mm", "thickness": "50 mm", "thin_end": "30 mm", "thick_end": "foot",
           "height": "120 mm", "drop_limit": "3000 mm"}  # fmt: skip
    seen: dict[str, None] = {}
    for goods in (bag, {"coil_kind": "dual", "axis_offset": "42 mm", "lane_width": "300 mm"}, {"coil_count": 6, **bag, "breadth": "40 mm"}):
        inputs = _spiral(**goods)
        sheet = Work(SPIRAL, inputs, read_setting({}).rules, read_setting({}).show)
        assess(inputs, sheet)
        made = [check.key for check in sheet.checks if check.key != "first"]
        assert set(made) <= set(fits.ASKED)
        assert made == [key for key in fits.ASKED if key in made]
        seen.update(dict.fromkeys(made))
    assert set(JUDGED) | {"short", "height", "drop", "foot", "thin"} == set(fits.ASKED)
    assert {"pair", "held", "thin", "foot"} <= set(seen)


# -- plain sizes ---------------------------------------------------------------------------------


def _spiral(**changes: Any) -> Spiral:
    sizes = {**BOTTLE, **TRAY_ROW, **SINGLE, "usable_length": "546.1 mm", **changes}
    known = {each.key for each in Spiral.fields()}
    made = read_record(Spiral, {key: value for key, value in sizes.items() if key in known}, "si")
    assert isinstance(made, Spiral)
    return made


PACK = {"shape": "flat", "breadth": "100 mm", "thickness": "40 mm"}  # 99.0 mm across at 45°
EDGES = [
    ("the coil", {"diameter": "50 mm"}, "lane_width", 76.2, -1),
    ("a pair", {"coil_kind": "dual", "axis_offset": "40 mm"}, "lane_width", 156.2, -1),
    ("a pair that strikes itself", {"coil_kind": "dual", "lane_width": "200 mm"}, "axis_offset", 38.1, -1),
    ("a bottle across", {"coil_outside": "60 mm"}, "lane_width", 65, -1),
    ("a box across, skewed", {**PACK, "thickness": "41 mm", "coil_outside": "60 mm"}, "lane_width", 141 / 2**0.5, -1),
    ("a soft box across", {**PACK, "thickness": "41 mm", "squeeze": "5 mm", "coil_outside": "60 mm"},
     "lane_width", 136 / 2**0.5, -1),
    ("a box thicker than broad", {**PACK, "thickness": "150 mm", "coil_outside": "60 mm"}, "lane_width", 100, -1),
    ("a box kept square", {**PACK, "may_skew": "no", "coil_outside": "60 mm"}, "lane_width", 100, -1),
    ("a box turned", {**PACK, "thickness": "80 mm", "may_skew": "no", "may_turn": "yes", "coil_outside": "60 mm"},
     "lane_width", 80, -1),
    ("a bag between its seals", {**PACK, "pillow": "yes", "coil_outside": "60 mm"}, "lane_width", 100 / 2**0.5, -1),
    ("the tray above", {}, "height_above", 205, -1),
    ("the tray above strips", {"strip_height": "12 mm"}, "height_above", 217, -1),
    ("the drop", {"drop_limit": "700 mm"}, "drop_height", 700, 1),
]  # fmt: skip


@pytest.mark.parametrize(("sizes", "key", "edge", "way"), [each[1:] for each in EDGES], ids=[each[0] for each in EDGES])
def test_plain_sizes_rule_out_what_is_past_them_and_nothing_else(
    sizes: dict[str, Any], key: str, edge: float, way: int
) -> None:
    """A hundredth of a millimetre beyond is hopeless and spiral fit stops there; as much before is not."""
    beyond, within = (_spiral(**{**sizes, key: f"{edge + way * off:.6f} mm"}) for off in (0.01, -0.01))
    assert hopeless(beyond)
    assert not hopeless(within)
    sheet = Work(SPIRAL, beyond, read_setting({}).rules, read_setting({}).show)
    assess(beyond, sheet)
    assert "stop" in [check.outcome for check in sheet.checks if check.key in fits.ASKED]


@pytest.mark.parametrize("key", ["coil_outside", "axis_offset", "lane_width", "height", "height_above", "diameter",
                                 "drop_height", "drop_limit", "shape"])  # fmt: skip
def test_what_is_not_measured_rules_nothing_out(key: str) -> None:
    """A blank may be anything; but what is too broad at whatever skew is so however thin it may be, unless it may be turned."""
    tight = {"coil_kind": "dual", "axis_offset": "40 mm", "lane_width": "300 mm", "drop_limit": "700 mm"}
    assert not hopeless(_spiral(**{**tight, key: None}))
    assert not hopeless(_spiral(shape="flat", breadth=None, thickness="40 mm"))
    assert not hopeless(_spiral(shape="flat", breadth="400 mm", thickness=None, may_turn="yes"))
    assert not hopeless(_spiral(shape="flat", breadth="111 mm", thickness=None, lane_width="79 mm"))
    assert hopeless(_spiral(shape="flat", breadth="112 mm", thickness=None, lane_width="79 mm")) == "no room across the lane"


# -- what is saved -------------------------------------------------------------------------------


def test_one_size_is_asked_once(asked: dict[str, int]) -> None:
    """Like trays, like coils under two names, and trays that differ in heights: one place, one sheet."""
    trays = [TRAY_ROW, {**TRAY_ROW, "name": "b"}, {**TRAY_ROW, "height_above": "300 mm", "rail_height": "120 mm"}]
    tried(small(trays=trays, coils=[SINGLE, {**SINGLE, "name": "the same"}]))
    assert asked == {"place": 1, "sheet": 1}


def test_lanes_that_bound_nothing_share_one_place(asked: dict[str, int]) -> None:
    """A bottle in the middle, and a bar whose diagonal goes across; a bar that lies across its lane does not."""
    trays = [{**TRAY_ROW, "lane_width": f"{wide} mm"} for wide in (95, 90, 85)]
    tried(small(trays=trays))
    assert asked == {"place": 1, "sheet": 1}
    bar = {"name": "bar", "weekly_sales": 9, "shape": "flat", "breadth": "45 mm", "thickness": "28 mm", "height": "120 mm"}
    tried(small(trays=trays, products=[bar], coils=[{**SINGLE, "coil_count": 14}]))
    assert asked["place"] == 2
    tried(small(trays=trays, products=[{**bar, "breadth": "86 mm", "thickness": "14 mm"}], coils=[{**SINGLE, "coil_count": 14}]))
    assert asked["place"] == 5


def test_a_pack_that_may_be_turned_is_asked_in_every_lane(asked: dict[str, int]) -> None:
    """In another lane it may stand the other way."""
    bar = {"name": "bar", "weekly_sales": 9, "shape": "flat", "breadth": "45 mm", "thickness": "28 mm",
           "height": "120 mm", "may_turn": "yes"}  # fmt: skip
    trays = [{**TRAY_ROW, "lane_width": f"{wide} mm"} for wide in (95, 90)]
    tried(small(trays=trays, products=[bar], coils=[{**SINGLE, "coil_count": 14}]))
    assert asked["place"] == 2


def test_too_tight_is_not_tried_in_a_narrower_lane_or_with_closer_turns(asked: dict[str, int]) -> None:
    """A bottle of 90 mm in a seven-count (69.6 mm of room) is 20 mm too wide: that settles eight and nine."""
    wide = {"name": "p", "weekly_sales": 9, **BOTTLE, "diameter": "90 mm"}
    coils = [{**SINGLE, "coil_count": count} for count in (9, 8, 7)]
    trays = [{**TRAY_ROW, "lane_width": f"{lane} mm"} for lane in (100, 120)]
    assert not any(each.pieces for row in tried(small(products=[wide], trays=trays, coils=coils))[0] for each in row)
    assert asked == {"place": 1, "sheet": 0}


@pytest.mark.parametrize("change", [{"wire": "4.5 mm"}, {"coil_outside": "70 mm"}])
def test_another_wire_is_tried_for_itself(asked: dict[str, int], change: dict[str, str]) -> None:
    """Too tight in one coil says nothing of one with another wire or width."""
    wide = {"name": "p", "weekly_sales": 9, **BOTTLE, "diameter": "90 mm"}
    tried(small(products=[wide], trays=[{**TRAY_ROW, "lane_width": "120 mm"}],
                coils=[SINGLE, {**SINGLE, "coil_count": 8, **change}]))  # fmt: skip
    assert asked["place"] == 2


def test_a_little_too_tight_settles_nothing_for_closer_turns(asked: dict[str, int]) -> None:
    """2 mm short in a seven-count: the eight-count is tried as well; 4 mm short it is not."""
    coils = [SINGLE, {**SINGLE, "coil_count": 8}]
    for wide, places in (("71.6 mm", 2), ("73.6 mm", 3)):
        tried(small(products=[{"name": "p", "weekly_sales": 9, **BOTTLE, "diameter": wide}], coils=coils))
        assert asked["place"] == places


def test_on_other_strips_it_is_tried_again(asked: dict[str, int]) -> None:
    """Higher up other wire is beside it."""
    wide = {"name": "p", "weekly_sales": 9, **BOTTLE, "diameter": "80 mm"}
    tried(small(products=[wide], trays=[TRAY_ROW, {**TRAY_ROW, "strip_height": "20 mm"}]))
    assert asked["place"] == 2


def test_the_last_runs_are_remembered_by_all_that_they_rest_on(asked: dict[str, int]) -> None:
    """The same again asks nothing; another size, tray, coil or length does, and the memory is bounded."""
    base = small()
    tried(base)
    tried({**base, "days": 3, "pins": [{"product": "p", "tray": "x", "lane": 1}]})
    assert asked["place"] == 1
    others = [small(usable_length="540 mm"), small(coils=[{**SINGLE, "wire": "4.5 mm"}]),
              small(trays=[{**TRAY_ROW, "lane_width": "91 mm"}]),
              small(products=[{"name": "p", "weekly_sales": 9, **BOTTLE, "diameter": "64 mm"}])]  # fmt: skip
    for number, other in enumerate(others, 2):
        tried(other)
        assert asked["place"] == number
    for number in range(trying.REMEMBERED + 5):
        trying._remember((number,), [])
    assert len(trying._LAST) == trying.REMEMBERED
    assert (4,) not in trying._LAST
    assert (5,) in trying._LAST


def test_an_own_figure_is_a_new_question() -> None:
    """More play wanted across the lane: the lane that was wide enough is so no longer."""
    raw = {"units": "si", "inputs": small(trays=[{**TRAY_ROW, "lane_width": "80 mm"}])}
    free = calculators.run("plan", copy.deepcopy(raw))
    wary = calculators.run("plan", {**copy.deepcopy(raw), "local": {"goods.side_play": {"value": 20, "unit": "mm"}}})
    assert [each["inner"] for each in free["values"] if each["key"] == "filled"] == [3]
    assert [each["inner"] for each in wary["values"] if each["key"] == "filled"] == [None]


@pytest.mark.parametrize("seed", [1, 2])
def test_a_whole_cabinet_asks_for_a_few_places_only(asked: dict[str, int], seed: int) -> None:
    """40 products, 60 lanes, 12 coils: of 2,880 lanes to try fewer than a third need a place worked out."""
    tried(cabinet(seed, lanes=(8, 9, 10)))
    assert asked["place"] < 900
    assert asked["sheet"] < 600

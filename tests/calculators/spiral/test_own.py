"""Which coil? The best of the operator's own, or none and what to buy; changes that can be made."""

from __future__ import annotations

import functools
import itertools
import random
from typing import Any

import pytest

import calculators
from calculators.core import Work, rules
from calculators.core.reading import read_record
from calculators.core.units import Units
from calculators.spiral import CALCULATOR, owned, ranking
from calculators.spiral import mends as mends_of
from calculators.spiral.inputs import Inputs, OwnCoil
from calculators.spiral.solve import assess

US = rules.load("us")

TRAY = {"usable_length": "546.1 mm", "lane_width": "79 mm", "height_above": "280 mm", "rail_height": "115 mm",
        "end_clock": 12, "drop_limit": "3 m", "drop_height": "600 mm"}  # fmt: skip
BOTTLE = {**TRAY, "shape": "round", "diameter": "65 mm", "foot_diameter": "60 mm", "height": "205 mm"}
TIN = {**TRAY, "shape": "flat", "breadth": "60 mm", "thickness": "20 mm", "height": "95 mm"}
SIZE = {"coil_outside": "76.2 mm", "wire": "4 mm"}


def own(*counts: int, **more: Any) -> list[dict[str, Any]]:
    return [{"name": f"my {count}", "coil_count": count, **SIZE, "stock": 5, **more} for count in counts]


def run(inputs: dict[str, Any], coils: list[dict[str, Any]] | None = None, units: str = "si") -> dict[str, Any]:
    return calculators.run("spiral", {"units": units, "inputs": {**inputs, **({"coils": coils} if coils else {})}})


def check_of(result: dict[str, Any], key: str) -> dict[str, Any] | None:
    return next((check for check in result["checks"] if check["key"] == key), None)


def words(result: dict[str, Any]) -> dict[str, str]:
    table = next(each for each in result["tables"] if each["title"].startswith("Your coils"))
    return {row[0]: row[1] for row in table["rows"]}


# -- the answer -----------------------------------------------------------------------------


def test_the_best_own_coil_is_the_headline() -> None:
    """Named, with its margin, as every check of the sheet is; the sheet is that of the coil alone."""
    result = run(BOTTLE, own(5, 6, 7, 9))
    assert result["headline"].startswith("Go. Tightest: my 7: ")
    assert {check["at"] for check in result["checks"] if check["key"] != "own"} == {"my 7"}
    assert check_of(result, "own")["text"] == "Best of your coils: my 7."  # type: ignore[index]
    assert result["actions"][0].startswith("Best of your coils: my 7.")
    assert result["measure_next"] is None
    alone = run({**BOTTLE, **SIZE, "coil_count": 7})
    assert [value["inner"] for value in result["values"]] == [value["inner"] for value in alone["values"]]
    assert "coil_count" not in result["inputs"], "the form stays as it was"


def test_a_coil_on_the_form_is_answered_for_itself() -> None:
    """Whole on the form, it is judged; the best of the list is told beside it."""
    result = run({**BOTTLE, **SIZE, "coil_count": 6}, own(6, 7))
    assert check_of(result, "lean")["outcome"] == "stop"  # type: ignore[index]
    assert check_of(result, "own") is None
    assert result["actions"][0] == "Best of your coils: my 7."
    assert {check["at"] for check in result["checks"]} == {""}


def test_a_count_on_the_form_asks_for_the_coil_of_that_count() -> None:
    """Its sizes are in the list, so they are not asked for; a count that nobody has is not known."""
    six = run({**BOTTLE, "coil_count": 6}, own(6, 7))
    assert check_of(six, "lean")["at"] == "my 6"  # type: ignore[index]
    assert check_of(six, "lean")["outcome"] == "stop"  # type: ignore[index]
    assert check_of(six, "own") is None
    assert six["actions"][0] == "Best of your coils: my 7."
    assert check_of(run({**BOTTLE, "coil_count": 7}, own(6, 7)), "own")["outcome"] == "pass"  # type: ignore[index]
    eleven = run({**BOTTLE, "coil_count": 11}, own(6, 7))
    assert check_of(eleven, "own") is None
    assert eleven["outcome"] == "unknown"
    pair = run({**BOTTLE, "coil_kind": "dual"}, own(7))
    assert check_of(pair, "own") is None, "a single one is no pair"


def test_a_coil_that_is_out_of_stock_is_not_the_answer() -> None:
    """Blank: at least one. None: told in the table, and taken for no answer."""
    assert run(BOTTLE, [*own(7, stock=0), *own(9)])["outcome"] == "stop"
    assert run(BOTTLE, own(7, stock=None))["headline"].startswith("Go.")
    assert "buy: a coil of 7 turns, as large as your my 7" in run(BOTTLE, [*own(7, stock=0), *own(9)])["headline"]


def test_while_a_coil_is_not_known_nobody_says_that_none_suits() -> None:
    """One whose outside was not measured may be the one."""
    result = run(BOTTLE, [*own(9), {"name": "odd", "coil_count": 7, "wire": "4 mm"}])
    assert result["outcome"] == "unknown"
    assert check_of(result, "own") is None


def test_unmeasured_heights_leave_the_answer_open() -> None:
    """Whether it leans is not known without its height."""
    result = run({key: value for key, value in BOTTLE.items() if key != "height"}, own(6, 7))
    assert result["outcome"] == "unknown"
    assert result["measure_next"]["field"] == "height"


def brute(inputs: dict[str, Any]) -> int:
    """The count that suits best, by trying every one: fewest cautions, then the least slack."""
    found = []
    for count in range(2, 41):
        work = Work(CALCULATOR, read_record(Inputs, {**inputs, **SIZE, "coil_count": count}, "si"), US, Units("si"))
        slack = assess(work.inputs, work).slack  # type: ignore[arg-type]
        judged = {check.key: check.outcome for check in work.checks if check.key in ranking.JUDGED}
        if "stop" not in judged.values():
            found.append((sum(each != "pass" for each in judged.values()), slack, count))
    return min(found)[2]


@pytest.mark.parametrize("product", [BOTTLE, TIN, {**BOTTLE, "diameter": "57 mm", "foot_diameter": "52 mm"}])
def test_the_nearest_to_buy_is_the_best_of_all_counts(product: dict[str, Any]) -> None:
    """None of theirs suits: the headline says so, and which count would hold it best."""
    result = run(product, own(3, 30))
    best = brute(product)
    assert result["outcome"] == "stop"
    assert result["headline"] == ("Stop. Decides: Your coils – None of your coils suits it. Nearest to buy: a coil of "
                                  f"{best} turns, as large as your my 3. All else here is worked out for it.")  # fmt: skip
    values = {value["key"]: value["inner"] for value in result["values"]}
    assert values["pitch"] == pytest.approx(546.1 / best)
    assert f"Buy a coil of {best} turns" in result["actions"][0]
    assert result["measure_next"] is None


def test_no_coil_is_proposed_that_a_test_refused() -> None:
    """A seven that was tried and found loose is neither the answer nor to buy, in stock or not."""
    for stock in (5, 0):
        result = run(BOTTLE, [*own(7, tried="loose", stock=stock), *own(9)])
        assert result["outcome"] == "stop"
        assert "of 7 turns" not in str(result)
        assert words(result)["my 7"] == "Too loose"


def test_a_coil_kept_by_hand_stands_over_the_calculation() -> None:
    """First in the table and the answer; what is calculated against it asks for care, and says why."""
    result = run(BOTTLE, [*own(7), *own(6, tried="keep")])
    assert words(result) == {"my 6": "Best", "my 7": "Usable"}
    assert result["outcome"] == "caution"
    told = check_of(result, "tried")
    assert told is not None
    assert (told["outcome"], told["at"]) == ("pass", "my 6")
    lean = check_of(result, "lean")
    assert lean is not None
    assert lean["outcome"] == "caution"
    assert "The test by hand stands over the calculation." in lean["note"]


def test_a_kept_coil_does_not_undo_what_no_coil_decides() -> None:
    """A product too tall for its tray stays a stop."""
    result = run({**BOTTLE, "height_above": "150 mm"}, own(7, tried="keep"))
    assert check_of(result, "height")["outcome"] == "stop"  # type: ignore[index]


@pytest.mark.parametrize("given", [{"lane_width": "50 mm"}, {"lane_width": "70 mm"}, {"lane_width": "300 mm"}, {"rail_height": "10 mm"}],
                         ids=["coil", "product", "aside", "rail"])  # fmt: skip
def test_a_kept_coil_does_not_undo_what_no_test_by_hand_tells(given: dict[str, str]) -> None:
    """Bodies that are in no lane, and a lane or rail that leaves the product loose: that coil suits no more than any other."""
    for coils in ({}, {**SIZE, "coil_count": 7}):
        result = run({**BOTTLE, **coils, **given}, own(7, tried="keep"))
        assert result["outcome"] == "stop"
        assert words(result) == {"my 7": "Does not suit"}
        why = next(table for table in result["tables"] if table["key"] == "coils")["rows"][0][2]
        assert "kept" not in why


@pytest.mark.parametrize("word", ["tight", "loose", "other"])
def test_a_coil_on_the_form_that_a_test_refused_stops(word: str) -> None:
    """The sheet of that coil says what the test said."""
    result = run({**BOTTLE, **SIZE, "coil_count": 7}, own(7, tried=word))
    found = check_of(result, "tried")
    assert found is not None
    assert (found["outcome"], found["at"]) == ("stop", ""), "of the sheet’s own coil, which has no name"
    assert check_of(run({**BOTTLE, **SIZE, "coil_count": 7}, own(7)), "tried") is None
    assert check_of(run({**BOTTLE, **SIZE, "coil_count": 7}, own(6, tried=word)), "tried") is None


@pytest.mark.parametrize(("row", "wanted"), [
    ({"coil_count": ""}, ["coils.0.coil_count"]), ({"wire": "", "coil_outside": ""}, ["coils.0.coil_outside", "coils.0.wire"]),
    ({"coil_count": "", "wire": "3 mm"}, None), ({"coil_count": "", "tried": "keep"}, None), ({"coil_count": "", "tried": "no"}, None),
])  # fmt: skip
def test_a_refused_coil_that_may_be_the_form_s_keeps_it_open(row: dict[str, Any], wanted: list[str] | None) -> None:
    """Of which only what is not measured could tell it apart; not one that has another size, or was kept, or never tried."""
    found = check_of(run({**BOTTLE, **SIZE, "coil_count": 7}, [{**own(7, tried="tight")[0], **row}]), "tried")
    assert (None if found is None or found["outcome"] != "unknown" else found["needs"]) == wanted


CRACKERS = {**TRAY, "shape": "flat", "breadth": "65 mm", "thickness": "35 mm", "height": "115 mm", "lane_width": "73 mm",
            "usable_length": "444.5 mm"}  # fmt: skip


def test_where_no_count_holds_it_the_nearest_own_one_is_told() -> None:
    """Too loose by a degree in one, too tight in the next: none to buy, and the one that misses by least."""
    coils = [{**row, "coil_outside": "69.85 mm"} for row in own(5, 7, 10)]
    result = run(CRACKERS, coils)
    assert result["headline"].startswith("Stop. Decides: Your coils – None of your coils suits it, and no other count")
    assert "Nearest is your my 7: " in result["headline"]
    assert {check["key"] for check in result["checks"] if check["outcome"] == "stop"} == {"own"}
    assert "to buy" not in result["headline"]


def test_the_closest_count_is_found_from_above() -> None:
    """Ties keep the order of the list; sizes that are not measured give nothing to buy."""
    rows = [OwnCoil(coil_count=9, coil_outside=76.2, wire=4.0), OwnCoil(coil_count=8, wire=4.0),
            OwnCoil(coil_count=5, coil_outside=76.2, wire=4.0, coil_kind="dual"),
            OwnCoil(coil_count=5, coil_outside=76.2, wire=4.0, coil_kind="dual", axis_offset=40.0),
            OwnCoil(coil_count=6, coil_outside=76.2, wire=4.0),
            OwnCoil(coil_count=6, coil_outside=60.0, wire=4.0)]  # fmt: skip
    assert [owned.sized(row) for row in rows] == [True, False, False, True, True, True]
    assert owned._kinds(rows) == [rows[0], rows[5], rows[3]]


# -- changes that can be made ---------------------------------------------------------------


def mends(result: dict[str, Any]) -> list[dict[str, Any]]:
    return [check["mend"] for check in result["checks"] if check["mend"]]


def test_a_change_names_an_own_coil_before_one_to_buy() -> None:
    """With the seven in the drawer the six is changed for it; without one, it is bought."""
    six = {**BOTTLE, **SIZE, "coil_count": 6}
    have = check_of(run(six, own(6, 7)), "lean")
    buy = check_of(run(six, own(6)), "lean")
    nobody = check_of(run(six), "lean")
    assert have is not None
    assert buy is not None
    assert nobody is not None
    assert have["mend"]["text"].startswith("Use your coil my 7.")
    assert buy["mend"]["text"].startswith("To buy: a coil of 7 turns, as large as your my 6.")
    assert nobody["mend"]["text"].startswith("Another coil: a coil of 7 turns.")
    assert {each["mend"]["changes"]["coil_count"] for each in (have, buy, nobody)} == {"7"}


def ordinary(rng: random.Random) -> dict[str, Any]:
    """A product of ordinary size in a coil of any count, in a tray of any height and lane."""
    high, thick = rng.randint(50, 210), rng.randint(15, 75)
    made = {**TRAY, **SIZE, "coil_count": rng.randint(4, 14), "lane_width": rng.choice([79, 90, 110, 158]),
            "height": high, "height_above": rng.randint(high - 10, high + 90), "end_clock": rng.randint(1, 12),
            "rail_height": rng.randint(20, 120)}  # fmt: skip
    if rng.random() < 0.4:
        return {**made, "shape": "round", "diameter": thick + 10, "foot_diameter": thick}
    return {**made, "shape": "flat", "breadth": rng.randint(45, 150), "thickness": thick, "may_skew": rng.random() < 0.7,
            "pillow": rng.random() < 0.3, "squeeze": rng.choice([0, 0, 4])}  # fmt: skip


@functools.cache
def sheets(count: int) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Sheets with something to change, with a list of coils of ordinary sizes, some tried."""
    found = []
    rows = [*own(5, 7, 9), *own(6, tried="loose"), *own(12, tried="tight"), *own(8, stock=0)]
    for seed in itertools.count(90_000):
        request = {"units": "si", "inputs": {**ordinary(random.Random(seed)), "coils": rows}}
        result = CALCULATOR.run(request)
        if mends(result):
            found.append((request, result))
        if len(found) == count:
            return found
    raise AssertionError


def test_no_change_names_a_coil_that_failed_or_contradicts_another() -> None:
    """One value of each input a sheet; a coil is an own one, or to buy; never one that a test refused."""
    coils = 0
    for _, result in sheets(30):
        values: dict[str, set[str]] = {}
        for mend in mends(result):
            for path, typed in mend["changes"].items():
                values.setdefault(path, set()).add(str(typed))
            if "coil_count" in mend["changes"]:
                coils += 1
                count = int(mend["changes"]["coil_count"])
                assert ("Use your coil my" in mend["text"]) == (count in (5, 7, 9)), mend
                assert ("To buy: a" in mend["text"]) == (count not in (5, 7, 9)), mend
                assert count not in (6, 12), mend
        assert all(len(typed) == 1 for typed in values.values()), values
        changes = [row[0] for table in result["tables"] if table["title"] == "What would have to change"
                   for row in table["rows"]]  # fmt: skip
        assert sum("Coil count" in text for text in changes) <= 1, changes
    assert coils > 5


def test_no_change_makes_another_check_stop() -> None:
    """Typed in as printed, nothing stops that did not."""
    for request, result in sheets(30):
        before = {check["key"] for check in result["checks"] if check["outcome"] == "stop"}
        for mend in mends(result):
            made = {**request, "inputs": {**result["inputs"], **mend["changes"]}, "typed": "si"}
            after = {check["key"] for check in CALCULATOR.run(made)["checks"] if check["outcome"] == "stop"}
            assert after <= before | {"tried"}, (mend, after - before)



# -- each kind of failure has its change ------------------------------------------------------

BOX = {**TRAY, **SIZE, "shape": "flat", "breadth": "60 mm", "thickness": "30 mm", "height": "100 mm", "coil_count": 10}
PAIR = {"coil_kind": "dual", "axis_offset": "40 mm", "coil_count": 5, "lane_width": "180 mm"}
ROUND = {**BOTTLE, **SIZE, "coil_count": 7}
# A failing sheet, the check that fails, and the input that its change sets.
FAILING: list[tuple[dict[str, Any], str, str]] = [
    ({**ROUND, "height_above": "200 mm"}, "height", "height_above"),
    ({**ROUND, "height": "50 mm"}, "short", "strip_height"),
    ({**ROUND, "drop_limit": "610 mm"}, "drop", "drop_height"),
    ({**ROUND, "foot_diameter": "66 mm"}, "foot", "foot_diameter"),
    ({**BOX, "thick_end": "foot", "thin_end": "35 mm"}, "thin", "thin_end"),
    ({**ROUND, **PAIR, "axis_offset": "37 mm"}, "pair", "axis_offset"),
    ({**ROUND, "lane_width": "68 mm"}, "lane", "lane_width"),
    ({**ROUND, "lane_width": "76 mm"}, "coil_lane", "lane_width"),
    ({**ROUND, "rail_height": "50 mm"}, "side", "rail_height"),
    ({**ROUND, "end_clock": 6}, "first", "end_empty"),
    ({**ROUND, "end_clock": 6, "end_empty": 0, "coil_count": 6}, "lean", "coil_count"),
    ({**ROUND, "coil_count": 8}, "goes_in", "coil_count"),
    ({**BOX, "breadth": "130 mm", "thickness": "40 mm", "lane_width": "158 mm", "may_skew": "no"}, "goes_in", "may_skew"),
    ({**BOX, "breadth": "33 mm", "thickness": "60 mm", "height": "85 mm"}, "goes_in", "may_turn"),
    ({**BOX, "height": "20 mm", "breadth": "30 mm"}, "held", "strip_height"),
]  # fmt: skip


@pytest.mark.parametrize(("inputs", "key", "path"), FAILING, ids=lambda each: each if isinstance(each, str) else "")
def test_each_kind_of_failure_has_a_change_that_works(inputs: dict[str, Any], key: str, path: str) -> None:
    """Printed, typed in, and then the check passes."""
    before = check_of(run(inputs), key)
    assert before is not None
    assert before["outcome"] in ("stop", "caution")
    assert before["mend"] is not None, before
    assert path in before["mend"]["changes"], before["mend"]
    after = check_of(run({**inputs, **before["mend"]["changes"]}), key)
    assert (after is None and key == "held") or after["outcome"] == "pass"  # type: ignore[index]


@pytest.mark.parametrize(("given", "offered"), [
    ({"shape": "flat", "may_skew": False, "may_turn": False}, ["may_skew", "may_turn"]),
    ({"shape": "flat", "may_skew": True, "may_turn": False}, ["may_turn"]),
    ({"shape": "flat", "may_skew": False, "may_turn": True}, ["may_skew"]),
    ({"shape": "flat", "may_skew": True, "may_turn": True}, []),
    ({"shape": "round", "may_skew": False, "may_turn": False}, []),
])  # fmt: skip
def test_a_pack_is_put_another_way_only_where_that_is_one(given: dict[str, Any], offered: list[str]) -> None:
    """What it may already do is no change, and only a pack has a skew or a narrow side."""
    inputs = Inputs(**given)
    found = mends_of.placed(Work(CALCULATOR, inputs, US, Units("si")), inputs)
    assert [key for mend in found if mend for key in mend.changes] == offered


def test_a_round_product_is_neither_skewed_nor_turned() -> None:
    """Only a pack has a skew or a narrow side."""
    found = check_of(run({**ROUND, "coil_count": 8, "may_skew": "no"}), "goes_in")
    assert found is not None
    assert "may_skew" not in found["mend"]["changes"]


@pytest.mark.parametrize("outside", ["60 mm", "76.2 mm"])
@pytest.mark.parametrize("units", ["si", "us"])
def test_a_lane_is_narrowed_to_what_both_the_product_and_its_coil_want(outside: str, units: str) -> None:
    """Where no rail is high enough: a millimetre beyond what the tape may hide, which holds the bottle, and it still goes in."""
    tall = {**ROUND, "height": "590 mm", "strip_height": "120 mm", "height_above": "900 mm", "rail_height": "390 mm", "lane_width": "110 mm",
            "coil_outside": outside}  # fmt: skip
    found = check_of(run(tall, units=units), "side")
    assert found is not None
    assert found["outcome"] == "stop"
    assert set(found["mend"]["changes"]) == {"lane_width"}
    after = run({**tall, **found["mend"]["changes"]}, units=units)
    checks = [check_of(after, key) for key in ("side", "lane", "coil_lane")]
    assert {check["outcome"] for check in checks if check} == {"pass"}
    spare = min(check["margin"] - check["tolerance"] for check in checks[1:] if check) * {"si": 1.0, "us": 25.4}[units]
    assert 1 - 1e-9 <= spare < 1 + 25.4 / 16 + 1e-9


def test_a_lane_that_is_just_wide_enough_is_not_narrowed() -> None:
    """The bottle leans in it however narrow it is: a rail that low holds nothing."""
    low = {**ROUND, "height": "590 mm", "strip_height": "120 mm", "height_above": "900 mm", "rail_height": "150 mm"}
    assert [check_of(run({**low, "lane_width": width}), "side")["mend"] for width in ("72 mm", "110 mm")] == [None, None]  # type: ignore[index]


def test_what_would_have_to_change_is_told_best_first_and_helps() -> None:
    """Of a tray too low, a lane too narrow and no coil at hand: each line is better than the sheet as it is."""
    result = run({**ROUND, "coil_count": 6, "lane_width": "90 mm", "end_clock": 12}, own(6, 7))
    table = next(each for each in result["tables"] if each["title"] == "What would have to change")
    assert table["rows"][0][0].startswith("Use your coil my 7.")
    assert table["rows"][0][1] == "Go"
    assert not [each for each in run(ROUND)["tables"] if each["title"] == "What would have to change"]

"""The fit book's table: every mistake told, and what a test changes elsewhere."""

from __future__ import annotations

import csv
import re
import shutil
from pathlib import Path

import pytest

from tools.book import fits
from tools.book.data import OperatorData, load
from tools.pages import cards, chart, fitbook, sheet
from tools.problems import Problems
from tools.results import coils, siteplan, sites

DEMO = Path(__file__).parents[2] / "docs" / "data"
# A sound row; a seeded mistake changes some of its cells.
ROW = {
    "product": "still-water", "coil": "seven", "machine": "tall-forty", "date": "2026-11-03",
    "who": "router", "lifted": "3", "hung": "0", "fell": "0", "crushed": "0", "verdict": "keep",
}  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "data")
    (tmp_path / "data" / "tables" / "fits.csv").unlink()
    return tmp_path / "data"


def write(folder: Path, *rows: dict[str, str], header: tuple[str, ...] = fits.HEADER) -> None:
    with (folder / "tables" / "fits.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, header, lineterminator="\n")
        table.writeheader()
        table.writerows(rows)


def with_tests(folder: Path, *changes: dict[str, str]) -> OperatorData:
    write(folder, *({**ROW, **change} for change in changes))
    return load(folder)


SEEDED = {
    "lost product": ({"product": "still-watter"}, ("column product", "still-watter", "still-water")),
    "lost coil": ({"coil": "sevn"}, ("column coil", "sevn", "seven")),
    "lost cabinet": ({"machine": "tall-fourty"}, ("column machine", "tall-fourty", "tall-forty")),
    "lost person": ({"who": "rooter"}, ("column who", "rooter", "router")),
    "a coil of another cabinet": ({"coil": "short-five"}, ("column coil", "short-five", "slim-eighteen", "coils.csv")),
    "a product of another cabinet": ({"product": "tuna-wedge"}, ("column product", "tuna-wedge", "chill-thirty", "products.csv")),
    "no date": ({"date": ""}, ("column date", "empty", "needed")),
    "no verdict": ({"verdict": ""}, ("column verdict", "empty", "needed")),
    "a day of another order": ({"date": "11/03/2026"}, ("column date", "11/03/2026", "year-month-day", "2026-11-03")),
    "a day that is none": ({"date": "2026-02-30"}, ("column date", "2026-02-30", "year-month-day")),
    "a week": ({"date": "2026-W45-2"}, ("column date", "2026-W45-2", "year-month-day")),
    "four lifted": ({"lifted": "4"}, ("column lifted", "“4”", "between 0 and 3", "3")),
    "a broken count": ({"hung": "1.5"}, ("column hung", "1.5", "whole number")),
    "eleven fell": ({"fell": "11", "verdict": "loose"}, ("column fell", "11", "between 0 and 10")),
    "more than ten": ({"hung": "4", "fell": "4", "crushed": "3", "verdict": "tight"},
                      ("column crushed", "“11”", "10 test vends", "once")),
    "another verdict": ({"verdict": "good"}, ("column verdict", "good", "keep, tight, loose, other")),
    "kept though it hung": ({"hung": "2"}, ("column verdict", "2 hung", "tight, loose, other")),
    "kept though one stuck": ({"lifted": "2"}, ("column verdict", "2 of 3 lifted", "tight, loose, other")),
    "kept untested": ({"crushed": ""}, ("column crushed", "crushed cannot be told", "write 0")),
    "a size of nothing": ({"diameter": "wide"}, ("column diameter", "wide", "2 5/8 in")),
    "a size too large": ({"diameter": "3 ft"}, ("column diameter", "3 ft", "between")),
    "a size of another shape": ({"thickness": "40 mm"}, ("column thickness", "40 mm", "round", "diameter")),
    "a thin end of no wedge": ({"product": "oat-bar", "coil": "twelve", "thin_end": "12 mm"},
                               ("column thin_end", "12 mm", "flat", "thickness")),
    "a diameter of a wedge": ({"product": "egg-wedge", "coil": "six", "diameter": "60 mm"},
                              ("column diameter", "60 mm", "flat, a wedge", "thin_end")),
}  # fmt: skip


@pytest.mark.parametrize("name", SEEDED)
def test_a_mistake_is_told_with_row_column_value_and_mend(name: str, folder: Path) -> None:
    """One mistake in the second row of two: one line, naming its place, its value and its mend."""
    change, words = SEEDED[name]
    write(folder, {**ROW, "product": "fizzy-water"}, {**ROW, **change})
    with pytest.raises(Problems) as caught:
        load(folder)
    told = [str(problem) for problem in caught.value.found]
    assert len(told) == 1, told
    assert all(word in told[0] for word in ("fits.csv, row 3", *words)), told


def test_a_row_twice_and_a_lost_column_are_told(folder: Path) -> None:
    """The same test on the same day stands once; a column must be known."""
    write(folder, ROW, ROW)
    with pytest.raises(Problems, match=r"fits\.csv, row 3, column date: .* row 2 too"):
        load(folder)
    write(folder, ROW)
    text = (folder / "tables" / "fits.csv").read_text(encoding="utf-8")
    (folder / "tables" / "fits.csv").write_text(text.replace(",who,", ",hoo,", 1), encoding="utf-8")
    with pytest.raises(Problems, match=r"no column “hoo”"):
        load(folder)


def test_more_coils_than_a_form_can_try_are_told(folder: Path) -> None:
    """The build says so; it does not break later."""
    write(folder, ROW)
    with (folder / "tables" / "coils.csv").open("a", encoding="utf-8") as file:
        for number in range(3):
            file.write(f"more-{number},More,8,3 in,4 mm,single,,1,tall-forty\n")
    assert len(load(folder).sold_in("coils", "tall-forty")) == 12
    with (folder / "tables" / "coils.csv").open("a", encoding="utf-8") as file:
        file.write("more-3,More,8,3 in,4 mm,single,,1,\n")
    with pytest.raises(Problems, match=r"coils\.csv, row [0-9]+, column cabinets: 13 coils .*tall-forty.* may be 12"):
        load(folder)


def test_a_cabinet_nobody_has_is_told(folder: Path) -> None:
    """A column that lists several keys is checked key by key."""
    write(folder, ROW)
    text = (folder / "tables" / "products.csv").read_text(encoding="utf-8")
    (folder / "tables" / "products.csv").write_text(text.replace("tall-forty chill-thirty", "tall-forty chil-thirty", 1),
                                         encoding="utf-8")  # fmt: skip
    with pytest.raises(Problems, match=r"column cabinets: There is no “chil-thirty” .* chill-thirty"):
        load(folder)


def test_a_handbook_without_the_table_has_no_tests(folder: Path) -> None:
    """The table may be missing: nothing was tried yet."""
    data = load(folder)
    assert data.tables["fits"] == []
    assert "Nothing yet" in cards.product_page(data, "still-water").source
    assert "None yet" in fitbook.page(data)


def test_the_latest_correction_takes_the_number_s_place(folder: Path) -> None:
    """In every input that is derived, and only for the size that was measured."""
    data = with_tests(folder, {"date": "2026-10-01", "diameter": "61 mm", "coil": "eight"},
                      {"date": "2026-09-01", "diameter": "60 mm"})  # fmt: skip
    inputs = data.prefill("spiral", {"product": "still-water", "machine": "tall-forty"})
    before = load(DEMO).row("products", "still-water").typed
    assert (inputs["diameter"], before["diameter"]) == ("61 mm", "65 mm")
    assert {key: inputs[key] for key in ("foot_diameter", "height", "lane_width")} == {
        key: before[key] for key in ("foot_diameter", "height", "lane_width")
    }


def test_no_cabinet_has_more_trays_than_a_plan_takes(folder: Path) -> None:
    with (folder / "tables" / "trays.csv").open("a", encoding="utf-8") as file:
        file.writelines(f"tall-forty,Tray {number},1,79 mm,11 in,0 in,2 in,6 in,cold,\n" for number in range(6, 14))
    with pytest.raises(Problems, match=r"trays\.csv, row [0-9]+, column machine: “tall-forty” has 13 trays.*may be 12"):
        load(folder)


def test_a_correction_reaches_form_card_chart_and_sheet(folder: Path) -> None:
    """Each says that it was corrected and when, and the verdicts follow the new size."""
    plain = with_tests(folder, {"product": "lemon-can"})
    mended = with_tests(folder, {"product": "lemon-can"}, {"coil": "six", "verdict": "tight", "diameter": "73 mm"})
    words = "corrected by test on 2026-11-03"
    preset = next(each for each in mended.presets("spiral") if each["key"] == "still-water tall-forty")
    assert words in preset["name"]
    assert preset["inputs"]["diameter"] == "73 mm"
    assert words in mended.remark({"product": "still-water"})
    assert mended.remark({"product": "lemon-can"}) == f"Product: {plain.row('products', 'lemon-can').typed['name']}."
    card = cards.product_page(mended, "still-water").source
    assert f"73 mm ({words}; was 65 mm)" in card
    slightly = with_tests(folder, {"product": "lemon-can"}, {"coil": "five", "verdict": "loose", "hung": "1", "diameter": "66 mm"})
    assert f"Still water 500 ml, $1.50, {words}" in sheet.page(slightly, "ferry-pier").source
    planned = next(row for row in mended.prefill("plan", {"site": "ferry-pier"})["products"] if row["name"] == "Still water 500 ml")
    assert planned["diameter"] == "73 mm"
    calculated = {cell.coil.typed["key"]: cell.calculated for cell in coils.judged(mended, "tall-forty", "still-water")}
    earlier = {cell.coil.typed["key"]: cell.calculated for cell in coils.judged(plain, "tall-forty", "still-water")}
    assert (earlier["seven"], calculated["seven"]) == ("Best", "Too tight")
    assert chart.page(plain) != chart.page(mended)
    assert words not in cards.product_page(plain, "still-water").source


def test_tried_stands_over_calculated(folder: Path) -> None:
    """A coil that was kept comes first, one that failed last; both verdicts are shown."""
    data = with_tests(folder, {"coil": "six"}, {"coil": "seven", "hung": "3", "verdict": "tight"})
    found = coils.judged(data, "tall-forty", "still-water")
    assert [(cell.coil.typed["key"], cell.word) for cell in (found[0], found[-1])] == [("six", "Keep"), ("seven", "Too tight")]
    assert found[-1].calculated == "Best"
    page = chart.page(data)
    assert 'data-coil="six" data-tried="2026-11-03"' in page
    assert "tried here 2026-11-03" in page
    assert "calculated: best" in page
    # Another cabinet of the same product was not tried.
    assert coils.judged(data, "chill-thirty", "still-water")[0].tried is None


def test_the_latest_test_of_a_coil_counts(folder: Path) -> None:
    """A coil that hung in spring and ran clean in fall is kept."""
    data = with_tests(folder, {"date": "2026-04-01", "hung": "3", "verdict": "tight"}, {"date": "2026-10-01"})
    cell = next(each for each in coils.judged(data, "tall-forty", "still-water") if each.coil.typed["key"] == "seven")
    assert (cell.word, cell.source) == ("Keep", "tried here 2026-10-01")


def lanes_of(data: OperatorData, product: str) -> list[siteplan.Lane]:
    return [lane for lane in siteplan.make(data, "ferry-pier").filled if lane.product and lane.product.typed["key"] == product]


def test_a_clean_test_lifts_a_caution_but_not_a_stop(folder: Path) -> None:
    """Ten clean vends answer how it rides; where the sum says stop, the sheet still asks for care."""
    bare = lanes_of(with_tests(folder, {"product": "lemon-can"}), "shortbread")
    assert {lane.outcome for lane in bare} == {"caution"}
    data = with_tests(folder, {"product": "shortbread", "coil": "ten"}, {"product": "pier-cola", "coil": "seven"})
    for lane in lanes_of(data, "shortbread"):
        assert (lane.outcome, lane.coil and lane.coil.typed["key"]) == ("pass", "ten")
        assert lane.test is not None
    kept = [lane for lane in lanes_of(data, "pier-cola") if lane.coil and lane.coil.typed["key"] == "seven"]
    assert kept
    for lane in kept:
        assert lane.outcome == "caution"
        assert "Tried and kept, against the calculation: goes in between two turns" in lane.mind
    page = sheet.page(data, "ferry-pier").source
    assert "Tried here 2026-11-03: 3 of 3 lifted freely, 10 clean vends." in page


def test_what_the_plans_of_sites_take_is_text_whatever_they_are_called(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cards, "_planned", lambda *_: ["<b>Pier</b>: ten", "a & b"])
    data = load(DEMO)
    said = cards._plans(data, data.tables["machines"][0], data.tables["products"][0])
    assert "&lt;b&gt;Pier&lt;/b&gt;: ten; a &amp; b." in said


def test_a_product_whose_coils_all_failed_has_no_lane(folder: Path) -> None:
    """Where the only coil was tried and failed, no lane is filled with it, and the sheet says whose."""
    write(folder, {**ROW, "hung": "5", "verdict": "tight"})
    (folder / "tables" / "coils.csv").write_text(
        "key,name,coil_count,coil_outside,wire,coil_kind,stock\nseven,Seven-count,7,3 in,4 mm,single,40\n",
        encoding="utf-8",
    )
    data = load(folder)
    assert lanes_of(data, "still-water") == []
    assert lanes_of(data, "fizzy-water") != []
    assert any("No coil in stock takes in any tray" in each and "Still water" in each for each in siteplan.make(data, "ferry-pier").actions)


def test_the_demo_shows_every_outcome_and_its_table_has_the_order_of_the_book() -> None:
    """Over the sites' sheets: stop, not known, take care, go; fits.csv as the page would write it."""
    data = load(DEMO)
    outcomes = [outcome for row in data.tables["sites"]
                for outcome in sites.work_out(data, row.typed["key"]).outcomes.values()]  # fmt: skip
    assert set(outcomes) == {"stop", "unknown", "caution", "pass"}
    # A working business: a sheet that says stop is heeded only where stops are few.
    assert outcomes.count("stop") <= len(outcomes) / 5
    assert tuple(data.heads["fits"]) == fits.HEADER
    assert fitbook.facts(data)["header"] == list(fits.HEADER)
    # On the page the latest test stands first.
    days = re.findall(r"\d{4}-\d\d-\d\d", fitbook._ours(data))
    assert len(set(days)) > 1
    assert days == sorted((row.typed["date"] for row in data.tables["fits"]), reverse=True)
    assert len(data.tables["products"]) >= 40
    assert len(data.tables["machines"]) >= 3


def test_the_page_writes_rows_in_the_order_of_the_operator_s_own_file(folder: Path) -> None:
    """An operator may have moved columns about; rows copied from the page still fall into place."""
    moved = (*fits.HEADER[5:], *fits.HEADER[:5])
    write(folder, ROW, header=moved)
    assert fitbook.facts(load(folder))["header"] == list(moved)


def test_of_two_tests_the_latest_counts_in_a_lane(folder: Path) -> None:
    """Whichever row stands first."""
    older, later = {"product": "shortbread", "coil": "ten", "date": "2026-10-02"}, {"product": "shortbread", "coil": "ten", "date": "2026-11-05"}
    for rows in ((older, later), (later, older)):
        lanes = lanes_of(with_tests(folder, *rows), "shortbread")
        assert {lane.test.typed["date"] for lane in lanes if lane.test} == {"2026-11-05"}

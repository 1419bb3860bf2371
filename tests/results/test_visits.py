"""The visit plan: its sums by another path, the same numbers on every paper, and days as the table has them."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from bs4 import BeautifulSoup, Tag

import calculators
from tools.book import data as book_data
from tools.book import planned, stocked, week
from tools.book.book import Book
from tools.book.data import OperatorData
from tools.book.tables import Row
from tools.pages import sheet
from tools.pages import visits as page
from tools.results import papers, siteplan, visits

DOCS = Path(__file__).parents[2] / "docs"


@pytest.fixture(scope="module")
def data() -> OperatorData:
    return book_data.load(DOCS / "data")


@pytest.fixture(scope="module")
def shown(data: OperatorData) -> BeautifulSoup:
    """The page as it is written, without Markdown's own work."""
    [made] = page.pages(_book(data))
    return BeautifulSoup(made.body.replace("## ", "<h2></h2>"), "html.parser")


def _book(data: OperatorData) -> Book:
    class OfData:
        """What a kind of page asks of a book."""

        def __init__(self) -> None:
            self.data = data

    return OfData()  # type: ignore[return-value]


def days(shown: BeautifulSoup) -> list[tuple[Tag, Tag]]:
    """Each day's list of sites and its table for the van."""
    return list(zip(shown.select("ul.hb-visits"), shown.select("table.hb-visits"), strict=True))


def pieces(text: str) -> int:
    found = re.match(r"(\d+) pieces", text)
    assert found, text
    return int(found[1])


def test_the_sums_of_a_day_are_those_of_its_sites_sheets(data: OperatorData, shown: BeautifulSoup) -> None:
    """Each site's own sheet, read as a page, against the day's table of goods, read as a page."""
    on_sheets: Counter[str] = Counter()
    for site in data.tables["sites"]:
        body = BeautifulSoup(sheet.page(data, site.typed["key"]).body, "html.parser")
        for cell in body.select("dd[data-visit]"):
            on_sheets[str(cell["data-visit"])] += pieces(cell.get_text())
    stated = []
    for sites, goods in days(shown):
        lines = [row.get_text("|").split("|") for row in goods.select("tbody tr") if "Change:" not in row.get_text()]
        total = next(int(line[1]) for line in lines if line[0] == "In all")
        assert total == sum(int(line[1]) for line in lines if line[0] != "In all")
        assert total == sum(pieces(each.get_text()) for each in sites.select("[data-visit]"))
        stated.append(total)
    assert sorted(stated) == sorted(on_sheets.values())
    assert len(stated) == len({day for site in data.tables["sites"] for day in week.of(site) if day < 7})


@pytest.mark.parametrize(("cases", "bring", "said"), [
    (6, (12,), "12 pieces: 2 cases"), (6, (5,), "5 pieces: 1 case"), (6, (7, 0), "7 pieces: 2 cases"), (None, (7,), "7 pieces: 7 loose"),
    (None, (0,), "0 pieces"),
])  # fmt: skip
def test_a_visit_s_goods_are_said_in_whole_cases_and_what_comes_loose(cases: int | None, bring: tuple[int, ...], said: str) -> None:
    product = SimpleNamespace(values={"case_pieces": cases} if cases else {})
    goods = [SimpleNamespace(product=product, bring=each) for each in bring]
    assert page.said(SimpleNamespace(goods=goods, pieces=sum(bring))) == said  # type: ignore[arg-type]


def test_the_pick_list_is_the_answer_that_the_plan_adds_up(data: OperatorData) -> None:
    """Product by product and day by day: what the papers' script carries, against the van's loads."""
    told = papers.of(data)
    by_day: dict[str, Counter[str]] = {}
    for site in told["sites"]:
        for day, goods in site[-1]:
            for product, bring, _ in goods:
                by_day.setdefault(day, Counter())[told["products"][product][0]] += bring
    for day, found in visits.by_day(data).items():
        load = {row.typed["name"]: count for row, count, _ in visits.load(found)}
        assert load == {name: count for name, count in by_day[visits.called(data, day)].items() if count}


def test_no_visit_fills_more_than_the_one_plan_holds(data: OperatorData) -> None:
    """Each product of a visit is one of the site's plan, and is filled to no more than its lanes there hold."""
    for site in data.tables["sites"]:
        key = site.typed["key"]
        room = siteplan.make(data, key).goods
        for visit in visits.of_site(data, key):
            assert {each.product.typed["key"] for each in visit.goods} == set(room)
            assert all(0 <= each.bring <= each.fill <= room[each.product.typed["key"]] for each in visit.goods)


def test_whole_cases_hold_what_a_day_needs_and_no_case_too_many(data: OperatorData) -> None:
    for found in visits.by_day(data).values():
        for row, count, cases in visits.load(found):
            size = row.values.get("case_pieces")
            assert (cases is None) == (size is None)
            assert cases is None or (cases - 1) * size < count <= cases * size


def test_a_day_brings_each_coin_that_its_sites_floats_ask_for(data: OperatorData) -> None:
    """Rolls from the float's own answers, asked once more."""
    wanted: Counter[str] = Counter()
    for site in data.tables["sites"]:
        report = calculators.run("float", {"units": data.units, "rules": data.rules.name,
                                           "inputs": data.prefill("float", {"site": site.typed["key"]})})  # fmt: skip
        rows = next(each for each in report["tables"] if each["key"] == "next")
        for row in rows["rows"]:
            line = dict(zip(rows["keys"], row, strict=True))
            wanted[line["coin"]] += int(line["packs"].split()[0]) * len([day for day in week.of(site) if day < 7])
    stated: Counter[str] = Counter()
    for found in visits.by_day(data).values():
        stated.update(visits.change(found))
    assert stated == +wanted


def test_goods_that_run_out_before_the_visit_are_told_and_no_others(data: OperatorData) -> None:
    """Filled up each time a cabinet lasts a while: a visit after it is late, one before it is not."""
    key = data.tables["sites"][0]
    lasting = next(value["inner"] for value in data.answers.told(visits._question(data, key.typed["key"], 1.0, 1.0))["values"]
                   if value["key"] == "next_visit")  # fmt: skip
    late = {since: visits._visit(data, key, (), 0, since, 1.0).short for since in (max(lasting - 1, 1), lasting, lasting + 1)}
    assert list(late.values()) == [False, False, True]


def site(days: float | None, text: str = "") -> Row:
    typed: dict[str, Any] = {"key": "a", **({"visit_days": text} if text else {})}
    return Row("sites.csv", 2, typed, {**typed, "days": days})


def test_each_visit_covers_the_days_to_the_next() -> None:
    assert visits.times(site(3.5, "Mon Thu")) == [(0, 4, 3), (3, 3, 4)]
    assert visits.times(site(14, "even Fri")) == [(11, 14, 14)]
    assert visits.times(site(5)) == [(visits.NO_DAY, 5, 5)]
    assert visits.times(site(None)) == []


def test_a_weekly_visit_stands_in_both_weeks_where_others_do_not(data: OperatorData) -> None:
    first, second, *_ = data.tables["sites"]
    changed = {"visit_days": "even Fri", "days": "14"}
    other = Row(second.file, second.number, {**second.typed, **changed}, {**second.values, "visit_days": "even Fri", "days": 14.0})
    data = OperatorData(data.company, {**data.tables, "sites": [first, other]}, data.rules, data.heads)
    found = visits.by_day(data)
    assert list(found) == [0, 3, 7, 10, 11]
    assert [visits.called(data, day) for day in (0, 11)] == ["Monday, odd week", "Friday, even week"]
    assert [each.until for each in found[11]] == [14]


def test_what_is_left_goes_out_where_it_would_not_last_to_the_next_visit(data: OperatorData) -> None:
    """By the shelf life and the longest gap of each site, reckoned here once more."""
    seen = set()
    for site in data.tables["sites"]:
        products = stocked.product_of(data, site.typed["key"])
        gap = max(week.gaps(week.of(site)))
        for row in data.prefill("restock", {"site": site.typed["key"]})["selections"]:
            wanted = "yes" if int(products[row["name"]].typed["shelf_days"]) < 2 * gap else "no"
            assert row["perishable"] == wanted
            seen.add(wanted)
    assert seen == {"yes", "no"}


def test_what_is_left_is_asked_about_where_its_life_or_the_gap_is_not_told(data: OperatorData) -> None:
    """One of the two alone says nothing of what goes out."""
    site = data.tables["sites"][0]
    held = planned.held(data, site.typed["machine"], planned.setting(data, site.typed["key"]))[0]
    product = held.product
    lasts = Row(product.file, product.number, {**product.typed, "shelf_days": "9"}, {**product.values, "shelf_days": 9})
    endless = Row(product.file, product.number, product.typed, {**product.values, "shelf_days": None})
    said = {(row is lasts, gap): stocked._selection(replace(held, product=row), gap).get("perishable")
            for row in (lasts, endless) for gap in (4.0, 5.0, None)}  # fmt: skip
    assert said == {(True, 4.0): "no", (True, 5.0): "yes", (True, None): None, (False, 4.0): None, (False, 5.0): None, (False, None): None}


def test_a_cabinet_without_a_site_has_no_selections(data: OperatorData, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(data.tables, "sites", [])
    assert planned.usual(data, "tall-forty") is None
    assert data.prefill("restock", {"machine": "tall-forty"}) == {"stocked": "filled", "selections": []}


def test_without_days_no_visit_is_planned(data: OperatorData, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(data.tables, "sites", [])
    [made] = page.pages(_book(data))
    assert made.body == page.NONE

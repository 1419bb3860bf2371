"""One plan a site: plan, sheet, van list and chart name the same coils, recomputed from the tables by another way."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup

import calculators
from tools.book import planned
from tools.book.answers import Answers, Question
from tools.book.data import load
from tools.pages import chart
from tools.results import siteplan

DEMO = Path(__file__).parents[2] / "docs" / "data"
TABLES = {path.stem: list(csv.DictReader(path.read_text(encoding="utf-8").splitlines())) for path in (DEMO / "tables").glob("*.csv")}
PRODUCT = ("name", "weekly_sales", "shape", "diameter", "breadth", "thickness", "height", "foot_diameter", "sides", "thick_end", "thin_end",
           "mass", "squeeze", "pillow", "drop_limit", "allergens")  # fmt: skip
TRAY = ("name", "lanes", "lane_width", "height_above", "strip_height", "rail_height", "drop_height", "zone")
COIL = ("name", "coil_count", "coil_outside", "wire", "coil_kind", "axis_offset", "stock")
SIZES = ("diameter", "foot_diameter", "breadth", "thickness", "thin_end", "height", "squeeze")
SITES = {row["key"]: row for row in TABLES["sites"]}
Line = tuple[str, str, str, str, int]  # tray, lane, product, coil, pieces


def own(table: str, machine: str) -> list[dict[str, str]]:
    return [row for row in TABLES[table] if machine in (row.get("cabinets") or machine).split()]


def some(row: dict[str, str], keys: tuple[str, ...]) -> dict[str, str]:
    return {key: row[key] for key in keys if row.get(key)}


def asked(site: dict[str, str]) -> dict[str, Any]:
    """The plan's inputs, put together from the tables as they stand on disk."""
    machine = next(row for row in TABLES["machines"] if row["key"] == site["machine"])
    goods, coils = own("products", machine["key"]), own("coils", machine["key"])
    tests = sorted(TABLES["fits"], key=lambda row: row["date"])
    latest = {(row["product"], row["coil"]): row["verdict"] for row in tests if row["machine"] == machine["key"]}
    products = []
    for row in goods:
        sizes = {key: test[key] for test in tests if test["product"] == row["key"] for key in SIZES if test[key]}
        products.append({**some(row, PRODUCT), **sizes})
    words = " ".join(f"{row['name']} {row['allergens']}" for row in goods)
    return {
        **some(machine, ("usable_length", "heavy_tray", "heavy_mass")), "days": site["days"], "products": products,
        "trays": [some(row, TRAY) for row in TABLES["trays"] if row["machine"] == machine["key"]],
        "coils": [some(row, COIL) for row in coils],
        "apart": [some(row, ("first", "second", "where")) for row in TABLES["apart"] if row["first"] in words and row["second"] in words],
        "tried": [{"product": row["name"], "coil": coil["name"], "verdict": latest[row["key"], coil["key"]]}
                  for row in goods for coil in coils if (row["key"], coil["key"]) in latest],
    }  # fmt: skip


def recomputed(site: str) -> list[Line]:
    """Every lane of a site's plan, from a run of the calculator alone."""
    result = calculators.run("plan", {"units": "us", "rules": "us", "inputs": asked(SITES[site])})
    table = next(each for each in result["tables"] if each["key"] == "lanes")
    return [(tray, lane, product, coil, int(pieces)) for tray, lane, product, coil, pieces, _ in table["rows"]]


@pytest.fixture(scope="module")
def plans() -> dict[str, list[Line]]:
    return {site: recomputed(site) for site in SITES}


def text(html: str) -> str:
    return unescape(re.sub(r"<[^>]+>", "", html)).strip()


def on_sheet(page: str) -> Iterator[Line]:
    """Every lane that a built sheet shows, one by one."""
    for row in re.findall(r"<tr data-tray[^>]*>(.*?)</tr>", page, re.DOTALL):
        place, product, coil, pieces, _ = (text(cell) for cell in re.findall(r"<td[^>]*>(.*?)</td>", row, re.DOTALL))
        tray, _, lanes = place.rpartition(": ")
        first, _, last = lanes.partition("–")
        for lane in range(int(first), int(last or first) + 1):
            yield tray, str(lane), product.split(", $")[0], coil, int(pieces)


def ticked(page: str, head: str) -> list[str]:
    found = re.search(rf"<h3[^>]*>{head}</h3>\s*<ul.*?</ul>", page, re.DOTALL)
    assert found
    return [text(each) for each in re.findall(r"<li.*?</li>", found[0], re.DOTALL)]


@pytest.mark.parametrize("key", SITES)
def test_sheet_and_van_list_of_a_built_page_are_the_recomputed_plan(key: str, site: Path, plans: dict[str, list[Line]]) -> None:
    """Lane by lane, and what of coils, goods and cases goes into the van for them."""
    page = (site / "sites" / f"{key}.html").read_text(encoding="utf-8")
    lines = plans[key]
    assert [(tray, lane, product.split(", ")[0], coil, pieces) for tray, lane, product, coil, pieces in on_sheet(page)] == [
        (tray, lane, product.split(", ")[0], coil, pieces) for tray, lane, product, coil, pieces in lines]  # fmt: skip
    full = [line for line in lines if line[4]]
    assert f"{len(full)} of {len(lines)} lanes are filled." in page
    stock = {row["name"]: int(row["stock"]) for row in TABLES["coils"]}
    coils = Counter(line[3] for line in full)
    assert ticked(page, "Coils") == [f"{name} × {count}, of {stock[name]} in stock" for name, count in coils.items()]
    assert all(count <= stock[name] for name, count in coils.items())
    assert ticked(page, "Spare") == [f"{name} × 1" for name, count in coils.items() if count < stock[name]]
    cases = {row["name"]: int(row["case_pieces"] or 0) for row in TABLES["products"]}
    goods: Counter[str] = Counter()
    for line in full:
        goods[line[2]] += line[4]
    told = [re.fullmatch(r"(.*) × (\d+)(?: \((\d+) cases? of (\d+)\))?", each) for each in ticked(page, "Goods")]
    assert [(each[1], int(each[2])) for each in told if each] == list(goods.items())
    for each in told:
        assert each
        size = cases[each[1]]
        assert (each[3], each[4]) == ((str(-(-int(each[2]) // size)), str(size)) if size else (None, None))


def test_the_chart_marks_the_coils_of_the_recomputed_plans_and_no_others(site: Path, plans: dict[str, list[Line]]) -> None:
    """With the sites that take each, by cabinet; one that has no room in the lane on the card is planned into another."""
    page = str(BeautifulSoup((site / "reference" / "coil-chart.html").read_text(encoding="utf-8"), "html.parser"))  # with all quotes
    names = {row["key"]: row["name"] for table in ("products", "coils") for row in TABLES[table]}
    shown: Counter[tuple[str, str, str]] = Counter()
    for machine, table in re.findall(r'<table class="hb-table" data-machine="([^"]*)">(.*?)</table>', page, re.DOTALL):
        for product, row in re.findall(r'<tr data-product="([^"]*)">(.*?)</tr>', table, re.DOTALL):
            for coil, cell in re.findall(r'<td data-coil="([^"]*)"[^>]*>(.*?)</td>', row, re.DOTALL):
                count = re.search(r"in the plan of (\d+) of (\d+) sites?", cell)
                if count:
                    assert int(count[2]) == sum(row["machine"] == machine for row in SITES.values())
                    suits = bool(re.search(r"Best|Usable|Keep", text(cell)))
                    assert suits or "Does not suit" in text(cell), (product, coil)
                    assert suits == ("in another lane" not in text(cell))
                    shown[machine, names[product], names[coil]] = int(count[1])
    wanted: Counter[tuple[str, str, str]] = Counter()
    for key, lines in plans.items():
        wanted.update({(SITES[key]["machine"], line[2], line[3]) for line in lines if line[4]})
    assert shown == wanted


def test_no_sheet_names_a_coil_that_a_test_found_wanting(plans: dict[str, list[Line]]) -> None:
    """And where one was kept, none with something to mind takes its place."""
    names = {row["key"]: row["name"] for table in ("products", "coils") for row in TABLES[table]}
    bad = {(row["machine"], names[row["product"]], names[row["coil"]]) for row in TABLES["fits"] if row["verdict"] != "keep"}
    used = {(SITES[site]["machine"], line[2], line[3]) for site, lines in plans.items() for line in lines}
    assert bad
    assert not bad & used


class Counted(Answers):
    """Remembers what the cabinet plan was asked."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    def ask(self, question: Question) -> Any:
        if question.name == "plan":
            self.asked.append(repr(question))
        return super().ask(question)


def test_sites_that_ask_the_same_are_planned_once() -> None:
    """Twelve sites of three models and four settings: where a site is makes no other question."""
    counted = Counted()
    data = load(DEMO, counted)
    for site in SITES:
        siteplan.make(data, site)
    settings = {(row["machine"], row["days"]) for row in SITES.values()}
    assert len(counted.asked) == len(set(counted.asked)) == len(settings) == 4


def test_names_that_stand_twice_are_told_apart() -> None:
    data = load(DEMO)
    rows = data.sold_in("products", "tall-forty")[:2] * 2
    one, other = (row.typed["name"] for row in rows[:2])
    assert planned.called(rows) == [one, other, f"{one} (3)", f"{other} (4)"]


def test_a_range_beyond_the_form_is_planned_with_its_best_sellers(monkeypatch: pytest.MonkeyPatch) -> None:
    data = load(DEMO)
    planned.products.cache_clear()  # reading the data asks it already, whether its plans contradict themselves
    monkeypatch.setattr(calculators.get("plan").inputs.field("products"), "most", 3)
    sold = data.sold_in("products", "tall-forty")
    best = sorted(row.values["weekly_sales"] for row in sold)[-3:]
    kept = planned.products(data, "tall-forty")
    assert sorted(row.values["weekly_sales"] for row in kept) == best
    assert list(kept) == [row for row in sold if row in kept], "in the order of the table"


def test_the_chart_says_at_how_many_sites() -> None:
    assert [chart.planned(*each) for each in ((0, 5), (1, 1), (2, 5))] == ["", "in the plan of 1 of 1 site", "in the plan of 2 of 5 sites"]


def test_an_empty_lane_is_no_pair_of_product_and_coil() -> None:
    """Nor is a lane of which only one of the two is known."""
    one, coil = load(DEMO).tables["products"][0], load(DEMO).tables["coils"][0]
    lanes = [siteplan.Lane(one, 1), siteplan.Lane(one, 2, product=one), siteplan.Lane(one, 3, coil=coil),
             siteplan.Lane(one, 4, one, coil)]  # fmt: skip
    assert siteplan.pairs(lanes) == {(one.typed["key"], coil.typed["key"])}

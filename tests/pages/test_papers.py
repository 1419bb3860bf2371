"""Papers to fill in: what they take from the data, worked out a second time, and what they leave blank."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup

from tools.book import data as book_data
from tools.book.data import OperatorData
from tools.pages import papers as page
from tools.results import papers, siteplan

DOCS = Path(__file__).parents[2] / "docs"
FACES = {"Nickel": 5, "Dime": 10, "Quarter": 25}  # cents, as everybody in the country knows


@pytest.fixture(scope="module")
def data() -> OperatorData:
    return book_data.load(DOCS / "data")


@pytest.fixture(scope="module")
def told(data: OperatorData) -> dict[str, Any]:
    return papers.of(data)


def test_each_site_s_lanes_are_those_of_its_plan(data: OperatorData, told: dict[str, Any]) -> None:
    """Lane by lane and piece by piece, against the plan's own lanes, not its runs."""
    assert len(told["sites"]) == len(data.tables["sites"]) > 10
    for site in told["sites"]:
        stated = Counter({(tray, lane): (told["products"][product][0] if product >= 0 else "", pieces)
                          for tray, first, count, product, pieces in told["plans"][site[3]] for lane in range(first, first + count)})  # fmt: skip
        lanes = siteplan.make(data, site[0]).lanes
        assert len(lanes) == len(stated)
        for lane in lanes:
            wanted = (lane.product.typed["name"] if lane.product else "", lane.pieces)
            assert stated[lane.tray.typed["name"], lane.number] == wanted


def test_a_float_says_what_its_coins_are_worth(told: dict[str, Any]) -> None:
    for site in told["sites"]:
        start = told["floats"][site[4]]
        assert start["tubes"]
        cents = sum(FACES[coin] * int(count) for coin, count in start["tubes"])
        assert start["worth"] == f"${cents // 100}.{cents % 100:02d}"


def test_what_is_the_same_at_several_sites_stands_once(told: dict[str, Any]) -> None:
    for part in ("plans", "floats"):
        texts = [json.dumps(each) for each in told[part]]
        assert len(set(texts)) == len(texts)
    assert len(told["plans"]) < len(told["sites"])


def test_a_coin_that_the_data_do_not_count_leaves_its_worth_blank(data: OperatorData) -> None:
    assert papers._worth(data, [["Quarter", "4"], ["Dime", "–"]]) == ""
    assert papers._worth(data, [["Groat", "4"]]) == ""
    assert papers._worth(data, []) == ""
    assert papers._worth(data, [["Quarter", "5"], ["Dime", "1"]]) == "$1.35"


@pytest.mark.parametrize("paper", page.PAPERS, ids=lambda each: each.key)
def test_without_a_script_each_is_a_form_with_lines(paper: page.Paper) -> None:
    """As many cells as heads in each line; nothing of any site."""
    found = BeautifulSoup(paper.html(), "html.parser")
    tables = found.select("table")
    assert len(tables) == len(paper.tables) * paper.times + bool(paper.signed)
    for table in tables:
        heads = table.select("thead th")
        assert all(head.get_text() for head in heads)
        for row in table.select("tbody tr"):
            assert len(row.find_all(["th", "td"])) == len(heads)
    assert all(not cell.get_text() for cell in found.select("td, dd"))


def test_the_sum_of_a_bag_is_that_of_the_procedure() -> None:
    """One formula in both: whoever changes one must change the other."""
    procedure = (DOCS / "procedures" / "collect-and-count.md").read_text(encoding="utf-8")
    sheet = next(paper for paper in page.PAPERS if paper.key == "collection-sheet").html()
    assert "A − B − C + D − E" in procedure
    assert "A − B − C + D − E" in sheet


def test_the_script_ends_nothing_early(data: OperatorData) -> None:
    """A name that looks like the end of a script."""
    told = page.script(data)
    assert told.startswith("(self.HandbookAssets ??= {}).papers = {")
    assert "</" not in told


def test_each_paper_is_found_by_another_name_too() -> None:
    """Who knows it by the word of another trade finds it, and no paper is found by the name of a second one."""
    assert all(paper.said for paper in page.PAPERS), [paper.key for paper in page.PAPERS if not paper.said]
    names = Counter(name for paper in page.PAPERS for name in (paper.title, *paper.said))
    assert max(names.values()) == 1

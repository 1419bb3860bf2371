"""A site's sheet, from reports made by hand, so that each line of it can be told from all others."""

from __future__ import annotations

import re
from typing import Any

import pytest

from calculators.core import rules
from tools.book.data import OperatorData
from tools.book.tables import Row
from tools.pages import sheet
from tools.results import sites
from tools.results.coilplan import Lane, Plan

ROLLS = {"key": "rolls", "title": "Rolls", "columns": ("Coin", "Rolls to bring", "Coins"), "rows": [("Dime", "2 Rolls", "100"), ("Nickel", "1 roll", "40")]}


def report(outcome: str, text: str, actions: tuple[str, ...] = (), **more: Any) -> dict[str, Any]:
    empty: dict[str, Any] = {"values": [], "tables": [], "figures": [], "actions": list(actions)}
    return {**empty, "outcome": outcome, "decides": f"{text}. Second half", **more}


def value(key: str, text: str, known: float | None = 1.0) -> dict[str, Any]:
    return {"key": key, "label": key.capitalize(), "text": text, "value": known}


FLOAT = report("pass", "enough", ("nothing to do for what passes",), tables=[
    {"key": "other", "title": "Other", "columns": ("Coin", "Count"), "rows": [("Penny", "7")]}, ROLLS,
    {"key": "later", "title": "Later", "columns": ("A roll",), "rows": [("never",)]},
], values=[value("money", "$20.00"), value("mass", "2 lb"), value("served", "99 %")])  # fmt: skip
REPORTS = {"clearance": report("caution", "narrow", ("measure twice",), figures=["<svg>c1</svg>", "<svg>c2</svg>"]),
           "circuit": report("stop", "too small", tuple(f"order {number}" for number in range(9))),
           "float": FLOAT}  # fmt: skip


def lane(name: str, outcome: str, coil: str = "Six", action: str = "") -> Lane:
    return Lane(name, "1.00", coil, outcome, f"{name} spare", action)


PLAN = Plan((lane("Soap", "pass"), lane("Nuts", "stop", action="buy for nuts"), lane("Gum", "pass", "Ten"),
             lane("Tea", "stop", "–", "buy for tea"), lane("Rye", "pass")))  # fmt: skip
SITES = [{"key": "here", "name": "Here", "machine": "tall", "date": "2026-05-04", "address": "North door", "contact": "Office",
          "note": "Dog"}, {"key": "bare", "name": "Bare", "machine": "tall"}]  # fmt: skip


def data() -> OperatorData:
    tables = {"sites": SITES, "machines": [{"key": "tall", "name": "Tall forty"}],
              "gear": [{"key": "dolly", "name": "Dolly", "amount": "2"}, {"key": "rope", "name": "Rope"}],
              "crew": [{"key": "lead", "name": "Lead", "role": "signs"}]}  # fmt: skip
    rows = {name: [Row("f", number, dict(row), {}) for number, row in enumerate(each, 2)] for name, each in tables.items()}
    return OperatorData({"units": "us"}, rows, rules.load("us"))


@pytest.fixture
def page(monkeypatch: pytest.MonkeyPatch) -> Any:
    """The page of a site whose reports and coils are these."""

    def drawn(reports: dict[str, Any] = REPORTS, plan: Plan = PLAN, key: str = "here") -> str:
        monkeypatch.setattr(sites, "_worked", lambda *_: sites.Sheet(reports, plan))
        return sheet.page(data(), key).source

    return drawn


def listed(page: str, head: str) -> list[str]:
    """The lines of the list under a heading."""
    found = re.search(rf"<h[23]>{head}</h[23]><ul.*?</ul>", page, re.DOTALL)
    return re.findall(r"<(?:li|span)>([^<]+)<", found[0]) if found else []


def test_a_sheet_is_as_good_as_its_worst_part() -> None:
    made = sites.Sheet(REPORTS, PLAN)
    assert made.outcomes == {"clearance": "caution", "circuit": "stop", "float": "pass", "spiral": "stop"}
    assert made.outcome == "stop"
    good = sites.Sheet({"float": FLOAT}, Plan((lane("Soap", "unknown"),)))
    assert good.outcome == "unknown"


def test_the_summary_says_each_part_once_the_coils_after_the_circuit(page: Any) -> None:
    rows = re.findall(r'<a href="\.\./calculators/(\w+)\.html">.*?data-outcome="(\w+)">.*?<td>([^<]*)</td>', page())
    assert rows == [
        ("clearance", "caution", "narrow. Second half"), ("circuit", "stop", "too small. Second half"),
        ("spiral", "stop", "3 of 5 products have a coil that passes. Nuts – Nuts spare"),
        ("float", "pass", "enough. Second half"),
    ]  # fmt: skip
    assert '<div class="hb-outcome hb-outcome--stop">' in page()


def test_what_to_do_before_the_day_is_not_endless(page: Any) -> None:
    """Eight of the calculators that do not pass, three of the coils, and how many more there are."""
    assert listed(page(), "Before the day") == ["measure twice", *(f"order {number}" for number in range(7)),
                                                "buy for nuts", "buy for tea"]  # fmt: skip
    many = Plan(tuple(lane(f"P{number}", "stop", action=f"buy {number}") for number in range(5)))
    few = {"float": FLOAT}
    assert listed(page(few, many), "Before the day") == ["buy 0", "buy 1", "buy 2", "2 more products: see the coil plan."]
    three = Plan(many.lanes[:3])
    assert listed(page(few, three), "Before the day") == ["buy 0", "buy 1", "buy 2"]
    assert "Before the day" not in page(few, Plan(()))


def test_the_van_list_holds_coins_rolls_coils_gear_and_people(page: Any) -> None:
    assert listed(page(), "Coins") == ["Money: $20.00", "Mass: 2 lb", "dime, 2 rolls", "nickel, 1 roll"]
    assert listed(page(), "Coils") == ["Six × 3", "Ten × 1"]
    assert listed(page(), "Gear") == ["Dolly × 2", "Rope × 1"]
    assert listed(page(), "People") == ["Lead (signs)"]


def test_a_headline_of_one_sentence_is_said_whole(page: Any) -> None:
    """There is nothing to take off where it does not begin with the outcome's word."""
    bare = {**FLOAT, "decides": "Nothing could be checked yet."}
    assert "<td>Nothing could be checked yet.</td>" in page({"float": bare})


def test_coins_that_are_not_known_are_left_out_and_so_are_rolls_that_nobody_bears(page: Any) -> None:
    unknown = report("unknown", "unknown", values=[value("money", "–", None), value("mass", "0 lb", 0.0)])
    assert listed(page({"float": unknown}), "Coins") == ["Mass: 0 lb"]
    assert sheet.sheet_rolls(sites.Sheet({"float": unknown}, PLAN)) == []


def test_the_head_says_what_is_known_of_the_site(page: Any) -> None:
    facts = re.findall(r"<dt>([^<]*)</dt><dd>([^<]*)</dd>", page())
    assert facts == [("Cabinet", "Tall forty"), ("Install day", "2026-05-04"), ("Where", "North door"),
                     ("Contact", "Office"), ("Mind", "Dog")]  # fmt: skip
    assert re.findall(r"<dt>([^<]*)</dt>", page(key="bare")) == ["Cabinet"]


def test_one_figure_of_each_calculator_that_draws(page: Any) -> None:
    assert re.findall(r'<figure class="hb-plan">(.*?)</figure>', page()) == ["<svg>c1</svg>"]


def test_lists_for_paper_are_whole(page: Any) -> None:
    text = page()
    for line in sheet.CHECKLIST:
        assert text.count(f"<span>{line}</span>") == 1
    for what, how in sheet.RECORD:
        assert f"\n{what} | {how}\n" in text
    assert f"::: signoff\n{chr(10).join(sheet.SIGNATURES)}\n:::" in text
    assert text.count("<td>Six</td>") == 3


def test_every_site_is_listed_with_its_day_and_outcome(monkeypatch: pytest.MonkeyPatch) -> None:
    outcomes = {"here": "stop", "bare": "pass"}
    monkeypatch.setattr(sites, "_worked", lambda _, key: sites.Sheet(
        {"float": report(outcomes[key], "")}, Plan((lane("Soap", "pass"),))))  # fmt: skip
    assert sites.site_rows(data()) == [("here", "Here", "2026-05-04", "stop"), ("bare", "Bare", "", "pass")]


def test_a_plan_tells_what_passes_and_what_decides() -> None:
    passing = Plan((lane("Soap", "pass"), lane("Gum", "pass")))
    assert passing.headline == "2 of 2 products have a coil that passes."
    assert (passing.outcome, passing.actions, passing.count) == ("pass", [], {"Six": 2})
    assert PLAN.actions == ["buy for nuts", "buy for tea"]
    assert PLAN.count == {"Six": 3, "Ten": 1}
    assert PLAN.rows()[0] == ("Soap", "1.00", "Six", "Soap spare", "Go")
    unknown = Plan((lane("A", "caution"), lane("B", "unknown")))
    assert unknown.headline == "0 of 2 products have a coil that passes. B – B spare"
    assert Plan(()).headline == "0 of 0 products have a coil that passes."

"""A site's sheet, from reports made by hand, so that each line of it can be told from all others."""

from __future__ import annotations

import re
from typing import Any

import pytest

from calculators.core import rules
from tools.book.data import OperatorData
from tools.book.tables import SITE_FACTS, Row
from tools.pages import sheet
from tools.results import sites
from tools.results.siteplan import Lane, Plan

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


TRAY, OTHER = (Row("trays.csv", number, {"machine": "tall", "name": f"Tray {number}"}, {}) for number in (1, 2))
COILS = {key: Row("coils.csv", 2, {"key": key, "name": key.capitalize()}, {"stock": stock}) for key, stock in (("six", 4), ("ten", 1))}


def product(name: str, case: int | None = None) -> Row:
    return Row("products.csv", 2, {"key": name.lower(), "name": name}, {"price": 100, **({"case_pieces": case} if case else {})})


GOODS = {each.typed["key"]: each for each in (product("Soap", 4), product("Nuts"), product("Gum", 10))}


def lane(number: int, key: str = "", coil: str = "six", mind: str = "", tray: Row = TRAY) -> Lane:
    return Lane(tray, number, GOODS[key], COILS[coil], 6, mind) if key else Lane(tray, number, mind=mind)


def answer(outcome: str, *checks: tuple[str, str, str, str]) -> dict[str, Any]:
    return {"outcome": outcome, "checks": [dict(zip(("key", "outcome", "text", "note"), each, strict=True)) for each in checks]}


PLAN = Plan((lane(1, "soap"), lane(2, "soap"), lane(3, "nuts", mind="leans"), lane(1, "gum", "ten", tray=OTHER), lane(2, mind="no coil", tray=OTHER),
             lane(3, mind="no coil", tray=OTHER)), answer("caution", ("care", "caution", "Nuts lean.", "Try them."), ("proven", "caution", "Within 2.", "x"),
                                                         ("placed", "pass", "All.", "")))  # fmt: skip
GOOD = Plan((lane(1, "soap"),), answer("pass", ("proven", "pass", "Proven.", "")))
SITES = [{"key": "here", "name": "Here", "machine": "tall", "date": "2026-05-04", "address": "North door", "contact": "Office",
          "note": "Dog"}, {"key": "bare", "name": "Bare", "machine": "tall"}]  # fmt: skip


def data() -> OperatorData:
    tables = {"sites": SITES, "machines": [{"key": "tall", "name": "Tall forty"}],
              "gear": [{"key": "dolly", "name": "Dolly", "amount": "2"}, {"key": "rope", "name": "Rope"}],
              "crew": [{"key": "lead", "name": "Lead", "role": "signs"}], "fits": []}  # fmt: skip
    made = {name: [Row("f", number, dict(row), {}) for number, row in enumerate(each, 2)] for name, each in tables.items()}
    rows = {**made, "products": list(GOODS.values()), "coils": list(COILS.values())}
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
    assert made.outcomes == {"clearance": "caution", "circuit": "stop", "float": "pass", "plan": "caution"}
    assert made.outcome == "stop"
    assert sites.Sheet({"float": FLOAT}, Plan((), answer("unknown"))).outcome == "unknown"
    assert sites.Sheet({"float": FLOAT}, GOOD).outcome == "pass"
    assert Plan(PLAN.lanes[:3], answer("pass")).outcome == "caution"


def test_the_summary_says_each_part_once_the_lanes_after_the_circuit(page: Any) -> None:
    rows = re.findall(r'<a href="\.\./calculators/(\w+)\.html">.*?data-outcome="(\w+)">.*?<td>([^<]*)</td>', page())
    assert rows == [
        ("clearance", "caution", "narrow. Second half"), ("circuit", "stop", "too small. Second half"),
        ("plan", "caution", "4 of 6 lanes are filled. 2 are empty: no coil. 1 of them needs care."),
        ("float", "pass", "enough. Second half"),
    ]  # fmt: skip
    assert '<div class="hb-outcome hb-outcome--stop">' in page()


def test_what_to_do_before_the_day_is_not_endless(page: Any) -> None:
    """Eight of the calculators that do not pass, three of the coils, and how many more there are."""
    assert listed(page(), "Before the day") == ["measure twice", *(f"order {number}" for number in range(7)),
                                                "Nuts lean. Try them."]  # fmt: skip
    many = Plan(GOOD.lanes, answer("stop", *(("fits", "stop", f"Bad {number}.", "") for number in range(5))))
    few = {"float": FLOAT}
    assert listed(page(few, many), "Before the day") == ["Bad 0.", "Bad 1.", "Bad 2.", "2 more of the lanes: see the cabinet plan."]
    three = Plan(GOOD.lanes, answer("stop", *(("fits", "stop", f"Bad {number}.", "") for number in range(3))))
    assert listed(page(few, three), "Before the day") == ["Bad 0.", "Bad 1.", "Bad 2."]
    assert "Before the day" not in page(few, GOOD)


def test_the_van_list_holds_what_the_lanes_take(page: Any) -> None:
    """Coils with their stock, goods in pieces and whole cases, and a spare of what the stock has left."""
    assert listed(page(), "Coins") == ["Money: $20.00", "Mass: 2 lb", "dime, 2 rolls", "nickel, 1 roll"]
    assert listed(page(), "Coils") == ["Six × 3, of 4 in stock", "Ten × 1, of 1 in stock"]
    assert listed(page(), "Goods") == ["Soap × 12 (3 cases of 4)", "Nuts × 6", "Gum × 6 (1 case of 10)"]
    assert listed(page(), "Spare") == ["Six × 1"]
    assert listed(page(), "Gear") == ["Dolly × 2", "Rope × 1"]
    assert listed(page(), "People") == ["Lead (signs)"]
    assert "not shared out among our sites" in page()


def test_lanes_that_are_alike_share_a_line(page: Any) -> None:
    rows = re.findall(r"<tr data-tray[^>]*>(.*?)</tr>", page())
    cells = [re.findall(r'<td data-label="[^"]*">(?:<span>)?([^<]*)', row) for row in rows]
    assert [row[:4] for row in cells] == [["Tray 1: 1–2", "Soap, $1.00", "Six", "6"], ["Tray 1: 3", "Nuts, $1.00", "Six", "6"],
                                          ["Tray 2: 1", "Gum, $1.00", "Ten", "6"], ["Tray 2: 2–3", "empty", "–", "0"]]  # fmt: skip
    assert ["hb-badge--pass" in row for row in rows] == [True, False, True, False]
    assert "Leave it empty" in rows[3]
    assert '<span class="hb-hint">no coil</span>' in rows[3]
    assert '<span class="hb-hint">Check: leans</span>' in rows[1]
    assert "<strong>4 of 6 lanes are filled. 2 are empty: no coil.</strong>" in page()
    assert "Within 2." in page()


def test_a_cabinet_without_trays_says_so_and_brings_no_coils(page: Any) -> None:
    text = page({"float": FLOAT}, Plan((), answer("unknown")))
    assert text.count("The trays of this cabinet are not in our data") == 4
    assert "<h3>Coils</h3>" not in text
    assert "<h3>Goods</h3>" not in text
    assert "<h3>Gear</h3>" in text


def test_a_headline_of_one_sentence_is_said_whole(page: Any) -> None:
    """There is nothing to take off where it does not begin with the outcome's word."""
    bare = {**FLOAT, "decides": "Nothing could be checked yet."}
    assert "<td>Nothing could be checked yet.</td>" in page({"float": bare})


def test_coins_that_are_not_known_are_left_out_and_so_are_rolls_that_nobody_bears(page: Any) -> None:
    unknown = report("unknown", "unknown", values=[value("money", "–", None), value("mass", "0 lb", 0.0)])
    assert listed(page({"float": unknown}), "Coins") == ["Mass: 0 lb"]
    assert sheet.sheet_rolls(sites.Sheet({"float": unknown}, PLAN)) == []


def test_the_head_says_what_is_known_of_the_site(page: Any) -> None:
    facts = re.findall(r"<dt>([^<]*)</dt><dd>([^<]*)</dd>", page().partition("<h2>")[0])
    assert facts == [("Cabinet", "Tall forty"), ("Install day", "2026-05-04"), ("Where", "North door"),
                     ("Contact", "Office"), ("Mind", "Dog")]  # fmt: skip
    assert re.findall(r"<dt>([^<]*)</dt>", page(key="bare").partition("<h2>")[0]) == ["Cabinet"]


def test_what_pages_ask_of_the_site_is_said_or_a_line_to_write_on(page: Any) -> None:
    text = page().partition("What to know of the site")[2].partition("</dl>")[0]
    assert re.findall(r"<dt>([^<]*)</dt>", text) == [each.label for each in SITE_FACTS.values()]
    assert text.count("hb-write") == len(SITE_FACTS)


def test_one_figure_of_each_calculator_that_draws(page: Any) -> None:
    assert re.findall(r'<figure class="hb-plan">(.*?)</figure>', page()) == ["<svg>c1</svg>"]


def test_lists_for_paper_are_whole(page: Any) -> None:
    text = page()
    for line, _ in sheet.CHECKLIST:
        assert text.count(f"<span>{line}</span>") == 1
    for what, how, _ in sheet.RECORD:
        assert f"\n{what} | {how}\n" in text
    assert f"::: signoff\n{chr(10).join(sheet.SIGNATURES)}\n:::" in text


def test_a_cabinet_without_cooling_is_not_asked_to_be_cold(page: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only where the table says so: a cell left open keeps the lines."""
    monkeypatch.setattr(sheet.card, "may_have", lambda _, feature: feature != "cold")
    text = page()
    assert [line for line, feature in sheet.CHECKLIST if feature == "cold" and line in text] == []
    assert [what for what, _, feature in sheet.RECORD if feature == "cold" and f"{what} |" in text] == []


def test_every_site_is_listed_with_its_day_and_outcome(monkeypatch: pytest.MonkeyPatch) -> None:
    outcomes = {"here": "stop", "bare": "pass"}
    monkeypatch.setattr(sites, "_worked", lambda _, key: sites.Sheet(
        {"float": report(outcomes[key], "")}, GOOD))  # fmt: skip
    assert sites.site_rows(data()) == [("here", "Here", "2026-05-04", "stop"), ("bare", "Bare", "", "pass")]


def test_a_plan_tells_what_is_filled_and_what_needs_care() -> None:
    assert GOOD.headline == "1 of 1 lanes are filled."
    assert (GOOD.outcome, GOOD.actions, GOOD.coils, GOOD.goods) == ("pass", [], {"six": 1}, {"soap": 6})
    two = Plan((lane(1, "nuts", mind="a"), lane(2, "nuts", mind="b"), lane(3, mind="c"), lane(4, mind="d")), answer("caution"))
    assert two.headline == "2 of 4 lanes are filled. 1 is empty: c. 1 is empty: d. 2 of them need care."
    assert [count for _, count in two.runs()] == [1, 1, 1, 1]
    assert PLAN.actions == ["Nuts lean. Try them."]
    assert (PLAN.coils, PLAN.goods) == ({"six": 3, "ten": 1}, {"soap": 12, "nuts": 6, "gum": 6})

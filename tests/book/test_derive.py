"""What follows from the data, on data small enough to work out by hand."""

from __future__ import annotations

from typing import Any

import pytest

from calculators.core import rules
from tools.book import derive
from tools.book.data import OperatorData
from tools.book.tables import TABLES, Row


def data(**tables: list[dict[str, Any]]) -> OperatorData:
    """Rows as typed; a number in a row is its value too."""
    made = {
        name: [Row(f"{name}.csv", number, {key: str(cell) for key, cell in row.items()},
                   {key: cell for key, cell in row.items() if not isinstance(cell, str)})
               for number, row in enumerate(rows, 2)]
        for name, rows in tables.items()
    }  # fmt: skip
    empty: dict[str, list[Row]] = {table.name: [] for table in TABLES}
    return OperatorData({"units": "si"}, {**empty, **made}, rules.load("us"))


def product(key: str, price: int | None, sales: float | None, **more: Any) -> dict[str, Any]:
    told = {"price": price, "weekly_sales": sales}
    return {"key": key, "name": key.upper(), **{name: cell for name, cell in told.items() if cell is not None}, **more}


def test_sales_at_one_price_add_up() -> None:
    """Three at 1.50 and one at 0.75, of 24 sales: 18 and 6. What has no price or no sales is left out."""
    sold = data(products=[product("a", 150, 10.0), product("b", 75, 6.0), product("c", 150, 5.0), product("d", 150, 3.0),
                          product("e", None, 9.0), product("f", 200, None), product("g", 300, 0.0)])  # fmt: skip
    assert derive.prices(sold) == [{"price": "0.75", "share": "25.0000"}, {"price": "1.50", "share": "75.0000"}]


def test_only_what_a_cabinet_sells_counts_for_it() -> None:
    sold = data(products=[product("a", 150, 10.0, cabinets="tall"), product("b", 75, 30.0, cabinets="low"),
                          product("c", 100, 10.0), product("d", 125, 20.0, cabinets="low tall")])  # fmt: skip
    assert [(row["price"], row["share"]) for row in derive.prices(sold, "tall")] == [
        ("1.00", "25.0000"), ("1.25", "50.0000"), ("1.50", "25.0000")]  # fmt: skip
    assert len(derive.prices(sold)) == 4


def test_nothing_sold_has_no_prices() -> None:
    assert derive.prices(data()) == []


WORLD = data(
    machines=[{"key": "tall", "name": "Tall"}, {"key": "low", "name": "Low"}],
    sites=[{"key": "here", "name": "Here", "machine": "tall"}, {"key": "there", "name": "There", "machine": "low"}],
    routes=[{"site": "here", "kind": "door", "width": "900"}, {"site": "there", "kind": "lift"}],
    loads=[{"site": "here", "name": "kettle"}, {"site": "there", "name": "lamp"}],
    tubes=[{"machine": "tall", "coin": "dime", "note": "left"}, {"machine": "low", "coin": "nickel"}],
    trays=[{"machine": "tall", "name": "top"}, {"machine": "low", "name": "bottom"}],
    apart=[{"first": "soap", "second": "nuts"}],
    products=[product("a", 150, 10.0, cabinets="tall"), product("b", 75, 30.0)],
    coils=[{"key": "six", "name": "Six", "cabinets": "low"}, {"key": "ten", "name": "Ten"}],
)


def named(**keys: str) -> dict[str, Row]:
    return {name: WORLD.row(f"{name}s", key) for name, key in keys.items()}


def test_a_site_brings_its_own_route_and_loads() -> None:
    """Only the columns that the row-input knows: the site's own key is none of them."""
    assert derive.rows(WORLD, "clearance", named(site="here")) == {"route": [{"kind": "door", "width": "900"}]}
    assert derive.rows(WORLD, "circuit", named(site="there")) == {"loads": [{"name": "lamp"}]}
    assert derive.rows(WORLD, "clearance", named(machine="tall")) == {}
    assert derive.rows(WORLD, "circuit", named(machine="tall")) == {}


def test_a_cabinet_brings_its_tubes_trays_and_what_goes_into_it() -> None:
    tubes = derive.rows(WORLD, "float", named(machine="tall"))
    assert tubes["tubes"] == [{"coin": "dime"}]
    assert [row["price"] for row in tubes["prices"]] == ["0.75", "1.50"]
    assert [row["price"] for row in derive.rows(WORLD, "float", named(machine="low"))["prices"]] == ["0.75"]
    assert "tubes" not in derive.rows(WORLD, "float", {})
    plan = derive.rows(WORLD, "plan", named(machine="low"))
    assert [row["name"] for row in plan["products"]] == ["B"]
    assert [row["name"] for row in plan["coils"]] == ["Six", "Ten"]
    assert ([row["name"] for row in plan["trays"]], len(plan["apart"])) == (["bottom"], 1)
    assert "trays" not in derive.rows(WORLD, "plan", {})
    coils = derive.rows(WORLD, "spiral", named(machine="tall"))
    assert [row["name"] for row in coils["coils"]] == ["Ten"]
    assert [row["name"] for row in derive.rows(WORLD, "spiral", {})["coils"]] == ["Six", "Ten"]
    assert derive.rows(WORLD, "level", named(machine="tall")) == {}


def test_a_plate_s_energy_is_counted_where_the_table_has_it() -> None:
    """Until a reader says that a meter counted; of a cabinet without it, nothing is said for the reader."""
    plate = data(machines=[{"key": "tall", "name": "Tall", "plate_daily": "3.9"}, {"key": "low", "name": "Low"}],
                 sites=[{"key": "here", "name": "Here", "machine": "tall"}])  # fmt: skip
    found = {key: derive.rows(plate, "energy", {"machine": plate.row("machines", key)}) for key in ("tall", "low")}
    assert found == {"tall": {"source": "plate"}, "low": {}}
    assert plate.prefill("energy", {"site": "here"}) == {"plate_daily": "3.9", "source": "plate"}
    assert derive.rows(plate, "energy", {}) == {}


def test_a_site_has_its_cabinet_unless_another_one_is_asked_about() -> None:
    """And a product by itself has none."""
    told = data(machines=[{"key": "tall", "name": "Tall", "plate_daily": "3.9"}, {"key": "low", "name": "Low", "plate_daily": "2.5"}],
                sites=[{"key": "here", "name": "Here", "machine": "tall"}], products=[product("a", 150, 10.0)])  # fmt: skip
    assert told.prefill("energy", {"site": "here"})["plate_daily"] == "3.9"
    assert told.prefill("energy", {"site": "here", "machine": "low"})["plate_daily"] == "2.5"
    assert told.prefill("energy", {"product": "a"}) == {}


@pytest.mark.parametrize(
    ("calculator", "keys"),
    [("clearance", ["here", "there", "tall", "low"]), ("plan", ["here", "there", "tall", "low"]),
     ("circuit", ["here", "there", "tall", "low"]), ("float", ["here", "there", "tall", "low"]),
     ("level", ["tall", "low"]), ("outlet", ["tall", "low"]), ("cold", ["tall", "low"]),
     ("handling", ["here", "there", "tall", "low"]), ("standing", ["here", "there", "tall", "low"]),
     ("energy", ["here", "there", "tall", "low"]), ("spiral", ["a tall", "b tall", "b low"]), ("none", [])],
)  # fmt: skip
def test_a_form_is_filled_from_these(calculator: str, keys: list[str]) -> None:
    """Sites first; a product once in each cabinet that sells it."""
    found = derive.presets(WORLD, calculator)
    assert [key for key, _, _ in found] == keys
    if calculator == "spiral":
        assert found[0] == ("a tall", "A, Tall", {"product": "a", "machine": "tall"})
    elif keys:
        kind = "site" if keys[0] == "here" else "machine"
        assert found[0] == (keys[0], keys[0].capitalize(), {kind: keys[0]})


def test_a_plan_is_told_of_the_pairs_that_its_cabinet_can_hold() -> None:
    """A pair with a product of other cabinets alone is left out; one with a word that nothing bears is kept, to be told."""
    pairs = [("soap", "nuts"), ("soap", "milk"), ("soap", "sope"), ("A", "B")]
    sold = data(machines=[{"key": "tall"}, {"key": "low"}], apart=[{"first": one, "second": two} for one, two in pairs],
                products=[product("a", 1, 1.0, allergens="soap, nuts"), product("b", 1, 1.0, allergens="milk", cabinets="low")])  # fmt: skip
    told = {key: [(row["first"], row["second"]) for row in derive.rows(sold, "plan", named_in(sold, key))["apart"]] for key in ("tall", "low")}
    assert told == {"tall": [pairs[0], pairs[2]], "low": pairs}


def named_in(sold: OperatorData, machine: str) -> dict[str, Row]:
    return {"machine": sold.row("machines", machine)}


def test_a_plan_is_told_the_latest_test_of_each_pair_in_its_cabinet() -> None:
    """By the names of the plan, with the size that a test measured in place of the product's own."""
    tests = [{"product": "a", "coil": "six", "machine": "tall", "date": day, "verdict": verdict, **more} for day, verdict, more in (
        ("2026-03-01", "tight", {}), ("2026-05-01", "keep", {"diameter": "64 mm"}), ("2026-04-01", "loose", {"diameter": "63 mm"}))]  # fmt: skip
    sold = data(machines=[{"key": "tall"}, {"key": "low"}], products=[product("a", 1, 1.0, diameter="60 mm")],
                coils=[{"key": "six", "name": "Six"}, {"key": "ten", "name": "Six"}], fits=tests)  # fmt: skip
    made = derive.rows(sold, "plan", named_in(sold, "tall"))
    assert made["tried"] == [{"product": "A", "coil": "Six", "verdict": "keep"}]
    assert [row["name"] for row in made["coils"]] == ["Six", "Six (2)"]
    assert made["products"][0]["diameter"] == "64 mm"
    assert derive.rows(sold, "plan", named_in(sold, "low"))["tried"] == []


def test_handling_takes_the_heaviest_cases_of_a_cabinet() -> None:
    """Pieces times the mass of one in grams, three at most; what has no case or no mass is none. Rounded up."""
    goods = [("a", 24, 520.0), ("b", 12, 640.0), ("c", 24, 530.0), ("d", 6, 100.04), ("e", None, 900.0)]
    sold = data(products=[{"key": key, "name": key.upper(), **({"case_pieces": pieces} if pieces else {}), "mass": mass} for key, pieces, mass in goods],
                machines=[{"key": "tall"}])  # fmt: skip
    assert derive.cases(sold, "tall") == [{"name": "Case of C", "mass": "12.8 kg"}, {"name": "Case of A", "mass": "12.5 kg"},
                                          {"name": "Case of B", "mass": "7.7 kg"}]  # fmt: skip


def test_handling_takes_what_is_not_level_of_a_way_in() -> None:
    """Ramps and steps with their own columns, sills above nothing, and one that nobody measured; the rest is level."""
    legs: list[dict[str, Any]] = [
        {"kind": "doorway", "place": "gate", "sill": 6.0, "width": 900.0}, {"kind": "doorway", "place": "flat", "sill": 0.0},
        {"kind": "lift", "place": "car"}, {"kind": "ramp", "place": "dock", "rise": 75.0, "run": 6000.0, "ramp_width": 1500.0},
        {"kind": "corridor", "place": "hall"},
    ]  # fmt: skip
    told = derive.rows(data(machines=[{"key": "tall"}], sites=[{"key": "here", "machine": "tall"}],
                            routes=[{"site": "here", **leg} for leg in legs]), "handling", _of("here"))  # fmt: skip
    assert told["way"] == "some"
    assert told["route"] == [{"kind": "sill", "place": "gate", "sill": "6.0"}, {"kind": "sill", "place": "car"},
                             {"kind": "ramp", "place": "dock", "rise": "75.0", "run": "6000.0"}]  # fmt: skip
    level = data(routes=[{"site": "here", "kind": "corridor"}])
    assert derive.rows(level, "handling", _of("here"))["way"] == "flat"
    assert "way" not in derive.rows(data(), "handling", _of("here"))


def _of(site: str) -> dict[str, Row]:
    return {"site": Row("sites.csv", 2, {"key": site}, {})}


def test_rows_of_a_plan_are_fresh_for_whoever_asks() -> None:
    """They are gathered once for a cabinet; who changes them changes nobody else's."""
    sold = data(machines=[{"key": "tall"}], products=[product("a", 150, 10.0)])
    first = sold.prefill("plan", {"machine": "tall"})
    first["products"][0]["name"] = "other"
    first["products"].clear()
    assert [row["name"] for row in sold.prefill("plan", {"machine": "tall"})["products"]] == ["A"]


def test_the_cells_are_the_inputs_that_are_no_rows() -> None:
    """Of a site with its cabinet and its gear, for each calculator that a site fills."""
    told = data(
        machines=[{"key": "tall", "width": "900 mm", "height": "1800 mm"}], gear=[{"key": "jack", "gear_mass": "60 kg"}],
        sites=[{"key": "hall", "machine": "tall", "gear": "jack", "days": "3", "width": "910 mm"}, {"key": "yard", "machine": "tall"}],
        routes=[{"site": "hall", "kind": "doorway"}],
    )  # fmt: skip
    for site in ("hall", "yard"):
        for name in ("clearance", "plan", "handling"):
            whole = told.prefill(name, {"site": site})
            cells = told.cells(name, {"site": site})
            assert cells.items() <= whole.items()
            assert all(isinstance(whole[key], list) or key == "way" for key in whole.keys() - cells.keys())
    assert told.cells("plan", {"site": "hall"})["days"] == "3"


def test_a_row_is_the_first_of_its_key_and_rows_keep_their_order() -> None:
    """Also of a column that some rows leave blank."""
    told = data(sites=[{"key": "a", "name": "one"}, {"key": "b"}, {"key": "a", "name": "two"}],
                loads=[{"site": "b", "n": "1"}, {"n": "2"}, {"site": "b", "n": "3"}])  # fmt: skip
    assert told.row("sites", "a").typed["name"] == "one"
    assert told.row("sites", "first").typed["name"] == "one"
    assert [row.typed["n"] for row in told.of("loads", "site", "b")] == ["1", "3"]
    assert told.of("loads", "site", "c") == []
    told.of("loads", "site", "b").clear()
    assert len(told.of("loads", "site", "b")) == 2
    with pytest.raises(KeyError, match="no “c” in sites"):
        told.row("sites", "c")

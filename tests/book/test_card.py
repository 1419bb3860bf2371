"""The cards of the cabinets: whole in the demonstration, each gap told by its item, and what is no row of theirs refused."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from tools.book import card
from tools.book.data import load
from tools.book.tables import Row, columns_of
from tools.problems import Problem

ROOT = Path(__file__).parents[2]
DEMO = load(ROOT / "docs" / "data")
MODELS = [row.typed["key"] for row in DEMO.tables["machines"]]
ROWS = DEMO.tables["cards"]


@dataclass(eq=False)
class Given:
    """The demonstration's tables, some of them changed."""

    tables: dict[str, list[Row]]
    units: str = DEMO.units


def given(**changed: list[Row]) -> Given:
    return Given({**DEMO.tables, **changed})


def machine(key: str, **cells: str) -> Row:
    """A model's row with other cells; an empty one leaves it open."""
    row = DEMO.row("machines", key)
    typed = {**row.typed, **cells}
    return replace(row, typed={name: cell for name, cell in typed.items() if cell})


def with_machine(changed: Row) -> list[Row]:
    return [changed if row.typed["key"] == changed.typed["key"] else row for row in DEMO.tables["machines"]]


def lacking(tables: Given) -> list[tuple[str, str]]:
    return [(key, gap.item.key) for key, found in card.gaps(tables).items() for gap in found]


def said(model: str, item: str) -> str:
    return card.words(DEMO, DEMO.row("machines", model), item)


# -- what is lacking -----------------------------------------------------------------------


def test_the_demonstration_s_cards_lack_nothing() -> None:
    """Three models, every item that each of them has."""
    assert len(MODELS) == 3
    assert lacking(given()) == []
    assert card.notes(DEMO) == []


@pytest.mark.parametrize("row", ROWS, ids=[f"{row.typed['machine']}-{row.typed['item']}" for row in ROWS])
def test_a_row_taken_out_is_told_by_its_item(row: Row) -> None:
    """That item of that model, and no other; the note names it where work stops without it."""
    tables = given(cards=[each for each in ROWS if each is not row])
    key, item = row.typed["machine"], card.items()[row.typed["item"]]
    assert lacking(tables) == [(key, item.key)]
    (note,) = card.notes(tables)
    assert DEMO.row("machines", key).typed["name"] in note
    assert (item.label in note) is item.stop


@pytest.mark.parametrize("item", [item.key for item in card.items().values() if item.column])
def test_a_cell_of_the_models_left_empty_is_told_as_well(item: str) -> None:
    """What stands in machines.csv is an item like any other."""
    column = card.items()[item].column
    changed = machine("tall-forty", **{column: ""})
    assert lacking(given(machines=with_machine(changed))) == [("tall-forty", item)]


def test_a_row_without_words_is_a_gap() -> None:
    """Somebody wrote the item down, to be filled in later."""
    blank = [replace(row, typed={"machine": row.typed["machine"], "item": row.typed["item"]}) if row is ROWS[0] else row for row in ROWS]
    assert lacking(given(cards=blank)) == [(ROWS[0].typed["machine"], ROWS[0].typed["item"])]


@pytest.mark.parametrize(
    "column", sorted({card.features()[item.has].column for item in card.items().values() if item.has})
)
def test_a_cell_left_open_keeps_what_hangs_on_it_asked_for(column: str) -> None:
    """Slim Eighteen has none of it; as long as nobody says so, its card is asked."""
    hangs = [item.key for item in card.items().values() if item.has and card.features()[item.has].column == column]
    changed = machine("slim-eighteen", **{column: ""})
    missing = [("slim-eighteen", key) for key in hangs if not said("slim-eighteen", key)]
    assert lacking(given(machines=with_machine(changed))) == missing
    assert all(card.may_have(changed, card.items()[key].has) for key in hangs)


# -- what is refused -----------------------------------------------------------------------


def row(model: str, item: str, number: int = 900, text: str = "Something.") -> Row:
    return Row("cards.csv", number, {"machine": model, "item": item, "text": text}, {})


def told(*rows: Row) -> list[Problem]:
    problems: list[Problem] = []
    card.check(DEMO.tables["machines"], [*ROWS, *rows], problems)
    return problems


def test_the_demonstration_s_rows_are_accepted() -> None:
    """The check is silent where all is well."""
    assert told() == []


@pytest.mark.parametrize("item", [item.key for item in card.items().values() if item.has and not said("slim-eighteen", item.key)])
def test_what_no_cabinet_of_that_kind_has_is_refused(item: str) -> None:
    """A card that says how to prove a shutoff that is not there would send its reader looking."""
    (problem,) = told(row("slim-eighteen", item))
    assert card.items()[item].label in problem.what
    assert card.features()[card.items()[item].has].label in problem.what
    assert card.features()[card.items()[item].has].column in problem.mend


def test_an_unknown_item_is_told_with_the_nearest() -> None:
    """A slip of the pen."""
    (problem,) = told(row("tall-forty", "power_swich"))
    assert (problem.file, problem.place) == ("cards.csv", "row 900, column item")
    assert "power_swich" in problem.what
    assert "power_switch" in problem.mend


def test_a_row_that_stands_twice_is_told_with_the_first() -> None:
    """Which of the two would count?"""
    first = next(each for each in ROWS if each.typed["item"] == "leg_turn")
    (problem,) = told(row(first.typed["machine"], "leg_turn"))
    assert f"row {first.number} " in problem.what


@pytest.mark.parametrize("item", [item.key for item in card.items().values() if item.column])
def test_an_item_of_the_models_has_no_row(item: str) -> None:
    """One place for each fact: the calculators read that one."""
    (problem,) = told(row("tall-forty", item))
    assert card.items()[item].column in problem.mend


def test_every_item_can_be_filled_in() -> None:
    """A label and, where it is asked for, help and an example as short as an answer; a feature and a column that are there."""
    for item in card.items().values():
        assert item.group in card.groups(), item.key
        assert not item.has or item.has in card.features(), item.key
        assert not item.column or item.column in columns_of("machines"), item.key
        assert item.column or (item.help and item.example and len(item.example.split()) <= 25), item.key

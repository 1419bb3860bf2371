"""A new operator's folder: in every rule set it is read without a mistake, and its example may be set up."""

from __future__ import annotations

import argparse
import tomllib
from pathlib import Path

import pytest

from calculators.core.rules import RULE_SETS
from tools.book import book, card, country
from tools.commands import new, own, place
from tools.commands.progress import Trouble
from tools.results import sites

DOCS = Path(__file__).parents[2] / "docs"
NAME = 'Gull & "Sons" \\ {co}'


def start(folder: Path, **given: str) -> Path:
    args = argparse.Namespace(folder=folder, **{"name": NAME, "rules": "us", "units": None, **given})
    assert new.main(args) == 0
    return folder


@pytest.mark.parametrize("units", new.UNITS)
@pytest.mark.parametrize("rules", RULE_SETS)
def test_it_is_read_without_a_mistake(rules: str, units: str, tmp_path: Path) -> None:
    """Every country in both unit systems; the name comes out as it was typed."""
    made = book.read(start(tmp_path / "ours", rules=rules, units=units), DOCS)
    assert (made.data.company["name"], made.data.rules.name, made.data.units) == (NAME, rules, units)
    assert all(made.data.tables[name] for name in ("machines", "products", "coils", "sites", "tubes", "trays"))
    assert not made.written.notes
    assert not card.notes(made.data)
    # Nothing is left of the marks and choices of the starter.
    texts = [cell for rows in made.data.tables.values() for row in rows for cell in row.typed.values()]
    assert not [text for text in texts if set(text) & set("{}[]|")]


@pytest.mark.parametrize("rules", RULE_SETS)
def test_its_example_may_be_set_up(rules: str, tmp_path: Path) -> None:
    """No check of it stops or is left open: who begins sees what a sound site looks like."""
    found = sites.work_out(book.read(start(tmp_path / "ours", rules=rules), DOCS).data, "example-site")
    assert set(found.outcomes.values()) <= {"pass", "caution"}, found.outcomes


def test_both_unit_systems_say_the_same(tmp_path: Path) -> None:
    """A choice's two halves are one measure, within what a tape tells."""
    us = book.read(start(tmp_path / "us", units="us"), DOCS).data
    si = book.read(start(tmp_path / "si", units="si"), DOCS).data
    for name, rows in us.tables.items():
        for one, other in zip(rows, si.tables[name], strict=True):
            for key, value in one.values.items():
                if isinstance(value, float):
                    assert other.values[key] == pytest.approx(value, rel=0.03, abs=3), (name, key)


def test_the_usual_is_taken_where_nobody_answers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Asked at a keyboard only; a wrong answer is asked again."""
    start(tmp_path / "a", name="", rules="au")
    assert tomllib.loads((tmp_path / "a" / "handbook.toml").read_text("utf-8"))["units"] == "si"
    answers = iter(["imperial", "us"])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("builtins.input", lambda _: next(answers))
    assert new.asked("Units", "si", new.UNITS) == "us"


def test_what_is_there_is_left_alone(tmp_path: Path) -> None:
    """Neither a folder with anything in it nor a file is written over."""
    (tmp_path / "mine").write_text("kept", "utf-8")
    for folder in (tmp_path, tmp_path / "mine"):
        with pytest.raises(Trouble, match="not empty"):
            start(folder)
    assert (tmp_path / "mine").read_text("utf-8") == "kept"


def test_a_folder_that_is_no_operators_is_told(tmp_path: Path) -> None:
    """With what would make it one; its site lies inside it."""
    with pytest.raises(Trouble, match=r"no handbook\.toml"):
        place.of(tmp_path)
    here = place.of(start(tmp_path / "ours"))
    assert (here.site, here.folder) == (tmp_path / "ours" / "site", tmp_path / "ours")
    assert place.of(None).site == DOCS.parent / "site"


def test_a_page_of_ours_is_copied_with_its_mark(tmp_path: Path) -> None:
    """It stands in place of ours and nothing is to be said of it; a second copy is refused, so is no page."""
    folder = start(tmp_path / "ours")
    args = argparse.Namespace(folder=folder, page="procedures/clean")
    assert own.main(args) == 0
    made = book.read(folder, DOCS)
    assert (made.written.own, made.written.notes) == ({"procedures/clean.md"}, ())
    for page in ("procedures/clean.md", "procedures/cleen"):
        with pytest.raises(Trouble, match="already" if page.endswith(".md") else "procedures/clean"):
            own.main(argparse.Namespace(folder=folder, page=page))


def test_a_copy_of_ours_is_in_the_country_s_words(tmp_path: Path) -> None:
    """Sentences and title; blocks, marks, links and code stay, so that it is read as ours is."""
    folder = start(tmp_path / "ours", rules="uk")
    assert own.main(argparse.Namespace(folder=folder, page="procedures/prove-the-outlet")) == 0
    text = (folder / "pages" / "procedures" / "prove-the-outlet.md").read_text("utf-8")
    assert "title: Prove the socket" in text
    assert "{{rule circuit.plug_limit_15_15}}" in text
    assert "::: figure outlet-test" in text
    assert not book.read(folder, DOCS).written.notes
    page = "---\ntitle: The truck\nsaid: [truck]\n---\n::: figure truck\nA [truck](truck.md), `truck`, {{card truck}}.\n:::\n"
    assert country.source(page, "uk") == (
        "---\ntitle: The lorry\nsaid: [truck]\n---\n::: figure truck\nA [lorry](truck.md), `truck`, {{card truck}}.\n:::\n")


def test_the_starter_is_in_the_country_s_words_and_its_keys_are_not(tmp_path: Path) -> None:
    """What a person reads of it; names of columns and choices are the same everywhere."""
    assert "Pallet truck, short forks" in (start(tmp_path / "uk", rules="uk") / "tables" / "gear.csv").read_text("utf-8")
    assert "Pallet jack, short forks" in (start(tmp_path / "us") / "tables" / "gear.csv").read_text("utf-8")
    assert new.said('"{outlet} of an outlet"', "uk") == '"{outlet} of a socket"'

"""A handbook of each country: no figure lacks in what a person works by, and no other country's word, law, money or unit."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.support import editions

LISTS: dict[str, dict[str, list[str]]] = tomllib.loads(
    (Path(__file__).parents[1] / "cases" / "regions.toml").read_text(encoding="utf-8"))  # fmt: skip
LACKING = re.compile(r"no figure in our rules", re.IGNORECASE)
each_set = pytest.mark.parametrize("name", editions.everywhere())


def foreign(text: str, lists: dict[str, list[str]]) -> Iterator[str]:
    """Every foreign word, law, money and unit of a text, with what stands round it."""
    for phrase in lists["but"]:
        text = text.replace(phrase, "…").replace(phrase[0].upper() + phrase[1:], "…")
    for found in _pattern(lists).finditer(text):
        yield text[max(0, found.start() - 40) : found.end() + 20]


def _pattern(lists: dict[str, list[str]]) -> re.Pattern[str]:
    words = [*lists["words"], *lists["law"], *lists["money"]]
    exact = [re.escape(word) for word in words if word != word.lower()]
    any_case = [re.escape(word) for word in words if word == word.lower()]
    signs = [word for word in any_case if not re.search(r"\w", word)]
    plain = "|".join(word for word in any_case if word not in signs)
    # “1 in 12” and “4 in the van” are no inches.
    units = "|".join(r"in(?! [a-z\d])" if unit == "in" else rf"{re.escape(unit)}\b" for unit in lists["units"]) or r"(?!)"
    return re.compile(rf"(?<![\w-])(?:(?i:{plain})|{'|'.join(exact)})(?![\w-])|{'|'.join(signs)}|\d ?(?:{units})(?!\w)")


@each_set
def test_no_page_lacks_a_figure(name: str) -> None:
    """Procedures, safety pages, what booklets are made of, tables and sheets."""
    told = {place: found for place, text in editions.pages(name).items() if (found := LACKING.findall(text))}
    assert told == {}


@each_set
def test_no_page_speaks_as_another_country_does(name: str) -> None:
    """Word, law, money and unit."""
    told = [f"{place}: {each}" for place, text in editions.pages(name).items() if place not in editions.SOURCES
            for each in foreign(text, LISTS[name])]  # fmt: skip
    assert told == []


@each_set
def test_each_list_finds_its_own(name: str) -> None:
    """Every entry of a list is found in a sentence with it; its exceptions are not."""
    lists = LISTS[name]
    for word in (*lists["words"], *lists["law"], *lists["money"]):
        assert list(foreign(f"Here is {word} 5.", lists)), word
    for unit in lists["units"]:
        assert list(foreign(f"Leave 12 {unit}.", lists)), unit
    assert not [each for phrase in lists["but"] for each in foreign(f"A {phrase} here.", lists)]


def test_what_is_read_is_a_whole_handbook() -> None:
    """All sets have the same pages, and each has its own figure of food."""
    places: list[Any] = [set(editions.pages(name)) for name in editions.everywhere()]
    assert all(each == places[0] for each in places)
    assert len(places[0]) > 40
    for name, figure in {"us": "41 °F", "ca": "4 °C", "uk": "8 °C", "eu": "4 °C", "au": "5 °C"}.items():
        assert f"is at {figure}" in editions.pages(name)["safety/food-and-allergens.md"], name

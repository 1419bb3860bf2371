"""The demonstration's three cards: what they say is what the other tables say, and it reads easily."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
import textstat
from spellchecker import SpellChecker

from calculators.core import rules
from tests.support import prose
from tools.book import card
from tools.book.data import OperatorData, load

ROOT = Path(__file__).parents[2]
DEMO = load(ROOT / "docs" / "data")
MODELS = [row.typed["key"] for row in DEMO.tables["machines"]]
# The highest automated readability index, as in a procedure: about what a twelve-year-old reads.
HIGHEST_INDEX = 7
MOST_WORDS = 20
HOURS = ["", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]

each_model = pytest.mark.parametrize("model", MODELS)


def said(model: str, item: str) -> str:
    return card.words(DEMO, DEMO.row("machines", model), item)


@each_model
def test_the_coils_end_where_the_calculator_has_them(model: str) -> None:
    """`end_clock` is of a right-wound coil, and of the right-hand one of a pair."""
    hour = HOURS[DEMO.row("machines", model).values["end_clock"]]
    assert hour in said(model, "coil_end_right").lower()
    assert not said(model, "coil_end_pair") or hour in said(model, "coil_end_pair").lower()


@each_model
def test_a_leg_turns_as_the_level_calculator_has_it(model: str) -> None:
    """Right-hand threads: a foot goes down clockwise, a nut that carries the frame goes up the other way."""
    turns = re.findall(r"(counterclockwise|clockwise), seen from above, lifts", said(model, "leg_turn").lower())
    nut = DEMO.row("machines", model).typed["foot"] == "nut"
    assert turns == ["counterclockwise" if nut else "clockwise"]
    assert ("nut" in said(model, "leg_turn")) is nut


@each_model
def test_the_legs_start_within_their_range(model: str) -> None:
    """What shows before leveling begins leaves room to both sides."""
    values = DEMO.row("machines", model).values
    (least, most, inches) = (values["thread_least"], values["thread_most"], re.search(r"(\d)/(\d) in", said(model, "leg_start")))
    assert inches is not None
    assert least < 25.4 * int(inches[1]) / int(inches[2]) < most


@each_model
def test_the_cord_s_protection_is_that_of_the_circuit_calculator(model: str) -> None:
    """With a test button, or with none at all."""
    has = DEMO.row("machines", model).typed["cabinet_protection"] == "yes"
    assert ("TEST" in said(model, "cord_protection")) is has
    assert said(model, "cord_protection").startswith("None") is not has


@each_model
def test_coins_and_their_low_marks_are_those_of_the_tubes(model: str) -> None:
    """The float counts with the same marks as the person who fills the tubes."""
    tubes = {row.typed["coin"]: row.typed.get("low") for row in DEMO.of("tubes", "machine", model)}
    taken, low = said(model, "coins_taken").lower(), said(model, "tube_low").lower()
    assert re.findall("nickel|dime|quarter|dollar", taken) == list(tubes)
    assert dict(re.findall(r"(\w+) (\d+)", low)) == {coin: mark for coin, mark in tubes.items() if mark}


@each_model
def test_stopping_sales_says_where(model: str) -> None:
    """Whoever finds warm food has opened no menu before: the line itself leads there."""
    assert re.search("inside the door|behind the flap", said(model, "stop_sales").lower())


@pytest.mark.parametrize("model", [key for key in MODELS if said(key, "shutoff_trip")])
def test_the_cold_is_cold_enough(model: str) -> None:
    """Set well below what food law allows; the shutoff trips no later than there, and after loading in the time it grants."""
    us = rules.load("us")
    limit, minutes = us["food.cold_holding"].value, us["food.reload_minutes"].value
    trip = re.search(r"Above (\d+) °F .* for (\d+) minutes, after loading (\d+)", said(model, "shutoff_trip"))
    point = re.match(r"(\d+) °F", said(model, "set_point"))
    assert trip is not None
    assert point is not None
    assert int(trip[1]) <= limit
    assert int(point[1]) <= limit - 2
    assert int(trip[2]) <= int(trip[3]) <= minutes


@pytest.mark.parametrize("site", [row.typed["key"] for row in DEMO.tables["sites"]])
def test_the_gear_can_come_out_where_it_went_in(site: str) -> None:
    """Beside or in front of the cabinet, there is more room than its forks are long."""
    place = DEMO.row("sites", site)
    model = DEMO.row("machines", place.typed["machine"])
    side = re.match(r"From the (left|right|front)", said(model.typed["key"], "gear_place"))
    assert side is not None
    gap, length = {"left": ("left_gap", "cabinet_width"), "right": ("right_gap", "cabinet_width"),
                   "front": ("front_clear", "cabinet_depth")}[side[1]]  # fmt: skip
    assert place.values[gap] > model.values[length]
    # The heavy side is at the gear's handles.
    assert said(model.typed["key"], "heavy_side").startswith(f"The {side[1]}")


@each_model
def test_the_heavy_side_is_where_the_middle_of_mass_is(model: str) -> None:
    """As the tip check of the calculators has it."""
    values = DEMO.row("machines", model).values
    side, back = values["cg_side"] - values["cabinet_width"] / 2, values["cg_back"] - values["cabinet_depth"] / 2
    ways = {"left": -side, "right": side, "front": -back}
    named = next(way for way in ways if said(model, "heavy_side").startswith(f"The {way}"))
    assert ways[named] == max(ways.values()) > 0


@each_model
def test_the_gear_fits_between_the_legs(model: str) -> None:
    """Its face beside the legs' feet, on the side where it goes under."""
    values = DEMO.row("machines", model).values
    span = values["span_x" if "From the front" in said(model, "gear_place") else "span_y"]
    faces = [row.values["gear_face"] for row in DEMO.tables["gear"] if row.values.get("gear_face")]
    assert span > max(faces)


# -- how it reads --------------------------------------------------------------------------


def texts(data: OperatorData, model: str) -> list[str]:
    return [row.typed["text"] for row in data.of("cards", "machine", model)]


def index(lines: list[str]) -> float:
    return float(textstat.automated_readability_index(prose.without_glossary(" ".join(lines))))


@each_model
def test_a_card_is_easy_to_read(model: str) -> None:
    """All its texts together, and each in one or two breaths."""
    assert index(texts(DEMO, model)) <= HIGHEST_INDEX
    assert [text for text in texts(DEMO, model) if len(text.split()) > MOST_WORDS] == []


@pytest.fixture(scope="module")
def speller() -> SpellChecker:
    """The library's own dictionary, the words of the pages, and a unit."""
    words = SpellChecker(language="en")
    listed = tomllib.loads((ROOT / "tests/cases/procedures/spelling.toml").read_text("utf-8"))["words"]
    words.word_frequency.load_words([*listed, "mm"])
    return words


@each_model
def test_a_card_speaks_american_english(model: str, speller: SpellChecker) -> None:
    """Spelled right, and paper money is bills."""
    whole = " ".join(texts(DEMO, model)).lower()
    assert speller.unknown(re.findall(r"[a-z]{2,}", whole.replace("’s", ""))) == set()
    assert re.findall(r"\b(?:bank)?notes?\b", whole) == []


def test_no_two_cards_are_the_same_way_of_doing_it() -> None:
    """The demonstration shows that one page serves cabinets that differ: most items differ from model to model."""
    alike = [item.key for item in card.items().values() if not item.column and not item.has
             and len({said(model, item.key) for model in MODELS}) == 1]  # fmt: skip
    assert alike == ["coil_end_right"]

"""Each type of field: what it reads and refuses, how it is written, and what it is left blank."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

import calculators
from calculators.core import Choice, Count, Field, Flag, Money, Quantity, Record, Rows, Text, rules
from calculators.core.fields import is_unknown
from calculators.core.reading import read_record
from calculators.core.units import Units

US, SI = Units("us"), Units("si")
WIDTH = Quantity("Width", kind="length", least=300, most=914.4, example=900, default=500)
US_SET, UK_SET = rules.load("us"), rules.load("uk")


def test_what_a_field_is_where_nothing_is_said() -> None:
    """No range, no default, no tolerance: nothing is assumed and nothing forgiven."""
    bare = Quantity("Width")
    assert (bare.least, bare.most, bare.default, bare.tolerance, bare.example) == (None, None, None, 0.0, None)
    assert (bare.first, bare.card, bare.ends, bare.worse, bare.when, bare.rule) == (False, False, False, "", None, "")
    assert (bare.applies({}), bare.offered(US_SET), bare.limit_text(US)) == (True, True, "")
    told = bare.describe(Units("us"))
    assert (told["unit"], told["example"], told["assumed"], told["when"], told["worse"]) == ("", "", None, None, "")


@pytest.mark.parametrize(
    ("raw", "system", "value"),
    [(36, "us", 914.4), ("36 in", "si", 914.4), ("36", "us", 914.4), (914.4, "si", 914.4), (300, "si", 300),
     (914.4 + 5e-7, "si", 914.4), (300 - 2e-7, "si", 300)],
)  # fmt: skip
def test_a_quantity_reads_its_whole_range(raw: Any, system: str, value: float) -> None:
    """Both ends belong to it, whatever binary rounding does to them."""
    assert WIDTH.read(raw, system) == pytest.approx(value, abs=1e-6)


def _quantities(record: type[Record]) -> Iterator[Quantity]:
    for field in record.fields():
        if isinstance(field, Rows):
            yield from _quantities(field.record)
        elif isinstance(field, Quantity):
            yield field


@pytest.mark.parametrize("name", calculators.NAMES)
def test_the_ends_of_a_range_are_read_back_as_either_system_shows_them(name: str) -> None:
    """Also from six figures in the other units; what is read never leaves the range."""
    for field in _quantities(calculators.get(name).inputs):
        for show in (US, SI):
            for end in (field.least, field.most):
                if end is not None:
                    read = field.read(field.shown(end, show), show.system)
                    assert read == pytest.approx(end, rel=1e-5, abs=1e-6), (field.key, show.system)
                    assert field.least is None or read >= field.least, field.key
                    assert field.most is None or read <= field.most, field.key


@pytest.mark.parametrize(
    ("raw", "why"),
    [(914.41, "between 300 mm and 914 mm"), (299.99, "between 300 mm and 914 mm"), (True, "A number such as"),
     (None, "A number such as"), ([3], "A number such as"), (float("inf"), "finite"), (float("nan"), "finite"),
     ("wide", "Here")],
)  # fmt: skip
def test_a_quantity_refuses_all_else_in_words(raw: Any, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        WIDTH.read(raw, "si")


def test_a_range_may_be_open_at_either_end() -> None:
    """What is printed of an end lies inside it: up for the least, down for the most."""
    assert Quantity("W", kind="length", least=300.2).limit_text(SI) == "It must be at least 301 mm."
    assert Quantity("W", kind="length", most=914.4).limit_text(SI) == "It must be at most 914 mm."
    assert Quantity("W", kind="length", least=300.2).read(1e6, "si") == 1e6
    assert Quantity("W", kind="length", most=914.4).read(-5, "si") == -5


@pytest.mark.parametrize(
    ("value", "kind", "us", "si"),
    [(None, "length", "", ""), (914.4, "length", "36 in", "914.4 mm"), (900, "length", "35.4331 in", "900 mm"),
     (-12.7, "length", "-1/2 in", "-12.7 mm"), (1e-5, "ratio", "0.00001", "0.00001"), (12345678, "count", "12345678", "12345678"),
     (5, "temperature", "41 °F", "5 °C"), (350, "mass", "771.618 lb", "350 kg"), (0, "current", "0 A", "0 A")],
)  # fmt: skip
def test_a_quantity_is_written_as_it_can_be_typed(value: float | None, kind: str, us: str, si: str) -> None:
    field = Quantity("X", kind=kind)
    assert (field.shown(value, US), field.shown(value, SI)) == (us, si)
    if value is not None:
        assert field.read(us, "us") == pytest.approx(value, rel=1e-5)


def test_an_example_and_a_default_are_printed_rounded() -> None:
    assert (WIDTH.sample(US), WIDTH.sample(SI)) == ("35 7/16 in", "900 mm")
    assert (WIDTH.assumed(US), WIDTH.assumed(SI)) == ("19 11/16 in", "500 mm")


def test_a_count_is_whole() -> None:
    field = Count("Many", least=0, most=9)
    assert (field.kind, field.type, field.read("3", "us"), field.read(3.0, "si")) == ("count", "count", 3, 3)
    assert isinstance(field.read(3.0, "us"), int)
    for raw, why in ((3.5, "whole number"), (10, "between 0 and 9"), (-1, "between")):
        with pytest.raises(ValueError, match=why):
            field.read(raw, "us")


@pytest.mark.parametrize(
    ("raw", "cents"),
    [("1.25", 125), ("$1.25", 125), ("€ 1", 100), ("£2.50", 250), (1.25, 125), (0.1, 10), ("75c", 75), ("75 p", 75), ("75¢", 75), ("1/4", 25)],
)  # fmt: skip
def test_money_reads_whole_and_small_coins(raw: Any, cents: int) -> None:
    assert Money("Price").read(raw, "us") == cents


@pytest.mark.parametrize(("raw", "why"), [("1.255", "whole cents"), ("0.5c", "whole cents"), ("9.99", "between"), ("0", "between"), ("a", "amount such as"), (True, "amount")])
def test_money_refuses_what_is_none(raw: Any, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        Money("Price", least=1, most=500).read(raw, "us")


def test_money_is_written_with_both_digits() -> None:
    field = Money("Price")
    assert [field.shown(value, US) for value in (None, 5, 125, 100, 12345)] == ["", "0.05", "1.25", "1.00", "123.45"]


CHOICE = Choice("Coin", {"1p": "A penny", "dime": "A dime", "other": "Another"}, ("other",), rule="coins.table", default="other")


def test_a_choice_reads_its_words_and_what_stands_for_them() -> None:
    """Of all rule sets, whatever their case."""
    assert [CHOICE.read(raw, "us") for raw in ("dime", " DIME ", "a dime", "1P")] == ["dime", "dime", "dime", "1p"]
    with pytest.raises(ValueError, match="one of: 1p, dime, other"):
        CHOICE.read("euro", "us")


def test_a_choice_offers_what_a_rule_set_has_and_what_always_stands() -> None:
    assert list(CHOICE.words(US_SET)) == ["dime", "other"]
    assert list(CHOICE.words(UK_SET)) == ["1p", "other"]
    assert list(CHOICE.words(None)) == ["1p", "dime", "other"]
    assert list(Choice("X", {"a": "A"}).words(US_SET)) == ["a"]
    assert list(Choice("X", {"a": "A", "b": "B"}, ("b",), rule="coins.nothing").words(US_SET)) == ["b"]
    assert CHOICE.limit_text(Units("us", rules=UK_SET)) == "It must be one of: 1p, other."
    assert CHOICE.assumed_word() == "Another"
    assert CHOICE.describe(Units("us", rules=US_SET))["options"] == {"dime": "A dime", "other": "Another"}


def test_a_field_is_offered_where_the_listing_has_it() -> None:
    assert CHOICE.offered(US_SET)
    assert CHOICE.offered(None)
    assert not Quantity("X", rule="coins.nothing").offered(US_SET)
    item = Flag("X", rule="coins.table", rule_item={"no": "such row"})
    assert not item.offered(US_SET)
    assert item.offered(None)
    listed = Flag("X", rule="coins.table", rule_item=US_SET["coins.table"].value[0])
    assert listed.offered(US_SET)
    assert list(listed.words(US_SET)) == ["yes", "no"], "its own words are no rows of the listing"


def test_a_flag_is_yes_no_or_neither() -> None:
    field = Flag("Sure")
    assert [field.read(raw, "us") for raw in (True, False, "yes", "No", "Yes")] == [True, False, True, False, True]
    assert [field.shown(value, US) for value in (None, True, False)] == ["", "yes", "no"]
    with pytest.raises(ValueError, match="yes, no"):
        field.read("perhaps", "us")


def test_a_text_is_short_and_stripped() -> None:
    field = Text("Name")
    assert (field.read(" a ", "us"), field.read(7, "us"), field.read("x" * 120, "us")) == ("a", "7", "x" * 120)
    for raw in ("x" * 121, ["a"], {}):
        with pytest.raises(ValueError, match="at most 120"):
            field.read(raw, "us")


def test_a_field_hangs_on_another() -> None:
    field = Quantity("X", when=("way", ("door", "hall")))
    assert [field.applies({"way": way}) for way in ("door", "hall", "wall", None)] == [True, True, False, False]
    assert not field.applies({})
    assert field.describe(US)["when"] == ["way", ("door", "hall")]


@pytest.mark.parametrize(("raw", "unknown"), [(None, True), ("", True), (" ? ", True), ("Not Measured", True), ("unknown", True),
                                              (0, False), (False, False), ([], False), ("0", False), ("no", False)])  # fmt: skip
def test_a_blank_has_these_words_and_no_others(raw: Any, unknown: bool) -> None:
    assert is_unknown(raw) is unknown


class Leg(Record):
    """A row."""

    width = Quantity("Width", kind="length", least=1, most=99, example=9)


class Way(Record):
    """Rows of which there are one to three."""

    legs = Rows("Legs", Leg, "leg", least=1, most=3)
    mass = Quantity("Mass", kind="mass", default=5, most=99, tolerance=2, worse="more", symbol="m", group="G", first=True)


def errors(raw: Any) -> dict[str, str]:
    try:
        read_record(Way, raw, "si")
    except Exception as error:  # noqa: BLE001 - read below
        return {each.field: each.message for each in getattr(error, "errors", ())}
    return {}


def test_rows_are_counted_and_each_is_read() -> None:
    assert errors({"legs": [{"width": 3}] * 3}) == {}
    assert errors({}) == {}, "none at all is a blank, not too few"
    assert errors({"legs": [{}] * 4}).keys() == {"legs"}
    assert "1 to 3" in errors({"legs": [{}] * 4})["legs"]
    assert "list" in errors({"legs": {}})["legs"]
    assert errors({"legs": [{"width": 100}, {"width": 99}, {"wide": 3}], "weight": 1}).keys() == {
        "legs.0.width", "legs.2.wide", "weight"}  # fmt: skip
    assert "For example: 9 mm." in errors({"legs": [{"width": 100}]})["legs.0.width"]
    assert "For example" not in errors({"mass": 100})["mass"]
    assert errors({"legs": [3]}).keys() == {"legs.0."}
    assert errors([]).keys() == {""}


def test_rows_have_twelve_at_most_where_nothing_is_said() -> None:
    field = Rows("Legs", Leg, "leg")
    assert (field.least, field.most, field.limit_text(US)) == (0, 12, "There may be 0 to 12 of them.")
    told = Rows("Legs", Leg, "leg", example=({"width": 9.0},)).describe(SI)
    assert (told["example"], [each["key"] for each in told["row"]]) == ([{"width": "9 mm"}], ["width"])


def test_a_record_knows_what_was_given_and_writes_itself() -> None:
    way = read_record(Way, {"legs": [{"width": 3}, {}]}, "si")
    assert (way.mass, sorted(way.given)) == (5, ["legs"])
    assert way.values() == {"legs": [{"width": 3.0}, {"width": None}], "mass": 5}
    assert Way.shown(way.values(), SI) == {"legs": [{"width": "3 mm"}, {}], "mass": "5 kg"}
    assert [field.key for field in Way.fields()] == ["legs", "mass"]
    told: dict[str, Any] = Way.field("mass").describe(SI)
    assert told["assumed"] == "5 kg"
    assert (told["tolerance"], told["most"], told["least"], told["worse"], told["first"]) == (2, 99, None, "more", True)
    assert (told["type"], told["unit"], told["symbol"], told["group"]) == ("quantity", "kg", "m", "G")
    assert isinstance(Way.field("mass"), Field)
    assert Choice("X", {"a": "A"}, worse=("a", "b")).describe(US)["worse"] == ["a", "b"]

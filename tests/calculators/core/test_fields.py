"""Records of inputs: copies with changes, at any path, leaving the original as it was."""

from __future__ import annotations

import pytest

from calculators.core import Quantity, Record, Rows


class Leg(Record):
    width = Quantity("Width", kind="length", least=0, most=5000)
    height = Quantity("Height", kind="length", least=0, most=5000)


class Way(Record):
    mass = Quantity("Mass", kind="mass", least=0, most=900)
    route = Rows("Route", Leg, "leg")


@pytest.fixture
def way() -> Way:
    return Way(mass=350.0, route=[Leg(width=900.0), Leg(width=800.0, height=2000.0)])


def test_a_change_at_a_path_leaves_the_original_alone(way: Way) -> None:
    """The row is a copy too, and what was given counts the change."""
    made = way.changed({"mass": 400.0, "route.1.width": 850.0, "route.0.height": 2100.0})
    assert (made.mass, made.route[1].width, made.route[0].height) == (400.0, 850.0, 2100.0)
    assert (way.mass, way.route[1].width, way.route[0].height) == (350.0, 800.0, None)
    assert made.route[0].given == {"width", "height"}
    assert way.route[0].given == {"width"}


def test_a_value_taken_away_is_no_longer_given(way: Way) -> None:
    """A blank is a blank."""
    made = way.changed({"mass": None})
    assert made.mass is None
    assert made.given == {"route"}


def test_what_a_person_types_is_read_by_the_field(way: Way) -> None:
    """Units and blanks as on the form; what cannot be read raises as there."""
    made = way.retyped({"route.0.width": "35 1/2 in", "mass": "not measured"}, "us")
    assert made.route[0].width == pytest.approx(901.7)
    assert made.mass is None
    with pytest.raises(ValueError, match="between"):
        way.retyped({"route.0.width": "6 m"}, "si")


def test_a_path_leads_to_its_record(way: Way) -> None:
    """Of the whole, or of a row."""
    assert way.at("mass") == (way, "mass")
    assert way.at("route.1.width") == (way.route[1], "width")
    with pytest.raises(IndexError):
        way.at("route.2.width")

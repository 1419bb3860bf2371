"""Where a short or tapered round product stands in its lane."""

from __future__ import annotations

import pytest

from calculators.spiral import aside, maths
from calculators.spiral.beside import Spot
from calculators.spiral.maths import Coil, Opening
from calculators.spiral.profile import Profile
from calculators.spiral.stand import Pose

LANE = 90.0


@pytest.mark.parametrize("shift", [7.0, 7.13])
def test_the_place_between_is_a_whole_hundredth_that_a_ruler_can_show(shift: float) -> None:
    """On both sides of where the lane begins to decide; the two lie a hundredth of a millimetre apart."""

    def at(place: float) -> aside.Stood:
        opening = Opening(min(60.0 + 2.3 * place, LANE - 2 * place), 0.0, place)
        return aside.Stood(Spot(opening, 30.0, False), Pose(True, 60.0, 60.0, 60.0, 40.0, aside=place), None)

    low, high = (stood.pose.aside for stood in aside._passing(at, shift, LANE))
    assert [round(each * 100) / 100 for each in (low, high)] == [low, high]
    assert high - low == pytest.approx(0.01)
    assert 60.0 + 2.3 * low < LANE - 2 * low
    assert 60.0 + 2.3 * high >= LANE - 2 * high


def test_a_cup_stands_no_worse_than_where_a_straight_one_would() -> None:
    """In each lane; and where it stands is told in hundredths."""
    coil = Coil(60.0, 36.0, 4.0)
    cup = Pose(True, 62.0, 62.0, 44.0, 30.0, shape=Profile(22.0, 31.0, 80.0))
    for lane in (78.0, 84.0, 92.0):
        plain = maths.round_opening(coil, lane)
        stood = aside.roomiest(coil, cup._replace(ahead=plain.ahead, aside=plain.shift), plain, lane, 0.0)
        there = aside.roomiest(coil, cup._replace(ahead=plain.ahead, aside=plain.shift), plain, None, 0.0)
        assert stood.spot.opening.size >= there.spot.opening.size - 1e-9
        assert round(stood.pose.aside, 2) == stood.pose.aside

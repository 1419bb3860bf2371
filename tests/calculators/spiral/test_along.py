"""Looking along wire: what is left out on the way changes no answer, to the last bit."""

from __future__ import annotations

import math
import random

import pytest

from calculators.spiral import arc, stand
from calculators.spiral.maths import Coil
from calculators.spiral.profile import Profile, straight
from calculators.spiral.stand import Pose


def coil(rng: random.Random) -> Coil:
    radius = rng.uniform(20, 50)
    return Coil(rng.uniform(20, 120), radius, rng.uniform(2, 6), radius * 1.1 if rng.random() < 0.2 else 0.0)


def pose(rng: random.Random, wire: Coil) -> Pose:
    """Bottles, cups, packs, wedges and bags; in the middle and aside."""
    wide, high = rng.uniform(10, 90), rng.uniform(30, 220)
    foot = wide * rng.uniform(0.4, 1.0)
    shape = rng.choice([straight(wide, foot, high), Profile(foot / 2, wide / 2, high), Profile(wide / 2, foot / 2, high)])
    aside = rng.choice([0.0, rng.uniform(0, 8)])
    kind = {"round": rng.random() < 0.4, "pillow": rng.random() < 0.2, "skew": rng.uniform(0, 45)}
    return Pose(breadth=rng.uniform(20, 180), thick=wide, foot=foot, ahead=wire.pitch / 2 + aside / 3, shape=shape,
                aside=aside, **kind)  # fmt: skip


def test_looking_inward_from_the_edge_finds_the_highest_wire(monkeypatch: pytest.MonkeyPatch) -> None:
    """As looking at every place does; and it does look at fewer."""
    rng = random.Random(5)
    cases = [(wire, pose(rng, wire)) for wire in (coil(rng) for _ in range(600))]
    found = [stand.rest.__wrapped__(*each) for each in cases]
    looked = []

    def everywhere(heights: stand.Curve, _: object) -> stand.Curve:
        return lambda places: looked.extend(places) or heights(places)  # type: ignore[func-returns-value]

    monkeypatch.setattr(stand, "_outermost", everywhere)
    assert [stand.rest.__wrapped__(*each) for each in cases] == found
    assert 50 < sum(each is not None for each in found) < 600


def test_the_outermost_places_are_often_enough() -> None:
    asked: list[int] = []

    def rising(places: stand.Places) -> list[float]:
        asked.extend(places)
        return [float(abs(k)) for k in places]

    places = tuple(range(-900, 901, 20))
    assert stand._outermost(rising, lambda k: abs(k) + 0.5)(places)[0] == 900.0
    assert len(asked) <= 2 * stand.PART
    asked.clear()
    stand._outermost(rising, lambda _: math.inf)(places)
    assert len(asked) == len(places)


def test_a_climb_that_is_not_followed_reaches_no_further(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(6)
    cases = [(arc.arc_seen(coil(rng), rng.uniform(0, 45)), rng.uniform(-60, 60), rng.uniform(10, 160), rng.uniform(2, 6))
             for _ in range(3000)]  # fmt: skip
    found = [arc.reach(*each) for each in cases]
    followed = []
    corner = arc._corner
    monkeypatch.setattr(arc, "_corner", lambda *words: followed.append(words) or corner(*words))  # type: ignore[func-returns-value]
    for each in cases:
        arc.reach(*each)
    few = len(followed)
    monkeypatch.setattr(arc, "HAIR", math.inf)
    assert [arc.reach(*each) for each in cases] == found
    assert len(followed) - few > few


def test_only_how_far_it_stands_from_the_axes_counts() -> None:
    """A product and its coils moved aside together rest on the same wire, and lean against the same."""
    rng = random.Random(11)
    seen = 0
    for _ in range(200):
        wire = coil(rng)._replace(offset=rng.uniform(5, 30))
        stands = pose(rng, wire)._replace(aside=rng.uniform(1, 8))
        by = rng.choice([2.0, 4.0, 0.5])
        moved = wire._replace(offset=wire.offset + by), stands._replace(aside=stands.aside + by)
        found, other = stand.rest(wire, stands), stand.rest(*moved)
        assert (found is None) == (other is None)
        if found and other:
            assert other == pytest.approx(found, abs=1e-9)
            foot = stand.rest_height(wire, found)
            leans = [stand.lean(*each, foot, foot + 120.0) for each in ((wire, stands), moved)]
            assert leans[1] == (leans[0] and pytest.approx(leans[0], abs=1e-9))
            seen += 1
    assert seen > 60

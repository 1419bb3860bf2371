"""The committed drawings are those that the scenes draw."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tools.drawings.scenes import SCENES
from tools.drawings.sketch import Sketch

FOLDER = Path(__file__).parents[2] / "docs" / "assets" / "drawings"
# A tenth of a unit is the last printed digit; another build of GEOS may round a cut the other way,
# and a point is told from the one before it, which may be rounded the other way as well.
CLOSE = 0.21


@pytest.mark.parametrize("name", SCENES)
def test_a_scene_draws_the_committed_file(name: str) -> None:
    """The same words, and the same numbers to the last printed digit."""
    drawn, kept = SCENES[name]().svg(), (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    number = re.compile(r"-?(?:\d+(?:\.\d+)?|\.\d+)")
    assert number.sub("#", drawn) == number.sub("#", kept)
    pairs = zip(number.findall(drawn), number.findall(kept), strict=True)
    assert all(abs(float(one) - float(two)) <= CLOSE for one, two in pairs)


@pytest.mark.parametrize("name", SCENES)
def test_a_drawing_stays_on_its_sheet(name: str) -> None:
    """No shape and no callout is cut off at the edge."""
    sketch = SCENES[name]()
    for item in sketch.items:
        if not item.geometry.is_empty:
            x0, y0, x1, y1 = item.geometry.bounds
            assert x0 >= 0
            assert y0 >= 0
            assert x1 <= sketch.width
            assert y1 <= sketch.height
    for x, y in re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="11"', sketch.svg()):
        assert 12 <= float(x) <= sketch.width - 12
        assert 12 <= float(y) <= sketch.height - 12


def test_a_solid_shape_hides_what_lies_behind_it() -> None:
    """Without any color: the line behind ends at the edge of the shape."""
    sketch = Sketch("test", "Test", "Test", 100)
    sketch.line([(0, 50), (360, 50)]).box(100, 0, 100, 100, 0)
    assert sketch.items[0].geometry.length == pytest.approx(260, abs=0.3)

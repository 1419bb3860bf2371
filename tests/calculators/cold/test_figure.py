"""The drawing, and a log of ten thousand lines: thinned without losing a peak, and read once."""

from __future__ import annotations

import itertools
import json
import re
from datetime import timedelta

import pytest

import calculators
from calculators.cold import figure, logfile
from calculators.core.moments import moment_text
from tests.support.drawn import Figure

from . import ask

LINES = 10_000


def long_log() -> str:
    """Five-minute readings at 3 °C with one warm one in the middle."""
    begin = ask.BEGIN - timedelta(minutes=5 * (LINES - 1))
    rows = [f"{begin + timedelta(minutes=5 * at):%d.%m.%Y;%H:%M};{'12,5' if at == 6000 else '3,0'}" for at in range(LINES)]
    return "\n".join(["Day;Time;Temperature (°C)", *rows])


LONG = {"log": long_log(), "put_in": "2026-10-25 08:00", "now": "2026-11-28 06:00", "lots": [{"dated": "pack", "date": "2026-12-20"}]}


def points(svg: str) -> list[tuple[float, float]]:
    """The curve of a drawing."""
    found = re.search(r'<polyline points="([^"]*)"', svg)
    assert found
    return [tuple(map(float, each.split(","))) for each in found[1].split()]  # type: ignore[misc]


def test_ten_thousand_lines_are_judged_and_drawn_with_few_points() -> None:
    """The one warm reading is a stop, its time is told, and it is the top of the curve."""
    result = ask.run(**LONG)
    assert ask.check(result, "above")["text"].startswith("10 min")
    [svg] = result["figures"]
    curve = points(svg)
    assert len(curve) <= 2 * figure.BUCKETS + 2
    tops = [point for point in curve if point[1] == min(y for _, y in curve)]
    assert len(tops) == 1
    spell = ask.rows(result, "spells")[0]
    assert spell[2] == "10 min"
    assert f"Above the limit from {spell[0]} to {spell[1]}." in svg
    assert len(json.dumps(result)) < 60_000, "no answer gives a log back"
    assert "log" not in result["inputs"]


def test_a_line_more_than_ten_thousand_is_refused() -> None:
    answer = json.loads(calculators.run_json("cold", json.dumps({"inputs": {**LONG, "log": f"{LONG['log']}\n28.11.2026;06:00;3,0"}})))
    assert "10001 lines" in answer["errors"][0]["message"]


def test_a_log_is_read_once_however_often_it_is_asked_about() -> None:
    """A form that lacks measures asks many times what these may hide."""
    logfile.read.cache_clear()
    ask.run(**LONG, loaded=None, pack_names=None, shutoff=None)
    assert logfile.read.cache_info().misses == 1


def test_the_curve_of_a_short_log_goes_through_every_reading() -> None:
    """Heights stand to each other as the temperatures do; time runs to the right."""
    result = ask.run(log=ask.log(ask.with_at({4: 6, 8: 4})))
    curve = points(result["figures"][0])
    assert len(curve) == len(ask.COLD)
    foot = curve[0][1]
    assert round((foot - curve[4][1]) / (foot - curve[8][1]), 3) == 2.0
    steps = {round(b[0] - a[0], 1) for a, b in itertools.pairwise(curve)}
    assert max(steps) - min(steps) < 0.2
    assert moment_text(logfile.read(ask.log(ask.COLD), "", "c").times[0]) == "2026-11-28 06:00"
    assert 'class="hb-wall"' in result["figures"][0]
    assert 'class="hb-limit"' in result["figures"][0]


def test_limit_and_bands_stand_at_their_temperature_and_time() -> None:
    """The limit between the readings below and above it; dark round the one that is above, a dashed band where none was taken."""
    result = ask.run(log=ask.log(ask.with_at({4: 6, 8: 4})))
    drawn, curve = Figure.of(result["figures"][0]), points(result["figures"][0])
    cold, warm = curve[0][1], curve[4][1]  # 2 °C and 6 °C
    [((_, y), (_, same))] = drawn.lines("limit")
    assert y == same == pytest.approx(cold + (warm - cold) * (5 - 2) / 4, abs=0.03)
    across, up = drawn.lines("thin")
    assert all(across[0][0] <= x <= across[1][0] + 0.05 and up[1][1] <= y < up[0][1] for x, y in [*curve, (curve[0][0], same)])
    [(left, _, right, _)] = drawn.boxes("wall")
    assert curve[3][0] - 0.05 <= left <= curve[4][0] + 0.05 <= right + 0.1
    assert right <= curve[5][0] + 0.05
    lines = ask.log(ask.COLD).splitlines()
    gap = ask.run(log="\n".join([*lines[:4], *lines[8:]]))["figures"][0]
    [(left, _, right, _)] = Figure.of(gap).boxes("ghost")
    [(mark, _)] = [at for words, at in Figure.of(gap).words() if words == "?"]
    kept = points(gap)
    jump = max(range(len(kept) - 1), key=lambda at: kept[at + 1][0] - kept[at][0])
    assert (left, right) == pytest.approx((kept[jump][0], kept[jump + 1][0]), abs=0.05)
    assert mark == pytest.approx((left + right) / 2, abs=0.05)


def test_what_nobody_knows_is_marked_in_the_drawing() -> None:
    lines = ask.log(ask.COLD).splitlines()
    [svg] = ask.run(log="\n".join([*lines[:4], *lines[8:]]))["figures"]
    assert ">?</text>" in svg
    assert "Nothing is known from" in svg
    assert "No readings yet." in ask.run(log=None)["figures"][0]

"""The lifting equation against one written anew from the facts, on 1,000 random lifts in each edition.

The second writing shares no code and no data file with the first: its tables are typed here, its frequency
multiplier is an interpolation by numpy, and several lifts are summed over every order by brute force.
"""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import numpy
import pytest

import calculators
from calculators.core import rules
from calculators.handling import maths, model
from calculators.handling.inputs import Inputs
from calculators.handling.maths import Task

RATES = [0, .2, .5, *range(1, 16)]
LEFT = {  # below the best height, and not below
    "short": ("1 1 .97 .94 .91 .88 .84 .80 .75 .70 .60 .52 .45 .41 .37 0 0 0",
              "1 1 .97 .94 .91 .88 .84 .80 .75 .70 .60 .52 .45 .41 .37 .34 .31 .28"),
    "moderate": (".95 .95 .92 .88 .84 .79 .72 .60 .50 .42 .35 .30 .26 0 0 0 0 0",
                 ".95 .95 .92 .88 .84 .79 .72 .60 .50 .42 .35 .30 .26 .23 .21 0 0 0"),
    "long": (".85 .85 .81 .75 .65 .55 .45 .35 .27 .22 .18 0 0 0 0 0 0 0",
             ".85 .85 .81 .75 .65 .55 .45 .35 .27 .22 .18 .15 .13 0 0 0 0 0"),
}  # fmt: skip
GRIP = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}
EDITIONS = {
    # unit of length in mm, of mass in kg; load, near, far, best, per unit, high, distance, near, most
    "au": (10.0, 1.0, 23.0, 25.0, 63.0, 75.0, 0.003, 175.0, 4.5, 25.0, 175.0),
    "us": (25.4, 0.45359237, 51.0, 10.0, 25.0, 30.0, 0.0075, 70.0, 1.8, 10.0, 70.0),
}


def frequency(rate: float, span: str, below: bool) -> float:
    left = [float(part) for part in LEFT[span][0 if below else 1].split()]
    return float(numpy.interp(rate, RATES, left)) if rate <= 15 else 0.0


def recommended(edition: str, span: str, row: dict[str, Any], *, at_end: bool) -> float:
    """Kilograms, from a row in mm and kg."""
    unit, pound, load, near, far, best, per, high, gain, short, most = EDITIONS[edition]
    reach, up = (row["reach_to"], row["height_to"]) if at_end else (row["reach"], row["height"])
    turn = row["twist_to" if at_end else "twist"]
    out, height, other = reach / unit, up / unit, row["height"] / unit
    way = abs(row["height_to"] - row["height"]) / unit
    if out > far or height > high or way > most or turn > 135:
        return 0.0
    held = GRIP[row["grip"]][0 if height < best else 1]
    left = (near / out if out > near else 1.0) * (1 - per * abs(height - best)) * (0.82 + gain / way if way > short else 1.0)
    return load * pound * left * (1 - 0.0032 * turn) * held * frequency(row["count"] / 15, span, other < best)


def drawn(rng: random.Random) -> dict[str, Any]:
    """A lift in mm and kg, some past the ends of the equation."""
    return {"mass": round(rng.uniform(1, 45), 2), "grip": rng.choice(list(GRIP)), "count": rng.choice((rng.randint(1, 30), rng.randint(1, 225))),
            "reach": round(rng.uniform(150, 680)), "height": round(rng.uniform(0, 1850)), "twist": rng.choice((0, round(rng.uniform(0, 145)))),
            "height_to": round(rng.uniform(0, 1850)), "control": "yes", "reach_to": round(rng.uniform(150, 680)),
            "twist_to": round(rng.uniform(0, 145))}  # fmt: skip


def setting(edition: str, span: str) -> model.Setting:
    found = model.setting(Inputs(duration=span), rules.load(edition))
    assert found is not None
    return found


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_thousand_lifts_come_out_as_by_a_second_writing(edition: str) -> None:
    """What may be lifted at both ends, to a part in 10⁹; and what the page tells of the first hundred."""
    rng = random.Random(f"lifts {edition}")
    compared = nothing = 0
    for number in range(1000):
        row, span = drawn(rng), rng.choice(list(LEFT))
        wanted = [recommended(edition, span, row, at_end=at_end) for at_end in (False, True)]
        read = Inputs(lifts=[calculators.get("handling").inputs.field("lifts").record(**{**row, "control": True})])  # type: ignore[attr-defined]
        found = [end.allowed for end in model.ends(read.lifts[0], setting(edition, span))]
        assert found == pytest.approx(wanted, rel=1e-9, abs=1e-9), row
        nothing += sum(mass == 0 for mass in wanted)
        compared += 2
        if number < 100:
            _told(edition, span, row, wanted)
    assert compared == 2000
    assert 200 < nothing < 1600


def _told(edition: str, span: str, row: dict[str, Any], wanted: list[float]) -> None:
    """The sheet's own words about it: go, take care and stop where goal and most say so."""
    inputs = {"lifts": [row], "duration": span, "how": "plain"}
    result = calculators.run("handling", {"units": "si", "rules": edition, "inputs": inputs})
    checks = [check for check in result["checks"] if check["key"] == "lift"]
    for check, mass in zip(checks, wanted, strict=True):
        index = row["mass"] / mass if mass else math.inf
        assert check["outcome"] in {"pass": ("pass", "caution"), "caution": ("caution",), "stop": ("stop",)}[
            "pass" if index <= 1 else "caution" if index <= 3 else "stop"], (check, index)  # fmt: skip


# -- several lifts ----------------------------------------------------------------------------------------


def in_order(edition: str, span: str, tasks: list[Task]) -> float:
    """The sum of the published method with the lifts in this very order."""
    index, rate, below, last = 0.0, 0.0, False, 0.0
    for task in tasks:
        rate, below = rate + task.rate, below or task.low
        left = frequency(rate, span, below)
        if left == 0:
            return math.inf
        index, last = index + task.strain * (1 / left - last), 1 / left
    return index


@pytest.mark.parametrize("edition", EDITIONS)
def test_several_lifts_come_out_as_by_every_order(edition: str) -> None:
    """Hardest first as published; and no order of all of them gives more than the greatest, which one of them gives."""
    rng = random.Random(f"visits {edition}")
    for _ in range(300):
        span = rng.choice(list(LEFT))
        tasks = [Task(rng.uniform(0.05, 2.5), rng.choice((rng.randint(1, 9) / 15, rng.uniform(0.1, 4))), rng.random() < 0.4)
                 for _ in range(rng.randint(1, 5))]  # fmt: skip
        of = setting(edition, span).of
        hardest = sorted(tasks, key=lambda task: task.strain / max(frequency(task.rate, span, task.low), 1e-9), reverse=True)
        assert maths.visit_index(of, tasks, span) == pytest.approx(in_order(edition, span, hardest), rel=1e-9)
        most = max(in_order(edition, span, list(order)) for order in itertools.permutations(tasks))
        assert maths.greatest_index(of, tasks, span) == pytest.approx(most, rel=1e-9)


def test_more_than_the_table_goes_leaves_nothing() -> None:
    of = setting("us", "short").of
    assert maths.often_share(of, 15.0, "short", False) == pytest.approx(0.28)
    assert maths.often_share(of, 15.01, "short", False) == 0
    assert maths.often_share(of, 0.05, "short", False) == 1


def test_one_lift_alone_is_its_own_index() -> None:
    of = setting("us", "short").of
    task = Task(1.4, 3.0, False)
    assert maths.visit_index(of, [task], "short") == maths.greatest_index(of, [task], "short") == pytest.approx(1.4 / 0.88)


def test_hardest_first_can_fall_where_the_greatest_does_not() -> None:
    """Why the check takes the order that gives most: two lifts change places as one gets harder."""
    of = setting("us", "long").of
    other = Task(1.0, 3.5, False)
    harder = [Task(strain / 1000, 2.5, False) for strain in range(1150, 1250)]
    published = [maths.visit_index(of, [task, other], "long") for task in harder]
    greatest = [maths.greatest_index(of, [task, other], "long") for task in harder]
    assert any(after < before for before, after in itertools.pairwise(published))
    assert all(after >= before for before, after in itertools.pairwise(greatest))

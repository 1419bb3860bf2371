"""Worked examples of others: shelf life by two models, and the days of a date mark."""

from __future__ import annotations

import math
import tomllib
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from calculators.cold import maths
from calculators.core.rules import STATUSES

from . import ask

CASES = tomllib.loads((Path(__file__).parents[2] / "cases" / "cold" / "published.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", CASES["shelf"], ids=lambda case: case["what"])
def test_shelf_life_at_another_temperature(case: dict[str, Any]) -> None:
    """The tested life divided by the rate there, to the printed digit."""
    assert case["status"] in STATUSES
    rate = (maths.root_rate(case["then"], case["at"], case["least"]) if case["model"] == "root"
            else maths.q10_rate(case["then"], case["at"], case["q10"]))  # fmt: skip
    assert case["life"] / rate == pytest.approx(case["printed"], abs=case["half_digit"])


def test_effects_add_whatever_their_order() -> None:
    """8.9 days at 5 °C and the rest at 15 °C; the other way round the same life is used up later."""
    salmon = CASES["salmon"]
    cold, warm = (maths.q10_rate(each, 0, math.exp(10 * salmon["log_rate"])) for each in (5, 15))
    life = salmon["first"] * cold + (salmon["total"] - salmon["first"]) * warm
    turned = salmon["first"] + (life - salmon["first"] * warm) / cold
    assert turned == pytest.approx(23.2, abs=0.05)
    assert turned == pytest.approx(salmon["reverse"], abs=salmon["reverse_off"])


def test_a_factor_for_ten_degrees_tells_what_arrhenius_tells() -> None:
    """Of the factor that the activation energy makes between the two temperatures; the printed life, and its own law exactly."""
    case = CASES["arrhenius"]
    assert case["status"] in STATUSES
    rate = math.exp(case["energy"] / case["gas"] * (1 / (case["at"] + 273.15) - 1 / (case["then"] + 273.15)))
    q10 = rate ** (10 / (case["then"] - case["at"]))
    life = case["life"] / maths.q10_rate(case["then"], case["at"], q10)
    assert life == pytest.approx(case["life"] / rate)
    assert life == pytest.approx(case["printed"], abs=case["off"])


def lot(case: dict[str, Any]) -> dict[str, Any]:
    frozen = {"state": "thawed", "frozen": case["frozen"], "thawed": case["thawed"]} if "frozen" in case else {}
    return {"name": "x", "dated": "kitchen", "made": case["made"], **frozen}


@pytest.mark.parametrize("case", CASES["dates"], ids=lambda case: case["what"])
def test_the_last_day_of_a_date_mark(case: dict[str, Any]) -> None:
    """On that day it passes, on the next it is a stop, and its name is printed."""
    last = date.fromisoformat(case["last"])
    for day, wanted in ((last, "pass"), (last + timedelta(days=1), "stop")):
        result = ask.run(lots=[lot(case)], now=f"{day} 12:00", put_in=f"{day} 11:00", log=None)
        assert ask.check(result, "days")["outcome"] == wanted
        assert (f"Last day of sale: {last}." in ask.check(result, "days")["note"]) == (wanted == "pass")


def test_a_mean_rate_weighs_each_time() -> None:
    """An hour at 0 °C and an hour at 10 °C: by (1 + 0.1 T)² the mean is 2.5; the warmer end of each counts."""
    readings = maths.Readings([0, 60, 120], [0, 0, 10], [-1, -1, -1], [False] * 3)
    mean = maths.mean_rates(readings, 60, 0, -10, 2.0)
    assert mean == (120, pytest.approx(2.5), pytest.approx(1.5))
    assert maths.mean_rates(readings, 59, 0, -10, 2.0) == (0, None, None)

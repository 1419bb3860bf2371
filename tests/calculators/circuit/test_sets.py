"""Cases in the rule sets outside the United States, and their tables held against copper itself."""

from __future__ import annotations

import dataclasses
import itertools
import math
import tomllib
from pathlib import Path
from typing import Any

import pytest

from calculators.circuit import CALCULATOR
from calculators.circuit.maths import longest_growing, longest_with
from calculators.core import rules
from calculators.core.rules import STATUSES

QUICK = dataclasses.replace(CALCULATOR, probe=False)
FOLDER = Path(__file__).parents[2] / "cases" / "circuit"
CASES = tomllib.loads((FOLDER / "sets.toml").read_text())
TABLES = tomllib.loads((FOLDER / "areas.toml").read_text())
NORTH = {"breaker": "20", "nominal_voltage": "120", "dedicated": "yes", "material": "copper", "conductor": "12", "run": 10,
         "cabinet_amps": 8, "outlets": 1, "receptacle_rating": "20", "ambient": 30}  # fmt: skip
METRIC = {**NORTH, "nominal_voltage": "230", "conductor": "2.5mm2", "receptacle_rating": "16"}
BASES = {"ca": NORTH, "uk": {**METRIC, "receptacle_rating": "13"}, "eu": METRIC, "au": METRIC}


def cases(kind: str) -> list[Any]:
    return [pytest.param(case, id=case["id"]) for case in CASES[kind]]


def run(case: dict[str, Any]) -> dict[str, Any]:
    inputs = {**BASES[case["rules"]], **case["inputs"]}
    if "cabinet_watts" in inputs:
        del inputs["cabinet_amps"]
    return QUICK.run({"rules": case["rules"], "typed": "si", "inputs": inputs})


@pytest.mark.parametrize("case", cases("limit"))
def test_limits(case: dict[str, Any]) -> None:
    """An input on one side of a published limit has that outcome."""
    assert [each["outcome"] for each in run(case)["checks"] if each["key"] == case["check"]] == [case["outcome"]]


@pytest.mark.parametrize("case", cases("value"))
def test_values(case: dict[str, Any]) -> None:
    """A whole circuit gives the value its source prints."""
    found = next(each["inner"] for each in run(case)["values"] if each["key"] == case["value"])
    assert found == pytest.approx(case["expected"], abs=case["tolerance"])


def test_every_case_says_where_it_comes_from() -> None:
    """Citation and status on each; a tolerance wider than half a digit has its reason."""
    for case in (*CASES["limit"], *CASES["value"]):
        assert case["citation"]
        assert case["status"] in STATUSES
    for case in CASES["value"]:
        half = 0.5 * 10.0 ** -len(case["printed"].partition(".")[2])
        assert case["tolerance"] <= half + 1e-12 or case["reason"]
    for row in itertools.chain(*(rows for rows in TABLES.values() if isinstance(rows, list))):
        assert "tolerance" not in row or row["reason"]


# -- the tables ---------------------------------------------------------------------------


def half(printed: str) -> float:
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])


@pytest.mark.parametrize("row", TABLES["loop"], ids=lambda row: f"{row['area']} mm²")
def test_bs_7671_follows_from_iec_60228(row: dict[str, Any]) -> None:
    """Twice the greatest resistance at 20 °C, warmed to 70 °C, rounds to the printed mV/A/m."""
    known, size = rules.load("uk"), f"{row['area']:g}mm2"
    assert known[f"conductors.loop_{size}"].value == float(row["printed"])
    cold = known[f"conductors.iec_{size}"].value
    value = 2 * cold * (1 + known["conductors.iec_alpha"].value * 50)
    assert value == pytest.approx(float(row["printed"]), abs=row.get("tolerance", half(row["printed"])))


@pytest.mark.parametrize("row", TABLES["flex"], ids=lambda row: f"{row['table']} {row['area']} mm²")
def test_flexible_cord_is_a_little_above_iec_60228(row: dict[str, Any]) -> None:
    """Twice the resistance of class 5 at the table's temperature, and up to 5 % more: tinned strands."""
    eu, size = rules.load("eu"), f"{row['area']:g}mm2"
    if row["table"] == "4F3B":
        assert rules.load("uk")[f"conductors.cord_loop_{size}"].value == row["printed"]
    cold = {6.0: 3.30, 10.0: 1.91}.get(row["area"]) or eu[f"conductors.cord_iec_{size}"].value
    bare = 2 * cold * (1 + eu["conductors.iec_alpha"].value * (row["at"] - 20))
    assert 1.0 <= row["printed"] / bare < 1.05


@pytest.mark.parametrize("row", TABLES["iec60228"], ids=lambda row: f"{row['area']} mm²")
def test_the_table_of_resistance_is_the_same_in_every_set(row: dict[str, Any]) -> None:
    """IEC 60228: solid or stranded, and flexible where the set holds it."""
    size = f"{row['area']:g}mm2"
    for name in ("us", "uk", "eu", "au"):
        assert rules.load(name)[f"conductors.iec_{size}"].value == row["fixed"]
        flexible = rules.load(name).get(f"conductors.cord_iec_{size}")
        assert flexible is None or flexible.value == row["flexible"]
    assert 1.04 < row["flexible"] / row["fixed"] < 1.10


def test_warm_copper_is_a_quarter_above_cold() -> None:
    """Annex G: 0.0225 is 1.25 times 0.018, the round resistivity that it takes for cold copper."""
    known = rules.load("eu")
    assert known["conductors.rho"].value == pytest.approx(1.25 * 0.018)
    assert known["conductors.rho_alpha"].value == pytest.approx(0.00393 / 1.25)
    assert known["conductors.rho_at"].value == pytest.approx(20 + 0.25 / 0.00393, abs=0.05)


@pytest.mark.parametrize("row", TABLES["ampacity"], ids=lambda row: f"{row['awg']} AWG")
def test_table_310_16_is_taken_at_sixty_degrees(row: dict[str, Any]) -> None:
    """What the rule set lets a wire carry is the 60 °C column, the least of the three."""
    assert rules.load("us")[f"conductors.carries_{row['awg']}"].value == row["c60"]
    assert row["c60"] < row["c75"] < row["c90"]


@pytest.mark.parametrize("row", TABLES["supply"], ids=lambda row: f"{row['rules']} {row['volts']}")
def test_the_usual_supply(row: dict[str, Any]) -> None:
    """The ends of the supply's range are its percentages of the nominal voltage, or the table's."""
    known = rules.load(row["rules"])
    ends = [known[f"circuit.supply_{end}_{row['volts']}"].value for end in ("low", "high")]
    assert ends == [row["low"], row["high"]]
    if "below" in row:
        assert ends == pytest.approx([row["volts"] * (1 - row["below"] / 100), row["volts"] * (1 + row["above"] / 100)])


@pytest.mark.parametrize(("name", "hottest"), [("us", 60), ("ca", 60), ("uk", 70), ("eu", 70)])
def test_the_share_in_warmth_is_a_square_root(name: str, hottest: float) -> None:
    """Heat grows with the current squared: √(what is left up to the hottest ÷ what is left at 30 °C), to 1 %.

    The printed factors are rounded to two digits by their tables, 0.01 at most beside the root.
    """
    rows = rules.load(name)["conductors.ambient"].value
    assert [row["upto"] for row in rows] == [30, 35, 40, 45, 50]
    for row in rows:
        assert row["factor"] == pytest.approx(math.sqrt((hottest - row["upto"]) / (hottest - 30)), abs=0.01)


def test_single_phase_is_two_over_root_three_of_three_phase() -> None:
    """AS/NZS 3008: the single-phase drop is 1.155 times the tabled three-phase one."""
    inputs = {**METRIC, "nominal_voltage": "400", "cabinet_power_factor": 1}
    single, three = (QUICK.run({"rules": "au", "typed": "si", "inputs": {**inputs, "phases": phases}})
                     for phases in ("single", "three"))
    drops = [next(each["inner"] for each in result["values"] if each["key"] == "drop_volts")
             for result in (single, three)]  # fmt: skip
    assert drops[0] / drops[1] == pytest.approx(1.155, abs=0.0005)


# -- the longest run ------------------------------------------------------------------------


@pytest.mark.parametrize("each", [0.001, 0.0049, 0.005, 0.0051, 0.02, 0.0265, 0.03, 0.049, 0.051, 0.2])
def test_the_longest_run_meets_the_growing_advice(each: float) -> None:
    """There just so much is lost as is advised for that length, and a little farther more."""
    run_ = longest_growing(5, 0.5, 100, 100, each)

    def advised(length: float) -> float:
        return 5 + 0.5 * min(1.0, max(0.0, (length - 100) / 100))

    assert each * run_ == pytest.approx(advised(run_), rel=1e-12)
    assert all(each * run_ * more > advised(run_ * more) for more in (1.001, 1.1, 3))
    assert all(each * run_ * less < advised(run_ * less) for less in (0.999, 0.9, 0.3))


@pytest.mark.parametrize("seed", range(40))
def test_the_longest_run_with_outlets_on_the_way(seed: int) -> None:
    """Halving finds the same run: what is lost grows with it, and there it is just the allowance."""
    import random

    rng = random.Random(seed)
    ohms = [rng.uniform(5, 60) for _ in range(4)]
    spots = [None, *(rng.uniform(1, 90) for _ in range(3))]

    def lost(length: float) -> float:
        return 2 / 1000 * math.fsum(part * min(length, length if spot is None else spot)
                                    for part, spot in zip(ohms, spots, strict=True))  # fmt: skip

    low, high = 0.0, 5000.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if lost(middle) < 3.6 else (low, middle)
    assert longest_with(3.6, ohms, spots) == pytest.approx(low, rel=1e-9)


# -- what an outlet gives for hours ------------------------------------------------------------------

LASTS = "For hours on end"


@pytest.mark.parametrize(("name", "rating", "most"), [("eu", "16", 10.0), ("ca", "15", 12.0), ("ca", "20", 16.0)])
def test_an_outlet_warms_where_it_gives_much_for_hours(name: str, rating: str, most: float) -> None:
    """The set's own figure, as advice: a cabinet that cycles may draw more, one of which nobody knows may not."""
    volts = "230" if name == "eu" else "120"

    def found(changes: dict[str, Any]) -> dict[str, Any] | None:
        inputs = {"nominal_voltage": volts, "breaker": "20", "receptacle_rating": rating, "dedicated": "yes", "outlets": 1, **changes}
        result = QUICK.run({"rules": name, "typed": "si", "units": "si", "inputs": inputs})
        return next((each for each in result["checks"] if each["at"] == LASTS), None)

    for lasting in ("yes", ""):
        assert [found({"cabinet_amps": amps, "cabinet_continuous": lasting})["outcome"] for amps in (most, most + 0.1)] == ["pass", "caution"]
        assert found({"cabinet_continuous": lasting})["outcome"] == "unknown"
    assert found({"cabinet_amps": most + 0.1, "cabinet_continuous": "no"}) is None
    # The other figure, or a supply of three phases with its own outlets, may allow it.
    assert found({"cabinet_amps": most + 0.1, "receptacle_rating": ""})["outcome"] == "unknown"
    assert found({"cabinet_amps": most + 0.1, "nominal_voltage": ""})["outcome"] == "unknown"
    assert found({"cabinet_amps": 9.9, "receptacle_rating": "", "nominal_voltage": ""})["outcome"] == "pass"
    assert found({"cabinet_amps": most + 0.1, "nominal_voltage": "400" if name == "eu" else "240"}) is None


@pytest.mark.parametrize("name", ["us", "uk", "au"])
def test_elsewhere_an_outlet_gives_its_rating_for_hours_too(name: str) -> None:
    """No figure of those sets says less."""
    result = QUICK.run({"rules": name, "inputs": {"receptacle_rating": {"us": "20", "uk": "13", "au": "15"}[name], "cabinet_amps": "12 A"}})
    assert not any(each["at"] == LASTS for each in result["checks"])

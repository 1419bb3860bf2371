"""The published cases: whole calculators as requests, single functions as jobs for `replay`."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import calculators
from calculators.core import rules

CASES = Path(__file__).parents[1] / "cases"
CIRCUIT: dict[str, Any] = {
    "breaker": "20", "nominal_voltage": "120", "dedicated": "yes", "material": "copper", "conductor": "12", "run": 10,
    "cabinet_amps": 8, "outlets": 1, "receptacle_rating": "20", "ambient": 30,
}  # fmt: skip
Job = tuple[str, list[Any]]


NAMES = ("clearance", "circuit", "spiral", "float")
LEAST = 8  # jobs a calculator; an empty list would agree with anything


def jobs(name: str) -> list[Job]:
    """Every such case of a calculator."""
    makers = {"clearance": _clearance, "circuit": _circuit, "spiral": _spiral, "float": _float}
    return list(makers[name]())


def requests(name: str) -> list[dict[str, Any]]:
    """Every case that runs a whole calculator, as its test asks for it."""
    makers = {"clearance": _whole_clearance, "circuit": _whole_circuit,
              "spiral": _whole_spiral, "float": _whole_float}  # fmt: skip
    return list(makers[name]() if name in makers else _whole(name))


def _whole(name: str) -> Iterator[dict[str, Any]]:
    """Cases that need nothing but their own inputs."""
    known = {field.key for field in calculators.get(name).inputs.fields()}
    for path in sorted((CASES / name).glob("*.toml")):
        for cases in tomllib.loads(path.read_text(encoding="utf-8")).values():
            for case in cases if isinstance(cases, list) else ():
                if isinstance(case, dict) and case.get("inputs") and set(case["inputs"]) <= known:
                    yield {"units": case.get("units", "us"), "rules": case.get("rules", "us"), "inputs": case["inputs"]}


def _whole_clearance() -> Iterator[dict[str, Any]]:
    for case in read("clearance", "limits")["case"]:
        yield {"units": case["units"], "inputs": case["inputs"]}


def _whole_circuit() -> Iterator[dict[str, Any]]:
    for file in ("limits", "values"):
        for case in read("circuit", file)["case"]:
            yield {"typed": "si", "inputs": {**CIRCUIT, **case["inputs"]}}


def _whole_spiral() -> Iterator[dict[str, Any]]:
    practice = read("spiral", "practice")
    for case in (*practice["case"], *practice["difference"]):
        for size in case["sizes"]:
            inputs = {**practice["common"], **case["inputs"], **size}
            for coil in (case.get("fits", {}), case.get("fails", {})):
                yield {"units": "si", "inputs": {**inputs, **coil}}


def _whole_float() -> Iterator[dict[str, Any]]:
    for case in read("float", "coins")["tube"]:
        tube = {"coin": case["coin"], "height": f"{case['height_mm']} mm"}
        yield from ({"units": units, "inputs": {"tubes": [tube]}} for units in ("us", "si"))


def read(name: str, file: str) -> dict[str, Any]:
    """A file of cases."""
    return tomllib.loads((CASES / name / f"{file}.toml").read_text(encoding="utf-8"))


def _clearance() -> Iterator[Job]:
    for case in read("clearance", "geometry")["case"]:
        yield f"calculators.clearance.maths:{case['function']}", case["arguments"]
    for case in read("clearance", "twins")["case"]:
        yield "figure", [case.get("rules", "us"), case["key"]]


def _circuit() -> Iterator[Job]:
    formulas = printed_formulas()
    for case in read("circuit", "arithmetic")["case"]:
        yield "formula", [formulas[case["step"]], case["numbers"]]
    for key, rule in rules.load("us").figures.items():
        if key.startswith("conductors.") and rule.kind:
            yield "figure", ["us", key]
    for row in read("circuit", "wire")["table9"]:
        for pipe in ("steel", "pvc"):
            reactance = rules.load("us")[f"conductors.x_{pipe}_{row['awg']}"].value
            yield "calculators.circuit.maths:effective_impedance", [row["r"], reactance, 0.85]
    change = rules.load("us")["conductors.alpha"].inner
    yield "calculators.circuit.maths:resistance_at", [1.0, change, 20.0, 75.0]


def printed_formulas() -> dict[str, str]:
    """Each symbol's formula as the page prints it, for one cabinet given in watts."""
    inputs = {**CIRCUIT, "cabinet_amps": None, "cabinet_watts": 900, "cabinet_power_factor": 0.9}
    working = calculators.run("circuit", {"typed": "si", "inputs": inputs})["working"]
    return {step["symbol"]: step["formula"] for group in working for step in group["steps"]}


def _spiral() -> Iterator[Job]:
    table = read("spiral", "table")

    def coil(count: int, offset: float = 0.0) -> dict[str, Any]:
        radius = (table["outside"] - table["wire"]) / 2
        of = [table["usable_length"] / count, radius, table["wire"], offset]
        return {"make": "calculators.spiral.maths:Coil", "of": of}

    for case in table["single"]:
        wire = coil(case["count"])
        yield "calculators.spiral.maths:round_opening", [wire, None]
        for width, skewed in ((None, False), (400.0, True)):
            yield "pack", [wire, 130.0, width, skewed, False]
        yield "calculators.spiral.flat:flat_room", [wire, 130.0, case["skew"], 0.0, None]
    for case in table["lens"]:
        for width, skewed in ((None, False), (400.0, True)):
            yield "pack", [coil(case["count"]), float(case["breadth"]), width, skewed, True]
    for case in table["foot"]:
        wire = coil(case["count"])
        pose = [True, case["circle"], case["circle"], case["circle"], wire["of"][0] / 2]
        yield "calculators.spiral.stand:rest", [wire, {"make": "calculators.spiral.stand:Pose", "of": pose}]
    for case in table["dual"]:
        for breadth in case["breadths"]:
            yield "pack", [coil(case["count"], case["offset"]), float(breadth), None, False, False]


def _float() -> Iterator[Job]:
    change, pay = read("float", "change"), "calculators.float.payout:"
    for case in change["average"]:
        yield "averages", [case["coins"], case["step"], case["most"]]
    for case in (*change["payment"], *change["failing"]):
        yield pay + "fewest", [case["coins"], case["amount"]]
        yield pay + "plenty", [case["coins"], {"name": pay + "largest_first"}, case["amount"]]
    for case in change["canonical"]:
        for amount in range(1, case["coins"][0] + case["coins"][1]):
            yield pay + "fewest", [case["coins"], amount]
    for case in change["limit"]:
        for rule in ("largest_first", "any_mix"):
            yield pay + rule, [case["coins"], case["counts"], case["amount"]]
    for case in read("float", "ruin")["walk"]:
        top, fair = case["top"], case["win"] == 0.5
        steps = 30 * top + (2 * top * top if fair else 3 * top)
        yield "ruin", [case["win"], case["start"], top, steps]
    yield "coin_table", ["us"]

"""A second model of energy and gas, in US customary units throughout, with its figures typed again.

Feet, ounces, pounds in a thousand cubic feet, British thermal units. It shares no code with the calculator.
"""

from __future__ import annotations

from typing import Any

FOOT, POUND = 0.3048, 0.45359237  # m, kg
BTU = POUND * 4186.8 * 5 / 9 / 3600  # Wh
TAPE = 0.05 / FOOT
INF = float("inf")

# kg/m³ in pounds for a thousand cubic feet.
PER_MCF = 1000 * FOOT**3 / POUND
LOWER = {"r290": 0.038 * PER_MCF, "r600a": 0.043 * PER_MCF}
METERS = {"uk": {"r290": 0.0307 * PER_MCF}, "eu": {"r290": 0.0307 * PER_MCF}}
NEWEST = {"us": 150, "ca": 300, "uk": 500, "eu": 500, "au": 500}
ALLOWED = {("a", "y2012"): (0.055, 2.56), ("b", "y2012"): (0.073, 3.16), ("a", "y2019"): (0.052, 2.43),
           ("b", "y2019"): (0.052, 2.20), ("comb_a", "y2019"): (0.086, 2.66), ("comb_b", "y2019"): (0.111, 2.04)}  # fmt: skip


def grade(spare: float, off: float, *, soft: bool) -> str:
    """The outcome of what is left beside what the measuring may hide."""
    if spare < 0:
        return "caution" if soft else "stop"
    return "caution" if off and spare <= off else "pass"


def gases(case: dict[str, Any], rules: str) -> list[tuple[int, float, float, float]]:
    """Of what burns: how many, pounds in one, where it burns and its practical limit in pounds a thousand cubic feet."""
    found = []
    for number, row in ((case["alike"], case), *((row["number"], row) for row in case["coolers"])):
        if row["gas"] == "none":
            continue
        lower = row["lfl"] / 1000 * PER_MCF if row["gas"] == "other" else LOWER[row["gas"]]
        burns = METERS.get(rules, {}).get(row["gas"], lower)
        practical = 0.008 * PER_MCF if row["gas"] == "r290" else lower / 5
        found.append((number, row["charge"] / 1000 / POUND, burns, practical))
    return found


def work_out(case: dict[str, Any], rules: str) -> tuple[dict[str, float], dict[str, str]]:
    """Values in their inner units, and outcomes; of a case with no blank, metric as the calculator takes it."""
    values: dict[str, float] = {}
    length, width, height = (case[f"room_{side}"] / FOOT for side in ("length", "width", "height"))
    feet = length * width * height
    off = TAPE * (length * width + width * height + height * length)
    burning = gases(case, rules)
    wide, near = (1000 * sum(number * pounds / each[at] for each in burning for number, pounds in [each[:2]]) for at in (3, 2))
    daily = case["plate_daily"] if case["source"] == "plate" else case["used"] / (case["hours"] / 24)
    share = 0.02 if case["source"] == "meter" else 0.0
    cubic = case["chilled_volume"] / 1000 / FOOT**3
    btu = 1000 / 24 / BTU * (case["alike"] * daily + sum(row["number"] * row["daily"] for row in case["coolers"]))
    leaves = 0.335 * FOOT**3 / 1.8 / BTU * case["air_changes"] * feet
    leaves += FOOT**2 / 1.8 / BTU * (2 * height * (length + width) + length * width)
    values |= {"daily": daily, "heat": btu * BTU, "power": btu * BTU, "room": feet * FOOT**3, "room_needed": wide * FOOT**3,
               "charge_all": 1000 * POUND * sum(number * pounds for number, pounds, *_ in burning),
               "cost": case["cents"] / 100 * daily * 365, "rise": btu / leaves / 1.8}  # fmt: skip
    made = {"low_place": "pass" if not (burning and case["low_place"]) else "caution"}
    made |= _gas(case, rules, burning, (feet, off, wide, near))
    made |= _energy(case, rules, daily, share, cubic, values)
    warm = case["room_temp"] * 1.8 + 32 + btu / leaves
    made["warmth"] = grade(case["room_most"] * 1.8 + 32 - warm, 1.8, soft=True)
    if case["outdoors"]:
        made |= dict.fromkeys(("leak_burns", "leak_limit"), "pass")
        made["warmth"] = grade(case["room_most"] - case["room_temp"], 1.0, soft=True)
        del values["rise"], values["room_needed"]
    return values, made


def _gas(case: dict[str, Any], rules: str, burning: list[Any], room: tuple[float, ...]) -> dict[str, str]:
    feet, off, wide, near = room
    small = all(pounds * POUND <= 0.150 * (1 + 1e-9) for _, pounds, *_ in burning)
    made = {"leak_burns": grade(feet - near, off, soft=False) if burning else "pass",
            "leak_limit": grade(feet - wide, off, soft=small) if burning else "pass", "charge": "pass"}  # fmt: skip
    if case["gas"] != "none":
        lower = case["lfl"] / 1000 if case["gas"] == "other" else LOWER[case["gas"]] / PER_MCF
        most = min(NEWEST[rules], 13 * 1000 * lower)
        most = most if case["built_to"] == "new" else min(most, 150)
        made["charge"] = grade(most - case["charge"], 0.0, soft=False)
    return made


def _energy(case: dict[str, Any], rules: str, daily: float, share: float, cubic: float, values: dict[str, float]) -> dict[str, str]:
    made = {"as_sold": "pass"}
    if case["source"] == "meter":
        made["as_sold"] = grade(1.25 * case["plate_daily"] - daily, share * daily, soft=True)
    if rules == "us":
        rate, base = ALLOWED.get((case["energy_class"], case["energy_made"]), (0.0, INF))
        made["allowed"] = grade(rate * cubic + base - daily, share * daily, soft=True)
        if base < INF:
            values["allowance"] = rate * cubic + base
    return made

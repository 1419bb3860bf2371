"""Random cabinets as a reader would type them: bottles, cans, cups, bags, bars, boxes and wedges."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

Row = dict[str, Any]


def _mm(value: float) -> str:
    return f"{value:.1f} mm"


def _bottle(rng: random.Random) -> Row:
    wide = rng.uniform(58, 76)
    return {"shape": "round", "diameter": _mm(wide), "foot_diameter": _mm(wide - rng.uniform(2, 8)),
            "height": _mm(rng.uniform(190, 235)), "mass": "500 g"}  # fmt: skip


def _can(rng: random.Random) -> Row:
    wide = rng.choice([53.0, 58.0, 66.3])
    return {"shape": "round", "diameter": _mm(wide), "foot_diameter": _mm(wide - 12),
            "height": _mm(rng.uniform(60, 168)), "mass": "360 g"}  # fmt: skip


def _cup(rng: random.Random) -> Row:
    wide = rng.uniform(70, 98)
    return {"shape": "round", "diameter": _mm(wide), "foot_diameter": _mm(wide * 0.75), "sides": "widening",
            "height": _mm(rng.uniform(60, 130)), "mass": "200 g"}  # fmt: skip


def _bag(rng: random.Random) -> Row:
    return {"shape": "flat", "breadth": _mm(rng.uniform(90, 190)), "thickness": _mm(rng.uniform(25, 65)),
            "height": _mm(rng.uniform(140, 230)), "mass": "50 g", "squeeze": f"{rng.randint(0, 8)} mm",
            "pillow": "yes"}  # fmt: skip


def _box(rng: random.Random) -> Row:
    broad = rng.choice([rng.uniform(30, 60), rng.uniform(60, 140)])
    return {"shape": "flat", "breadth": _mm(broad), "thickness": _mm(rng.uniform(12, 60)),
            "height": _mm(rng.uniform(70, 190)), "mass": "150 g", "may_turn": rng.choice(["yes", "no"]),
            "may_skew": rng.choice(["yes", "yes", "no"])}  # fmt: skip


def _wedge(rng: random.Random) -> Row:
    thick = rng.uniform(50, 80)
    return {"shape": "flat", "breadth": _mm(rng.uniform(100, 140)), "thickness": _mm(thick),
            "height": _mm(rng.uniform(90, 140)), "mass": "200 g", "thick_end": rng.choice(["foot", "top"]),
            "thin_end": _mm(thick * 0.4)}  # fmt: skip


MAKERS: tuple[Callable[[random.Random], Row], ...] = (_bottle, _can, _cup, _bag, _box, _wedge)


def _product(rng: random.Random, number: int) -> Row:
    row = {"name": f"product {number}", "weekly_sales": round(rng.uniform(2, 45), 1), **rng.choice(MAKERS)(rng)}
    if rng.random() < 0.15:
        row["drop_limit"] = f"{rng.randint(200, 1000)} mm"
    if rng.random() < 0.2:
        row["needs_cold"] = "yes"
    return row


def _tray(rng: random.Random, number: int, lanes: int) -> Row:
    return {
        "name": f"tray {number + 1}", "lanes": lanes, "lane_width": _mm(800 / lanes * rng.uniform(0.96, 1)),
        "height_above": _mm(rng.uniform(150, 290)), "rail_height": _mm(rng.uniform(70, 130)),
        "drop_height": _mm(1150 - 180 * number), "strip_height": rng.choice(["0 mm", "0 mm", "12 mm", "20 mm"]),
        "zone": rng.choice(["cold", "cold", "warm"]),
    }  # fmt: skip


def _coil(rng: random.Random, number: int) -> Row:
    row = {"name": f"coil {number}", "coil_count": 4 + number, "coil_outside": rng.choice(["76.2 mm", "70 mm"]),
           "wire": rng.choice(["4 mm", "4.5 mm"]), "stock": rng.randint(2, 10)}  # fmt: skip
    if number % 6 == 5:
        row.update(coil_kind="dual", axis_offset="42 mm", coil_count=rng.choice([5, 7, 9]))
    return row


def cabinet(seed: int, *, products: int = 40, trays: int = 6, lanes: tuple[int, ...] = (10,),
            coils: int = 12, blanks: float = 0.0) -> dict[str, Any]:  # fmt: skip
    """What a reader types; ``blanks`` is the share of sizes left out."""
    rng = random.Random(seed)
    made: dict[str, Any] = {
        "days": 7, "most_lanes": 3, "usable_length": _mm(rng.uniform(480, 600)), "heavy_tray": max(1, trays - 2),
        "heavy_mass": "450 g", "products": [_product(rng, number) for number in range(products)],
        "trays": [_tray(rng, number, rng.choice(lanes)) for number in range(trays)],
        "coils": [_coil(rng, number) for number in range(coils)],
    }  # fmt: skip
    if rng.random() < 0.5:  # trays as most cabinets have them: alike but for their heights
        for row in made["trays"][1:]:
            row.update({key: made["trays"][0][key] for key in ("lane_width", "strip_height", "lanes")})
    for row in (*made["products"], *made["trays"], *made["coils"]):
        for key in [key for key in row if key not in ("name", "stock", "lanes", "zone") and rng.random() < blanks]:
            del row[key]
    return made

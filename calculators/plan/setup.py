"""From the form to the planning problem: who fits where, who keeps a lane, who is kept apart."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from ..core import Work
from ..core.progress import Steps
from .barred import barred, wanting
from .demand import gains
from .fits import Fit
from .hand import stand_over
from .inputs import Inputs
from .model import Problem, Product, Spot
from .naming import find
from .trying import tried

DAYS_A_WEEK = 7


@dataclass
class Setup:
    """The problem with what is needed to speak of it. Numbers are places in the form's rows."""

    problem: Problem
    fits: list[list[list[Fit]]]  # product, tray, coil
    means: list[float | None]  # wanted pieces until the visit
    missing: list[str] = field(default_factory=list)  # input paths without which something is left out
    barred: list[list[str]] = field(default_factory=list)  # product, tray: why not, whatever the coil
    pins: list[tuple[int, Spot] | None] = field(default_factory=list)  # of each row; None where it names nothing
    stopped: bool = False  # by the reader: before every coil was tried, or while planning


def missing_of(inputs: Inputs) -> list[str]:
    """What must be known before anything can be planned."""
    paths = [path for path in ("products", "trays", "coils", "days") if not getattr(inputs, path)]
    paths += [f"products.{i}.weekly_sales" for i, row in enumerate(inputs.products) if row.weekly_sales is None]
    for key in ("lanes", "lane_width"):
        paths += [f"trays.{i}.{key}" for i, row in enumerate(inputs.trays) if getattr(row, key) is None]
    return paths


def setup(inputs: Inputs, work: Work) -> Steps[Setup]:
    """Ask spiral fit about every product, tray and coil; tells how far it is."""
    bars = [[barred(row, t, inputs) for t in range(len(inputs.trays))] for row in inputs.products]
    fits, stopped = yield from tried(inputs, work, bars)
    fits = _told(inputs, stand_over(inputs, work, fits, bars))
    days = inputs.days
    means = [None if row.weekly_sales is None or days is None else row.weekly_sales * days / DAYS_A_WEEK
             for row in inputs.products]  # fmt: skip
    pins = [pin_of(row, inputs) for row in inputs.pins]
    problem = _problem(inputs, fits, means, pins)
    return Setup(problem, fits, means, missing_of(inputs) + _needs(inputs, fits), bars, pins, stopped)


def _told(inputs: Inputs, fits: list[list[list[Fit]]]) -> list[list[list[Fit]]]:
    """The fits without the trays of which it is not told whether a product may lie there."""
    made = [[list(coils) for coils in trays] for trays in fits]
    for row, trays in zip(inputs.products, made, strict=True):
        for number, coils in enumerate(trays):
            needs = wanting(row, number, inputs)
            if needs:
                coils[:] = [Fit(needs=(*needs, *each.needs), why="not told") if each.pieces or each.needs else each for each in coils]
    return made


def _needs(inputs: Inputs, fits: list[list[list[Fit]]]) -> list[str]:
    """What keeps a product out everywhere for want of a measure."""
    found: dict[str, None] = {}
    for p, trays in enumerate(fits):
        every = [(t, k, each) for t, coils in enumerate(trays) for k, each in enumerate(coils)]
        if not every or any(each.pieces for _, _, each in every):
            continue
        for t, k, each in every:
            found.update(dict.fromkeys(path_of(inputs, key, p, t, k) for key in each.needs))
    return [path for path in found if path]


def path_of(inputs: Inputs, key: str, product: int, tray: int, coil: int) -> str:
    """Where spiral fit's input stands in this form."""
    for rows, number in (("products", product), ("trays", tray), ("coils", coil)):
        if key in {each.key for each in getattr(inputs, rows)[number].fields()}:
            return f"{rows}.{number}.{key}"
    return key if key in {each.key for each in inputs.fields()} else ""


def pin_of(row: Any, inputs: Inputs) -> tuple[int, Spot] | None:
    """The product and the lane that a row of “keep here” names; None where there is none such."""
    product = find(inputs.products, row.product)
    tray = find(inputs.trays, row.tray)
    if product is None or tray is None or row.lane is None:
        return None
    lanes = inputs.trays[tray].lanes
    return None if lanes is None or row.lane > lanes else (product, (tray, row.lane - 1))


def bearers(inputs: Inputs, word: str | None) -> list[int]:
    """Products that bear a word: as their name, or as a whole word of their label's words."""
    wanted = (word or "").strip().casefold()
    if not wanted:
        return []
    whole = re.compile(rf"(?<![\w-]){re.escape(wanted)}(?![\w-])")
    return [number for number, row in enumerate(inputs.products)
            if (row.name or "").strip().casefold() == wanted
            or whole.search((row.allergens or "").casefold())]  # fmt: skip


def pairs(inputs: Inputs, where: str) -> frozenset[tuple[int, int]]:
    """Pairs of different products that must be kept apart so."""
    found = set()
    for row in inputs.apart:
        if row.where == where:
            found |= {(min(p, q), max(p, q)) for p in bearers(inputs, row.first)
                      for q in bearers(inputs, row.second) if p != q}  # fmt: skip
    return frozenset(found)


def _problem(inputs: Inputs, fits: list[list[list[Fit]]], means: list[float | None],
             pins: list[tuple[int, Spot] | None]) -> Problem:  # fmt: skip
    kept: dict[Spot, int] = {}
    for pin in pins:
        if pin is not None:
            kept.setdefault(pin[1], pin[0])  # two products cannot both keep one lane
    products, holds = [], []
    for p, (row, mean) in enumerate(zip(inputs.products, means, strict=True)):
        known = mean is not None
        room = tuple(tuple(each.pieces if known else 0 for each in coils) for coils in fits[p])
        most = inputs.most_lanes * max((pieces for coils in room for pieces in coils), default=0)
        spots = tuple(sorted(spot for spot, who in kept.items() if who == p))
        products.append(Product(gains(mean or 0.0, most), max(inputs.most_lanes, len(spots)), bool(row.must), spots))
        holds.append(room)
    return Problem(
        tuple(products), tuple(tray.lanes or 0 for tray in inputs.trays),
        tuple(1 if coil.stock is None else coil.stock for coil in inputs.coils), tuple(holds),
        apart=pairs(inputs, "tray"), beside=pairs(inputs, "beside"),
    )  # fmt: skip

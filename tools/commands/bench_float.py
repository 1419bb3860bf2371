"""The float's part of `bench`: its search against an event simulation of equal accuracy.

Both look for the least load of an ordinary three-tube cabinet, filled from empty. The event
simulation is the tests' own model: it serves each buyer coin by coin. It judges the same
loads, in the same order, each by as many runs as the calculator plays for a load that it
does not throw out; like ours, a run ends at its first refusal.
"""

from __future__ import annotations

import importlib.util
import itertools
import random
import sys
import time
from functools import cache
from types import ModuleType
from typing import Any

from calculators.float import chain
from calculators.float.judge import Judge
from calculators.float.search import Plan, cheapest_first, filled, least_load

from .house import ROOT
from .progress import Trouble

SIZES, NOW = (40, 50, 40), (0, 0, 0)  # quarters, dimes, nickels: coins in a roll, coins there
CAPS = {25: 61, 10: 79, 5: 55}
PRICES = {125: 30.0, 150: 30.0, 175: 25.0, 260: 15.0}  # price in cents: share of sales
MEANS = (18, 36, 72)  # cash sales between two visits
SAMPLE = 100  # runs the event simulation plays of each load; its time is scaled up from them


def ratios() -> list[float]:
    """Time of the search as a part of the event simulation's, for each of the MEANS."""
    spec = _spec()
    found = []
    for mean in MEANS:
        start = time.process_time()
        judge = Judge(spec.setup(), chain.poisson(mean), 0.95, 1)
        chain.at_once(judge.prepare())
        plan = chain.at_once(least_load(judge, NOW, SIZES))
        ours = time.process_time() - start
        found.append(ours / (_events(spec, plan, mean) * judge.runs / SAMPLE))
    return found


@cache
def model(name: str) -> ModuleType:
    """The tests' own model of a calculator, by its path: another package may own the name “tests”."""
    path = ROOT / "tests" / "calculators" / name / "reference.py"
    spec = importlib.util.spec_from_file_location(f"{name}_reference", path)
    if spec is None or spec.loader is None:
        raise Trouble(f"{path} is missing.")
    module = sys.modules[spec.name] = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def _spec() -> Any:
    """Buyers with one and five dollar notes, and buyers with fewest coins."""
    kinds: list[tuple[str, int, Any]] = []
    weights = []
    for price, share in PRICES.items():
        paid, left = {}, price
        for coin in CAPS:
            paid[coin], left = divmod(left, coin)
        kinds += [("note", price, 100), ("note", price, 500), ("coins", price, paid)]
        weights += [20.0 * share, 5.0 * share, 20.0 * share]
    return model("float").Spec(dict(CAPS), list(PRICES), kinds, weights)


def _events(spec: Any, plan: Plan, mean: int) -> float:
    """Seconds that the event simulation takes for SAMPLE runs of every load that was tried."""
    played = model("float")
    draw = random.Random(1)  # noqa: S311 - buyers, no secrets
    most = [-(-cap // size) for cap, size in zip(CAPS.values(), SIZES, strict=True)]
    worth = [coin * size for coin, size in zip(CAPS, SIZES, strict=True)]
    start = time.process_time()
    for load in itertools.islice(cheapest_first(worth, most), plan.tried):
        counts = dict(zip(CAPS, filled(NOW, load, SIZES, tuple(CAPS.values())), strict=True))
        for _ in range(SAMPLE):
            unit = played.Unit(spec, counts)
            buyers = draw.choices(spec.kinds, spec.weights, k=mean)
            all(unit.offer(kind) for kind in buyers)
    return time.process_time() - start

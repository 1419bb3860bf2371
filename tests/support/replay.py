"""Does single pieces of published arithmetic; runs natively and, as a file, in the page's Python.

It imports the calculators and the standard library's lean part only, for the packed library
holds no more. A job is ``[name, arguments]``: the name of a function below, or MODULE:NAME.
"""

from __future__ import annotations

import importlib
import json
import math
from itertools import islice
from typing import Any


def answer(text: str) -> str:
    """Do a JSON list of jobs; what each gave, as JSON (floats as their shortest exact text)."""
    return json.dumps([_done(*job) for job in json.loads(text)])


def _done(name: str, arguments: list[Any]) -> Any:
    function = _found(name) if ":" in name else globals()[name]
    return function(*map(_argument, arguments))


def _argument(value: Any) -> Any:
    """Plain data as it is; {"name": …} is a function, {"make": …, "of": […]} an object."""
    if isinstance(value, dict) and "make" in value:
        return _found(value["make"])(*value["of"])
    if isinstance(value, dict) and "name" in value:
        return _found(value["name"])
    return value


def _found(name: str) -> Any:
    module, _, attribute = name.partition(":")
    return getattr(importlib.import_module(module), attribute)


def figure(rule_set: str, key: str) -> list[Any]:
    """A rule's figure in its inner unit, with what is printed of its source."""
    rule = _found("calculators.core.rules:load")(rule_set)[key]
    return [rule.inner, rule.citation, rule.label, rule.note]


def formula(text: str, numbers: dict[str, float]) -> float:
    """A printed formula with a source's numbers put in."""
    for shown, plain in (("·", "*"), ("−", "-"), ("√(", "sqrt("), ("²", "**2"), ("π", "pi")):
        text = text.replace(shown, plain)
    return float(_found("calculators.core.formula:evaluate")(text, numbers))


def pack(coil: Any, breadth: float, lane: float | None, skewed: bool, pillow: bool) -> Any:
    """The thickest pack between two turns."""
    opening = _found("calculators.spiral.flat:flat_opening")
    return opening(coil, breadth, lane, skewed=skewed, pillow=pillow)


def coin_table(rule_set: str) -> Any:
    """The coins and their rolls."""
    known = _found("calculators.core.rules:load")(rule_set)
    return [known["coins.table"].value, known["coins.rolls"].value]


def averages(coins: list[int], step: int, most: int) -> list[float]:
    """Mean number of coins in a payment, fewest and largest first."""
    payout = importlib.import_module("calculators.float.payout")
    table, amounts = payout.fewest_table(coins, most), range(0, most + 1, step)
    few = [math.fsum(payout.unpicked(coins, table, amount) or ()) for amount in amounts]
    greedy = [math.fsum(payout.plenty(coins, payout.largest_first, amount) or ()) for amount in amounts]
    return [math.fsum(few) / len(few), math.fsum(greedy) / len(greedy)]


def ruin(win: float, start: int, top: int, steps: int) -> list[float]:
    """Chance of ruin of a walk kept at its top, and its length where it ends at both ends."""
    kept = _alive(win, start, top, False, steps)
    lasting = _alive(win, start, top, True, steps)
    return [1.0 - kept[-1], math.fsum(lasting), lasting[-1]]


def walk(win: float, top: int, lost_at_top: bool) -> Any:
    """The moves of a birth-death walk: the bottom is a loss; the top is one too, or is kept."""

    def moves(state: int) -> list[tuple[int | None, float]]:
        if state == top:
            return [(top, 1.0)]
        up = None if lost_at_top and state + 1 == top else state + 1
        return [(up, win), (state - 1 or None, 1.0 - win)]

    return moves


def _alive(win: float, start: int, top: int, lost_at_top: bool, steps: int) -> list[float]:
    chain = importlib.import_module("calculators.float.chain")
    table = chain.at_once(chain.closure(walk(win, top, lost_at_top), [start], 2000))
    place = list(table).index(start)
    return [chances[place] for chances in islice(chain.survival(table), steps)]

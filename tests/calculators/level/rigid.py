"""A rigid cabinet on screwed legs, worked out another way: it settles where its mass is lowest.

Nothing here is taken from the calculator: how the frame rests is a linear program, and a
thread is a helix whose turning part moves away from whoever sees it turn clockwise.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

Array = NDArray[np.float64]


def rest(points: Array, tops: Array, mass: Array) -> Array:
    """The plane z = a·x + b·y + c on which the frame settles over the legs' tops."""
    rows = np.column_stack([points, np.ones(len(points))])
    answer = linprog([*mass, 1.0], A_ub=-rows, b_ub=-tops, bounds=[(None, None)] * 3, method="highs")
    assert answer.status == 0, answer.message
    return np.asarray(answer.x)


def turned(length: float, quarter: str, turns: float, *, foot: str, hand: str, pitch: float) -> float:
    """Length of a leg, foot to frame, after its turning part went so far, seen from above."""
    clockwise = {"clockwise": turns, "counterclockwise": -turns}[quarter]
    # A right-hand part sinks away from the viewer above by one pitch for each clockwise turn.
    sinks = pitch * clockwise * (1 if hand == "right" else -1)
    # A turning foot sinks below the frame; a turning nut sinks, and carries the frame down.
    return length + sinks if foot in {"stud", "cap"} else length - sinks


def counted(text: str) -> float:
    """Printed turns such as 1 3/8 as a number."""
    return float(sum(Fraction(part) for part in text.split()))

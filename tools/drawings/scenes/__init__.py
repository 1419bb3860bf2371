"""Every drawing made here, by name. One module a stage of the work.

A drawing that looks otherwise in a country is there once more, with the rule set's name behind a dot.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from ..sketch import Sketch
from . import cash, food, goods, keep, moving, power, safe, see, site

SCENES: dict[str, Callable[[], Sketch]] = {
    scene.__name__.replace("_", "-"): scene
    for module in (site, moving, power, cash, goods, food, keep, safe, see)
    for scene in module.ALL
}
SCENES |= {f"outlet-test.{face}": partial(power.outlet_test, face) for face in power.TESTED if face != "us"}

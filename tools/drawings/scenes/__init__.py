"""Every drawing made here, by name. One module a stage of the work."""

from __future__ import annotations

from collections.abc import Callable

from ..sketch import Sketch
from . import cash, food, goods, keep, moving, power, safe, see, site

SCENES: dict[str, Callable[[], Sketch]] = {
    scene.__name__.replace("_", "-"): scene
    for module in (site, moving, power, cash, goods, food, keep, safe, see)
    for scene in module.ALL
}

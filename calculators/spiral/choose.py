"""The operator's coils ranked for a product, without a sheet: for charts and plans.

>>> from calculators.spiral.choose import best_coil
>>> ranked = best_coil(inputs, coils)     # doctest: +SKIP
>>> ranked[0].word, ranked[0].row.name    # doctest: +SKIP
('Best', 'seven-count')
"""

from __future__ import annotations

from collections.abc import Iterable

from ..core import Work, rules
from ..core.units import Units
from .inputs import CoilRow, Inputs
from .ranking import Choice, choices


def best_coil(inputs: Inputs, coils: Iterable[CoilRow], figures: rules.RuleSet | None = None,
              units: str = "us") -> list[Choice]:  # fmt: skip
    """Every coil tried for the product in its lane, the best first.

    ``inputs`` hold the product, the tray and the usable length of a coil, in inner units; their
    own coil and their own list of coils are not regarded. ``figures`` is the rule set (by default
    that of the US), ``units`` the system of the checks' words. A :class:`.ranking.Choice` has the
    row, ``rank`` and ``word``, ``opening`` and ``slack`` in millimetres, and the checks that a coil
    decides. Coils that tie keep their order. Pure: nothing given is changed.
    """
    # The calculator's definition imports this package's modules, so it is asked for late.
    from . import CALCULATOR
    from .solve import assess

    tried = Inputs(**{**inputs.__dict__, "coils": list(coils)})
    return choices(Work(CALCULATOR, tried, figures or rules.load("us"), Units(units)), assess)

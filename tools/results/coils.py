"""Every coil an operator owns for a product in a cabinet: calculated, and tried.

The spiral calculator tries and ranks the coils; a hand test of the fit book stands over it.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from calculators.core import rules as rule_sets
from calculators.core.own import with_own
from calculators.core.reading import read_record
from calculators.core.units import Units
from calculators.spiral.choose import best_coil
from calculators.spiral.inputs import Inputs
from calculators.spiral.ranking import why
from tools.book import fits

from . import asking

if TYPE_CHECKING:
    from tools.book.answers import Question
    from tools.book.data import OperatorData
    from tools.book.tables import Row

COIL = ("coil_count", "coil_outside", "wire", "coil_kind", "axis_offset")
# A sign beside each word, so that nothing is told by colour alone; best first.
SIGNS = {
    "Best": "★", "Usable": "✓", "Not known": "?", "Too loose": "↔", "Too tight": "›‹",
    "Does not suit": "✕",
}  # fmt: skip
KEPT = "Keep"
TRIED_SIGNS = {KEPT: "✓", **{word: SIGNS[word] for word in list(SIGNS)[3:]}}
GOOD = ("Best", "Usable")


@dataclass(frozen=True)
class Cell:
    """One product in one coil. ``order`` is the calculator's own, best first."""

    coil: Row
    order: int
    calculated: str
    opening: str
    why: str
    tried: Row | None = None

    @property
    def name(self) -> str:
        """What the operator calls the coil."""
        return self.coil.typed["name"]

    @property
    def word(self) -> str:
        """The verdict that stands: the test's, or else the calculated one."""
        if self.tried is None:
            return self.calculated
        verdict = self.tried.values["verdict"]
        return KEPT if verdict == fits.KEEP else fits.VERDICTS[verdict]

    @property
    def sign(self) -> str:
        """The sign beside the word."""
        return SIGNS[self.word] if self.tried is None else TRIED_SIGNS[self.word]

    @property
    def source(self) -> str:
        """Where the verdict comes from."""
        return "calculated" if self.tried is None else f"tried here {self.tried.typed['date']}"

    @property
    def suits(self) -> bool:
        """Whether the coil may be used."""
        return self.word == KEPT or self.word in GOOD

    @property
    def rank(self) -> tuple[int, int]:
        """Tried and kept first, then by the calculator; tried and found wanting last."""
        if self.tried is None:
            return 1 + list(SIGNS).index(self.calculated), self.order
        return (0 if self.word == KEPT else 1 + len(SIGNS)), self.order


@functools.lru_cache(maxsize=4096)
def judged(data: OperatorData, machine: str, product: str) -> tuple[Cell, ...]:
    """The coils that go into a cabinet, for one product of it, best first."""
    own = {row.typed["key"]: row for row in data.sold_in("coils", machine)}
    if not own:
        return ()
    found = [
        _cell(data, own[choice["coil"]], order, choice, machine, product)
        for order, choice in enumerate(data.answers.ask(ranked_question(data, machine, product)))
    ]
    return tuple(sorted(found, key=lambda cell: cell.rank))


def ranked_question(data: OperatorData, machine: str, product: str) -> Question:
    """What the ranking of the coils is asked; each coil bears its key for a name."""
    rows = [{**{key: row.typed[key] for key in (*COIL, "stock") if key in row.typed}, "name": row.typed["key"]}
            for row in data.sold_in("coils", machine)]  # fmt: skip
    filled = {**data.prefill("spiral", {"machine": machine, "product": product}), "coils": rows}
    return asking.question(data, "spiral", filled, ranking)


def ranking(_: str, request: dict[str, Any]) -> list[dict[str, Any]]:
    """The calculator's own ranking of a request's coils: name, verdict, opening (mm) and why."""
    rules = with_own(rule_sets.load(request["rules"]), request["local"])
    inputs: Any = read_record(Inputs, request["inputs"], request["units"])
    return [{"coil": each.row.name, "word": each.word, "opening": each.opening, "why": why(each)}
            for each in best_coil(inputs, inputs.coils, rules, request["units"])]  # fmt: skip


def _cell(data: OperatorData, coil: Row, order: int, choice: Mapping[str, Any], machine: str, product: str) -> Cell:
    tests = fits.tried(data, product, machine, coil.typed["key"])
    wide = choice["opening"] is None or math.isinf(choice["opening"])
    opening = "–" if wide else Units(data.units).text(choice["opening"], "length", "down")
    return Cell(coil, order, choice["word"], opening, choice["why"], tests[0] if tests else None)


def coil_of(coil: Row) -> dict[str, str]:
    """A coil's own inputs of the spiral calculator."""
    return {key: coil.typed[key] for key in COIL if key in coil.typed}


@functools.lru_cache(maxsize=512)
def _worked(data: OperatorData, machine: str, product: str, coil: str) -> dict[str, Any]:
    answer: dict[str, Any] = data.answers.told(question(data, machine, product, data.row("coils", coil)))
    return answer


def question(data: OperatorData, machine: str, product: str, coil: Row) -> Question:
    """What the spiral calculator is asked of one product in one coil of a cabinet."""
    # With the operator's coils and tests, so that no change names a coil that nobody has or that failed.
    filled = data.prefill("spiral", {"machine": machine, "product": product})
    return asking.question(data, "spiral", {**filled, **coil_of(coil)})


def worked(data: OperatorData, machine: str, product: str, coil: Row) -> dict[str, Any]:
    """The spiral calculator's whole answer for one product in one coil of a cabinet; not to be changed."""
    return _worked(data, machine, product, coil.typed["key"])


def run(data: OperatorData, inputs: Mapping[str, Any]) -> dict[str, Any]:
    """The spiral calculator on typed inputs, in the operator’s units and rules."""
    return asking.report(data, "spiral", inputs)

"""What a comparison says of a cabinet that stands free, that is fixed down, or whose anchors an engineer designed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from ..core import Work
from ..core.report import Mend
from ..core.work import judge
from .inputs import Inputs

Number = float | None

ENGINEER = "A licensed engineer designs the anchors, and a licensed trade fits them."
HELD = "Standing free it would not do. The engineer’s anchors hold it."
ON_PAPER = ("Not all of it is measured. Whatever it is, the engineer’s anchors hold it: compare the paper’s cabinet, load and "
            "place with yours.")  # fmt: skip
COMPARED = ("cabinet_width", "cabinet_depth", "cabinet_height", "cabinet_mass")
HOLDS, LOST, OPEN = "holds", "lost", "open"


class Found(NamedTuple):
    """A value between what is surely there and what there may be at best, its limit, and how far it may be off."""

    least: Number
    most: Number
    limit: Number
    off: float = 0.0

    @property
    def known(self) -> bool:
        """Whether all is there to compare."""
        return None not in (self.least, self.most, self.limit)

    def said(self) -> str:
        """Whether it holds whatever is not known, is lost at best, or is still open."""
        if self.least is None or self.most is None or self.limit is None:
            return OPEN
        if judge(self.least - self.limit, self.limit, self.off, False) == "pass":
            return HOLDS
        if judge(self.most - self.limit, self.limit, self.off, False) == "stop":
            return LOST
        return "near" if self.least == self.most else OPEN


class Judge:
    """Records the checks of one sheet, and remembers what an anchor is asked for."""

    def __init__(self, inputs: Inputs, work: Work) -> None:
        self.inputs, self.work = inputs, work
        self.seen: list[str] = []
        self.needs: list[str] = []

    @property
    def designed(self) -> bool:
        """Whether an engineer designed the anchors, and they are fitted."""
        return bool(self.inputs.anchored and self.inputs.anchor_paper)

    def check(self, key: str, found: Found, *, at: str = "", needs: Iterable[str] = (), note: str = "",
              mend: Mend | None = None) -> None:  # fmt: skip
        """One comparison; what fails is left to the anchors where these are designed."""
        said = found.said()
        self.seen.append(said)
        self.needs += needs if said == OPEN else ()
        if self.designed and said != HOLDS and (found.known or self._figures(key)):
            # With nothing of the cabinet told, nobody can have compared it with the paper: no go, and no stop either.
            sure = said != OPEN or any(getattr(self.inputs, path) is not None for path in COMPARED)
            self.work.verdict(key, sure, at=at, good=HELD if found.known else ON_PAPER, bad=ON_PAPER, soft=True, note=note)
            return
        value = {HOLDS: found.least, "near": found.least, LOST: found.most}.get(said)
        asked = (*needs, "anchored")
        if said == LOST and self.inputs.anchored is None:
            value, asked = None, ("anchored", "anchor_paper")
        made = self.work.check(key, value, found.limit, at=at, tolerance=found.off, needs=asked, note=note,
                               mend=mend or self.anchor(), instead=ENGINEER, soft=bool(self.inputs.anchored))  # fmt: skip
        # Held by anchors it is never a stop, whatever else is measured; without a figure it is not looked at at all.
        made.mild = bool(self.inputs.anchored) and self._figures(key)

    def _figures(self, key: str) -> bool:
        """Whether the rule set has the figures that a check compares with."""
        return None not in (self.work.rules.get(each) for each in self.work.calculator.check_spec(key).rules)

    def anchor(self) -> Mend | None:
        """Anchors by an engineer, as a change of inputs."""
        paper = self.work.mend("anchor_paper", True)
        fixed = None if self.inputs.anchored else self.work.mend("anchored", True, how=ENGINEER)
        return paper if self.inputs.anchored else self.work.mends(fixed, paper)

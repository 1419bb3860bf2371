"""A sheet whose open checks leave no doubt together, though each could still go either way.

Dear goods earn nothing and cheap ones run short: whatever the price is, the answer is “take care”. What the blanks may
hold is cut into pieces. In a piece each check lies between its outcomes at the corners (:mod:`.bounds`); where that
decides the sheet alike in every piece, it is decided. Two corners that answer differently end the search.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from .bounds import Bounds, Filling, Place
from .fields import Choice, Count, Money, Quantity
from .report import OUTCOMES, Check, overall

DEPTH = 16  # of pieces within pieces
RUNS = 40  # beside those that the checks took
SHORT = 1e-6  # of a piece: how far before the turn of a check it is cut, so that the check fails on its side
STOP, CAUTION, PASS = OUTCOMES.index("stop"), OUTCOMES.index("caution"), OUTCOMES.index("pass")

Sheet = Mapping[Place, Check]
Ranges = dict[str, tuple[Any, ...]]


class Decided(NamedTuple):
    """The outcome of a sheet, and what it rests on in words."""

    outcome: str
    text: str


class Piece(NamedTuple):
    """A part of what the blanks may hold: words that are chosen, and ranges by their ends."""

    words: Filling
    ranges: Ranges


def decide(bounds: Bounds, more: Iterable[str]) -> Decided | None:
    """The outcome that every filling of the blanks gives; None where they may differ."""
    search = _Search(bounds, list(more))
    outcome = search.over(Piece({}, {}))
    return None if outcome is None else Decided(outcome, search.told(outcome))


class _Search:
    def __init__(self, bounds: Bounds, more: list[str]) -> None:
        self.bounds, self.more = bounds, more
        self.most = bounds.runs + RUNS
        self.base: dict[Place, Check] = {(check.key, check.at): check for check in bounds.work.checks}
        self.rests: dict[Place, None] = {}
        self.blanks: dict[str, None] = {}

    def over(self, piece: Piece, depth: int = 0) -> str | None:
        """The one outcome of a piece."""
        if self.bounds.runs > self.most or depth > DEPTH:
            return None
        sheets = self._sheets(piece)
        said = self._surely(sheets) if sheets else None
        if said is not None:
            self.blanks |= dict.fromkeys((*piece.words, *piece.ranges))
            return said
        if not sheets or self._differs(sheets):
            return None
        outcome: str | None = None
        for part in self._parts(piece, sheets):
            other = self.over(part, depth + 1)
            if other is None or outcome not in (None, other):
                return None
            outcome = other
        return outcome

    def _sheets(self, piece: Piece) -> list[Sheet]:
        if not piece.words and not piece.ranges:
            return [self.base]
        return [self.bounds.checks(corner) for corner in self.bounds.corners(piece.words, piece.ranges)]

    def _differs(self, sheets: list[Sheet]) -> bool:
        known = {overall(list(sheet.values()), self.more) for sheet in sheets} - {"unknown"}
        return len(known) > 1

    # -- what a piece decides --------------------------------------------------------------

    def _surely(self, sheets: list[Sheet]) -> str | None:
        """The outcome that no filling of a piece can escape."""
        places = dict.fromkeys(place for sheet in (self.base, *sheets) for place in sheet)
        spans = {place: self._span(place, sheets) for place in places}
        for outcome in (STOP, CAUTION):
            failing = [place for place, (_, most) in spans.items() if most == outcome]
            if (failing or (outcome == CAUTION and self.more)) and all(
                outcome == STOP or least >= CAUTION for least, _ in spans.values()
            ):
                self.rests |= dict.fromkeys(failing)
                return OUTCOMES[outcome]
        whole = all(least == PASS for least, _ in spans.values())
        return "pass" if whole and spans and not self.more else None

    def _span(self, place: Place, sheets: list[Sheet]) -> tuple[int, int]:
        """The worst and the best that a check may be: an open one may be anything, a mild one no stop."""
        found = [_between(self._known(place, sheet)) for sheet in sheets]
        return min(least for least, _ in found), max(most for _, most in found)

    def _known(self, place: Place, sheet: Sheet) -> Check | None:
        """A check as a sheet has it; where it is open there and was decided whatever the blanks hold, as it was decided."""
        check, decided = sheet.get(place), self.base.get(place)
        return decided if check is not None and check.outcome == "unknown" and decided is not None else check

    # -- smaller pieces ----------------------------------------------------------------------

    def _parts(self, piece: Piece, sheets: list[Sheet]) -> list[Piece]:
        """A piece with one blank more filled in, or cut in two; [] where there is no way on."""
        path = next(self._wanted(piece, sheets), None)
        if path is None:
            return self._cut(piece, sheets)
        ends, field = self.bounds.ends(path) or (), self.bounds.work.find(path)[0]
        if not isinstance(field, Choice) or field.worse:
            return [Piece(piece.words, {**piece.ranges, path: ends})]
        chosen = ({**piece.words, path: word} for word in ends)
        return [Piece(words, piece.ranges) for words in chosen if self.bounds.allowed(words)]

    def _wanted(self, piece: Piece, sheets: list[Sheet]) -> Iterator[str]:
        """Blanks with ends that open checks rest on: first of those that could be a stop, and that lack least."""
        unknown = [check for sheet in sheets for place, check in sheet.items()
                   if check.outcome == "unknown" and self.base.get(place, check).outcome == "unknown"]  # fmt: skip
        for check in sorted(unknown, key=lambda check: (check.mild, len(check.needs))):
            yield from (path for path in check.needs if path not in piece.words and path not in piece.ranges
                        and self.bounds.ends(path))  # fmt: skip

    def _cut(self, piece: Piece, sheets: list[Sheet]) -> list[Piece]:
        wide = {path: _width(self.bounds, path, ends) for path, ends in piece.ranges.items()}
        path = max(wide, key=lambda each: wide[each], default=None)
        if path is None or not wide[path]:
            return []
        (low, high), field = sorted(piece.ranges[path]), self.bounds.work.find(path)[0]
        whole = isinstance(field, (Count, Money))
        at = low + (high - low) * self._turn(piece, path, low, high)
        first, then = (math.floor(at), math.floor(at) + 1) if whole else (at, at)
        return [Piece(piece.words, {**piece.ranges, path: ends}) for ends in ((low, first), (then, high))]

    def _turn(self, piece: Piece, path: str, low: Any, high: Any) -> float:
        """Where to cut, as a share of the range: between the turns of the checks, or just before the only one."""
        others = {each: ends for each, ends in piece.ranges.items() if each != path}
        turns: list[tuple[float, float]] = []
        for corner in self.bounds.corners(piece.words, others):
            before, after = (self.bounds.checks({**corner, path: end}) for end in (low, high))
            turns += _turns(before, after)
        ats = [at for at, _ in turns]
        if not ats:
            return 0.5
        cut = turns[0][0] + turns[0][1] * SHORT if max(ats) - min(ats) < SHORT else (min(ats) + max(ats)) / 2
        return cut if 0.0 < cut < 1.0 else 0.5

    # -- words ---------------------------------------------------------------------------------

    def told(self, outcome: str) -> str:
        """What is left blank, and what fails whatever stands there."""
        lead = f"Left blank: {self.bounds.listed(tuple(self.blanks))}. Whatever stands there"
        if outcome == "pass":
            return f"{lead}, every check holds."
        known = {(check.key, check.at): check.place for check in self.bounds.work.checks}
        places = [known[place] for place in self.rests if place in known]
        return f"{lead}, one of these fails: {'; '.join(places)}."


def _between(check: Check | None) -> tuple[int, int]:
    """The worst and the best of a check in one corner; one that is not made there holds."""
    if check is None:
        return PASS, PASS
    if check.outcome == "unknown":
        return (CAUTION if check.mild else STOP), PASS
    return OUTCOMES.index(check.outcome), OUTCOMES.index(check.outcome)


def _width(bounds: Bounds, path: str, ends: tuple[Any, ...]) -> float:
    """How wide a range is that may be cut, as a share of its field's; 0 where cutting it tells nothing."""
    field = bounds.work.find(path)[0]
    if field.worse or not isinstance(field, Quantity) or field.least is None or field.most is None:
        return 0.0
    return float(abs(ends[0] - ends[1]) / max(field.most - field.least, 1e-12))


def _turns(before: Sheet, after: Sheet) -> Iterator[tuple[float, float]]:
    """Where checks turn between two corners, were they straight; and on which side of that each fails."""
    for place, check in before.items():
        one, other = check.margin, None if place not in after else after[place].margin
        if one is not None and other is not None and one * other < 0:
            yield one / (one - other), -1.0 if one < 0 else 1.0

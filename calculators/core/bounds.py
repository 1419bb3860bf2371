"""What a blank may hide: a check that lacks measurements is decided where every value decides alike.

A blank is its whole range. Where each check goes one way along a field (its ``worse`` or
``ends``), the ends of the range bound all that lies between, so that two runs, or one for each
corner of several blanks, prove what holds for every value. Nothing is concluded from a field that
promises no such thing.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from .fields import Field, Quantity, Rows, ends_of
from .report import Check

if TYPE_CHECKING:
    from .work import Work

Filling = Mapping[str, Any]
Rerun = Callable[[Filling], "Work"]
# A phone must answer between two keystrokes; a check with more corners stays unknown.
CORNERS = 16
RUNS = 40
NAMED = 3


class Bounds:
    """The further runs of one question; ``rerun`` works it out with some blanks filled in."""

    def __init__(self, work: Work, rerun: Rerun) -> None:
        self.work = work
        self._rerun = rerun
        self._seen: dict[tuple[tuple[str, Any], ...], dict[tuple[str, str], Check]] = {}
        self._runs = 0

    def settle(self) -> None:
        """Decide each unknown check that comes out alike whatever its blanks hold."""
        for number, check in enumerate(self.work.checks):
            if check.outcome == "unknown" and check.needs:
                self.work.checks[number] = self._settled(check)

    def decisive(self) -> str | None:
        """The measurement that decides: the first whose ends give different answers."""
        open_checks = [check for check in self.work.checks if check.outcome == "unknown"]
        # One that lacks a single measurement is decided by that one, so these come first.
        open_checks.sort(key=lambda check: len(check.needs))
        wanted = list(dict.fromkeys(path for check in open_checks for path in check.needs))
        return next((path for path in wanted[:12] if self._flips(path)), next(iter(wanted), None))

    def _flips(self, path: str) -> bool:
        field = self.work.find(path)[0]
        ends = ends_of(field, self.work.rules) or _range(field)
        answers = [
            {place: check.outcome for place, check in self._checks({path: end}).items()}
            for end in ends
        ]
        return any(answer != answers[0] for answer in answers[1:])

    def _settled(self, check: Check) -> Check:
        found: list[Check] = []
        for filling in self._corners(check.needs):
            # A check that some filling does without has nothing against that filling.
            other = self._checks(filling).get((check.key, check.at))
            if other is None or other.outcome == "unknown" or self._runs > RUNS:
                return check
            found.append(other)
            if other.outcome != found[0].outcome:
                return check
        return self._said(check, found) if found else check

    def _corners(self, paths: tuple[str, ...]) -> Iterator[Filling]:
        ends = [ends_of(self.work.find(path)[0], self.work.rules) for path in paths]
        if any(end is None for end in ends):
            return iter(())
        if all(self.work.find(path)[0].worse for path in paths):
            # Every check goes the declared way, so that the best and the worst bound the rest.
            known = [end for end in ends if end]
            return iter([dict(zip(paths, (end[at] for end in known), strict=True)) for at in (-1, 0)])
        size = 1
        for end in ends:
            size *= len(end or ())
        if size > CORNERS:
            return iter(())
        corners = itertools.product(*(end or () for end in ends))
        return (dict(zip(paths, corner, strict=True)) for corner in corners)

    def _checks(self, filling: Filling) -> dict[tuple[str, str], Check]:
        key = tuple(sorted(filling.items()))
        if key not in self._seen:
            self._runs += 1
            checks = self._rerun(filling).checks
            self._seen[key] = {(check.key, check.at): check for check in checks}
        return self._seen[key]

    def _said(self, check: Check, found: list[Check]) -> Check:
        """The nearest corner tells by how much; the farthest gives the change that always works."""
        order = sorted(found, key=_margin)
        stopped = found[0].outcome == "stop"
        told = order[-1] if stopped else order[0]
        names = [self.work.label_of(path) for path in check.needs[:NAMED]]
        more = len(check.needs) - len(names)
        listed = " and ".join([*names, *([f"{more} more"] if more else [])])
        lead = f"{listed} not measured; {'at best' if stopped else 'at worst'}"
        told.text = f"{lead}: {told.text}"
        told.mend = order[0].mend
        told.needs = ()
        return told


def _margin(check: Check) -> float:
    return 0.0 if check.margin is None else check.margin


def _range(field: Field) -> tuple[Any, ...]:
    """Both ends of a field that promises nothing: enough to see that it matters, proof of nothing."""
    if isinstance(field, Quantity) and not isinstance(field, Rows):
        return tuple(end for end in (field.least, field.most) if end is not None)
    return ()

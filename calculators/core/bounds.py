"""What a blank may hide: a check that lacks measurements is decided where every value decides alike.

A blank is its whole range. Where each check goes one way along a field (its ``worse`` or
``ends``), the ends of the range bound all that lies between, so that two runs, or one for each
corner of several blanks, prove what holds for every value. Nothing is concluded from a field that
promises no such thing. :mod:`.whole` decides the sheet where no check of its own is.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from .fields import Choice, Count, Field, Money, Quantity, Rows, ends_of
from .report import Check

if TYPE_CHECKING:
    from .work import Work

Filling = Mapping[str, Any]
Rerun = Callable[[Filling], "Work"]
Allowed = Callable[[Filling], bool]
Place = tuple[str, str]
# A phone must answer between two keystrokes; a check with more corners stays unknown.
CORNERS = 16
RUNS = 40
NAMED = 3
HALVINGS = 40  # the last one moves an end by nothing that anybody measures
GRID = 24  # values tried for one that contradicts nothing


class Bounds:
    """The further runs of one question; ``rerun`` works it out with some blanks filled in.

    ``allowed`` says whether a filling contradicts nothing that is given.
    """

    def __init__(self, work: Work, rerun: Rerun, allowed: Allowed = lambda filling: True) -> None:
        self.work = work
        self.allowed = allowed
        self.runs = 0
        self._rerun = rerun
        self._seen: dict[tuple[tuple[str, Any], ...], dict[Place, Check]] = {}
        self._ends: dict[str, tuple[Any, ...] | None] = {}

    def settle(self) -> None:
        """Decide each unknown check that comes out alike whatever its blanks hold."""
        for number, check in enumerate(self.work.checks):
            if check.outcome == "unknown" and check.needs:
                found = self._alike((check.key, check.at), {}, check.needs)
                self.work.checks[number] = self._said(check, found) if found else check

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
            {place: check.outcome for place, check in self.checks({path: end}).items()}
            for end in ends
        ]
        return any(answer != answers[0] for answer in answers[1:])

    def _alike(self, place: Place, filling: Filling, needs: Iterable[str]) -> list[Check]:
        """The check in every corner of its blanks, and of what it asks for there; none where they differ."""
        found: list[Check] = []
        for corner in self._corners(filling, tuple(needs)):
            other = self.checks(corner).get(place)
            # A check that some filling does without has nothing against that filling.
            if other is None or self.runs > RUNS:
                return []
            if other.outcome != "unknown":
                more = [other]
            else:
                more = self._alike(place, corner, other.needs) if other.needs else []
            found += more
            if not more or any(each.outcome != found[0].outcome for each in more):
                return []
        return found

    def _corners(self, filling: Filling, paths: tuple[str, ...]) -> Iterator[Filling]:
        """A filling with blanks at their ends; one without ends stays blank, and may yet be nothing that counts."""
        ends = {path: each for path in paths if (each := self.ends(path))}
        return self.corners(filling, ends) if ends else iter(())

    def corners(self, filling: Filling, ends: Mapping[str, tuple[Any, ...]]) -> Iterator[Filling]:
        """A filling with given ends, best first, at every corner; nothing where these are too many."""
        # Every check goes the declared way, so that all at their best and all at their worst bound the rest.
        sure = [path for path in ends if self.work.find(path)[0].worse]
        sides = [{path: ends[path][at] for path in sure} for at in (-1, 0)] if sure else [{}]
        either = {path: words for path, words in ends.items() if path not in sure}
        size = len(sides)
        for words in either.values():
            size *= len(words)
        if size > CORNERS:
            return
        for words in itertools.product(*either.values()):
            chosen = dict(zip(either, words, strict=True))
            if self._fits({**filling, **chosen}):
                yield from ({**filling, **side, **chosen} for side in sides)

    def _fits(self, filling: Filling) -> bool:
        """Whether the words chosen contradict nothing; an end of a range may, and still bounds it."""
        words = {path: word for path, word in filling.items() if isinstance(self.work.find(path)[0], Choice)}
        return not words or self.allowed(words)

    def ends(self, path: str) -> tuple[Any, ...] | None:
        """The values, best first, that bound a blank, those left out that contradict what is given."""
        if path not in self._ends:
            field = self.work.find(path)[0]
            ends = ends_of(field, self.work.rules)
            self._ends[path] = ends if ends is None else self._left(path, field, ends)
        return self._ends[path]

    def _left(self, path: str, field: Field, ends: tuple[Any, ...]) -> tuple[Any, ...]:
        if isinstance(field, Choice):
            return tuple(word for word in ends if self.allowed({path: word})) or ends
        fit = [self.allowed({path: end}) for end in ends]
        inner = next((value for value in _grid(field, ends) if self.allowed({path: value})), None) if not all(fit) else None
        if inner is None:
            return ends
        return tuple(end if fits else self._border(path, field, inner, end) for end, fits in zip(ends, fit, strict=True))

    def _border(self, path: str, field: Field, fits: Any, not_: Any) -> Any:
        """How far a blank may go from an end that fits to one that does not: all that fits is one stretch."""
        whole = isinstance(field, (Count, Money))
        for _ in range(HALVINGS):
            middle = (fits + not_) // 2 if whole else (fits + not_) / 2
            if whole and abs(fits - not_) <= 1:
                break
            fits, not_ = (middle, not_) if self.allowed({path: middle}) else (fits, middle)
        return fits if whole else not_

    def checks(self, filling: Filling) -> dict[Place, Check]:
        """The checks of the sheet with a filling; one that is known is not run again."""
        key = tuple(sorted(filling.items()))
        if key not in self._seen:
            self.runs += 1
            checks = self._rerun(filling).checks
            self._seen[key] = {(check.key, check.at): check for check in checks}
        return self._seen[key]

    def listed(self, paths: tuple[str, ...]) -> str:
        """Blanks by name, the first few of them."""
        names = [self.work.label_of(path) for path in paths[:NAMED]]
        more = len(paths) - len(names)
        return " and ".join([*names, *([f"{more} more"] if more else [])])

    def _said(self, check: Check, found: list[Check]) -> Check:
        """The nearest corner tells by how much; the farthest gives the change that always works."""
        order = sorted(found, key=_margin)
        stopped = found[0].outcome == "stop"
        told = order[-1] if stopped else order[0]
        lead = f"{self.listed(check.needs)} not measured; {'at best' if stopped else 'at worst'}"
        told.text = f"{lead}: {told.text}"
        told.mend = order[0].mend
        told.needs = ()
        return told


def _grid(field: Field, ends: tuple[Any, ...]) -> Iterator[Any]:
    """Values from one end of a range to the other, both among them."""
    for number in range(GRID + 1):
        value = ends[0] + (ends[1] - ends[0]) * number / GRID
        yield round(value) if isinstance(field, (Count, Money)) else value


def _margin(check: Check) -> float:
    return 0.0 if check.margin is None else check.margin


def _range(field: Field) -> tuple[Any, ...]:
    """Both ends of a field that promises nothing: enough to see that it matters, proof of nothing."""
    if isinstance(field, Quantity) and not isinstance(field, Rows):
        return tuple(end for end in (field.least, field.most) if end is not None)
    return ()

"""Which coil the sheet is worked out for: the one on the form, the best of the operator's own, or one to buy.

Where the form leaves the coil open and coils are listed, "which coil?" is answered: the best of them,
or that none suits and the nearest to buy.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from ..core import Work
from . import ranking
from .inputs import KEPT, TRIED, UNTRIED, CoilRow, Inputs, OwnCoil
from .ranking import BEST, COIL, HELD, JUDGED, UNKNOWN, USABLE, Assess, Choice, name_of, tried_word

BY_COIL = (*JUDGED, "first")
SIZES = ("coil_count", "coil_outside", "wire")
LEAST, MOST = 2, 40  # turns; the field's own ends
NEAR = 6  # counts below the closest that still lets it in: one of them holds it if any does
BY_HAND = "The test by hand stands over the calculation."


@dataclass(frozen=True)
class Answer:
    """What the sheet is worked out for, and how the reader is told.

    ``inputs`` hold its coil. ``own`` is the operator's coil where one was taken for a form that
    names none. Where ``none`` of theirs suits, ``bought`` is the nearest to buy; if there is none
    to buy either, ``own`` is the one that misses by least.
    """

    inputs: Inputs
    own: Choice | None = None
    bought: Choice | None = None
    none: bool = False


def answer(inputs: Inputs, work: Work, choices: list[Choice], assess: Assess) -> Answer:
    """The coil that answers the question asked."""
    if all(getattr(inputs, key) is not None for key in SIZES):
        return Answer(inputs)
    asked = [each for each in choices if _fits_form(inputs, each.row)]
    if not asked:
        return Answer(inputs)
    best = next((each for each in asked if each.suits), None) or _open(asked)
    if best is None and _names_some(inputs):
        best = asked[0]
    if best:
        return Answer(ranking.with_coil(inputs, best.row), own=best)
    found = nearest(work, [each.row for each in choices], assess)
    shown = found or min(asked, key=_missing)
    return Answer(ranking.with_coil(inputs, shown.row), own=None if found else shown, bought=found, none=True)


def _missing(found: Choice) -> float:
    """By how much a coil that does not suit misses, for its limit."""
    stops = [check for check in found.checks.values() if check.outcome == "stop"]
    return max((-(each.margin or 0.0) / max(abs(each.limit or 0.0), 1e-9) for each in stops), default=math.inf)


def _fits_form(inputs: Inputs, row: CoilRow) -> bool:
    """Whether a row's coil is one that the form, as far as it is filled in, asks for."""
    asked = {key: getattr(inputs, key) for key in COIL if key in inputs.given or key in SIZES}
    return all(value is None or getattr(row, key) == value for key, value in asked.items())


def _names_some(inputs: Inputs) -> bool:
    """Whether the form says something of the coil: then that coil is judged, whether it suits or not."""
    return any(key in inputs.given for key in COIL)


def _open(asked: list[Choice]) -> Choice | None:
    """A coil of which it is not known yet whether it suits: then nobody may say that none does."""
    return next((each for each in asked if each.rank == UNKNOWN and each.row.stock != 0), None)


def nearest(work: Work, rows: list[CoilRow], assess: Assess) -> Choice | None:
    """The coil to buy: of the sizes that are in use, the count that holds the product best.

    None where no count does. A coil that is owned and was found wanting is never proposed.
    """
    found = [each for row in _kinds(rows) for each in _counts(work, row, rows, assess)]
    usable = [each for each in found if each.rank <= USABLE]
    return min(usable, key=lambda each: each.order[1:], default=None)


def least(inputs: Inputs) -> int:
    """The fewest turns with which a lane holds a product: those of a sale, and those left empty."""
    return max(LEAST, (inputs.turns_per_sale or 1) + (inputs.end_empty or 0))


def sized(row: CoilRow) -> bool:
    """Whether a row has all the sizes but its count, and of a pair how far apart."""
    asked = (row.coil_outside, row.wire, *((row.axis_offset,) if row.coil_kind == "dual" else ()))
    return None not in asked


def _kinds(rows: list[CoilRow]) -> list[CoilRow]:
    """One row of each diameter, wire and kind that is measured, pairs last."""
    seen: dict[tuple[Any, ...], CoilRow] = {}
    for row in rows:
        if sized(row):
            seen.setdefault(tuple(getattr(row, key) for key in COIL[1:]), row)
    return sorted(seen.values(), key=lambda row: row.coil_kind == "dual")


def _counts(work: Work, like: CoilRow, rows: list[CoilRow], assess: Assess) -> Iterator[Choice]:
    """The counts from the closest that still lets the product in downward, of those that hold one at all."""
    fewest = least(work.inputs)  # type: ignore[arg-type]

    def tried(count: int) -> Choice:
        return ranking.choice(work, _bought(like, count), 0, assess)

    low, high = fewest, MOST
    while low < high:
        middle = (low + high + 1) // 2
        goes_in = tried(middle).checks.get("goes_in")
        low, high = (middle, high) if goes_in and goes_in.outcome in ("pass", "caution") else (low, middle - 1)
    for count in range(low, max(low - NEAR, fewest) - 1, -1):
        if not any(_same(row, _bought(like, count)) for row in rows):
            yield tried(count)


def _bought(like: CoilRow, count: int) -> OwnCoil:
    return OwnCoil(coil_count=count, **{key: getattr(like, key) for key in COIL[1:]})


def _same(row: CoilRow, other: CoilRow) -> bool:
    """The same coil, which more can be bought of only where the tests by hand do not speak against it."""
    alike = all(getattr(row, key) == getattr(other, key) for key in COIL)
    return alike and (row.stock != 0 or tried_word(row) not in (UNTRIED, KEPT))


# -- how it is told ---------------------------------------------------------------------


def tell(work: Work, found: Answer, choices: list[Choice]) -> None:
    """Says which coil the sheet is for, and what a test by hand said of it."""
    if found.none:
        _none(work, found, choices)
    elif found.own:
        _own(work, found.own)
    best = next((each for each in choices if each.rank == BEST), None)
    if best and best is not found.own:
        work.actions.append(f"Best of your coils: {best.name}.")
    tested = None if found.none else found.own or _on_form(found, choices)
    if tested and tested.tried in TRIED and tested.tried != UNTRIED:
        _by_hand(work, tested, tested.name if found.own else "")
    elif tested is None and not found.none:
        _perhaps_by_hand(work, found, choices)


def _own(work: Work, own: Choice) -> None:
    """Every check of the sheet is said of that coil, so that the headline names it."""
    if own.rank == BEST:
        work.verdict("own", True, good=f"Best of your coils: {own.name}.")
        work.actions.insert(0, f"Best of your coils: {own.name}. All below is worked out for it, because no coil was "
                               "chosen.")  # fmt: skip
    for check in work.checks:
        if check.key != "own":
            check.at = own.name


def _none(work: Work, found: Answer, choices: list[Choice]) -> None:
    """The stop decides the sheet: what is worked out is for a coil that is not there."""
    if found.bought:
        what = described(found.bought.row, [each.row for each in choices])
        work.verdict("own", False, bad=f"None of your coils suits it. Nearest to buy: {what}. All else here is worked "
                     "out for it.", instead=f"Buy {what}, or sell another product there.")  # fmt: skip
    elif found.own:
        # Its own stops are told here once; beside the verdict they would decide in its stead.
        work.checks[:] = [check for check in work.checks if check.key not in BY_COIL or check.outcome != "stop"]
        work.verdict("own", False, bad="None of your coils suits it, and no other count of their sizes does. Nearest is "
                     f"your {found.own.name}: {ranking.why(found.own)}", instead="Sell another product there, or "
                     "this one in another lane.")  # fmt: skip


def described(row: CoilRow, rows: Sequence[CoilRow]) -> str:
    """A coil by its turns, as large as one that the operator knows."""
    name = f"a {'pair' if row.coil_kind == 'dual' else 'coil'} of {row.coil_count} turns"
    like = next((each for each in rows if all(getattr(each, key) == getattr(row, key) for key in COIL[1:])), None)
    return f"{name}, as large as your {name_of(like.name, like.coil_count, like.coil_kind)}" if like else name


def _on_form(found: Answer, choices: list[Choice]) -> Choice | None:
    """The row of the coil that the form names."""
    return next((each for each in choices
                 if all(getattr(each.row, key) == getattr(found.inputs, key) for key in COIL)), None)  # fmt: skip


def _perhaps_by_hand(work: Work, found: Answer, choices: list[Choice]) -> None:
    """A coil that failed by hand, and of which only what is not measured could tell it from the form's: it may be that one."""
    given = {key: getattr(found.inputs, key) for key in COIL}
    for each in choices:
        row = {key: getattr(each.row, key) for key in COIL}
        blank = [key for key in COIL if row[key] is None and given[key] is not None]
        failed = each.tried in TRIED and each.tried not in (UNTRIED, KEPT)
        if failed and blank and all(row[key] in (None, given[key]) for key in COIL):
            work.verdict("tried", None, needs=[f"coils.{each.number}.{key}" for key in blank])
            return


def _by_hand(work: Work, tested: Choice, at: str) -> None:
    """A test stands over the calculation: one that was kept is never stopped by how its coil holds the product."""
    kept = tested.tried == KEPT
    words = f"Tried by hand in this cabinet: {TRIED[tested.tried].lower()}."
    work.verdict("tried", kept, good=words, bad=words, at=at, instead="Use another coil.")
    for check in work.checks:
        if kept and check.key in (*HELD, "first") and check.outcome == "stop":
            check.outcome = "caution"
            check.note = f"{check.note} {BY_HAND}".strip()

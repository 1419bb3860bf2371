"""The one change that would make it fit: every mend of a failed check tried on the whole sheet."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core import Choice, Work
from ..core.report import Check, Mend
from .contradictions import find
from .front import agree
from .inputs import Inputs
from .mends import applied
from .solve import checks

MOST = 10  # changes tried; a sheet with more failures than that has no one change
# What costs least comes first: a later change must mend more to be named instead.
CHEAP = ("skid", "leaf_off", "tilt", "crew", "riders", "mover", "outdoors")


class Tried(NamedTuple):
    """A change, and how many checks still fail after it."""

    mend: Mend
    left: int


def finish(inputs: Inputs, work: Work) -> None:
    """Name the change that mends most, and whether it is enough by itself."""
    failing = _failing(work)
    if failing < 2:
        return  # one failure has its own change beside it
    agree(work)
    tried = [Tried(mend, _left(work, mend)) for mend in _candidates(inputs, work)]
    useful = [each for each in tried if each.left < failing]
    work.actions.insert(0, _sentence(work, useful, failing))
    if useful:
        work.table(
            "changes", "What one change would do",
            {"change": "Change", "mended": "Checks mended", "left": "Checks left"},
            [(each.mend.text, str(failing - each.left), str(each.left)) for each in useful],
            "Each change was tried on the whole sheet, as printed.", detail=True,
        )  # fmt: skip


def _sentence(work: Work, useful: list[Tried], failing: int) -> str:
    best = min(useful, key=lambda each: each.left, default=None)
    if best and not best.left:
        return f"One change is enough. {best.mend.text}"
    every = _merged(work, [check.mend for check in _failed(work)])
    if every and not _left(work, every):
        return "No one change is enough. All the changes below together are."
    if best is None:
        return "No one change mends any part of this: look for another way in, or another spot."
    return f"No one change is enough. This mends most, {failing - best.left} of {failing}: {best.mend.text}"


def _merged(work: Work, parts: list[Mend | None]) -> Mend | None:
    """All changes at once; where two are of one input, that which goes farther does for both."""
    changes: dict[str, Any] = {}
    for part in parts:
        if part is None:
            return None
        for path, typed in part.changes.items():
            changes[path] = _farther(work, path, changes[path], typed) if path in changes else typed
    return Mend("", changes)


def _farther(work: Work, path: str, one: Any, other: Any) -> Any:
    field, now = work.find(path)
    if isinstance(field, Choice) or now is None:
        return other
    ways = [abs(field.read(typed, work.show.system) - now) for typed in (one, other)]
    return one if ways[0] > ways[1] else other


def _failed(work: Work) -> list[Check]:
    return [check for check in work.checks if check.outcome in ("stop", "caution")]


def _failing(work: Work) -> int:
    return len(_failed(work))


def _left(work: Work, mend: Mend) -> int:
    inputs = applied(work, mend)
    if any(find(inputs, work.show)):
        return len(work.checks)  # a change that the form refuses mends nothing
    again = Work(work.calculator, inputs, work.rules, work.show)
    checks(inputs, again)
    return _failing(again)


def _candidates(inputs: Inputs, work: Work) -> list[Mend]:
    """Each different change, what costs least first."""
    found: dict[tuple[Any, ...], Mend] = {}
    for mend in (*_general(inputs, work), *(check.mend for check in work.checks if check.mend)):
        found.setdefault(tuple(sorted(mend.changes.items())), mend)
    return sorted(found.values(), key=_cost)[:MOST]


def _general(inputs: Inputs, work: Work) -> list[Mend]:
    """Changes that may help several legs at once, whatever check asked for them."""
    tries: list[Mend | None] = []
    if inputs.skid == "on":
        tries.append(work.mend("skid", "off", how="Take it off its skid."))
    if inputs.mover == "people" and inputs.crew is not None:
        tries.append(work.mend("mover", "powered", how="Let a machine move it."))
    return [mend for mend in tries if mend is not None]


def _cost(mend: Mend) -> tuple[int, int]:
    names: list[Any] = [path.rsplit(".", 1)[-1] for path in mend.changes]
    return len(names), max(CHEAP.index(name) if name in CHEAP else len(CHEAP) for name in names)

"""Changes that turn a failing check to pass: each is tried on a scratch sheet before it is printed.

A change is one that can be made: a coil that the operator owns and has not found wanting, or one "to
buy". One sheet names one coil and one value of each input, and no change makes another check stop.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ..core import Work
from ..core.report import Check, Mend
from . import owned
from .fit import Found
from .inputs import CoilRow, Inputs, OwnCoil
from .ranking import COIL, Assess, Choice, scratch

BY_COIL = ("goes_in", "middle", "held", "lean", "upright", "ride", "coil_lane", "side", "lane", "first")
BY_PLACE = ("goes_in", "middle", "ride", "lean", "upright")
FAILING = ("stop", "caution")
RULER = 1.0  # mm; more than what is just enough


def put(work: Work, choices: list[Choice], assess: Assess) -> None:
    """The first change that works beside each failing check, none against another."""
    coils = list(other_coils(work, choices, assess))
    made: list[Mend] = []
    for check in work.checks:
        if check.outcome in FAILING:
            check.mend = _find(work, check, coils, made, assess)
            made += [check.mend] if check.mend else []


def _find(work: Work, check: Check, coils: list[Mend], made: list[Mend], assess: Assess) -> Mend | None:
    """The first change that works, one that is told already before others; None where no input can mend it."""
    tried = (mend for mend in (*made, *_candidates(work, check, coils, assess)) if mend is not None)
    return next((mend for mend in tried if not _against(mend, made) and _passes(work, mend, check.key, assess)), None)


def _against(mend: Mend, made: list[Mend]) -> bool:
    """Whether it asks for another value of an input that a change beside it asks for too."""
    return any(path in other.changes and other.changes[path] != typed
               for other in made for path, typed in mend.changes.items())  # fmt: skip


def applied(work: Work, mend: Mend) -> Inputs:
    """The inputs with a mend's changes read from its printed words."""
    inputs: Inputs = work.inputs.retyped(mend.changes, work.show.system)  # type: ignore[assignment]
    return inputs


def _passes(work: Work, mend: Mend, key: str, assess: Assess) -> bool:
    """Whether the check passes then, and no other check stops that did not."""
    _, checks = scratch(work, applied(work, mend), assess)
    stopped = {check.key for check in work.checks if check.outcome == "stop"}
    if any(check.outcome == "stop" and other not in stopped for other, check in checks.items()):
        return False
    # A single coil's wire before and behind it is told only where it is missing.
    return checks[key].outcome == "pass" if key in checks else key in ("held", "middle")


def _candidates(work: Work, check: Check, coils: list[Mend], assess: Assess) -> Iterator[Mend | None]:
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    if check.key in ("lane", "coil_lane"):
        yield from _wider(work, check, assess)
    if check.key in ("held", "lean", "upright"):
        yield from _raised(work, inputs)
    if check.key in BY_PLACE:
        yield from placed(work, inputs)
    if check.key in BY_COIL:
        yield from coils
    if check.key in ("side", "aside"):
        yield from _sides(work, check, assess)
    elif check.key == "first":
        yield from ends(work, inputs)
    elif check.key not in BY_COIL:
        yield _measure(work, check)


# -- another coil -----------------------------------------------------------------------


def other_coils(work: Work, choices: list[Choice], assess: Assess) -> Iterator[Mend]:
    """The best of the operator's own coils, or else the nearest to buy; never the one on the sheet."""
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    best = next((each for each in choices if each.suits), None)
    rows = [each.row for each in choices]
    how = f"Use your coil {best.name}." if best else ""
    if best is None:
        best = owned.nearest(work, rows or _on_sheet(inputs), assess)
        how = f"{'To buy' if rows else 'Another coil'}: {owned.described(best.row, rows)}." if best else ""
    if best and any(getattr(best.row, key) != getattr(inputs, key) for key in COIL):
        mend = _coil(work, best, how)
        yield from [mend] if mend else []


def _on_sheet(inputs: Inputs) -> list[CoilRow]:
    """The form's own coil as one whose size is in use; none where it is not measured."""
    row = OwnCoil(**{key: getattr(inputs, key) for key in COIL})
    return [row] if owned.sized(row) else []


def _coil(work: Work, found: Choice, how: str) -> Mend | None:
    keys = COIL if found.row.coil_kind == "dual" else COIL[:-1]
    return work.mends(*(work.mend(key, getattr(found.row, key), how=how if key == keys[0] else "") for key in keys))


# -- the same coil ----------------------------------------------------------------------


def placed(work: Work, inputs: Inputs) -> Iterator[Mend | None]:
    """The same pack in the same coil, put in another way."""
    if inputs.shape == "flat" and not inputs.may_skew:
        yield work.mend("may_skew", True, how="Let it stand skewed.")
    if inputs.shape == "flat" and not inputs.may_turn:
        yield work.mend("may_turn", True, how="Turn it sideways.")


def ends(work: Work, inputs: Inputs) -> Iterator[Mend | None]:
    """The first turn left empty, or the coil's end at another hour."""
    if inputs.end_empty < 3 and owned.least(inputs) < (inputs.coil_count or 0):
        yield work.mend("end_empty", inputs.end_empty + 1, how="Leave the first turn empty.")
    yield from (work.mend("end_clock", hour, how="Set the coil so that its end points elsewhere.")
                for hour in range(1, 13))  # fmt: skip


def _raised(work: Work, inputs: Inputs) -> Iterator[Mend | None]:
    """A riser that brings a low product up among the upper half turns."""
    if inputs.coil_outside is not None and inputs.height is not None:
        for share in (2, 1):
            yield work.mend("strip_height", inputs.coil_outside / share - inputs.height / share, "at least",
                            beyond=RULER, how="Stand it on a riser.")  # fmt: skip


def _wider(work: Work, check: Check, assess: Assess) -> Iterator[Mend | None]:
    """A lane as wide as is wanted; a wider lane may let a pack skew, which wants more again."""
    wanted = check.limit
    for _ in range(4):
        mend = work.mend("lane_width", wanted, "at least", beyond=check.tolerance, how="A wider lane.")
        yield mend
        if mend is None:
            return
        _, checks = scratch(work, applied(work, mend), assess)
        again = checks.get(check.key)
        wanted = again.limit if again else None


def _sides(work: Work, check: Check, assess: Assess) -> Iterator[Mend | None]:
    """A rail above the middle of mass, or a lane narrow enough that it cannot lean, or stand aside, so far."""
    found, checks = scratch(work, work.inputs, assess)  # type: ignore[arg-type]
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    if check.key == "side" and found.middle is not None:
        off = work.tolerance("rail_height", "height")
        yield work.mend("rail_height", max(found.middle + off, _rests_at(work, found)), "at least", how="A higher divider or rail.")
    wanted = [each.limit + each.tolerance for key, each in checks.items()
              if key in ("lane", "coil_lane") and each.limit is not None]  # fmt: skip
    if wanted and inputs.lane_width is not None:
        # Narrower by all that product and coil can spare, and still wide enough beyond what the tape may hide.
        narrow = work.show.rounded(max(wanted) + RULER, "length", "up")
        if (inputs.field("lane_width").least or 0.0) <= narrow < inputs.lane_width:
            yield work.mend("lane_width", narrow, how="A narrower lane.")


def _rests_at(work: Work, found: Found) -> float:
    """The least rail against which it rests at no more than the greatest lean, with all that the measuring may hide."""
    most, play = work.inner("goods.lean_most"), found.play
    if most is None or play is None or found.foot is None:
        return 0.0
    off, slope = work.tolerance("lane_width", "rail_height"), math.tan(math.radians(most))
    both = max(play, 0.0) + off  # of the sum of both angles, solved for the height
    return found.foot + (both + math.sqrt(both * both + 4 * max(play, 0.0) * off * slope * slope)) / (2 * slope)


def _measure(work: Work, check: Check) -> Mend | None:
    """The one input that the check compares, made as large or as small as is wanted."""
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    limit, off = check.limit, check.tolerance
    if limit is None or check.value is None:
        return None
    if check.key == "drop":
        least = inputs.drop_height - (check.value - limit)
        return work.mend("drop_height", least, "at most", beyond=off, how="A lower tray.")
    path, target, sense, how = {
        "pair": ("axis_offset", limit / 2, "at least", ""),
        "foot": ("foot_diameter", limit, "at most", ""),
        "thin": ("thin_end", limit, "at most", ""),
        "height": ("height_above", limit, "at least", "A tray with more room."),
        "short": ("strip_height", limit - (inputs.height or 0.0), "at least", "Stand it on a riser."),
    }.get(check.key, ("", 0.0, "", ""))
    return work.mend(path, target, sense, beyond=off, how=how) if path else None

"""Changes that turn a failing check to pass: each is tried on a scratch sheet before it is printed."""

from __future__ import annotations

import copy
from collections.abc import Iterator

from ..core import Work
from ..core.report import Check, Mend
from .inputs import Inputs
from .ranking import Assess, Choice, scratch

BY_COIL = ("goes_in", "middle", "held", "lean", "upright", "ride", "coil_lane", "side", "lane")
RULER = 1.0  # mm; more than what is just enough
MOST_COUNTS = 8  # neighbours in count that are tried; beyond them another coil is wanted


def find(work: Work, check: Check, choices: list[Choice], assess: Assess) -> Mend | None:
    """The first change that works, the plainest first; None where no input can mend it."""
    return next((mend for mend in _candidates(work, check, choices, assess)
                 if mend is not None and _passes(work, mend, check.key, assess)), None)  # fmt: skip


def applied(work: Work, mend: Mend) -> Inputs:
    """The inputs with a mend's changes read from its printed words."""
    inputs: Inputs = copy.copy(work.inputs)  # type: ignore[assignment]
    inputs.__dict__ = dict(work.inputs.__dict__)
    for path, typed in mend.changes.items():
        inputs.__dict__[path] = type(inputs).field(path).read(typed, work.show.system)
    return inputs


def _passes(work: Work, mend: Mend, key: str, assess: Assess) -> bool:
    _, checks = scratch(work, applied(work, mend), assess)
    # A single coil's wire before and behind it is told only where it is missing.
    return checks[key].outcome == "pass" if key in checks else key == "held"


def _candidates(work: Work, check: Check, choices: list[Choice], assess: Assess) -> Iterator[Mend | None]:
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    if check.key in ("lane", "coil_lane"):
        yield from _wider(work, check, assess)
    if check.key in BY_COIL:
        yield from (own(work, each) for each in choices if each.rank < 2 and each.row.stock != 0)
    if check.key in ("held", "lean"):
        yield from _raised(work, inputs)
    if check.key in ("goes_in", "middle", "ride", "lean", "upright"):
        yield from placed(work, inputs)
        yield from counts(work, inputs, 1 if check.key == "lean" else -1)
    elif check.key == "side":
        yield from _sides(work, check, assess)
    elif check.key == "first":
        yield from ends(work, inputs)
    elif check.key != "held":
        yield _measure(work, check)


def own(work: Work, choice: Choice) -> Mend | None:
    """One of the operator's own coils."""
    row = choice.row
    keys = ["coil_count", "coil_outside", "wire", "coil_kind"]
    if row.coil_kind == "dual":
        keys.append("axis_offset")
    how = f"Use your coil {row.name}." if row.name else "Use another of your coils."
    return work.mends(*(work.mend(key, getattr(row, key), how=how if key == keys[0] else "") for key in keys))


def placed(work: Work, inputs: Inputs) -> Iterator[Mend | None]:
    """The same pack in the same coil, put in another way."""
    if inputs.shape == "flat" and not inputs.may_skew:
        yield work.mend("may_skew", True, how="Let it stand skewed.")
    if inputs.shape == "flat" and not inputs.may_turn:
        yield work.mend("may_turn", True, how="Turn it sideways.")


def counts(work: Work, inputs: Inputs, step: int, most: int = MOST_COUNTS) -> Iterator[Mend | None]:
    """The same coil with fewer turns (−1) or more (+1), the nearest first."""
    field = type(inputs).field("coil_count")
    if inputs.coil_count is None or field.least is None or field.most is None:
        return
    how = "A coil with more turns." if step > 0 else "A coil with fewer turns."
    for count in range(inputs.coil_count + step, inputs.coil_count + step * (most + 1), step):
        if field.least <= count <= field.most:
            yield work.mend("coil_count", count, how=how)


def ends(work: Work, inputs: Inputs) -> Iterator[Mend | None]:
    """The first turn left empty, or the coil's end at another hour."""
    if inputs.end_empty < 3:
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
    """A rail above the middle of mass, or a lane narrow enough that it cannot lean so far."""
    found, _ = scratch(work, work.inputs, assess)  # type: ignore[arg-type]
    inputs: Inputs = work.inputs  # type: ignore[assignment]
    if found.middle is not None:
        off = work.tolerance("rail_height", "height")
        yield work.mend("rail_height", found.middle + off, "at least", how="A higher divider or rail.")
    if found.wanted_lane is not None and inputs.lane_width is not None:
        yield work.mend("lane_width", found.wanted_lane, "at least", beyond=2.0, how="A narrower lane.")


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

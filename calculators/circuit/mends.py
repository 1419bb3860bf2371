"""Changes that turn a check to pass: each is tried on a sheet of its own before it is printed.

What an operator may do alone comes first; where wiring is wanted the text begins with a
licensed electrician.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from typing import Any

from ..core import Work
from ..core.fields import Rows, is_unknown
from ..core.report import Check, Mend
from .inputs import BREAKERS, RATINGS, SIZES, Inputs

OWN = "Use an outlet on a circuit of its own, with the same breaker and wire."
WIRED = "Have a licensed electrician put in a circuit for it alone."
RUN_KEYS = ("drop", "volts_running", "volts_starting")
Fill = Callable[[Inputs, Work], object]


def attach(work: Work, fill: Fill) -> None:
    """Give every failed check the first change that passes it, where there is one."""
    open_checks = [each for each in work.checks
                   if each.outcome in ("stop", "caution") and each.mend is None]  # fmt: skip
    for mend in _candidates(work) if open_checks else ():
        if not open_checks:
            return
        passed = _passing(work, mend, fill)
        for check in [each for each in open_checks if each.key in passed]:
            check.mend = mend
            open_checks.remove(check)
    for check in open_checks:
        check.mend = _nearer(work, check, fill)


def _passing(work: Work, mend: Mend, fill: Fill) -> set[str]:
    trial = Work(work.calculator, applied(work, mend), work.rules, work.show)
    fill(trial.inputs, trial)  # type: ignore[arg-type]
    return {check.key for check in trial.checks if check.outcome == "pass"}


def applied(work: Work, mend: Mend) -> Inputs:
    """The inputs with a mend's changes read from its printed words."""
    inputs: Inputs = copy.copy(work.inputs)  # type: ignore[assignment]
    for path, typed in mend.changes.items():
        field = Inputs.field(path)
        if isinstance(field, Rows):
            kept = [row for row in inputs.loads or [] if row.plugged is False]
            inputs.__dict__[path] = kept if typed else []
        elif is_unknown(typed):
            inputs.__dict__[path] = None
        else:
            inputs.__dict__[path] = field.read(typed, work.show.system)
    return inputs


def _candidates(work: Work) -> Iterator[Mend]:
    """Every change worth trying, the easiest first."""
    inputs: Any = work.inputs
    own = _own(work)
    if own is not None:
        yield own
    if any(row.plugged for row in inputs.loads or []):
        yield _without_plugged(work)
    if inputs.cabinet_count > 1:
        yield _change(work, "Plug the other cabinets into other circuits.", {"cabinet_count": 1})
    if inputs.material == "copper":
        yield from _wired(work)
    yield from _receptacles(work)


def _own(work: Work) -> Mend | None:
    """A circuit of its own; None where it has one already."""
    inputs: Any = work.inputs
    wanted = {"dedicated": True, "outlets": 1, "cabinet_count": 1}
    changes = {key: value for key, value in wanted.items() if getattr(inputs, key) != value}
    if not changes and not inputs.loads:
        return None
    return _change(work, OWN, {**changes, **_cleared(work)}, loads=[])


def _without_plugged(work: Work) -> Mend:
    inputs: Any = work.inputs
    kept = [type(row).shown(row.values(), work.show) for row in inputs.loads if row.plugged is False]
    return _change(work, "Move what is plugged in beside it to another circuit.", {}, loads=kept)


def _cleared(work: Work) -> dict[str, Any]:
    """Readings taken at the old outlet do not hold for the new one."""
    inputs: Any = work.inputs
    return {key: None for key in ("volts_loaded", "test_amps") if getattr(inputs, key) is not None}


def _wired(work: Work) -> Iterator[Mend]:
    """Larger wire, then a circuit of its own with larger wire or breaker."""
    inputs: Any = work.inputs
    larger = [size for size in SIZES if inputs.conductor and SIZES.index(size) > SIZES.index(inputs.conductor)]
    for size in larger:
        yield _change(work, "Have a licensed electrician put in larger wire.",
                      {"conductor": size, **_cleared(work)})  # fmt: skip
    alone = {"dedicated": True, "outlets": 1, "cabinet_count": 1, **_cleared(work)}
    for breaker in BREAKERS:
        if inputs.breaker and BREAKERS.index(breaker) < BREAKERS.index(inputs.breaker):
            continue
        fitting = [size for size in SIZES if (work.inner(f"conductors.breaker_{size}") or 0.0) >= float(breaker)]
        for size in fitting:
            yield _change(work, WIRED, {**alone, "breaker": breaker, "conductor": size,
                                        "receptacle_rating": breaker}, loads=[])  # fmt: skip


def _receptacles(work: Work) -> Iterator[Mend]:
    inputs: Any = work.inputs
    for rating in RATINGS.get(inputs.breaker, ()):
        yield _change(work, "Have a licensed electrician fit the right receptacle.",
                      {"receptacle_rating": rating})  # fmt: skip


def _nearer(work: Work, check: Check, fill: Fill) -> Mend | None:
    """A shorter run, found by halving, where nothing else helps the voltage."""
    inputs: Any = work.inputs
    if check.key not in RUN_KEYS or inputs.run is None:
        return None
    low, high = 0.0, inputs.run
    for _ in range(14):
        middle = (low + high) / 2
        mend = _shorter(work, middle)
        good = mend is not None and check.key in _passing(work, mend, fill)
        low, high = (middle, high) if good else (low, middle)
    mend = _shorter(work, low)
    return mend if mend is not None and check.key in _passing(work, mend, fill) else None


def _shorter(work: Work, run: float) -> Mend | None:
    mend = work.mend("run", run, "at most", how="Use a like outlet nearer the panel.")
    cleared = _cleared(work)
    if mend is None or not cleared:
        return mend
    return work.mends(mend, _change(work, "", cleared))


def _change(
    work: Work, how: str, values: dict[str, Any], loads: list[dict[str, Any]] | None = None
) -> Mend:
    """Several inputs set at once, in the words of the form; None clears one."""
    parts = []
    changes: dict[str, Any] = {}
    for path, value in values.items():
        changes[path] = "" if value is None else Inputs.field(path).shown(value, work.show)
        word = "read again" if value is None else _word(path, changes[path])
        parts.append(f"{Inputs.field(path).label}: {word}.")
    if loads is not None:
        changes["loads"] = loads
        parts.append("What else is on the circuit: " + ("fixed things only." if loads else "nothing."))
    return Mend(" ".join(filter(None, (how, *parts))), changes)


def _word(path: str, shown: str) -> str:
    options: dict[str, str] = getattr(Inputs.field(path), "options", {})
    return options.get(shown, shown)

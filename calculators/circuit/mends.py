"""Changes that turn a check to pass: each is tried on a sheet of its own before it is printed.

What an operator may do alone comes first; where wiring is wanted the text begins with a
licensed electrician.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from ..core import Work
from ..core.fields import Rows
from ..core.report import Check, Mend
from .breaker import ratings
from .conductor import key, limit, sizes
from .inputs import Inputs

OWN = "Use an outlet on a circuit of its own, with the same breaker and wire."
WIRED = "Have a {electrician} put in a circuit for it alone."
# What each kind of change can mend; a trial that cannot help is not made.
WIRE_KEYS = {"wire_breaker", "wire_load", "drop", "drop_total", "volts_running", "volts_starting"}
PLUG_KEYS = {"receptacle", "receptacle_load"}
SHARE_KEYS = {"breaker_load", "own_circuit", "shared_size", "plug_share", "fixed_share", "leakage"}
VOLT_KEYS = ("volts_running", "volts_starting")
RUN_KEYS = ("drop", "drop_total", *VOLT_KEYS)
Fill = Callable[[Inputs, Work], object]
# The checks that pass with a run, by the run as it is printed: halving asks for the same ones again.
Tried = dict[str, set[tuple[str, str]]]


def attach(work: Work, fill: Fill) -> None:
    """Give every failed check the first change that passes it, where there is one."""
    open_checks = [each for each in work.checks
                   if each.outcome in ("stop", "caution") and each.mend is None
                   and each.key in WIRE_KEYS | PLUG_KEYS | SHARE_KEYS and not (each.key in VOLT_KEYS and _low(work))]  # fmt: skip
    wired: list[Check] = []
    thickest: set[tuple[str, str]] = set()  # what passes with the last size that was wanted
    for mend, helps in _candidates(work):
        if not any(each.key in helps for each in open_checks):
            continue
        passed = _passing(work, mend, fill)
        for check in [each for each in open_checks if (each.key, each.at) in passed]:
            check.mend = mend
            open_checks.remove(check)
            if helps is WIRE_KEYS:
                wired.append(check)
                thickest = passed
    # A size that one check asks for may leave another at stop: the thickest asked for does for all of them.
    for check in [each for each in wired if (each.key, each.at) in thickest]:
        check.mend = wired[-1].mend
    tried: Tried = {}
    for check in open_checks:
        check.mend = _nearer(work, check, fill, tried)


def _low(work: Work) -> bool:
    """Whether the supply itself is what is low, which no wire, outlet or way of the wire mends."""
    return any(check.key == "read_low" and check.outcome in ("stop", "caution") for check in work.checks)


def _passing(work: Work, mend: Mend, fill: Fill) -> set[tuple[str, str]]:
    trial = Work(work.calculator, applied(work, mend), work.rules, work.show)
    fill(trial.inputs, trial)  # type: ignore[arg-type]
    return {(check.key, check.at) for check in trial.checks if check.outcome == "pass"}


def applied(work: Work, mend: Mend) -> Inputs:
    """The inputs with a mend's changes read from its printed words."""
    inputs = work.asked(Inputs)
    rows = {path: typed for path, typed in mend.changes.items() if isinstance(Inputs.field(path), Rows)}
    kept = [row for row in inputs.loads or [] if row.plugged is False]
    changed = inputs.retyped({path: typed for path, typed in mend.changes.items() if path not in rows}, work.show.system)
    return changed.changed({path: kept if typed else [] for path, typed in rows.items()})


def _candidates(work: Work) -> Iterator[tuple[Mend, set[str]]]:
    """Every change worth trying with what it can mend, the easiest first."""
    inputs = work.asked(Inputs)
    every = WIRE_KEYS | PLUG_KEYS | SHARE_KEYS
    own = _own(work)
    if own is not None:
        yield own, every
    if any(row.plugged for row in inputs.loads or []):
        yield _without_plugged(work), every
    if inputs.cabinet_count > 1:
        yield _change(work, "Plug the other cabinets into other circuits.", {"cabinet_count": 1}), every
    for mend in _thicker(work):
        yield mend, WIRE_KEYS
    for mend in _receptacles(work):
        yield mend, PLUG_KEYS
    for mend in _wired(work):
        yield mend, every


def _own(work: Work) -> Mend | None:
    """A circuit of its own; None where it has one already."""
    inputs = work.asked(Inputs)
    wanted = {"dedicated": True, "outlets": 1, "cabinet_count": 1}
    changes = {key: value for key, value in wanted.items() if getattr(inputs, key) != value}
    if not changes and not inputs.loads:
        return None
    return _change(work, OWN, {**changes, **_cleared(work)}, loads=[])


def _without_plugged(work: Work) -> Mend:
    inputs = work.asked(Inputs)
    kept = [type(row).shown(row.values(), work.show) for row in inputs.loads if row.plugged is False]
    return _change(work, "Move what is plugged in beside it to another circuit.", {}, loads=kept)


def _cleared(work: Work) -> dict[str, Any]:
    """Readings taken at the old outlet do not hold for the new one."""
    inputs = work.asked(Inputs)
    return {key: None for key in ("volts_loaded", "test_amps") if getattr(inputs, key) is not None}


def _thicker(work: Work) -> Iterator[Mend]:
    """The next thicker wire of the same metal, and the next."""
    inputs = work.asked(Inputs)
    known = sizes(work, inputs)
    for size in known[known.index(inputs.conductor) + 1 :] if inputs.conductor in known else ():
        yield _change(work, "Have a {electrician} put in larger wire.",
                      {"conductor": size, **_cleared(work)})  # fmt: skip


def _wired(work: Work) -> Iterator[Mend]:
    """A copper circuit of its own: no smaller breaker than now, the thinnest wire that suits it first."""
    alone = {"dedicated": True, "outlets": 1, "cabinet_count": 1, "material": "copper", "layout": "radial",
             **_cleared(work)}  # fmt: skip
    plain = work.asked(Inputs).changed({"material": "copper", "layout": "radial"})
    for breaker in _larger(work):
        for size in _copper(work):
            if (limit(work, key(plain, "breaker", size)) or 0.0) >= float(breaker):
                yield _change(work, WIRED, {**alone, "breaker": breaker, "conductor": size,
                                            **_outlet(work, breaker)}, loads=[])  # fmt: skip


def _larger(work: Work) -> Iterator[str]:
    """Breakers of the rule set that carry the cabinet, none smaller than the one there."""
    inputs = work.asked(Inputs)
    for row in work.rules["circuit.breakers"].value:
        amps = float(row["name"])
        if amps >= float(inputs.breaker or 0) and amps >= (inputs.cabinet_amps or 0.0):
            yield row["name"]


def _copper(work: Work) -> tuple[str, ...]:
    listed = work.rules.get("conductors.sizes")
    return () if listed is None else tuple(row["name"] for row in listed.value)


def _outlet(work: Work, breaker: str) -> dict[str, str]:
    """An outlet for that breaker: one as large, else the one the rule set names."""
    offered = [row["name"] for row in work.rules["circuit.outlet_ratings"].value]
    fitting = [rating for rating in offered if rating == breaker] or list(ratings(work, breaker) or ())
    return {"receptacle_rating": fitting[0]} if fitting else {}


def _receptacles(work: Work) -> Iterator[Mend]:
    inputs = work.asked(Inputs)
    if inputs.breaker is None:
        return
    offered = [row["name"] for row in work.rules["circuit.outlet_ratings"].value]
    for rating in ratings(work, inputs.breaker) or offered:
        yield _change(work, "Have a {electrician} fit the right {outlet}.", {"receptacle_rating": rating})


def _nearer(work: Work, check: Check, fill: Fill, tried: Tried) -> Mend | None:
    """A shorter run, found by halving, where nothing else helps the voltage."""
    inputs = work.asked(Inputs)
    if check.key not in RUN_KEYS or inputs.run is None:
        return None

    def passes(mend: Mend | None) -> bool:
        if mend is None:
            return False
        shown = mend.changes["run"]
        if shown not in tried:
            tried[shown] = _passing(work, mend, fill)
        return (check.key, check.at) in tried[shown]

    low, high = 0.0, inputs.run
    for _ in range(14):
        middle = (low + high) / 2
        low, high = (middle, high) if passes(_shorter(work, middle)) else (low, middle)
    mend = _shorter(work, low)
    return mend if passes(mend) else None


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

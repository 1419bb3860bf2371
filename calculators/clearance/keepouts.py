"""Where a cabinet may not stand: slopes, panels, ways out, fire gear, rain."""

from __future__ import annotations

from collections.abc import Iterable

from ..core import Work
from .inputs import Inputs
from .push import hushed

ZONE = {"depth": "deep", "width": "wide", "height": "high"}


def solve(inputs: Inputs, work: Work) -> None:
    """Every keep-out; what a rule asks for is said in its own words."""
    _slope(inputs, work)
    zone = [f"space.panel_{name}" for name in ZONE if work.rules.get(f"space.panel_{name}")]
    _no(work, "panel_space", "space.panel_storage", "Stand it clear of the panel.",
        _zone(work), rules=zone)  # fmt: skip
    _no(work, "exit_blocked", "space.exit_clear", "Stand it out of the way.")
    _no(work, "fire_gear", "space.fire_gear_clear", "Stand it clear of the gear.")
    _sprinklers(inputs, work)
    if inputs.outdoors is not False:
        ok = inputs.outdoor_rated if inputs.outdoors else None
        work.verdict(
            "weather", ok, needs=("outdoors", "outdoor_rated"), good="Marked for use outdoors.",
            bad="Not marked for use outdoors.", mend=work.mend("outdoors", False, how="Stand it indoors."),
        )  # fmt: skip


def _sprinklers(inputs: Inputs, work: Work) -> None:
    """Free height below the heads, counted as a level through the whole room."""
    if inputs.sprinklers == "none":
        work.verdict("sprinklers", True, good="No sprinklers in the room.")
        return
    wanted, off = work.inner("space.sprinkler_clear"), work.tolerance("sprinkler_gap")
    gap = inputs.sprinkler_gap if inputs.sprinklers else None
    mend = work.mend("sprinkler_gap", wanted, "at least", beyond=off, how="Use a spot with a higher ceiling.")
    hushed(work.check("sprinklers", gap, wanted, tolerance=off, needs=("sprinklers", "sprinkler_gap"), mend=mend,
                      note="The fire authority decides; the building's own plan may ask for more."))  # fmt: skip


def _slope(inputs: Inputs, work: Work) -> None:
    limit, off = work.inner("space.floor_slope"), work.tolerance("slope")
    how = "Use a flatter spot, or have the floor made good."
    mend = work.mend("slope", limit, "at most", beyond=off, how=how)
    work.check("slope", inputs.slope, limit, tolerance=off, needs=("slope",), mend=mend)


def _zone(work: Work) -> str:
    """The free space before a panel, as far as the rule set has its measures."""
    sizes = [
        f"{work.text(work.inner(f'space.panel_{name}'), 'length', 'up')} {word}"
        for name, word in ZONE.items()
        if work.rules.get(f"space.panel_{name}")
    ]
    return f" Keep at least {', '.join(sizes)} clear before it." if sizes else ""


def _no(work: Work, path: str, rule: str, how: str, more: str = "", rules: Iterable[str] = ()) -> None:
    """A yes or no about a place; the rule's own words help to answer it too."""
    figure, answer = work.rule_of(rule), work.find(path)[1]
    ok = None if answer is None or figure is None else not answer
    note = "" if figure is None else f"The rule: {figure.value}.{more}"
    hushed(work.verdict(path, ok, good="Clear.", bad="It may not stand there.", needs=(path,), rules=rules,
                        note=note, mend=work.mend(path, False, how=how)))  # fmt: skip

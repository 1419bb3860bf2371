"""Who stands where while a cabinet is rolled or tilted."""

from __future__ import annotations

from ..core import Work
from .inputs import Inputs

COLUMNS = {"place": "Place", "who": "Who", "does": "What they do"}
LEAD = "Leads; only this person says “go”. Anyone may say “stop”"
NOBODY = "Nobody"
ROLL = [
    ("At the handles", "The leader", LEAD),
    ("At the corners of the handle end, a step out", "Two helpers", "Each looks along one side. They steady it and let go if it starts to fall"),
    ("Ahead of it, along the forks, between it and a wall", NOBODY, "It lands there"),
]
RAMP = ("Below it on a ramp", NOBODY, "Held from above, by a winch or a powered tug where the push is too much")
SIDES = {"back": "left and right sides", "front": "left and right sides", "left": "front and back", "right": "front and back"}
EDGES = {"back": "back", "front": "front", "left": "left side", "right": "right side"}


def table(inputs: Inputs, work: Work) -> None:
    """The places, for the job at hand."""
    rows: list[tuple[str, ...]] = list[tuple[str, ...]](ROLL) if inputs.job == "roll" else _tilted(inputs)
    if any(place.kind == "ramp" for place in inputs.route or ()) and inputs.job == "roll":
        rows.append(RAMP)
    rows.append(("Inside a ring as wide as it is tall", NOBODY + " else", "It can land anywhere in there. Somebody keeps others out"))
    work.table("places", "Who stands where", COLUMNS, rows, "If it starts to go, let go and get out to the side. Nobody can hold it.")


def _tilted(inputs: Inputs) -> list[tuple[str, ...]]:
    edge, sides = EDGES.get(inputs.tilt_over or "", "low edge"), SIDES.get(inputs.tilt_over or "", "two other sides")
    return [
        (f"At the handles, before the {edge}", "The leader", f"{LEAD}. Works the gear, or gives the pull alone"),
        (f"At the {sides}, a step out", "Two helpers", "They steady it and watch straps, gear and feet. They bear none of it"),
        ("On the side away from the handles", NOBODY, "It falls there if it slips off its gear"),
    ]

"""What is asked about one kind of lift."""

from __future__ import annotations

from typing import Any

from ..core import Choice, Count, Flag, Quantity, Record, Text

HANDS = 25.0  # mm; how well a tape beside a bending body tells where the hands are: common practice
TURN = 10.0  # degrees; how well the turn of a body is judged by eye: common practice
OFTEN = 225  # lifts in 15 minutes: 15 a minute, the end of the table

GRIPS = {
    "good": "Good: handles or hand holes, or goods that a hand closes round",
    "fair": "Fair: fingers bent under it at a right angle",
    "poor": "Poor: no edge to hold, slippery, sagging, or too large",
}
ZONES = {
    "waist": "Between elbow and knuckles", "knee": "Between knuckles and mid-shin", "chest": "Between shoulder and elbow",
    "high": "Above the shoulder", "low": "Below mid-shin",
}  # fmt: skip
ARMS = {"close": "Close, elbows bent", "far": "Away, arms nearly straight"}
FILTER = "handling.lift_filter"


def hands(label: str, text: str, most: float, example: float, **more: Any) -> Quantity:
    """Where the middle of the hands is."""
    return Quantity(label, help=text, kind="length", least=0.0, most=most, example=example, tolerance=HANDS, **more)


def turn(label: str, text: str) -> Quantity:
    """How far the body turns to the side."""
    return Quantity(label, help=text, kind="angle", least=0.0, most=180.0, example=0, tolerance=TURN, worse="more")


class LiftRow(Record):
    """One kind of lift, such as cases from the van into the lowest tray."""

    name = Text("What it is", help="A few words, such as cases of water to the cart.", example="water to the cart")
    mass = Quantity("Mass of one", kind="load", least=0.1, most=150.0, example=12.5, worse="more",
                    help="As it is lifted, wrap and case too: weighed, or goods times their mass.")  # fmt: skip
    grip = Choice("Grip", GRIPS, worse=tuple(GRIPS), help="Of both hands, as it is really held.")
    count = Count("How many in the busiest 15 minutes", least=1, most=OFTEN, example=10, worse="more",
                  help="Lifts, not goods: two cases at once are one lift.")  # fmt: skip
    reach = hands("Hands out, at the start", "Level, from midway between the ankles to midway between the hands.",
                  1_200.0, 350, worse="more")  # fmt: skip
    # Too low and too high are two ends of one height: neither direction is the worse one.
    height = hands("Hands up, at the start", "From the floor to the hands.", 2_500.0, 750)
    twist = turn("Body turned, at the start", "0 straight ahead, 45 half to the side, 90 to the side.")
    height_to = hands("Hands up, at the end", "From the floor to the hands where it is set down.", 2_500.0, 900)
    control = Flag("Set down with care", worse=("no", "yes"),
                   help="Yes if you guide it into place, hold it still or change your grip there. No if you just let go.")  # fmt: skip
    reach_to = hands("Hands out, at the end", "The same at the end. It counts where it is set down with care.",
                     1_200.0, 350, worse="more")  # fmt: skip
    twist_to = turn("Body turned, at the end", "The same at the end. It counts where it is set down with care.")
    zone = Choice("Worst zone the hands pass", ZONES, rule=FILTER, worse=tuple(ZONES),
                  help="Standing upright, arms hanging: where knuckles, elbows and shoulders are.")  # fmt: skip
    arms = Choice("The load there", ARMS, rule=FILTER, always=tuple(ARMS), worse=tuple(ARMS), help="Where it is farthest from the body.")

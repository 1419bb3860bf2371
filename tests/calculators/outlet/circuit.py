"""An outlet as a circuit of resistors, solved by its node equations; nothing of the calculator."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

VOLTS = 121.0
WIRE = 0.15  # Ω, each conductor from the panel
OPEN = 1e12  # Ω
LAMP = 150_000.0  # Ω, a neon lamp with its resistor before it strikes
METER = 10e6  # Ω
STRIKES = 90.0  # V, above which a neon lamp lights

# Which panel conductor each slot is joined to, and which conductors are open.
WIRING = {
    "right": ("LNG", ""), "open_ground": ("LNG", "G"), "open_neutral": ("LNG", "N"), "open_line": ("LNG", "L"),
    "swapped": ("NLG", ""), "line_ground": ("GNL", ""), "open_neutral_loaded": ("LNG", "N"),
    "swapped_open_ground": ("NLG", "G"), "joined": ("LNG", "G"), "joined_swapped": ("NLG", "G"),
    "neutral_ground": ("LGN", ""),
}  # fmt: skip


@dataclass(frozen=True)
class Seen:
    """Volts between the slots: line–neutral, line–ground, neutral–ground."""

    ln: float
    lg: float
    ng: float

    @property
    def lamps(self) -> list[str]:
        return ["lit" if volts > STRIKES else "dark" for volts in (self.ln, self.lg, self.ng)]


def seen(condition: str, *, across: float = METER, load: float | None = None, volts: float = VOLTS) -> Seen:
    """What an instrument of that resistance across each pair sees, with a load (Ω) or without."""
    order, open_ = WIRING[condition]
    joins = [(0, 1, across), (0, 2, across), (1, 2, across)]
    joins += [(slot, 3 + "LNG".index(name), OPEN if name in open_ else WIRE) for slot, name in enumerate(order)]
    if load is not None:
        joins.append((0, 1, load))
    if condition == "open_neutral_loaded":
        joins.append((0, 1, 12.0))  # something left plugged in farther on, past the break
    if condition.startswith("joined"):
        joins.append((1, 2, 1e-4))  # a jumper from the ground screw to the neutral screw
    return _solved(joins, volts)


def _solved(joins: list[tuple[int, int, float]], volts: float) -> Seen:
    """Nodes 0–2 are the slots line, neutral, ground; 3–5 the panel's L, N, G (N and G are bonded)."""
    fixed = {3: volts, 4: 0.0, 5: 0.0}
    matrix, right = np.zeros((3, 3)), np.zeros(3)
    for first, second, ohms in joins:
        for here, there in ((first, second), (second, first)):
            if here < 3:
                matrix[here, here] += 1 / ohms
                if there < 3:
                    matrix[here, there] -= 1 / ohms
                else:
                    right[here] += fixed[there] / ohms
    line, neutral, ground = np.linalg.solve(matrix, right)
    return Seen(abs(line - neutral), abs(line - ground), abs(neutral - ground))

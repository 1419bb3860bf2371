"""From the form to what was seen: the three pairs, the faults that fit, the drop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from ..core import Contradiction, RuleSet
from ..core.units import Units
from . import maths
from .inputs import METER, NEAR, Inputs
from .maths import State

Number = float | None
PAIRS = {"ln": "line and neutral", "lg": "line and ground", "ng": "neutral and ground"}
PREFIX = "outlet.pattern_"
RIGHT = PREFIX + "right"
SWAPPED = PREFIX + "swapped"
TURNABLE = "outlet.reversible"


class Pair(NamedTuple):
    """One pair: what its lamp shows, what its volts say, the volts."""

    lamp: State
    told: State
    volts: Number

    @property
    def seen(self) -> State:
        """Volts tell more than a lamp; where they contradict each other, neither counts as right."""
        return self.told or self.lamp

    @property
    def torn(self) -> bool:
        """Whether lamp and volts contradict each other."""
        known = self.lamp is not None and self.told is not None
        return known and (self.lamp == maths.LIT) != (self.told == maths.LIT)


@dataclass(frozen=True)
class Found:
    """All that the checks, the tables and the drawing need."""

    pairs: dict[str, Pair]
    patterns: dict[str, tuple[str, ...]]
    fitting: list[str]
    reversible: bool | None = False

    @property
    def seen(self) -> list[State]:
        """The three pairs in order."""
        return [pair.seen for pair in self.pairs.values()]

    @property
    def right(self) -> bool | None:
        """Whether it shows as wired right; unknown while a pair is, unless one is wrong already."""
        if not self.patterns or all(each is None for each in self.seen):
            return None
        if self.floats or any(pair.torn for pair in self.pairs.values()):
            return False
        if RIGHT in self.fitting or self.turned:
            return True if None not in self.seen else None
        # It may be one that takes the plug both ways.
        return None if self.reversible is None and SWAPPED in self.fitting else False

    @property
    def turned(self) -> bool:
        """Whether the instrument only sits the other way round, where its plug goes in both ways."""
        return bool(self.reversible) and self.sideways

    @property
    def sideways(self) -> bool:
        """Whether it may sit the other way round: then the line is where the neutral should be, by fault or not."""
        return self.reversible is not False and not self.floats and RIGHT not in self.fitting and SWAPPED in self.fitting

    @property
    def floats(self) -> bool:
        """Whether a pair shows neither all nor nothing, which no outlet does whose three wires are held."""
        return maths.FLOATING in self.seen

    @property
    def hidden(self) -> list[str]:
        """The faults that show the same as an outlet that is right."""
        wanted = self.patterns.get(RIGHT)
        return [name for name, pattern in self.patterns.items() if pattern == wanted and name != RIGHT]


def find(inputs: Inputs, rules: RuleSet) -> Found:
    """What was seen, and the patterns of the rule set that fit it."""
    patterns = {key: tuple(part.strip() for part in str(rule.value).split(","))
                for key, rule in rules.figures.items() if key.startswith(PREFIX)}  # fmt: skip
    pairs = {key: _pair(inputs, rules, key) for key in PAIRS}
    seen = [pair.seen for pair in pairs.values()]
    reversible = inputs.reversible if rules.get(TURNABLE) is not None else False
    fitting = maths.matching(seen, patterns)
    if maths.FLOATING in seen:  # as dark it may be an open wire, never what shows as right
        fitting = [name for name in fitting if patterns[name] != patterns.get(RIGHT)]
    return Found(pairs, patterns, fitting, reversible)


def usable(inputs: Inputs) -> bool:
    """Volts by probes count only where a licensed electrician held them."""
    return bool(inputs.reader != "others")


def _pair(inputs: Inputs, rules: RuleSet, key: str) -> Pair:
    volts: Number = getattr(inputs, f"volts_{key}") if usable(inputs) else None
    full, none = full_volts(rules), rules.get("outlet.dark_most")
    told = None if full is None or none is None else maths.state(volts, full, none.inner)
    return Pair(getattr(inputs, f"lamp_{key}"), told, volts)


def full_volts(rules: RuleSet) -> Number:
    """From how many volts a pair counts as lit."""
    nominal, share = rules.get("outlet.nominal"), rules.get("outlet.lit_share")
    return None if nominal is None or share is None else nominal.inner * share.inner


def smallest_outlet(rules: RuleSet) -> Number:
    """The rating of the smallest outlet of the country, A: any outlet may give so much."""
    listed = rules.get("circuit.outlet_ratings")
    return None if listed is None else min((float(row["name"]) for row in listed.value), default=None)


def fall(inputs: Inputs) -> Number:
    """How far line to neutral falls under the test load, V."""
    if not usable(inputs) or inputs.volts_ln is None or inputs.loaded_ln is None:
        return None
    return float(inputs.volts_ln - inputs.loaded_ln)


def share(inputs: Inputs) -> tuple[float, float] | None:
    """How much of the fall shows between neutral and ground, at least, and how far that may be too much.

    Where some volts stand there without a load, what the load adds may turn them down as well as up;
    it is no less than the difference of the two readings. None where the fall tells nothing.
    """
    drop = fall(inputs)
    if not drop or not tells(inputs) or inputs.volts_ng is None or inputs.loaded_ng is None:
        return None
    rise = abs(inputs.loaded_ng - inputs.volts_ng)
    least = max(0.0, rise - 2 * NEAR) / (drop + 2 * METER)
    return rise / drop, rise / drop - least


def tells(inputs: Inputs) -> bool | None:
    """Whether the fall is larger than what the meter may be off at both its readings."""
    drop = fall(inputs)
    return None if drop is None else drop > 2 * METER


def contradictions(inputs: Inputs, show: Units) -> Iterator[Contradiction]:
    """Volts that rise under a load, by more than the meter may be off at both readings."""
    drop = fall(inputs)
    if drop is not None and drop < -2 * METER:
        yield Contradiction(("volts_ln", "loaded_ln"), f"A load never raises the volts, here by {show.text(-drop, 'voltage')}. "
                            "Read both again, one right after the other.")  # fmt: skip

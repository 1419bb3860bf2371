"""From the form to what was seen: the three pairs, the faults that fit, the drop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from ..core import RuleSet
from . import maths
from .inputs import METER, Inputs
from .maths import State

Number = float | None
PAIRS = {"ln": "line and neutral", "lg": "line and ground", "ng": "neutral and ground"}
PREFIX = "outlet.pattern_"
RIGHT = PREFIX + "right"


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

    @property
    def seen(self) -> list[State]:
        """The three pairs in order."""
        return [pair.seen for pair in self.pairs.values()]

    @property
    def right(self) -> bool | None:
        """Whether it shows as wired right; unknown while a pair is, unless one is wrong already."""
        if not self.patterns or all(each is None for each in self.seen):
            return None
        if any(pair.torn for pair in self.pairs.values()) or RIGHT not in self.fitting:
            return False
        return True if None not in self.seen else None

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
    return Found(pairs, patterns, maths.matching(seen, patterns))


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


def fall(inputs: Inputs) -> Number:
    """How far line to neutral falls under the test load, V."""
    if not usable(inputs) or inputs.volts_ln is None or inputs.loaded_ln is None:
        return None
    return float(inputs.volts_ln - inputs.loaded_ln)


def tells(inputs: Inputs) -> bool | None:
    """Whether the fall is larger than what the meter may be off at both its readings."""
    drop = fall(inputs)
    return None if drop is None else drop > 2 * METER

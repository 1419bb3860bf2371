"""Which coil takes which product in which tray: asked of spiral fit, never worked out anew.

Each coil is tried once for each size of product and setting of tray. What a try has told is put to
use for the next ones: a tray that differs in its heights alone asks only the checks that rest on
them, and what is too tight in a wide lane is not tried in a narrow one. How far it leans, which takes
longest to find, is asked only where nothing else stops it. How the first pack stands rests on where the coil
is set to end, which no plan decides: it is not asked.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from ..core import Work
from ..core.formula import evaluate, symbols
from ..core.report import Check
from ..core.work import Number
from ..spiral import CALCULATOR as SPIRAL
from ..spiral import lane, standing, upright
from ..spiral.fit import Fit as Place
from ..spiral.fit import Found, fit_of
from ..spiral.inputs import Inputs as Spiral
from ..spiral.ranking import HELD, JUDGED, rank
from ..spiral.solve import goes_in, in_lane
from .barred import hopeless
from .inputs import CABINET, PRODUCT, TRAY

COIL = ("coil_count", "coil_outside", "wire", "coil_kind", "axis_offset")
# What the choice of a coil changes (JUDGED) and what the choice of a tray does, in the order of spiral fit's sheet.
ASKED = ("foot", "thin", "pair", "held", "goes_in", "middle", "ride", "short", "height", "lean", "upright", "lane", "coil_lane",
         "aside", "side", "drop")  # fmt: skip
USABLE = 1  # the ranks up to here are best and usable
NOISE = 1e-6  # mm
# What another lane must have to spare so that its width decided nothing, and how much too tight a
# coil must be before those with more turns are not tried. A straight pack has less room between
# closer turns, always; a short or tapered one may stand a little higher or lower in them, which
# moves the wire beside it by a few tenths of a millimetre.
SPARE, TIGHT = 0.1, 3.0  # mm
# What a lean that was looked for in a few places only must have to spare. Looked for closely it is less, but for the height
# of a foot that may be found a tenth of a millimetre higher.
UPRIGHT = 1.0  # degrees

Sizes = tuple[Any, ...]


@dataclass(frozen=True)
class Fit:
    """What became of it. ``pieces`` is 0 where it does not fit or is not known to.

    ``care`` and ``unknown`` are the checks of a fitting one that do not pass, as words; ``needs``
    the inputs that would tell.
    """

    pieces: int = 0
    care: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    why: str = ""


class Sheet(Work):
    """A sheet of spiral fit that nobody reads: what its checks come to counts, not how they say it or were worked out."""

    def given(self, symbol: str, label: str, value: Number, kind: str, note: str = "") -> Number:
        """Name a value; no line of working is written."""
        self._name(symbol, value, kind)
        return value

    def step(self, symbol: str, label: str, formula: str, kind: str, *, rule: str = "", note: str = "") -> Number:
        """Work out a value and name it."""
        known = {name: value for name in symbols(formula) if (value := self._look(name)[0]) is not None}
        value = evaluate(formula, known) if len(known) == len(symbols(formula)) else None
        self._name(symbol, value, kind)
        return value

    def _sentence(self, check: Check) -> tuple[str, str]:
        return "", ""


@dataclass
class Tried:
    """A sheet that spiral fit has filled, in a lane of some width, kept for the next tray.

    ``leaning``: the checks of its lean; empty as long as nobody asked for them, and where there are none.
    """

    width: float | None
    place: Place
    sheet: Work
    found: Found
    checks: dict[str, Check]
    leaning: dict[str, Check] | None = None

    def leans(self) -> dict[str, Check]:
        """The checks of how far it leans: those of every tray in which it stands the same."""
        if self.leaning is None:
            self.leaning = self._leans(closely=False)
            if any(check.margin is None or check.margin < check.tolerance + UPRIGHT for check in self.leaning.values()):
                self.leaning = self._leans(closely=True)
        return self.leaning

    def _leans(self, *, closely: bool) -> dict[str, Check]:
        self.sheet.checks = []
        upright.leans(self.sheet.asked(Spiral), self.sheet, self.found, closely=closely)
        return _by_key(self.sheet)


class Trial:
    """One product, tried in tray after tray with coil after coil; wide lanes should come first.

    ``kept``: a test by hand kept it in these coils, so nothing is left untried for want of room between turns.
    """

    def __init__(self, product: Any, cabinet: Any, work: Work, *, kept: bool = False) -> None:
        self._kept = kept
        self._own = {**_read(product, PRODUCT), **_read(cabinet, CABINET)}
        self._work, self._play = work, work.inner("goods.side_play")
        self._known: dict[tuple[Sizes, Sizes], Fit] = {}
        self._tried: dict[Sizes, list[Tried]] = {}
        self._tight: list[tuple[Spiral, float]] = []

    def fit(self, tray: Any, coil: Any) -> Fit:
        """In one lane of a tray with one coil."""
        key = sizes_of(tray, TRAY), sizes_of(coil, COIL)
        if key not in self._known:
            self._known[key] = self._fit(Spiral(**self._own, **_read(tray, TRAY), **_read(coil, COIL)))
        return self._known[key]

    def _fit(self, inputs: Spiral) -> Fit:
        why = hopeless(inputs) or ("too tight" if self._too_tight(inputs) else "")
        if why:
            return Fit(why=why)
        if self._kept:
            whole = self._first(inputs, fit_of(inputs, self._play))
            return _kept({**whole.checks, **whole.leans()}, whole.found.capacity)
        tried = self._tried.setdefault((*sizes_of(inputs, COIL), inputs.strip_height), [])
        like = next((each for each in tried if _same_room(inputs, each, self._play)), None)
        if like is None:
            place = fit_of(inputs, self._play)
            if place.opening is not None and place.along is not None and place.opening.size < place.along - NOISE:
                self._tight.append((inputs, place.along - place.opening.size))
                return Fit(why="too tight")
            like = next((each for each in tried if each.place == place), None)
            if like is None:
                tried.append(like := self._first(inputs, place))
                return _settled(like, like.checks)
        return _settled(like, _again(like, inputs))

    def _first(self, inputs: Spiral, place: Place) -> Tried:
        """The whole sheet but for its lean, with the checks of a tray's heights beside the others."""
        sheet = Sheet(SPIRAL, inputs, self._work.rules, self._work.show)
        found = goes_in(inputs, sheet)
        in_lane(inputs, sheet, found)
        lane.amount(inputs, sheet, found)
        return Tried(inputs.lane_width, place, sheet, found, _by_key(sheet))

    def _too_tight(self, inputs: Spiral) -> bool:
        """Whether it had too little room in as wide a lane, with as many turns or a good deal with fewer."""
        for other, short in self._tight:
            if _alike(inputs, other) and (short > TIGHT or inputs.coil_count == other.coil_count):
                return True
        return False


def sizes_of(row: Any, keys: Sequence[str]) -> Sizes:
    """What those fields of a row hold."""
    return tuple(getattr(row, key) for key in keys)


def _read(row: Any, keys: Sequence[str]) -> dict[str, Any]:
    return {key: getattr(row, key) for key in keys}


def _alike(one: Spiral, other: Spiral) -> bool:
    """The same wire and strips, no wider a lane and no fewer turns."""
    same = ("coil_outside", "wire", "coil_kind", "axis_offset", "strip_height")
    return (all(getattr(one, key) == getattr(other, key) for key in same)
            and one.lane_width is not None and other.lane_width is not None
            and one.lane_width <= other.lane_width and one.coil_count >= other.coil_count)  # fmt: skip


def _same_room(inputs: Spiral, tried: Tried, play: float | None) -> bool:
    """Whether a product stands in this lane as in the one that was tried, whatever the two widths are.

    In the same lane it does. So it does in a narrower one where neither bounds it: a round one in the
    lane's middle, a pack whose diagonal goes across at whatever skew.
    """
    wide, opening = inputs.lane_width, tried.place.opening
    if wide is None or tried.width is None or wide == tried.width:
        return bool(wide == tried.width)
    if opening is None or tried.place.across is None or play is None or opening.shift or wide > tried.width:
        return False
    if inputs.shape == "round":
        return True
    return not inputs.may_turn and math.hypot(tried.place.across, opening.size + SPARE) <= wide - play


def _by_key(sheet: Work) -> dict[str, Check]:
    return {check.key: check for check in sheet.checks}


def _again(tried: Tried, inputs: Spiral) -> dict[str, Check]:
    """The checks of a sheet in another lane, in which the product stands the same.

    Asked anew are those that rest on the lane's width and the tray's heights.
    """
    sheet = tried.sheet
    sheet.inputs, sheet.checks = inputs, []
    standing.heights(inputs, sheet, tried.found)
    in_lane(inputs, sheet, tried.found)
    return {**tried.checks, **_by_key(sheet)}


def _settled(tried: Tried, checks: dict[str, Check]) -> Fit:
    """The judgment of a lane; how it leans there is asked only where it may lie there but for that."""
    return _stopped(checks) or _judged({**checks, **tried.leans()}, tried.found.capacity)


def _stopped(checks: dict[str, Check]) -> Fit | None:
    """What became of it where a check stops it."""
    stop = next((checks[key] for key in ASKED if key in checks and checks[key].outcome == "stop"), None)
    return None if stop is None else Fit(why=stop.label.lower())


def _judged(checks: dict[str, Check], capacity: float | None) -> Fit:
    asked = {key: checks[key] for key in ASKED if key in checks}
    stopped = _stopped(asked)
    if stopped:
        return stopped
    unknown = tuple(check.label for check in asked.values() if check.outcome == "unknown")
    needs = tuple(dict.fromkeys(path for check in asked.values() for path in check.needs))
    if rank({key: check for key, check in asked.items() if key in JUDGED}) > USABLE or capacity is None:
        return Fit(needs=needs, why="not measured")
    care = tuple(check.label for check in asked.values() if check.outcome == "caution")
    return Fit(int(capacity), care, unknown, needs)


def _kept(checks: dict[str, Check], capacity: float | None) -> Fit:
    """The judgment where a test by hand kept it: how it is held is answered, all else stands."""
    asked = {key: checks[key] for key in ASKED if key in checks}
    fit = _judged({key: check for key, check in asked.items() if key not in HELD}, capacity)
    against = [check.label.lower() for key, check in asked.items()
               if key in HELD and check.outcome in ("stop", "unknown")]  # fmt: skip
    if not fit.pieces or not against:
        return fit
    return replace(fit, care=(f"Tried and kept, against the calculation: {', '.join(against)}", *fit.care))

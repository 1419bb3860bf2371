"""Quantities as people write them, and as the handbook prints them.

Inside a calculator every quantity is a plain float in one unit of its kind (the
first unit named below: millimetres, metres, kilograms, volts …). This module is
the only place that knows feet, inches and pounds.
"""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from .rules import RuleSet

SYSTEMS = ("us", "si")
SYSTEM_NAMES = {"us": "US customary", "si": "metric"}


class Unit(NamedTuple):
    """One unit: its printed name, its size in the kind's inner unit, printed decimals."""

    name: str
    size: float
    decimals: int


class Kind(NamedTuple):
    """One kind of quantity: the unit each system prints, and the words it reads."""

    si: Unit
    us: Unit
    words: dict[str, float]


def _same(name: str, decimals: int, words: dict[str, float] | None = None) -> Kind:
    unit = Unit(name, 1.0, decimals)
    return Kind(unit, unit, {name: 1.0, **(words or {})} if name else dict(words or {}))


_LENGTH_WORDS = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4,
    "ft": 304.8, "foot": 304.8, "feet": 304.8, "'": 304.8,
}  # fmt: skip
_MASS_WORDS = {"kg": 1.0, "g": 0.001, "t": 1000.0, "lb": 0.45359237, "lbs": 0.45359237,
               "oz": 0.028349523125}  # fmt: skip
POUND_FORCE = 0.45359237 * 9.80665
_FOOT = 0.3048
# The international table British thermal unit, exactly 1055.05585262 J, in an hour of 3600 s.
BTU_HOUR = 1055.05585262 / 3600
_MPH = 0.44704  # a mile is 5280 ft
_PSF = POUND_FORCE / _FOOT**2

# Exact by the 1959 international yard and pound agreement (1 in = 25.4 mm,
# 1 lb = 0.45359237 kg) and the standard acceleration 9.80665 m/s².
KINDS: dict[str, Kind] = {
    "length": Kind(Unit("mm", 1.0, 1), Unit("in", 25.4, 2), _LENGTH_WORDS),
    "run": Kind(
        Unit("m", 1.0, 1),
        Unit("ft", _FOOT, 1),
        {word: size / 1000.0 for word, size in _LENGTH_WORDS.items()},
    ),
    "area": Kind(
        Unit("m²", 1.0, 2),
        Unit("ft²", _FOOT**2, 1),
        {"m2": 1, "m²": 1, "ft2": _FOOT**2, "ft²": _FOOT**2},
    ),
    # Of a foot; in the same units as a floor's load, so that a mass over it holds in both systems.
    "small_area": Kind(
        Unit("m²", 1.0, 4),
        Unit("ft²", _FOOT**2, 4),
        {"m2": 1, "m²": 1, "cm2": 0.0001, "cm²": 0.0001, "ft2": _FOOT**2, "ft²": _FOOT**2, "in2": 0.0254**2, "in²": 0.0254**2},
    ),
    "mass": Kind(Unit("kg", 1.0, 0), Unit("lb", 0.45359237, 0), _MASS_WORDS),
    # What a person lifts: a pound decides.
    "load": Kind(Unit("kg", 1.0, 1), Unit("lb", 0.45359237, 1), _MASS_WORDS),
    "small_mass": Kind(
        Unit("g", 1.0, 0),
        Unit("oz", 28.349523125, 1),
        {word: size * 1000.0 for word, size in _MASS_WORDS.items()},
    ),
    # Mints give a coin in grams to a hundredth, and coin scales show grams everywhere.
    "coin_mass": _same("g", 2, {word: size * 1000.0 for word, size in _MASS_WORDS.items()}),
    "force": Kind(
        Unit("N", 1.0, 0),
        Unit("lbf", POUND_FORCE, 1),
        {"n": 1.0, "kn": 1000.0, "kgf": 9.80665, "lbf": POUND_FORCE},
    ),
    # Weight of a unit mass: 9.80665 N/kg is exactly 1 lbf/lb, so that W = m·g holds in both.
    "gravity": Kind(Unit("N/kg", 1.0, 5), Unit("lbf/lb", 9.80665, 5), {}),
    "floor_load": Kind(
        Unit("kg/m²", 1.0, 0),
        Unit("lb/ft²", 0.45359237 / _FOOT**2, 0),
        {
            "kg/m2": 1.0,
            "kg/m²": 1.0,
            "psf": 0.45359237 / _FOOT**2,
            "lb/ft²": 0.45359237 / _FOOT**2,
            "kpa": 1000 / 9.80665,
        },
    ),
    # A wind's pressure on a surface, and its pressure for the square of its speed: 1 kg/m³ is 1 Pa for (1 m/s)²,
    # so that q = c·V² holds in both systems.
    "wind": Kind(Unit("m/s", 1.0, 1), Unit("mph", _MPH, 0), {"m/s": 1.0, "mph": _MPH, "km/h": 1 / 3.6}),
    "pressure": Kind(Unit("Pa", 1.0, 0), Unit("psf", _PSF, 1), {"pa": 1.0, "kpa": 1000.0, "psf": _PSF}),
    "wind_factor": Kind(Unit("kg/m³", 1.0, 3), Unit("psf/mph²", _PSF / _MPH**2, 5), {}),
    "torque": Kind(Unit("N·m", 1.0, 0), Unit("lbf·ft", POUND_FORCE * _FOOT, 0), {}),
    "speed": Kind(Unit("m/s", 1.0, 2), Unit("ft/s", _FOOT, 1), {}),
    "angle": _same("°", 1, {"deg": 1.0}),
    "slope": Kind(
        Unit("mm/m", 1.0, 1),
        Unit("in/ft", 1000 / 12, 2),
        {"%": 10.0, "mm/m": 1.0, "in/ft": 1000 / 12},
    ),
    # A level shows far less than a ramp has, and a turn of a leg less than a tape's sixteenth.
    "tilt": Kind(
        Unit("mm/m", 1.0, 1),
        Unit("in/ft", 1000 / 12, 3),
        {"%": 10.0, "mm/m": 1.0, "in/ft": 1000 / 12},
    ),
    "fine_length": Kind(Unit("mm", 1.0, 2), Unit("in", 25.4, 3), _LENGTH_WORDS),
    "arc": _same("′", 1, {"'": 1.0, '"': 1 / 60, "min": 1.0, "sec": 1 / 60}),
    "turns": _same("turns", 3, {"turn": 1.0}),
    "voltage": _same("V", 1, {"v": 1.0}),
    "current": _same("A", 2, {"a": 1.0, "ma": 0.001}),
    "leakage": _same("mA", 2, {"ma": 1.0}),
    "power": _same("W", 0, {"w": 1.0, "kw": 1000.0}),
    "impedance": _same("Ω", 4, {"ohm": 1.0, "mohm": 0.001}),
    "impedance_per_length": Kind(
        Unit("Ω/km", 1.0, 3), Unit("Ω/kft", 1 / _FOOT, 3), {"ohm/km": 1.0, "ohm/kft": 1 / _FOOT, "mV/A/m": 1.0},
    ),
    "resistivity": Kind(
        Unit("Ω·mm²/km", 1.0, 2), Unit("Ω·mm²/kft", 1 / _FOOT, 2), {"Ω·mm²/m": 1000.0}
    ),
    "wire_area": _same("mm²", 2, {"mm2": 1.0}),
    "temperature": _same("°C", 0, {"c": 1.0}),  # read and printed through the offset below
    # How much a thing changes for each degree; a difference of temperatures has no offset.
    "per_degree": Kind(Unit("/°C", 1.0, 5), Unit("/°F", 1.8, 5), {}),
    # How much a thing changes for each length, and for each degree of an angle.
    "per_length": Kind(Unit("/mm", 1.0, 5), Unit("/in", 1 / 25.4, 5), {"/cm": 0.1}),
    "per_angle": _same("/°", 4),
    "per_minute": _same("a minute", 2, {"/min": 1.0}),
    "ratio": _same("", 3),
    "average": _same("", 1),  # of whole things counted: more decimals would promise too much
    "percent": _same("%", 1),
    "count": _same("", 0),
    "per_day": _same("a day", 1, {"/day": 1.0}),
    "days": _same("days", 1, {"d": 1.0, "day": 1.0}),
    "minutes": _same("min", 0, {"h": 60.0, "hour": 60.0, "hours": 60.0, "minutes": 1.0}),
    "day": _same("", 0),  # a date: read and printed by core/moments.py
    "moment": _same("", 0),  # the same with a time of day
    "chance": _same("%", 2),
    "money": _same("", 2),
    # Energy, heat and gas in a room. Each is such that a formula holds with the printed numbers of either system.
    "hours": _same("h", 1, {"hour": 1.0, "hours": 1.0, "day": 24.0, "days": 24.0}),
    "energy": _same("kWh", 2, {"wh": 0.001}),
    "energy_day": _same("kWh/day", 2, {"kwh": 1.0, "kwh a day": 1.0, "kwh/d": 1.0}),
    "heat": Kind(Unit("W", 1.0, 0), Unit("Btu/h", BTU_HOUR, 0), {"kw": 1000.0}),
    "volume": Kind(Unit("m³", 1.0, 2), Unit("ft³", _FOOT**3, 1), {"l": 0.001}),
    "capacity": Kind(Unit("L", 1.0, 0), Unit("ft³", 1000 * _FOOT**3, 1), {"m3": 1000.0, "cu ft": 1000 * _FOOT**3}),
    "energy_per_capacity": Kind(
        Unit("kWh/day/L", 1.0, 6), Unit("kWh/day/ft³", 1 / (1000 * _FOOT**3), 4), {}
    ),
    "gas_density": Kind(
        Unit("g/m³", 1.0, 1), Unit("oz/ft³", 28.349523125 / _FOOT**3, 4), {"kg/m³": 1000.0, "kg/m3": 1000.0, "lb/ft3": 453.59237 / _FOOT**3}
    ),
    "air_changes": _same("an hour", 1, {"/h": 1.0}),
    # A difference of two temperatures, which has no offset.
    "warming": Kind(Unit("°C", 1.0, 1), Unit("°F", 1 / 1.8, 1), {"k": 1.0}),
    "heat_per_degree": Kind(Unit("W/°C", 1.0, 1), Unit("Btu/h/°F", BTU_HOUR * 1.8, 1), {}),
    "wall_heat": Kind(Unit("W/m²/°C", 1.0, 2), Unit("Btu/h/ft²/°F", BTU_HOUR * 1.8 / _FOOT**2, 3), {}),
    "air_heat": Kind(Unit("Wh/m³/°C", 1.0, 3), Unit("Btu/ft³/°F", BTU_HOUR * 1.8 / _FOOT**3, 4), {}),
}

_TOWARD: dict[str, Callable[[float], int]] = {
    "up": math.ceil, "down": math.floor, "near": round,
}  # fmt: skip
_FRACTION_SIGNS = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_MARKS = {
    "′": "'", "’": "'", "″": '"', "”": '"', "''": '"', "−": "-", "⁄": "/", "∕": "/",
    "²": "2", "³": "3", "·": "", "Ω": "ohm", "\u2126": "ohm", "ohms": "ohm", "º": "°",
}  # fmt: skip
# What is replaced in a text, and in one of plain letters only, as nearly every entry is.
_ALL = [*((sign, f" {plain}") for sign, plain in _FRACTION_SIGNS.items()), *_MARKS.items()]
_PLAINER = {False: _ALL, True: [(sign, plain) for sign, plain in _ALL if sign.isascii()]}
# Long enough for any quantity; what is longer is no number that a person typed.
LONGEST = 60
_NUMBER = r"(?:\d+(?:\.\d*)?|\.\d+)"
_MIXED = re.compile(rf"^(?:(\d+)[ -]+)?(\d+) ?/ ?(\d+)$|^({_NUMBER})$", re.ASCII)
_PART = re.compile(rf"((?:\d+[ -]+)?\d+ ?/ ?\d+|{_NUMBER}) *([^\d\s.+-][^\d\s+-]*)? *", re.ASCII)
_SINGLE = re.compile(rf"^((?:\d+[ -]+)?\d+ ?/ ?\d+|{_NUMBER}) *(\D.*)?$", re.ASCII)


def _plain(text: str) -> str:
    """Turn typographic marks into the plain ones the patterns below read."""
    for sign, plain in _PLAINER[text.isascii()]:
        text = text.replace(sign, plain)
    return re.sub(r"\s+", " ", text).strip().lower()


def amount(text: str) -> Fraction:
    """The exact value of 12, 12.5, 3/8 or 74 3/8; ValueError for anything else."""
    found = _MIXED.match(text)
    if not found or len(text) > LONGEST:
        raise ValueError(f"“{text}” is not a number")
    whole, top, bottom, decimal = found.groups()
    if decimal:
        return Fraction(decimal)
    if int(bottom) == 0:
        raise ValueError("a fraction needs a bottom number above 0")
    return Fraction(int(whole or 0)) + Fraction(int(top), int(bottom))


def _check_commas(text: str) -> None:
    if "," in text:
        raise ValueError("a comma can mean two things; write 12.5 or 1200")


def _temperature(text: str, system: str) -> float:
    found = re.match(rf"^([+-]?{_NUMBER}) *°? *([cf]?)$", _plain(text), re.ASCII)
    if not found:
        raise ValueError(f"“{text}” is not a temperature such as 4 °C or 40 °F")
    value = float(found.group(1))
    scale = found.group(2) or ("f" if system == "us" else "c")
    return (value - 32) / 1.8 if scale == "f" else value


def parse(text: str, kind: str, system: str) -> float:
    """Read a quantity as a person writes it.

    ``6' 2 3/8"``, ``74 3/8``, ``1.89 m`` and ``1890`` are all lengths; a bare number is in
    the system's own unit. Whatever :class:`Units` prints can be read. Returns the value in the
    kind's inner unit. Raises ValueError with a sentence a person can act on.
    """
    if len(text) > LONGEST:
        raise ValueError(f"“{text[:20]}…” is too long for a number")
    _check_commas(text)
    if kind == "temperature":
        return _temperature(text, system)
    plain = _plain(text)
    sign = -1.0 if plain.startswith("-") else 1.0
    plain = plain.lstrip("+-").strip()
    parts = _PART.findall(plain) if kind in _COMPOUND else _SINGLE.findall(plain)
    if not parts or (kind in _COMPOUND and _PART.sub("", plain)):
        raise ValueError(f"“{text}” is not a number with a unit such as {example(kind, system)}")
    return sign * math.fsum(_sizes(parts, kind, system))


_COMPOUND = ("length", "run", "fine_length")


@functools.cache
def _words(kind: str) -> dict[str, float]:
    """Every word read as a unit of a kind, as :func:`_plain` leaves it: the printed ones too."""
    each = KINDS[kind]
    named = {each.si.name: each.si.size, each.us.name: each.us.size, **each.words}
    return {_plain(word): size for word, size in named.items() if word}


def _sizes(parts: list[tuple[str, str]], kind: str, system: str) -> list[float]:
    """Each part in inner units; feet must come before inches, once each."""
    sizes = []
    default = getattr(KINDS[kind], system)
    words = _words(kind)
    previous = math.inf
    for number, written in parts:
        word = written.strip().rstrip(".")
        bare_inches = not word and len(parts) > 1 and previous == words.get("ft")
        word = "in" if bare_inches else word  # 6' 2 is six feet two inches
        if word and word not in words:
            known = ", ".join(sorted(KINDS[kind].words)) or getattr(KINDS[kind], system).name or "none"
            raise ValueError(f"the unit “{word}” does not fit; units read: {known}")
        size = words[word] if word else default.size
        if size >= previous:
            raise ValueError("write the larger unit first, once each, such as 6 ft 2 in")
        previous = size
        sizes.append(float(amount(number)) * size)
    return sizes


def example(kind: str, system: str) -> str:
    """A quantity of this kind as somebody might type it, for messages."""
    samples = {("length", "us"): "35 1/2 in", ("length", "si"): "900 mm", ("run", "us"): "75 ft",
               ("run", "si"): "23 m", ("mass", "us"): "770 lb", ("mass", "si"): "350 kg"}  # fmt: skip
    unit = getattr(KINDS[kind], system)
    return samples.get((kind, system), f"12 {unit.name}".strip())


def _money_of(rules: RuleSet | None) -> tuple[str, int]:
    """Sign and minor units of a rule set's money."""
    figure = rules.get("coins.currency") if rules else None
    return (figure.value["sign"], figure.value["minor"]) if figure else ("$", 100)


class Units:
    """Prints quantities in one unit system.

    ``system`` is "us" or "si"; ``currency`` a (symbol, minor units) pair for money, else that of the rules;
    ``rules`` the rule set whose own words are offered, all sets' words without one.
    """

    def __init__(
        self, system: str, currency: tuple[str, int] | None = None, rules: RuleSet | None = None
    ) -> None:
        self.system = system
        self.currency = currency or _money_of(rules)
        self.rules = rules

    def unit(self, kind: str) -> str:
        """The unit's printed name ("" for a plain number)."""
        if kind == "temperature" and self.system == "us":
            return "°F"
        return str(getattr(KINDS[kind], self.system).name)

    def number(self, value: float, kind: str) -> float:
        """The value in the printed unit, unrounded."""
        if kind == "temperature":
            return value * 1.8 + 32 if self.system == "us" else value
        if kind == "money":
            return value / self.currency[1]
        return value / float(getattr(KINDS[kind], self.system).size)

    def inner(self, number: float, kind: str) -> float:
        """The inverse of :meth:`number`."""
        if kind == "temperature":
            return (number - 32) / 1.8 if self.system == "us" else number
        if kind == "money":
            return number * self.currency[1]
        return number * float(getattr(KINDS[kind], self.system).size)

    def inner_step(self, kind: str) -> float:
        """How many inner units one printed unit holds; for differences, which have no zero."""
        if kind == "temperature":
            return 1 / 1.8 if self.system == "us" else 1.0
        if kind == "money":
            return float(self.currency[1])
        return float(getattr(KINDS[kind], self.system).size) if kind else 1.0

    def step(self, kind: str) -> float:
        """The smallest printed step of a kind, in inner units (1/16 in, 1 mm …)."""
        if kind == "length":
            return 25.4 / 16 if self.system == "us" else 1.0
        if kind == "money":
            return 1.0
        unit: Unit = getattr(KINDS[kind], self.system)
        return unit.size / float(10**unit.decimals)

    def rounded(self, value: float, kind: str, toward: str = "near", finer: int = 0) -> float:
        """The value moved to a printed step: toward "up", "down" or "near".

        ``finer`` divides the step by ten so many times.
        """
        step = self._finer_step(kind, finer)
        shift = 32 / 1.8 if kind == "temperature" and self.system == "us" else 0.0
        turns = (value + shift) / step
        # A value that already is a whole number of steps must not move by rounding noise.
        if abs(turns - round(turns)) < 1e-6:
            return round(turns) * step - shift
        return _TOWARD[toward](turns) * step - shift

    def _finer_step(self, kind: str, finer: int) -> float:
        if finer and kind == "length" and self.system == "us":
            return 25.4 / float(10 ** (finer + 1))  # below a sixteenth an inch is written in decimals
        if kind == "temperature":
            return self.inner_step(kind) / float(10 ** (self._decimals(kind) + finer))
        return self.step(kind) / float(10**finer)

    def _decimals(self, kind: str) -> int:
        return int(getattr(KINDS[kind], self.system).decimals)

    def text(self, value: float, kind: str, toward: str = "near") -> str:
        """The value as printed, with its unit."""
        if kind == "money":
            return self._money(value, toward)
        if kind == "length":
            return self._length(self.rounded(value, kind, toward))
        return self._decimal(self.rounded(value, kind, toward), kind)

    def off(self, value: float, kind: str) -> str:
        """How far something may be off, never told too small; a difference of temperatures has no offset."""
        if kind != "temperature":
            return self.text(value, kind, "up")
        step = self._finer_step(kind, 1)
        return self._decimal(math.ceil(value / step - 1e-6) * step, kind, 1, difference=True)

    def compared(self, value: float, limit: float, kind: str, *, up: bool) -> tuple[str, str, str]:
        """A value, its limit and what lies between them, printed so that they subtract.

        ``up`` where the value must be at least the limit. The value is rounded to its unsafe side
        and the limit to its strict one, so that what is left is never more than there is; where
        that would print a value on the wrong side of its limit, all three get another digit.
        """
        good = value >= limit if up else value <= limit
        for finer in range(5):
            shown = self.rounded(value, kind, "down" if up else "up", finer)
            wanted = self.rounded(limit, kind, "up" if up else "down", finer)
            left = shown - wanted if up else wanted - shown
            if not good or left > -0.5 * self._finer_step(kind, finer):
                break
        else:
            wanted = shown  # apart by less than any instrument shows
            left = 0.0
        between = self._decimal(abs(left), kind, finer, difference=True)
        if kind == "length" and not finer:
            return self._length(shown), self._length(wanted), self._length(abs(left))
        return self._printed(shown, kind, finer), self._printed(wanted, kind, finer), between

    def _printed(self, value: float, kind: str, finer: int) -> str:
        return self._money(value, "near") if kind == "money" else self._decimal(value, kind, finer)

    def _decimal(self, value: float, kind: str, finer: int = 0, *, difference: bool = False) -> str:
        """A value that stands on a printed step, in decimals; a difference has no offset."""
        if kind == "money":
            return self._money(value, "near")
        decimals = self._decimals(kind) + finer
        if kind == "length":
            decimals = 1 + finer if self.system == "us" else finer
        shown = value / self.inner_step(kind) if difference else self.number(value, kind)
        unit = self.unit(kind)
        gap = "" if unit in ("°", "%", "′", "") else " "
        return f"{round(shown, decimals) + 0.0:.{decimals}f}{gap}{unit}".replace("-", "−")

    def _money(self, value: float, toward: str) -> str:
        symbol, minor = self.currency
        whole = _TOWARD[toward](value)
        sign = "−" if whole < 0 else ""
        major, rest = divmod(abs(whole), minor)
        return f"{sign}{symbol}{major}.{rest:02d}" if minor > 1 else f"{sign}{symbol}{major}"

    def _length(self, value: float) -> str:
        sign = "−" if value < 0 else ""
        if self.system == "si":
            return f"{sign}{abs(round(value))} mm"
        sixteenths = round(abs(value) / (25.4 / 16))
        whole, part = divmod(sixteenths, 16)
        if not part:
            return f"{sign}{whole} in"
        small = Fraction(part, 16)
        return f"{sign}{f'{whole} ' if whole else ''}{small} in"

    def precise(self, value: float, kind: str) -> str:
        """A number for a working line: six figures, no unit."""
        number = self.number(value, kind)
        # What is left of 36 − 36 in binary is nothing to a reader.
        return f"{0.0 if abs(number) < 1e-9 else number:.6g}".replace("-", "−")


def to_inner(value: float, unit: str, kind: str) -> float:
    """A published figure in its own unit, turned to the inner unit of its kind.

    Raises KeyError when the unit does not belong to the kind.
    """
    if kind == "temperature":
        return (value - 32) / 1.8 if unit in ("°F", "F") else value
    return value * _size_of(unit, kind)


@functools.cache
def _size_of(unit: str, kind: str) -> float:
    named = {KINDS[kind].si.name: KINDS[kind].si.size, KINDS[kind].us.name: KINDS[kind].us.size}
    words = {word.lower(): size for word, size in KINDS[kind].words.items()}
    return named[unit] if unit in named else words[unit.lower()]

"""Typed inputs: a field's declaration is its form control, its help and its limits.

A record class lists its fields as attributes; reading one from an instance gives the
value in inner units (see :mod:`calculators.core.units`), or None for "not measured".
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Self

from . import units

if TYPE_CHECKING:
    from .rules import RuleSet

UNKNOWN_WORDS = ("", "not measured", "unknown", "?")


@dataclass(eq=False)
class Field:
    """One input. ``least`` and ``most`` are in inner units and belong to the range.

    ``default`` is a setting used when the field is left blank, and shown as assumed; a
    field without one stays unknown. ``tolerance`` is how far a measured value may be off.
    ``first`` marks the few fields of the short form. ``when`` names a field of the same
    record and the values for which this one applies. ``card`` marks what the operator's
    own data can fill. ``rule`` is the key of a listing in the rule set, and ``rule_item``
    the entry that must stand in it for the field to be offered (see :meth:`offered`).

    ``worse`` is the direction in which no check can come out better: "more" or "less" of a
    quantity, or a choice's words from best to worst. ``ends`` says that each check goes one
    way along the field, whichever way that is; ``worse`` says so too. What a blank may hide is
    worked out from these two (see :mod:`calculators.core.bounds`), and only from these.
    """

    label: str
    help: str = ""
    symbol: str = ""
    kind: str = ""
    example: Any = None
    least: float | None = None
    most: float | None = None
    default: Any = None
    tolerance: float = 0.0
    group: str = ""
    first: bool = False
    when: tuple[str, tuple[str, ...]] | None = None
    card: bool = False
    key: str = ""
    rule: str = ""
    rule_item: Any = None
    worse: str | tuple[str, ...] = ""
    ends: bool = False

    def __set_name__(self, owner: type, name: str) -> None:
        self.key = name

    def __get__(self, instance: Any, owner: type | None = None) -> Any:
        return self if instance is None else instance.__dict__.get(self.key)

    @property
    def type(self) -> str:
        """The field's type as JSON names it."""
        return type(self).__name__.lower()

    def applies(self, values: Mapping[str, Any]) -> bool:
        """Whether the field means anything beside the given values of its record."""
        return self.when is None or values.get(self.when[0]) in self.when[1]

    def offered(self, rules: RuleSet | None) -> bool:
        """Whether a form asks for it under a rule set: what is not in its listing is left out."""
        if rules is None or not self.rule:
            return True
        listed = rules.get(self.rule)
        return listed is not None and (self.rule_item is None or self.rule_item in listed.value)

    def read(self, raw: Any, system: str) -> Any:
        """The value in inner units; ValueError says what is wrong with ``raw``."""
        raise NotImplementedError  # pragma: no cover - each type reads its own

    def limit_text(self, show: units.Units) -> str:
        """What is allowed, as a sentence."""
        return ""

    def shown(self, value: Any, show: units.Units) -> str:
        """The value as a person would type it into the form."""
        return "" if value is None else str(value)

    def sample(self, show: units.Units) -> str:
        """The example as printed, rounded as a person would write it."""
        return self.shown(self.example, show)

    def assumed(self, show: units.Units) -> str:
        """The default as printed."""
        return self.shown(self.default, show)

    def describe(self, show: units.Units) -> dict[str, Any]:
        """The field for ``--describe`` and for the docs."""
        return {
            "key": self.key, "type": self.type, "label": self.label, "symbol": self.symbol,
            "unit": show.unit(self.kind) if self.kind else "", "kind": self.kind,
            "help": self.help, "allowed": self.limit_text(show), "group": self.group,
            "example": "" if self.example is None else self.sample(show), "first": self.first,
            "assumed": None if self.default is None else self.assumed(show),
            "tolerance": self.tolerance, "least": self.least, "most": self.most,
            "worse": list(self.worse) if isinstance(self.worse, tuple) else self.worse,
            "when": list(self.when) if self.when else None,
        }  # fmt: skip


class Quantity(Field):
    """A number with a unit, given as a number or as text such as 6 ft 2 3/8 in."""

    def read(self, raw: Any, system: str) -> float:
        """Parse, then hold the value to its range."""
        if isinstance(raw, bool) or not isinstance(raw, (int, float, str)):
            raise ValueError(f"A number such as {units.example(self.kind, system)} is wanted.")
        value = self._number(raw, system)
        show = units.Units(system)
        if not math.isfinite(value):
            raise ValueError("A finite number is wanted.")
        least, most = -math.inf if self.least is None else self.least, math.inf if self.most is None else self.most
        # A limit is told in six figures in the other units: 250 mm as 9.84252 in, which is a hair more.
        if not _within(value, least, most, room=1e-9 + ROUNDED * abs(value)):
            raise ValueError(self.limit_text(show))
        return float(min(max(value, least), most))

    def _number(self, raw: float | str, system: str) -> float:
        if isinstance(raw, str):
            try:
                return units.parse(raw, self.kind, system)
            except ValueError as error:
                raise ValueError(f"Here {error}.") from error
        return units.Units(system).inner(float(raw), self.kind)

    def limit_text(self, show: units.Units) -> str:
        """Between the least and the most, in the reader's units; either may be typed as printed."""
        least = None if self.least is None else show.text(self.least, self.kind, "up")
        most = None if self.most is None else show.text(self.most, self.kind, "down")
        if least is not None and most is not None:
            return f"It must lie between {least} and {most}."
        if least is not None:
            return f"It must be at least {least}."
        return f"It must be at most {most}." if most is not None else ""

    def shown(self, value: Any, show: units.Units) -> str:
        """The number with its unit, exact enough to read back."""
        if value is None:
            return ""
        number = show.number(value, self.kind)
        text = f"{number:.6g}"
        if "e" in text:  # nobody writes powers of ten, and the reading of numbers refuses them
            text = f"{number:.10f}".rstrip("0").rstrip(".")
        unit = show.unit(self.kind)
        # A number of a length in inches is written as the tape shows it where that is exact.
        if self.kind == "length" and show.system == "us":
            taped = show.text(value, "length")
            if abs(units.parse(taped, "length", "us") - value) < 1e-6:
                return taped.replace("−", "-")
        return f"{text} {unit}" if unit else text

    def sample(self, show: units.Units) -> str:
        """The example in the reader's units, rounded as printed."""
        return show.text(self.example, self.kind)

    def assumed(self, show: units.Units) -> str:
        """The default in the reader's units, rounded as printed."""
        return show.text(self.default, self.kind)


ROUNDED = 1e-5  # of a value: what six figures may be off


def _within(value: float, least: float | None, most: float | None, *, room: float = 0.0) -> bool:
    return (least is None or value >= least - room) and (most is None or value <= most + room)


class Count(Quantity):
    """A whole number."""

    def __init__(self, label: str, **options: Any) -> None:
        super().__init__(label, kind="count", **options)

    def read(self, raw: Any, system: str) -> int:
        """Parse as a number, and refuse a broken one."""
        value = super().read(raw, system)
        if value != int(value):
            raise ValueError("A whole number is wanted.")
        return int(value)


class Money(Quantity):
    """An amount of money, kept as a whole number of the smallest unit (cents, pence)."""

    def __init__(self, label: str, **options: Any) -> None:
        super().__init__(label, kind="money", **options)

    def read(self, raw: Any, system: str) -> int:
        """Read 1.25, $1.25 or 125 c exactly; no binary fraction of a cent appears."""
        text = str(raw).strip().lower().lstrip("$€£").strip()
        small = text.endswith(("c", "¢", "p"))
        try:
            amount = units.amount(text.rstrip("c¢p").strip())
        except ValueError as error:
            raise ValueError(f"Here {error}; write an amount such as 1.25.") from error
        cents = amount if small else amount * 100
        if cents.denominator != 1:
            raise ValueError("An amount in whole cents is wanted, such as 1.25.")
        if not _within(int(cents), self.least, self.most):
            raise ValueError(self.limit_text(units.Units(system)))
        return int(cents)

    def shown(self, value: Any, show: units.Units) -> str:
        """The amount in major units, without a currency sign."""
        return "" if value is None else f"{value // 100}.{value % 100:02d}"


class Choice(Field):
    """One of a few words; ``options`` maps each word to what the reader sees.

    With a ``rule``, ``options`` are the words of all rule sets, and a form offers those that
    the set's listing names (each row's ``name``) and those of ``always``.
    """

    def __init__(
        self, label: str, options: dict[str, str], always: tuple[str, ...] = (), **rest: Any
    ) -> None:
        super().__init__(label, **rest)
        self.options = options
        self.always = always

    def words(self, rules: RuleSet | None) -> dict[str, str]:
        """The options as a rule set has them; all of them where no rule set decides."""
        if rules is None or not self.rule or self.rule_item is not None:
            return self.options
        listed = rules.get(self.rule)
        named = () if listed is None else tuple(row.get("name") for row in listed.value)
        return {word: shown for word, shown in self.options.items() if word in (*self.always, *named)}

    def read(self, raw: Any, system: str) -> Any:
        """The word itself, or what the reader sees for it."""
        for word, shown in self.options.items():
            if str(raw).strip().lower() in (word.lower(), shown.lower()):
                return word
        raise ValueError(self.limit_text(units.Units(system)))

    def assumed_word(self) -> str:
        """The default as the reader sees it."""
        return self.options[self.shown(self.default, units.Units("us"))]

    def limit_text(self, show: units.Units) -> str:
        """The list of words."""
        return f"It must be one of: {', '.join(self.words(show.rules))}."

    def describe(self, show: units.Units) -> dict[str, Any]:
        """As for any field, with the options."""
        return {**super().describe(show), "options": dict(self.words(show.rules))}


class Flag(Choice):
    """Yes or no; left blank it is unknown, not no."""

    def __init__(self, label: str, **rest: Any) -> None:
        super().__init__(label, {"yes": "Yes", "no": "No"}, **rest)

    def words(self, rules: RuleSet | None) -> dict[str, str]:
        """Both, whatever a rule set says: its figure decides whether it is asked at all."""
        return self.options

    def read(self, raw: Any, system: str) -> Any:
        """True or false, from a boolean or from the words yes and no."""
        if isinstance(raw, bool):
            return raw
        return super().read(raw, system) == "yes"

    def shown(self, value: Any, show: units.Units) -> str:
        """Yes or no."""
        return "" if value is None else ("yes" if value else "no")


class Text(Field):
    """A short free text, such as a name; it takes no part in the working."""

    longest = 120

    def read(self, raw: Any, system: str) -> str:
        """The text, at most ``longest`` characters."""
        if not isinstance(raw, (str, int, float)) or len(str(raw)) > self.longest:
            raise ValueError(self.limit_text(units.Units(system)))
        return str(raw).strip()

    def limit_text(self, show: units.Units) -> str:
        """The greatest length."""
        return f"It must be a text of at most {self.longest} characters."


class Log(Text):
    """A long text of many lines, such as what an instrument wrote down: pasted, or read from a file in the page.

    It stays out of links and of what a result gives back; ``most`` is the number of lines that are worked on.
    """

    longest = 2_000_000

    def __init__(self, label: str, **options: Any) -> None:
        options.setdefault("most", 10_000)
        super().__init__(label, **options)

    def read(self, raw: Any, system: str) -> str:
        """The text as it is, its first and last blank lines left out."""
        if not isinstance(raw, str) or len(raw) > self.longest:
            raise ValueError(self.limit_text(units.Units(system)))
        return raw.strip("\n\r \t")

    def limit_text(self, show: units.Units) -> str:
        """The greatest length."""
        return f"It must be lines of text, at most {self.most:,.0f} of them."


class Rows(Field):
    """A list of records, such as the legs of a route; ``record`` is their class.

    ``brief`` names the fields that tell a row in one line, ``a*b`` as one measure by another and ``a/b`` as one of
    another; without it the first ones do.
    """

    def __init__(
        self, label: str, record: type[Record], noun: str, *, brief: tuple[str, ...] = (), **rest: Any
    ) -> None:
        rest.setdefault("least", 0)
        rest.setdefault("most", 12)
        super().__init__(label, **rest)
        self.record = record
        self.noun = noun
        self.brief = brief

    def limit_text(self, show: units.Units) -> str:
        """How many rows there may be."""
        return f"There may be {self.least:g} to {self.most:g} of them."

    def describe(self, show: units.Units) -> dict[str, Any]:
        """As for any field, with the fields of a row."""
        return {
            **super().describe(show),
            "example": [self.record.shown(row, show) for row in self.example or ()],
            "row": [field.describe(show) for field in self.record.fields() if field.offered(show.rules)],
        }


class Record:
    """A set of fields; an instance holds their values in inner units."""

    _fields: ClassVar[tuple[Field, ...]] = ()
    _named: ClassVar[dict[str, Field]] = {}

    def __init_subclass__(cls) -> None:
        # A tuple on the class, so that the order of declaration is the order of the form.
        own = [value for value in vars(cls).values() if isinstance(value, Field)]
        cls._fields = (*cls._fields, *own)
        cls._named = {field.key: field for field in cls._fields}

    def __init__(self, **values: Any) -> None:
        for field in self._fields:
            self.__dict__[field.key] = values.get(field.key, field.default)
        self.given = frozenset(key for key, value in values.items() if value is not None)

    def copied(self) -> Self:
        """A copy whose values, rows too, can be changed without changing these."""
        made = object.__new__(type(self))
        made.__dict__.update(self.__dict__)
        for key, value in self.__dict__.items():
            if isinstance(value, list):
                made.__dict__[key] = [row.copied() for row in value]
        return made

    def changed(self, changes: Mapping[str, Any]) -> Self:
        """A copy with values, in inner units, put at paths such as ``route.2.width``."""
        made = self.copied()
        for path, value in changes.items():
            record, key = made.at(path)
            record.__dict__[key] = value
            record.given = record.given | {key} if value is not None else record.given - {key}
        return made

    def retyped(self, typed: Mapping[str, Any], system: str) -> Self:
        """A copy in which the fields at paths have read what a person typed; ValueError as they raise it."""
        read = {}
        for path, text in typed.items():
            record, key = self.at(path)
            read[path] = None if is_unknown(text) else type(record).field(key).read(text, system)
        return self.changed(read)

    def at(self, path: str) -> tuple[Record, str]:
        """The record that an input's path leads to, and the input's key in it."""
        if "." not in path:  # nearly every path: asked some thousand times in one run
            return self, path
        record: Record = self
        *rows, key = path.split(".")
        for name, number in zip(rows[::2], rows[1::2], strict=True):
            record = record.__dict__[name][int(number)]
        return record, key

    @classmethod
    def fields(cls) -> tuple[Field, ...]:
        """The fields in order."""
        return cls._fields

    @classmethod
    def field(cls, key: str) -> Field:
        """The field of that key; KeyError where there is none."""
        return cls._named[key]

    @classmethod
    def shown(cls, values: dict[str, Any], show: units.Units) -> dict[str, Any]:
        """Values in inner units as a person would type them.

        Unknown ones are left out, and those that the rule set has no use for.
        """
        typed: dict[str, Any] = {}
        for field in cls._fields:
            value = values.get(field.key)
            if not field.offered(show.rules):
                continue
            if isinstance(field, Rows):
                typed[field.key] = [field.record.shown(row, show) for row in value or ()]
            elif value is not None:
                typed[field.key] = field.shown(value, show)
        return typed

    def values(self) -> dict[str, Any]:
        """The values in inner units, rows as dictionaries too."""
        return {
            field.key: [row.values() for row in self.__dict__[field.key] or ()]
            if isinstance(field, Rows)
            else self.__dict__[field.key]
            for field in self._fields
        }


def ends_of(field: Field, rules: RuleSet | None = None) -> tuple[Any, ...] | None:
    """The values, best first, between which all that a blank may hold is decided.

    None where nothing follows from them: a check may turn back in between, or the field has no
    end. Every option of a choice counts as one, of those that the rule set has.
    """
    if isinstance(field, Flag):
        return (True, False) if field.worse in ("", ("yes", "no")) else (False, True)
    if isinstance(field, Choice):
        return tuple(field.worse or field.words(rules))
    if not isinstance(field, Quantity) or field.least is None or field.most is None:
        return None
    if field.worse == "less":
        return (field.most, field.least)
    return (field.least, field.most) if field.worse or field.ends else None


def is_unknown(raw: Any) -> bool:
    """Whether a raw value says "not measured"."""
    return raw is None or (isinstance(raw, str) and raw.strip().lower() in UNKNOWN_WORDS)

"""Every error a person can meet, as data.

CalculatorError
├── UnknownCalculator     a name that no calculator bears
└── InputErrors           one or more inputs that cannot be used, all at once
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

LONGEST = 80  # characters of a value that are repeated in a message


@dataclass(frozen=True)
class InputError:
    """One input that cannot be used: where, what was given, what is allowed, what to do."""

    field: str
    label: str
    value: Any
    limit: str
    mend: str

    @property
    def message(self) -> str:
        """The error as one sentence, beginning with the label's own words."""
        shown = "nothing" if self.value in (None, "") else f"“{_brief(str(self.value))}”"
        return f"{self.label}: {shown} cannot be used. {self.limit} {self.mend}".strip()

    def to_dict(self) -> dict[str, Any]:
        """The error for JSON, its sentence included."""
        return {**asdict(self), "message": self.message}


@dataclass(frozen=True)
class Contradiction:
    """Inputs that cannot all be true: the paths of all of them, and what is wrong as sentences."""

    paths: tuple[str, ...]
    text: str


def _brief(text: str) -> str:
    """A value as a sentence can bear it: a page of text in it would hide what is wrong."""
    return text if len(text) <= LONGEST else f"{text[:LONGEST]}…"


class CalculatorError(Exception):
    """Anything a calculator refuses."""


class UnknownCalculator(CalculatorError):
    """A calculator name that does not exist; carries the names that do."""

    def __init__(self, name: str, known: tuple[str, ...]) -> None:
        self.name = name
        self.known = known
        super().__init__(f"There is no calculator “{name}”. There are: {', '.join(known)}.")


class InputErrors(CalculatorError):
    """Every input that cannot be used; ``errors`` is a tuple of :class:`InputError`."""

    def __init__(self, errors: tuple[InputError, ...]) -> None:
        self.errors = errors
        super().__init__("\n".join(error.message for error in errors))

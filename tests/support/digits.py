"""Whether a value is what a page prints."""

from __future__ import annotations


def agrees(value: float, printed: str) -> bool:
    """To half of the last printed digit; a hair more, for a value that lies on it."""
    digits = len(printed.partition(".")[2])
    return abs(value - float(printed)) <= 0.5 * 10.0**-digits * (1 + 1e-9)

"""What tests read off a calculator's answer."""

from __future__ import annotations

from typing import Any


def value(result: dict[str, Any], key: str) -> Any:
    """A result's value in its inner unit."""
    return next(each["inner"] for each in result["values"] if each["key"] == key)


def check(result: dict[str, Any], key: str) -> dict[str, Any]:
    """The first check of that name."""
    return next(each for each in result["checks"] if each["key"] == key)

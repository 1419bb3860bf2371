"""Requests of the cold holding calculator near a plain case: a cabinet at 3 °C, looked at every half hour."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from calculators.cold import CALCULATOR

BEGIN = datetime.fromisoformat("2026-11-28 06:00")
NOW = "2026-11-28 12:00"
PLAIN = {
    "cooling": "chilled", "now": NOW, "put_in": "2026-11-28 06:00", "measured": "food", "loaded": "2 °C", "pack_names": "no",
    "shutoff": "quiet", "lots": [{"name": "Rolls", "dated": "kitchen", "made": "2026-11-27"}],
}  # fmt: skip


def log(degrees: list[Any], step: int = 30, begin: datetime = BEGIN) -> str:
    """A log in °C with a reading every so many minutes; a text stands for itself."""
    rows = [f"{begin + timedelta(minutes=step * at):%Y-%m-%d %H:%M},{each}" for at, each in enumerate(degrees)]
    return "\n".join(["time,temperature (°C)", *rows])


COLD = [2] * 13  # 06:00 to 12:00


def with_at(places: dict[int, Any]) -> list[Any]:
    """The cold log with other readings at some places."""
    return [places.get(at, each) for at, each in enumerate(COLD)]


def run(rules: str = "us", **changes: Any) -> dict[str, Any]:
    """The plain case with changes; None takes one out. Bare numbers are metric."""
    inputs = {"log": log(COLD), **PLAIN, **changes}
    request = {"units": "si", "rules": rules, "inputs": {key: each for key, each in inputs.items() if each is not None}}
    return CALCULATOR.run(request)


def check(result: dict[str, Any], key: str, at: str = "") -> dict[str, Any]:
    """One check of a result; at the first place where it names one."""
    return next(each for each in result["checks"] if each["key"] == key and (not at or each["at"] == at))


def outcome(key: str, rules: str = "us", **changes: Any) -> str:
    """How one check comes out."""
    return str(check(run(rules, **changes), key)["outcome"])


def rows(result: dict[str, Any], key: str) -> list[Any]:
    """The rows of a table of a result; none where it is not there."""
    return next((table["rows"] for table in result["tables"] if table["key"] == key), [])

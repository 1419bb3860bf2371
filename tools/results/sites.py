"""What the calculators say of each site."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

import calculators
from calculators.core.report import worst
from tools.book.data import OperatorData

from . import coilplan

CALCULATORS = ("clearance", "circuit", "float")


@dataclass(frozen=True)
class Sheet:
    """What one site's sheet says: a report each, the coil plan, and the worst of them all."""

    reports: dict[str, dict[str, Any]]
    plan: coilplan.Plan

    @property
    def outcomes(self) -> dict[str, str]:
        """The outcome of each part."""
        each = {name: report["outcome"] for name, report in self.reports.items()}
        return {**each, "spiral": self.plan.outcome}

    @property
    def outcome(self) -> str:
        """The sheet's own outcome: its worst part."""
        return worst(list(self.outcomes.values()))


def work_out(data: OperatorData, key: str) -> Sheet:
    """Run every calculator on a site's data."""
    return _worked(data, key)


@functools.lru_cache(maxsize=256)
def _worked(data: OperatorData, key: str) -> Sheet:
    local = data.rules.local()
    reports = {
        name: calculators.run(name, {
            "units": data.units, "rules": data.rules.name, "local": local,
            "inputs": data.prefill(name, {"site": key}),
        })
        for name in CALCULATORS
    }  # fmt: skip
    return Sheet(reports, coilplan.make(data, key))

def site_rows(data: OperatorData) -> list[tuple[str, str, str, str]]:
    """Every site as (key, name, day, outcome), for the home page."""
    return [
        (row.typed["key"], row.typed["name"], row.typed.get("date", ""),
         work_out(data, row.typed["key"]).outcome)
        for row in data.tables["sites"]
    ]  # fmt: skip

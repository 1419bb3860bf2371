"""What the calculators say of each site."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import Any

from calculators.core.report import worst
from tools.book.answers import Question
from tools.book.data import OperatorData
from tools.book.tables import STAND_SITE

from . import asking, siteplan

CALCULATORS = ("clearance", "circuit", "float")


@dataclass(frozen=True)
class Sheet:
    """What one site's sheet says: a report each, the plan of its lanes, and the worst of them all."""

    reports: dict[str, dict[str, Any]]
    plan: siteplan.Plan

    @property
    def outcomes(self) -> dict[str, str]:
        """The outcome of each part."""
        each = {name: report["outcome"] for name, report in self.reports.items()}
        return {**each, "plan": self.plan.outcome}

    @property
    def outcome(self) -> str:
        """The sheet's own outcome: its worst part."""
        return worst(list(self.outcomes.values()))


def work_out(data: OperatorData, key: str) -> Sheet:
    """Run every calculator on a site's data."""
    return _worked(data, key)


@functools.lru_cache(maxsize=32)
def _worked(data: OperatorData, key: str) -> Sheet:
    reports = {name: data.answers.told(each) for name, each in questions(data, key).items()}
    return Sheet(reports, siteplan.make(data, key))


def questions(data: OperatorData, key: str) -> dict[str, Question]:
    """What each calculator is asked of a site; how it stands only where there is something to judge."""
    asked = (*CALCULATORS, *(("standing",) if stands(data, key) else ()))
    return {name: asking.question(data, name, data.prefill(name, {"site": key})) for name in asked}


def stands(data: OperatorData, key: str) -> bool:
    """Whether a site's stand is judged: outdoors, or where the data say anything of it."""
    site = data.row("sites", key)
    return bool(site.values.get("outdoors")) or any(column in site.values for column in STAND_SITE)


# All of a page's words hold in memory what a handful of sheets would; a thousand sheets would not fit.
@functools.lru_cache(maxsize=100_000)
def outcome(data: OperatorData, key: str) -> str:
    """A site's outcome."""
    return work_out(data, key).outcome


def site_rows(data: OperatorData) -> list[tuple[str, str, str, str]]:
    """Every site as (key, name, day, outcome), for the home page."""
    return [
        (row.typed["key"], row.typed["name"], row.typed.get("date", ""), outcome(data, row.typed["key"]))
        for row in data.tables["sites"]
    ]  # fmt: skip

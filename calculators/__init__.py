"""The handbook's calculators: standard library only, no files, no clock, no browser.

``run_json`` is the whole border to a page or a shell: a name and JSON text in, JSON text
out, never an exception. ``begin_json`` is the same in steps, for work that may take long.
"""

from __future__ import annotations

import importlib
from dataclasses import asdict
from typing import Any

from . import door
from .core import html, words
from .core.calculator import REQUEST_KEYS, Calculator
from .core.errors import CalculatorError, UnknownCalculator
from .core.progress import Early, Run, finish
from .core.rules import RULE_SETS
from .core.units import KINDS, Units

__all__ = ["EARLY", "NAMES", "PROGRESS", "CalculatorError", "Running", "begin_json", "get", "run", "run_json"]
NAMES = ("clearance", "circuit", "spiral", "float", "plan", "level", "outlet", "handling", "standing", "cold", "restock",
         "cash", "energy")  # fmt: skip


def get(name: str) -> Calculator:
    """The calculator of that name; raises UnknownCalculator."""
    if name not in NAMES:
        raise UnknownCalculator(name, NAMES)
    module = importlib.import_module(f"{__name__}.{name}")
    calculator: Calculator = module.CALCULATOR
    return calculator


def run(name: str, request: dict[str, Any]) -> dict[str, Any]:
    """Work out a request; with ``html`` true the result holds its page fragment too."""
    return finish(_steps(name, request))


def _steps(name: str, request: dict[str, Any]) -> Run:
    calculator = get(name)
    door.check_shape(request)
    steps, stop = calculator.steps(request), None
    try:
        while True:
            told = steps.send(stop)
            stop = yield Early(_shown(calculator, told.report, request)) if isinstance(told, Early) else told
    except StopIteration as end:
        return _shown(calculator, end.value, request)


def _shown(calculator: Calculator, report: dict[str, Any], request: dict[str, Any]) -> dict[str, Any]:
    if request.get("html"):
        report["html"] = html.report(calculator, report)
        report["verdict"] = html.verdict(report)
        report["plain"] = html.plain(report)
        show = Units(report["units"])
        report["unit_names"] = {kind: show.unit(kind) for kind in KINDS}
    return report


def run_json(name: str, text: str) -> str:
    """:func:`run` on JSON text; errors come back as ``{"errors": [...]}``, whatever the text is."""
    running = begin_json(name, text)
    while (answer := running.advance()).startswith((PROGRESS, EARLY)):
        pass
    return answer


def begin_json(name: str, text: str) -> Running:
    """:func:`run_json` bit by bit, for a page that shows progress and offers to stop."""
    return Running(name, text)


# No answer begins so: its first key is "calculator" or "errors".
PROGRESS = '{"progress"'
EARLY = '{"early"'


class Running:
    """A calculation under way; :meth:`advance` until its answer comes."""

    def __init__(self, name: str, text: str) -> None:
        self._asked: dict[str, Any] = {}
        self._steps = self._run(name, text)
        self._begun = self._stop = False
        self._answer = ""

    def advance(self) -> str:
        """A little further: ``{"progress": {"text": …, "share": …}}``, or the answer at the end.

        Where a first answer was asked for, ``{"early": …}`` with it may come on the way.
        """
        if not self._answer:
            self._answer = door.guarded(self._next, self._say)
        text = self._answer
        if text.startswith((PROGRESS, EARLY)):
            self._answer = ""
        return text

    def _next(self) -> dict[str, Any]:
        try:
            # The first step of a generator takes no message.
            told = self._steps.send(self._stop if self._begun else None)
        except StopIteration as end:
            answer: dict[str, Any] = end.value
            return answer
        self._begun = True
        return {"early": told.report} if isinstance(told, Early) else {"progress": asdict(told)}

    def stop(self) -> None:
        """Ask for the best answer so far; it comes after a step or two."""
        self._stop = True

    def _run(self, name: str, text: str) -> Run:
        self._asked = _request(door.read(text))
        return (yield from _steps(name, self._asked))

    def _say(self, answer: dict[str, Any]) -> dict[str, Any]:
        """The answer in the words of the rule set that was asked for."""
        rules = self._asked.get("rules")
        if not isinstance(rules, str) or rules == words.BASE or rules not in RULE_SETS:
            return answer
        said: dict[str, Any] = words.of(rules, self._asked).answer(answer)
        return said


def _request(raw: dict[str, Any]) -> dict[str, Any]:
    """A request; bare inputs without the part "inputs" around them will do too."""
    if "inputs" in raw:
        return raw
    parts = {key: raw[key] for key in REQUEST_KEYS if key in raw}
    return {**parts, "inputs": {key: raw[key] for key in raw if key not in parts}}

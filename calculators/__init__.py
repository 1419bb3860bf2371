"""The handbook's calculators: standard library only, no files, no clock, no browser.

``run_json`` is the whole border to a page or a shell: a name and JSON text in, JSON text
out, never an exception.
"""

from __future__ import annotations

import importlib
import json
from typing import Any

from .core import html
from .core.calculator import REQUEST_KEYS, Calculator
from .core.errors import CalculatorError, InputErrors, UnknownCalculator
from .core.units import KINDS, Units

NAMES = ("clearance", "circuit", "spiral", "float", "level", "outlet")


def get(name: str) -> Calculator:
    """The calculator of that name; raises UnknownCalculator."""
    if name not in NAMES:
        raise UnknownCalculator(name, NAMES)
    module = importlib.import_module(f"{__name__}.{name}")
    calculator: Calculator = module.CALCULATOR
    return calculator


def run(name: str, request: dict[str, Any]) -> dict[str, Any]:
    """Work out a request; with ``html`` true the result holds its page fragment too."""
    calculator = get(name)
    report = calculator.run(request)
    if request.get("html"):
        report["html"] = html.report(calculator, report)
        report["plain"] = html.plain(report)
        show = Units(report["units"])
        report["unit_names"] = {kind: show.unit(kind) for kind in KINDS}
    return report


def run_json(name: str, text: str) -> str:
    """:func:`run` on JSON text; errors come back as ``{"errors": [...]}``."""
    try:
        answer = run(name, _request(json.loads(text)))
    except InputErrors as error:
        answer = {"errors": [each.to_dict() for each in error.errors]}
    except (CalculatorError, json.JSONDecodeError) as error:
        answer = {"errors": [{"field": "", "label": "Request", "message": str(error)}]}
    return json.dumps(answer, ensure_ascii=False, allow_nan=False)


def _request(raw: Any) -> dict[str, Any]:
    """A request; bare inputs without the part "inputs" around them will do too."""
    if not isinstance(raw, dict):
        raise CalculatorError("A request is a JSON object such as {\"inputs\": {…}}.")
    if "inputs" in raw:
        return raw
    parts = {key: raw[key] for key in REQUEST_KEYS if key in raw}
    return {**parts, "inputs": {key: raw[key] for key in raw if key not in parts}}

"""Cases with known answers, for a reader who wants to know whether this copy, in this browser, still counts right.

Some were printed by others (published.toml). Beside them stands each calculator's own example, with what came out where
the handbook was built: it says nothing about truth, but it goes through all of a calculator.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import calculators
from calculators.core.report import OUTCOME_WORDS
from tools.book.answers import Answers, Question

KINDS = ("value", "limit", "step", "cell", "check")
BUILT = "The calculator’s own example, as it came out where this handbook was built"


def listed() -> Iterator[dict[str, Any]]:
    """Each printed case, as the page asks it and compares it: ``request``, ``kind``, ``key``, ``expected`` …"""
    for case in tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))["case"]:
        kind = next(each for each in KINDS if each in case)
        request = {key: case[key] for key in ("units", "typed", "rules", "inputs") if key in case}
        kept = {key: case[key] for key in ("calculator", "what", "source", "status", "at", "scale") if key in case}
        yield {**kept, "request": {"rules": "us", **request}, "kind": kind, "key": case[kind], **_expected(case, kind)}


def _expected(case: Mapping[str, Any], kind: str) -> dict[str, Any]:
    """What the source prints, as a number with its tolerance where it is one; a word stands as readers see it."""
    printed = case["printed"]
    if kind == "check":
        return {"expected": printed, "printed": OUTCOME_WORDS[printed]}
    if kind == "cell":
        return {"expected": printed, "printed": printed}
    number, _, unit = printed.partition(" ")
    digits = len(number.partition(".")[2])
    tolerance = case.get("tolerance", 0.5 * 10.0**-digits)
    return {"expected": float(number), "printed": printed, "digits": digits, "unit": unit, "tolerance": tolerance}


def examples(rules: str, answers: Answers | None = None) -> Iterator[dict[str, Any]]:
    """Each calculator's example under the operator's rules, with what came out here and the hash of all that it says.

    ``answers`` may have them from before: they rest on code and rules alone.
    """
    asked = answers or Answers()
    for name in calculators.NAMES:
        inputs, units = calculators.get(name).example_in(rules)
        yield asked.ask(Question(example, name, {"units": units, "rules": rules, "inputs": dict(inputs)}))


def example(name: str, request: dict[str, Any]) -> dict[str, Any]:
    """One of them, as a page asks it."""
    answer = json.loads(calculators.run_json(name, json.dumps(request)))
    return {"calculator": name, "what": answer["title"], "source": BUILT, "status": "worked out here", "request": request,
            "kind": "answer", "printed": answer["headline"], "sum": hashlib.sha256(read(answer).encode()).hexdigest()}  # fmt: skip


def read(answer: Mapping[str, Any]) -> str:
    """What all of an answer says that a reader reads; copycases.js writes the same."""
    texts = ([each["text"] for each in answer[key]] for key in ("values", "checks"))
    return json.dumps([answer["outcome"], answer["headline"], *texts], ensure_ascii=False, separators=(",", ":"))

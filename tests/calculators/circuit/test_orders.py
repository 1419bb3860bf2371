"""Nothing here tells an unlicensed reader to open an outlet, to fit a device or to work on wiring."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from calculators.circuit import CALCULATOR
from calculators.core import Record, Rows, rules
from tests.support.inputs import random_request

QUICK = dataclasses.replace(CALCULATOR, probe=False)
PART = r"(outlet|receptacle|socket|socket-outlet|plug|panel|board|consumer unit|switchboard|box|breaker|fuse|wire|wiring|cable|cord|cover|GFCI|RCD|device|terminal|ground|earth|neutral)"
# Orders that only a licensed person may follow, in whatever words stand between verb and thing.
FORBIDDEN = [
    rf"\b(open|unscrew|take off|remove|loosen|take apart|lift off|probe)\b[^.;:]{{0,40}}\b{PART}s?\b",
    r"\b(fit|install|put in|replace|change|swap|exchange|rewire|wire up|connect|disconnect|add|move|lengthen|cut|join|splice|bond)\b[^.;:]{0,40}\b(outlet|receptacle|socket|socket-outlet|panel|board|breaker|fuse|wire|wiring|cable|cover|GFCI|RCD|circuit|ground|earth|cord)s?\b",
    r"\b(bypass|bridge|defeat|tape|do away with|disable|lift the ground|cut off the ground)\b",
    r"\b(measure|test|touch|reach)\b[^.;:]{0,30}\b(inside|live|terminals?|bare)\b",
    r"\b(larger|bigger|heavier) (breaker|fuse)\b",
]
# Who does it, or that nobody does.
SAFE = re.compile(r"electrician|technician|maker's service|\bnever\b|\bdo not\b", re.IGNORECASE)


def sentences(text: str) -> list[str]:
    return [each for each in re.split(r"(?<=[.!?;])\s+", text) if each]


def orders(text: str) -> list[str]:
    """The forbidden orders in a text: those in a sentence that names nobody licensed and forbids nothing."""
    return [each for each in sentences(text) if not SAFE.search(each)
            and any(re.search(pattern, each, re.IGNORECASE) for pattern in FORBIDDEN)]  # fmt: skip


@pytest.mark.parametrize("text", [
    "Open the outlet and look at the wire.", "Fit a GFCI.", "Replace the breaker with a larger one.",
    "Unscrew the cover of the socket-outlet.", "Put in larger wire.", "Remove the panel cover.", "Bypass the RCD.",
    "Install a weatherproof cover over the outlet.", "Use a bigger fuse.", "Measure at the live terminals.",
    "Add an outlet nearby.", "Cut off the ground pin.",
])  # fmt: skip
def test_the_list_catches_such_orders(text: str) -> None:
    """The list is worth something: each of these is caught, alone and after a harmless sentence."""
    assert orders(text)
    assert orders(f"Read the plate. {text}")


@pytest.mark.parametrize("text", [
    "Have a licensed electrician fit GFCI protection, or use an outlet that has it.",
    "Never open an outlet to look.", "Use no extension cord: set the cabinet where its own cord reaches.",
    "Plug the other cabinets into other circuits.", "Read the voltage at the outlet to know.",
])  # fmt: skip
def test_the_list_lets_safe_words_stand(text: str) -> None:
    """What an operator may do, and what is left to others, is not caught."""
    assert not orders(text)


def definition(record: type[Record]) -> Iterator[str]:
    for field in record.fields():
        yield field.label
        yield field.help
        yield from getattr(field, "options", {}).values()
        if isinstance(field, Rows):
            yield from definition(field.record)


def test_the_definition_gives_no_such_order() -> None:
    """Labels, helps, choices, cautions, what is not checked, and the page around the calculator."""
    texts = [*definition(CALCULATOR.inputs), CALCULATOR.caution, CALCULATOR.summary, *CALCULATOR.not_checked]
    for spec in (*CALCULATOR.checks, *CALCULATOR.values):
        texts += [spec.label, spec.help, getattr(spec, "caution", "")]
    page = Path(__file__).parents[3] / "docs" / "calculators" / "circuit.md"
    texts += [" ".join(each.split()) for each in page.read_text().split("\n\n")]
    assert not [found for text in texts for found in orders(text)]


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_the_rules_give_no_such_order(name: str) -> None:
    """A figure's label, words and note are shown too."""
    figures = [each for key, each in rules.load(name).figures.items() if key.startswith(("circuit", "conductors"))]
    texts = [str(text) for rule in figures for text in (rule.label, rule.note, rule.value)]
    assert not [found for text in texts for found in orders(text)]


def said(result: dict[str, Any]) -> Iterator[str]:
    yield from (*result["actions"], *result["not_checked"], result["headline"])
    for check in result["checks"]:
        yield from (check["text"], check["note"], check["caution"], check["mend"]["text"] if check["mend"] else "")
    for group in result["working"]:
        for step in group["steps"]:
            yield from (step["label"], step["note"])
    for table in result["tables"]:
        yield from (table["note"], *(cell for row in table["rows"] for cell in row))


@pytest.mark.parametrize("name", rules.RULE_SETS)
def test_no_result_gives_such_an_order(name: str) -> None:
    """Twenty random circuits in each rule set: nothing said, noted, mended or listed orders it."""
    seen = 0
    for seed in range(20):
        request = {**random_request(CALCULATOR, 40_000 + seed), "rules": name}
        texts = list(said(QUICK.run(request)))
        seen += sum("electrician" in text for text in texts)
        assert not [found for text in texts for found in orders(text)]
    assert seen > 30

"""Whatever is printed can be redone with a pencil, and whatever is allowed can be typed."""

from __future__ import annotations

import dataclasses
import html.parser
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators.core import Calculator, InputErrors, Quantity, Rows, rules
from calculators.core.fields import Field
from calculators.core.units import Units
from tests.support import pencil
from tests.support.inputs import random_request

ALL = [calculators.get(name) for name in calculators.NAMES]
each = pytest.mark.parametrize("calculator", ALL, ids=calculators.NAMES)
SETS = tuple(rules.RULE_SETS)
REQUESTS = 150  # each in both unit systems
# A run that also decides what blanks may hide repeats itself many times.
BOUNDED = 12


def quick(calculator: Calculator) -> Calculator:
    """The sheet alone, without the runs that look what a blank may hide."""
    return dataclasses.replace(calculator, probe=False, finish=None)


def results(calculator: Calculator, count: int, first: int = 0) -> Iterator[dict[str, Any]]:
    """Results of so many seeded requests, each in both unit systems, the five sets in turn."""
    for seed in range(first, first + count):
        for units in ("us", "si"):
            request = random_request(calculator, seed, units, SETS[seed % len(SETS)])
            try:
                yield calculator.run(request)
            except InputErrors:  # a contradiction of that set alone
                continue


def told(result: dict[str, Any]) -> Iterator[tuple[dict[str, Any], pencil.Line]]:
    """Each check of a result that compares, as it is printed."""
    for check in result["checks"]:
        if check["sense"] and check["outcome"] != "unknown":
            read = pencil.line(check["text"])
            # A check may say beside its numbers what it was told; then it is no comparison.
            if read is not None:
                yield check, read
            else:
                assert "required" not in check["text"], check["text"]


@each
@pytest.mark.parametrize("runs", ["plain", "bounded"])
def test_every_printed_check_subtracts(calculator: Calculator, runs: str) -> None:
    """Value less limit is what is left, to the printed digit, and on the side that the outcome says."""
    if runs == "plain":
        found = results(quick(calculator), REQUESTS)
    else:
        found = results(dataclasses.replace(calculator, finish=None), BOUNDED, 50_000)
    seen = 0
    for result in found:
        for check, read in told(result):
            assert not pencil.wrong(read, check["outcome"]), (pencil.wrong(read, check["outcome"]), check)
            seen += 1
    compares = any(spec.kind for spec in calculator.checks)
    assert seen >= (REQUESTS if runs == "plain" else BOUNDED) or not compares


@each
def test_printed_numbers_are_those_worked_out(calculator: Calculator) -> None:
    """A printed value or limit is off by a printed step at most, and never to the comfortable side."""
    for result in results(quick(calculator), 40, 7000):
        for check, read in told(result):
            up = check["sense"] == "at least"
            for key, shown, low in (("value", read.value, up), ("limit", read.limit, not up)):
                apart = float(shown.number) - check[key]
                step = 1 / 16 if shown.unit == "in" and not shown.decimals else 10.0**-shown.decimals
                slack = 1e-5 * step + 1e-9 * abs(check[key])
                assert -(step if low else 0) - slack <= apart <= (0 if low else step) + slack, (key, check)


@pytest.mark.parametrize(("text", "outcome", "fault"), [
    ("3 1/4 in; at least 3 in required: 1/4 in to spare.", "pass", ""),
    ("3 1/4 in; at least 3 in required: 3/16 in to spare.", "pass", "value less limit is not what is left"),
    ("3.10 A; at most 3.00 A required: 0.10 A over.", "stop", ""),
    ("3.10 A; at most 3.00 A required: 0.10 A to spare.", "pass", "value less limit is not what is left"),
    ("2.90 A; at most 3.00 A required: 0.10 A to spare.", "stop", "a stop on the right side"),
    ("3.00 A; at most 3.00 A required: 0.00 A over.", "stop", "a stop on the right side"),
    ("3.10 A; at most 3.00 A required: 0.10 A over.", "pass", "a pass on the wrong side"),
    ("3.10 A; at most 3.00 A required: 0.10 A short.", "stop", "short of a most, or over a least"),
    ("41 °F; at most 45 °F required: 4 °C to spare.", "pass", "three units"),
    ("3.10 A; at most 3.00 A required: −0.10 A to spare.", "pass", "a negative difference"),
    ("$4.10; at least $3.00 required: $1.10 to spare, but the measuring may be $1.00 off.", "caution",
     "more to spare than the measuring may hide"),
    ("2 mm; at least 1 mm required: 1 mm to spare, but the measuring may be 2 mm off.", "pass", "a doubt where there is none"),
])  # fmt: skip
def test_the_pencil_finds_each_fault(text: str, outcome: str, fault: str) -> None:
    """The reader of these tests, on sentences made wrong by hand."""
    read = pencil.line(text)
    assert read is not None
    assert pencil.wrong(read, outcome) == fault


# -- what is allowed can be typed --------------------------------------------------------


def quantities(calculator: Calculator) -> list[Quantity]:
    """Every field for a number, rows too."""
    found: list[Field] = []
    for field in calculator.inputs.fields():
        found += field.record.fields() if isinstance(field, Rows) else (field,)
    return [field for field in found if isinstance(field, Quantity)]


@each
@pytest.mark.parametrize("system", ["us", "si"])
def test_printed_limits_can_be_typed(calculator: Calculator, system: str) -> None:
    """Both ends of “It must lie between” are accepted as printed, and with the unit left to the form."""
    show = Units(system)
    for field in quantities(calculator):
        sentence = field.limit_text(show)
        limits = re.findall(r"between (.+) and (.+)\.$|at (?:least|most) (.+)\.$", sentence)
        printed = [part for found in limits for part in found if part]
        assert len(printed) == (field.least is not None) + (field.most is not None), sentence
        for text in printed:
            read = field.read(text, system)
            bare = text.removesuffix(show.unit(field.kind)).strip()
            assert field.read(bare, system) == pytest.approx(read, rel=1e-12), (field.key, text)


@each
@pytest.mark.parametrize("system", ["us", "si"])
def test_printed_examples_and_settings_can_be_typed(calculator: Calculator, system: str) -> None:
    """What stands in a hint as an example, and a setting used for a blank, are read as they stand."""
    show = Units(system)
    assert not [field.key for field in quantities(calculator) if not _typed(field, show)]


def _typed(field: Quantity, show: Units) -> bool:
    """Whether example and setting, as printed, are read within a printed step of what they are."""
    step = 1.0 if field.kind in ("count", "money") else show.step(field.kind)
    for value, printed in ((field.example, field.sample), (field.default, field.assumed)):
        if value is None:
            continue
        assert field.read(field.shown(value, show), show.system) == pytest.approx(value, rel=1e-5, abs=1e-6)
        try:
            assert abs(field.read(printed(show), show.system) - value) <= step, (field.key, value)
        except ValueError:
            return False
    return True


TYPED = [
    ("m2", "area", 1.0), ("ft2", "area", 0.09290304), ("sq", "area", None), ("mm2", "wire_area", 1.0),
    ("kg/m2", "floor_load", 1.0), ("lb/ft2", "floor_load", 4.882427636383), ("cubits", "length", None),
]  # fmt: skip


@pytest.mark.parametrize(("unit", "kind", "size"), TYPED)
@pytest.mark.parametrize("gap", ["", " "])
def test_squares_are_read_with_a_plain_two(unit: str, kind: str, size: float | None, gap: str) -> None:
    """A phone's keyboard has no small 2."""
    field = Quantity("Any", kind=kind, least=0, most=1e6)
    if size is None:
        with pytest.raises(ValueError, match="unit"):
            field.read(f"5{gap}{unit}", "us")
    else:
        assert field.read(f"5{gap}{unit}", "si") == pytest.approx(5 * size, rel=1e-9)
        assert field.read(f"5{gap}{unit.replace('2', '²')}", "us") == pytest.approx(5 * size, rel=1e-9)


@pytest.mark.parametrize(("text", "inches"), [
    ("35 1⁄2", 35.5), ("35 1∕2", 35.5), ("35½", 35.5), ("35 ½ in", 35.5), ("35.", 35), ("35. in", 35), ("35.5 in.", 35.5),
])  # fmt: skip
def test_lengths_are_read_with_their_marks(text: str, inches: float) -> None:
    """A fraction slash, a full stop after a number or a unit."""
    field = Quantity("Any", kind="length", least=0, most=1e6)
    assert field.read(text, "us") == pytest.approx(inches * 25.4, rel=1e-12)


# -- every page of a built handbook ------------------------------------------------------


class Pages(html.parser.HTMLParser):
    """The sentence of every check on a page, with its outcome."""

    def __init__(self) -> None:
        super().__init__()
        self.checks: list[tuple[str, str]] = []
        self._outcome: str | None = None
        self._part = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        facts = dict(attrs)
        if tag == "li" and "data-check" in facts:
            self._outcome, self._part = str(facts["data-outcome"]), 0
        elif tag == "div" and self._outcome is not None:
            self._part += 1
            if self._part == 2:
                self.checks.append((self._outcome, ""))

    def handle_endtag(self, tag: str) -> None:
        if tag == "li":
            self._outcome = None
        elif tag == "div" and self._part == 2:
            self._part = 3

    def handle_data(self, data: str) -> None:
        if self._outcome is not None and self._part == 2:
            outcome, text = self.checks.pop()
            self.checks.append((outcome, text + data))


def test_every_check_on_every_page_subtracts(site: Path) -> None:
    """The whole handbook as it was built: presets, site sheets, charts."""
    seen = 0
    for path in sorted(site.rglob("*.html")):
        page = Pages()
        page.feed(path.read_text(encoding="utf-8"))
        for outcome, text in page.checks:
            read = pencil.line(" ".join(text.split()))  # a number stands unbroken beside its fraction
            assert read is not None or "required" not in text, (path.name, text)
            if read is not None:
                assert not pencil.wrong(read, outcome), (path.name, pencil.wrong(read, outcome), text)
                seen += 1
    assert seen > 60  # a procedure shows no answer before its reader has worked one out

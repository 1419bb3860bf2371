"""No bare quantity: a number whose kind has a unit is printed with it, wherever it is printed."""

from __future__ import annotations

import dataclasses
import functools
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import calculators
from calculators.core import Calculator, Quantity
from calculators.core.fields import Field, Money
from calculators.core.units import Units
from tests.support import pairs, pencil

CASES = tomllib.loads((Path(__file__).parents[1] / "cases" / "bare.toml").read_text(encoding="utf-8"))
COUNTED = [re.compile(each) for each in CASES["counted"]]
REQUESTS = {"float": 8, "plan": 8, "spiral": 40}
OTHERS = 80
each = pytest.mark.parametrize("name", calculators.NAMES)
# A number that ends a clause: nothing that could be its unit follows.
BARE = re.compile(r"(?<![\w.,/#⁄$€£:–−-])−?(?:\d+ )?\d+(?:[./]\d+)?(?=[.;,)!?]?(?:\s*$|[.;,)!?]\s))")


# What of a result is read here; the rest of some hundred results would fill a small machine.
READ = ("values", "checks", "tables", "headline", "actions")


@functools.cache
def results(name: str) -> list[tuple[Calculator, dict[str, Any], Units]]:
    """Seeded requests near the examples and far from them, in both unit systems and all five sets, worked out once."""
    return list(_results(name))


def _results(name: str) -> Iterator[tuple[Calculator, dict[str, Any], Units]]:
    calculator = dataclasses.replace(calculators.get(name), probe=False)
    for seed in range(REQUESTS.get(name, OTHERS)):
        inputs, rule_set = pairs.made(calculator, 30_000 + seed)
        units = ("us", "si")[seed // len(pairs.SETS) % 2]
        request = {"inputs": inputs, "units": units, "typed": "si", "rules": rule_set}
        result = calculator.run(request)
        yield calculator, {part: result[part] for part in READ}, Units(units)


def carries(text: str, unit: str) -> bool:
    """Whether a printed quantity ends in its unit, or is money with its sign."""
    return text == "–" or not unit or text.endswith(unit)


@each
def test_every_result_carries_its_unit(name: str) -> None:
    """Values with their tolerances, and the three numbers of each comparison."""
    for calculator, result, show in results(name):
        for value in result["values"]:
            unit = show.unit(value["kind"])
            assert carries(value["text"], unit), value
            assert not value["tolerance"] or carries(value["tolerance"], unit), value
            assert value["kind"] != "money" or value["text"] == "–" or value["text"].lstrip("−")[0] in pencil.MONEY
        for check in result["checks"]:
            read = pencil.line(check["text"])
            kind = calculator.check_spec(check["key"]).kind
            if read is not None:
                units = {read.value.unit, read.limit.unit, read.spare.unit, *({read.off.unit} if read.off else ())}
                assert units == {show.unit(kind)} or (kind == "money" and units < set(pencil.MONEY)), check


def field_of(calculator: Calculator, path: str) -> Field:
    """The field at an input's path, rows too."""
    record: Any = calculator.inputs
    *rows, last = path.split(".")
    for row in rows[::2]:
        record = record.field(row).record
    found: Field = record.field(last)
    return found


@each
def test_every_printed_change_carries_its_unit(name: str) -> None:
    """What to type, where it is a quantity, stands in the sentence with its unit; money with its sign."""
    for calculator, result, show in results(name):
        for check in result["checks"]:
            for path, typed in (check["mend"] or {"changes": {}})["changes"].items():
                field = field_of(calculator, path)
                if typed == "":
                    continue  # to be cleared
                if isinstance(field, Money):
                    assert re.search(rf"[{pencil.MONEY}]{re.escape(str(typed))}", check["mend"]["text"]), check
                elif isinstance(field, Quantity):
                    assert carries(str(typed), show.unit(field.kind)), (path, typed)
                    assert str(typed).replace("-", "−") in check["mend"]["text"].replace("-", "−"), check


def sentences(result: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Whatever is said in words, and the cells of tables under their columns."""
    yield "", result["headline"]
    yield from (("", action) for action in result["actions"])
    for check in result["checks"]:
        yield from (("", text) for text in (check["text"], check["note"], check["mend"]["text"] if check["mend"] else ""))
    for table in result["tables"]:
        yield "", table["note"]
        for row in table["rows"]:
            yield from zip(table["columns"], row, strict=True)


def unitless(calculator: Calculator, show: Units) -> list[str]:
    """Labels of inputs whose numbers have no unit: counts, shares, sizes by number."""
    fields = [field for field in calculator.inputs.fields() if not hasattr(field, "record")]
    fields += [inner for field in calculator.inputs.fields() if hasattr(field, "record") for inner in field.record.fields()]
    return [field.label for field in fields if not (field.kind and show.unit(field.kind))]


def bare(text: str, labels: list[str]) -> Iterator[str]:
    """Numbers in a sentence that nothing names and no unit follows."""
    for label in labels:  # “Outlets on the circuit: at most 2.” counts outlets
        text = re.sub(rf"{re.escape(label)}(?: \([^)]*\))?:(?: at (?:least|most))? [\d./]+(?: \d+)?", "", text)
    for pattern in COUNTED:
        text = pattern.sub("", text)
    yield from (found.group() for found in BARE.finditer(text))


@each
def test_no_sentence_or_cell_holds_a_bare_number(name: str) -> None:
    """A number that ends a clause or fills a cell has its unit, or is a count that its label names."""
    found: dict[tuple[str, str], str] = {}
    for calculator, result, show in results(name):
        labels = unitless(calculator, show)
        counts = {check["text"] for check in result["checks"] if check["sense"] and not check["unit"]}
        for column, text in sentences(result):
            told = any(count in text for count in counts) or column in (*CASES["columns"], *CASES["sources"])
            if not told and (numbers := list(bare(text, labels))):
                found.setdefault((column, numbers[0]), text)
    assert not found, "\n".join(f"{column or 'sentence'}: {number} in “{text}”" for (column, number), text in found.items())


@pytest.mark.parametrize(("text", "numbers"), [
    ("Greatest tip: 30", ["30"]), ("Greatest tip: at most 30.", ["30"]), ("Greatest tip: 30°.", []),
    ("Move it 5 1/4 in off the wall.", []), ("Move it off the wall by 5 1/4.", ["5 1/4"]), ("Outlets: 1.", []),
    ("Leg 2, doorway", []), ("Clear width (leg 2): at least 36 in.", []), ("Price: $2.10.", []), ("so 3; then 4 V", ["3"]),
])  # fmt: skip
def test_the_reader_of_these_tests_sees_a_bare_number(text: str, numbers: list[str]) -> None:
    """On sentences made for it."""
    assert list(bare(text, ["Outlets"])) == numbers


def test_cards_say_the_unit_of_what_is_typed_without(site: Path) -> None:
    """A cabinet's page prints the tip in degrees and the amperes in amperes, though the table holds numbers."""
    pages = list((site / "reference").glob("cabinet-*.html"))
    assert pages
    for page in pages:
        text = page.read_text(encoding="utf-8")
        cells = re.findall(r"<td>(Greatest tip[^<]*|Cabinet, amperes|Cabinet, lowest voltage|Cabinet, leakage[^<]*)</td><td>([^<]*)</td>", text)
        assert len(cells) >= 3, page.name
        assert all(re.search(r" (?:°|A|V|mA)$", value) for _, value in cells), (page.name, cells)

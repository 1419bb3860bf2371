"""Sheets for paper: empty lines for what is measured, and a table worked out beforehand."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import markdown
import pytest

import calculators
from calculators.core import Record, Rows, Text, rules
from calculators.core.units import Units
from tools.blocks import HandbookBlocks, worksheet
from tools.blocks.context import Context

FLOAT = "::: worksheet float\nrows: days = 1, 3\ncolumns: tubes / start; money = To carry\n:::"


class FakeData:
    """Data with one cabinet whose tubes nobody counted."""

    units = "us"

    def value(self, path: str) -> str:
        raise KeyError(path)

    def prefill(self, calculator: str, rows: dict[str, str]) -> dict[str, Any]:
        return {"note_box": "3"} if rows else {}

    def presets(self, calculator: str) -> list[dict[str, Any]]:
        return []

    def remark(self, rows: dict[str, str]) -> str:
        return ""


@pytest.fixture
def context(tmp_path: Path) -> Context:
    return Context(rules.load("us"), FakeData(), (tmp_path,), page="page.md")


@pytest.fixture
def render(context: Context) -> Callable[[str], str]:
    return lambda text: markdown.markdown(text, extensions=[HandbookBlocks(context)])


def _lookup(html: str) -> list[list[str]]:
    part = html.split('class="hb-lookup"')[1].split("</table>", maxsplit=1)[0]
    rows = re.findall(r"<tr>(.*?)</tr>", part)
    return [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row) for row in rows]


def test_each_line_of_the_table_is_a_run_of_the_calculator(render: Callable[[str], str]) -> None:
    """Its numbers are those of the calculator with that one input changed."""
    head, *lines = _lookup(render(FLOAT))
    assert head == ["Days to the next visit (days)", "Quarter", "Dime", "Nickel", "To carry"]
    for days, *cells in lines:
        run = calculators.run("float", {"inputs": {**calculators.get("float").example, "days": days}})
        tubes = next(each for each in run["tables"] if each["title"] == "Coins in the tubes")
        money = next(each["text"] for each in run["values"] if each["key"] == "money")
        assert cells == [*(row[tubes["columns"].index("Start")] for row in tubes["rows"]), money]
    assert [line[0] for line in lines] == ["1", "3"]


def test_the_heading_and_a_line_above_the_table_may_be_written(render: Callable[[str], str]) -> None:
    """In the page's own words."""
    html = render("::: worksheet clearance\nrows: cabinet_width = 30 in, 40 in\nhead: Width\nnote: So it is.\n:::")
    assert _lookup(html)[0] == ["Width"]
    assert "<p>So it is.</p>" in html


def test_the_rule_set_and_the_data_count(context: Context, render: Callable[[str], str]) -> None:
    """Money is in the money of the site's rule set, and a row of the data fills the form in."""
    context.rules = rules.load("uk")
    assert "£" in render(FLOAT)
    context.rules = rules.load("us")
    html = render("::: worksheet float\nmachine: tall\nrows: note_box = 5, 9\ncolumns: notes\n:::")
    assert _lookup(html)[1:] == [["5", "–"], ["9", "–"]]  # nothing else is known of it


def test_a_calculator_s_page_is_worked_out_in_the_site_s_rule_set(
    context: Context, render: Callable[[str], str]
) -> None:
    """Form, example, result and what the page sends to Python name one and the same set."""
    context.rules, context.page = rules.load("uk"), "calculators/float.md"
    html = render("::: calculator float\n:::\n\n::: reference float\n:::")
    assert not context.problems
    facts = json.loads(html.split('class="hb-facts">')[1].split("</script>", maxsplit=1)[0])
    assert facts["rules"] == "uk"
    assert facts["example"]["units"] == "us"
    assert facts["example"]["inputs"]["tubes"][0]["coin"] == "10p"
    assert "£" in html.split('class="hb-result"')[1]
    for strange in ("Quarter", "quarter", "Bills of 1 taken", "Finland", "€"):
        assert strange not in html
    context.rules = rules.load("us")
    assert "Quarter" in render("::: calculator float\n:::")


def test_the_sheet_has_empty_lines_for_lists_and_for_each_measure(render: Callable[[str], str]) -> None:
    """What a list asks for are columns; each other input is a line with its unit."""
    html = render("::: worksheet float\n:::")
    assert "hb-lookup" not in html
    tubes = html.split('aria-label="Coin tubes"')[1].split("</table>")[0]
    assert "Usable height (in)" in tubes
    assert tubes.count("<tr>") == 5
    assert '<th scope="row">Sales a day</th>' in html


def test_a_list_too_wide_for_paper_gets_a_column_each(render: Callable[[str], str]) -> None:
    """A leg of a route has more to measure than a line holds."""
    html = render("::: worksheet clearance\n:::")
    label = calculators.get("clearance").inputs.field("route").label
    route = html.split(f'aria-label="{label}"')[1].split("</table>", maxsplit=1)[0]
    assert re.findall(r'<th scope="col">(.*?)</th>', route) == ["No.", "1", "2", "3", "4"]
    fields = calculators.get("clearance").inputs.field("route").record.fields()
    asked = [field for field in fields if field.default is None]
    assert route.count('scope="row"') == len(asked) > 7


@pytest.mark.parametrize(("columns", "across"), [(worksheet.WIDE, True), (worksheet.WIDE + 1, False)])
def test_a_list_as_wide_as_paper_keeps_its_lines(columns: int, across: bool) -> None:
    """One more column, and it is turned."""
    names = [f"n{number}" for number in range(columns)]
    row = type("Leg", (Record,), {name: Text(f"Column {name}") for name in names})
    field = Rows("Legs", row, "leg")
    field.__set_name__(row, "legs")
    html = worksheet._blank_rows(field, Units("us"))
    heads = re.findall(r'<th scope="col">(.*?)</th>', html)
    assert heads == (["No.", *(f"Column {name}" for name in names)] if across else ["No.", "1", "2", "3", "4"])


MISTAKES = {
    "no rows": ("::: worksheet float\ncolumns: money\n:::", 2, "needs the rows", "rows: INPUT"),
    "no values": ("::: worksheet float\nrows: days\n:::", 2, "which values", "rows: INPUT"),
    "unknown input": ("::: worksheet float\nrows: dais = 1, 2\n:::", 2, "which values", "days"),
    "unknown result": ("::: worksheet float\nrows: days = 1\ncolumns: mony\n:::", 3, "no result “mony”", "money"),
    "unknown column": ("::: worksheet float\nrows: days = 1\ncolumns: tubes / begin\n:::", 3,
                       "no result", "tubes / least"),
    "bad value": ("::: worksheet float\nrows: days = 1, 900\n:::", 2, "between", ""),
    "unknown option": ("::: worksheet float\nrows: days = 1\nhight: 3\n:::", 3, "no input “hight”", ""),
    "unknown calculator": ("::: worksheet floot\n:::", 1, "no calculator", "float"),
}  # fmt: skip


@pytest.mark.parametrize("name", MISTAKES)
def test_a_mistake_is_told_with_line_and_mend(name: str, render: Callable[[str], str], context: Context) -> None:
    """Every one stops the build."""
    text, line, what, mend = MISTAKES[name]
    render(text)
    told = [str(each) for each in context.problems if f"page.md, line {line}:" in str(each) and what in str(each)]
    assert told, [str(each) for each in context.problems]
    assert mend in told[0]

"""Source text to HTML, and every mistake in a block reported with line and mend."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any

import markdown
import pytest

import calculators
from calculators.core import rules
from tools.blocks import HandbookBlocks, row
from tools.blocks.context import Context
from tools.pages import procedures

DRAWING = '<svg viewBox="0 0 9 9"><title>A coil</title><desc>Seen from the front</desc></svg>'


class FakeData:
    """Just enough data for a block."""

    units = "us"

    def value(self, path: str) -> str:
        if path == "company.name":
            return "Tern & Pebble"
        raise KeyError("Perhaps: name.")

    def prefill(self, calculator: str, rows: dict[str, str]) -> dict[str, Any]:
        if rows.get("machine", "tall") != "tall":
            raise KeyError("There is no such machine.", "Perhaps: tall.")
        return {}

    def remark(self, rows: dict[str, str]) -> str:
        return "A remark on it." if rows else ""

    def first(self, calculator: str) -> dict[str, str]:
        return {"machine": "tall"} if calculator == "clearance" else {}

    def presets(self, calculator: str) -> list[dict[str, Any]]:
        return []


@pytest.fixture
def context(tmp_path: Path) -> Context:
    (tmp_path / "coil.svg").write_text(DRAWING, encoding="utf-8")
    (tmp_path / "mute.svg").write_text("<svg></svg>", encoding="utf-8")
    return Context(rules.load("us"), FakeData(), (tmp_path,), page="page.md")


@pytest.fixture
def render(context: Context) -> Callable[[str], str]:
    def made(text: str) -> str:
        return markdown.markdown(text, extensions=[HandbookBlocks(context), "tables"])

    return made


def test_a_signal_word_stands_in_its_panel(render: Callable[[str], str], context: Context) -> None:
    """The word, the title and the text, links and marks inside it read as Markdown."""
    html = render("::: warning It tips\nKeep **clear**, see [here](x.md).\n:::")
    assert 'class="hb-signal hb-signal--warning"' in html
    assert "WARNING" in html
    assert "It tips" in html
    assert "<strong>clear</strong>" in html
    assert 'href="x.md"' in html
    assert not context.problems


def test_a_caution_comes_before_the_words_of_its_step(render: Callable[[str], str]) -> None:
    """The reader meets the hazard first, within the same item, so that print keeps them together."""
    html = render("::: steps\n1. Look.\n::: danger\nHot.\n:::\n2. Touch.\n   It is cool now.\n:::")
    second = html.split('class="hb-step"')[2]
    assert second.index("DANGER") < second.index("Touch.")
    assert "It is cool now." in second
    assert html.count('type="checkbox"') == 2


def test_the_first_steps_of_a_page_can_be_linked_to(render: Callable[[str], str], context: Context) -> None:
    """``step-2`` is the second one on every page; a further list has ids of its own."""
    steps = "::: steps\n1. Look.\n2. Touch.\n:::\n"
    first = render(f"{steps}\n{steps}")
    context.page = "another.md"
    for html in (first, render(steps)):
        assert html.count('id="step-2"') == 1


def test_a_figure_is_inlined_with_its_caption(render: Callable[[str], str]) -> None:
    """The drawing takes the page's colours because it is part of the page."""
    html = render("::: figure coil\nA coil (1).\n:::")
    assert "<svg" in html
    assert "<figcaption>" in html
    assert "A coil (1)." in html


def test_tables_to_fill_in_have_heads_and_blanks(render: Callable[[str], str]) -> None:
    """A row a line, with room to write."""
    html = render("::: record\nSerial | from the plate\n:::\n\n::: signoff\nDone by\n:::")
    assert html.count("<tr>") == 4
    assert "from the plate" in html
    assert 'scope="row"' in html


def test_rules_and_data_are_printed_in_prose(render: Callable[[str], str]) -> None:
    """A figure shows its own unit, and the other system's beside it."""
    html = unescape(render("At most {{rule food.cold_holding}}, says {{data company.name}}."))
    assert "41 °F (5 °C)" in html
    assert "Tern & Pebble" in html


def test_a_figure_that_is_a_table_is_drawn_as_one(render: Callable[[str], str]) -> None:
    """Its columns, its rows and its source."""
    html = render("::: figures coins.rolls\n:::")
    assert '<th scope="col">count</th>' in html
    assert "<td>quarter</td><td>40</td>" in html
    assert "(reprinted)" in html
    assert f"{rules.load('us').figures['coins.rolls'].citation}. " in unescape(html), "a sentence of its own"


def test_a_figure_that_only_our_rule_set_lacks_is_told_to_the_reader(tmp_path: Path) -> None:
    """It is in another set, so the page is right and the gap is ours: the build goes on."""
    context = Context(rules.load("eu"), FakeData(), (tmp_path,), page="page.md")
    made = markdown.Markdown(extensions=[HandbookBlocks(context)])
    html = made.convert("Within {{rule circuit.single_receptacle}}.\n\n::: figures circuit.single_receptacle\n:::")
    assert "Within (no figure in our rules, European Union: ask the authority)." in html
    assert "No figure in our rules, European Union." in html
    assert context.problems == []


def test_figures_with_one_beginning_share_a_table(render: Callable[[str], str]) -> None:
    """Label, figure in both units, and clause."""
    html = render("::: figures space.reach_*\nReach\n:::")
    wanted = [key for key in rules.load("us").figures if key.startswith("space.reach_")]
    assert html.count("<tr>") == 1 + len(wanted) >= 3
    assert "48 in (1219 mm)" in html
    assert "308.2.1" in html
    assert 'aria-label="Reach"' in html


def test_a_block_inside_a_code_fence_is_text(render: Callable[[str], str], context: Context) -> None:
    """An example of a block is not a block."""
    render("```\n::: nonsense\n```")
    assert not context.problems


MISTAKES = {
    "unknown block": ("text\n\n::: warnning\nx\n:::", 3, "no block “warnning”", "warning"),
    "never closed": ("::: notice\nx", 1, "never closed", ":::"),
    "closed twice": ("::: notice\nx\n:::\n:::", 4, "none is open", "Take the line out"),
    "stray mark": (":: notice\nx", 1, "neither opens nor closes", "::: name"),
    "empty caution": ("::: caution\n:::", 1, "says nothing", "Name the hazard"),
    "unknown calculator": ("::: calculator clearence\n:::", 1, "no calculator", "clearance"),
    "unknown machine": ("::: calculator clearance\nmachine: lost\n:::", 1, "no such machine", "tall"),
    "unknown input": ("::: calculator clearance\ncabinet_widht: 35\n:::", 2, "no input", "cabinet_width"),
    "bad value": ("::: calculator clearance\ncabinet_width: wide\n:::", 2, "wide", "For example"),
    "unknown fill": ("::: calculator clearance\nfill: last\n:::", 2, "nothing to fill", "fill: first"),
    "option twice": ("::: calculator clearance\nmachine: tall\nmachine: tall\n:::", 3, "twice", "Take one"),
    "block among options": ("::: calculator clearance\n::: notice\nx\n:::\n:::", 2, "holds no other block", "Move it out"),
    "no option": ("::: calculator clearance\nthirty\n:::", 2, "not an option", "key: value"),
    "unknown drawing": ("::: figure coyl\n:::", 1, "no drawing", "coil"),
    "mute drawing": ("::: figure mute\n:::", 1, "has no <title>", "heard"),
    "unknown figures": ("::: figures space.raech\n:::", 1, "no rule “space.raech”", "space.reach"),
    "no figures": ("::: figures\n:::", 1, "names no rule", "::: figures"),
    "unknown rule": ("a\nb {{rule food.cold}}", 2, "no rule “food.cold”", "food.cold_holding"),
    "unknown data": ("{{data company.nam}}", 1, "no “company.nam”", "name"),
    "unknown mark": ("{{figure x}}", 1, "neither a rule nor data", "{{rule KEY}}"),
    "reason without end": ("a\n{{why}}It leans.", 2, "do not stand in one line", "{{why}}A reason.{{/why}}"),
    "reason without start": ("It leans.{{/why}}", 1, "do not stand in one line", "{{why}}A reason.{{/why}}"),
    "reason in a reason": ("{{why}}It {{why}}leans.{{/why}}{{/why}}", 1, "do not stand in one line", "{{why}}A"),
    "step out of order": ("::: steps\n1. A.\n3. B.\n:::", 3, "Step 3 stands where step 2 is due", "in order"),
    "no step": ("::: steps\n:::", 1, "no step", "1. Look"),
    "caution guards nothing": ("::: steps\n1. A.\n::: danger\nx\n:::\n:::", 3, "guards no step", "before"),
    "text between steps": ("::: steps\n1. A.\nand so on\n:::", 3, "neither a step", "indent"),
    "empty record": ("::: record\n:::", 1, "has no line", "one line a row"),
    "argument too many": ("::: signoff now\nDone by\n:::", 1, "takes nothing", "now"),
}


def test_a_reason_is_marked_for_paper(render: Callable[[str], str]) -> None:
    """Its Markdown and its figures are read as anywhere else."""
    assert '<span class="hb-reason"><strong>It</strong> leans.</span>' in render("{{why}}**It** leans.{{/why}} Go.")


@pytest.mark.parametrize("name", MISTAKES)
def test_a_mistake_is_reported_with_line_and_mend(
    name: str, render: Callable[[str], str], context: Context
) -> None:
    """Never silently turned into text: file, line, what is wrong, how to mend it."""
    text, line, what, mend = MISTAKES[name]
    render(text)
    found = [str(problem) for problem in context.problems]
    assert len(found) >= 1, "the mistake went unseen"
    told = [each for each in found if f"page.md, line {line}:" in each and what in each]
    assert told, found
    assert mend in told[0]


def test_all_mistakes_of_a_page_are_told_at_once(render: Callable[[str], str], context: Context) -> None:
    """One build, one list."""
    render("{{rule no}}\n\n::: nothing\n:::\n\n::: figure none\n:::")
    assert len(context.problems) == 3


def test_a_procedure_has_all_its_parts_in_order() -> None:
    """Missing, strange and misplaced parts are told with their line."""
    whole = "\n\n".join(f"## {part}\n\nText." for part in procedures.PARTS)
    assert procedures.check(whole, 1) == []
    missing = whole.replace("## How long", "## How quick")
    told = procedures.check(missing, 5)
    assert "The procedure has no part “How long”." in told[0][1]
    assert "How quick" in told[1][1]
    first, second = procedures.PARTS[:2]
    swapped = whole.replace(first, "§").replace(second, first).replace("§", second)
    assert "order" in procedures.check(swapped, 1)[0][1]


def test_what_a_reader_must_know_of_the_data_stands_by_the_answer(render: Callable[[str], str], context: Context) -> None:
    """Inputs from our data bear the data's remark; a worked example has none."""
    context.page = "calculators/clearance.md"
    assert "Worked out from our data, as the handbook was built. A remark on it." in render(
        "::: calculator clearance\nmachine: tall\n:::"
    )
    assert "A remark on it." not in render("::: calculator clearance\n:::")


def test_in_a_procedure_a_calculator_is_one_closed_row(render: Callable[[str], str], context: Context) -> None:
    """What it opens with is carried; the form is a script's. The way is that from the page's folder."""
    context.page = "procedures/visit.md"
    html = render("::: calculator clearance\nmachine: tall\n:::")
    assert "<form" not in html
    assert "hb-outcome" not in html
    assert 'data-form="../assets/forms/clearance.js"' in html
    assert '<a class="hb-button hb-open" href="../calculators/clearance.html">' in html
    facts = json.loads(html.split('class="hb-facts">')[1].split("</script>")[0])
    assert facts["preset"] == "tall"
    assert facts["remark"] == "A remark on it."
    assert facts["units"] == "us"
    bare = render("::: calculator clearance\n:::")
    assert json.loads(bare.split('class="hb-facts">')[1].split("</script>")[0])["preset"] == ""
    assert {path for path, _ in row.scripts(context)} == {f"assets/forms/{name}.js" for name in calculators.NAMES}


def test_the_script_of_a_form_holds_the_whole_calculator(context: Context) -> None:
    """All but the rows, which whoever opens it fills in: of each kind there is the blank one."""
    _, script = next(row.scripts(context))
    held = script.partition("'")[2].rpartition("'")[0]
    assert held.count("<form") == 1
    assert 'data-calculator="clearance"' in held
    assert held.count("data-rows=") == held.count("<template>") == len(re.findall('class="hb-row[ "]', held)) == 2


def test_html_is_a_string_of_javascript(node: str) -> None:
    """Whatever stands in it, to the letter."""
    html = "<p title=\"a 'b'\">\\n\n</p></script>é\\'\\\\"
    said = subprocess.run([node, "-e", f"console.log(JSON.stringify({row.literal(html)}))"], capture_output=True, text=True, check=True)
    assert json.loads(said.stdout) == html


def test_a_record_takes_a_calculator_s_answer(render: Callable[[str], str], context: Context) -> None:
    html = render("::: record\nSite | name\nWay in | = clearance\nOther | = clearence\n:::")
    assert re.findall(r"<td([^>]*)>", html) == ["", ' data-answer="clearance"']
    assert "answer of Clearance" in html
    assert [problem.what for problem in context.problems] == ["There is no calculator “clearence”."]


def test_a_form_can_be_filled_from_whatever_comes_first(render: Callable[[str], str], context: Context) -> None:
    """Any operator's data will do; where there is none, the worked example stands and says so."""
    context.page = "calculators/clearance.md"
    filled = render("::: calculator clearance\nfill: first\n:::")
    assert 'data-from="tall"' in filled
    assert "Worked out from our data" in filled
    empty = render("::: calculator level\nfill: first\n:::")
    assert 'data-from="example"' in empty
    assert "A worked example, as the handbook was built." in empty


@pytest.mark.parametrize(("rules_name", "shown"), [("us", "plain"), ("ca", "plain"), ("uk", "theirs")])
def test_a_drawing_is_the_country_s_where_it_has_one(tmp_path: Path, rules_name: str, shown: str) -> None:
    for name, words in (("a.svg", "plain"), ("a.uk.svg", "theirs")):
        (tmp_path / name).write_text(DRAWING.replace("</title>", f" {words}</title>"), encoding="utf-8")
    context = Context(rules.load(rules_name), FakeData(), (tmp_path,), page="page.md")
    html = markdown.markdown("::: figure a\n:::", extensions=[HandbookBlocks(context)])
    assert f" {shown}</title>" in html
    assert context.problems == []


@pytest.mark.parametrize("name", ["../a", "sub/a", "/etc/passwd", "..\\a", "A", "a.svg", "*"])
def test_a_drawing_is_one_of_its_folder(tmp_path: Path, name: str) -> None:
    """By its very name: no path, no other case, whatever the system makes of it."""
    for place in ("a.svg", "drawings/a.svg", "drawings/sub/a.svg"):
        (tmp_path / place).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / place).write_text(DRAWING, encoding="utf-8")
    context = Context(rules.load("us"), FakeData(), (tmp_path / "drawings",), page="page.md")
    html = markdown.markdown(f"::: figure {name}\n:::", extensions=[HandbookBlocks(context)])
    assert "svg" not in html
    assert [problem.what for problem in context.problems] == [f"There is no drawing “{name}”."]


def test_marks_mean_nothing_in_a_page_made_from_data(tmp_path: Path) -> None:
    """A cell may hold them."""
    context = Context(rules.load("us"), FakeData(), (tmp_path,), marks=False)
    html = markdown.markdown("<p>{{data company.name}} {{x}}</p>", extensions=[HandbookBlocks(context)])
    assert html == "<p>{{data company.name}} {{x}}</p>"
    assert context.problems == []


@pytest.mark.parametrize("name", calculators.NAMES)
def test_a_reference_says_all_that_a_calculator_asks_works_out_and_checks(render: Callable[[str], str], context: Context, name: str) -> None:
    """By their labels, in tables that say what they are."""
    html = unescape(render(f"::: reference {name}\n:::"))
    found = calculators.get(name)
    assert not context.problems
    assert all(title in html for title in ("What it asks", "What it works out"))
    asked = [field for field in found.inputs.fields() if field.offered(context.rules)]
    labels = [*(field.label for field in asked), *(spec.label for spec in found.values), *(spec.label for spec in found.checks)]
    assert [label for label in labels if label not in html] == []

"""A cabinet's card in the middle of a step, and what is for some cabinets only."""

from __future__ import annotations

from typing import Any

import markdown
import pytest
from bs4 import BeautifulSoup, Tag

from calculators.core import rules
from tools.blocks import HandbookBlocks
from tools.blocks.context import Context
from tools.book import card
from tools.book.tables import Row
from tools.print import reader
from tools.print.models import for_model


class Fake:
    """Three cabinets: a cold one, an ambient one, and one of which nothing is written."""

    units = "us"

    def __init__(self, **said: str) -> None:
        machines = [self.row(key="cold-one", name="Cold <One>", cooling="chilled", takes_notes="yes", upright_hours="24"),
                    self.row(key="warm-one", name="Warm One", cooling="ambient", takes_notes="yes"),
                    self.row(key="open-one", name="Open One", takes_notes="yes")]  # fmt: skip
        cards = [self.row(machine=place.partition("__")[0].replace("_", "-"), item=place.partition("__")[2], text=text)
                 for place, text in said.items()]  # fmt: skip
        self.tables = {"machines": machines, "cards": cards}

    @staticmethod
    def row(**typed: str) -> Row:
        return Row("some.csv", 2, typed, dict(typed))


def read(text: str, data: Any) -> tuple[Tag, Context]:
    context = Context(rules.load("us"), data, (), page="procedures/page.md")
    html = markdown.markdown(text, extensions=[HandbookBlocks(context), "tables", "md_in_html"])
    return BeautifulSoup(html, "html.parser"), context


SWITCHES = {"cold_one__power_switch": "Behind the *door*.", "warm_one__power_switch": "At the right."}


def test_alone_in_its_line_an_item_is_an_inset_with_each_models_words() -> None:
    """What is typed in a cell is text, whatever it looks like; what is not written is a line to write on."""
    page, context = read("::: steps\n1. Switch on.\n   {{card power_switch}}\n:::", Fake(**SWITCHES))
    inset = page.select_one(".hb-oncard")
    assert inset
    assert [each["data-for"] for each in inset.select("[data-for]")] == ["cold-one", "warm-one", "open-one"]
    assert inset.get_text() == ("Power switch: Cold <One>: Behind the *door*. Warm One: At the right. Open One: " + "_" * 20)
    assert context.problems == []
    assert context.items_used == {"power_switch": {"procedures/page.md"}}


def test_models_that_say_the_same_are_one_line() -> None:
    """And where all of them do, no model is named."""
    said = dict.fromkeys(["cold_one__power_switch", "warm_one__power_switch", "open_one__power_switch"], "Up is on.")
    page, _ = read("{{card power_switch}}", Fake(**said))
    assert page.get_text() == "Power switch: Up is on."
    assert page.select("em") == []


def test_where_safety_hangs_on_it_a_missing_item_is_a_stop() -> None:
    page, _ = read("{{card gear_place}}", Fake())
    assert "Stop: do not go on. The office must fill this in first." in page.get_text()
    assert "Stop" not in read("{{card spacers}}", Fake())[0].get_text()


def test_inside_a_sentence_short_words_are_part_of_it() -> None:
    """A model without the thing has no words there; long words and missing ones become an inset after all."""
    said = {"cold_one__first_cooling": "8 hours.", "open_one__first_cooling": "9 hours"}
    page, _ = read("Wait {{card first_cooling}}, then read.", Fake(**said))
    assert page.get_text() == "Wait 8 hours (Cold <One>), 9 hours (Open One), then read."
    assert page.select(".hb-oncard") == []
    assert len(read("Wait {{card first_cooling}}, then read.", Fake())[0].select(".hb-oncard")) == 1
    assert read("At least {{card upright_hours}}.", Fake())[0].get_text().startswith("At least Hours upright before power: Cold <One>: 24 hours")


def test_what_no_cabinet_of_ours_has_is_said() -> None:
    page, _ = read("{{card two_motor_link}}", NO_PAIRS)
    assert page.get_text() == "Link of a two-motor lane: none of our cabinets has this."


NO_PAIRS = Fake()
for _machine in NO_PAIRS.tables["machines"]:
    _machine.typed["two_motor"] = "no"


@pytest.mark.parametrize(("text", "what"), [
    ("{{card power_swich}}", "There is no item “power_swich” of the card."),
    ("{{site panle}}", "There is no fact “panle” of a site."),
    ("::: only cool\nText.\n:::", "There is no feature “cool”."),
    ("{{only cold}}Text.", "“{{only cold}}” stands alone in its line."),
])  # fmt: skip
def test_a_mistake_is_told_with_what_is_near(text: str, what: str) -> None:
    _, context = read(text, Fake())
    assert [each.what for each in context.problems] == [what]
    assert all(each.mend for each in context.problems)


STEPS = """::: steps
1. Look.
::: only cold
::: caution Ice
Cold burns.
:::
2. Cool.
3. Read.
:::
4. Leave.
:::"""


def test_steps_for_some_keep_their_numbers_and_say_for_which() -> None:
    """A cabinet of which nothing is known needs them too."""
    page, context = read(STEPS, Fake())
    steps = page.select("li.hb-step")
    assert [each.get("data-for") for each in steps] == [None, "cold-one open-one", "cold-one open-one", None]
    assert [each.get_text() for each in page.select(".hb-step-number")] == ["1", "2", "3", "4"]
    assert [each.get_text() for each in page.select(".hb-only-head")] == ["Steps 2 to 3: cabinets that cool only."]
    first = page.select_one(".hb-only-head")
    assert first.find_previous_sibling() is None, "whom a step is for is read before what it says"
    assert first.find_next_sibling() is not None
    assert "Cold burns." in steps[1].get_text()
    assert context.problems == []


def test_a_caution_for_some_stands_in_the_step_it_guards() -> None:
    """The step is for all; its caution bears the mark."""
    guarded = "::: steps\n1. Look.\n::: only cold\n::: notice Too soon\nIt can fail.\n:::\n:::\n\n2. Hang a tag.\n:::"
    page, context = read(guarded, Fake())
    caution = page.select_one(".hb-signal").find_parent(class_="hb-only")
    assert (caution["data-for"], caution.parent["id"], caution.parent.get("data-for")) == ("cold-one open-one", "step-2", None)
    assert context.problems == []


def test_steps_that_no_cabinet_of_ours_needs_are_one_line_with_their_ids() -> None:
    """A link from another page still arrives."""
    page, _ = read(STEPS.replace("only cold", "only two-motor"), NO_PAIRS)
    assert [each.get_text() for each in page.select(".hb-step-number")] == ["1", "4"]
    assert page.select_one(".hb-folded").get_text().strip() == "Steps 2 to 3: left out, for cabinets with two-motor lanes only."
    assert [each["id"] for each in page.select("[id^=step-]")] == ["step-1", "step-2", "step-3", "step-4"]


def test_steps_that_all_need_are_steps_like_others() -> None:
    page, _ = read(STEPS.replace("only cold", "only notes"), Fake())
    assert page.select("[data-for], .hb-only-head") == []
    assert len(page.select("li.hb-step")) == 4


def test_words_in_a_line_are_for_some() -> None:
    """A bullet of which nothing is left is gone; what is for all bears no mark."""
    lines = "- {{only cold}}Thermometer{{/only}}\n- {{not cold}}Fan{{/not}}\n- {{only two-motor}}Link{{/only}}\n- {{only notes}}Test bill{{/only}}"
    page, context = read(lines, NO_PAIRS)
    assert [each.get_text().strip() for each in page.select("li")] == [
        "Thermometer (cabinets that cool)", "Fan (cabinets without cooling)", "Test bill"]  # fmt: skip
    assert [each["data-for"] for each in page.select("[data-for]")] == ["cold-one open-one", "warm-one open-one"]
    assert context.problems == []


def test_a_sites_fact_waits_for_the_reader_s_site() -> None:
    page, _ = read("Open the panel: {{site panel}}.", Fake())
    assert page.select_one("[data-fact=panel]").get_text() == "see the site sheet, “Panel and who owns it”"


def test_paper_for_one_model_holds_its_words_alone() -> None:
    """As a screen shows it where that model is chosen; a run of other steps is a line."""
    page, _ = read(f"# Page\n\n- {{{{not cold}}}}Fan{{{{/not}}}}\n- Tape\n\n::: record\n{{{{only cold}}}}Ice{{{{/only}}}} | how thick\nMarks | where\n:::\n\n{STEPS}\n\n{{{{card power_switch}}}}", Fake(**SWITCHES))
    html = f"<article>{page}</article>"
    cold, warm = (str(reader.read(for_model(html, key), "a.html")) for key in ("cold-one", "warm-one"))
    assert "Behind the *door*." in cold
    assert "At the right." not in cold
    assert "Warm One" not in cold
    assert "Fan" not in cold
    assert "how thick" in cold
    assert "how thick" not in warm
    assert "Marks" in warm
    assert "Fan" in warm
    assert "cabinets without" not in warm
    assert "Steps 2 to 3: cabinets that cool only." in warm
    assert "Read." not in warm
    assert "Cold burns." not in warm
    assert "Read." in cold


def test_every_item_belongs_to_a_part_and_a_known_feature() -> None:
    """The list is data; a slip in it would leave a line out of the form."""
    for item in card.items().values():
        assert item.group in card.groups(), item.key
        assert not item.has or item.has in card.features(), item.key
        assert item.column or (item.help and item.example), item.key
        assert len(item.example) <= 120, item.key

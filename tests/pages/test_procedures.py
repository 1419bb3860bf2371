"""Every procedure: whole, one action a step, guarded, plain, drawn, linked and spelled."""

from __future__ import annotations

import re
import tomllib
from itertools import combinations
from pathlib import Path

import pytest
import textstat
from bs4 import BeautifulSoup
from spellchecker import SpellChecker

from tests.support import prose
from tests.support.prose import DOCS, ROOT, Page
from tools.blocks.steps import SIGNALS
from tools.blocks.tree import Node
from tools.book import card
from tools.book.data import load
from tools.book.tables import Row
from tools.pages import procedures

PROCEDURES = sorted((DOCS / "procedures").glob("*.md"))
OTHERS = [*sorted((DOCS / "safety").glob("*.md")), DOCS / "reference" / "trainer.md"]
DRAWINGS = sorted((DOCS / "assets" / "drawings").glob("*.svg"))
ORDERS = frozenset(
    step.order.split()[0].lower() for path in PROCEDURES for step in prose.page(path).steps
)
# The highest automated readability index: about what a twelve-year-old reads.
HIGHEST_INDEX = 7
DEMO = load(DOCS / "data")
# A step or a sentence that leaves the reader to the card, which the page could quote. Lists of what to bring may name it.
SENT = re.compile(r"(?i)(?:as|where|which|that|than|on|by) the (?:machine |cabinet’s |cabinet's )?card(?:'s)? (?:shows|says|names|allows|tells)|"
                  r"^(?!- ).*machine card|card shows|card says", re.MULTILINE)  # fmt: skip
# Two drawings that share more of their shapes than this show the same thing.
MOST_SHARED = 0.7

each_procedure = pytest.mark.parametrize("path", PROCEDURES, ids=[path.stem for path in PROCEDURES])
each_page = pytest.mark.parametrize(
    "path", PROCEDURES + OTHERS, ids=[path.stem for path in PROCEDURES + OTHERS]
)


@each_procedure
def test_a_procedure_is_complete(path: Path) -> None:
    """All parts in order, steps, a caution, a drawing, a record to fill in, a sign-off."""
    page = prose.page(path)
    assert "kind: procedure" in page.text
    assert procedures.check(page.text, 1) == []
    for block in ("steps", "figure", "record", "signoff"):
        assert page.blocks(block), f"no {block}"
    assert page.blocks(*SIGNALS)
    assert len(page.steps) >= 5


@each_procedure
def test_a_part_is_not_empty(path: Path) -> None:
    """A heading with nothing under it is a missing part."""
    for part in prose.page(path).body.split("\n## ")[1:]:
        head, _, text = part.partition("\n")
        assert len(text.split()) >= 5, head


@each_procedure
def test_a_step_is_one_short_action(path: Path) -> None:
    """At most twenty words, and no second action."""
    page = prose.page(path)
    assert prose.long_steps(page) + prose.joined_steps(page, ORDERS) == []


@each_procedure
def test_a_step_is_short_as_it_is_read(path: Path, site: Path) -> None:
    """Also with each figure printed in both unit systems, in the page itself."""
    page = BeautifulSoup((site / "procedures" / f"{path.stem}.html").read_text("utf-8"), "html.parser")
    steps = [step.get_text().split() for step in page.select(".hb-step-text")]
    assert len(steps) == len(prose.page(path).steps)
    assert [" ".join(step) for step in steps if len(step) > prose.MOST_WORDS] == []


@each_procedure
def test_a_hazard_is_named_before_its_step(path: Path) -> None:
    """The signal word, with the harm, stands before the step that could do it."""
    assert prose.unguarded_steps(prose.page(path)) == []


@each_page
def test_words_are_plain(path: Path) -> None:
    """No vague order, and no step in the passive."""
    assert prose.vague_words(prose.page(path)) == []


@each_page
def test_a_thing_has_one_word(path: Path) -> None:
    """A beginner takes two words for two things."""
    assert prose.other_words(prose.page(path)) == []


@pytest.mark.parametrize("path", DRAWINGS, ids=[path.stem for path in DRAWINGS])
def test_a_thing_has_the_same_word_in_a_drawing(path: Path) -> None:
    said = " ".join(re.findall(r">([^<>]+)<", path.read_text(encoding="utf-8")))
    assert prose.other_words(Page("", said)) == []


@pytest.mark.parametrize("row", DEMO.tables["cards"], ids=lambda row: f"{row.typed['machine']}-{row.typed['item']}")
def test_a_thing_has_the_same_word_on_a_card(row: Row) -> None:
    assert prose.other_words(Page("", row.typed["text"])) == []


@each_page
def test_a_condition_begins_with_if(path: Path) -> None:
    """“Is it in the breaker, ask …” is a question until its end; nobody says it so."""
    assert prose.inverted(prose.page(path)) == []


def test_an_inverted_condition_is_found() -> None:
    text = "Is it in the breaker, the owner resets it. Had it been wet, stop. Is it dry? Are they tied, or not?\nShould it lean, call.\n"
    assert len(prose.inverted(Page("", text))) == 3


@each_page
def test_numbers_with_units_are_drawn_from_rules_or_data(path: Path) -> None:
    """A number that could drift is never typed into prose."""
    assert prose.typed_numbers(prose.page(path)) == []


@each_page
def test_no_sentence_begins_with_a_mark(path: Path) -> None:
    """A rule's words and the operator's names are written to stand inside a sentence."""
    assert prose.lowered_starts(prose.page(path)) == []


@each_procedure
def test_drawings_and_steps_cite_each_other(path: Path) -> None:
    """Each procedure is drawn, and each drawing belongs to steps by number."""
    assert prose.uncited_drawings(prose.page(path)) == []


@each_page
def test_links_lead_somewhere(path: Path) -> None:
    """The build is strict about this too; here a page is told by name."""
    assert prose.broken_links(prose.page(path), path.parent) == []


def index(lines: list[str]) -> float:
    """The automated readability index, without the words that the glossary explains."""
    return float(textstat.automated_readability_index(prose.without_glossary("\n".join(lines))))


@each_page
def test_a_page_is_easy_to_read(path: Path) -> None:
    """Orders and all other sentences each by themselves, so that neither hides behind the other."""
    orders, others = prose.sentences(prose.page(path))
    assert orders or path not in PROCEDURES
    assert len(others) > 10
    assert max(index(orders), index(others), index(orders + others)) <= HIGHEST_INDEX


@each_page
@pytest.mark.parametrize("model", [row.typed["key"] for row in DEMO.tables["machines"]])
def test_a_page_is_easy_to_read_with_a_card_s_words_in_it(path: Path, model: str) -> None:
    """What a reader sees: the steps with the words of the cabinet they stand at."""
    machine = DEMO.row("machines", model)
    text = re.sub(r"\{\{\s*card\s+(\w+)\s*\}\}", lambda found: card.words(DEMO, machine, found[1]), path.read_text("utf-8"))
    orders, others = prose.sentences(Page(path.stem, text))
    assert index(orders + others) <= HIGHEST_INDEX


@each_page
def test_a_card_is_never_named_without_what_it_says(path: Path) -> None:
    """“As the card shows” sends a reader to look for what the page could say."""
    if path.stem != "trainer":  # where new people learn to read a card
        assert [line.strip() for line in prose.page(path).body.splitlines() if SENT.search(line)] == []


def test_every_item_of_a_card_is_asked_for_by_a_page() -> None:
    """What nobody reads is not worth filling in; sizes are for the calculators."""
    asked = {key for path in DOCS.rglob("*.md") for key in re.findall(r"\{\{\s*card\s+(\w+)", path.read_text("utf-8"))}
    assert {key for key, item in card.items().items() if not item.column} - asked == set()
    assert asked - card.items().keys() == set()


def test_short_lines_do_not_make_a_page_easy() -> None:
    """A heading, a list of tools and easy steps, and one hard paragraph: the page is hard."""
    hard = "Operatives endeavoring to accomplish installation procedures necessitate familiarization. "
    easy = "## Tools\n\n- A tape\n- A pen\n\n::: steps\n1. Look at the cabinet.\n2. Shut the door.\n:::\n"
    orders, others = prose.sentences(Page("mixed", f"{easy}\n{hard * 3}\n"))
    assert orders == ["Look at the cabinet.", "Shut the door."]
    assert others == [(hard * 3).strip()]
    assert index(orders) <= HIGHEST_INDEX < index(others)


@pytest.fixture(scope="module")
def speller() -> SpellChecker:
    """The library's own dictionary, without a network, and the project's words."""
    words = SpellChecker(language="en")
    listed = (ROOT / "tests/cases/procedures/spelling.toml").read_text(encoding="utf-8")
    words.word_frequency.load_words(tomllib.loads(listed)["words"])
    return words


def spelled(page: Page) -> set[str]:
    """The words of a page as they are written: its head, tables and records included."""
    head = " ".join(re.findall(r"^(?:title|summary|audience): (.*)$", page.text, re.MULTILINE))
    text = re.sub(r"\{\{.*?\}\}|\]\([^)]*\)", " ", f"{head}\n{page.body}")
    text = re.sub(r"^:::\s*(?:(?:figure|calculator)\b.*|\w+)", " ", text, flags=re.MULTILINE)
    return {word.lower() for word in re.findall(r"[A-Za-z]+(?:[’'][a-z]+)?", text.replace("’", "'"))}


@each_page
def test_words_are_spelled_right(path: Path, speller: SpellChecker) -> None:
    """US spelling; a word of the trade that the dictionary lacks stands in the project's list."""
    words = {re.sub(r"'s$", "", word) for word in spelled(prose.page(path))}
    assert speller.unknown(word for word in words if len(word) > 1) == set()


@pytest.mark.parametrize("path", DRAWINGS, ids=[path.stem for path in DRAWINGS])
def test_a_drawing_s_words_are_spelled_right(path: Path, speller: SpellChecker) -> None:
    """What is written in a drawing, and what a screen reader says of it."""
    said = " ".join(re.findall(r">([^<>]+)<", path.read_text(encoding="utf-8")))
    assert speller.unknown(word for word in spelled(Page("", said)) if len(word) > 1) == set()


def corners(data: str) -> list[tuple[float, float]]:
    """The points of path data, on the sheet; those after an ``l`` are told from the one before."""
    found: list[tuple[float, float]] = []
    for told, numbers in re.findall(r"([MLl])([-\d. ]+)", data):
        read = [float(number) for number in re.findall(r"-?(?:\d+(?:\.\d+)?|\.\d+)", numbers)]
        for dx, dy in zip(read[::2], read[1::2], strict=True):
            x, y = found[-1] if told == "l" else (0.0, 0.0)
            found.append((x + dx, y + dy))
    return found


def shapes(path: Path) -> set[tuple[tuple[float, float], ...]]:
    """A drawing's paths, each moved to its own start: the same shape elsewhere is the same."""
    made = set()
    for data in re.findall(r'<path d="([^"]+)"', path.read_text(encoding="utf-8")):
        points = corners(data)
        made.add(tuple((round(x - points[0][0]), round(y - points[0][1])) for x, y in points))
    return made


def test_no_two_drawings_are_alike() -> None:
    """Two drawings of the same shapes tell the reader the same thing twice."""
    drawn = {path.stem: shapes(path) for path in DRAWINGS}
    alike = [
        (one, two)
        for one, two in combinations(drawn, 2)
        if len(drawn[one] & drawn[two]) > MOST_SHARED * len(drawn[one] | drawn[two])
        and one.partition(".")[0] != two.partition(".")[0]  # one drawing, as two countries have it
    ]
    assert alike == []


def test_a_copy_that_was_only_moved_is_alike(tmp_path: Path) -> None:
    """Ten units to the right and down, and still the same drawing."""
    svg = DRAWINGS[0].read_text(encoding="utf-8")

    def moved(start: re.Match[str]) -> str:
        return f"M{float(start[1]) + 10:g} {float(start[2]) + 10:g}"

    copy = tmp_path / "copy.svg"
    copy.write_text(re.sub(r"M(-?[\d.]+)[ ]?(-?[\d.]+)", moved, svg), encoding="utf-8")
    one, two = shapes(DRAWINGS[0]), shapes(copy)
    assert copy.read_text(encoding="utf-8") != svg
    assert len(one & two) > MOST_SHARED * len(one | two)


FAULTS = prose.page(DOCS / "procedures" / "find-a-fault.md").blocks("fault")


@pytest.mark.parametrize("fault", FAULTS, ids=[fault.argument for fault in FAULTS])
def test_a_question_can_be_answered_on_the_spot(fault: Node) -> None:
    """One short question, which does not ask two things of which one may be yes and the other no."""
    asked = [text.strip() for _, text in fault.lines() if re.match(r"\d+\. ", text)]
    assert 2 <= len(asked) <= 6
    assert [text for text in asked if not text.endswith("?") or len(text.split()) > prose.MOST_WORDS] == []


def test_the_trees_name_trees_that_are_there() -> None:
    """“Go to [It trips …]” is another fault of the page, by its own words, and no way leads round in a ring."""
    titles = {fault.argument: dict(text.split(": ", 1) for _, text in fault.lines()[:1])["title"] for fault in FAULTS}
    onward: dict[str, set[str]] = {}
    for fault in FAULTS:
        told = "\n".join(text for _, text in fault.lines())
        links = re.findall(r"Go to \[([^\]]+)\]\(#fault-(\w+)\)", told)
        assert [(title, key) for title, key in links if titles[key] != title] == []
        asked = told[told.index("\n1. ") :]
        onward[fault.argument] = set(re.findall(r"No: Go to \[[^\]]+\]\(#fault-(\w+)\)", asked))
    assert len(titles) == 20
    for start in titles:
        seen: set[str] = set()
        ahead = set(onward[start])
        while ahead - seen:
            seen |= ahead
            ahead = set().union(*(onward[key] for key in ahead))
        assert start not in seen


BAD = """---
kind: procedure
---
## Steps
::: steps
1. Open the lid and then pull the plug, {wait} for the fan to stop, and look at the back of the cabinet for dust and lint.
2. Make sure the tray is locked for 5 minutes.
3. The tray goes home.
::: figure tip-zone
From the side.
:::
:::
See [there](nowhere.md) and [here](#no-heading).
"""


def test_the_checks_find_what_they_look_for() -> None:
    """A page with one fault of each kind, and the words told about it."""
    bad = Page("bad", BAD.replace("{wait}", "wait"))
    assert prose.long_steps(bad) == ["step 1 has 26 words"]
    joined = " ".join(prose.joined_steps(bad, ORDERS))
    assert "“and then”" in joined
    assert "“, wait”" in joined
    assert "“and look”" in joined
    assert "hazard “shock”" in prose.unguarded_steps(bad)[0]
    vague = " ".join(prose.vague_words(bad))
    assert "“make sure” is vague" in vague
    assert "step 2 is passive: “is locked”" in vague
    assert "step 3 does not begin" in vague
    assert prose.typed_numbers(bad) == ["“5 minutes” is typed"]
    assert len(prose.lowered_starts(Page("bad", "Stop. {{data company.trainer}} signs."))) == 1
    assert prose.uncited_drawings(bad) == ["no step cites “tip-zone”"]
    assert len(prose.broken_links(bad, DOCS / "procedures")) == 2
    assert procedures.check(bad.body, 1)


def test_a_hazard_named_before_is_enough() -> None:
    """The signal stands before the step, and must speak of that harm."""
    step = "::: steps\n::: warning {}\nStay clear.\n:::\n1. Pull the plug.\n:::\n"
    assert prose.unguarded_steps(Page("good", step.format("Electric current kills"))) == []
    assert prose.unguarded_steps(Page("bad", step.format("The floor is wet"))) != []


def test_long_words_in_long_sentences_are_hard(speller: SpellChecker) -> None:
    """The index and the dictionary find what they should."""
    hard = "Operatives endeavouring to accomplish installation procedures necessitate comprehensive familiarization. " * 4
    assert textstat.automated_readability_index(hard) > HIGHEST_INDEX
    assert speller.unknown({"endeavouring", "cabinett"}) == {"endeavouring", "cabinett"}

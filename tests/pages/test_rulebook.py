"""The pages of the rules: every set, every figure, every gap."""

from __future__ import annotations

import html
import re

import pytest

from calculators.core import rules
from tools.pages import rulebook

US = rules.load("us")
PAGES = {page.path: page.source for page in rulebook.written(US)}
each_set = pytest.mark.parametrize("name", rules.RULE_SETS)


def cells(markdown: str) -> set[str]:
    return {html.unescape(cell) for cell in re.findall(r"<td>(.*?)</td>", markdown)}


@each_set
def test_a_set_s_page_has_every_figure_with_clause_note_and_key(name: str) -> None:
    """Label, citation with edition and status, note and key of each; no table is hidden behind its length."""
    shown = cells(PAGES[f"reference/rules-{name}.md"])
    for rule in rules.load(name).figures.values():
        assert {rule.label, rule.citation, rule.note, rule.key, rulebook.value(rule)} <= shown, rule.key


@each_set
def test_the_counts_are_the_figures(name: str) -> None:
    """Every figure is counted under one status."""
    assert sum(rulebook.counts(rules.load(name)).values()) == len(rules.load(name).figures)


@each_set
def test_a_gap_is_listed_and_nothing_else(name: str) -> None:
    """What is said to be lacking is lacking; a figure of one's own closes the gap."""
    known = rules.load(name)
    for key in rulebook.lacking(known):
        stem = key.removesuffix("…")
        assert not any(each == stem or (each.startswith(stem) and key != stem) for each in known.figures)
        filled = known.with_local({stem + "x" if key != stem else stem: {"value": 1, "label": "Ours"}})
        assert key not in rulebook.lacking(filled)
        assert key in html.unescape(PAGES[f"reference/rules-{name}.md"])


def test_known_gaps_are_there() -> None:
    """Canada's protection has no figure, AU's wire has; a rule that Britain does not know is no gap."""
    assert "circuit.gfci_cabinet" in rulebook.lacking(rules.load("ca"))
    assert "conductors.carries_…" not in rulebook.lacking(rules.load("au"))
    assert "circuit.plug_share" not in rulebook.lacking(rules.load("uk"))
    assert not [key for key in rulebook.lacking(US) if key.startswith(("circuit", "conductors"))]


@each_set
def test_outlets_and_leveling_lack_nothing(name: str) -> None:
    """Each country's own voltages are held, and what is the same everywhere."""
    assert not [key for key in rulebook.lacking(rules.load(name)) if key.startswith(("outlet", "level"))]


def test_the_overview_shows_all_sets_and_what_is_our_own() -> None:
    """Five rows and a link each; an operator's figure is named on top and on its set's page."""
    for title in rules.RULE_SETS.values():
        assert f"[{title}](rules-" in PAGES["reference/rules.md"]
    ours = US.with_local({"space.rear_gap": {"value": 7, "unit": "in", "kind": "length", "label": "Air behind"}})
    made = {page.path: page.source for page in rulebook.written(ours)}
    assert "Air behind (space.rear_gap)" in made["reference/rules.md"]
    assert "this operator's rule" in html.unescape(made["reference/rules-us.md"])
    assert rulebook.counts(ours)["this operator's rule"] == 1

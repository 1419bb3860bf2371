"""The pages of the rules: every set, every figure, every gap."""

from __future__ import annotations

import html
import re

import pytest

from calculators.core import rules
from calculators.core.own import stricter
from calculators.core.units import parse
from tools.blocks.values import figure_text
from tools.pages import rulebook

US = rules.load("us")
UNITS = {"us": "us"}
PAGES = {name: rulebook.page(rules.load(name), UNITS.get(name, "si")) for name in rules.RULE_SETS}
each_set = pytest.mark.parametrize("name", rules.RULE_SETS)


def cells(markdown: str) -> set[str]:
    return {html.unescape(cell) for cell in re.findall(r"<td>(.*?)</td>", markdown)}


@each_set
def test_a_set_s_page_has_every_figure_with_clause_note_and_key(name: str) -> None:
    """Label, citation with edition and status, note and key of each; no table is hidden behind its length."""
    shown = cells(PAGES[name])
    for rule in rules.load(name).figures.values():
        assert {rule.label, rule.citation, rule.note, rule.key, rulebook.value(rule, UNITS.get(name, "si"))} <= shown, rule.key


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
        assert key in html.unescape(PAGES[name])


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


def test_what_is_our_own_is_named_on_top() -> None:
    """With its key, and among the figures as this operator's rule; other sets are not spoken of."""
    ours = US.with_local({"space.rear_gap": {"value": 7, "unit": "in", "kind": "length", "label": "Air behind"}})
    made = html.unescape(rulebook.page(ours, "us"))
    assert "Air behind (space.rear_gap)" in made
    assert "this operator's rule" in made
    assert rulebook.counts(ours)["this operator's rule"] == 1
    assert rules.load("ca").title not in made


@each_set
def test_a_metric_handbook_says_nothing_in_inches(name: str) -> None:
    """Each figure with a kind stands in the folder's units; in US units, both stand as tapes there show both."""
    for rule in rules.load(name).figures.values():
        if rule.kind in ("length", "mass", "force", "temperature") and isinstance(rule.value, (int, float)):
            assert not re.search(r"\d (in|ft|lb|lbf|°F)\b", rulebook.value(rule, "si")), rule.key
    assert rulebook.value(rules.load("us").figures["space.reach_high"], "us") == "48 in (1219 mm)"


@each_set
def test_a_limit_in_another_unit_is_rounded_to_where_it_is_stricter(name: str) -> None:
    """The metric text stands alone: read back, it never allows more than the figure does."""
    tried = 0
    for rule in rules.load(name).figures.values():
        side = stricter(rule.key)
        if side and rule.kind == "length" and isinstance(rule.value, (int, float)) and rule.unit != "mm":
            shown = parse(figure_text(rule, "si"), "length", "si")
            assert shown >= rule.inner - 1e-9 if side == "more" else shown <= rule.inner + 1e-9, rule.key
            tried += shown != pytest.approx(rule.inner, abs=1e-9)
    assert tried or name != "us"

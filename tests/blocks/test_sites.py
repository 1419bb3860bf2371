"""The list of sites: all of them, or as many as a page has room for."""

from __future__ import annotations

import re
from pathlib import Path

import markdown
import pytest

from calculators.core import rules
from tests.blocks.test_blocks import FakeData
from tools.blocks import HandbookBlocks, sites
from tools.blocks.context import Context


def read(count: int, options: str = "", page: str = "sites/index.md") -> tuple[str, Context]:
    """The list of so many sites; every third has a day."""
    rows = [(f"site-{number}", f"Site {number}", "2026-05-04" if number % 3 == 2 else "", "pass") for number in range(count)]
    context = Context(rules.load("us"), FakeData(), (Path(),), sites=lambda: rows, page=page)
    text = f"::: sites\n{options}\n:::\n"
    return markdown.markdown(text, extensions=[HandbookBlocks(context)]), context


def links(html: str) -> list[str]:
    return re.findall(r'href="([^"]*)"', html)


def test_every_site_is_linked_from_wherever_the_list_stands() -> None:
    for page, up in (("index.md", ""), ("sites/index.md", "../")):
        html, _ = read(3, page=page)
        assert links(html) == [f"{up}sites/site-{number}.md" for number in range(3)]


def test_a_page_with_room_for_few_shows_those_with_a_day_first() -> None:
    """And leads to all of them."""
    html, context = read(1200, "most: 3", "index.md")
    assert links(html) == ["sites/site-2.md", "sites/site-5.md", "sites/site-8.md", "sites/index.md"]
    assert ">All 1,200 sites<" in html
    assert not context.problems
    few, _ = read(3, "most: 3", "index.md")
    assert len(links(few)) == 3
    assert "All" not in few


def test_a_long_list_can_be_searched_and_a_short_one_need_not() -> None:
    for count, is_long in ((sites.FIND - 1, False), (sites.FIND, True)):
        assert ('data-find="sites"' in read(count)[0]) is is_long


@pytest.mark.parametrize("option", ["most: many", "most: 0", "most: -3", "most: ²", "least: 3"])
def test_an_option_that_says_nothing_is_told(option: str) -> None:
    html, context = read(2, option)
    assert [problem.place for problem in context.problems] == ["line 2"]
    assert len(links(html)) == 2

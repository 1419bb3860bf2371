"""What the search is told of a page: what people say, and what comes before what."""

from __future__ import annotations

from typing import Any

import pytest

from tools.book.front import NoFront
from tools.pages import found


def entries(*places: str) -> list[dict[str, Any]]:
    return [{"location": place, "title": "", "text": ""} for place in places]


@pytest.mark.parametrize(("meta", "headings", "listed", "rank"), [
    ({"kind": "procedure"}, ("Our own",), False, found.JOB),
    ({}, ("Stay safe",), False, found.JOB),
    ({}, ("Work it out",), False, found.CALCULATOR),
    ({}, ("Our sites",), False, found.OTHER),
    ({}, ("Look up", "Products"), True, found.OTHER),
    ({}, ("Our own",), False, found.OTHER),
    ({}, ("Look up",), False, found.REFERENCE),
    ({}, (), False, found.REFERENCE),
])  # fmt: skip
def test_what_comes_before_what(meta: dict[str, Any], headings: tuple[str, ...], listed: bool, rank: int) -> None:
    """By kind, then by the heading of the menu; a page of no menu comes last."""
    assert found.rank(meta, headings, listed) == rank


def test_a_page_and_its_parts_are_told_apart() -> None:
    """The page's own entry bears its words, and a part those of its heading; other pages are left alone."""
    all_of_them = entries("a.html", "a.html#one", "b.html", "b.html#one", "b.html#two")
    found.told(all_of_them, "b.html", {"said": ["too hot"], "summary": "3 < 4"}, 1, {"two": ["leaning"]})
    assert all_of_them == [
        *entries("a.html", "a.html#one"),
        {**entries("b.html")[0], "rank": 1, "summary": "3 &lt; 4", "said": ["too hot"]},
        *entries("b.html#one"),
        {**entries("b.html#two")[0], "said": ["leaning"]},
    ]


def test_words_that_are_no_list_are_refused() -> None:
    with pytest.raises(NoFront, match="no list of words"):
        found.told(entries("a.html"), "a.html", {"said": "too hot"}, 0, {})

"""The menu and a page's front matter."""

from __future__ import annotations

import pytest
import yaml

from tools.book.front import BETWEEN
from tools.pages import menu, places
from tools.pages.menu import Line
from tools.pages.page import Page


def test_pages_stand_under_their_headings_in_order() -> None:
    """Headings as the house has them, an operator's own after them, lines by their number."""
    lines = [Line("b.md", ("Look up",), "B", 20), Line("a.md", ("Look up",), "A", 10), Line("x.md", ("Extra",), "X"),
             Line("g.md", ("Do the job", "Goods"), "G", 1), Line("d.md", ("Do the job", "Decide"), "D", 9)]  # fmt: skip
    assert menu.navigation(lines, "index.md") == [
        {"Home": "index.md"},
        {"Do the job": [{"Decide": [{"D": "d.md"}]}, {"Goods": [{"G": "g.md"}]}]},
        {"Look up": [{"A": "a.md"}, {"B": "b.md"}]},
        {"Extra": [{"X": "x.md"}]},
    ]


def many(count: int, index: str = "sites/index.md") -> list[Line]:
    """Pages of one kind, with the page that lists them and a card beside them."""
    each = [Line(f"sites/{number}.md", ("Our sites",), f"Site {number}", 10, index) for number in range(count)]
    return [Line(index, ("Our sites",), "All sites", 0), *each, Line("card.md", ("Our sites",), "Card", 20)]


def test_many_pages_of_a_kind_stand_on_their_list_alone() -> None:
    """Each page carries its part of the menu: it must not grow with the number of sites."""
    assert len(menu.navigation(many(menu.MOST), "index.md")[1]["Our sites"]) == menu.MOST + 2
    assert menu.apart(many(menu.MOST)) == {}
    left = many(menu.MOST + 1)
    assert menu.navigation(left, "index.md")[1] == {"Our sites": [{"All sites": "sites/index.md"}, {"Card": "card.md"}]}
    assert menu.apart(left) == {f"sites/{number}.md": "sites/index.md" for number in range(menu.MOST + 1)}


def test_two_kinds_are_counted_apart() -> None:
    both = many(menu.MOST, "one.md") + many(menu.MOST, "other.md")
    assert menu.apart(both) == {}


def test_a_line_is_read_from_front_matter() -> None:
    """Headings by slashes, the label before the title, no number last."""
    assert menu.line("p.md", {"menu": "Do the job/ Goods", "title": "T", "label": "L", "order": 5}) == Line(
        "p.md", ("Do the job", "Goods"), "L", 5)  # fmt: skip
    assert menu.line("p.md", {"menu": "Learn", "title": "T"}) == Line("p.md", ("Learn",), "T", menu.LAST)


@pytest.mark.parametrize(("meta", "mend"), [({}, "menu: Look up"), ({"menu": " "}, "menu: Look up"), ({"menu": ["a"]}, "menu: Look up"),
                                            ({"menu": "Learn", "order": "first"}, "order: 30"),
                                            ({"menu": "Learn", "order": True}, "order: 30")])  # fmt: skip
def test_a_place_that_is_none_is_told(meta: dict[str, object], mend: str) -> None:
    with pytest.raises(menu.NotALine, match=mend):
        menu.line("p.md", meta)


def test_front_matter_comes_back_as_it_was_given() -> None:
    """Whatever a title holds, YAML reads it as that; the heading is written for Markdown."""
    title = "A: [b] #c 'd' \"e\" – f"
    source = Page("p.md", title, "Text", meta={"hide": ["toc"], "search": {"exclude": True}}).source
    front = BETWEEN.match(source)
    assert front
    told = yaml.safe_load(front[1])
    assert (told["hide"], told["search"]) == (["toc"], {"exclude": True})
    assert "\nText\n" in source
    assert "# A" in source
    assert "[b]" not in source[front.end() :]


def test_a_link_to_a_page_that_is_left_out_is_its_words() -> None:
    """From whatever folder the page lies in; other links stay."""
    text = "See [a riser](riser.md#steps) and [coils](../reference/coil.md)."
    assert places.without(text, "procedures", {"procedures/riser.md"}) == (
        "See a riser and [coils](../reference/coil.md).")  # fmt: skip
    assert places.without(text, "safety", {"procedures/riser.md"}) == text
    assert places.without(text, "procedures", ()) == text

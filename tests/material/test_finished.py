"""Finished HTML that is set aside while Markdown is read: the page is what Markdown alone would make of it."""

from __future__ import annotations

import re

import pytest
from markdown import Markdown

from tools.material import finished

EXTENSIONS = ("attr_list", "def_list", "md_in_html", "tables", "toc")
KEPT = (
    '<div class="a"><div>in *stars*</div> &amp; <p>1</p></div>', "<p>one</p><p>two</p>", '<h2 id="x">Head</h2><ul><li>a<ul><li>b</li></ul></li></ul>',
    '<figure class="p"><svg viewBox="0 0 1 1"><path d="M0 0"/></svg></figure><table><tr><td>x</td></tr></table>',
    '<section data-a="1 > 0"><dl><dt>t</dt><dd>{{d}}</dd></dl></section>',
)  # fmt: skip
LEFT = (
    "<p>one</p> and *words*", "<div>never closed", "<span>*inline*</span>", '<div markdown="1">*stars*</div>', "<p>a</p>*b*<p>c</p>",
    "text <p>a</p>", "</div>", "<script>1</script>", "<!-- <p> -->", "<div><p>a</div></p>x", "<pre>a</pre>",
)  # fmt: skip


def read(markdown: str) -> str:
    return Markdown(extensions=list(EXTENSIONS)).convert(markdown)


def squeezed(html: str) -> str:
    """Blanks beside these elements are not shown."""
    return re.sub(r"\s*(<[^<>]*>)\s*", r"\1", html).strip()


@pytest.mark.parametrize("piece", KEPT + LEFT)
def test_a_page_is_what_markdown_alone_makes_of_it(piece: str) -> None:
    """Between text, headings and lists, at either end, and beside each other piece."""
    for other in KEPT + LEFT:
        source = f"{piece}\n\n# Top {{ #top }}\n\nSome *text*.\n\n{piece}\n\n{other}\n\n- a\n- b\n\n{piece}"
        markdown, aside = finished.set_aside(source)
        assert squeezed(finished.put_back(read(markdown), aside)) == squeezed(read(source)), other


@pytest.mark.parametrize("piece", KEPT)
def test_whole_elements_are_set_aside(piece: str) -> None:
    markdown, aside = finished.set_aside(f"a\n\n{piece}\n\nb\n\n{piece}")
    assert "<" not in markdown
    assert [each.replace("\n", "") for each in aside] == [piece, piece]


@pytest.mark.parametrize("piece", [*LEFT, *(f"{piece}\nnext line" for piece in KEPT), *(f"line before\n{piece}" for piece in KEPT), "\ufdd0"])
def test_what_markdown_may_have_a_say_in_is_left_to_it(piece: str) -> None:
    """Also where the sign of a place stands in the source: then nothing is."""
    assert finished.set_aside(f"{piece}\n\nb") == (f"{piece}\n\nb", [])
    if piece == "\ufdd0":
        assert finished.set_aside(f"{piece}\n\n{KEPT[0]}") == (f"{piece}\n\n{KEPT[0]}", [])


def test_what_can_be_linked_to_is_known() -> None:
    assert finished.idents(['<h2 id="van">x</h2>\n<p data-id="no">y</p>', '<div class="a" id="card-1">z</div>']) == {"van", "card-1"}

"""What the search reads of a page: what the theme's own parser reads, to the letter."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from material.plugins.search import plugin

from tools.material import sections

THEIRS = plugin.Parser
PIECES = (
    '<h1 id="a">One<a class="headerlink" href="#a" title="x">¶</a></h1><p>Text &amp; <code>a &lt; b</code>\nmore</p>',
    '<p>Before</p><h2 id="b"><em>Two</em></h2><ul><li></li><li> </li><li>x<br />y</li></ul>',
    '<div data-search-exclude="yes"><div>in</div>after</div><p>Out</p>',
    "<DIV DATA-SEARCH-EXCLUDE><p>in</p></DIV><h3>no id</h3><pre>a\n  <span>b</span>\n</pre>",
    '<script type="application/json">{"a": "<p>1</p>"}</script><style>p > a { }</style><p>x</p>',
    '<div class="linenodiv"><p>1</p></div><svg><path d="M0 0"/><title>t</title></svg><!-- a <p> --><h2 id="c">C</h2>',
    "</p><p title='a > b'>5 > 4<p>unclosed<h2 id=plain>Plain</h2>",
    "<p>1 < 2</p><h2 id='d'>D</h2>", "<script>never closed", "text alone", "",
    '<object data="x"><p>in an object</p>it</object><p>after</p>',
)  # fmt: skip


def read(parser: Any, page: str) -> list[tuple[Any, ...]]:
    """Every section with what is known of it."""
    made = parser()
    made.feed(page)
    made.close()
    return [(each.el.tag, each.id, each.title, each.text, each.is_excluded()) for each in made.data]


@pytest.mark.parametrize("first", PIECES)
def test_odd_pieces_are_read_as_the_theme_reads_them(first: str) -> None:
    """Each before each other: what one leaves open changes how the next is read."""
    for second in PIECES:
        theirs = read(THEIRS, first + second)
        with sections.quick():
            assert read(plugin.Parser, first + second) == theirs, second
    assert plugin.Parser is THEIRS


def test_pages_of_a_handbook_are_read_as_the_theme_reads_them(site: Path) -> None:
    """A page of each kind, none of them left to the theme's parser."""
    for name in ("index", "procedures/find-a-fault", "calculators/clearance", "sites/index", "products/index", "reference/rules"):
        page = (site / f"{name}.html").read_text(encoding="utf-8")
        page = page[page.index("<article") : page.index("</article>")]
        theirs = read(THEIRS, page)
        with sections.quick():
            assert read(plugin.Parser, page) == theirs, name
            plugin.Parser()._read(page)  # raises where it would be
        assert len(theirs) > 1

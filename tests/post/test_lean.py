"""Blanks that are not shown go; the words of a page stay as they are."""

import pytest
from bs4 import BeautifulSoup

from calculators.core.html import unbroken
from tools.post import lean

PAGE = """<!doctype html>
<html>
  <body>

    <p>
      Turn the <b>left</b> <i>leg</i>
      out.
    </p>
    <script>
      const a = 1;  // two blanks
    </script>
    <pre>a
  b</pre>
    <a href="x.html" title="a > b">one</a>   <a href="y.html">two</a>
  </body>
</html>
"""


def test_blanks_between_words_stay_and_others_go() -> None:
    """Also between two links; an attribute may hold a sign that ends tags."""
    assert "<p>Turn the <b>left</b> <i>leg</i> out.</p>" in lean.squeeze(PAGE)
    assert '</pre> <a href="x.html" title="a > b">one</a> <a href="y.html">two</a></body>' in lean.squeeze(PAGE)


@pytest.mark.parametrize("kept", ["\n      const a = 1;  // two blanks\n    ", "a\n  b"])
def test_scripts_and_set_text_stay_to_the_letter(kept: str) -> None:
    """A script's hash stands in the page's policy."""
    assert kept in lean.squeeze(PAGE)


def test_the_words_are_the_same_and_twice_is_once() -> None:
    """As one who reads the page's text, word by word, would find."""
    squeezed = lean.squeeze(PAGE)
    words = [BeautifulSoup(text, "html.parser").get_text(" ").split() for text in (PAGE, squeezed)]
    assert words[0] == words[1]
    assert lean.squeeze(squeezed) == squeezed


def test_a_number_and_its_fraction_stay_on_one_line() -> None:
    """In the text alone: an attribute may hold what is typed into a box."""
    page = '<p data-to="9 1/2 in" title="a > 9 1/2 in">Under <b>9 1/2</b> in, at 3 of 4, from 1/2 to 7/8 in.</p>'
    assert lean.squeeze(page) == unbroken(page) == page.replace("<b>9 1/2", "<b>9\N{NO-BREAK SPACE}1/2")


def test_a_drawing_keeps_what_is_seen() -> None:
    """Ends of lines to a tenth; what it says to tests, and its language, go."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 360 355.44"><g data-inner="73.0" data-x1="8.8" data-scale="2.94005">'
        '<polygon points="100.65,86.77 -0.44,12.00" class="hb-wall"/><text x="1.25">points="1.234"</text></g></svg>'
    )
    assert lean.drawn(svg) == (
        '<svg viewBox="0 0 360 355.44"><g><polygon points="100.7,86.8 -0.4,12" class="hb-wall"/>'
        '<text x="1.25">points="1.234"</text></g></svg>'
    )


def test_nothing_outside_a_drawing_is_taken_for_one() -> None:
    text = '<p data-scale="1" data-x1="2">xmlns="http://www.w3.org/2000/svg" points="1.234"</p>'
    assert lean.drawn(text) == text


def test_the_theme_s_remarks_on_a_page_go_and_its_words_stay() -> None:
    head = '<head><meta name="description" content="a > b"><meta name="generator" content="x"><meta name="handbook" content="h"><link rel="prev" href="a.html"></head>'
    body = '<p>&lt;meta&gt; <meta name="description" content="kept"></p>'
    assert lean.unremarked(head + body) == f'<head><meta name="handbook" content="h"></head>{body}'


def test_a_line_of_the_menu_keeps_its_words() -> None:
    line = '<a href="b.html"> <span class="md-ellipsis"> Do  the job </span> <span class="md-icon"></span> </a>'
    assert lean.squeeze(line) == '<a href="b.html"><span class="md-ellipsis">Do the job</span><span class="md-icon"></span> </a>'


def test_quotes_go_where_html_asks_for_none() -> None:
    """Never of an address that ends in a stroke, of more than a word, in a script, or in set text."""
    theme = '<a class="md-nav" href="../a-b.html#c" title="two words" rel=""><img src="a/b.png"/><a href="../"><a href="a b">="x"</a>'
    held = '<article class="a"><pre>class="b" </pre></article><script id="c">d = "e"</script>'
    assert lean.unquoted(theme + held + '<p id="x">') == (
        '<a class=md-nav href=../a-b.html#c title="two words" rel=""><img src="a/b.png"/><a href="../"><a href="a b">="x"</a>'
        '<article class=a><pre>class="b" </pre></article><script id="c">d = "e"</script><p id=x>'
    )
    soup = [BeautifulSoup(text, "html.parser") for text in (theme + held, lean.unquoted(theme + held))]
    assert soup[0] == soup[1]


def test_a_line_of_the_menu_is_its_link_and_words() -> None:
    """One with a sign beside its words stays: there the element keeps them apart."""
    line = '<li><a href="b.html" class="md-nav__link"><span class="md-ellipsis">Do &lt;it&gt;</span>{}</a></li>'
    assert lean.plain(line.format("")) == '<li><a href="b.html" class="md-nav__link">Do &lt;it&gt;</a></li>'
    assert lean.plain(line.format("<i></i>")) == line.format("<i></i>")


def test_a_heading_s_sign_goes_and_one_that_had_none_says_so() -> None:
    sign = '<a class="headerlink" href="#a" title="Link to this part" aria-label="Link to this part">&para;</a>'
    page = f'<h2 id="a">A <b>b</b>{sign}</h2><h3 id="c">C</h3><h3>D</h3><p>{sign}</p>'
    assert lean.plain(page) == f'<h2 id="a">A <b>b</b></h2><h3 id="c" data-bare>C</h3><h3>D</h3><p>{sign}</p>'

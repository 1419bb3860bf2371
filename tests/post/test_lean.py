"""Blanks that are not shown go; the words of a page stay as they are."""

import pytest
from bs4 import BeautifulSoup

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

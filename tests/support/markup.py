"""Reads a fragment as a browser does, to see whether a text in it became markup."""

from __future__ import annotations

import re
from collections.abc import Callable
from html.parser import HTMLParser

from hypothesis import strategies as st

# What leaves a text, an attribute, a comment or an element, in HTML and in SVG; _ sets a subscript.
BREAKS = ("<", ">", '"', "'", "&", "<script>x</script>", '"><img src=x onerror=y>', "' onload='x", "</title>",
          "</svg>", "</option></select>", "<!--", "-->", "]]>", "&lt;b&gt;", "&#60;", "<svg/onload=x>", "</textarea>",
          "`", "=", "/", "{{x}}", " a=b ", "<b", "<?x?>")  # fmt: skip
NASTY = f"a{''.join(BREAKS)}z"
SHORT = f"a{''.join(BREAKS[:10])}z"  # as long as a text field takes
# Begins and ends with a letter, as what strips a text must not change how long it is.
hostile = st.lists(st.one_of(st.sampled_from(BREAKS), st.text("ab 1.é½", max_size=3)), min_size=1, max_size=6).map(
    lambda parts: f"a{''.join(parts)}z"
)


def tame(text: str) -> str:
    """As long a text that can be no markup."""
    return re.sub(r"[^a-zé½0-9 .]", "x", text.lower())


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.shape: list[tuple[str, ...]] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.shape.append(("<", tag, *(name for name, _ in attrs)))
        self.words += [value or "" for _, value in attrs]

    def handle_endtag(self, tag: str) -> None:
        self.shape.append((">", tag))

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    def handle_comment(self, data: str) -> None:
        self.shape.append(("!", data))

    def handle_decl(self, decl: str) -> None:
        self.shape.append(("!", decl))

    def handle_pi(self, data: str) -> None:
        self.shape.append(("?", data))


def read(fragment: str) -> tuple[list[tuple[str, ...]], str]:
    """The elements with their attributes' names, and all words, attributes' values with them."""
    reader = _Reader()
    reader.feed(fragment)
    reader.close()
    return reader.shape, re.sub(r"\s+", " ", "".join(reader.words)).lower()


def holds(drawn: Callable[[str], str], text: str, *, whole: bool = True) -> int:
    """Assert that a text changes no element or attribute, and is read as it was written.

    Returns how often it stands in the fragment. Where a drawing shortens a long text it is not
    ``whole``, and only the first is asserted.
    """
    wild, calm = read(drawn(text)), read(drawn(tame(text)))
    assert wild[0] == calm[0], f"{text!r} became markup"
    said = re.sub(r"\s+", " ", text).lower()
    assert not whole or wild[1].replace(said, tame(said)) == calm[1], f"{text!r} is not read as it was written"
    return wild[1].count(said)

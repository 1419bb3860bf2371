"""Takes out of a page what its reader never sees: the theme's line breaks and indents, and what drawings say to tests.

A page in a folder cannot be sent compressed, and a third of the theme's own markup is blank.
"""

from __future__ import annotations

import re

from . import pages

# Text whose blanks count, and scripts, whose hashes stand in the policy.
KEPT = re.compile(
    rf"(<(pre|script|style|textarea)\b{pages.ATTRIBUTES}>.*?</\2\s*>)", re.DOTALL | re.IGNORECASE
)
# Elements that stand by themselves: a blank beside their tags is not shown.
ALONE = (
    "address|article|aside|base|body|caption|circle|col|colgroup|dd|desc|details|div|dl|dt|ellipse|"
    "fieldset|figcaption|figure|footer|form|g|h[1-6]|head|header|hr|html|legend|li|line|link|main|meta|"
    "nav|ol|optgroup|option|p|path|polygon|polyline|rect|section|summary|table|tbody|td|template|text|"
    "tfoot|th|thead|title|tr|ul"
)
BLANKS = re.compile(r"[ \t\r\n]+")
AROUND = re.compile(rf" ?(</?(?:{ALONE})\b{pages.ATTRIBUTES}>) ?", re.IGNORECASE)


DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL | re.IGNORECASE)
TAG = re.compile(rf"<[a-z][^\s>/]*{pages.ATTRIBUTES}>", re.IGNORECASE)
# A drawing within HTML needs no name of its language; its measures are there to be checked where it is made.
SAID = re.compile(r' (?:xmlns="http://www\.w3\.org/2000/svg"|data-(?:scale|inner|x1|y1|x2|y2)="[-\d.e]+")')
POINTS = re.compile(r'(?<= points=")[-\d., ]+(?=")')
FINER = re.compile(r"-?\d+\.\d+")
# Who wrote the page and for whom: the same in all, and shown by none.
REMARK = re.compile(rf'<meta name="(?:generator|description)"{pages.ATTRIBUTES}>')
# The words of a line of the menu: they stand by themselves in it.
WORDS = re.compile(r' ?(<span class="md-ellipsis">) ?([^<]*?) ?(</span>) ?')

ARTICLE = re.compile(r"(<article\b.*</article>)", re.DOTALL)
QUOTED = re.compile(r'="([\w.#](?:[\w./#-]*[\w#])?)"(?=[ >])', re.ASCII)


def unquoted(text: str) -> str:
    """Return the page without the quotes that HTML does not ask for, in what is not the page's own."""
    return "".join(
        part if kept else TAG.sub(lambda tag: QUOTED.sub(r"=\1", tag[0]), part)
        for kept, part in _parts(text)
    )


def _parts(text: str) -> list[tuple[bool, str]]:
    found = []
    for index, part in enumerate(ARTICLE.split(text)):
        pieces = [part] if index % 2 else KEPT.split(part)
        found += [(index % 2 == 1 or number % 3 == 1, piece) for number, piece in enumerate(pieces) if number % 3 != 2]
    return found


def drawn(text: str) -> str:
    """Return the page with drawings as its reader sees them: the ends of lines to a tenth of a pixel."""
    return DRAWING.sub(lambda drawing: TAG.sub(_shorter, drawing[0]), text)


def unremarked(text: str) -> str:
    """Return the page without the theme's remarks on it."""
    head, found, rest = text.partition("</head>")
    return f"{REMARK.sub('', head)}{found}{rest}"


def _shorter(tag: re.Match[str]) -> str:
    return POINTS.sub(lambda points: FINER.sub(_tenth, points[0]), SAID.sub("", tag[0]))


def _tenth(number: re.Match[str]) -> str:
    return f"{float(number[0]):.1f}".removesuffix(".0")


def squeeze(text: str) -> str:
    """Return the page without blanks that are not shown; the words of the page stay as they are."""
    parts = KEPT.split(text)
    # Every third part is the name of the element that the part before it holds.
    return "".join(
        _squeezed(part) if index % 3 == 0 else part
        for index, part in enumerate(parts)
        if index % 3 != 2
    )


def _squeezed(markup: str) -> str:
    return WORDS.sub(r"\1\2\3", AROUND.sub(r"\1", BLANKS.sub(" ", markup)))

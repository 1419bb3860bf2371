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
# A number and its fraction, in text and not in a tag: what results keep together (calculators/core/html.py), prose does too.
MIXED = re.compile(r"(?<=\d) (?=\d+/\d+\b)(?![^<>]*>)", re.ASCII)
AROUND = re.compile(rf" ?(</?(?:{ALONE})\b{pages.ATTRIBUTES}>) ?", re.IGNORECASE)


DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL | re.IGNORECASE)
TAG = re.compile(rf"<[a-z][^\s>/]*{pages.ATTRIBUTES}>", re.IGNORECASE)
# A drawing within HTML needs no name of its language; its measures are there to be checked where it is made.
SAID = re.compile(r' (?:xmlns="http://www\.w3\.org/2000/svg"|data-(?:scale|inner|x1|y1|x2|y2)="[-\d.e]+")')
POINTS = re.compile(r'(?<= points=")[-\d., ]+(?=")')
FINER = re.compile(r"-?\d+\.\d+")
# Who wrote the page and for whom, the same in all and shown by none; and its neighbours, which no browser shows.
REMARK = re.compile(rf'<(?:meta name="(?:generator|description)"|link rel="(?:prev|next)"){pages.ATTRIBUTES}>')
# The words of a line of the menu: they stand by themselves in it.
WORDS = re.compile(r' ?(<span class="md-ellipsis">) ?([^<]*?) ?(</span>) ?')

QUOTED = re.compile(r'="([\w.#](?:[\w./#-]*[\w#])?)"(?=[ >])', re.ASCII)
# A line of the menu that is but a link: around its words the theme has an element that does nothing there.
LINE = re.compile(rf'(<a\b{pages.ATTRIBUTES} class="md-nav__link"{pages.ATTRIBUTES}>)<span class="md-ellipsis">([^<]*)</span>(</a>)')
# A heading that can be linked to, and the theme's sign for it, which a script puts back (reach.js).
HEADING = re.compile(rf'(<h([1-6])\b{pages.ATTRIBUTES})(>)((?:(?!</h\2>).)*)(</h\2>)', re.DOTALL | re.IGNORECASE)
SIGN = re.compile(rf'<a\b{pages.ATTRIBUTES}class="headerlink"{pages.ATTRIBUTES}>(?:&para;|¶)</a>')


def unquoted(text: str) -> str:
    """Return the page without the quotes that HTML does not ask for."""
    parts = KEPT.split(text)
    return "".join(
        TAG.sub(lambda tag: QUOTED.sub(r"=\1", tag[0]), part) if index % 3 == 0 else part
        for index, part in enumerate(parts)
        if index % 3 != 2
    )


def plain(text: str) -> str:
    """Return the page without what a script puts back, or nobody sees, around words of the menu and headings."""
    return HEADING.sub(_unsigned, LINE.sub(r"\1\2\3", text))


def _unsigned(heading: re.Match[str]) -> str:
    """A heading without its sign; one that had none says so, where it could get one."""
    start, _, close, words, end = heading.groups()
    bare, count = SIGN.subn("", words)
    mark = "" if count or " id=" not in start else " data-bare"
    return f"{start}{mark}{close}{bare}{end}"


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
    """Return the page without blanks that are not shown; the words of the page stay, a number and its fraction on one line."""
    parts = KEPT.split(text)
    # Every third part is the name of the element that the part before it holds.
    return "".join(
        _squeezed(part) if index % 3 == 0 else part
        for index, part in enumerate(parts)
        if index % 3 != 2
    )


def _squeezed(markup: str) -> str:
    return WORDS.sub(r"\1\2\3", AROUND.sub(r"\1", MIXED.sub("\N{NO-BREAK SPACE}", BLANKS.sub(" ", markup))))

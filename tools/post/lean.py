"""Takes out of a page what its reader never sees: the theme's line breaks and indents.

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
    return AROUND.sub(r"\1", BLANKS.sub(" ", markup))

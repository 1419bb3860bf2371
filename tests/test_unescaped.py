"""What goes into markup as it is: a closed list, so that nobody forgets to escape what is not ours.

`cases/unescaped.toml` names, file by file, every expression that stands in a text with markup and is not escaped there.
Whoever adds one reads first what it holds: a piece of markup that was escaped where it was made, a number, a key of small
letters, digits and hyphens, or words of ours. That hostile texts do no harm is tried elsewhere (`test_escape.py`,
`pages/test_hostile.py`); this holds what those texts do not come by.
"""

from __future__ import annotations

import ast
import tomllib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
LISTED: dict[str, list[str]] = tomllib.loads((Path(__file__).parent / "cases" / "unescaped.toml").read_text(encoding="utf-8"))
FOLDERS = ("calculators", "tools/blocks", "tools/book", "tools/pages", "tools/print", "tools/results")
ESCAPES = {"escape", "quote", "quoteattr", "symbol"}
FILES = [path.relative_to(ROOT).as_posix() for folder in FOLDERS for path in sorted((ROOT / folder).rglob("*.py"))]


def unescaped(text: str) -> Iterator[str]:
    """Every expression in a text with markup, but those that are escaped there and numbers with a format of their own."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.JoinedStr) and any(isinstance(each, ast.Constant) and _is_markup(each.value) for each in node.values):
            for each in node.values:
                if isinstance(each, ast.FormattedValue) and not each.format_spec and not _is_escaped(each.value):
                    yield ast.unparse(each.value)


def _is_markup(text: str) -> bool:
    return "<" in text or '="' in text


def _is_escaped(node: ast.expr) -> bool:
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ESCAPES


def test_what_goes_into_markup_as_it_is_is_listed() -> None:
    """As often as it does, so that one more of the same name is seen too."""
    more, gone = {}, {}
    for file in FILES:
        found, listed = Counter(unescaped((ROOT / file).read_text(encoding="utf-8"))), Counter(LISTED.get(file, ()))
        more |= {file: sorted((found - listed).elements())} if found - listed else {}
        gone |= {file: sorted((listed - found).elements())} if listed - found else {}
    assert more == {}, "escape it, or list it when you have read what it holds"
    assert gone == {}, "no longer there: take it out of the list"


def test_every_file_of_the_list_is_there() -> None:
    assert LISTED.keys() <= set(FILES)


def test_what_is_escaped_and_what_is_not_are_told_apart() -> None:
    text = """f'<p title="{escape(a)}">{b}{c:.1f}{escape(d) or e}</p>'; f' class="{g}"'; f"{h}: {i}"; escape(f"<{j}>")"""
    assert list(unescaped(text)) == ["b", "escape(d) or e", "g", "j"]

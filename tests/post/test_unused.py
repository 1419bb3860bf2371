"""Style sheets lose what no page has, and nothing that any page could have."""

from pathlib import Path

import pytest

from tools.post import unused

SHEET = (
    '@charset "UTF-8";a,.gone,.kept .gone{color:red}.kept:not(.gone){top:0}.base--new{left:0}.base-new{left:1px}'
    '@media print{.gone{top:0}.kept{content:"} .gone{"}}@media screen{.gone{top:0}}@keyframes gone{0%{top:0}}'
    '.kept\\:x{top:1px}[class="gone"]{top:2px}'
)


def test_only_what_needs_a_class_that_nobody_has_goes() -> None:
    """One of several selectors, a rule, a group; what stands in brackets, in a text or behind a stroke is not judged."""
    assert unused.without(SHEET, {"kept", "base"}) == (
        '@charset "UTF-8";a{color:red}.kept:not(.gone){top:0}.base--new{left:0}'
        '@media print{.kept{content:"} .gone{"}}@keyframes gone{0%{top:0}}'
        '.kept\\:x{top:1px}[class="gone"]{top:2px}'
    )


def test_with_all_classes_known_nothing_changes() -> None:
    assert unused.without(SHEET, {"gone", "kept", "base", "base-new"}) == SHEET


def test_a_named_value_stays_while_anybody_asks_for_it() -> None:
    """Also one that only another named value asks for; the chain goes as a whole."""
    sheet = ':root{--a:url("data:;,x{;}y");--b:var(--a);--c:1;--d:var(--b);--e:2}p{top:var( --c )}'
    made = unused.bare({Path("x"): sheet}, ["style.getPropertyValue('--e')"])
    assert made == {Path("x"): ":root{--c:1;--e:2}p{top:var( --c )}"}
    assert unused.bare({Path("x"): sheet}, ["var(--d)"])[Path("x")].count("--a") == 2


@pytest.mark.parametrize("text", ["a{b:c}", "@media x{a{b:c}d{e:f}}", 'a{b:url(data:x;y)}c{d:"{"}', "@import 'x';a{}"])
def test_what_is_read_is_written_as_it_was(text: str) -> None:
    assert unused.without(text, ()) == (text if "{}" not in text else "@import 'x';a{}")

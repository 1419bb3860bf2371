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


def test_words_known_by_page_trim_as_the_pages_themselves_do(tmp_path: Path) -> None:
    """What each page names is gathered where it is finished; scripts are read at the end."""
    made = {}
    for way in ("pages", "words"):
        site = tmp_path / way
        (site / "assets" / "stylesheets").mkdir(parents=True)
        (site / "assets" / "stylesheets" / "a.css").write_text(
            f"{SHEET}:root{{--a:1;--b:2;--c:3}}.new--low,.scripted{{top:0}}", "utf-8")  # fmt: skip
        (site / "a.html").write_text('<p class="kept new" data-x="var(--b)">gone</p>'.replace("gone", "x"), "utf-8")
        (site / "b.html").write_text('<p class="base">var(--other)</p>', "utf-8")
        (site / "a.js").write_text('add("scripted", "--c");', "utf-8")
        asked = unused.wanted(site)
        words = {word for path in site.glob("*.html") for word in unused.named(path.read_text("utf-8"), asked)}
        assert words == {"kept", "new", "--b", "base"}
        unused.trim(site, words if way == "words" else None)
        made[way] = (site / "assets" / "stylesheets" / "a.css").read_text("utf-8")
    assert made["words"] == made["pages"]
    assert ".new--low,.scripted" in made["words"]
    assert ":root{--b:2;--c:3}" in made["words"]
    assert ".gone{color" not in made["words"]

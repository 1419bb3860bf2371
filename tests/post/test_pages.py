"""Editing pages tag by tag, to the letter elsewhere."""

import pytest

from tools.post import pages


def upper_class(tag: pages.Tag) -> None:
    tag.attributes["class"] = "X"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        # Quotes inside the other quotes, entities, an attribute without a value.
        ("<p id='a\"b' hidden>t</p>", '<p id="a&quot;b" hidden class="X">t</p>'),
        # A sign that looks like a tag's end.
        ('<p title="a > b">t</p>', '<p title="a &gt; b" class="X">t</p>'),
        # SVG keeps the stroke that closes, and its capitals.
        ('<p viewBox="0 0 1 1" />', '<p viewBox="0 0 1 1" class="X" />'),
    ],
)
def test_a_changed_tag_is_written_anew(before, after):
    assert pages.edit(before, {"p": upper_class}) == after


@pytest.mark.parametrize(
    "text",
    [
        "<!-- <p> --><i>x</i>",
        "<script>if (a < b) '<p>'</script>",
        '<script type="application/json">{"html": "<p>"}</script>',
        "<style>p > i {}</style>",
        "<textarea><p></textarea>",
        "a < b and <i   id=x >",
    ],
)
def test_what_is_no_tag_of_the_name_stays_to_the_letter(text):
    assert pages.edit(text, {"p": upper_class}) == text


def test_an_unchanged_tag_stays_to_the_letter():
    text = "<p   id=x  data-y='1'>"
    assert pages.edit(text, {"p": lambda tag: None}) == text


def test_an_element_can_be_replaced_as_a_whole():
    text = "<i>1</i><style>p {}</style><i>2</i>"
    assert pages.edit(text, {"style": lambda tag: ""}) == "<i>1</i><i>2</i>"


CONFIG = '<script id="__config" type="application/json">{"base": "%s", "search": "x"}</script>'


@pytest.mark.parametrize(
    ("base", "root"), [(".", ""), ("..", "../"), ("../..", "../../"), ("/", "/"), ("/a/", "/a/")]
)
def test_the_way_to_the_root_comes_from_the_theme(base, root):
    assert pages.root(CONFIG % base) == root


def test_settings_are_written_back_without_ending_the_script():
    text = pages.with_config(CONFIG % ".", {"base": ".", "x": "</script>é"})
    assert pages.config(text) == {"base": ".", "x": "</script>é"}
    assert text.count("</script>") == 1


def test_a_page_that_is_not_the_themes_has_no_settings():
    assert pages.config("<html></html>") is None


def test_files_are_written_with_the_same_bytes_everywhere(tmp_path):
    pages.write(tmp_path / "a" / "b.html", "ü\n")
    assert (tmp_path / "a" / "b.html").read_bytes() == b"\xc3\xbc\n"

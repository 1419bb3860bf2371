"""Pages on their way into the one file: links lead within it, parts become slots, and text stays text."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest

from tools.editions import inside, whole
from tools.problems import Problems
from tools.runtime.errors import PackError

PAGE = """<!doctype html><html lang=en><head><meta http-equiv="Content-Security-Policy" content="default-src 'none'">
<link rel=stylesheet href=../a.css><link rel=icon href=../i.png><link rel=apple-touch-icon href=../i.png>
<script src="../late.js" defer></script><title>A</title></head><body>{}<script src="../now.js"></script></body></html>"""
THEME = 'f(){return g(`${new URL("search/search_index.js",h.base)}`).pipe(x)}window.document$=dd;'


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A folder of two pages, a booklet and what they load."""
    for name, text in {"a.css": "p{}", "i.png": "png", "late.js": "1", "now.js": "2", "p/b.pdf": "", "l/x.txt": "<b>&"}.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    for name in ("index.html", "p/one.html", "p/two.html"):
        (tmp_path / name).write_text(PAGE.format("text"), encoding="utf-8")
    return tmp_path


def turned(site: Path, body: str, name: str = "p/one.html") -> str:
    return inside.page(PAGE.format(body), name, whole.Carried(site))


@pytest.mark.parametrize(
    ("written", "leads"),
    [
        ("two.html", "#!/p/two.html"),
        ("two.html#step-5", "#!/p/two.html#step-5"),
        ("../index.html?site=a&amp;b#c", "#!/index.html?site=a&amp;b#c"),
        ("/index.html", "#!/index.html"),
        ("../l/x.txt", "#!/l/x.txt"),
        ("#here", "#here"),
        ("https://example.org/index.html", "https://example.org/index.html"),
        ("mailto:a@example.org", "mailto:a@example.org"),
        ("tel:911", "tel:911"),
        ("gone.html", "gone.html"),
    ],
)
def test_a_link_leads_within_the_file(site: Path, written: str, leads: str) -> None:
    assert f'<a href="{leads}">' in turned(site, f'<a href="{written}">x</a>')


def test_a_booklet_is_named_and_not_led_to(site: Path) -> None:
    found = turned(site, '<li><a class=c href=b.pdf>The <b>day</b> itself</a></li><a href=two.html>on</a>')
    assert "<li><span>The <b>day</b> itself <em>(in the folder edition)</em></span></li>" in found
    assert ".pdf" not in found


def test_scripts_put_off_come_at_the_end_and_all_others_where_they_stood(site: Path) -> None:
    found = turned(site, "text")
    slots = re.findall("\ue000([^\ue000]*)\ue000", found)
    assert slots == ["a.css", "i.png", "now.js", "late: page read", "late.js", "late: over"]
    assert "Content-Security-Policy" not in found
    assert found.endswith("</body></html>")


def test_what_a_person_typed_stays_as_it_was(site: Path) -> None:
    """Also what looks like a link, a slot's name, or the end of something."""
    body = '<p title="&lt;a href=b.pdf>x&lt;/a>">&lt;a href="two.html"&gt; $&amp; $1 \\ue000 index.html</p><textarea><a href=x.html></textarea>'
    assert body in turned(site, body)


def test_a_page_that_holds_the_sign_of_a_slot_stops_it(site: Path) -> None:
    with pytest.raises(Problems, match=r"p/one\.html.*U\+E000"):
        turned(site, "<p>\ue000a.css\ue000</p>")


@pytest.mark.parametrize("text", ["a</script>b", "a<!--b", "a\ue000b", "</SCRIPT"])
def test_a_script_that_would_end_its_element_stops_it(site: Path, text: str) -> None:
    (site / "now.js").write_text(text, encoding="utf-8")
    with pytest.raises(Problems, match=r"now\.js: This cannot stand in a page"):
        turned(site, "text")


def test_a_plain_text_is_shown_as_it_is(site: Path) -> None:
    text = dict(inside.texts(site))["l/x.txt"]
    assert "<pre>&lt;b&gt;&amp;</pre>" in text
    assert 'href="../reference/licenses.html"' in text


def test_the_theme_finds_the_search_s_settings_without_asking(site: Path) -> None:
    assert whole.themed(THEME) == "f(){return dd.pipe().pipe(x)}window.document$=dd;"
    for other in (THEME * 2, "", THEME.replace("search_index", "index")):
        with pytest.raises(Problems, match="not 1"):
            whole.themed(other)
    with pytest.raises(PackError):
        whole.wrapped("shell.js", whole.SCOPE * 2)


@pytest.mark.parametrize(
    ("script", "handed"),
    [
        ("""{"html": '<p title="it\\\\\\'s">\\n\\\\</p>'}""", {"html": "<p title=\"it\\'s\">\n\\</p>"}),
        ("""{"html": "<p>it's</p>", "more": 1}""", {"html": "<p>it's</p>", "more": 1}),
        ("[1, 2]", [1, 2]),
    ],
)
def test_what_a_script_hands_over_is_read_without_running_it(script: str, handed: object) -> None:
    assert whole.value(script) == handed


def test_a_block_holds_no_sign_that_begins_a_tag() -> None:
    text = whole.block("id=x", "a<b</script>")
    assert text.count("<") == 2
    assert "a\ue000\u803cb" in text


def test_an_archive_gives_back_what_was_put_in(site: Path) -> None:
    carried = whole.Carried(site)
    for name, text in {"one": "first", "two": "zweite – 二"}.items():
        carried.add(name, text)
    start, length = carried.files["two"]
    assert gzip.decompress(carried.data[start : start + length]).decode() == "zweite – 二"

"""What all pages have alike stands in one script: nothing else leaves them, and no other page is touched."""

import json
import re

import pytest

from tools.post import pages, shell

HEAD = '<head><script>__md_scope=new URL("{root}",location),__md_get=e=>e</script></head>'
FORM = '<form class="md-header__option" data-md-component="palette"><input name="__palette"></form>'
SEARCH = '<script>var palette=__md_get("__palette")</script><div class="md-search"><ol class="md-search-result__list" role="presentation"></ol></div></div></div></div></div>'
HERE = '<button class="hb-here" type="button" hidden><span></span></button>'
TABS = '<script>var target=document.getElementById(location.hash.slice(1));target&&target.name&&(target.checked=target.name.startsWith("__tabbed_"))</script>'
SETTINGS = '<script id="__config" type="application/json">{{"base": "{root}", "features": ["é"], "search": "{root}/w.js"}}</script>'
PAGE = f"<html>{HEAD}<body><nav><b>Menu</b>{FORM}{SEARCH} {HERE} <a>Emergency</a></nav><article>{{text}}</article>{TABS}{SETTINGS}</body></html>"


def page(root: str = "..", text: str = "<p>Words</p>") -> str:
    return PAGE.format(root=root, text=text)


def taken(written: str) -> str:
    return shell.page(written, shell.of(page(".")))


def test_what_only_scripts_use_leaves_the_page_and_the_rest_stays():
    """At the place where it stood there is the script, at the page's own way to the root."""
    left = taken(page())
    assert left == (
        '<html><head></head><body><nav><b>Menu</b><script src="../assets/javascripts/shell.js"></script>'
        " <a>Emergency</a></nav><article><p>Words</p></article></body></html>"
    )


def test_the_script_holds_all_that_left():
    """Markup, settings and the theme's own scripts in their order; no way of one page to the root."""
    script = shell.of(page("../..")).script
    assert script == shell.of(page(".")).script
    told = json.loads(re.search(r"const SHELL = (\{.*\});", script)[1])
    assert told["markup"] == FORM + SEARCH.partition("</script>")[2] + f" {HERE}"
    assert told["settings"] == {"base": "", "features": ["é"], "search": "search/search_worker.js"}
    own = [script.index('__md_scope=new URL("../../",document.currentScript.src),__md_get'), script.index("var palette")]
    assert own == sorted(own)


@pytest.mark.parametrize("other", [
    "<html><head></head><body>A booklet</body></html>",
    page().replace("__palette", "__other"),
    page().replace("é", "è"),
])  # fmt: skip
def test_a_page_that_has_something_else_there_is_left_alone(other):
    assert taken(other) == other


def test_words_of_a_page_that_look_like_it_stay():
    """The header's comes first, and only that goes."""
    text = f"{FORM}{SEARCH}{TABS}"
    assert f"<article>{text}</article>" in taken(page(text=text))


def test_no_page_of_the_handbook_holds_a_script(site):
    """Data aside: what runs lies in files of ours, and a page asks for each in its place."""
    for path in pages.all_pages(site):
        text = pages.read(path)
        assert [tag.body for tag in pages.tags(text) if tag.name == "script" and tag.body and "type" not in tag.attributes] == []
        assert text.count(shell.SCRIPT) == 1
        assert "sha256-" not in text

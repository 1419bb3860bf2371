"""A page's contents stand in it once; the menu's copy is a script's."""

import pytest

from tools.post import contents

LIST = '<label for="__toc">Contents</label><ul><li><a href="#a">A</a><nav class="md-nav"><a href="#b">B</a></nav></li></ul></nav>'
MENU = f'<li><label class="md-nav__link" for="__toc"></label><nav class="md-nav md-nav--secondary" aria-label="Table of contents">{LIST}</li>'
BESIDE = f'<div><div><nav class="md-nav md-nav--secondary" aria-label="On this page">{LIST}</div></div><div class="md-content"></div>'
TAIL = '<script id="__config" type="application/json">{"base": ".."}</script><script src="../assets/javascripts/search.js"></script>'


def test_the_copy_in_the_menu_goes_and_a_script_comes() -> None:
    """Before the theme's scripts, which look for both."""
    left = contents.page(MENU + BESIDE + TAIL)
    script = '<script src="../assets/javascripts/contents.js"></script><script src="../assets/javascripts/search.js">'
    assert left == '<li><label class="md-nav__link" for="__toc"></label></li>' + BESIDE + TAIL.replace('<script src="../assets/javascripts/search.js">', script)


@pytest.mark.parametrize("page", [MENU + TAIL, BESIDE + TAIL, MENU.replace(">A<", ">C<") + BESIDE + TAIL, MENU + BESIDE])
def test_a_page_without_two_alike_is_left_alone(page: str) -> None:
    assert contents.page(page) == page

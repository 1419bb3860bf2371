"""What is said in the page for people who hear it."""

import pytest

from tools.post import accessibility


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (
            '<div class="md-search" data-md-component="search" role="dialog">',
            '<div class="md-search" data-md-component="search" role="dialog" aria-label="Search">',
        ),
        (
            '<div class="md-search-result__meta">',
            '<div class="md-search-result__meta" role="status">',
        ),
        ('<label for="a" tabindex="">', '<label for="a">'),
        ('<label for="a" tabindex="0">', '<label for="a" tabindex="0">'),
        ('<nav aria-expanded="true">', "<nav>"),
        (
            '<a class="headerlink" href="#x" title="Link to this part">',
            '<a class="headerlink" href="#x" title="Link to this part" '
            'aria-label="Link to this part">',
        ),
        ('<a class="other" title="t">', '<a class="other" title="t">'),
    ],
)
def test_a_tag_is_mended(before, after):
    assert accessibility.page(before) == after


def test_the_second_contents_of_a_page_has_another_name():
    contents = '<nav class="md-nav md-nav--secondary" aria-label="Table of contents">'
    second = contents.replace("Table of contents", "On this page")
    assert accessibility.page(contents * 2) == contents + second


def test_only_the_cells_of_a_tables_head_head_columns():
    """A row's own heading cell, and one that says what it heads, stay as they are."""
    before = (
        '<thead><tr><th>a</th><th scope="row">b</th></tr></thead><tbody><tr><th>c</th></tr></tbody>'
    )
    assert accessibility.page(before) == before.replace("<th>a", '<th scope="col">a')


@pytest.mark.parametrize(
    "box",
    [
        '<input type="checkbox" disabled/>',
        '<label class="task-list-control"><input type="checkbox" disabled/>'
        '<span class="task-list-indicator"></span></label>',
    ],
)
def test_a_tasks_box_is_named_by_its_text(box):
    before = f'<li class="task-list-item">{box} Tie the <b>"A"</b> strap<ul><li>x</li></ul></li>'
    named = box.replace("<input", '<input aria-label="Tie the &quot;A&quot; strap"')
    assert accessibility.page(before) == before.replace(box, named)


def test_only_pages_of_the_theme_load_the_script():
    other = "<html><body><p>x</p></body></html>"
    theme = '<body><script id="__config" type="application/json">{"base": ".."}</script></body>'
    assert accessibility.scripts(other) == other
    assert '<script src="../assets/javascripts/reach.js" defer>' in accessibility.scripts(theme)

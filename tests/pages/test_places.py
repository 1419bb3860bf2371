"""A link on paper says in which part of the handbook its page stands."""

from tools.pages import places

PARTS = {"safety/emergency.html": "Stay safe", "procedures/connect.html": "Power & more", "index.html": None}


def test_a_link_bears_the_part_of_its_page() -> None:
    """From the page's own folder, with or without a heading; the title is escaped."""
    html = '<a href="../safety/emergency.html">E</a> <a href="connect.html#steps">C</a>'
    told = places.mark(html, "procedures", PARTS)
    assert '<a data-place="Stay safe" href="../safety/emergency.html">E</a>' in told
    assert '<a data-place="Power &amp; more" href="connect.html#steps">C</a>' in told


def test_other_links_stay_as_they_are() -> None:
    """A heading of the same page, another site, a page outside every part."""
    html = '<a href="#steps">S</a> <a href="https://example.org/">W</a> <a href="../index.html">H</a>'
    assert places.mark(html, "procedures", PARTS) == html

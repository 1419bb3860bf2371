"""What Lighthouse says of access and good practice, on a page of each kind behind a server, as a phone shows it.

Its figure for speed is a matter of `bench`.
"""

import pytest

from tests.support.served import Server
from tools.commands import lighthouse
from tools.commands.progress import Trouble

PAGES = ("index.html", "procedures/level-and-bear.html", "calculators/clearance.html")
# On a phone the answer lies at the edge of the screen over whatever is about to be scrolled to. That nothing fixed covers
# a control that cannot be scrolled free is held by test_view.py, at every position of every page.
LEFT_OUT = ("target-size",)


@pytest.fixture(scope="module")
def hosted(site):
    """The handbook on a server."""
    server = Server(site)
    yield server.address
    server.stop()


@pytest.mark.browser
@pytest.mark.slow
@pytest.mark.parametrize("page", PAGES)
def test_a_page_has_all_points(hosted: str, node: str, chromium: str, page: str) -> None:
    report = lighthouse.ask(node, chromium, hosted + page, ("accessibility", "best-practices"), LEFT_OUT)
    assert report.scores == {"accessibility": 100, "best-practices": 100}, report.short


def test_what_falls_short_is_named() -> None:
    """A page without an image's text, as its answer tells it."""
    audits = {
        "image-alt": {"title": "Image elements do not have [alt] attributes", "score": 0},
        "title": {"title": "Document has a title", "score": 1},
        "manual": {"title": "A matter for a person", "score": None},
    }
    refs = [{"id": key, "weight": 1} for key in audits]
    report = lighthouse.read({"audits": audits, "categories": {"accessibility": {"score": 0.944, "auditRefs": refs}}})
    assert report == lighthouse.Report(
        {"accessibility": 94}, ["Image elements do not have [alt] attributes (image-alt, )"]
    )


def test_an_address_that_does_not_answer_is_told(node: str, chromium: str) -> None:
    with pytest.raises(Trouble, match="did not run"):
        lighthouse.ask(node, chromium, "no address", ("accessibility",))

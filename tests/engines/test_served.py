"""The handbook on a server, in each engine: every calculator, nothing fetched but its own files, kept without a signal."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

import calculators
from tests.engines.page import Page
from tests.engines.test_calculators import another, ready
from tests.support.served import Server
from tools.post import listing

pytestmark = pytest.mark.browser

RUN = "window.HandbookPython.run(arguments[0], arguments[1])"
# Asked by every browser on its own account.
THEIRS = {"favicon.ico"}
# Of a page of steps: how many, how many can be ticked, whether its script stands by, whether it is wider than the screen.
STEPS = """[document.querySelectorAll(".hb-steps > .hb-step").length, document.querySelectorAll(".hb-steps > .hb-step .hb-tick").length,
  Boolean(document.querySelector(".hb-checklist")), document.documentElement.scrollWidth > innerWidth]"""


@pytest.fixture
def server(site: Path) -> Iterator[Server]:
    served = Server(site)
    yield served
    served.stop()


@pytest.fixture
def hosted(page: Page, server: Server) -> Page:
    """The same page, whose handbook is on a server."""
    return Page(page.wire, page.site, server.address)


def test_every_calculator_computes_and_nothing_else_is_fetched(hosted: Page, server: Server) -> None:
    ready(hosted, "clearance")
    for name in calculators.NAMES:
        for request in ({"rules": "us", "units": "us", "inputs": calculators.get(name).example_for("us", "us")}, another(name)):
            native = calculators.run(name, request)
            answer = json.loads(hosted.promised(RUN, name, json.dumps(request)))
            assert [answer["outcome"], answer["headline"]] == [native["outcome"], native["headline"]], name
    assert set(server.fetched) - THEIRS <= {*listing.paths(hosted.site), listing.NAME}


def test_every_procedure_is_whole_from_files_and_from_a_server(page: Page, hosted: Page) -> None:
    """Its steps can be ticked, as its script has run to its end; from files and from the server in turn."""
    for number, path in enumerate(sorted((page.site / "procedures").glob("*.html"))):
        name = path.relative_to(page.site).as_posix()
        opened = (page, hosted)[number % 2]
        opened.open(name)
        steps, ticks, stands, wide = opened.evaluate(STEPS)
        assert (ticks, stands, wide) == (steps, steps > 0, False), name


@pytest.mark.parametrize("page", ["firefox"], indirect=True)
def test_it_is_kept_and_opens_without_a_signal(page: Page, hosted: Page, server: Server) -> None:
    """In the second engine that keeps one; in the first see test_site_offline.py."""
    hosted.open("index.html")
    hosted.wait("document.documentElement.dataset.offline")
    assert hosted.evaluate("document.documentElement.dataset.offline") == "ready"
    hosted.wait("Boolean(navigator.serviceWorker.controller)")
    server.stop()
    hosted.open("procedures/level-and-bear.html")
    assert "Level" in hosted.text("h1")
    ready(hosted, "circuit")

"""The built handbook in the two engines beside Chromium's: nothing is skipped, what is missing fails."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import nullcontext
from pathlib import Path

import pytest

from tests.engines import started
from tests.engines.page import Page, tab
from tests.engines.wire import Http, Marionette

HOW = "is missing: `python3 tools/handbook.py test` says how to install it"


def program(variable: str, name: str) -> str:
    found = os.environ.get(variable) or shutil.which(name)
    assert found, f"{name} {HOW}, or set {variable}"
    return found


@pytest.fixture(scope="session")
def firefox(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Marionette]:
    folder = tmp_path_factory.mktemp("firefox")
    with started.firefox(program("HANDBOOK_FIREFOX", "firefox-esr"), folder) as wire:
        # Its own first page is never at rest, and it stays open for as long as tests run.
        wire.send("Navigate", url="about:blank")
        yield wire


@pytest.fixture(scope="session")
def display(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with started.screen(program("HANDBOOK_XVFB", "Xvfb"), tmp_path_factory.mktemp("screen")) as number:
        yield number


@pytest.fixture
def webkit(display: str, tmp_path: Path) -> Iterator[Http]:
    """Started for each test: a second session of one driver does not begin, a tab in the background is not drawn."""
    with started.webkit(program("HANDBOOK_WEBKIT", "WebKitWebDriver"), display, tmp_path) as wire:
        yield wire


@pytest.fixture(params=["firefox", "webkit"])
def page(request: pytest.FixtureRequest, site: Path) -> Iterator[Page]:
    """In each engine a page that no history goes before."""
    engine = request.getfixturevalue(request.param)
    with tab(engine) if request.param == "firefox" else nullcontext(engine) as wire:
        yield Page(wire, site)

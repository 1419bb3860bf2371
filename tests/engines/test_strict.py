"""The engines are a reader's own: no preference of a test makes files more to each other than they are to a reader."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.engines.page import Page, tab
from tests.engines.wire import Marionette

pytestmark = pytest.mark.browser

READ = "const [name, done] = arguments; done([Services.prefs.getBoolPref(name), Services.prefs.prefHasUserValue(name)]);"
# Whether a page reads another file of its own folder: no engine lets it.
FETCHED = "fetch('about.html').then((answer) => answer.text()).then(() => 'read', () => 'refused')"


def test_firefox_is_strict_with_files_by_its_own_default(firefox: Marionette) -> None:
    """Remote control would let every file read every other one, and tests from files would prove nothing."""
    value, has_been_set = firefox.own(READ, "security.fileuri.strict_origin_policy")
    assert (value, has_been_set) == (True, False)
    assert firefox.own(READ, "remote.prefs.recommended")[0] is False


def test_in_firefox_each_file_has_a_store_of_its_own(firefox: Marionette, site: Path) -> None:
    with tab(firefox) as wire:
        page = Page(wire, site)
        page.open("index.html")
        page.evaluate("localStorage.setItem('mine', 'yes')")
        page.open("procedures/level-and-bear.html")
        assert page.evaluate("localStorage.getItem('mine')") is None
        page.open("index.html")
        assert page.evaluate("localStorage.getItem('mine')") == "yes"


def test_a_file_may_not_read_the_next(page: Page) -> None:
    page.open("index.html")
    assert page.promised(FETCHED) == "refused"

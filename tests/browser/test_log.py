"""A log in the page: opened from a file, judged there, sent nowhere, and too long for a link or a browser's store."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser

LINES = 10_000
BEGIN = datetime.fromisoformat("2026-10-24 08:00")
ROOT = "document.querySelector('[data-calculator]')"
ANSWERED = f"{ROOT}.dataset.outcome && !{ROOT}.hasAttribute('data-withdrawn')"


def written(path: Path, warm: int) -> Path:
    """A file as an older instrument writes it: Latin-1, semicolons, decimal commas, the day first."""
    rows = [f"{BEGIN + timedelta(minutes=5 * at):%d.%m.%Y;%H:%M};{'12,5' if at == warm else '3,0'}" for at in range(LINES)]
    path.write_bytes("\r\n".join(["Day;Time;Temperature (°C)", *rows]).encode("latin-1"))
    return path


@pytest.fixture
def opened(watched: Any, site: Path) -> Any:
    watched.page.goto((site / "calculators" / "cold.html").as_uri())
    watched.wait(f"{ROOT}.dataset.state === 'ready'")
    for name, when in (("put_in", "2026-10-24T08:00"), ("now", "2026-11-28T10:00")):
        watched.page.locator(f"input[name={name}]").fill(when)
    return watched


def answered(watched: Any) -> str:
    watched.wait(ANSWERED)
    return str(watched.page.evaluate(f"{ROOT}.dataset.outcome"))


def test_a_file_of_ten_thousand_lines_is_judged_in_the_page(opened: Any, tmp_path: Path) -> None:
    """All of it counts, few of its lines stand in the page, and nothing leaves it."""
    page = opened.page
    page.set_input_files(".hb-log input[type=file]", written(tmp_path / "log.csv", warm=7000))
    opened.wait("document.querySelector('.hb-log-said').textContent.startsWith('10001 lines')")
    assert answered(opened) == "stop"
    assert "10 min over" in page.inner_text(".hb-bar")
    assert len(page.locator("textarea[name=log]").input_value()) < 400
    assert all(url.startswith(("file:", "blob:", "data:")) for url in opened.asked)
    assert not opened.violations()


def test_no_link_and_no_store_holds_a_long_log_and_both_say_so(opened: Any, tmp_path: Path) -> None:
    page = opened.page
    page.set_input_files(".hb-log input[type=file]", written(tmp_path / "log.csv", warm=7000))
    opened.wait("document.querySelector('.hb-log-said').textContent.startsWith('10001 lines')")
    answered(opened)
    page.evaluate("navigator.clipboard.writeText = (text) => { window.copied = text; return Promise.resolve(); }")
    page.locator("[data-do=link]").click()
    opened.wait("window.copied !== undefined")
    assert "not the log" in page.inner_text(".hb-status")
    assert len(page.evaluate("window.copied")) < 2000
    page.reload()
    opened.wait(f"{ROOT}.dataset.state === 'ready'")
    assert "not the log" in page.inner_text(".hb-notice")
    assert page.locator("textarea[name=log]").input_value() == ""
    assert answered(opened) == "unknown"


def test_a_log_that_was_pasted_long_is_held_and_can_be_taken_away(opened: Any) -> None:
    """The box shows its beginning; the answer is about all of it; taken away, it is asked for again."""
    page = opened.page
    lines = "\\n".join(["time,°C", *(f"{BEGIN + timedelta(minutes=5 * at):%Y-%m-%d %H:%M},3.0" for at in range(400))])
    page.evaluate(f"""() => {{ const box = document.querySelector("textarea[name=log]"); box.value = "{lines}";
        box.dispatchEvent(new Event("input", {{ bubbles: true }})); }}""")
    assert page.locator(".hb-log-said").text_content().startswith("401 lines, all of them in use")
    assert page.locator("textarea[name=log]").get_attribute("readonly") is not None
    assert page.evaluate(f"HandbookInputs.read({ROOT}.querySelector('form')).log.split('\\n').length") == 401
    page.locator("details", has=page.locator("textarea[name=log]")).locator("summary").click()
    page.locator('[data-log="away"]').click()
    assert page.locator(".hb-log-said").text_content() == "No lines yet."
    assert page.evaluate(f"HandbookInputs.read({ROOT}.querySelector('form')).log") is None
    answered(opened)


def test_a_file_that_is_no_text_is_refused_in_words(opened: Any, tmp_path: Path) -> None:
    """What stood there stays."""
    page = opened.page
    before = page.locator("textarea[name=log]").input_value()
    path = tmp_path / "log.xls"
    path.write_bytes(b"\xd0\xcf\x11\xe0\x00\x00\x00\x00" * 50)
    page.set_input_files(".hb-log input[type=file]", path)
    opened.wait("document.querySelector('.hb-log-said').textContent.includes('is no text')")
    assert page.locator("textarea[name=log]").input_value() == before

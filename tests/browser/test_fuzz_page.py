"""The fuzz of what a page takes from outside: a few texts, and that it hears of what goes wrong."""

from pathlib import Path

import pytest

from tools.fuzzing import inpage

SCRIPT = (Path(inpage.__file__).parent / "page.js").read_text(encoding="utf-8")
BREAKS = {
    "links": "window.HandbookLink.check = () => null.length",
    "shelves": "addEventListener('storage', () => { throw new Error('a listener broke off'); })",
    "files": "document.addEventListener('change', ({ target }) => target.type === 'file' && Promise.reject(new Error('not read')))",
}


@pytest.mark.browser
@pytest.mark.parametrize("target", inpage.PAGES)
def test_odd_texts_are_taken_or_refused_in_words(browser, site: Path, target: str) -> None:
    context = browser.new_context(bypass_csp=True)
    page = context.new_page()
    page.goto((site / inpage.PAGES[target][0]).as_uri())
    page.evaluate(SCRIPT)
    run = "([target, runs, seed]) => HandbookFuzz.run(target, runs, seed)"
    found = page.evaluate(run, [target, 150, 1])
    assert found["faults"] == []
    assert found["kinds"] > 1
    page.evaluate(f"() => {{ {BREAKS[target]} }}")
    assert page.evaluate(run, [target, 60, 1])["faults"], "what goes wrong is heard of"
    context.close()

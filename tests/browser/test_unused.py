"""The theme's style sheets in the built folder: no rule that applies to anything in a page has gone."""

from pathlib import Path

import material
import pytest

from tests.browser.conftest import Watched
from tests.browser.test_site_offline import a_page_of_each_kind

pytestmark = pytest.mark.browser

THEME = Path(material.__file__).parent / "templates" / "assets" / "stylesheets"
# Selectors of a sheet, as the browser reads them, of which the part before any state or pseudo element is in the page.
NEEDED = """([whole, trimmed]) => {
  const selectors = (text) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(text);
    const all = (rules) => [...rules].flatMap((rule) => [...(rule.selectorText ? parts(rule.selectorText) : []), ...(rule.cssRules ? all(rule.cssRules) : [])]);
    return new Set(all(sheet.cssRules));
  };
  const parts = (text) => { let depth = 0, part = "", found = []; for (const sign of text) {
    depth += (sign === "(") - (sign === ")");
    if (sign === "," && !depth) { found.push(part.trim()); part = ""; } else part += sign;
  } return [...found, part.trim()]; };
  // A state may come later, and what is made before or after an element is not found by itself.
  const bare = (text) => text.replace(/::[\\w-]+(\\([^)]*\\))?|:(before|after)$/g, "").replace(/:(hover|focus-visible|focus-within|focus|active|checked|target)(?![\\w-])/g, ":is(*)");
  const stands = (text) => { try { return document.querySelector(bare(text) || "*"); } catch { return false; } };
  const kept = selectors(trimmed);
  const used = [...selectors(whole)].filter(stands);
  return [used.length, used.filter((each) => !kept.has(each))];
}"""


@pytest.mark.parametrize("name", ["main", "palette"])
def test_no_rule_that_applies_to_a_page_has_gone(name: str, watched: Watched, site: Path) -> None:
    whole = next(THEME.glob(f"{name}.*.css")).read_text(encoding="utf-8")
    trimmed = next((site / "assets" / "stylesheets").glob(f"{name}.*.css")).read_text(encoding="utf-8")
    assert len(trimmed) < 0.9 * len(whole)
    for page in a_page_of_each_kind(site):
        watched.page.goto((site / page).as_uri())
        used, lost = watched.page.evaluate(NEEDED, [whole, trimmed])
        assert used > {"main": 100, "palette": 0}[name]
        assert (page, lost) == (page, [])

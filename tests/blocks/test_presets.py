"""What a form can be filled from: the same whether a page carries it or a shared script brings it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import markdown
import pytest

import calculators
from tools.blocks import HandbookBlocks, presets
from tools.blocks.context import Context
from tools.book.data import load

DATA = load(Path(__file__).parents[2] / "docs" / "data")


def brought(script: str, name: str) -> list[dict[str, Any]]:
    """The presets of a shared script, each put together again as presets.js does."""
    head = f'(self.HandbookAssets ??= {{}})["presets-{name}"] = '
    assert script.startswith(head)
    found = json.loads(script.removeprefix(head).removesuffix(";\n").replace("<\\/", "</"))
    return [{**each, "inputs": {**found["cabinets"].get(each.get("machine"), {}), **each["inputs"]}} for each in found["presets"]]


@pytest.mark.parametrize("name", calculators.NAMES)
def test_nothing_is_lost_on_the_way_through_a_shared_script(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every preset of the demonstration, value by value; no cabinet's own values stand there twice."""
    carried = presets.made(DATA, name)
    monkeypatch.setattr(presets, "IN_PAGE", 0)
    shared = presets.made(DATA, name)
    assert shared.carried == []
    assert shared.listed == carried.listed == [(each["key"], each["name"]) for each in DATA.presets(name)]
    assert brought(shared.script, name) == DATA.presets(name)
    if name == "plan":
        assert shared.script.count('"products":') == len(DATA.tables["machines"])


@pytest.mark.parametrize(("name", "is_shared"), [("outlet", False), ("clearance", True), ("plan", True)])
def test_a_page_carries_little_or_names_the_script(name: str, is_shared: bool) -> None:
    """With the chosen one alone in its list; the way to the script is that from the page's folder."""
    context = Context(DATA.rules, DATA, (Path(),), page=f"calculators/{name}.md")
    html = markdown.markdown(f"::: calculator {name}\nmachine: tall-forty\n:::", extensions=[HandbookBlocks(context)])
    assert not context.problems
    facts = json.loads(html.split('class="hb-facts">')[1].split("</script>")[0].replace("<\\/", "</"))
    assert bool(facts["presets"]) is not is_shared
    assert (f'data-presets="../assets/presets/{name}.js"' in html) is is_shared
    picker = html.split('<div class="hb-field hb-presets">')[1].split("</select>")[0]
    assert picker.count("<option") == (2 if is_shared else 1 + len(DATA.presets(name)))
    at = next(number for number, each in enumerate(DATA.presets(name)) if each["key"] == "tall-forty")
    assert f'<option value="{at}" selected>{DATA.row("machines", "tall-forty").typed["name"]}</option>' in picker


def test_only_what_pages_ask_for_is_written() -> None:
    assert [path for path, _ in presets.scripts(Context(DATA.rules, DATA, (Path(),)))] == [
        f"assets/presets/{name}.js" for name in ("clearance", "circuit", "spiral", "float", "plan", "handling", "restock")]


def test_what_a_site_lacks_is_not_taken_from_its_cabinet() -> None:
    """Then it stands there whole."""

    class Data:
        units = "us"

        def presets(self, _: str) -> list[dict[str, Any]]:
            return [{"key": "a", "name": "</script>", "units": "us", "machine": "m", "inputs": {"x": "1", "y": "z" * 60_000}}]

        def prefill(self, *_: Any) -> dict[str, Any]:
            return {"x": "1", "door": "36 in"}

    script = presets.made(Data(), "level").script  # type: ignore[arg-type]
    assert "</script>" not in script
    [one] = brought(script, "level")
    assert one["inputs"] == {"x": "1", "y": "z" * 60_000}

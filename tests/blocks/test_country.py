"""``country``: what another country's readers need is left out, and leaves no trace."""

from __future__ import annotations

import pytest

from tools.blocks import country
from tools.blocks.country import kept

PAGE = """Before.
::: country us
Sales tax.
::: warning Hot
Stand back.
:::
:::
::: country uk eu
VAT.
:::
- One{{country ca}} of two{{/country}}.
- {{country au}}Test and tag.{{/country}}
After."""
READ = {
    "us": ["Before.", "Sales tax.", "::: warning Hot", "Stand back.", ":::", "- One.", "After."],
    "uk": ["Before.", "VAT.", "- One.", "After."],
    "ca": ["Before.", "- One of two.", "After."],
    "au": ["Before.", "- One.", "- Test and tag.", "After."],
}


@pytest.mark.parametrize("name", READ)
def test_each_country_reads_its_own(name: str) -> None:
    """Blocks and marks of ours stay without their signs; those of others go, an empty item with them."""
    assert country.text(PAGE, name).splitlines() == READ[name]


def test_a_line_keeps_its_number() -> None:
    """So that a mistake behind a dropped block is told where it stands."""
    assert kept(enumerate(PAGE.splitlines(), 10), "uk", lambda *_: None)[-1] == (22, "After.")


@pytest.mark.parametrize(("source", "line", "said"), [
    ("Good.\n::: country gb\nX\n:::", 2, "no rule set “gb”"), ("::: country\nX\n:::", 1, "no rule set “”"),
    ("::: country us\nX", 1, "never closed"), ("a {{country uk}}b\nc{{/country}}", 1, "do not stand in one line"),
    ("{{country uk}}a {{country us}}b{{/country}}{{/country}}", 1, "do not stand in one line"),
])  # fmt: skip
def test_a_mistake_is_told_with_its_line(source: str, line: int, said: str) -> None:
    told: list[tuple[int, str, str]] = []
    kept(enumerate(source.split("\n"), 1), "us", lambda *each: told.append(each))
    assert (told[0][0], said in told[0][1]) == (line, True), told

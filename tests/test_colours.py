"""The operator's colour: read, refused where it cannot be read, and shaded for the dark page."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tools import colours
from tools.book import company
from tools.pages import look
from tools.problems import Problem

ROOT = Path(__file__).parent.parent


@pytest.mark.parametrize("accent", ["#0b5c6b", "#a03050", "#000000", "#14612f", "#767676"])
def test_its_shade_can_be_read_on_the_dark_page(accent: str) -> None:
    """At 7 to 1 against the dark paper of the style sheet, which is the one in the code."""
    css = (ROOT / "docs" / "assets" / "css" / "handbook.css").read_text("utf-8")
    assert f"--md-default-bg-color: {colours.written(colours.NIGHT)}" in css
    link = re.search(r"--hb-link: (#\w{6})", look.css(accent))
    assert link
    assert colours.contrast(colours.parse(link[1]), colours.NIGHT) >= 7
    assert f"--hb-accent: {accent};" in look.css(accent)


def test_a_shade_is_the_nearest_that_will_do() -> None:
    """One that will do is left alone; a step less would not do."""
    assert colours.shade((255, 255, 255), colours.NIGHT, 7) == (255, 255, 255)
    made = colours.shade((200, 160, 0), colours.WHITE, 4.5)
    assert 4.5 <= colours.contrast(made, colours.WHITE) < 4.7
    assert made[0] > made[1] > made[2]


@pytest.mark.parametrize(("accent", "words"), [("#ffcc00", "cannot be read on white"), ("teal", "not a colour"),
                                               ("#12345g", "not a colour")])  # fmt: skip
def test_a_colour_that_cannot_be_read_is_refused_with_one_that_can(accent: str, words: str, tmp_path: Path) -> None:
    (tmp_path / "handbook.toml").write_text(
        f'name = "A"\nunits = "us"\nrules = "us"\nemergency = "1"\naccent = "{accent}"\nlogo = "pictures/no.svg"\n', "utf-8")
    problems: list[Problem] = []
    company.read(tmp_path / "handbook.toml", problems)
    logo, color = problems
    assert (logo.place, color.place) == ("logo", "accent")
    assert words in color.what
    mend = re.search(r"#\w{6}", color.mend)
    assert mend
    assert colours.contrast(colours.parse(mend[0]), colours.WHITE) >= colours.READABLE

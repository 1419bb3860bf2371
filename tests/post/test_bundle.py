"""The theme's own script is changed in the places that are asked for, in the locked version alone."""

import re
from pathlib import Path

import material
import pytest

from tools.post import bundle, late, pages, search
from tools.problems import Problems

TEMPLATES = Path(material.__file__).parent / "templates"


@pytest.fixture(scope="module")
def script() -> str:
    """The locked theme's script."""
    return pages.read(bundle.the_only(TEMPLATES, bundle.BUNDLE))


@pytest.mark.parametrize("patch", [*search.PATCHES, *late.PATCHES], ids=lambda patch: patch[0])
def test_another_theme_stops_the_build(script: str, patch: tuple[str, str]) -> None:
    """A bundle that lacks one of the places, or has it twice, is another version."""
    place = re.search(patch[0], script)
    assert place
    assert bundle.patched(script, [patch]) != script
    with pytest.raises(Problems, match="not 1"):
        bundle.patched(script[: place.start()] + script[place.end() :], [patch])
    with pytest.raises(Problems, match="not 1"):
        bundle.patched(script + script, [patch])


def test_two_scripts_are_another_theme(tmp_path: Path) -> None:
    """Which of them a page reads is not for us to guess."""
    for name in ("bundle.1.min.js", "bundle.2.min.js"):
        pages.write(tmp_path / "assets" / "javascripts" / name, "")
    with pytest.raises(Problems, match="2 files"):
        bundle.patch(tmp_path, search.PATCHES)

"""The operator's colour as a style sheet: the same hue, dark enough on white and light enough on dark."""

from __future__ import annotations

from tools.colours import NIGHT, WELL_READABLE, parse, shade, written

OURS = "#0b5c6b"
PATH = "assets/css/look.css"


def css(accent: str) -> str:
    """The style sheet for ``#rrggbb``, which was checked when the settings were read."""
    color = parse(accent)
    light = shade(color, NIGHT, WELL_READABLE)
    return (
        f":root {{ --hb-accent: {written(color)}; }}\n"
        f'[data-md-color-scheme="slate"] {{ --hb-link: {written(light)}; }}\n'
    )

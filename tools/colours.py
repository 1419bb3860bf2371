"""Colours: how well one can be read on another, and a shade of it that can (WCAG 2)."""

from __future__ import annotations

import colorsys
import math
import re

Color = tuple[int, int, int]

WHITE: Color = (255, 255, 255)
INK: Color = (20, 24, 28)
# The handbook's dark paper; docs/assets/css/handbook.css has the same.
NIGHT: Color = (23, 29, 34)
# Contrast of text as large as ours: the least that WCAG 2.2 asks (1.4.3), and what 1.4.6 asks.
READABLE, WELL_READABLE = 4.5, 7.0
HALF = 0.18  # the luminance that black and white stand out from alike


def parse(accent: str) -> Color:
    """Read ``#rrggbb``; raise ValueError for anything else."""
    digits = accent.removeprefix("#")
    if not re.fullmatch("[0-9a-fA-F]{6}", digits):
        raise ValueError(f"“{accent}” is not a colour such as #0b6e4f")
    return (int(digits[0:2], 16), int(digits[2:4], 16), int(digits[4:6], 16))


def luminance(color: Color) -> float:
    """Return the relative luminance of WCAG 2, 0 to 1."""
    shares = [part / 255 for part in color]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return math.fsum(w * s for w, s in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: Color, other: Color) -> float:
    """Return the contrast ratio of WCAG 2 between two colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def legible(ground: Color) -> Color:
    """Return white or ink, whichever contrasts more with the ground."""
    return max((WHITE, INK), key=lambda color: contrast(color, ground))


def mix(ground: Color, ink: Color, share: float) -> Color:
    """Return the colour of a pixel that ink covers in part."""
    red, green, blue = (round(g + (i - g) * share) for g, i in zip(ground, ink, strict=True))
    return (red, green, blue)


def written(color: Color) -> str:
    """A colour as ``#rrggbb``."""
    return "#" + "".join(f"{part:02x}" for part in color)


def shade(color: Color, ground: Color, wanted: float) -> Color:
    """The nearest shade of a colour, as pure as it is, that stands out from the ground by ``wanted``."""
    hue, light, pure = colorsys.rgb_to_hls(*(part / 255 for part in color))
    end = 1.0 if luminance(ground) < HALF else 0.0
    for share in range(101):
        red, green, blue = colorsys.hls_to_rgb(hue, light + (end - light) * share / 100, pure)
        found = (round(255 * red), round(255 * green), round(255 * blue))
        if contrast(found, ground) >= wanted:
            break
    return found

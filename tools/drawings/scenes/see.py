"""What one sees of a fault: small drawings for the buttons that lead to its tree. Few strokes, no words to read."""

from __future__ import annotations

import math

from shapely import LineString
from shapely.affinity import rotate

from ..parts import bag, bill, coil, coin, floor, plug, puddle, spark, thermometer
from ..sketch import THIN, Sketch, rounded

WIDE, HIGH = 80, 64
# The corners of a ring that is drawn with dashes.
OCTAGON = tuple((math.cos(math.radians(45 * i)), math.sin(math.radians(45 * i))) for i in range(9))
# One ray of a star of ice, upward from the middle.
RAY = tuple(LineString(list(spots)) for spots in (((40, 32), (40, 6)), ((40, 14), (34, 8)), ((40, 14), (46, 8))))


def _sketch(name: str, title: str, told: str) -> Sketch:
    return Sketch(f"see-{name}", title, told, HIGH, WIDE)


def see_dead() -> Sketch:
    """No light, no sound."""
    s = _sketch("dead", "It is dead", "A dark cabinet; its plug lies beside it, out of the outlet.")
    floor(s, 60, 4, 76)
    s.box(8, 6, 34, 50, 2, 0.7).line([(13, 57), (13, 60)], 3).line([(37, 57), (37, 60)], 3)
    plug(s, 74, 46, 1, 0.62)
    s.line([(62, 18), (74, 30)], 3).line([(62, 30), (74, 18)], 3)
    return s


def see_trips() -> Sketch:
    """The breaker has gone off."""
    s = _sketch("trips", "The breaker trips", "A panel of breakers, one of them off, and a flash.")
    s.box(8, 4, 38, 56, 3, 0.06)
    for y in (11, 24, 37):
        s.box(14, y, 26, 9, 1, 0.06, THIN).box(28, y + 1, 11, 7, 1, 0.6, 1)
    s.box(14, 50, 26, 7, 1, 0.06, THIN).box(15, 51, 11, 5, 1, 0.6, 1)
    spark(s, 62, 32, 44)
    return s


def see_warm() -> Sketch:
    """A high reading."""
    s = _sketch("warm", "It is too warm", "A thermometer with a high column, and a sun.")
    thermometer(s, 24, 4, 54, 0.86)
    s.disc(56, 32, 11, 0.25)
    for dx, dy in ((0, -1), (0.71, -0.71), (1, 0), (0.71, 0.71), (0, 1), (-0.71, 0.71), (-1, 0), (-0.71, -0.71)):
        s.line([(56 + 15 * dx, 32 + 15 * dy), (56 + 20 * dx, 32 + 20 * dy)])
    return s


def see_cold() -> Sketch:
    """A low reading beside a crystal."""
    s = _sketch("cold", "It is too cold", "A thermometer with a low column, and a burst can.")
    thermometer(s, 20, 4, 54, 0.12)
    s.box(44, 16, 26, 44, 4, 0.14)
    s.shape([(40, 32), (50, 30), (47, 38), (58, 34), (56, 42), (66, 38), (74, 44), (72, 36), (62, 30), (58, 22), (54, 29)], 0.6, 1.4)
    return s


def see_note() -> Sketch:
    """A bill half in its slot."""
    s = _sketch("note", "A bill sticks", "A paper bill, crumpled, half in its slot.")
    bill(s, 22, 26, 36, 34, 0)
    s.box(8, 6, 64, 24, 4, 0.14).box(17, 19, 46, 6, 2, 0.8, 1)
    s.line([(22, 44), (29, 41), (34, 46), (42, 41), (48, 46), (58, 42)], 1.8)
    return s


def see_coin() -> Sketch:
    """A coin stuck in its slot."""
    s = _sketch("coin", "A coin sticks", "A coin stands half out of its slot.")
    coin(s, 40, 24, 18)
    s.box(12, 30, 56, 30, 4, 0.14).box(24, 34, 32, 6, 3, 0.8, 1)
    s.line([(40, 6), (40, 14)], 1.6)
    return s


def see_change() -> Sketch:
    """Nothing in the return cup."""
    s = _sketch("change", "No change", "An empty tube beside a low one, and an empty cup.")
    for x, count in ((10, 0), (30, 1), (50, 2)):
        s.box(x, 4, 14, 36, 3, 0.02)
        for i in range(count):
            s.box(x + 3, 33 - 6 * i, 8, 5, 1, 0.5, 1)
    s.shape([(12, 48), (62, 48), (54, 61), (20, 61)], 0.1)
    return s


def see_short() -> Sketch:
    """One coin of three is missing."""
    s = _sketch("short", "Short change", "Two coins lie in the return cup; the place of a third is empty.")
    for x in (18, 40):
        coin(s, x, 20, 10)
    s.disc(62, 20, 10, 0, 0).line([(62 + 10 * dx, 20 + 10 * dy) for dx, dy in OCTAGON], 1.8, "3 3")
    s.shape([(8, 40), (72, 40), (62, 60), (18, 60)], 0.1)
    return s


def see_fall() -> Sketch:
    """A pack hangs on its coil."""
    s = _sketch("fall", "A pack hangs", "A bag hangs askew from the end of a coil.")
    coil(s, 4, 20, 46, 22, 3)
    s.shape(rotate(rounded(46, 16, 22, 32, 3), 24, origin=(52, 20)), 0.15)
    s.line([(2, 35), (44, 35)], 3)
    s.line([(66, 52), (66, 61)], 1.8, "3 3")
    return s


def see_turns() -> Sketch:
    """The tray stays empty."""
    s = _sketch("turns", "Nothing falls", "A coil turns with a pack still in it; nothing lies below.")
    coil(s, 6, 22, 40, 22, 3)
    bag(s, 22, 33, 20, 0.2)
    s.line([(2, 37), (52, 37)], 3)
    s.arc(62, 20, 11, -150, 90, 2.2, arrow="end")
    s.box(16, 46, 46, 14, 3, 0.02)
    return s


def see_sold() -> Sketch:
    """A full lane that is not sold."""
    s = _sketch("sold", "Sold out, but full", "A lane full of packs, and below it a display with a bar through it.")
    for x in (16, 40, 64):
        bag(s, x, 34, 26, 0.2)
    s.line([(4, 36), (76, 36)], 3)
    s.box(24, 44, 32, 17, 2, 0.7)
    s.disc(66, 52, 8, 0.02).line([(61, 57), (71, 47)], 2.6)
    return s


def see_keypad() -> Sketch:
    """Keys, one of them dead."""
    s = _sketch("keypad", "Keypad", "A keypad of nine keys, one of them crossed out.")
    s.box(14, 3, 52, 58, 4, 0.1)
    for row in range(3):
        for column in range(3):
            s.box(20 + 14 * column, 9 + 17 * row, 11, 12, 2, 0.5, 1)
    s.disc(40, 32, 12, 0.02).wrong(40, 32)
    return s


def see_door() -> Sketch:
    """A door that stands ajar."""
    s = _sketch("door", "The door", "A cabinet whose door stands a hand's width open.")
    floor(s, 61, 4, 76)
    s.box(14, 6, 36, 50, 2, 0.5).shape([(50, 6), (66, 12), (66, 60), (50, 56)], 0.1)
    s.line([(60, 32), (60, 40)], 3)
    s.arc(50, 34, 24, -28, 28, 1.6, "3 3", arrow="end")
    return s


def see_lean() -> Sketch:
    """Not upright."""
    s = _sketch("lean", "It leans", "A cabinet leans away from the upright line.")
    floor(s, 60, 4, 76)
    s.shape(rotate(rounded(26, 10, 28, 48, 2), 11, origin=(54, 58)), 0.16)
    s.shape(rotate(rounded(29, 14, 16, 30, 1), 11, origin=(54, 58)), 0.02, THIN)
    s.line([(14, 4), (14, 60)], 1.6, "4 4")
    return s


def see_water() -> Sketch:
    """Wet floor."""
    s = _sketch("water", "Water on the floor", "Drops fall from a cabinet into a puddle.")
    s.box(16, 2, 48, 26, 2, 0.14).line([(21, 29), (21, 34)], 3).line([(59, 29), (59, 34)], 3)
    for x, y in ((34, 38), (46, 34)):
        s.shape([(x, y), (x + 3.4, y + 7), (x + 1.8, y + 10), (x - 1.8, y + 10), (x - 3.4, y + 7)], 0.4, 1.6)
    puddle(s, 40, 56, 66)
    return s


def see_ice() -> Sketch:
    """A snow star."""
    s = _sketch("ice", "Ice or frost", "A star of ice with six rays.")
    for turn in (0, 60, 120, 180, 240, 300):
        for line in RAY:
            s.line([(x, y) for x, y in rotate(line, turn, origin=(40, 32)).coords], 2.4)
    return s


def see_light() -> Sketch:
    """A lamp is on."""
    s = _sketch("light", "A light or a message", "A lamp shines beside a display with an unknown sign.")
    s.box(6, 16, 44, 32, 3, 0.1)
    s.text(28, 40, "?", bold=True, size=24)
    s.disc(64, 32, 6, 0.8)
    for dx, dy in ((0.71, -0.71), (1, 0), (0.71, 0.71), (0, -1), (0, 1)):
        s.line([(64 + 9 * dx, 32 + 9 * dy), (64 + 13 * dx, 32 + 13 * dy)])
    return s


def see_noise() -> Sketch:
    """Waves of sound."""
    s = _sketch("noise", "A noise", "Waves of sound from a loud part.")
    s.shape([(8, 24), (18, 24), (32, 10), (32, 54), (18, 40), (8, 40)], 0.25)
    for r in (10, 20, 30):
        s.arc(36, 32, r, -44, 44, 2.4)
    return s


def see_cards() -> Sketch:
    """A card is refused."""
    s = _sketch("cards", "Cards do not work", "A payment card with a cross on it.")
    s.box(6, 12, 56, 38, 4, 0.06).box(6, 20, 56, 8, 0, 0.7, 0)
    s.line([(13, 40), (30, 40)], 1.8)
    s.disc(62, 46, 13, 0.02).wrong(62, 46)
    return s


def see_paid() -> Sketch:
    """An empty hand for the buyer."""
    s = _sketch("paid", "A buyer lost money", "A buyer with an empty speech bubble, a coin crossed out.")
    s.disc(20, 18, 10, 0.1).shape([(4, 60), (6, 42), (14, 32), (26, 32), (34, 42), (36, 60)], 0.1)
    s.disc(58, 30, 15, 0.15)
    s.line([(47, 45), (70, 14)], 3)
    return s


ALL = (see_dead, see_trips, see_warm, see_cold, see_ice, see_coin, see_note, see_change, see_short, see_fall, see_turns,
       see_sold, see_keypad, see_door, see_lean, see_water, see_light, see_noise, see_cards, see_paid)  # fmt: skip

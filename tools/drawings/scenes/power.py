"""Outlet, cord, first run, power off."""

from __future__ import annotations

from shapely import box

from ..parts import cabinet_open, floor, outlet, padlock, plug, spark, tag
from ..sketch import THIN, Sketch

# Per face: where the sensor's tip is, and which words stand over the outlet at the left and at the right.
TESTED = {
    "us": ("ground", "neutral", "hot"), "uk": ("neutral", "ground", "hot"), "eu": ("ground", "neutral", "hot"),
    "au": ("ground", "hot", "neutral"),
}  # fmt: skip
HEARD = {"neutral": "other: silent", "hot": "live: beeps", "ground": "ground: silent"}


def outlet_test(face: str = "us") -> Sketch:
    """The sensor at three openings, and the plug-in tester."""
    s = Sketch("outlet-test" if face == "us" else f"outlet-test.{face}", "Testing an outlet from outside", "Left: the openings of an outlet. The sensor beeps at the live opening only and stays silent at the other one and at the ground hole, step 8. Right: a plug-in tester sits in the outlet, step 9; its lights are compared with its printed key, step 10. The outlet's own two buttons test its protection, step 11.", 300)  # fmt: skip
    spots = outlet(s, 92, 96, 104, face)
    s.box(56, 139, 24, 13, 2, 0.4, THIN).box(104, 139, 24, 13, 2, 0.1, THIN)
    at, left, right = TESTED[face]
    # On a face into which the plug goes both ways nothing says which of the two is live.
    heard = {**HEARD, "hot": "one: beeps"} if face == "eu" else HEARD
    for x, name, aside in ((48, left, -5), (142, right, 5)):
        s.text(x, 21, heard[name], bold=name == "hot")
        s.line([(x, 27), (spots[name][0] + aside, spots[name][1] - 9)], THIN)
    tip = spots[at][0], spots[at][1] + 13
    s.limb([(96, 226), tip], 11, 0.2)
    s.limb([(96, 226), (100, 262)], 17, 0.35)
    said = "the other one:" if at == "neutral" else "ground spring:" if face == "eu" else "ground hole:"
    s.text(128, 196, said, anchor="start").text(128, 212, "silent", anchor="start", bold=True)
    s.call(8, 40, 214, (92, 186)).call(11, 22, 172, (58, 148))
    s.box(228, 52, 96, 110, 8, 0.08)
    for i, tone in enumerate((0.02, 0.7, 0.7)):
        s.disc(250 + 26 * i, 82, 9, tone, 1.8)
    s.line([(276, 162), (276, 176)], 5)
    s.box(226, 190, 102, 62, 2, 0.02, 1.6)
    for i in range(3):
        for j in range(3):
            s.disc(240 + 13 * j, 204 + 17 * i, 4, 0.7 if (i + j) % 2 else 0.02, 1.1)
        s.line([(282, 204 + 17 * i), (318, 204 + 17 * i)], 1.2)
    s.call(9, 206, 34, (232, 60)).call(10, 342, 214, (318, 214))
    s.text(276, 272, "its own key")
    return s


def cord_both_ends() -> Sketch:
    """The cord from the cabinet's inlet to the outlet."""
    s = Sketch("cord-both-ends", "Both ends of the cord", "The cord's end is pushed fully into the back of the cabinet, step 2, and a clamp takes the pull off it, step 3. The cord runs along the wall, off the floor, step 5. The plug sits full depth in the outlet, step 8. A plug with a gap is crossed out.", 300)  # fmt: skip
    floor(s, 252)
    s.box(14, 40, 116, 206, 3, 0.12)
    s.text(66, 66, "back of").text(66, 82, "the cabinet")
    s.box(84, 168, 46, 40, 2, 0.25)
    s.limb([(150, 188), (174, 188), (196, 214), (258, 214), (276, 180), (276, 118)], 7, 0.5)
    plug(s, 122, 188, -1, 0.8)
    s.box(164, 176, 12, 24, 2, 0.7, 1.4)
    for x in (206, 240):
        s.arc(x, 214, 8, 180, 360, 2.4)
    s.box(252, 46, 48, 62, 3, 0.06)
    s.box(262, 74, 28, 40, 4, 0.3)
    s.text(276, 36, "outlet")
    s.good(322, 88)
    s.box(316, 146, 34, 44, 3, 0.06).box(320, 200, 24, 26, 4, 0.3)
    for x in (326, 338):
        s.line([(x, 190), (x, 200)], 3)
    s.wrong(332, 250)
    s.call(2, 156, 138, (132, 182)).call(3, 182, 158, (171, 178)).call(5, 222, 278, (222, 218)).call(8, 232, 128, (264, 108))
    return s


def plug_lock() -> Sketch:
    """The plug out, boxed, locked and tagged."""
    s = Sketch("plug-lock", "The plug is out and stays out", "The plug has been pulled out of the outlet, step 3. It lies in a box with a padlock, step 4. A tag hangs on it that says do not plug in, step 5.", 270)  # fmt: skip
    outlet(s, 66, 92, 76)
    s.line([(112, 92), (146, 92)], 1.8, arrow="end")
    s.limb([(250, 100), (300, 100), (330, 140), (344, 220)], 7, 0.5)
    s.box(160, 60, 96, 76, 5, 0.06)
    plug(s, 178, 98, -1, 1.1)
    padlock(s, 208, 134, 0.9)
    tag(s, 232, 168, 104, ["Do not", "plug in", "name, phone"])
    s.line([(236, 136), (284, 177)], 1.2)
    s.call(3, 130, 60, (130, 88)).call(4, 168, 180, (200, 146)).call(5, 204, 222, (234, 214))
    return s


def stays_live() -> Sketch:
    """What stays dangerous with the plug out."""
    s = Sketch("stays-live", "What stays dangerous", "A cabinet from the side with its plug out. Hot parts low down and sharp edges at the coils are marked, step 9. Covers with the hazard mark stay on, step 10.", 280)  # fmt: skip
    floor(s, 250)
    trays = cabinet_open(s, 60, 30, 130, 220)
    s.box(74, 208, 96, 28, 2, 0.3)
    s.hazard(122, 222, 22)
    s.box(150, 46, 34, 26, 2, 0.3)
    spark(s, 167, 59, 22)
    for height in trays[:-1]:
        for i in range(4):
            s.arc(84 + 24 * i, height - 16, 10, 0, 330, 2)
    plug(s, 44, 262, -1, 0.6)
    s.text(104, 270, "plug out", anchor="start")
    s.call(9, 244, 110, (166, trays[1] - 16)).text(262, 106, "sharp", anchor="start").text(262, 122, "edges", anchor="start")
    s.call(10, 244, 58, (184, 60)).text(262, 54, "covers", anchor="start").text(262, 70, "stay on", anchor="start")
    s.hide(box(232, 196, 256, 232))
    s.call(9, 244, 214, (172, 216)).text(262, 210, "hot parts", anchor="start").text(262, 226, "below", anchor="start")
    return s


ALL = (outlet_test, cord_both_ends, plug_lock, stays_live)

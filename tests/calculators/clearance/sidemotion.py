"""Whether a rectangle gets out of a corridor by a side door, found by brute force with shapely.

Independent of the formula under test: for many angles from along the corridor to across it, the
free places of the box are worked out as polygons (a frame less the Minkowski sum of each piece of
wall with the box), and the pieces of neighboring angles that meet are joined. The box gets out
when a place far back in the corridor is joined to a place far out in the open, at whatever angles.

Places are those of the box's top corner, counted from ``_anchor``: any smooth count would do, but
with this one the narrow places of neighboring angles lie over each other.
"""

from __future__ import annotations

import numpy as np
import shapely

from tests.calculators.clearance.motion import joined

STEP = 1.0
ZOOMS = (1.0, 0.1, 0.01, 0.001)


def gets_out(corridor: float, door: float, longer: float, shorter: float, wall: float,
             beyond: float, near: tuple[float, ...] = ()) -> bool:  # fmt: skip
    """Along x in a corridor under y = ``corridor``, out upward by a door from x = 0 to ``door``.

    ``near`` are angles about which to look closer; more angles can only tell more.
    """
    finer = [each + zoom * np.linspace(-1, 1, 21) for each in near for zoom in ZOOMS]
    angles = np.concatenate([np.arange(0.0, 90.0 + STEP, STEP), *finer])
    # A box that neither is flat nor steep has a corner on top; a thousandth of a degree is flat.
    angles = np.unique(np.clip(angles, 0.001, 89.999))
    far = 4 * (corridor + door + longer + wall)
    turn = np.radians(angles)
    corners = _corners(turn, longer, shorter)
    shift = _anchor(turn, door, longer, shorter, beyond)
    frame = shapely.box(-2 * far, -far, 2 * far, 2 * far)
    free = np.full(len(angles), frame)
    for piece in _walls(corridor, door, wall, beyond, far):
        free = shapely.difference(free, _blocked(piece, corners, shift))
    parts, owner = shapely.get_parts(free, return_index=True)
    names = joined(parts, owner, len(angles), around=False)
    # Counted from the far wall: wherever the box fits the corridor it may stand on that wall.
    starts = shapely.intersects(parts, shapely.box(-2 * far, -1e-6, -1.5 * far, 1e-6))
    goals = shapely.intersects(parts, shapely.box(-2 * far, 1.9 * far, 2 * far, 2 * far))
    return bool(
        {names[n] for n in np.flatnonzero(starts)} & {names[n] for n in np.flatnonzero(goals)}
    )


def _corners(turn, longer, shorter):
    """The box's corners seen from its top corner, turned anticlockwise from along the corridor."""
    along = np.stack([np.cos(turn), np.sin(turn)], axis=1)
    down = np.stack([np.sin(turn), -np.cos(turn)], axis=1)
    top = np.zeros_like(along)
    return np.stack([top, -longer * along, shorter * down, shorter * down - longer * along], axis=1)


def _anchor(turn, door, longer, shorter, beyond):
    """Where the top corner is when the box stands on the far wall, as far right as it may be."""
    sine = np.sin(turn)
    right = np.minimum(door - sine * np.minimum(shorter, door * sine), door + beyond - shorter * sine)
    return np.stack([right, longer * sine + shorter * np.cos(turn)], axis=1)


def _walls(corridor, door, wall, beyond, far):
    """The far wall, the wall on either side of the door, and the corridor's end."""
    top = corridor + wall
    return [
        np.array(shapely.box(*ends).exterior.coords[:4])
        for ends in ((-9 * far, -9 * far, 9 * far, 0.0), (-9 * far, corridor, 0.0, top),
                     (door, corridor, 9 * far, top), (door + beyond, -9 * far, 9 * far, top))
    ]  # fmt: skip


def _blocked(piece, corners, shift):
    """Where the top corner may not be: the piece of wall less the box, which are both convex."""
    sums = piece[None, :, None, :] - corners[:, None, :, :]
    sums -= shift[:, None, None, :]
    count = len(corners)
    return shapely.convex_hull(shapely.multipoints(
        shapely.points(sums.reshape(count, 16, 2)).ravel(), indices=np.repeat(np.arange(count), 16)))  # fmt: skip

"""Whether a rectangle can be moved round a corner, found by brute force with shapely.

Independent of the formula under test: for many angles the free places of the box in the
corner are worked out as polygons (the corridors less the Minkowski sum of the inner block
with the box), and the pieces of neighboring angles that meet are joined. The box gets
through when the far end of the first corridor is joined to the far end of the second, at
whatever angles. Places are counted from where the box touches both outer walls, so that
the pieces of neighboring angles can be laid over each other.
"""

from __future__ import annotations

import numpy as np
import shapely

COARSE = np.arange(0.0, 181.0, 3.0)
ZOOMS = 3
FINE = np.linspace(-1.0, 1.0, 13)


def gets_through(into: float, out: float, longer: float, shorter: float) -> bool:
    """Into along x in a corridor of width ``into``, out along y in one of width ``out``."""
    far = 4 * (into + out + longer + shorter)
    angles = _dense(into, out, longer, shorter, far)
    square = shapely.box(0.0, 0.0, far, far)
    free = shapely.difference(square, _blocked(angles, into, out, longer, shorter, far))
    parts, owner = shapely.get_parts(free, return_index=True)
    names = joined(parts, owner, len(angles))
    starts = shapely.intersects_xy(parts, far, 0.0)
    goals = shapely.intersects_xy(parts, 0.0, far)
    return bool(
        {names[n] for n in np.flatnonzero(starts)} & {names[n] for n in np.flatnonzero(goals)}
    )


def _blocked(angles, into, out, longer, shorter, far):
    """Where the box, turned by each angle, would meet the inner block."""
    turn = np.radians(angles)
    cosine, sine = np.cos(turn), np.sin(turn)
    half = [(i * longer / 2, j * shorter / 2) for i in (-1, 1) for j in (-1, 1)]
    corners = np.array([(x * cosine - y * sine, x * sine + y * cosine) for x, y in half])
    touching = corners.max(axis=0)  # from the box's middle to each outer wall
    block = np.array([(out, into), (3 * far, into), (3 * far, 3 * far), (out, 3 * far)])
    sums = corners.transpose(2, 0, 1)[:, :, None, :] + block[None, None, :, :]
    sums -= touching.T[:, None, None, :]
    return shapely.convex_hull(shapely.multipoints(
        shapely.points(sums.reshape(len(angles), 16, 2)).ravel(),
        indices=np.repeat(np.arange(len(angles)), 16)))  # fmt: skip


def _dense(into, out, longer, shorter, far):
    """Angles all round, closer where the box in the corner has least room."""
    angles = COARSE
    corner = shapely.Point(0.0, 0.0)
    for half in ((0.0, 90.0), (90.0, 180.0)):
        here = COARSE[(half[0] <= COARSE) & (half[1] >= COARSE)]
        step = 3.0
        for _ in range(ZOOMS):
            room = shapely.distance(_blocked(here, into, out, longer, shorter, far), corner)
            valleys = [
                n for n in range(1, len(here) - 1) if room[n] <= min(room[n - 1], room[n + 1])
            ]
            if not valleys:
                break
            middle = here[min(valleys, key=lambda n: room[n])]
            here, step = middle + step * FINE, step / 6
            angles = np.concatenate([angles, here])
    return np.unique(angles)


def joined(parts, owner, count, around=True):
    """A name for each piece, the same for pieces that can be reached from one another.

    ``owner`` is the angle each piece belongs to; where the angles go ``around``, the last meets the
    first (half a turn: the box is its own image).
    """
    pieces = [np.flatnonzero(owner == n) for n in range(count)]
    after = [*pieces[1:], pieces[0]] if around else pieces[1:]
    pairs = [(one, other) for here, there in zip(pieces, after, strict=False) for one in here for other in there]
    name = list(range(len(parts)))

    def root(n):
        while name[n] != n:
            name[n] = name[name[n]]
            n = name[n]
        return n

    if pairs:
        first, second = np.array(pairs).T
        for one, other in np.array(pairs)[shapely.intersects(parts[first], parts[second])]:
            name[root(one)] = root(other)
    return [root(n) for n in range(len(parts))]

"""Placing: the corners of a mesh in space, so many of its bends made; `static/solid/fold.js` says the same again."""

import numpy as np
from numpy.typing import NDArray

from parts.facets.hinges import Hinge
from parts.facets.mesh import Mesh

Places = NDArray[np.float64]


def in_space(mesh: Mesh, made: float) -> Places:
    """Return where the corners are (2n x 3, mm): all those on the underside, then all on the face drawn.

    Args:
        mesh: of n corners.
        made: how many bends are made, in the order of bending; of 1.5, the second is half made.
    """
    flat, moved_by = np.array(mesh.corners), np.array(mesh.moved_by)
    places = np.vstack([np.column_stack([flat, np.full(len(flat), z)]) for z in (0.0, mesh.thickness)])
    moved_by = np.concatenate([moved_by, moved_by])
    for number in range(len(mesh.hinges)):
        chosen, of = moved_by == number, mesh.hinges[number]
        places[chosen] = turned(of, places[chosen], of.angle_at(made), curls=True)
        carrier = of.carrier
        while carrier is not None:
            of = mesh.hinges[carrier]
            places[chosen] = turned(of, places[chosen], of.angle_at(made), curls=False)
            carrier = of.carrier
    return places


def turned(hinge: Hinge, places: Places, angle: float, *, curls: bool) -> Places:
    """Return places turned by a bend that is made as far as `angle`, radians.

    `curls` says that they are on the flat, where those within the bend go round with its metal; else all move as a
    whole with the side that moves.
    """
    if angle <= 0:
        return places
    ax, ay = hinge.across
    off = places[:, :2] - hinge.start
    across, along = off @ (ax, ay), off @ hinge.along
    radius, way = hinge.allowance / angle, 1.0 if hinge.up else -1.0
    within = np.clip(across, 0.0, hinge.allowance) if curls else hinge.allowance
    turn, beyond = within / radius, across - within
    arm = radius - way * (places[:, 2] - hinge.neutral)
    out = arm * np.sin(turn) + beyond * np.cos(turn)
    height = hinge.neutral + way * (radius - arm * np.cos(turn) + beyond * np.sin(turn))
    at = np.outer(out, hinge.across) + np.outer(along, hinge.along) + hinge.start
    return np.column_stack([at, height])

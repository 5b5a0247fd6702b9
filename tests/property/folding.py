"""Folds the flat of a bent part back up, by cadquery, from nothing but the profile, its bend marks and the thickness.

The flat lies from z = 0 to the thickness, the face drawn on top, so a bend up has its inside on top. Each bend takes
from the flat a zone about its line, as wide as the neutral line through it is long; that is all the K-factor is for
here. What is left of the flat falls into pieces. A zone becomes a sector, revolved about the bend's axis; a piece is
moved by the product of the folds between it and the first piece, which lies left of the first bend line.
"""

import math
from dataclasses import dataclass

import cadquery as cq

from parts.export import solid

JUST_MM = 1e-3
"""How far beside a zone a piece is looked for."""


@dataclass(frozen=True)
class Zone:
    """One bend on the flat: its line's foot and heading, what it takes, and how it is bent."""

    foot: tuple[float, float]
    heading: tuple[float, float]
    length: float
    angle: float
    radius: float
    up: bool
    taken: float

    def at(self, across, along, z=0.0):
        """The point so far to the right of the line and along it."""
        (x, y), (ux, uy) = self.foot, self.heading
        return cq.Vector(x + ux * along + uy * across, y + uy * along - ux * across, z)

    def fold(self, right):
        """The motion of what lies right of the bend, or left of it, if the other side stays."""
        side = 1 if right else -1
        start = self.at(-side * self.taken / 2, 0)
        axis = cq.Vector(start.x, start.y, self.axis_height)
        towards = side * (1 if self.up else -1)  # about the heading, the right side comes up by a turn backward
        shift = self.at(-side * self.taken, 0) - self.at(0, 0)
        turn = cq.Location(cq.Vector(0, 0, 0), cq.Vector(*self.heading, 0), -math.degrees(self.angle) * towards)
        return cq.Location(axis) * turn * cq.Location(axis * -1) * cq.Location(shift)

    axis_height: float = 0.0


@dataclass
class Folded:
    """The bent part: its solids, and where a point of the flat comes to."""

    pieces: list
    sectors: list
    motions: list
    flats: list

    @property
    def solids(self):
        return [*self.pieces, *self.sectors]

    @property
    def volume(self):
        return sum(solid.Volume() for solid in self.solids)

    @property
    def size(self):
        boxes = [solid.BoundingBox(1e-4) for solid in self.solids]
        return tuple(
            max(getattr(b, f"{axis}max") for b in boxes) - min(getattr(b, f"{axis}min") for b in boxes)
            for axis in "xyz"
        )

    def place(self, point, z=0.0):
        """Where a point of the flat comes to: the piece whose box holds it moves it."""
        for flat, motion in zip(self.flats, self.motions, strict=True):
            box = flat.BoundingBox(1e-4)
            if box.xmin <= point[0] <= box.xmax and box.ymin <= point[1] <= box.ymax:
                moved = cq.Vertex.makeVertex(*point, z).moved(motion)
                return moved.X, moved.Y, moved.Z
        raise AssertionError(f"{point} is in no piece")


def zones(profile, thickness):
    for mark in profile.marks:
        if mark.kind == "bend":
            (x0, y0), (x1, y1) = mark.line.start, mark.line.end
            length = math.hypot(x1 - x0, y1 - y0)
            yield Zone(
                (x0, y0), ((x1 - x0) / length, (y1 - y0) / length), length, mark.angle, mark.radius, mark.up,
                mark.angle * (mark.radius + mark.k * thickness),
                thickness + mark.radius if mark.up else -mark.radius,
            )  # fmt: skip


def fold(part):
    """Fold a drawn part."""
    thickness = part.record.job.cut.thickness_mm
    every = list(zones(part.profile, thickness))
    flat = cq.Shape.cast(solid.together(list(solid.flats(part.profile, part.record.job.cut.thickness_mm))))
    for zone in every:
        flat = flat.cut(block(zone, thickness))
    pieces = flat.Solids()
    if not every:  # nothing to bend
        return Folded(pieces, [], [cq.Location()], pieces)
    beside = [(find(pieces, zone, -1, thickness), find(pieces, zone, 1, thickness)) for zone in every]
    motions = {beside[0][0]: cq.Location()}
    sectors, waiting = {}, list(range(len(every)))
    while waiting:
        number = next(i for i in waiting if set(beside[i]) & set(motions))
        waiting.remove(number)
        left, right = beside[number]
        known = left if left in motions else right
        motion = motions[known]
        motions[right if known == left else left] = motion * every[number].fold(right=known == left)
        sectors[number] = sector(every[number], thickness, known == left).moved(motion)
    assert len(motions) == len(pieces), "every piece hangs by a bend"
    order = sorted(motions)
    return Folded(
        [pieces[i].moved(motions[i]) for i in order], [sectors[i] for i in range(len(every))],
        [motions[i] for i in order], [pieces[i] for i in order],
    )  # fmt: skip


def corner_prism(points, rise):
    return cq.Solid.extrudeLinear(cq.Wire.makePolygon(points, close=True), [], rise)


def block(zone, thickness):
    half = zone.taken / 2
    ends = [(-half, -JUST_MM), (half, -JUST_MM), (half, zone.length + JUST_MM), (-half, zone.length + JUST_MM)]
    return corner_prism([zone.at(*end, -1.0) for end in ends], cq.Vector(0, 0, thickness + 2.0))


def find(pieces, zone, side, thickness):
    """The piece on one side of a zone, at its middle or a little off it."""
    for share in (0.5, 0.31, 0.77, 0.12, 0.9):
        probe = zone.at(side * (zone.taken / 2 + JUST_MM), share * zone.length, thickness / 2)
        for index, piece in enumerate(pieces):
            if piece.isInside(probe, 1e-6):
                return index
    raise AssertionError("no metal beside a bend")


def sector(zone, thickness, from_left):
    """The bent metal of a zone, beginning at the edge that stays."""
    side = 1 if from_left else -1
    start = -side * zone.taken / 2
    ends = [(0.0, 0.0), (zone.length, 0.0), (zone.length, thickness), (0.0, thickness)]
    wire = cq.Wire.makePolygon([zone.at(start, along, z) for along, z in ends], close=True)
    towards = side * (1 if zone.up else -1)
    axis = zone.at(start, 0.0, zone.axis_height)
    heading = cq.Vector(*zone.heading, 0) * -towards
    return cq.Solid.revolve(wire, [], math.degrees(zone.angle), axis, axis + heading)

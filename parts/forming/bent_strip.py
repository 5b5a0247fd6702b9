"""A strip as it is bent, seen from the end of its bends: where its pieces lie, and its outline in true thickness.

The face drawn is on the left of the way that the strip runs; `heading` is which way its first piece runs. Lengths are
mm, angles radians, counter-clockwise.
"""

import math
from dataclasses import dataclass
from itertools import accumulate

from parts.forming.allowance import Strip
from parts.geometry import Arc, Line, Loop, Point, Segment, meeting_points
from parts.geometry.search import near_pairs
from parts.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class BentStrip:
    """A strip with one bend at least, and which way its first piece runs."""

    strip: Strip
    heading: float = 0.0

    @property
    def thickness(self) -> float:
        """The thickness of the sheet."""
        return self.strip.folds[0].thickness

    @property
    def headings(self) -> tuple[float, ...]:
        """Which way each straight piece runs."""
        turns = (fold.angle if fold.up else -fold.angle for fold in self.strip.folds)
        return tuple(accumulate(turns, initial=self.heading))

    @property
    def straights(self) -> tuple[tuple[Point, Point], ...]:
        """From where to where each straight piece runs on the face that isn't drawn."""
        return self._laid[0]

    @property
    def centres(self) -> tuple[Point, ...]:
        """The middle of each bend's round."""
        return self._laid[1]

    @property
    def _laid(self) -> tuple[tuple[tuple[Point, Point], ...], tuple[Point, ...]]:
        at: Point = (0.0, 0.0)
        straights, centres, headings = [], [], self.headings
        for i, straight in enumerate(self.strip.straights):
            end = moved(at, headings[i], straight)
            straights.append((at, end))
            if i < len(self.strip.folds):
                fold = self.strip.folds[i]
                off = fold.radius + fold.thickness if fold.up else -fold.radius
                centres.append(moved(end, headings[i] + math.pi / 2, off))
                at = moved(centres[-1], headings[i + 1] + math.pi / 2, -off)
        return tuple(straights), tuple(centres)

    @property
    def outline(self) -> Loop:
        """Both faces, joined at the ends, counter-clockwise."""
        bulges = [math.tan(fold.angle / 4) * (1 if fold.up else -1) for fold in self.strip.folds]
        below: list[tuple[float, float, float]] = []
        above: list[tuple[float, float, float]] = []
        laid = zip(self.straights, self.headings, [0.0, *bulges], [*bulges, 0.0], strict=True)
        for (start, end), heading, before, after in laid:
            below += [(*start, 0.0), (*end, after)]
            top = [moved(p, heading + math.pi / 2, self.thickness) for p in (start, end)]
            above += [(*top[0], -before), (*top[1], 0.0)]
        return Loop.through([*below, *reversed(above)])

    @property
    def meets_itself(self) -> int | None:
        """Which piece, counted from 0, is the first that runs into an earlier one; None where none does."""
        faces: list[list[Segment]] = []
        for i, ((start, end), heading) in enumerate(zip(self.straights, self.headings, strict=True)):
            top = [moved(p, heading + math.pi / 2, self.thickness) for p in (start, end)]
            own: list[Segment] = [
                Line(a, b) for a, b in ((start, end), (top[0], top[1])) if math.dist(a, b) > SAME_POINT_MM
            ]
            if i == 0:
                own.append(Line(start, top[0]))
            if i == len(self.strip.straights) - 1:
                own.append(Line(end, top[1]))
            faces += [own, self._round(i)] if i < len(self.strip.folds) else [own]
        every = [(place, segment) for place, of_it in enumerate(faces) for segment in of_it]
        near = near_pairs([segment.box for _, segment in every], SAME_POINT_MM)
        pairs = ((every[j], every[i]) for j, i in sorted((j, i) for i, j in near))
        apart = (((j + 1) // 2, a, b) for (j, b), (i, a) in pairs if j - i > 1)
        return next((piece for piece, a, b in apart if meeting_points(a, b)), None)

    def _round(self, i: int) -> list[Segment]:
        """Both faces of a bend."""
        (_, end), (start, _) = self.straights[i : i + 2]
        ends = [
            moved(p, a + math.pi / 2, self.thickness)
            for p, a in zip((end, start), self.headings[i : i + 2], strict=True)
        ]
        fold = self.strip.folds[i]
        bulge = math.tan(fold.angle / 4) * (1 if fold.up else -1)
        return [Arc(a, b, bulge) for a, b in ((end, start), (ends[0], ends[1])) if math.dist(a, b) > SAME_POINT_MM]


def moved(p: Point, heading: float, by: float) -> Point:
    """Return a point moved by so much along a heading."""
    return p[0] + by * math.cos(heading), p[1] + by * math.sin(heading)

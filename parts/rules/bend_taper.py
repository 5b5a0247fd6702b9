"""Bend taper: an edge that slants off beside a bend; the bend pulls it out of shape and is uneven at that end.

Looked at are the straight outside edges that slant to a bend line, neither along it nor square to it, where they cross
the bend itself or begin nearer to it than a hole may. Corners cut off by less than the thickness are none.

Rule    an edge slants off from the bend line >= half the bend allowance + inside radius + 2 thicknesses
Number  `hole_ratio` of `[brake]` in `parts/data/bending.toml`, as for `bend-clearance`; common practice
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from parts.cutting import Job
from parts.data import threshold
from parts.finding import Finding
from parts.forming import ALLOWANCE_NUMBERS, bend_lines, folded, name
from parts.geometry import Line, Point, cross
from parts.geometry.search import Vicinity
from parts.profile import Profile
from parts.tolerance import LIMIT_SLACK_MM, SAME_NECK_MM, TIDY_DECIMALS

RULE = "bend-taper"
NUMBERS = (*ALLOWANCE_NUMBERS, "brake.hole_ratio", "rules.bend-taper")
_SLANTS = math.sin(math.radians(threshold("bend-taper", "least_slant_deg")))


class Slant(NamedTuple):
    """Where a slanting edge comes nearest to a bend line, and how near."""

    at: Point
    off: float


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for each bend with edges that slant off too near it; one at the limit passes."""
    bends, thickness = bend_lines(profile), job.cut.thickness_mm
    if not bends:
        return
    edges = Vicinity(profile.boundary[: len(profile.outside)])
    for number, bend in enumerate(bends):
        fold = folded(bend, thickness, job.brake)
        limit = fold.allowance / 2 + job.brake.clearance(thickness, fold.radius, is_round=True)
        found = [s for s in _slants(edges, bend.line, limit, thickness) if s.off < limit - LIMIT_SLACK_MM]
        if not found:
            continue
        worst = min(found, key=lambda s: (round(s.off, TIDY_DECIMALS), s.at))
        what = name(bends, number)
        yield Finding(
            RULE, "note", worst.at, worst.off, limit,
            f"An edge slants off {job.say(worst.off)} from {what}: it bends out of shape there, in "
            f"{job.say(thickness)} plate up to {job.say(limit)} from the line.",
            "Run the edge square to the bend that far before it slants, or trim it after bending.",
            also=tuple(dict.fromkeys(s.at for s in found if s is not worst)),
        )  # fmt: skip


def _slants(edges: Vicinity, line: Line, reach: float, least: float) -> Iterator[Slant]:
    """Yield the slanting edges beside a line between its ends."""
    (x, y), (ux, uy) = line.start, line.heading
    for _, edge in edges.near(line.box, reach):
        if not isinstance(edge, Line) or edge.length < least:
            continue
        (vx, vy) = edge.heading
        if min(abs(cross(ux, uy, vx, vy)), abs(ux * vx + uy * vy)) < _SLANTS:
            continue
        clipped = _between(edge, line)
        if clipped is None:
            continue
        offs = [cross(ux, uy, p[0] - x, p[1] - y) for p in clipped]
        if offs[0] * offs[1] < 0:
            share = offs[0] / (offs[0] - offs[1])
            (ax, ay), (bx, by) = clipped
            yield Slant((ax + share * (bx - ax), ay + share * (by - ay)), 0.0)
        else:
            off, at = min((abs(off), p) for off, p in zip(offs, clipped, strict=True))
            yield Slant(at, off)


def _between(edge: Line, line: Line) -> tuple[Point, Point] | None:
    """The piece of an edge between the ends of a line, square to it; None where it is no more than a point."""
    (x, y), (ux, uy) = line.start, line.heading
    a, b = (ux * (p[0] - x) + uy * (p[1] - y) for p in (edge.start, edge.end))
    fractions = sorted(min(max((end - a) / (b - a), 0.0), 1.0) for end in (0.0, line.length))
    if (fractions[1] - fractions[0]) * edge.length <= SAME_NECK_MM:
        return None
    return edge.at(fractions[0]), edge.at(fractions[1])

r"""Square-to-round: a transition from a rectangle to a circle above it, laid flat by triangles, in one sheet or two.

      _.-'|'-._           foot_width by foot_depth, round at the top, high apart
     /| / | \ |\          offsets: how far the circle stands off the middle
    /_|/__|__\|_\         lines: bend lines from each corner to its quarter of the circle
    corner   corner

Every corner of the foot has a fan of triangles to points on a quarter of the circle, and between the fans stand four
triangles, each on a side of the foot. They are laid flat one beside the other by their true lengths, from a seam up the
middle of one side. Each line is bent by the angle between the triangles that meet in it. The edge at the top runs
straight from point to point, as pressed.

Sizes are of the middle of the sheet; outside and inside ones are a thickness off, as for sides that stand upright.
"""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple, TypeAlias

from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Line, Loop, Point, translation
from parts.profile import Bend, Dimension, Profile
from parts.spec import STOCK, Parameters, Preset, Template, choice, count, length, thickness

Place: TypeAlias = tuple[float, float, float]
_SIDES = {"outside": -1, "middle": 0, "inside": 1}
_LEAST_BEND = math.radians(0.1)


class Rung(NamedTuple):
    """A line across the transition, from a place at the foot to one at the top."""

    foot: Place
    top: Place


class Sheet(NamedTuple):
    """One sheet laid flat: where each rung lies, and what it is bent by; the first and the last are edges."""

    rungs: tuple[tuple[Point, Point], ...]
    bends: tuple[float, ...]


class DevelopedTransition(Parameters):
    """In space the middle of the foot is at the origin; the seam is in the middle of the side at the front."""

    thickness: float = thickness("Thickness", default=1.5, minimum=0.3, maximum=150, group=STOCK)
    foot_width: float = length("Foot, left to right", default=300, minimum=10, maximum=5000, drawn=False)
    foot_depth: float = length("Foot, front to back", default=300, minimum=10, maximum=5000, drawn=False)
    top_round: float = length("Diameter at the top", default=200, minimum=10, maximum=5000, drawn=False)
    top_high: float = length("Height, foot to top", default=250, minimum=5, maximum=5000, drawn=False)
    off_right: float = length("Top off the middle, to the right", default=0, minimum=0, maximum=5000, drawn=False)
    off_back: float = length("Top off the middle, to the back", default=0, minimum=0, maximum=5000, drawn=False)
    measured: str = choice("Sizes are", default="inside", choices=tuple(_SIDES))
    pieces: int = count("Sheets", default=2, minimum=1, maximum=2, group="Sheet", help="Two: seams front and back.")
    lines: int = count(
        "Triangles at each corner", default=4, minimum=2, maximum=24, group="Sheet", help="More: rounder.", moves="free"
    )
    between: float = length(
        "Between the sheets", default=20, minimum=5, maximum=500, group="Sheet", when=("pieces", "2"), moves="free"
    )

    def middle(self, size: float) -> float:
        """Return a size of foot or top as of the middle of the sheet, mm."""
        return size + _SIDES[self.measured] * self.thickness

    def at_top(self, turn: float) -> Place:
        """Return the place on the circle, `turn` to the left of its right end."""
        r = self.middle(self.top_round) / 2
        return self.off_right + r * math.cos(turn), self.off_back + r * math.sin(turn), self.top_high

    @property
    def corners(self) -> tuple[Place, ...]:
        """The corners of the foot, to the left from the one at the front on the right."""
        x, y = self.middle(self.foot_width) / 2, self.middle(self.foot_depth) / 2
        return ((x, -y, 0.0), (x, y, 0.0), (-x, y, 0.0), (-x, -y, 0.0))

    @property
    def rungs(self) -> tuple[tuple[Rung, ...], ...]:
        """The rungs of each sheet in their order, round to the left from the front; seen from outside, to the right."""
        y, step = self.middle(self.foot_depth) / 2, math.pi / 2 / self.lines
        fans = [
            [Rung(corner, self.at_top(math.pi / 2 * (i - 1) + j * step)) for j in range(self.lines + 1)]
            for i, corner in enumerate(self.corners)
        ]
        front, back = (Rung((0.0, at, 0.0), self.at_top(turn)) for at, turn in ((-y, -math.pi / 2), (y, math.pi / 2)))
        if self.pieces == 1:
            return ((front, *fans[0], *fans[1], *fans[2], *fans[3], front),)
        return (front, *fans[0], *fans[1], back), (back, *fans[2], *fans[3], front)

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheets laid flat, side by side from the left."""
        placed: list[Sheet] = []
        right = 0.0
        for rungs in self.rungs:
            flat = laid_flat(rungs)
            x0 = min(x for rung in flat for x, _ in rung)
            y0 = min(y for rung in flat for _, y in rung)
            moved = translation(right - x0, -y0)
            flat = tuple((moved.point(foot), moved.point(top)) for foot, top in flat)
            placed.append(Sheet(flat, bends_of(rungs)))
            right = max(x for rung in flat for x, _ in rung) + self.between
        return tuple(placed)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where a size has no room for the sheet."""
        if self.measured == "outside":
            for name in ("foot_width", "foot_depth", "top_round"):
                yield from self.over(name, 2 * self.thickness, "for sheet of this thickness")


def laid_flat(rungs: tuple[Rung, ...]) -> tuple[tuple[Point, Point], ...]:
    """Return where each rung lies in the flat, each triangle to the right of the one before by its true lengths.

    The foot of the last is level with that of the first.
    """
    first = rungs[0]
    placed: list[tuple[Point, Point]] = [((0.0, 0.0), (0.0, math.dist(*first)))]
    for before, rung in pairwise(rungs):
        foot, top = placed[-1]
        if rung.foot == before.foot:
            top = _beside(foot, top, math.dist(before.foot, rung.top), math.dist(before.top, rung.top))
        else:
            foot = _beside(foot, top, math.dist(before.foot, rung.foot), math.dist(before.top, rung.foot))
        placed.append((foot, top))
    (x0, y0), (x1, y1) = placed[0][0], placed[-1][0]
    long = math.hypot(x1 - x0, y1 - y0)
    c, s = (x1 - x0) / long, (y1 - y0) / long
    return tuple(((c * a + s * b, c * b - s * a), (c * x + s * y, c * y - s * x)) for (a, b), (x, y) in placed)


def _beside(foot: Point, top: Point, from_foot: float, from_top: float) -> Point:
    """The point to the right of a rung, so far from its foot and from its top."""
    long = math.dist(foot, top)
    ux, uy = (top[0] - foot[0]) / long, (top[1] - foot[1]) / long
    along = (long**2 + from_foot**2 - from_top**2) / (2 * long)
    across = math.sqrt(max(from_foot**2 - along**2, 0.0))
    return foot[0] + along * ux + across * uy, foot[1] + along * uy - across * ux


def bends_of(rungs: tuple[Rung, ...]) -> tuple[float, ...]:
    """Return what each rung between two triangles is bent by, radians, positive away from who sees it from outside."""
    normals = [_normal(before, rung) for before, rung in pairwise(rungs)]
    return tuple(_turn(one, other, rung) for (one, other), rung in zip(pairwise(normals), rungs[1:-1], strict=True))


def _normal(before: Rung, rung: Rung) -> Place:
    """The unit vector out of the triangle between two rungs."""
    third = rung.top if rung.foot == before.foot else rung.foot
    normal = _cross(_from(before.foot, third), _from(before.foot, before.top))
    long = math.hypot(*normal)
    return normal[0] / long, normal[1] / long, normal[2] / long


def _turn(one: Place, other: Place, rung: Rung) -> float:
    axis, way = _cross(one, other), _from(rung.foot, rung.top)
    side = math.copysign(math.hypot(*axis), sum(a * b for a, b in zip(axis, way, strict=True)))
    return math.atan2(side, sum(a * b for a, b in zip(one, other, strict=True)))


def _from(a: Place, b: Place) -> Place:
    return b[0] - a[0], b[1] - a[1], b[2] - a[2]


def _cross(a: Place, b: Place) -> Place:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def outline(p: DevelopedTransition) -> Profile:
    """Draw the sheets with their bend lines, the outside of the transition towards you."""
    names = ("right half", "left half") if p.pieces == 2 else ()
    bends = tuple(
        Bend(Line(*rung), abs(turn), up=turn < 0)
        for sheet in p.sheets
        for rung, turn in zip(sheet.rungs[1:-1], sheet.bends, strict=True)
        if abs(turn) > _LEAST_BEND
    )
    return Profile(tuple(edge(sheet) for sheet in p.sheets), (), bends, tuple(dimensions(p)), names)


def edge(sheet: Sheet) -> Loop:
    """Return the edge of a sheet, counter-clockwise: along the foot, and back along the top."""
    foot, top = [rung[0] for rung in sheet.rungs], [rung[1] for rung in reversed(sheet.rungs)]
    return Loop.through((*at, 0.0) for at in (*foot, *top))


def dimensions(p: DevelopedTransition) -> Iterator[Dimension]:
    """Yield how far the sheets are apart: sizes of foot and top are those in space."""
    if p.pieces == 2:
        left, right = p.sheets
        near = max((at for rung in left.rungs for at in rung), key=lambda at: at[0])
        far = min((at for rung in right.rungs for at in rung), key=lambda at: at[0])
        yield Dimension("between", near, far, "below")


TEMPLATE = Template(
    "developed-transition",
    "Square-to-round",
    DevelopedTransition,
    outline,
    summary="A transition from a square or rectangle to a circle, laid flat by triangles, a bend line at each edge.",
    cautions=(
        "A press brake crushes: keep hands clear of the tools, and leave its guards in place.",
        "Flues, hoods and ducts for smoke, dust or gas fall under the local code: see a qualified person.",
    ),
    sizes=("foot_width", "foot_depth", "top_round"),
    words=(
        "square to round",
        "transition",
        "duct",
        "hood",
        "hopper",
        "plenum",
        "adapter",
        "reducer",
        "development",
        "triangulation",
        "flat pattern",
        "chimney",
        "flue",
        "rectangle to round",
    ),
    presets=(
        Preset(
            "Hood to duct, 400 square to 160",
            "foot_width=400 foot_depth=400 top_round=160 top_high=200 thickness=1 process=laser",
            inches="foot_width=16 foot_depth=16 top_round=6 top_high=8",
            inch_name="Hood to duct, 16 square to 6 in",
        ),
        Preset(
            "Dust hopper, 500 by 300 to 150 off the middle",
            "foot_width=500 top_round=150 off_right=100 thickness=2 lines=5",
            inches="foot_width=20 foot_depth=12 top_round=6 off_right=4",
            inch_name="Dust hopper, 20 by 12 to 6 in off the middle",
        ),
        Preset(
            "Post cap to a tube of 60, one sheet",
            "foot_width=120 foot_depth=120 top_round=60 top_high=90 pieces=1 lines=3 measured=outside",
            inches="foot_width=5 foot_depth=5 top_round=2-1/2 top_high=4",
            inch_name="Post cap to a tube of 2-1/2 in, one sheet",
        ),
    ),
)

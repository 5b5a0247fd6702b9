r"""Shelf bracket: the shelf rests on its top, its back stands against the wall; the inner edge is a hollow curve.

           depth
     _________________
    | o     o      o  |  tip: the blunt ends
    |   _______   _.--'
    |  |     .' .'        hollow: how far the curve bends in from the straight between the tips
    | o|   .' .'          opening: a window that leaves a band of one width all round,
    |  |  /  /                     or a circle as large as that lets
    |  |_/  /
    | o    /              corner_radius rounds the four corners of the tips
    |_____|

Bolt holes stand in a row up the wall side and one along the shelf, back_mark from their edge.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, Vertex, circle, distance
from parts.profile import Dimension, Opening, Profile
from parts.spec import BY_DIAMETER, Preset, Template, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.tolerance import SAME_POINT_MM

_WEB = "Opening"


class BracketShelf(BoltHoles):
    """The root, where shelf and wall meet, is at the origin: the shelf along x, the wall down the y axis."""

    depth: float = length("Depth, along the shelf", default=200, minimum=40, maximum=1500)
    drop: float = length("Drop, down the wall", default=240, minimum=40, maximum=1500)
    tip: float = length("Blunt ends", default=30, minimum=4, maximum=300, moves="free")
    hollow: float = length(
        "Hollow of the inner edge",
        default=45,
        minimum=1,
        maximum=500,
        help="In from the straight between the tips.",
        moves="free",
    )
    corner_radius: float = length("Corner radius at the tips", default=4, minimum=0, maximum=100, moves="free")
    opening: str = choice("Opening", default="window", choices=("window", "circle", "none"), group=_WEB)
    band: float = length(
        "Band around the opening",
        default=28,
        inches="1-1/4",
        minimum=4,
        maximum=400,
        group=_WEB,
        when=("opening", "window", "circle"),
        moves="free",
    )
    opening_radius: float = length(
        "Corner radius of the window",
        default=6,
        minimum=0,
        maximum=200,
        group=_WEB,
        when=("opening", "window"),
        moves="free",
    )
    bolt: str = bolt(
        "Screw or bolt", default="M8", inches="3/8", diameter="hole", when=[("holes_wall",), ("holes_shelf",)]
    )
    holes_wall: int = count("Holes up the wall", default=2, minimum=0, maximum=12)
    holes_shelf: int = count("Holes along the shelf", default=2, minimum=0, maximum=12)
    first_hole: float = length(
        "First hole from the root",
        default=45,
        minimum=2,
        maximum=1400,
        group="Holes",
        when=[("holes_wall",), ("holes_shelf",)],
        moves="care",
    )
    last_hole: float = length(
        "Last hole from the end",
        default=20,
        minimum=2,
        maximum=1400,
        group="Holes",
        when=[("holes_wall", "2"), ("holes_shelf", "2")],
        moves="care",
    )
    back_mark: float = length(
        "Holes from the wall or shelf",
        default=14,
        inches="5/8",
        minimum=2,
        maximum=300,
        group="Holes",
        when=[("holes_wall",), ("holes_shelf",)],
        moves="care",
    )

    @property
    def ends(self) -> tuple[Point, Point]:
        """The ends of the curve: under the tip of the shelf, and beside the one at the foot."""
        return (self.depth, -self.tip), (self.tip, -self.drop)

    @property
    def curve_radius(self) -> float:
        """Radius of the inner edge: an arc that is `hollow` high over its chord."""
        half = distance(*self.ends) / 2
        return (half**2 + self.hollow**2) / (2 * self.hollow)

    @property
    def curve_centre(self) -> Point:
        """Centre of the inner edge, outside the bracket."""
        (ax, ay), (bx, by) = self.ends
        along, away = distance(*self.ends), self.curve_radius - self.hollow
        return (ax + bx) / 2 + away * (ay - by) / along, (ay + by) / 2 - away * (ax - bx) / along

    def above_curve(self, x: float, away: float) -> Point:
        """Return the point of an upright at x that is `away` above the inner edge."""
        (cx, cy), r = self.curve_centre, self.curve_radius + away
        return x, cy + math.sqrt(max(r**2 - (x - cx) ** 2, 0.0))

    def beside_curve(self, y: float, away: float) -> Point:
        """Return the point of a level at y that is `away` from the inner edge, toward the wall."""
        (cx, cy), r = self.curve_centre, self.curve_radius + away
        return cx - math.sqrt(max(r**2 - (y - cy) ** 2, 0.0)), y

    def on_curve(self, centre: Point, radius: float) -> Point:
        """Return where a circle that touches a curve concentric with the inner edge touches it."""
        (cx, cy), away = self.curve_centre, distance(centre, self.curve_centre)
        part = (away - radius) / away
        return cx + part * (centre[0] - cx), cy + part * (centre[1] - cy)

    @property
    def edge(self) -> Loop:
        """The outline counter-clockwise from the root."""
        r, depth, drop = self.corner_radius, self.depth, self.drop
        foot, front = self.beside_curve(-drop + r, r), self.above_curve(depth - r, r)
        at_foot, at_front = self.on_curve(foot, r), self.on_curve(front, r)
        return Loop.through(
            [
                (0, 0, 0),
                (0, -drop + r, _QUARTER),
                (r, -drop, 0),
                (foot[0], -drop, _bulge(foot, (foot[0], -drop), at_foot)),
                (*at_foot, -_bulge(self.curve_centre, at_front, at_foot)),
                (*at_front, _bulge(front, at_front, (depth, front[1]))),
                (depth, front[1], 0),
                (depth, -r, _QUARTER),
                (depth - r, 0, 0),
            ]
        )

    @property
    def lowest(self) -> Point:
        """Centre of the window's lower corner arc."""
        away = self.band + self.opening_radius
        return self.above_curve(away, away)

    @property
    def window(self) -> Loop:
        """The window, `band` inside the outline: along wall and shelf and concentric with the inner edge."""
        b, r = self.band, self.opening_radius
        low, far = self.lowest, self.beside_curve(-b - r, b + r)
        vertices: list[Vertex] = [
            (b + r, -b, _QUARTER),
            (b, -b - r, 0),
            (b, low[1], _bulge(low, (b, low[1]), self.on_curve(low, r))),
            (*self.on_curve(low, r), -_bulge(self.curve_centre, self.on_curve(far, r), self.on_curve(low, r))),
            (*self.on_curve(far, r), _bulge(far, self.on_curve(far, r), (far[0], -b))),
            (far[0], -b, 0),
        ]
        return Loop.through(vertices)

    @property
    def roomiest(self) -> float:
        """How far from wall and shelf the centre of the largest circle between them and the inner edge is.

        With c from both, the centre (c, -c) is R + c from that of the curve: a square equation in c.
        """
        (cx, cy), r = self.curve_centre, self.curve_radius
        half = cx - cy + r  # c² - 2 (cx - cy + R) c + cx² + cy² - R² = 0
        rest = cx**2 + cy**2 - r**2
        return rest / (half + math.sqrt(max(half**2 - rest, 0.0)))

    @property
    def rows(self) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
        """Centres of the holes up the wall, and of those along the shelf, from the root."""
        m = self.back_mark
        down = self._along(self.holes_wall, self.drop)
        along = self._along(self.holes_shelf, self.depth)
        return tuple((m, -y) for y in down), tuple((x, -m) for x in along)

    def _along(self, holes: int, side: float) -> list[float]:
        """How far from the root the holes of one side are; a single one is the first."""
        step = (side - self.first_hole - self.last_hole) / (holes - 1) if holes > 1 else 0.0
        return [self.first_hole + i * step for i in range(holes)]

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where curve, tips, opening or holes leave no metal between them."""
        clash = [*self.under("tip", min(self.depth, self.drop) / 2, "on the shorter side")]
        if not clash:
            clash = [*self._curve_problems()]
        yield from clash
        if clash:
            return
        if self.opening != "none":
            yield from self._opening_problems()
        if self.holes_wall or self.holes_shelf:
            yield from self._hole_problems()

    def _curve_problems(self) -> Iterator[Problem]:
        """Yield a problem where the curve turns back at a tip, reaches the root or leaves a tip no flat."""
        (ax, ay), (bx, by) = self.ends
        chord, flatter = distance(*self.ends), min(ax - bx, ay - by)
        # the curve leaves a tip at half its sweep from the chord, whose angle is that of the flatter side
        yield from self.under("hollow", chord / 2 * math.tan(math.asin(flatter / chord) / 2), "to keep the tips blunt")
        yield from self.at_most("corner_radius", self.tip / 2, "at the tips")

    def _opening_problems(self) -> Iterator[Problem]:
        """Yield a problem where the band, or a corner radius, leaves no opening, or a window runs out at a tip."""
        clash = [*self.under("band", self.roomiest, "to leave an opening")]
        if self.opening == "window" and not clash:
            clash = [*self.under("opening_radius", self.roomiest - self.band, "in this window")]
        yield from clash
        if self.opening == "window" and not clash and self._window_runs_out:
            yield self.problem("band", "must be wider, or the blunt ends narrower: the window runs out at a tip.")

    @property
    def _window_runs_out(self) -> bool:
        """Whether less than half of the band is left at a tip."""
        r, half = self.opening_radius, self.band / 2
        far = self.beside_curve(-self.band - r, self.band + r)
        return self.lowest[1] - r < half - self.drop or far[0] + r > self.depth - half

    def _hole_problems(self) -> Iterator[Problem]:
        d, half = self.hole_size, self.hole_size / 2
        clash = [*self._size_problems(d)]
        if not clash:
            clash = [*self.over("back_mark", half, "to stay inside the edge")]
            clash += self.under("back_mark", self.tip - half, "to stay inside the tip")
        if self.opening == "window" and not clash:
            clash = [*self.under("back_mark", self.band - half, "to stay out of the window")]
        clash += self.over("last_hole", half, "to stay inside the end")
        clash += self.over("first_hole", self.back_mark + d * math.sqrt(0.5), "so that the rows clear each other")
        yield from clash
        if not clash:
            yield from self._along_problems("holes_wall", self.drop)
            yield from self._along_problems("holes_shelf", self.depth)

    def _size_problems(self, d: float) -> Iterator[Problem]:
        if self.bolt == BY_DIAMETER:
            yield from self.under("hole", self.tip, "in this tip")
        elif d >= self.tip:
            yield self.problem("bolt", f"wants a hole of {self.say(d, self.tip)}; the tip is {self.say(self.tip, d)}.")

    def _along_problems(self, name: str, side: float) -> Iterator[Problem]:
        """Yield a problem where the holes of one side don't fit between the first and the last."""
        holes, d, room = getattr(self, name), self.hole_size, side - self.first_hole - self.last_hole
        if holes == 1:
            yield from self.under("first_hole", side - d / 2, "to stay inside the end")
        elif holes > 1 and room <= d:
            yield from self.under("first_hole", side - self.last_hole - d, "to clear the last hole")
        elif holes > 1 and room / (holes - 1) <= d + SAME_POINT_MM:
            yield self.problem(name, f"must be at most {math.ceil(room / d)} on this side.")


_QUARTER = math.tan(math.pi / 8)
"""The bulge of a quarter turn."""


def _bulge(centre: Point, start: Point, end: Point) -> float:
    """Return the bulge of the arc about `centre` from start to end, counter-clockwise and of less than half a turn."""
    ax, ay, bx, by = start[0] - centre[0], start[1] - centre[1], end[0] - centre[0], end[1] - centre[1]
    return math.tan(math.atan2(ax * by - ay * bx, ax * bx + ay * by) / 4)


def outline(p: BracketShelf) -> Profile:
    """Draw the bracket, its opening and its holes."""
    inside: tuple[Opening, ...] = ()
    if p.opening == "window":
        inside = (Opening(p.window, "window", "band"),)
    elif p.opening == "circle":
        inside = (Opening(circle((p.roomiest, -p.roomiest), 2 * (p.roomiest - p.band)), "opening", "band"),)
    wall, shelf = p.rows
    inside += p.holes_at(wall, "hole in the wall side", "holes_wall")
    inside += p.holes_at(shelf, "hole in the shelf side", "holes_shelf")
    return Profile((p.edge,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BracketShelf) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (ax, ay), (bx, by) = p.ends
    yield Dimension("depth", (0, 0), (p.depth, 0), "above")
    yield Dimension("drop", (0, -p.drop), (0, 0), "left")
    yield Dimension("tip", (p.depth, -p.tip), (p.depth, 0), "right")
    middle = (ax + bx) / 2, (ay + by) / 2
    (cx, cy), part = p.curve_centre, p.curve_radius / (p.curve_radius - p.hollow)
    yield Dimension("hollow", middle, (cx + part * (middle[0] - cx), cy + part * (middle[1] - cy)), "along")
    if p.corner_radius:
        yield _measured_radius("corner_radius", (p.depth - p.corner_radius, -p.corner_radius), p.corner_radius, 1)
    if p.opening == "window":
        yield Dimension("band", (0, p.lowest[1]), (p.band, p.lowest[1]), "below")
        if p.opening_radius:
            at = p.band + p.opening_radius
            yield _measured_radius("opening_radius", (at, -at), p.opening_radius, -1)
    elif p.opening == "circle":
        yield Dimension("band", (0, -p.roomiest), (p.band, -p.roomiest), "below")
    yield from hole_dimensions(p)


def hole_dimensions(p: BracketShelf) -> Iterator[Dimension]:
    """Yield those of the holes: on the wall side where it has what is measured, else on the shelf's."""
    wall, shelf = p.rows
    if wall:
        yield Dimension("back_mark", (0, wall[-1][1]), wall[-1], "below")
        yield Dimension("first_hole", (0, 0), wall[0], "left")
    elif shelf:
        yield Dimension("back_mark", shelf[0], (shelf[0][0], 0), "right")
        yield Dimension("first_hole", (0, 0), shelf[0], "above")
    if len(wall) > 1:
        yield Dimension("last_hole", (0, -p.drop), wall[-1], "left")
    elif len(shelf) > 1:
        yield Dimension("last_hole", shelf[-1], (p.depth, 0), "above")
    for centre in (*wall, *shelf)[:1]:
        yield from p.hole_measured(centre)


def _measured_radius(name: str, centre: Point, radius: float, side: int) -> Dimension:
    """Return where a radius can be measured, toward the upper right or the upper left."""
    out = radius * math.sqrt(0.5)
    return Dimension(name, centre, (centre[0] + side * out, centre[1] + out), "radius")


TEMPLATE = Template(
    "bracket-shelf",
    "Shelf bracket",
    BracketShelf,
    outline,
    summary="Carries a shelf: blunt tips, a hollow inner edge, a window or a circle in the web, holes both ways.",
    cautions=(
        "What a shelf carries, its wall and fixings decide: have those over heads or beds, and heavy ones, settled by "
        "a qualified person.",
    ),
    words=("corbel", "console", "support", "wall", "web", "knee", "mantel"),
    presets=(
        Preset(
            "Workshop, tool shelf",
            "depth=260 drop=320 tip=35 hollow=60 band=32 holes_wall=3 bolt=M10 back_mark=16",
            inches="hollow=2-1/4",
        ),
        Preset(
            "Garden bench, arm rest",
            "depth=140 drop=160 tip=24 hollow=25 opening=circle band=22 bolt=M6 first_hole=35 last_hole=14 "
            "back_mark=12 thickness=4",
        ),
        Preset(
            "Trail sign, map board on its post",
            "depth=8in drop=8in opening=none hollow=1-3/4in thickness=3/16in tip=1-1/4in first_hole=1-3/4in "
            "last_hole=3/4in back_mark=9/16in corner_radius=3/16in bolt=5/16",
        ),
    ),
)

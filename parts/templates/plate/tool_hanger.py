r"""Tool hanger: a wall plate or a tongue of an angle with a row of openings to measure, for spanners, bars or handles.

     _____________________________
    |  o                       o  |    openings: slots open at the front, or round holes
    |   (1)  (2)   (3)    (4)     |    smallest, largest: of the openings, evenly from the left to the right
    |__|  |__|  |__|   |__|    |__|    play: what each is wider than its tool
      smallest  ...      largest       web: metal between two of them, and beside the outer ones

Openings step evenly from the smallest to the largest; alike at both ends, all are alike.
"""

from collections.abc import Iterator

from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, circle, fillet, polygon, rectangle
from parts.profile import Dimension, Opening, Profile
from parts.spec import STOCK, Preset, Template, bolt, choice, count, length, thickness
from parts.templates.shared.bolt_holes import BoltHoles

_TOOLS = "Tools"


class PlateToolHanger(BoltHoles):
    """The lower left corner is at the origin, the front along the x axis."""

    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)
    openings: str = choice(
        "Openings", default="slots", choices=("slots", "round"), group=_TOOLS, help="slots: open at the front."
    )
    tools: int = count("Tools", default=6, minimum=1, maximum=40, group=_TOOLS)
    smallest: float = length("Smallest tool, across", default=8, minimum=2, maximum=200, group=_TOOLS)
    largest: float = length(
        "Largest tool, across", default=18, minimum=2, maximum=200, group=_TOOLS, when=("tools", "2"),
        help="Those between step evenly: 8, 10, 12 up to 18.",
    )  # fmt: skip
    play: float = length("Play in each opening", default=1, minimum=0, maximum=20, group=_TOOLS)
    web: float = length("Metal between two openings", default=22, minimum=3, maximum=300, group=_TOOLS)
    reach: float = length(
        "Openings from the front", default=25, minimum=3, maximum=400, group=_TOOLS,
        help="How far slots go in, or the centres of round ones stand.",
    )  # fmt: skip
    height: float = length("Height over all", default=90, minimum=15, maximum=1000)
    corner_radius: float = length("Corner radius at the top", default=8, minimum=0, maximum=200, moves="free")
    tip_radius: float = length(
        "Corner radius at the front", default=3, minimum=0, maximum=60, moves="free",
        help="Of the tongues between slots too.",
    )  # fmt: skip
    inset: float = length("Wall holes in from top and sides", default=16, minimum=4, maximum=300, group="Holes")
    bolt: str = bolt("Wall screw or bolt", default="M6", inches="1/4", diameter="hole")

    @property
    def sizes(self) -> tuple[float, ...]:
        """How wide each opening is, from the left."""
        steps = max(self.tools - 1, 1)
        return tuple(self.smallest + i * (self.largest - self.smallest) / steps + self.play for i in range(self.tools))

    @cached_property
    def middles(self) -> tuple[float, ...]:
        """How far from the left each opening's middle is."""
        found, x = [], self.web
        for size in self.sizes:
            found.append(x + size / 2)
            x += size + self.web
        return tuple(found)

    @property
    def width(self) -> float:
        """Length of the plate, mm: the openings and the metal beside each."""
        return self.middles[-1] + self.sizes[-1] / 2 + self.web

    @property
    def depth(self) -> float:
        """How far the deepest opening reaches in from the front, mm."""
        return self.reach + (max(self.sizes) / 2 if self.openings == "round" else 0.0)

    @property
    def wall_holes(self) -> tuple[Point, ...]:
        """The holes for the wall."""
        y = self.height - self.inset
        return ((self.inset, y), (self.width - self.inset, y))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where openings reach the wall holes or the front, or a radius takes an edge."""
        hole = self.hole_size / 2
        yield from self.over("inset", hole, "for the holes to stay inside the edges")
        yield from self.under("inset", self.width / 2 - hole, "to keep metal between the holes")
        yield from self.over("height", self.inset + hole + self.depth, "for the holes above the openings")
        yield from self.rounding_problems((self.inset, self.inset))
        if self.openings == "round":
            yield from self.over("reach", max(self.sizes) / 2, "for the openings to clear the front")
            low = self.height
        else:
            yield from self.over("reach", max(self.sizes) / 2, "for round ends to the slots")
            yield from self.at_most("tip_radius", min(self.web / 2, self.reach - max(self.sizes) / 2), "on the tongues")
            low = self.height - self.tip_radius
        yield from self.at_most("corner_radius", min(self.width / 2, low), "at the top")


def outline(p: PlateToolHanger) -> Profile:
    """Draw the plate, its openings from the left and the wall holes."""
    holes = p.holes_at(p.wall_holes, "wall hole", "inset")
    if p.openings == "round":
        inside = tuple(
            Opening(circle((x, p.reach), size), "tool hole", "smallest")
            for x, size in zip(p.middles, p.sizes, strict=True)
        )
        edge = _plain(p)
    else:
        inside, edge = (), _slotted(p)
    return Profile((edge,), (*inside, *holes), dimensions=tuple(dimensions(p)))


def _plain(p: PlateToolHanger) -> Loop:
    low, high = p.tip_radius, p.corner_radius
    at = [fillet(0, 0, low), fillet(p.width, 0, low), fillet(p.width, p.height, high), fillet(0, p.height, high)]
    return polygon(at) if low != high else rectangle((0, 0), p.width, p.height, low)


def _slotted(p: PlateToolHanger) -> Loop:
    r = p.tip_radius
    corners: list[Corner | Point] = [fillet(0, 0, r)]
    for x, size in zip(p.middles, p.sizes, strict=True):
        left, right, top, end = x - size / 2, x + size / 2, p.reach, size / 2
        corners += [fillet(left, 0, r), fillet(left, top, end), fillet(right, top, end), fillet(right, 0, r)]
    corners += [fillet(p.width, 0, r), fillet(p.width, p.height, p.corner_radius), fillet(0, p.height, p.corner_radius)]
    return polygon(corners)


def dimensions(p: PlateToolHanger) -> Iterator[Dimension]:
    """Yield where each length can be measured: a tool in the middle of its opening, the play on both sides of it."""
    first, last, up = p.middles[0], p.middles[-1], 0.0 if p.openings == "slots" else p.reach
    a, half = p.smallest / 2, p.sizes[0] / 2
    yield Dimension("smallest", (first - a, up), (first + a, up), "below")
    if p.tools > 1:
        b = p.largest / 2
        yield Dimension("largest", (last - b, up), (last + b, up), "below")
    if p.play:
        yield Dimension("play", (first + half - p.play, up), (first + half, up), "below")
    yield Dimension("web", (0, up), (p.web, up), "below")
    yield Dimension("reach", (first, 0), (first, p.reach), "left")
    yield Dimension("height", (0, 0), (0, p.height), "left")
    for name, r, y in (("corner_radius", p.corner_radius, p.height), ("tip_radius", p.tip_radius, 0.0)):
        if r:
            centre, out = (p.width - r, y - r if y else r), r * 0.5**0.5
            yield Dimension(name, centre, (centre[0] + out, centre[1] + (out if y else -out)), "radius")
    yield Dimension("inset", p.wall_holes[0], (p.inset, p.height), "left")
    yield from p.hole_measured(p.wall_holes[1])


TEMPLATE = Template(
    "plate-tool-hanger",
    "Tool hanger",
    PlateToolHanger,
    outline,
    summary="A plate with a row of openings to measure, for spanners, bars or handles, and holes for the wall.",
    cautions=(
        "Tools that fall hurt feet: fix the plate to something sound, and hang heavy ones low.",
        "Break the edges of the openings: hands reach in.",
    ),
    words=(
        "tool",
        "rack",
        "hanger",
        "spanner",
        "wrench",
        "holder",
        "organiser",
        "screwdriver",
        "wall",
        "pegboard",
        "rake",
        "broom",
        "clamp",
    ),
    presets=(
        Preset(
            "Spanners of 8 to 22",
            "tools=8 largest=22",
            inches="smallest=1/4 largest=7/8",
            inch_name="Spanners of 1/4 to 7/8",
        ),
        Preset(
            "Screwdrivers, round holes",
            "openings=round tools=8 smallest=9 largest=14 web=25 reach=20 height=70",
            inches="smallest=3/8 largest=5/8",
        ),
        Preset(
            "Garden tools, handles of 38",
            "tools=5 smallest=38 largest=38 play=3 web=70 reach=60 height=140 thickness=4 "
            "corner_radius=15 tip_radius=8 inset=25",
            inches="smallest=1-1/2 largest=1-1/2",
            inch_name="Garden tools, handles of 1-1/2",
        ),
        Preset(
            "Bar clamps, rails of 13",
            "smallest=13 largest=13 play=2 web=50 reach=70 height=150",
            is_metric=True,
        ),
    ),
)

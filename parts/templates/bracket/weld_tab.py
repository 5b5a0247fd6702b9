r"""Weld tab: square to weld on one side, one or two holes, the other end round about its hole or square.

      _____
     /     \
    |   o   |     a round end is half a turn about the hole: the same metal all round it
    |       |
    |       |     height: from the welded edge to the hole, or to the upper one
    |_______|     snipe: the welded corners cut off, to turn the weld around or clear another
      width

Two holes stand one above the other or, under a square end, side by side; slots in their place adjust. On a round
tube the foot is hollowed to it.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, Vertex, arched, chamfer, fillet, polygon
from parts.geometry.figure import Window
from parts.profile import Dimension, Profile, openings
from parts.spec import BY_DIAMETER, Preset, Template, bolt_mm, choice, count, flag, length
from parts.templates.bracket.shared.tube_foot import TubeFoot
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.lettered import Lettered


class BracketWeldTab(TubeFoot, BoltHoles, Lettered):
    """The welded edge, or the crown of its hollow, is on the x axis, the middle of the tab on the y axis."""

    width: float = length("Width", default=50, minimum=10, maximum=600)
    height: float = length("Height of the hole", default=45, minimum=5, maximum=1000, help="Of the upper one of two.")
    end: str = choice("Free end", default="round", choices=("round", "square"))
    beyond: float = length(
        "Square end beyond the hole",
        default=25,
        minimum=2,
        maximum=500,
        help="A round end is half the width beyond.",
        when=("end", "square"),
        moves="free",
    )
    corner_radius: float = length(
        "Corner radius of a square end", default=6, minimum=0, maximum=250, when=("end", "square"), moves="free"
    )
    snipe: float = length("Snipe at the weld", default=0, minimum=0, maximum=200, help="0 for none.", moves="free")
    holes: int = count("Holes", default=1, minimum=1, maximum=2)
    row: str = choice("Two holes stand", default="up", choices=("up", "across"), group="Holes", when=("holes", "2"))
    pitch: float = length("Hole spacing", default=30, minimum=2, maximum=800, group="Holes", when=("holes", "2"))
    slot: float = length(
        "Slot, length",
        default=0,
        minimum=0,
        maximum=500,
        group="Holes",
        help="Over all, to adjust by; 0 for round holes.",
        moves="care",
    )
    slot_way: str = choice("Slots run", default="up", choices=("up", "across"), group="Holes", when=("slot",))
    drilled: bool = flag(
        "Drill the holes after cutting",
        group="Holes",
        help="A pin wants a drilled hole: its centre is marked.",
        moves="care",
    )

    @property
    def top(self) -> float:
        """Height over all."""
        return self.height + (self.width / 2 if self.end == "round" else self.beyond)

    @property
    def centres(self) -> list[Point]:
        """Centres of the holes."""
        if self.holes == 1:
            return [(0.0, self.height)]
        if self.row == "up":
            return [(0.0, self.height), (0.0, self.height - self.pitch)]
        return [(-self.pitch / 2, self.height), (self.pitch / 2, self.height)]

    @property
    def windows(self) -> list[Window]:
        """The holes, or the slots in their place."""
        d, long = self.hole_size, self.slot or self.hole_size
        wide, high = (long, d) if self.slot_way == "across" else (d, long)
        return [Window(centre, wide, high, d / 2) for centre in self.centres]

    @property
    def edge(self) -> Loop:
        """The outline counter-clockwise from the left of the welded edge."""
        x, c, top, bulge = self.width / 2, self.snipe, self.top, self.foot_bulge(self.foot)
        low = -self.sunk(self.foot)
        if self.end == "round":
            foot: list[Vertex] = [(-x, low + c, 0), (-x + c, low, bulge), (x - c, low, 0), (x, low + c, 0)]
            return Loop.through([*foot, (x, self.height, 1), (-x, self.height, 0)])
        corners: list[Corner | Point] = [chamfer(-x, low, c), chamfer(x, low, c)]
        loop = polygon([*corners, fillet(x, top, self.corner_radius), fillet(-x, top, self.corner_radius)])
        return arched(loop, (-x + c, low), (x - c, low), bulge) if bulge else loop

    @property
    def foot(self) -> float:
        """Half of the edge to weld: the snipe is cut off beside it, at 45 degrees."""
        return self.width / 2 - self.snipe

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where corners meet, or holes run out of the tab or into each other."""
        clash = [
            *self.under("snipe", self.width / 2, "to leave an edge to weld"),
            *self.foot_problems("width"),
        ]
        yield from clash
        if clash:
            return
        if self.end == "round":
            yield from self.at_most("snipe", self.height, "under the round end")
        else:
            yield from self.at_most("snipe", self.top, "on the side of the tab")
            yield from self.at_most("corner_radius", min(self.width / 2, self.top - self.snipe), "at the square end")
        if self.end == "round" and self.holes == 2 and self.row == "across":
            yield self.problem("row", "must be up under a round end, which is about one hole.")
            return
        yield from self._hole_problems()

    def _hole_problems(self) -> Iterator[Problem]:
        d = self.hole_size
        if self.slot and self.drilled:
            yield self.problem("drilled", "must be off: a slot is cut, not drilled.")
        if 0 < self.slot < d:
            yield self.problem("slot", f"must be 0, or at least the hole's {self.say(d)}.")
            return
        if self.slot and (self.slot_way == "across" or self.end == "round"):
            yield from self.under("slot", self.width, "in this width")
        if self.bolt == BY_DIAMETER:
            clash = [*self.under("hole", self.width, "in this width")]
        else:
            message = f"wants a hole of {self.say(d, self.width)}; the tab is {self.say(self.width, d)} wide."
            clash = [self.problem("bolt", message)] if d >= self.width else []
        wide, high = self.windows[0].width, self.windows[0].height
        clash += self.over("height", high / 2, "to keep metal between hole and weld")
        if self.end == "square":
            clash += self.over("beyond", high / 2, "to keep metal beyond the hole")
        yield from clash
        if clash or self.holes == 1:
            return
        each, room = (high, self.height - high / 2) if self.row == "up" else (wide, self.width - wide)
        if room <= each:
            yield self.problem("holes", "must be 1: there is no room for two of these holes.")
            return
        yield from self.over("pitch", each, "to keep metal between the holes")
        yield from self.under("pitch", room, "above the weld" if self.row == "up" else "in this width")


def outline(p: BracketWeldTab) -> Profile:
    """Draw the tab; holes to be drilled are marks."""
    loops = (window.loop for window in p.windows)
    inside = openings(loops, "slot" if p.slot else "hole", "height", bolt_mm(p.bolt))
    profile = Profile((p.edge,), inside, dimensions=tuple(dimensions(p)))
    return profile.drilled_below(math.inf) if p.drilled else profile


def dimensions(p: BracketWeldTab) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, first = p.width / 2, p.centres[0]
    yield Dimension("width", (-x, p.snipe - p.sunk(p.foot)), (x, p.snipe - p.sunk(p.foot)), "below")
    yield Dimension("height", (0 if p.tube else -x, 0), first, "left")
    low = -p.sunk(p.foot)
    if p.snipe:
        yield Dimension("snipe", (x - p.snipe, low), (x, low + p.snipe), "right")
    yield from p.foot_measured()
    if p.end == "square":
        r = p.corner_radius
        yield Dimension("beyond", first, (-x, p.top), "left")
        if r:
            out = r * math.sqrt(0.5)
            yield Dimension("corner_radius", (x - r, p.top - r), (x - r + out, p.top - r + out), "radius")
    if p.holes == 2:
        yield Dimension("pitch", p.centres[1], first, "right" if p.row == "up" else "above")
    yield from slot_dimensions(p) if p.slot else p.hole_measured(first)


def slot_dimensions(p: BracketWeldTab) -> Iterator[Dimension]:
    """Yield those of the upper slot, or of the right one."""
    slot = p.windows[-1] if p.row == "across" else p.windows[0]
    (x, y), wide, high = slot.centre, slot.width / 2, slot.height / 2
    along, across = ("slot", p.hole_from("bolt")) if p.slot_way == "across" else (p.hole_from("bolt"), "slot")
    yield Dimension(along, (x - wide, y), (x + wide, y), "above")
    yield Dimension(across, (x, y - high), (x, y + high), "right")


TEMPLATE = Template(
    "bracket-weld-tab",
    "Weld tab",
    BracketWeldTab,
    outline,
    summary="An ear to weld on: square at the weld, one or two holes, the end round about its hole or square.",
    cautions=(
        "A lifting lug is an engineer's job: this is none. Never lift people or loads from a tab whose steel, weld and "
        "pin a qualified person hasn't settled.",
        "Holes for pins and shackles are drilled, not flame cut.",
        "A closed tube heated by welding can burst: drill a vent first.",
    ),
    words=("ear", "lug", "tab", "eye", "mount", "weld-on", "shackle", "pin", "pad eye", "padeye", "lifting"),
    presets=(
        Preset("Trailer, chain eye, pin drilled", "width=60 height=40 thickness=10 bolt=M16 drilled=on"),
        Preset(
            "Garden bench, seat tab, two screws",
            "end=square width=70 height=20 beyond=15 holes=2 row=across pitch=40 bolt=M8 corner_radius=8 thickness=4",
        ),
        Preset("Trailer rack, tab on 48.3 mm tube", "width=40 height=50 bolt=M12 tube=48.3", is_metric=True),
        Preset("Workshop, belt tightener, slotted", "end=square height=55 slot=45 width=40 beyond=35 thickness=8"),
        Preset("Trail sign, hanging tab", "width=35 height=25 bolt=M8 thickness=4 snipe=5"),
        Preset("Trailer, gate tab to adjust", "height=3in width=2in holes=2 pitch=1-1/2in bolt=1/2 thickness=1/4in"),
    ),
)

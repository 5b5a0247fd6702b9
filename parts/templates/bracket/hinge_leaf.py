r"""Hinge leaf: a plate with screw holes, and knuckle tabs along one side to roll, or to weld to barrels.

     __________________
    |                  |
    |  o      o     o  |  leaf: from the roots of the tabs to the free edge
    |    __      __    |
    |___|  |____|  |___|  tab: how far they stand out
            long          joint: the play between neighbouring knuckles

`knuckles` counts those of both leaves. The first leaf has the odd ones, tabs at both ends if they are odd in number;
the second the others, and the two mesh. A rolled knuckle is drawn as long as its barrel takes: `made=rolled` and a pin.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.forming import brake
from parts.geometry import Corner, Line, Point, fillet, grid, polygon
from parts.profile import Dimension, Profile, Scribe
from parts.spec import BY_DIAMETER, Preset, Template, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles

_TABS = "Knuckles"
_ROLLED = ("made", "rolled")


class BracketHingeLeaf(BoltHoles):
    """The roots of the tabs are on the x axis, which the pin is along; the leaf is above it."""

    long: float = length("Length along the pin", default=150, minimum=20, maximum=2000)
    leaf: float = length("Leaf", default=60, minimum=8, maximum=1000, help="From the roots of the tabs.")
    corner_radius: float = length("Corner radius at the free edge", default=6, minimum=0, maximum=200, moves="free")
    which: str = choice("Which leaf", default="first", choices=("first", "second"), group=_TABS)
    knuckles: int = count("Knuckles of both leaves", default=5, minimum=2, maximum=31, group=_TABS)
    made: str = choice(
        "Knuckles are", default="tabs", choices=("tabs", "rolled"), group=_TABS,
        help="tabs: left straight, or welded to barrels of tube; rolled: around the pin, level with the leaf's face; "
        "solids show it flat.",
    )  # fmt: skip
    tab: float = length("Tabs stand out", default=25, minimum=2, maximum=400, group=_TABS, when=("made", "tabs"))
    pin: float = length(
        "Pin, diameter", default=20, inches="3/4", drawn=False, minimum=2, maximum=120, group=_TABS, when=_ROLLED,
        help="A round bar of this size is rolled around.",
    )  # fmt: skip
    pin_play: float = length(
        "Play around the pin", default=0.5, drawn=False, minimum=0, maximum=10, group=_TABS, when=_ROLLED,
        help="The bore of the barrel is so much wider.",
    )  # fmt: skip
    joint: float = length("Play between knuckles", default=1, minimum=0, maximum=50, group=_TABS)
    root_radius: float = length("Radius at the roots", default=3, minimum=0, maximum=50, group=_TABS, moves="free")
    bolt: str = bolt("Screw or bolt", default="M8", inches="3/8", diameter="hole", when=("holes",))
    holes: int = count("Screw holes along", default=3, minimum=0, maximum=40, help="In each row, spread evenly.")
    rows: int = count("Rows", default=1, minimum=1, maximum=3, when=("holes",))
    end_mark: float = length(
        "End holes in from the ends", default=20, minimum=2, maximum=900, group="Holes", when=("holes", "2")
    )
    edge_mark: float = length(
        "Holes from the free edge", default=20, minimum=2, maximum=900, group="Holes", when=("holes",), moves="care"
    )
    gauge: float = length("Rows of holes apart", default=22, minimum=2, maximum=450, group="Holes", when=("rows", "2"))

    @property
    def bore(self) -> float:
        """Bore of a rolled barrel, mm."""
        return self.pin + self.pin_play

    @property
    def stands(self) -> float:
        """How far the tabs stand out of the flat, mm: as said, or as long as the barrel's neutral line.

        The barrel leaves the leaf at its tangent, and turns until the outer edge of its end, R + t from the pin's
        middle, meets the leaf's face, R below it: a whole turn less acos(R / (R + t)).
        """
        if self.made == "tabs":
            return self.tab
        r, t = self.bore / 2, self.thickness
        return (2 * math.pi - math.acos(r / (r + t))) * (r + brake(self.material).neutral(t, r).k * t)

    @property
    def spans(self) -> list[Point]:
        """Where each tab of this leaf begins and ends along the pin; half of the play is taken off at each joint."""
        step, last = self.long / self.knuckles, self.knuckles - 1
        return [
            (i * step + self.joint / 2 if i else 0.0, (i + 1) * step - self.joint / 2 if i < last else self.long)
            for i in range(0 if self.which == "first" else 1, self.knuckles, 2)
        ]

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the left end of the pin side."""
        down, r, long = -self.stands, self.root_radius, self.long
        side: list[Corner | Point] = []
        for start, end in self.spans:
            side += [fillet(start, 0, r)] if start > 0 else []
            side += [(start, down), (end, down)]
            side += [fillet(end, 0, r)] if end < long else []
        if self.spans[0][0] > 0:
            side.insert(0, (0.0, 0.0))
        if self.spans[-1][1] < long:
            side.append((long, 0.0))
        return [*side, fillet(long, self.leaf, self.corner_radius), fillet(0, self.leaf, self.corner_radius)]

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the screw holes, row by row from the one nearest the free edge."""
        if not self.holes:
            return ()
        one = self.holes == 1
        step = 0.0 if one else (self.long - 2 * self.end_mark) / (self.holes - 1)
        first = self.long / 2 if one else self.end_mark, self.leaf - self.edge_mark
        return grid(first, (step, -self.gauge), self.holes, self.rows)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the play or a radius leaves no tab, or holes run out of the leaf or meet."""
        step = self.long / self.knuckles
        yield from self.at_most("corner_radius", min(self.long / 2, self.leaf), "at the free edge")
        clash = [*self.under("joint", step, f"with {self.knuckles} knuckles on this length")]
        yield from clash
        if not clash:
            # a gap holds the radii of both its roots; beside an end it holds one
            between = (step + self.joint) / 2 if len(self.spans) > 1 else math.inf
            room = min(self.stands, between, step + self.joint / 2)
            yield from self.at_most("root_radius", room, "between the tabs")
        if self.made == "rolled":
            least = 2 * brake(self.material).least_radius(self.thickness) - self.pin_play
            yield from self.over("pin", least, "to roll this metal without cracks")
        if self.holes:
            yield from self._hole_problems()

    def _hole_problems(self) -> Iterator[Problem]:
        d, depth = self.hole_size, (self.rows - 1) * self.gauge
        room = min(self.long, self.leaf)
        if self.bolt == BY_DIAMETER:
            clash = [*self.under("hole", room, "in this leaf")]
        else:
            message = f"wants a hole of {self.say(d, room)}; the leaf has room for less than {self.say(room, d)}."
            clash = [self.problem("bolt", message)] if d >= room else []
        if self.rows > 1 and not clash:
            clash = [*self.over("gauge", d, "to keep metal between the rows")]
        if not clash:
            clash = [*self.over("edge_mark", d / 2, "to stay inside the free edge")]
        yield from clash
        if not clash:
            last = self.leaf - depth - d / 2
            if last > d / 2:
                yield from self.under("edge_mark", last, "to stay clear of the tabs")
            else:
                yield self.problem(
                    "rows", f"must be at most {max(1, math.ceil((self.leaf - d) / self.gauge))} on this leaf."
                )
            yield from self._along_problems(d)

    def _along_problems(self, d: float) -> Iterator[Problem]:
        if self.holes == 1:
            return
        clash = [
            *self.over("end_mark", d / 2, "to stay inside the ends"),
            *self.under("end_mark", (self.long - d) / 2, "to keep metal between the holes"),
        ]
        yield from clash
        between = self.long - 2 * self.end_mark
        if not clash and between / (self.holes - 1) <= d:
            yield self.problem("holes", f"must be at most {math.ceil(between / d)} on this length.")


def outline(p: BracketHingeLeaf) -> Profile:
    """Draw the leaf with its tabs and screw holes; where a barrel begins to be rolled is scribed."""
    inside = p.holes_at(p.centres, "screw hole", "holes")
    begins = (Scribe((Line((start, 0.0), (end, 0.0)),)) for start, end in p.spans)
    marks = tuple(begins) if p.made == "rolled" else ()
    return Profile((polygon(p.corners),), inside, marks, tuple(dimensions(p)))


def dimensions(p: BracketHingeLeaf) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (start, end), r, q = p.spans[0], p.corner_radius, p.root_radius
    yield Dimension("long", (0, p.leaf), (p.long, p.leaf), "above")
    yield Dimension("leaf", (p.long, 0), (p.long, p.leaf), "right")
    if p.made == "tabs":
        yield Dimension("tab", (p.spans[-1][1], -p.tab), (p.long, 0), "right")
    if p.joint:
        seam = p.long / p.knuckles * (1 if p.which == "first" else 2)
        yield from _half_measured(p, seam)
    if r:
        out = r * math.sqrt(0.5)
        yield Dimension("corner_radius", (p.long - r, p.leaf - r), (p.long - r + out, p.leaf - r + out), "radius")
    if q:
        x, turn = (end + q, -1) if end < p.long else (start - q, 1)
        yield Dimension("root_radius", (x, -q), (x + turn * q * math.sqrt(0.5), -q + q * math.sqrt(0.5)), "radius")
    if not p.holes:
        return
    first = p.centres[0]
    yield Dimension("edge_mark", first, (0, p.leaf), "left")
    if p.holes > 1:
        yield Dimension("end_mark", (0, p.leaf), first, "above")
    if p.rows > 1:
        yield Dimension("gauge", p.centres[p.holes], first, "left")
    yield from p.hole_measured(first)


def _half_measured(p: BracketHingeLeaf, seam: float) -> Iterator[Dimension]:
    """Yield the play: as the gap that the other leaf's knuckle would leave at the seam."""
    yield Dimension("joint", (seam - p.joint / 2, -p.stands), (seam + p.joint / 2, -p.stands), "below")


TEMPLATE = Template(
    "bracket-hinge-leaf",
    "Hinge leaf",
    BracketHingeLeaf,
    outline,
    summary="One leaf of a hinge: knuckles to roll around a pin or to weld to barrels, screw holes; two leaves mesh.",
    cautions=(
        "A gate or ramp that falls can hurt someone: have hinge, pin and welds of heavy ones settled by a qualified "
        "person, and keep hands out of the knuckles.",
    ),
    words=("butt", "knuckle", "barrel", "gate", "door", "lid", "pin", "strap hinge"),
    presets=(
        Preset(
            "Trailer, tailgate, first leaf",
            "long=200 leaf=80 tab=20 knuckles=3 thickness=8 bolt=M12 end_mark=30 root_radius=4",
        ),
        Preset(
            "Trailer, tailgate, second leaf",
            "which=second long=200 leaf=80 tab=20 knuckles=3 thickness=8 bolt=M12 end_mark=30 root_radius=4",
        ),
        Preset(
            "Garden bench, lid of the box, rolled around a pin of 8",
            "long=100 leaf=40 made=rolled pin=8 knuckles=3 thickness=3 bolt=M6 end_mark=15 edge_mark=14 root_radius=2",
            inches="pin=5/16",
            inch_name="Garden bench, lid of the box, rolled around a 5/16 in pin",
        ),
        Preset(
            "Trail gate, weld to pipe barrels",
            "long=6in leaf=4in tab=1/2in root_radius=3/16in rows=2 gauge=1-1/2in bolt=3/8 thickness=1/4in "
            "end_mark=3/4in edge_mark=3/4in joint=1/32in corner_radius=1/4in",
        ),
    ),
)

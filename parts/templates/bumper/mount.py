r"""Bumper mount: stands behind the face, its tabs through the face's mount slots, and bolts to the frame horn.

            reach
     _______________________
    |         ___     ___   |
   =|  tab   (___)   (___)  |  horn_height on the horn
    |         ___     ___   |  slots: columns by rows, centred on the horn's height
   =|  tab   (___)   (___)  |
    |              _________|  neck: how far the full height runs from the face
    |___neck______/  horn_length

One is drawn; the other side's is the same plate turned over.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, grid, largest_fillet, polygon, slot
from parts.profile import Dimension, Profile, openings
from parts.spec import BY_DIAMETER, Preset, Template, bolt, bolt_mm, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.tabs import TabbedEdge


class BumperMount(TabbedEdge, BoltHoles):
    """The lower end of the edge at the face is at the origin; the mount runs along x."""

    reach: float = length("Length", default=240, minimum=50, maximum=1200, help="Back from the face.")
    height: float = length("Height at the face", default=130, minimum=40, maximum=800)
    horn_height: float = length("Height on the horn", default=110, minimum=20, maximum=800)
    neck: float = length("Full height for", default=40, minimum=5, maximum=1000, help="From the face.")
    horn_length: float = length("Horn height for", default=160, minimum=15, maximum=1100, help="From the rear.")
    corner_radius: float = length("Corner radius", default=12, minimum=0, maximum=200, moves="free")
    columns: int = count("Slots along the horn", default=2, minimum=1, maximum=6)
    rows: int = count("Slots up the horn", default=2, minimum=1, maximum=4)
    pitch_x: float = length(
        "Between the slots, along", default=80, minimum=5, maximum=800, group="Holes", when=("columns", "2")
    )
    pitch_y: float = length(
        "Between the slots, up", default=50, minimum=5, maximum=600, group="Holes", when=("rows", "2")
    )
    hole_in: float = length(
        "Last slots from the rear", default=40, minimum=3, maximum=1100, group="Holes", moves="care"
    )
    bolt: str = bolt("Bolt", default="M12", diameter="hole")
    slot_length: float = length(
        "Slot length",
        default=30,
        minimum=0,
        maximum=300,
        group="Holes",
        help="Along, over all; 0 for round holes.",
        moves="care",
    )

    @property
    def rise(self) -> float:
        """How much lower the mount is on the horn than at the face."""
        return self.height - self.horn_height

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the lower end of the edge at the face, without the tabs."""
        end, r = self.reach, self.corner_radius
        shoulder = [fillet(self.neck, 0, r), fillet(end - self.horn_length, self.rise, r)] if self.rise else []
        return [(0.0, 0.0), *shoulder, fillet(end, self.rise, r), fillet(end, self.height, r), (0.0, self.height)]

    @property
    def slot_size(self) -> float:
        """Length of the slots in mm; that of a round hole is its diameter."""
        return self.slot_length or self.hole_size

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the slots, row by row from the lower one that is nearest the face."""
        x = self.reach - self.hole_in - (self.columns - 1) * self.pitch_x
        y = self.height - self.horn_height / 2 - (self.rows - 1) * self.pitch_y / 2
        return grid((x, y), (self.pitch_x, self.pitch_y), self.columns, self.rows)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the outline doesn't close, tabs have no room, or slots leave the horn."""
        clash = [*self.at_most("horn_height", self.height, "the height at the face")]
        clash += self.over("neck", self.relief_radius, "beyond the reliefs of the tabs")
        clash += self.under("horn_length", self.reach - self.neck, "behind the full height")
        clash = clash or [*self.at_most("corner_radius", largest_fillet(self.corners), "to fit the corners")]
        yield from clash or self.tab_problems(0.0, self.height)
        if not clash:
            yield from self._slot_problems()

    def _slot_problems(self) -> Iterator[Problem]:
        wide, long = self.hole_size, self.slot_size
        clash = []
        if long < wide:
            clash = [self.problem("slot_length", f"must be 0, or at least the hole's {self.say(wide)}.")]
        if self.columns > 1:
            clash += self.over("pitch_x", long, "to keep metal between the slots")
        if self.rows > 1:
            clash += self.over("pitch_y", wide, "to keep metal between the slots")
            clash += self.under("pitch_y", (self.horn_height - wide) / (self.rows - 1), "in the height of the horn")
        yield from clash
        yield from self.over("hole_in", long / 2, "inside the rear")
        room = self.horn_length - long / 2
        if self.columns > 1 and self.hole_in < room:
            yield from self.under("pitch_x", (room - self.hole_in) / (self.columns - 1), "on the length of the horn")
        else:
            yield from self.under("hole_in", room, "on the length of the horn")
        if self.rows == 1:
            yield from self.over("horn_height", wide, "round the slots")


def outline(p: BumperMount) -> Profile:
    """Draw the mount, its slots and tabs."""
    slots = [slot(at, p.slot_size, p.hole_size) for at in p.centres]
    name = "mounting slot" if p.slot_length else "mounting hole"
    inside = openings(slots, name, "hole_in", bolt_mm(p.bolt))
    return Profile((polygon([*p.corners, *p.tab_corners]),), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BumperMount) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    end, high, r = p.reach, p.height, p.corner_radius
    yield Dimension("reach", (0, 0), (end, p.rise), "below")
    yield Dimension("height", (0, 0), (0, high), "left")
    yield Dimension("horn_height", (end, p.rise), (end, high), "right")
    if p.rise:
        yield Dimension("neck", (0, 0), (p.neck, 0), "below")
        yield Dimension("horn_length", (end - p.horn_length, p.rise), (end, p.rise), "below")
    if r:
        yield Dimension("corner_radius", (end - r, high - r), (end, high - r), "radius")
    yield from p.tabs_measured()
    first, last = p.centres[0], p.centres[-1]
    yield Dimension("hole_in", last, (end, last[1]), "above")
    if p.columns > 1:
        yield Dimension("pitch_x", p.centres[-2], last, "above")
    if p.rows > 1:
        yield Dimension("pitch_y", p.centres[p.columns - 1], p.centres[2 * p.columns - 1], "right")
    if p.slot_length:
        half = p.slot_length / 2
        yield Dimension("slot_length", (first[0] - half, first[1]), (first[0] + half, first[1]), "below")
    if p.bolt == BY_DIAMETER and p.slot_length:
        half = p.hole / 2
        yield Dimension("hole", (first[0], first[1] - half), (first[0], first[1] + half), "left")
    else:
        yield from p.hole_measured(first)


TEMPLATE = Template(
    "bumper-mount",
    "Bumper mount",
    BumperMount,
    outline,
    summary="Bolts to the frame horn through slots; its tabs go through the mount slots of a face plate of like values "
    "(small, medium and large set).",
    cautions=(
        "A bumper mount passes crash and winch loads into the frame: its size, welds and bolts need a rated design by "
        "a qualified person. Local vehicle rules and type approval come first.",
        "A stiff mount can bypass crumple zones and upset air-bag sensors; the maker's crash cans and bolts stay.",
        "Drill and weld a frame only where its maker allows it.",
    ),
    words=("vehicle", "truck", "frame", "horn", "bracket", "chassis", "slot", "tab", "weld"),
    set_of="bumper",
    presets=(
        Preset(
            "Small set: 1500 by 200 face",
            "reach=190 height=110 horn_height=90 horn_length=120 pitch_x=60 pitch_y=40 hole_in=32 bolt=M10 "
            "slot_length=25 tab_pitch=46",
            inch_name="Small set: 60 by 8 in face",
            inches="tab_pitch=1-7/8",
        ),
        Preset("Medium set: 1800 by 250 face", inch_name="Medium set: 72 by 10 in face"),
        Preset(
            "Large set: 2000 by 300 face",
            "reach=300 height=180 horn_height=140 horn_length=210 pitch_x=110 pitch_y=70 bolt=M14 tab_pitch=100",
            inch_name="Large set: 78 by 12 in face",
        ),
        Preset("Trailer rear, round", "reach=160 neck=30 horn_height=130 horn_length=100 columns=1 slot_length=0"),
    ),
)

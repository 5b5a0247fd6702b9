r"""Winch tray: lies level behind the face, its tabs through the face's tray slots, and carries a winch on four bolts.

           depth
     ____________________
    |                    |
   =|  tab   o      o    |     o: winch bolts, pattern_across by pattern_along
    |                    |
    |                    |  width across the vehicle
    |                    |
   =|  tab   o      o    |
    |____________________|
     setback: to the middle of the pattern

Gussets stand on it. A pattern of 10 by 4-1/2 in with bolts of 3/8 in is common practice: measure the winch.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, grid, polygon
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.tabs import TabbedEdge

_TABS, _WINCH = "Tabs", "Winch"


class BumperWinchTray(TabbedEdge, BoltHoles):
    """The lower end of the edge at the face is at the origin; the tray runs back along x."""

    depth_back: float = length("Length", default=230, minimum=60, maximum=1000, help="Back from the face.")
    width: float = length("Width", default=620, minimum=80, maximum=2400, help="Across the vehicle.")
    corner_radius: float = length(
        "Radius of the rear corners", default=20, minimum=0, maximum=300, moves="free", group="Corners"
    )
    pattern_across: float = length(
        "Between the winch bolts, across", default=254, minimum=20, maximum=1500, group=_WINCH,
        help="10 in (common practice).",
    )  # fmt: skip
    pattern_along: float = length(
        "Between the winch bolts, along", default=114.3, inches="4-1/2", minimum=15, maximum=800, group=_WINCH,
        help="4-1/2 in (common practice).",
    )  # fmt: skip
    setback: float = length(
        "Middle of the pattern from the face", default=120, minimum=10, maximum=900, group=_WINCH, moves="care"
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole")
    tab_pitch: float = length(
        "Between the tabs", default=360, minimum=10, maximum=2000, group=_TABS, help="Centre to centre.",
        when=("tabs", "2"),
    )  # fmt: skip
    tab_first: float = length(
        "First tab up", default=130, minimum=3, maximum=2000, group=_TABS,
        help="Its centre, from the lower end of its plate's edge.",
    )  # fmt: skip

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the lower end of the edge at the face, without the tabs."""
        a, b, r = self.depth_back, self.width, self.corner_radius
        return [(0.0, 0.0), fillet(a, 0, r), fillet(a, b, r), (0.0, b)]

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the winch bolts, from the lower one that is nearest the face."""
        along, across = self.pattern_along, self.pattern_across
        return grid((self.setback - along / 2, (self.width - across) / 2), (along, across), 2, 2)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where radii or tabs have no room, or winch bolts leave the tray or meet."""
        clash = [*self.at_most("corner_radius", min(self.width / 2, self.depth_back), "at the rear")]
        yield from clash or self.tab_problems(0.0, self.width)
        half = self.hole_size / 2
        yield from self.over("pattern_across", 2 * half, "to keep metal between the bolts")
        yield from self.under("pattern_across", self.width - 2 * half, "in the width")
        clash = [*self.over("pattern_along", 2 * half, "to keep metal between the bolts")]
        clash = clash or [*self.over("setback", self.pattern_along / 2 + half + self.relief_radius, "behind the face")]
        yield from clash or self.under("setback", self.depth_back - self.pattern_along / 2 - half, "before the rear")
        inset = self.depth_back - self.centres[-1][0], self.centres[0][1]
        if not clash and min(inset) > half:
            yield from self.rounding_problems(inset)


def outline(p: BumperWinchTray) -> Profile:
    """Draw the tray with its tabs and the holes for the winch."""
    inside = p.holes_at(p.centres, "winch bolt hole", "setback")
    return Profile((polygon([*p.corners, *p.tab_corners]),), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BumperWinchTray) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    a, b, r = p.depth_back, p.width, p.corner_radius
    first, beside, above, _ = p.centres
    yield Dimension("depth_back", (0, 0), (a, 0), "below")
    yield Dimension("width", (a, 0), (a, b), "right")
    if r:
        yield Dimension("corner_radius", (a - r, b - r), (a, b - r), "radius")
    yield Dimension("pattern_along", first, beside, "below")
    yield Dimension("pattern_across", beside, p.centres[3], "right")
    yield Dimension("setback", (0, above[1]), (p.setback, above[1]), "above")
    yield from p.tabs_measured()
    yield from p.hole_measured(first)


TEMPLATE = Template(
    "bumper-winch-tray",
    "Winch tray",
    BumperWinchTray,
    outline,
    summary="Lies level behind a bumper's face and carries a winch on four bolts; its tabs go through the tray slots "
    "of a face plate of like values.",
    cautions=(
        "A winch pulls as hard as a vehicle weighs: tray, welds, bolts and what they hang on need a rated design by a "
        "qualified person. This drawing carries no rating.",
        "A rope or a mount that lets go under load can kill: keep everyone clear of the line of pull.",
        "A bumper changes how a vehicle crashes. Local vehicle rules and type approval come first.",
    ),
    words=("vehicle", "truck", "winch", "mount", "plate", "recovery", "fairlead", "tab", "slot", "weld", "drum"),
    set_of="bumper",
    presets=(
        Preset("Winch of 10 by 4-1/2 in bolts"),
        Preset(
            "Small winch, 6-5/8 by 3 in bolts",
            "depth_back=150 width=300 pattern_across=168.3 pattern_along=76.2 setback=80 bolt=M8 tab_pitch=150 "
            "tab_first=75 corner_radius=15",
            inches="pattern_across=6-5/8 pattern_along=3",
        ),
        Preset("Heavy tray, 10 plate", "thickness=10 depth_back=260 width=700 tab_first=150 tab_pitch=400 bolt=M12 "
               "process=fine-plasma tab_length=40"),
    ),
)  # fmt: skip

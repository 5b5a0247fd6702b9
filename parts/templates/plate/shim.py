r"""Slotted shim: a plate with slots open at the foot, to slip round the bolts under a foot, and a tab to pull it by.

        ____
     __/ o  \__        tab_width, tab_length: the handle, with a hole to hang it or stamp beside it
    |   __     |
    |  |  |    |  height
    |  |  |    |       slot_depth: from the foot to the round end of a slot
    |__|  |____|       slots of them, `pitch` apart; as wide as the bolt's clearance hole
       width

The slots are open at the foot, so the shim goes in under a foot that is bolted down.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, circle, fillet, polygon
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, bolt, count, fit, length
from parts.templates.shared.bolt_holes import ClearanceHoles

_TAB = "Tab"


class PlateShim(ClearanceHoles):
    """The foot, where the slots open, is on the x axis; the middle of the shim is the y axis."""

    width: float = length("Width", default=80, minimum=10, maximum=1000)
    height: float = length("Height, without the tab", default=80, minimum=10, maximum=1000)
    corner_radius: float = length(
        "Corner radius",
        default=3,
        minimum=0,
        maximum=100,
        help="Also of the slots' mouths, so that it slips on.",
        moves="free",
    )
    slots: int = count("Slots", default=1, minimum=1, maximum=8, group="Slots")
    slot_depth: float = length("Slot depth", default=50, minimum=3, maximum=950, group="Slots", moves="care")
    pitch: float = length(
        "Slots apart, centre to centre", default=60, minimum=3, maximum=900, group="Slots", when=("slots", "2")
    )
    tab_width: float = length(
        "Tab width", default=30, minimum=5, maximum=900, group=_TAB, when=("tab_length",), moves="free"
    )
    tab_length: float = length(
        "Tab length", default=30, minimum=0, maximum=500, group=_TAB, help="0 for no tab.", moves="free"
    )
    tab_root: float = length(
        "Radius where the tab joins", default=6, minimum=0, maximum=100, group=_TAB, when=("tab_length",), moves="free"
    )
    tab_hole: float = length(
        "Hole in the tab",
        default=0,
        minimum=0,
        maximum=400,
        group=_TAB,
        help="0 for none.",
        when=("tab_length",),
        moves="care",
    )
    bolt: str = bolt("Bolt", default="M16", diameter="hole", group="Slots")
    fit: str = fit(group="Slots", of=("bolt",))
    hole: float = length(
        "Width of the slots", default=11, minimum=1, maximum=200, group="Slots", help="Where the bolt is by diameter."
    )

    @property
    def slot_centres(self) -> tuple[float, ...]:
        """Where the middle of each slot stands along the foot."""
        return tuple((i - (self.slots - 1) / 2) * self.pitch for i in range(self.slots))

    @property
    def eye(self) -> Point:
        """Centre of the hole in the tab."""
        return 0.0, self.height + self.tab_length / 2

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where slots leave the shim or meet, or a radius or the tab has no room."""
        w = self.hole_size
        yield from self.under("slot_depth", self.height, "to leave metal above the slots")
        yield from self.over("slot_depth", w / 2 + self.corner_radius, "for the round end and the mouth")
        taken = (self.slots - 1) * self.pitch + w
        if self.slots > 1:
            yield from self.under("pitch", (self.width - w) / (self.slots - 1), "to leave metal beside the slots")
        else:
            yield from self.over("width", w, "to leave metal beside the slot")
        if self.slots > 1:
            yield from self.over("pitch", w, "to keep metal between the slots")
        room = [self.height, self.width - taken, self.width - self.tab_width if self.tab_length else self.width]
        if self.slots > 1:
            room.append(self.pitch - w)
        yield from self.at_most("corner_radius", min(room) / 2, "beside the slots and the tab")
        if self.tab_length:
            yield from self._tab_problems()

    def _tab_problems(self) -> Iterator[Problem]:
        r = self.corner_radius
        yield from self.under("tab_width", self.width, "on the shim")
        yield from self.over("tab_width", 2 * r, "for its corners")
        yield from self.at_most("tab_root", self.tab_length - r, "below the corners of the tab")
        yield from self.at_most("tab_root", (self.width - self.tab_width) / 2 - r, "beside the tab")
        if self.tab_hole:
            yield from self.under("tab_hole", min(self.tab_width, self.tab_length), "inside the tab")


def edge(p: PlateShim) -> Loop:
    """Return the edge, counter-clockwise from the lower left corner: the mouths, then the tab."""
    x, y, r, half = p.width / 2, p.height, p.corner_radius, p.hole_size / 2
    corners: list[Corner | Point] = [fillet(-x, 0, r)]
    for at in p.slot_centres:
        left, right = at - half, at + half
        corners += [fillet(left, 0, r), fillet(left, p.slot_depth, half)]
        corners += [fillet(right, p.slot_depth, half), fillet(right, 0, r)]
    corners += [fillet(x, 0, r), fillet(x, y, r)]
    if p.tab_length:
        a, top = p.tab_width / 2, y + p.tab_length
        corners += [fillet(a, y, p.tab_root), fillet(a, top, r), fillet(-a, top, r), fillet(-a, y, p.tab_root)]
    return polygon([*corners, fillet(-x, y, r)])


def outline(p: PlateShim) -> Profile:
    """Draw the shim and the hole in its tab."""
    has_hole = p.tab_length and p.tab_hole
    eye = (Opening(circle(p.eye, p.tab_hole), "hole in the tab", "tab_hole"),) if has_hole else ()
    return Profile((edge(p),), eye, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateShim) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r = p.width / 2, p.height, p.corner_radius
    first, half = p.slot_centres[0], p.hole_size / 2
    yield Dimension("width", (-x, 0), (x, 0), "below")
    yield Dimension("height", (-x, 0), (-x, y), "left")
    if r:
        yield Dimension("corner_radius", (x - r, r), (x, r), "radius")
    yield Dimension("slot_depth", (p.slot_centres[-1] + half, 0), (p.slot_centres[-1], p.slot_depth), "right")
    if p.slots > 1:
        yield Dimension("pitch", (first, p.slot_depth), (p.slot_centres[1], p.slot_depth), "below")
    yield Dimension(p.hole_from("bolt"), (first - half, 0), (first + half, 0), "below")
    if p.tab_length:
        yield from tab_dimensions(p)


def tab_dimensions(p: PlateShim) -> Iterator[Dimension]:
    """Yield those of the tab."""
    a, y, root = p.tab_width / 2, p.height, p.tab_root
    yield Dimension("tab_width", (-a, y + p.tab_length), (a, y + p.tab_length), "above")
    yield Dimension("tab_length", (a, y), (a, y + p.tab_length), "right")
    if root:
        yield Dimension("tab_root", (-a - root, y + root), (-a, y + root), "radius")
    if p.tab_hole:
        yield Dimension("tab_hole", p.eye, (p.tab_hole / 2, p.eye[1]), "diameter")


TEMPLATE = Template(
    "plate-shim",
    "Slotted shim",
    PlateShim,
    outline,
    summary="Slips round the bolts under a foot: slots open at one side, round at the end, and a tab to pull it by.",
    cautions=(
        "Jack and block what is lifted before a shim goes under it; keep hands out of the gap.",
        "Shims in a loaded joint want full bearing and no burr; have their stack settled by a qualified engineer.",
    ),
    words=("shim", "spacer", "packer", "levelling", "horseshoe", "slot", "foot", "alignment", "truing"),
    presets=(
        Preset(
            "Table to true, leg foot, M12",
            "width=60 height=60 slot_depth=38 bolt=M12 thickness=3 tab_hole=8 tab_width=25",
            is_metric=True,
        ),
        Preset(
            "Table to true, gantry foot, two bolts at 90",
            "width=150 slots=2 pitch=90 bolt=M12 thickness=2 height=90 tab_width=40",
            is_metric=True,
        ),
        Preset("Trailer hitch packer, no tab", "width=120 height=70 slots=2 slot_depth=45 tab_length=0"),
        Preset(
            "Table to true, bearing block, 1/2 in bolts",
            "width=9in height=2-1/2in slots=2 pitch=6in slot_depth=1-1/2in bolt=1/2 thickness=11ga",
        ),
    ),
)

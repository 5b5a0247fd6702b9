r"""Face plate of a vehicle bumper: tapered ends, clipped top corners, lamps, winch window, slots, plate holes.

 _______________________________      clip cuts the top corners
/   __        _______        __  \    taper_length, taper_rise lift the ends for the tyres
|  (__)  ||  |_______|  ||  (__)  |   mounting slots stand in pairs at the frame horns
 \_                             _/    everything is the same left and right of the middle
   \___________________________/
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry.draft import (
    Corner,
    chamfer,
    circle,
    circles,
    fillet,
    largest_fillet,
    polygon,
    rectangle,
    slot,
)
from parts.geometry.segment import Point
from parts.parameter import BY_DIAMETER, bolt, choice, fit, flag, hole_diameter, length
from parts.profile import Dimension, Opening, Profile, openings
from parts.template import Parameters, Template


class PlateBumper(Parameters):
    """The middle of the lower edge is at the origin."""

    width: float = length("Width", default=1800, minimum=300, maximum=3000)
    height: float = length("Height", default=250, minimum=80, maximum=800)
    taper_length: float = length("Taper at each end, along", default=250, minimum=0, maximum=1200)
    taper_rise: float = length("Taper at each end, up", default=90, minimum=0, maximum=700)
    clip: float = length("Clip at the top corners", default=40, minimum=0, maximum=300)
    corner_radius: float = length("Radius at the lower corners", default=15, minimum=0, maximum=300)
    lamps: str = choice("Lamps", default="round", choices=("none", "round", "rectangle"), group="Lamps")
    lamp_spacing: float = length("Between lamp centres", default=1300, minimum=50, maximum=2900, group="Lamps")
    lamp_up: float = length("Lamp centres from below", default=165, minimum=10, maximum=790, group="Lamps")
    lamp_width: float = length("Lamp width or diameter", default=90, minimum=10, maximum=500, group="Lamps")
    lamp_height: float = length("Lamp height", default=60, minimum=10, maximum=500, group="Lamps")
    lamp_radius: float = length("Lamp corner radius", default=10, minimum=0, maximum=250, group="Lamps")
    winch: bool = flag("Winch window", default=True, group="Winch or tow opening")
    winch_width: float = length("Window width", default=180, minimum=20, maximum=800, group="Winch or tow opening")
    winch_height: float = length("Window height", default=60, minimum=20, maximum=500, group="Winch or tow opening")
    winch_up: float = length(
        "Window centre from below", default=150, minimum=10, maximum=790, group="Winch or tow opening"
    )
    winch_bolts: float = length(
        "Between its bolt holes", default=254, minimum=30, maximum=1000, group="Winch or tow opening"
    )
    slots: bool = flag("Mounting slots", default=True, group="Mounting")
    horn_spacing: float = length("Between frame horns", default=850, minimum=60, maximum=2800, group="Mounting")
    slot_pair: float = length("Between a pair of slots", default=70, minimum=10, maximum=600, group="Mounting")
    slot_up: float = length("Slot centres from below", default=125, minimum=10, maximum=790, group="Mounting")
    slot_length: float = length("Slot length", default=35, minimum=5, maximum=300, group="Mounting")
    bolt: str = bolt("Bolt", default="M12", group="Mounting")
    fit: str = fit(group="Mounting")
    hole: float = length("Bolt hole diameter", default=13.5, minimum=1, maximum=60, group="Mounting")
    plate_holes: bool = flag("Number-plate holes", default=True, group="Number plate")
    plate_spacing: float = length("Between them", default=180, minimum=20, maximum=600, group="Number plate")
    plate_up: float = length("From below", default=55, minimum=5, maximum=790, group="Number plate")
    plate_hole: float = length("Their diameter", default=9, minimum=1, maximum=40, group="Number plate")

    @property
    def bolt_hole(self) -> float:
        """Diameter of the bolt holes, and width of the slots."""
        return hole_diameter(self.bolt, self.fit, self.hole)

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the lower left."""
        half, h, r = self.width / 2, self.height, self.corner_radius
        flat = half - self.taper_length
        if self.taper_length and self.taper_rise:
            low_right = [fillet(flat, 0, r), fillet(half, self.taper_rise, r)]
            low_left = [fillet(-half, self.taper_rise, r), fillet(-flat, 0, r)]
        else:
            low_right, low_left = [fillet(half, 0, r)], [fillet(-half, 0, r)]
        top = [chamfer(half, h, self.clip), chamfer(-half, h, self.clip)]
        return [*low_right, *top, *low_left]

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the outline leaves no end or no lower edge, or a slot is shorter than wide."""
        clash = [
            *self.under("taper_length", self.width / 2, "for a lower edge to be left"),
            *self.under("taper_rise", self.height - self.clip, "below the clip"),
            *self.under("clip", min(self.height, self.width / 2), "at the top corners"),
        ]
        yield from clash
        if not clash:
            sharp = [(c.at if c.kind == "chamfer" else c) if isinstance(c, Corner) else c for c in self.corners]
            yield from self.at_most("corner_radius", self._room(largest_fillet(sharp)), "at the lower corners")
        if self.lamps == "rectangle":
            yield from self.at_most("lamp_radius", min(self.lamp_width, self.lamp_height) / 2, "in the lamp")
        if self.slots and self.slot_length < self.bolt_hole:
            name = "hole" if self.bolt == BY_DIAMETER else "bolt"
            yield self.problem("slot_length", f"must be at least the {name}'s {self.say(self.bolt_hole)}.")

    def _room(self, least: float) -> float:
        """The largest lower radius, the clip taking its part of the end edge."""
        rise = self.taper_rise if self.taper_length else 0.0
        turn = math.atan2(self.taper_length, rise) if rise else math.pi / 2
        return min(least, (self.height - rise - self.clip) / math.tan(turn / 2)) if turn else least


def outline(p: PlateBumper) -> Profile:
    """Draw the face from the middle of its lower edge."""
    inside = (*_lamps(p), *_winch(p), *_slots(p), *_plate_holes(p))
    return Profile(outside=(polygon(p.corners),), inside=inside, dimensions=tuple(dimensions(p)))


def _lamps(p: PlateBumper) -> tuple[Opening, ...]:
    if p.lamps == "none":
        return ()
    centres = [(s * p.lamp_spacing / 2, p.lamp_up) for s in (-1, 1)]
    if p.lamps == "round":
        return openings(circles(centres, p.lamp_width), "lamp opening", "lamp_width")
    w, h = p.lamp_width, p.lamp_height
    loops = (rectangle((x - w / 2, y - h / 2), w, h, p.lamp_radius) for x, y in centres)
    return openings(loops, "lamp opening", "lamp_width")


def _winch(p: PlateBumper) -> tuple[Opening, ...]:
    if not p.winch:
        return ()
    w, h = p.winch_width, p.winch_height
    radius = min(w, h) / 6
    window = rectangle((-w / 2, p.winch_up - h / 2), w, h, radius)
    bolts = [circle((s * p.winch_bolts / 2, p.winch_up), p.bolt_hole) for s in (-1, 1)]
    return (
        Opening(window, "winch window", "winch_width"),
        *openings(bolts, "winch bolt hole", "winch_bolts"),
    )


def _slots(p: PlateBumper) -> tuple[Opening, ...]:
    if not p.slots:
        return ()
    centres = [(side * p.horn_spacing / 2 + off * p.slot_pair / 2, p.slot_up) for side in (-1, 1) for off in (-1, 1)]
    loops = (slot(at, p.slot_length, p.bolt_hole, math.pi / 2) for at in centres)
    return openings(loops, "mounting slot", "slot_pair")


def _plate_holes(p: PlateBumper) -> tuple[Opening, ...]:
    if not p.plate_holes:
        return ()
    centres = [(s * p.plate_spacing / 2, p.plate_up) for s in (-1, 1)]
    return openings(circles(centres, p.plate_hole), "number-plate hole", "plate_spacing")


def dimensions(p: PlateBumper) -> Iterator[Dimension]:
    """Yield where each length of the face can be measured."""
    half, h = p.width / 2, p.height
    yield Dimension("width", (-half, 0), (half, 0), "below")
    yield Dimension("height", (-half, 0), (-half, h), "left")
    if p.taper_length and p.taper_rise:
        yield Dimension("taper_length", (half - p.taper_length, 0), (half, 0), "below")
        yield Dimension("taper_rise", (half, 0), (half, p.taper_rise), "right")
    if p.clip:
        yield Dimension("clip", (half - p.clip, h), (half, h), "above")
    if p.corner_radius and not (p.taper_length and p.taper_rise):
        r, k = p.corner_radius, p.corner_radius * math.sqrt(0.5)
        yield Dimension("corner_radius", (half - r, r), (half - r + k, r - k), "radius")
    yield from _opening_dimensions(p)
    if p.slots:
        x, y = p.horn_spacing / 2, p.slot_up
        yield Dimension("horn_spacing", (-x, y), (x, y), "below")
        yield Dimension("slot_pair", (x - p.slot_pair / 2, y), (x + p.slot_pair / 2, y), "below")
        yield Dimension("slot_up", (-x, 0), (-x, y), "left")
        side = x + p.slot_pair / 2
        yield Dimension("slot_length", (side, y - p.slot_length / 2), (side, y + p.slot_length / 2), "right")
    if p.plate_holes:
        x, y = p.plate_spacing / 2, p.plate_up
        yield Dimension("plate_spacing", (-x, y), (x, y), "below")
        yield Dimension("plate_up", (-x, 0), (-x, y), "left")
        yield Dimension("plate_hole", (x, y), (x + p.plate_hole / 2, y), "diameter")


def _opening_dimensions(p: PlateBumper) -> Iterator[Dimension]:
    if p.lamps != "none":
        x, y, w = p.lamp_spacing / 2, p.lamp_up, p.lamp_width / 2
        yield Dimension("lamp_spacing", (-x, y), (x, y), "above")
        yield Dimension("lamp_up", (x, 0), (x, y), "right")
        if p.lamps == "round":
            yield Dimension("lamp_width", (x, y), (x + w, y), "diameter")
        else:
            yield Dimension("lamp_width", (x - w, y), (x + w, y), "above")
            yield Dimension("lamp_height", (x, y - p.lamp_height / 2), (x, y + p.lamp_height / 2), "right")
        if p.lamps == "rectangle" and p.lamp_radius:
            r, k = p.lamp_radius, p.lamp_radius * math.sqrt(0.5)
            cx, cy = x + w - r, y + p.lamp_height / 2 - r
            yield Dimension("lamp_radius", (cx, cy), (cx + k, cy + k), "radius")
    if p.winch:
        w, y = p.winch_width / 2, p.winch_up
        yield Dimension("winch_width", (-w, y), (w, y), "above")
        yield Dimension("winch_height", (w, y - p.winch_height / 2), (w, y + p.winch_height / 2), "right")
        yield Dimension("winch_up", (-w, 0), (-w, y), "left")
        yield Dimension("winch_bolts", (-p.winch_bolts / 2, y), (p.winch_bolts / 2, y), "above")


TEMPLATE = Template(
    "plate-bumper",
    "Bumper face plate",
    PlateBumper,
    outline,
    summary="The face of a vehicle bumper: tapered and clipped ends, lamps, winch window, mounting slots, plate holes.",
    cautions=(
        "A bumper changes how a vehicle crashes and how its air-bag sensors and pedestrian protection work: local "
        "vehicle rules and type approval come first.",
        "Lamps and the number plate must stay visible; winch and tow points need a rated design by a qualified person.",
    ),
    words=("vehicle", "truck", "trailer", "front", "rear", "winch", "lamp"),
)

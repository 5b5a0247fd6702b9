r"""Face plate of a vehicle bumper: tapered ends, lamp and tow openings, mounting slots, number-plate holes.

      ________________________________________________
     /            o     _____     o                   \    clip cuts the top corners
    |  (  )   ==     o |_____| o     ==          (  )  |   lamps; slots at the frame horns
    |         ==     o         o     ==                |   winch: fairlead window and its bolts
     \__                                            __/    taper_rise lifts the ends for the tyres
        \__________________________________________/
                                        taper_length

Slots for the tabs of wings, mounts and gussets locate them for welding: give those plates like values.
Everything is the same left and right of the middle; every height is measured from the lower edge.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import ClassVar

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, polygon
from parts.geometry.figure import Window, hole, level_slot, upright_slot
from parts.profile import Dimension, Profile
from parts.spec import BY_DIAMETER, Preset, Template, bolt, bolt_mm, choice, fit, flag, hole_diameter, length
from parts.templates.plate.shared.face_joints import FaceJoints
from parts.templates.plate.shared.feature_rooms import height_problems, meeting_problems, spacing_problems
from parts.templates.plate.shared.tapered_face import OUTLINE, TaperedFace
from parts.templates.plate.shared.tow_opening import TowOpening, pair_problems, slot_problems, stacked
from parts.templates.shared.feature import Edge, Feature, across, both_halves, diameter, upright, window_sizes
from parts.templates.shared.lettered import Lettered

_BOLTS, _LAMPS, _HORNS, _PLATE = "Bolts", "Lamps", "Mounting", "Number plate"


class PlateBumper(TaperedFace, FaceJoints, TowOpening, Lettered):
    """The middle of the lower edge is at the origin."""

    leading: ClassVar[tuple[str, ...]] = OUTLINE

    fit: str = fit(group=_BOLTS, of=("winch_bolt", "bolt", "skid_bolt"))
    lamps: str = choice("Lamps", default="round", choices=("none", "round", "rectangle"), group=_LAMPS)
    lamp_spacing: float = length(
        "Between lamp centres", default=1300, minimum=50, maximum=2900, group=_LAMPS, when=("lamps",), moves="care"
    )
    lamp_up: float = length(
        "Lamp centres up", default=155, minimum=10, maximum=790, group=_LAMPS, when=("lamps",), moves="care"
    )
    lamp_width: float = length(
        "Lamp width or diameter", default=90, minimum=10, maximum=500, group=_LAMPS, when=("lamps",)
    )
    lamp_height: float = length(
        "Lamp height", default=60, minimum=10, maximum=500, group=_LAMPS, when=("lamps", "rectangle")
    )
    lamp_radius: float = length(
        "Lamp corner radius", default=10, minimum=0, maximum=250, group=_LAMPS, when=("lamps", "rectangle")
    )
    slots: str = choice(
        "Mounting slots",
        default="horizontal",
        choices=("none", "horizontal", "vertical"),
        group=_HORNS,
        help="A pair, one above the other, at each frame horn.",
    )
    horn_spacing: float = length(
        "Between frame-horn centres", default=850, minimum=40, maximum=2800, group=_HORNS, when=("slots",)
    )
    slot_up: float = length(
        "Mounting slots, middle of a pair up",
        default=125,
        minimum=10,
        maximum=790,
        group=_HORNS,
        when=("slots",),
        moves="care",
    )
    slot_pair: float = length(
        "Between slot centres of a pair, up", default=100, minimum=5, maximum=700, group=_HORNS, when=("slots",)
    )
    bolt: str = bolt("Mounting bolts", default="M12", diameter="hole", group=_HORNS, when=("slots",))
    hole: float = length("Mounting hole diameter", default=13.5, inches="9/16", minimum=1, maximum=60, group=_HORNS)
    slot_length: float = length(
        "Mounting slot length",
        default=35,
        minimum=0,
        maximum=300,
        group=_HORNS,
        help="Over all; 0 for round holes.",
        when=("slots",),
        moves="care",
    )
    plate_holes: bool = flag("Number-plate holes", default=True, group=_PLATE)
    plate_spacing: float = length(
        "Between number-plate hole centres", default=180, minimum=10, maximum=900, group=_PLATE, when=("plate_holes",)
    )
    plate_up: float = length(
        "Number-plate holes up", default=205, minimum=5, maximum=790, group=_PLATE, when=("plate_holes",), moves="care"
    )
    plate_hole: float = length(
        "Number-plate hole diameter", default=9, minimum=1, maximum=40, group=_PLATE, when=("plate_holes",)
    )

    @property
    def mounting_hole(self) -> float:
        """Diameter of the mounting holes, and width of the slots."""
        return hole_diameter(self.bolt, self.fit, self.hole)

    @property
    def hole_fit(self) -> str:
        """How loose the skid's holes are."""
        return self.fit

    @property
    def features(self) -> tuple[Feature, ...]:
        """What is cut into the face, in form order."""
        return (*_lamps(self), *self.tow_features, *_slots(self), *_plate_holes(self), *self.joint_features)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the outline doesn't close, or an opening leaves it or runs into another."""
        clash = [*self.outline_problems(), *_size_problems(self)]
        clash = clash or [*(self.notch_problems(*self.end_straight) if self.is_notched else ())]
        clash = clash or [*height_problems(self, self.features, self.height)]
        edges = self.bounds
        clash = clash or [problem for each in self.features for problem in spacing_problems(self, each, edges)]
        yield from clash or meeting_problems(self, self.features, edges)

    @property
    def bounds(self) -> tuple[Edge, ...]:
        """The edges that bound the right half: the end is taken at the ground of its notches."""
        inner = (1.0, 0.0, self.width / 2 - self.notch_depth)
        return (*((inner,) if self.is_notched else ()), *self.edges)

    @property
    def outline(self) -> Loop:
        """The edge of the face, counter-clockwise from the right end of its lower edge."""
        if not self.is_notched:
            return super().outline
        right: list[Corner | Point] = list(self.corners)
        end = next(i for i, corner in enumerate(self.corners) if corner.at == (self.width / 2, self.taper_rise)) + 1
        return polygon(both_halves([*right[:end], *self.notches(self.width / 2), *right[end:]]))


def _lamps(p: PlateBumper) -> Iterator[Feature]:
    at = p.lamp_spacing / 2, p.lamp_up
    if p.lamps == "round":
        yield Feature("lamp opening", (hole(at, p.lamp_width),), "lamp_up", "lamp_spacing")
    elif p.lamps == "rectangle":
        lamp = Window(at, p.lamp_width, p.lamp_height, p.lamp_radius)
        yield Feature("lamp opening", (lamp,), "lamp_up", "lamp_spacing")


def _slots(p: PlateBumper) -> Iterator[Feature]:
    if p.slots == "none":
        return
    drawn = level_slot if p.slots == "horizontal" else upright_slot
    slot = drawn((p.horn_spacing / 2, p.slot_up), p.slot_length, p.mounting_hole)
    name = "mounting slot" if p.slot_length else "mounting hole"
    yield Feature(name, stacked(slot, p.slot_pair), "slot_up", "horn_spacing", bolt=bolt_mm(p.bolt))


def _plate_holes(p: PlateBumper) -> Iterator[Feature]:
    if p.plate_holes:
        window = hole((p.plate_spacing / 2, p.plate_up), p.plate_hole)
        yield Feature("number-plate hole", (window,), "plate_up", "plate_spacing")


def _size_problems(p: PlateBumper) -> Iterator[Problem]:
    """Yield a problem where an opening is too tall for the face, or its own sizes don't go together."""
    if p.lamps == "round":
        yield from p.under("lamp_width", p.height, "in the height of the face")
    elif p.lamps == "rectangle":
        yield from p.under("lamp_height", p.height, "in the height of the face")
        yield from p.at_most("lamp_radius", min(p.lamp_width, p.lamp_height) / 2, "in the lamp opening")
    yield from p.tow_problems(p.height)
    if p.slots != "none":
        yield from pair_problems(p, "slot_pair", next(_slots(p)).windows[0].height, p.height)
        yield from slot_problems(p, "slot_length", p.mounting_hole)
    if any((p.wing_slots, p.mount_slots, p.gusset_slots, p.tray_slots)):
        yield from p.slot_problems()


def outline(p: PlateBumper) -> Profile:
    """Draw the face counter-clockwise from the right end of its lower edge."""
    inside = tuple(opening for feature in p.features for opening in feature.openings)
    return Profile(outside=(p.outline,), inside=inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateBumper) -> Iterator[Dimension]:
    """Yield where each length of the face can be measured."""
    yield from p.outline_measured()
    heights: set[str] = set()
    for feature in p.features:
        placed = feature.places(-p.foot[0], getattr(p, feature.up))
        yield from (d for d in placed if d.parameter not in heights)
        heights.add(feature.up)
        yield from _SIZES[feature.spacing or feature.breadth](p, feature)
    yield from _joints_measured(p)


def _joints_measured(p: PlateBumper) -> Iterator[Dimension]:
    """Yield the lengths of the tabs where they are shown first."""
    slots = next((each for each in p.joint_features if each.name in _TAB_SLOTS), None)
    if p.is_notched:
        yield from p.notches_measured(p.width / 2, -p.foot[0])
        yield from p.slots_measured(p.width / 2 - p.through / 2, p.wing_up)
    elif slots and slots.name != "tray slot":
        yield from p.slots_measured(slots.x, getattr(p, slots.up))
    elif slots:
        yield from p.tray_measured(slots)


def _lamp_sizes(p: PlateBumper, feature: Feature) -> Iterator[Dimension]:
    lamp = feature.windows[0]
    if p.lamps == "round":
        yield diameter("lamp_width", lamp)
    else:
        yield from window_sizes("lamp", lamp)


def _mounting_sizes(p: PlateBumper, feature: Feature) -> Iterator[Dimension]:
    low, high = feature.windows
    along, over = (across, upright) if p.slots == "horizontal" else (upright, across)
    yield Dimension("slot_pair", low.centre, high.centre, "right")
    if p.slot_length:
        yield along("slot_length", low)
    if p.bolt == BY_DIAMETER:
        yield over("hole", low) if p.slot_length else diameter("hole", low)


_SIZES: Mapping[str, Callable[[PlateBumper, Feature], Iterator[Dimension]]] = {
    "lamp_spacing": _lamp_sizes,
    "winch_width": lambda _, feature: window_sizes("winch", feature.windows[0]),
    "winch_bolts": lambda p, feature: p.fairlead_measured(feature),
    "hook_spacing": lambda p, feature: p.hooks_measured(feature.windows[0]),
    "horn_spacing": _mounting_sizes,
    "plate_spacing": lambda _, feature: iter((diameter("plate_hole", feature.windows[0]),)),
    "skid_spacing": lambda p, feature: p.skid_measured(feature),
    **dict.fromkeys(("wing_spacing", "mount_spacing", "gusset_spacing", "tray_spacing"), lambda *_: iter(())),
}
_TAB_SLOTS = "wing slot", "mount slot", "gusset slot", "tray slot"

TEMPLATE = Template(
    "plate-bumper",
    "Bumper face plate",
    PlateBumper,
    outline,
    summary="The face of a vehicle bumper: tapered, clipped ends, lamps, a fairlead or tow hooks, mounting slots, and "
    "slots for the tabs of wings, mounts and gussets (small, medium and large set).",
    cautions=(
        "A bumper changes how a vehicle crashes: crumple zones, air-bag sensors, parking sensors and the protection "
        "of people on foot. Local vehicle rules and type approval come first.",
        "Lamps and the number plate must stay where the rules want them, and visible.",
        "Winch and tow points, their bolts and what they are bolted to need a rated design by a qualified person: a "
        "part that lets go under load can kill.",
    ),
    words=("vehicle", "truck", "trailer", "front", "rear", "winch", "fairlead", "tow", "lamp", "license", "licence"),
    set_of="bumper",
    presets=(
        Preset("Farm pick-up with winch"),
        Preset("Ranch truck, two-bolt fairlead", "winch_rows=0 winch_height=45 winch_width=200 tow_up=115"),
        Preset(
            "Small utility, tow hooks",
            "width=1500 height=220 tow=tow-hooks "
            "lamp_spacing=1150 horn_spacing=760 lamp_up=130 plate_up=180 "
            "taper_rise=70",
        ),
        Preset(
            "Trailer rear face, plain",
            "width=1700 height=160 lamps=none tow=none taper_rise=0 clip=30 slot_up=80 slot_pair=70 plate_up=130",
        ),
        Preset(
            "Small set: 1500 by 200 face",
            "width=1500 height=200 clip=30 taper_rise=70 tow=tow-hooks hook_tab=16 "
            "tow_up=95 lamp_spacing=1150 lamp_up=130 "
            "plate_up=170 slots=none wing_slots=on wing_spacing=1440 wing_up=75 mount_slots=on mount_spacing=760 "
            "mount_up=45 gusset_slots=on gusset_spacing=420 gusset_up=45 tab_pitch=46",
            inch_name="Small set: 60 by 8 in face",
            inches="tab_pitch=1-7/8 hook_tab=5/8",
        ),
        Preset(
            "Medium set: 1800 by 250 face",
            "slots=none wing_slots=on mount_slots=on gusset_slots=on",
            inch_name="Medium set: 72 by 10 in face",
        ),
        Preset(
            "Large set: 2000 by 300 face",
            "width=2000 height=300 taper_rise=110 lamp_spacing=1450 lamp_up=185 plate_up=255 slots=none wing_slots=on "
            "wing_spacing=1940 wing_up=115 mount_slots=on mount_spacing=900 gusset_slots=on gusset_spacing=620 "
            "tab_pitch=100 tow_up=130",
            inch_name="Large set: 78 by 12 in face",
            inches="wing_spacing=76",
        ),
    ),
)

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
from parts.geometry.figure import Window, hole, level_slot, upright_slot
from parts.profile import Dimension, Profile
from parts.spec import BY_DIAMETER, Preset, Template, When, bolt, bolt_mm, choice, fit, flag, hole_diameter, length
from parts.templates.plate.shared.feature_rooms import height_problems, meeting_problems, spacing_problems
from parts.templates.plate.shared.tapered_face import OUTLINE, TaperedFace
from parts.templates.shared.feature import Feature, across, diameter, upright, window_sizes
from parts.templates.shared.hole_making import WorkedHoles, hole_kind, where_worked
from parts.templates.shared.lettered import Lettered
from parts.templates.shared.tabs import TabSlots

_BOLTS, _LAMPS, _TOW, _HORNS, _PLATE = "Bolts", "Lamps", "Winch or tow opening", "Mounting", "Number plate"
_WELDED = "Slots for tabs"
_SLOTTED = [("wing_slots",), ("mount_slots",), ("gusset_slots",)]
_OF_TABS = "tabs", "tab_length", "tab_first", "tab_relief", "tab_thickness", "tab_clearance"


class PlateBumper(TaperedFace, TabSlots, WorkedHoles, Lettered):
    """The middle of the lower edge is at the origin."""

    hole_groups: ClassVar[Mapping[str, tuple[str, str]]] = {"winch_bolt": ("winch_hole_kind", "fairlead")}
    optional: ClassVar[tuple[str, ...]] = ("winch_hole_kind",)

    leading: ClassVar[tuple[str, ...]] = OUTLINE
    shared_when: ClassVar[Mapping[str, When]] = {
        **dict.fromkeys(_OF_TABS, _SLOTTED),
        **where_worked("winch_hole_kind"),
    }

    fit: str = fit(group=_BOLTS, of=("winch_bolt", "bolt"))
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
    tow: str = choice(
        "Opening in the middle", default="fairlead", choices=("none", "fairlead", "tow-hooks"), group=_TOW
    )
    tow_up: float = length(
        "Fairlead centre up", default=110, minimum=10, maximum=790, group=_TOW, when=("tow",), moves="care"
    )
    winch_width: float = length(
        "Fairlead window width", default=180, minimum=20, maximum=800, group=_TOW, when=("tow", "fairlead")
    )
    winch_height: float = length(
        "Fairlead window height", default=60, minimum=20, maximum=500, group=_TOW, when=("tow", "fairlead")
    )
    winch_radius: float = length(
        "Fairlead window corner radius",
        default=12,
        minimum=0,
        maximum=250,
        group=_TOW,
        when=("tow", "fairlead"),
        moves="care",
    )
    winch_bolt: str = bolt("Fairlead bolts", default="M12", diameter="winch_hole", group=_TOW, when=("tow", "fairlead"))
    winch_hole: float = length("Fairlead hole diameter", default=13.5, inches="9/16", minimum=1, maximum=60, group=_TOW)
    winch_slot: float = length(
        "Fairlead slot length",
        default=0,
        minimum=0,
        maximum=300,
        group=_TOW,
        help="Along; 0 for round holes.",
        when=("tow", "fairlead"),
    )
    winch_bolts: float = length(
        "Between fairlead bolt centres, along",
        default=254,
        minimum=30,
        maximum=1500,
        group=_TOW,
        when=("tow", "fairlead"),
    )
    winch_rows: float = length(
        "Between fairlead bolt centres, up",
        default=50,
        minimum=0,
        maximum=600,
        group=_TOW,
        help="0: one bolt on each side, as fairleads of two bolts have.",
        when=("tow", "fairlead"),
    )
    hook_spacing: float = length(
        "Between tow-hook slot centres", default=560, minimum=30, maximum=2800, group=_TOW, when=("tow", "tow-hooks")
    )
    hook_width: float = length(
        "Hook slot width", default=32, minimum=5, maximum=200, group=_TOW, when=("tow", "tow-hooks")
    )
    hook_height: float = length(
        "Hook slot height", default=90, minimum=5, maximum=400, group=_TOW, when=("tow", "tow-hooks")
    )
    hook_radius: float = length(
        "Hook slot corner radius",
        default=8,
        minimum=0,
        maximum=100,
        group=_TOW,
        when=("tow", "tow-hooks"),
        moves="care",
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
    wing_slots: bool = flag("Slots for wings", group=_WELDED, help="bumper-wing, near the ends.")
    wing_spacing: float = length(
        "Between wing centres", default=1740, inches="70", minimum=40, maximum=2980, group=_WELDED, when=("wing_slots",)
    )
    wing_up: float = length(
        "Foot of the wings up", default=95, minimum=0, maximum=780, group=_WELDED, when=("wing_slots",)
    )
    mount_slots: bool = flag("Slots for mounts", group=_WELDED, help="bumper-mount, instead of mounting bolts.")
    mount_spacing: float = length(
        "Between mount centres", default=850, minimum=40, maximum=2900, group=_WELDED, when=("mount_slots",)
    )
    mount_up: float = length(
        "Foot of the mounts up", default=50, minimum=0, maximum=780, group=_WELDED, when=("mount_slots",)
    )
    gusset_slots: bool = flag("Slots for gussets", group=_WELDED, help="bumper-gusset, as braces behind the face.")
    gusset_spacing: float = length(
        "Between gusset centres", default=560, minimum=40, maximum=2900, group=_WELDED, when=("gusset_slots",)
    )
    gusset_up: float = length(
        "Foot of the gussets up", default=50, minimum=0, maximum=780, group=_WELDED, when=("gusset_slots",)
    )
    winch_hole_kind: str = hole_kind("winch_bolt", "Fairlead holes are made")

    @property
    def mounting_hole(self) -> float:
        """Diameter of the mounting holes, and width of the slots."""
        return hole_diameter(self.bolt, self.fit, self.hole)

    @property
    def fairlead_hole(self) -> float:
        """Diameter of the fairlead's holes, and width of its slots."""
        return hole_diameter(self.winch_bolt, self.fit, self.winch_hole)

    @property
    def features(self) -> tuple[Feature, ...]:
        """What is cut into the face, in form order."""
        return (*_lamps(self), *_tow(self), *_slots(self), *_plate_holes(self), *_tab_slots(self))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the outline doesn't close, or an opening leaves it or runs into another."""
        clash = [*self.outline_problems(), *_size_problems(self)]
        clash = clash or [*height_problems(self, self.features, self.height)]
        clash = clash or [problem for each in self.features for problem in spacing_problems(self, each, self.edges)]
        yield from clash or meeting_problems(self, self.features, self.edges)


def _lamps(p: PlateBumper) -> Iterator[Feature]:
    at = p.lamp_spacing / 2, p.lamp_up
    if p.lamps == "round":
        yield Feature("lamp opening", (hole(at, p.lamp_width),), "lamp_up", "lamp_spacing")
    elif p.lamps == "rectangle":
        lamp = Window(at, p.lamp_width, p.lamp_height, p.lamp_radius)
        yield Feature("lamp opening", (lamp,), "lamp_up", "lamp_spacing")


def _tow(p: PlateBumper) -> Iterator[Feature]:
    if p.tow == "fairlead":
        window = Window((0.0, p.tow_up), p.winch_width, p.winch_height, p.winch_radius)
        yield Feature("fairlead window", (window,), "tow_up", breadth="winch_width")
        bolts = level_slot((p.winch_bolts / 2, p.tow_up), p.winch_slot, p.fairlead_hole)
        name = "fairlead bolt slot" if p.winch_slot else "fairlead bolt hole"
        yield Feature(name, _stacked(bolts, p.winch_rows), "tow_up", "winch_bolts", bolt=bolt_mm(p.winch_bolt))
    elif p.tow == "tow-hooks":
        hook = Window((p.hook_spacing / 2, p.tow_up), p.hook_width, p.hook_height, p.hook_radius)
        yield Feature("tow-hook slot", (hook,), "tow_up", "hook_spacing")


def _slots(p: PlateBumper) -> Iterator[Feature]:
    if p.slots == "none":
        return
    drawn = level_slot if p.slots == "horizontal" else upright_slot
    slot = drawn((p.horn_spacing / 2, p.slot_up), p.slot_length, p.mounting_hole)
    name = "mounting slot" if p.slot_length else "mounting hole"
    yield Feature(name, _stacked(slot, p.slot_pair), "slot_up", "horn_spacing", bolt=bolt_mm(p.bolt))


def _plate_holes(p: PlateBumper) -> Iterator[Feature]:
    if p.plate_holes:
        window = hole((p.plate_spacing / 2, p.plate_up), p.plate_hole)
        yield Feature("number-plate hole", (window,), "plate_up", "plate_spacing")


def _tab_slots(p: PlateBumper) -> Iterator[Feature]:
    for kind in ("wing", "mount", "gusset"):
        if getattr(p, f"{kind}_slots"):
            x, foot = getattr(p, f"{kind}_spacing") / 2, getattr(p, f"{kind}_up")
            slots = tuple(p.tab_slot((x, foot + up)) for up in p.tab_heights)
            yield Feature(f"{kind} slot", slots, f"{kind}_up", f"{kind}_spacing")


def _stacked(window: Window, apart: float) -> tuple[Window, ...]:
    """Two of a window, one half of `apart` below its place and one above; one where it is 0."""
    x, y = window.centre
    return (window.at(x, y - apart / 2), window.at(x, y + apart / 2)) if apart else (window,)


def _size_problems(p: PlateBumper) -> Iterator[Problem]:
    """Yield a problem where an opening is too tall for the face, or its own sizes don't go together."""
    if p.lamps == "round":
        yield from p.under("lamp_width", p.height, "in the height of the face")
    elif p.lamps == "rectangle":
        yield from p.under("lamp_height", p.height, "in the height of the face")
        yield from p.at_most("lamp_radius", min(p.lamp_width, p.lamp_height) / 2, "in the lamp opening")
    if p.tow == "fairlead":
        yield from p.under("winch_height", p.height, "in the height of the face")
        yield from p.at_most("winch_radius", min(p.winch_width, p.winch_height) / 2, "in the window")
        yield from _slot_problems(p, "winch_slot", p.fairlead_hole)
        if p.winch_rows:
            yield from _pair_problems(p, "winch_rows", p.fairlead_hole)
    elif p.tow == "tow-hooks":
        yield from p.under("hook_height", p.height, "in the height of the face")
        yield from p.at_most("hook_radius", min(p.hook_width, p.hook_height) / 2, "in the slot")
    if p.slots != "none":
        yield from _pair_problems(p, "slot_pair", next(_slots(p)).windows[0].height)
        yield from _slot_problems(p, "slot_length", p.mounting_hole)
    if any(_tab_slots(p)):
        yield from p.slot_problems()


def _slot_problems(p: PlateBumper, name: str, width: float) -> Iterator[Problem]:
    """Yield a problem where a slot is shorter than its bolt needs."""
    if 0 < getattr(p, name) < width:
        yield p.problem(name, f"must be 0, or at least the hole's {p.say(width)}.")


def _pair_problems(p: PlateBumper, name: str, each: float) -> Iterator[Problem]:
    """Yield a problem where two openings one above the other meet, or are too tall together for the face."""
    clash = [*p.over(name, each, "to keep metal between them")]
    yield from clash or p.under(name, p.height - each, "in the height of the face")


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
    if slots := next(_tab_slots(p), None):
        yield from p.slots_measured(slots.x, getattr(p, slots.up))


def _lamp_sizes(p: PlateBumper, feature: Feature) -> Iterator[Dimension]:
    lamp = feature.windows[0]
    if p.lamps == "round":
        yield diameter("lamp_width", lamp)
    else:
        yield from window_sizes("lamp", lamp)


def _fairlead_sizes(p: PlateBumper, feature: Feature) -> Iterator[Dimension]:
    low, high = feature.windows[0], feature.windows[-1]
    if p.winch_rows:
        yield Dimension("winch_rows", low.centre, high.centre, "right")
    if p.winch_slot:
        yield across("winch_slot", low)
    if p.winch_bolt == BY_DIAMETER:
        yield upright("winch_hole", low) if p.winch_slot else diameter("winch_hole", low)


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
    "winch_bolts": _fairlead_sizes,
    "hook_spacing": lambda _, feature: window_sizes("hook", feature.windows[0]),
    "horn_spacing": _mounting_sizes,
    "plate_spacing": lambda _, feature: iter((diameter("plate_hole", feature.windows[0]),)),
    **dict.fromkeys(("wing_spacing", "mount_spacing", "gusset_spacing"), lambda *_: iter(())),
}

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
            "width=1500 height=220 tow=tow-hooks hook_width=21 hook_radius=2 "
            "lamp_spacing=1150 horn_spacing=760 lamp_up=130 plate_up=180 "
            "taper_rise=70",
            inches="hook_width=13/16 hook_height=3-9/16",
        ),
        Preset(
            "Trailer rear face, plain",
            "width=1700 height=160 lamps=none tow=none taper_rise=0 clip=30 slot_up=80 slot_pair=70 plate_up=130",
        ),
        Preset(
            "Small set: 1500 by 200 face",
            "width=1500 height=200 clip=30 taper_rise=70 tow=tow-hooks hook_width=17 hook_radius=2 "
            "tow_up=95 lamp_spacing=1150 lamp_up=130 "
            "plate_up=170 slots=none wing_slots=on wing_spacing=1440 wing_up=75 mount_slots=on mount_spacing=760 "
            "mount_up=45 gusset_slots=on gusset_spacing=420 gusset_up=45 tab_pitch=46",
            inch_name="Small set: 60 by 8 in face",
            inches="tab_pitch=1-7/8 hook_width=11/16 hook_height=3-9/16",
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

r"""Bumper set: face, wings, mounts, gussets, tray and skid plate as one thing, slots and tabs of like values.

     ____________________________________     face, with the slots and notches of all others
    |________________wide________________|
     ______   ______   ____   ____   _  _
    |_wing_| |______| |mnt_| |____| |_\|_\    left and right of each
     ____________   ______________
    |  tray      | |  skid     |lip|          with a winch; the lip bolts to the face

All is cut of one plate; tow tabs, of a plate of their own, are drawn by bumper-tow-tab. Put together, mounts, gussets
and tow tabs go through the face from behind and end flush with it; wings stand in line with its ends; gussets stand on
the tray.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from parts.cached import cached_property
from parts.errors import Problem, Refused
from parts.profile import Profile
from parts.spec import (
    ACROSS,
    BACK,
    BY_DIAMETER,
    UP,
    Companion,
    Frame,
    Preset,
    Standing,
    Template,
    bolt,
    choice,
    fit,
    flag,
    length,
)
from parts.templates.bumper import gusset, mount, skid, tow_tab, winch_tray, wing
from parts.templates.bumper.shared.members import Member, laid_out, member_of
from parts.templates.plate import bumper as face
from parts.templates.plate.shared.tapered_face import OUTLINE, TaperedFace
from parts.templates.shared.bolt_holes import ClearanceHoles
from parts.templates.shared.joint import ROOT

_LAMPS, _TOW, _BEHIND, _UNDER = "Lamps", "Winch or tow opening", "Behind the face", "Underneath"
FORWARD = (0.0, -1.0, 0.0)
_SPARE = 10.0
"""Room between plates that stand beside each other, mm (common practice: a finger's width, to weld)."""
_LIP_EDGE = 1.5
"""From the bolts of the skid's lip to its end, in diameters of their holes (common practice: 1.5 to 2 of the bolt)."""
_SHOULDER, _BLOCK = 25.0, 35.0
"""How far the shoulders of a tow tab stand out, and how long it is behind the face: as bumper-tow-tab has them."""


class BumperSet(TaperedFace, ClearanceHoles):
    """The middle of the face's lower edge, on its back, is the origin of the set put together."""

    leading = OUTLINE
    effort = 2

    lamps: str = choice("Lamps", default="round", choices=("none", "round"), group=_LAMPS)
    lamp_spacing: float = length(
        "Between lamp centres", default=1300, minimum=50, maximum=2900, group=_LAMPS, when=("lamps",), moves="care"
    )
    lamp_width: float = length("Lamp diameter", default=90, minimum=10, maximum=500, group=_LAMPS, when=("lamps",))
    tow: str = choice(
        "Opening in the middle", default="fairlead", choices=("none", "fairlead", "tow-hooks"), group=_TOW,
        help="fairlead: with a winch tray behind it. tow-hooks: slots, and tow tabs of a plate of their own.",
    )  # fmt: skip
    hook_spacing: float = length(
        "Between tow-hook slot centres", default=700, minimum=30, maximum=2800, group=_TOW, when=("tow", "tow-hooks")
    )
    hook_tab: float = length(
        "Tow tab, thickness", default=20, inches="3/4", minimum=3, maximum=150, group=_TOW, when=("tow", "tow-hooks")
    )
    stand: float = length("Mounts and gussets, height at the face", default=120, minimum=40, maximum=700, group=_BEHIND)
    mount_spacing: float = length(
        "Between mount centres", default=850, minimum=80, maximum=2900, group=_BEHIND, help="The frame horns."
    )
    mount_reach: float = length("Mounts, length", default=240, minimum=140, maximum=1200, group=_BEHIND)
    gusset_spacing: float = length(
        "Between gusset centres", default=600, minimum=80, maximum=2900, group=_BEHIND,
        help="A winch stands between them.",
    )  # fmt: skip
    gusset_reach: float = length("Gussets, length", default=110, minimum=40, maximum=900, group=_BEHIND)
    wings: bool = flag("Wings, flush with the ends", default=True, group=_BEHIND)
    wing_reach: float = length("Wings, length", default=400, minimum=140, maximum=1500, group=_BEHIND, when=("wings",))
    skid: bool = flag("Skid plate", default=True, group=_UNDER, help="Its lip bolts to the back of the face.")
    skid_body: float = length(
        "Skid plate, length", default=480, minimum=200, maximum=2000, group=_UNDER, when=("skid",)
    )
    clearance: float = length(
        "Clearance round a tab", default=0.3, minimum=0, maximum=3, group="Tabs",
        help="On each side; cut a comb of slots first.",
    )  # fmt: skip
    tray_bolt: str = bolt("Winch bolts", default="M10", diameter="tray_hole", group=_TOW, when=("tow", "fairlead"))
    bolt: str = bolt("Bolts of face, mounts, wings and skid", default="M12", diameter="hole")
    hole: float = length("Mounting hole diameter", default=13.5, inches="9/16", minimum=1, maximum=60, group="Holes")
    tray_hole: float = length("Winch bolts, hole diameter", default=11, minimum=1, maximum=60, group=_TOW)
    fit: str = fit(of=("bolt", "tray_bolt"))
    between: float = length(
        "Between the pieces in the drawing", default=25, minimum=5, maximum=500, moves="free", group="Layout"
    )

    @property
    def has_tray(self) -> bool:
        """Whether a winch stands behind the face."""
        return self.tow == "fairlead"

    @property
    def has_lip_behind_tray(self) -> bool:
        """Whether the tray must stay above the lip of the skid."""
        return self.has_tray and self.skid

    @cached_property
    def joint(self) -> Mapping[str, float]:
        """The values of the tabs that all plates share: two, spread over the straight of the face's end."""
        low, high = self.end_straight
        straight = min(high - low, 0.9 * self.stand)
        return {"tab_length": 0.26 * straight, "tab_pitch": straight / 2, "tab_first": straight / 4}

    @property
    def lip_up(self) -> float:
        """How high the bolts of the skid's lip are: off its bend by as much as a brake wants, two thicknesses."""
        fold = skid.BumperSkid.read_singly({**self.common, "bend": 90}).fold_up
        return fold.setback + fold.radius + 2 * self.thickness + self.hole_size / 2

    @property
    def lip(self) -> float:
        """How high the skid's lip is outside."""
        return self.lip_up + _LIP_EDGE * self.hole_size

    @cached_property
    def stand_up(self) -> float:
        """How high mounts and gussets stand over the lower edge: on the tray, which passes over the skid's lip."""
        return self.lip + _SPARE + self.thickness if self.has_lip_behind_tray else self.height / 5

    @property
    def tray_width(self) -> float:
        """How wide the tray is: the gussets stand on it."""
        return self.gusset_spacing + self.thickness + 2 * _SPARE

    @property
    def tow_up(self) -> float:
        """How high the middle of the window or of the hook slots is."""
        return self.stand_up + 55 if self.has_tray else 0.45 * self.height

    @property
    def hook_neck(self) -> float:
        """How high the neck of a tow tab is."""
        return min(88.0, 0.4 * self.height)

    @property
    def common(self) -> Mapping[str, Any]:
        """The stock, which all plates share."""
        return {name: getattr(self, name) for name in ("material", "process", "thickness", "units")}

    @cached_property
    def members(self) -> tuple[tuple[Member, ...], ...]:
        """The plates of the set, in the rows of the drawing.

        Raises:
            Refused: a value of one lies outside its limits.
        """
        behind = [*([_wings(self)] if self.wings else []), _mounts(self), _gussets(self)]
        under = [*([_tray(self)] if self.has_tray else []), *([_skid(self)] if self.skid else [])]
        return (_face(self),), tuple(behind), tuple(under)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where plates behind the face would meet, or one of the set has no room for what it has."""
        clash = [*self.outline_problems()]
        low, high = self.end_straight
        if not clash and high - low < 2 * self.thickness + 30:
            clash = [self.tight("taper_rise", "to leave an end with room for tabs")]
        clash = clash or [*self.under("stand", self.height - self.stand_up - self.clip / 2, "behind the face")]
        if not clash:
            beside = max(self.tray_width, self.gusset_spacing + self.thickness) + self.thickness + _SPARE
            clash += self.over("mount_spacing", beside, "to stand outside the gussets")
        yield from clash or self._member_problems()

    def _member_problems(self) -> Iterator[Problem]:
        try:
            every = [member for row in self.members for member in row]
        except Refused:
            yield self.tight("height", "for the plates of the set")
            return
        faults = {own: member for member in every if (own := member.at_fault)}
        for own, member in faults.items():
            yield self.tight(own, f"on the plate “{member.template.title}”")


def _bolted(p: BumperSet, name: str = "bolt", hole: str = "hole", of: str = "bolt") -> dict[str, Any]:
    """A bolt of a member by its names: that of the set which is `of` this name."""
    diameter = p.specs()[of].diameter
    by_hole = {hole: getattr(p, diameter)} if getattr(p, of) == BY_DIAMETER else {}
    return {name: getattr(p, of), "fit": p.fit, **by_hole}


def _tabs(p: BumperSet) -> dict[str, Any]:
    return {**p.common, **p.joint, "tabs": 2}


def _behind(p: BumperSet, kind: str, x: float, foot: float) -> dict[str, Frame]:
    """The frames of a pair of plates that stand square behind the face, about x from its middle."""
    sides = (("left", -x), ("right", x))
    return {f"{side} {kind}": Frame((at - p.thickness / 2, 0.0, foot), BACK, UP) for side, at in sides}


def _face(p: BumperSet) -> Member:
    own = {name: getattr(p, name) for name in OUTLINE}
    values = {
        **_tabs(p), **own, "tab_clearance": p.clearance, "slots": "none", "plate_holes": False,
        "lamps": p.lamps, "lamp_spacing": p.lamp_spacing, "lamp_width": p.lamp_width, "lamp_up": 0.62 * p.height,
        "tow": p.tow, "tow_up": p.tow_up, "winch_rows": 50, "winch_width": 180, "winch_height": 60, "winch_bolts": 254,
        "hook_spacing": p.hook_spacing, "hook_tab": p.hook_tab, "hook_neck": p.hook_neck,
        "wing_slots": p.wings, "wing_joint": "flush", "wing_up": p.end_straight[0],
        "mount_slots": True, "mount_spacing": p.mount_spacing, "mount_up": p.stand_up,
        "gusset_slots": True, "gusset_spacing": p.gusset_spacing, "gusset_up": p.stand_up,
        "tray_slots": p.has_tray, "tray_spacing": p.tray_width / 2, "tray_up": p.stand_up - p.thickness / 2,
        **_bolted(p, "winch_bolt", "winch_hole"), **_bolted(p, "skid_bolt", "skid_hole"),
        "skid_holes": p.skid, "skid_spacing": p.gusset_spacing / 2, "skid_up": p.lip_up,
    }  # fmt: skip
    asked = ("lamp_spacing", "lamp_width", "hook_spacing", "hook_tab", "mount_spacing", "gusset_spacing")
    names = {**{name: name for name in (*OUTLINE, *asked)}, "tab_clearance": "clearance", "skid_hole": "hole"}
    places = {"face": Frame((0.0, 0.0, 0.0), ACROSS, UP)}
    return member_of(face.TEMPLATE, values, frames=places, names=names, blame="height")


def _wings(p: BumperSet) -> Member:
    low, high = p.end_straight
    tall = high - low
    values = {
        **_tabs(p), **_bolted(p),
        "reach": p.wing_reach, "height": tall, "end_height": 0.65 * tall, "flat": 0.35 * p.wing_reach,
        "corner_radius": 0.12 * tall, "hole_down": 0.32 * tall, "hole_in": 35, "pitch": 60, "lamp": 0,
    }  # fmt: skip
    x = (p.width - p.thickness) / 2
    frames, names = _behind(p, "wing", x, low), {"reach": "wing_reach", "hole": "hole"}
    return member_of(wing.TEMPLATE, values, frames=frames, names=names, blame="taper_rise")


def _mounts(p: BumperSet) -> Member:
    horn, long = 0.85 * p.stand, p.mount_reach - 80
    values = {
        **_tabs(p), **_bolted(p),
        "reach": p.mount_reach, "height": p.stand, "horn_height": horn, "neck": 40, "horn_length": long,
        "columns": 2, "rows": 2, "pitch_x": 0.5 * long, "pitch_y": 0.45 * horn, "hole_in": 0.25 * long,
        "corner_radius": min(12.0, 0.1 * horn, 0.1 * long), "slot_length": min(30.0, 0.4 * long),
    }  # fmt: skip
    names = {"reach": "mount_reach", "height": "stand", "hole": "hole"}
    frames = _behind(p, "mount", p.mount_spacing / 2, p.stand_up)
    return member_of(mount.TEMPLATE, values, frames=frames, names=names, blame="stand")


def _gussets(p: BumperSet) -> Member:
    below = p.joint["tab_first"] - p.joint["tab_length"] / 2
    relief = max(p.thickness / 4, 1.0)
    snipe = max(min(p.thickness + 4, below - ROOT * relief - 3), 1.0)
    values = {
        **_tabs(p), "reach": p.gusset_reach, "height": p.stand, "toe": max(15.0, p.thickness + 2), "snipe": snipe,
        "corner_radius": 4, "lightening": 0,
    }  # fmt: skip
    frames = _behind(p, "gusset", p.gusset_spacing / 2, p.stand_up)
    return member_of(gusset.TEMPLATE, values, frames=frames, names={"reach": "gusset_reach"}, blame="stand")


def _tray(p: BumperSet) -> Member:
    wide = p.tray_width
    values = {
        **_tabs(p), **_bolted(p, of="tray_bolt"),
        "width": wide, "depth_back": max(230.0, p.gusset_reach + 2 * _SPARE), "tab_pitch": wide / 2,
        "tab_first": wide / 4, "pattern_across": 254, "pattern_along": 114.3, "setback": 125, "corner_radius": 20,
    }  # fmt: skip
    frames = {"winch tray": Frame((wide / 2, 0.0, p.stand_up - p.thickness), BACK, (-1.0, 0.0, 0.0))}
    return member_of(winch_tray.TEMPLATE, values, frames=frames, names={"hole": "tray_hole"}, blame="gusset_spacing")


def _skid(p: BumperSet) -> Member:
    wide = p.gusset_spacing - p.thickness - 2 * _SPARE
    values = {
        **p.common, **_bolted(p),
        "body": p.skid_body, "width": wide, "lip": p.lip, "bend": 90, "corner_radius": 12,
        "lip_spacing": p.gusset_spacing / 2, "lip_up": p.lip_up, "holes": 3, "hole_rear": 30,
        "hole_side": 30, "pitch": (p.skid_body - 30 - p.lip_up - _SPARE) / 2, "slots": 0, "drain": 0,
    }  # fmt: skip
    names = {"body": "skid_body", "hole": "hole"}
    frames = {"skid plate": Frame((-wide / 2, p.skid_body, 0.0), FORWARD, ACROSS)}
    return member_of(skid.TEMPLATE, values, frames=frames, names=names, blame="gusset_spacing")


def outline(p: BumperSet) -> Profile:
    """Draw the face, above it wings, mounts and gussets, above these tray and skid."""
    return laid_out(p.members, p.between)


def assembly(p: BumperSet) -> Iterator[Standing]:
    """Yield every plate in its place, the tow tabs too."""
    for row in p.members:
        for member in row:
            yield from member.standings(p.thickness)
    for companion, side in zip(companions(p), (-1, 1), strict=False):
        parameters = tow_tab.TEMPLATE.parameters.read_singly({**p.common, **companion.values})
        place = side * p.hook_spacing / 2 + p.hook_tab / 2, _BLOCK, p.tow_up
        yield Standing(companion.name, tow_tab.TEMPLATE.outline(parameters), p.hook_tab, Frame(place, FORWARD, UP))


def companions(p: BumperSet) -> Iterator[Companion]:
    """Yield the tow tabs, of a plate of their own."""
    if p.tow != "tow-hooks":
        return
    values = {
        "thickness": p.hook_tab, "height": p.hook_neck, "block": _BLOCK, "shoulder": _SHOULDER, "neck": p.thickness + 8,
        "reach": 110 + p.thickness,
    }  # fmt: skip
    for side in ("left", "right"):
        yield Companion(f"{side} tow tab", "bumper-tow-tab", values)


TEMPLATE = Template(
    "bumper-set",
    "Bumper set",
    BumperSet,
    outline,
    assembly=assembly,
    companions=companions,
    summary="Face, wings, mounts, gussets, winch tray and skid plate in one drawing, slots and tabs of like values; "
    "put together in one STEP.",
    cautions=(
        "A bumper changes how a vehicle crashes: crumple zones, air-bag sensors, parking sensors and the protection "
        "of people on foot. Local vehicle rules and type approval come first.",
        "Mounts, winch and tow points, their bolts, welds and what they hang on need a rated design by a qualified "
        "person: a part that lets go under load can kill. This drawing carries no rating.",
        "Drill and weld a frame only where its maker allows it; lamps and number plate stay where the rules want them.",
        "A press brake crushes: keep hands clear of the tools, and leave its guards in place.",
    ),
    words=("vehicle", "truck", "pick-up", "kit", "winch", "tow", "wing", "mount", "gusset", "skid", "weld", "tab"),
    set_of="bumper",
    presets=(
        Preset("Farm pick-up, winch"),
        Preset("Ranch truck, tow hooks, 8 plate", "tow=tow-hooks thickness=8 height=280 taper_rise=100 stand=140"),
        Preset("Small utility, plain", "width=1500 height=220 taper_rise=70 clip=30 tow=none lamp_spacing=1150 "
               "mount_spacing=760 gusset_spacing=420 stand=110 wing_reach=300 skid=no"),
        Preset("Trailer rear, no wings", "width=1700 height=200 taper_rise=0 clip=30 tow=none lamps=none wings=no "
               "skid=no stand=110"),
    ),
)  # fmt: skip

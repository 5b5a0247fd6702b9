r"""What a face has for the plates behind it: slots for their tabs, notches for wings flush with its ends, skid bolts.

      ______________________________
     |  |     |          |     |  |
    _|  I     I   ====   I     I  |_    I: upright slots for mounts and gussets, ====: level ones for a winch tray
    _   |     |          |     |  _    ] notches at the ends: wings stand in line with the ends of the face
     |  I     I   o  o   I     I  |     o: bolts of the lip of a skid plate
     \______________________________/

Heights are measured from the lower edge. The plates take like values: `parts.templates.shared.tabs`.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from parts.errors import Problem
from parts.geometry import Corner, Point
from parts.geometry.figure import hole
from parts.profile import Dimension
from parts.spec import BY_DIAMETER, When, bolt, bolt_mm, choice, flag, hole_diameter, length
from parts.templates.shared.feature import Feature, diameter
from parts.templates.shared.joint import ROOT, CutRelief
from parts.templates.shared.tabs import TabSlots

_WELDED, _SKID = "Slots for tabs", "Skid plate"
_UPRIGHT = [("wing_slots",), ("mount_slots",), ("gusset_slots",)]
_ANY = [*_UPRIGHT, ("tray_slots",)]


class FaceJoints(TabSlots):
    """The middle of the lower edge is at the origin."""

    shared_when: ClassVar[Mapping[str, When]] = {
        **dict.fromkeys(("tabs", "tab_first"), _UPRIGHT),
        **dict.fromkeys(("tab_length", "tab_thickness", "tab_clearance", "tab_eye"), _ANY),
    }

    wing_slots: bool = flag("Slots for wings", group=_WELDED, help="bumper-wing, near the ends.")
    wing_joint: str = choice(
        "Wings stand", default="slots", choices=("slots", "flush"), group=_WELDED, when=("wing_slots",),
        help="slots: inside the ends. flush: in line with the ends, their tabs in open notches.",
    )  # fmt: skip
    wing_spacing: float = length(
        "Between wing centres", default=1740, inches="70", minimum=40, maximum=2980, group=_WELDED,
        when=("wing_joint", "slots"),
    )  # fmt: skip
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
    tray_slots: bool = flag("Slots for a winch tray", group=_WELDED, help="bumper-winch-tray: level, under the window.")
    tray_spacing: float = length(
        "Between the tray's tab centres", default=360, minimum=30, maximum=2000, group=_WELDED, when=("tray_slots",)
    )
    tray_up: float = length(
        "Middle of the tray up", default=47, minimum=3, maximum=780, group=_WELDED, when=("tray_slots",)
    )
    skid_holes: bool = flag("Bolts of a skid plate", group=_SKID, help="Two, through its lip: bumper-skid.")
    skid_spacing: float = length(
        "Between the skid's bolts", default=300, minimum=20, maximum=2800, group=_SKID, when=("skid_holes",)
    )
    skid_up: float = length("Skid's bolts up", default=25, minimum=5, maximum=780, group=_SKID, when=("skid_holes",))
    skid_bolt: str = bolt("Skid bolts", default="M10", diameter="skid_hole", group=_SKID, when=("skid_holes",))
    skid_hole: float = length("Skid hole diameter", default=11, minimum=1, maximum=60, group=_SKID)

    @property
    def is_notched(self) -> bool:
        """Whether wings stand in notches at the ends."""
        return self.wing_slots and self.wing_joint == "flush"

    @property
    def notch_depth(self) -> float:
        """How deep the notches are, mm: the wing, and its clearance on the inner side."""
        return self.through + self.tab_clearance

    @property
    def joint_features(self) -> Iterator[Feature]:
        """What is cut into the face for the plates behind it, but for notches."""
        for kind in ("wing", "mount", "gusset"):
            if getattr(self, f"{kind}_slots") and not (kind == "wing" and self.is_notched):
                x, foot = getattr(self, f"{kind}_spacing") / 2, getattr(self, f"{kind}_up")
                slots = tuple(self.tab_slot((x, foot + up)) for up in self.tab_heights)
                yield Feature(f"{kind} slot", slots, f"{kind}_up", f"{kind}_spacing")
        if self.tray_slots:
            level = self.tab_slot((self.tray_spacing / 2, self.tray_up), is_level=True)
            yield Feature("tray slot", (level,), "tray_up", "tray_spacing")
        if self.skid_holes:
            size = hole_diameter(self.skid_bolt, self.hole_fit, self.skid_hole)
            window = hole((self.skid_spacing / 2, self.skid_up), size)
            yield Feature("skid hole", (window,), "skid_up", "skid_spacing", bolt=bolt_mm(self.skid_bolt))

    @property
    def hole_fit(self) -> str:
        """How loose the skid's holes are."""
        raise NotImplementedError

    def notches(self, end: float) -> list[Corner | Point]:
        """Return the corners of the notches on the right end, x = `end`, from the lowest up."""
        corners: list[Corner | Point] = []
        half, inner, r = self.slot_size[0] / 2, end - self.notch_depth, self.relief_radius
        for up in self.tab_heights:
            low, high = self.wing_up + up - half, self.wing_up + up + half
            inside = [CutRelief((inner, y), r, "relief") for y in (low, high)]
            corners += [(end, low), *inside, (end, high)]
        return corners

    def notch_problems(self, low: float, high: float) -> Iterator[Problem]:
        """Yield a problem unless the notches lie between these heights, where the end of the face is straight."""
        reach, heights = self.slot_size[0] / 2 + ROOT * self.relief_radius, self.tab_heights
        yield from self.over("wing_up", low + reach - heights[0], "for its notches on the straight of the end")
        yield from self.under("wing_up", high - reach - heights[-1], "for its notches on the straight of the end")

    def notches_measured(self, end: float, start: float) -> Iterator[Dimension]:
        """Yield how high the wings stand at the left end, from the lower edge at x = `start`."""
        yield Dimension("wing_up", (start, 0), (-end, self.wing_up), "left")

    def skid_measured(self, feature: Feature) -> Iterator[Dimension]:
        """Yield the diameter of the skid's holes where no bolt sets it."""
        if self.skid_bolt == BY_DIAMETER:
            yield diameter("skid_hole", feature.windows[0])

    def tray_measured(self, feature: Feature) -> Iterator[Dimension]:
        """Yield what the tray's slots alone show of the tabs."""
        (x, y), half, side = feature.windows[0].centre, self.tab_length / 2, self.through / 2
        yield Dimension("tab_length", (x - half, y), (x + half, y), "above")
        if self.tab_thickness:
            yield Dimension("tab_thickness", (x, y - side), (x, y + side), "right")
        if self.tab_clearance:
            yield Dimension("tab_clearance", (x + half, y), (x + half + self.tab_clearance, y), "above")

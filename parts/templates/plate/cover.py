r"""Cover plate: closes a box, a duct or a pit, with holes in the corners and along the sides, and a window.

     ___________________
    / o       o       o \    inset from the edges to the corner holes, the same both ways
    |      _______      |    holes_x by holes_y around the edge, spread between the corners
    | o   (_______)   o |    window: round of its width, or window_height high with round corners
    |                   |    lift: two slots for fingers or hooks, left and right of the middle
    \_o_______o_______o_/
            width

Holes in the sides stand evenly between those in the corners.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Point, grid, rectangle
from parts.geometry.figure import Window, hole, upright_slot
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, bolt, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.feature import across, diameter, upright
from parts.templates.shared.lettered import Lettered


class PlateCover(BoltHoles, Lettered):
    """The middle of the cover is at the origin."""

    width: float = length("Width", default=240, minimum=30, maximum=3000)
    height: float = length("Height", default=160, minimum=30, maximum=3000)
    corner_radius: float = length("Corner radius", default=10, minimum=0, maximum=500, moves="free")
    inset: float = length("Corner holes in from the edges", default=15, minimum=3, maximum=500, group="Holes")
    holes_x: int = count("Holes along the width", default=2, minimum=2, maximum=24)
    holes_y: int = count("Holes along the height", default=2, minimum=2, maximum=24)
    bolt: str = bolt("Screw", default="M8", inches="3/8", diameter="hole")
    window_width: float = length(
        "Width of the window", default=0, minimum=0, maximum=2500, group="Window", help="0 for none.", moves="care"
    )
    window_height: float = length(
        "Height of the window",
        default=0,
        minimum=0,
        maximum=2500,
        group="Window",
        help="0 for a round one.",
        when=("window_width",),
        moves="care",
    )
    window_radius: float = length(
        "Corner radius of the window",
        default=6,
        minimum=0,
        maximum=500,
        group="Window",
        when=("window_height",),
        moves="free",
    )
    lift: float = length(
        "Lifting slots, length", default=0, minimum=0, maximum=400, group="Lifting slots",
        help="For fingers or hooks, upright; 0 for none.", moves="care",
    )  # fmt: skip
    lift_width: float = length(
        "Lifting slots, width", default=25, minimum=3, maximum=150, group="Lifting slots", when=("lift",), moves="care"
    )
    lift_apart: float = length(
        "Lifting slots, middle to middle",
        default=150,
        minimum=10,
        maximum=2900,
        group="Lifting slots",
        when=("lift",),
        moves="care",
    )

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the holes around the edge, from the lower left one."""
        x, y = self.width / 2 - self.inset, self.height / 2 - self.inset
        steps = 2 * x / (self.holes_x - 1), 2 * y / (self.holes_y - 1)
        every = grid((-x, -y), steps, self.holes_x, self.holes_y)
        return tuple(at for i, at in enumerate(every) if self._on_the_rim(i % self.holes_x, i // self.holes_x))

    def _on_the_rim(self, column: int, row: int) -> bool:
        return column in (0, self.holes_x - 1) or row in (0, self.holes_y - 1)

    @property
    def window(self) -> Window | None:
        """The window in the middle."""
        if not self.window_width:
            return None
        if not self.window_height:
            return hole((0, 0), self.window_width)
        return Window((0, 0), self.window_width, self.window_height, self.window_radius)

    @property
    def grips(self) -> tuple[Window, ...]:
        """The lifting slots, left and right."""
        if not self.lift:
            return ()
        x = self.lift_apart / 2
        return upright_slot((-x, 0), self.lift, self.lift_width), upright_slot((x, 0), self.lift, self.lift_width)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the radius takes a side, holes meet, or window and slots have no room."""
        least = min(self.width, self.height)
        yield from self.at_most("corner_radius", least / 2, "on half of the shorter side")
        yield from self.under("inset", (least - self.hole_size) / 2, "to keep metal between the holes")
        if self.hole_size >= 2 * self.inset:
            yield from self.over("inset", self.hole_size / 2, "to keep the holes off the edge")
        yield from self.rounding_problems((self.inset, self.inset))
        yield from self.spread_problems("holes_x", self.width - 2 * self.inset)
        yield from self.spread_problems("holes_y", self.height - 2 * self.inset)
        openings = [*self._opening_problems()]
        yield from openings or self._meeting()

    def _opening_problems(self) -> Iterator[Problem]:
        if self.window_width:
            round_one = not self.window_height
            beside = min(self.width, self.height) if round_one else self.width
            yield from self.under("window_width", beside, "to leave metal beside it")
            yield from self.under("window_height", self.height, "to leave metal above and below")
            if not round_one:
                half = min(self.window_width, self.window_height) / 2
                yield from self.at_most("window_radius", half, "on half of the window's shorter side")
        if self.lift:
            yield from self.under("lift", self.height, "to leave metal above and below")
            yield from self.at_most("lift_width", self.lift, "for a slot of this length")
            yield from self.over("lift_apart", self.lift_width, "to keep the slots apart")
            yield from self.under("lift_apart", self.width - self.lift_width, "to keep the slots inside")

    def _meeting(self) -> Iterator[Problem]:
        """Yield a problem where the window meets a hole, or a lifting slot either of them."""
        holes = [hole(at, self.hole_size) for at in self.centres]
        window = [self.window] if self.window else []
        if any(one.gap(each) <= 0 for one in window for each in holes):
            yield self.tight("window_width", "between the holes")
        if any(grip.gap(each) <= 0 for grip in self.grips for each in (*holes, *window)):
            yield self.tight("lift_apart", "between the holes" + (" and beside the window" if window else ""))


def outline(p: PlateCover) -> Profile:
    """Draw the cover, its holes, the window and the slots."""
    inside = p.holes_at(p.centres, "hole", "inset")
    if p.window:
        inside += (Opening(p.window.loop, "window", "window_width"),)
    inside += tuple(Opening(grip.loop, "lifting slot", "lift_apart") for grip in p.grips)
    cover = rectangle((-p.width / 2, -p.height / 2), p.width, p.height, p.corner_radius)
    return Profile((cover,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateCover) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r, first = p.width / 2, p.height / 2, p.corner_radius, p.centres[0]
    yield Dimension("width", (-x, -y), (x, -y), "below")
    yield Dimension("height", (-x, -y), (-x, y), "left")
    yield Dimension("inset", (-x, first[1]), first, "below")
    if r:
        out = r * 0.5**0.5
        yield Dimension("corner_radius", (x - r, y - r), (x - r + out, y - r + out), "radius")
    yield from p.hole_measured(first)
    if p.window:
        yield from window_dimensions(p, p.window)
    if p.grips:
        left, right = p.grips
        yield Dimension("lift_apart", left.centre, right.centre, "above")
        yield upright("lift", right)
        yield across("lift_width", left)


def window_dimensions(p: PlateCover, window: Window) -> Iterator[Dimension]:
    """Yield those of the window: its diameter where it is round."""
    if not p.window_height:
        yield diameter("window_width", window)
        return
    yield across("window_width", window)
    yield upright("window_height", window)
    if window.radius:
        (a, b), out = window.core, window.radius * 0.5**0.5
        yield Dimension("window_radius", (-a, b), (-a - out, b + out), "radius")


TEMPLATE = Template(
    "plate-cover",
    "Cover plate",
    PlateCover,
    outline,
    summary="Closes a box, a duct or a pit: holes in the corners and along the sides, a window, slots to lift it by.",
    cautions=(
        "A cover over moving parts or live conductors is a guard: it stays screwed down while they run, and what it "
        "may leave open is for the local code.",
        "A cover that people or wheels go over carries load: have its thickness and its seat settled by a qualified "
        "engineer.",
    ),
    words=(
        "lid",
        "access",
        "hatch",
        "window",
        "inspection",
        "blanking",
        "guard",
        "manhole",
        "panel",
        "door",
        "nameplate",
    ),
    presets=(
        Preset(
            "Trailer light box",
            "width=120 height=80 inset=10 bolt=M5 thickness=2 corner_radius=6 process=laser",
        ),
        Preset(
            "Meter window, workshop wall", "window_width=120 window_height=60 thickness=3 holes_x=3 inset=12 bolt=M6"
        ),
        Preset(
            "Pit cover of the drain, two lifting slots",
            "width=600 height=450 thickness=8 inset=25 lift=90 lift_width=30 lift_apart=440 holes_x=4 holes_y=3 "
            "bolt=M12",
        ),
        Preset(
            "Workshop stove, 6 in flue", "width=10in height=10in window_width=6in thickness=1/8in bolt=1/4 inset=5/8in"
        ),
    ),
)

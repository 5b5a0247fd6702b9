r"""Strike plate: what a latch, a bolt or a hook falls into: a plate with a window, a screw hole above and below it.

      ______
     /  o   \       window_width by window_height, half way up, window_in from the left
    |   __   |__    lip: a tongue beside the window that the latch rides up on, bent or ground after
    |  |  |     |
    |  |__|   __|   holes: spacing apart, about the middle of the plate
    |        |
     \__o___/

A latch rides up on the lip and falls into the window; without one it takes a bolt or the staple of a hasp.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, polygon
from parts.geometry.figure import Window, hole
from parts.profile import Dimension, Opening, Profile
from parts.spec import STOCK, Preset, Template, bolt, length, thickness
from parts.templates.shared.bolt_holes import BoltHoles

_WINDOW, _LIP = "Window", "Lip"


class PlateStrike(BoltHoles):
    """The lower left corner is at the origin, the lip on the right."""

    thickness: float = thickness("Thickness", default=3, minimum=0.3, maximum=150, group=STOCK)
    width: float = length("Width of the plate", default=40, minimum=10, maximum=400)
    height: float = length("Height of the plate", default=130, minimum=25, maximum=800)
    corner_radius: float = length("Corner radius", default=6, minimum=0, maximum=200, moves="free")
    window_width: float = length("Window, width", default=18, minimum=3, maximum=300, group=_WINDOW)
    window_height: float = length("Window, height", default=40, minimum=3, maximum=600, group=_WINDOW)
    window_radius: float = length(
        "Window, corner radius", default=3, minimum=0, maximum=100, group=_WINDOW, moves="free"
    )
    window_in: float = length("Window, its middle in from the left", default=20, minimum=3, maximum=390, group=_WINDOW)
    lip: float = length(
        "Lip beside the window, out", default=0, minimum=0, maximum=200, group=_LIP, help="0 for none.", moves="care"
    )
    lip_height: float = length(
        "Lip, height", default=50, minimum=5, maximum=700, group=_LIP, when=("lip",), moves="care"
    )
    lip_radius: float = length(
        "Lip, corner radius", default=5, minimum=0, maximum=100, group=_LIP, when=("lip",), moves="free"
    )
    spacing: float = length("Screw hole to screw hole", default=100, minimum=10, maximum=780, group="Holes")
    bolt: str = bolt("Screw or bolt", default="M5", diameter="hole")

    @property
    def window(self) -> Window:
        """The window, half way up the plate."""
        return Window((self.window_in, self.height / 2), self.window_width, self.window_height, self.window_radius)

    @property
    def screws(self) -> tuple[Point, ...]:
        """Centres of the screw holes, the lower one first."""
        middle, out = self.height / 2, self.spacing / 2
        return ((self.width / 2, middle - out), (self.width / 2, middle + out))

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where window or holes reach an edge or each other, or a radius has no room."""
        size = self.hole_size
        yield from self.under("window_height", self.height, "inside the plate")
        yield from self.at_most("window_radius", min(self.window_width, self.window_height) / 2, "in the window")
        half = self.window_width / 2
        yield from self.over("window_in", half, "for metal beside the window")
        yield from self.under("window_in", self.width - half, "for metal beside the window")
        yield from self.under("spacing", self.height - size, "for the holes to stay inside the plate")
        yield from self.over("width", size, "for the holes")
        yield from self.rounding_problems((self.width / 2, (self.height - self.spacing) / 2))
        if not self.window_radius > min(self.window_width, self.window_height) / 2 and any(
            self.window.gap(hole(at, size)) <= 0 for at in self.screws
        ):
            yield self.tight("spacing", "beside the window")
        yield from self.at_most("corner_radius", min(self.width, self.height) / 2, "on the shorter side")
        if self.lip:
            yield from self.at_most("lip_radius", min(self.lip / 2, self.lip_height / 2), "on the lip")
            yield from self.under(
                "lip_height", self.height - 2 * (self.corner_radius + self.lip_radius), "beside the corners"
            )


def outline(p: PlateStrike) -> Profile:
    """Draw the plate with its lip, the window and the holes."""
    inside = (Opening(p.window.loop, "window", "window_width"), *p.holes_at(p.screws, "screw hole", "spacing"))
    return Profile((polygon(corners(p)),), inside, dimensions=tuple(dimensions(p)))


def corners(p: PlateStrike) -> list[Corner | Point]:
    """Return the corners of the edge, counter-clockwise from the lower left one."""
    w, h, r, q = p.width, p.height, p.corner_radius, p.lip_radius
    low, high = (h - p.lip_height) / 2, (h + p.lip_height) / 2
    lip = (
        [fillet(w, low, q), fillet(w + p.lip, low, q), fillet(w + p.lip, high, q), fillet(w, high, q)] if p.lip else []
    )
    return [fillet(0, 0, r), fillet(w, 0, r), *lip, fillet(w, h, r), fillet(0, h, r)]


def dimensions(p: PlateStrike) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (x, y), a, b, hand = p.window.centre, p.window_width / 2, p.window_height / 2, 0.5**0.5
    yield Dimension("width", (0, 0), (p.width, 0), "below")
    yield Dimension("height", (0, 0), (0, p.height), "left")
    yield Dimension("window_width", (x - a, y), (x + a, y), "above")
    yield Dimension("window_height", (x, y - b), (x, y + b), "left")
    yield Dimension("window_in", (0, y), (x, y), "below")
    if q := p.window_radius:
        yield Dimension("window_radius", (x + a - q, y + b - q), (x + a - q + q * hand, y + b - q + q * hand), "radius")
    if r := p.corner_radius:
        at = p.width - r, p.height - r
        yield Dimension("corner_radius", at, (at[0] + r * hand, at[1] + r * hand), "radius")
    yield Dimension("spacing", p.screws[0], p.screws[1], "right")
    yield from p.hole_measured(p.screws[1])
    if p.lip:
        out, low, high = p.width + p.lip, y - p.lip_height / 2, y + p.lip_height / 2
        yield Dimension("lip", (p.width, low), (out, low), "below")
        yield Dimension("lip_height", (out, low), (out, high), "right")
        if s := p.lip_radius:
            yield Dimension("lip_radius", (out - s, high - s), (out - s + s * hand, high - s + s * hand), "radius")


TEMPLATE = Template(
    "plate-strike",
    "Strike plate",
    PlateStrike,
    outline,
    summary="A plate with a window for a latch, a bolt or a hasp's staple, screw holes above and below, and a lip.",
    cautions=(
        "A gate or door that people must get out by falls under the local code: see that it opens from inside.",
        "Break the edges of window and lip: hands and sleeves pass there.",
    ),
    sizes=("width", "height"),
    words=(
        "strike",
        "latch",
        "keep",
        "keeper",
        "hasp",
        "staple",
        "lock",
        "door",
        "gate",
        "catch",
        "bolt plate",
        "escutcheon",
    ),
    presets=(
        Preset("Gate latch with a lip", "lip=18 corner_radius=8"),
        Preset(
            "Drop bolt into the ground",
            "width=70 window_width=22 window_height=22 window_radius=11 window_in=35 height=120 "
            "bolt=M8 spacing=88 thickness=5",
            is_metric=True,
        ),
        Preset(
            "Hasp over a staple",
            "width=45 height=110 window_width=12 window_height=45 window_radius=6 window_in=22.5 spacing=82",
            inches="window_in=7/8 width=1-3/4 height=4-1/4 spacing=3-1/4",
        ),
        Preset(
            "Shed door, 1-1/4 by 4-1/2 in",
            "width=1-1/4in height=4-1/2in window_width=5/8in window_height=1-1/4in "
            "window_in=5/8in spacing=3-5/8in bolt=1/4 thickness=1/8in window_radius=1/8in corner_radius=1/4in",
        ),
    ),
)

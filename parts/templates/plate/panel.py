r"""Vent panel: rows of slots or round holes, staggered or not, with bridges between them that the process can cut.

     _________________________
    |  ____   ____   ____     |    as many openings as go inside the margin, centred
    | (____) (____) (____)    |    opening_length by opening_width each; round: the width alone
    |     ____   ____         |    bridge: the least metal between any two of them
    |    (____) (____)        |    stagger: every second row shifted by half a step
    |  ____   ____   ____     |
    | (____) (____) (____)    |
    |_________________________|

Where letters are cut through, the openings that they would come too near to are left out.
A bridge or an opening's width left at 0 is the least that the process cuts well in this thickness.
"""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from parts.cached import cached_property
from parts.cutting import Cut, cut_for
from parts.errors import Problem, Refused
from parts.geometry import Loop, Point, rectangle
from parts.geometry.figure import Window
from parts.profile import Dimension, Profile, openings
from parts.spec import Preset, Template, bolt, choice, fit, flag, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.templates.shared.feature import across, diameter, upright
from parts.templates.shared.lettered import Lettered
from parts.tolerance import LIMIT_SLACK_MM

if TYPE_CHECKING:
    from parts.artwork.inscribing import Inscription

PATTERN, MOUNTING = "Openings", "Mounting holes"
MOST = 400
"""Openings beyond this take hours to pierce: perforated sheet is bought."""


_TEXT_HIGH = 0.25
"""Of the panel's height, capitals that may be as high as looks well: most of it is there to let air through."""
_SLOT_LENGTHS = 1.75
"""Widths that an opening with round ends is long, from which on it is cut as a slot; a shorter one as a hole."""


class PlatePanel(BoltHoles, Lettered):
    """The middle of the panel is at the origin, the rows run along x."""

    width: float = length("Width", default=300, minimum=40, maximum=3000)
    height: float = length("Height", default=200, minimum=40, maximum=3000)
    corner_radius: float = length("Corner radius", default=6, minimum=0, maximum=300, moves="free")
    form: str = choice(
        "Openings", default="obround", choices=("obround", "slot", "round"), group=PATTERN,
        help="obround: slots with round ends. slot: louvre slots with rounded corners. round: mesh of holes.",
    )  # fmt: skip
    opening_length: float = length(
        "Length of an opening",
        default=50,
        minimum=2,
        maximum=2500,
        group=PATTERN,
        help="Of obrounds and slots.",
        when=("form", "obround", "slot"),
        moves="care",
    )
    opening_width: float = length(
        "Width of an opening", default=10, minimum=0, maximum=1000, group=PATTERN,
        help="Diameter of a round one. 0: the least that the process pierces and cuts.", moves="care",
    )  # fmt: skip
    slot_radius: float = length(
        "Corner radius of slots", default=3, minimum=0, maximum=500, group=PATTERN, when=("form", "slot"), moves="free"
    )
    bridge: float = length(
        "Bridge between openings", default=0, minimum=0, maximum=500, group=PATTERN,
        help="0: the narrowest that the process leaves standing.", moves="free",
    )  # fmt: skip
    stagger: bool = flag("Staggered rows", default=True, group=PATTERN)
    least_margin: float = length(
        "Margin all round, at least", default=30, drawn=False, minimum=1, maximum=1000, group=PATTERN,
        help="The rows are centred; what is left over makes it wider.", moves="free",
    )  # fmt: skip
    inset: float = length(
        "Corner holes in from the edges", default=15, minimum=0, maximum=500, group=MOUNTING, help="0 for none."
    )
    bolt: str = bolt("Screw", default="M8", inches="3/8", diameter="hole", group=MOUNTING, when=("inset",))
    fit: str = fit(group=MOUNTING, of=("bolt",))
    hole: float = length(
        "Hole diameter", default=11, minimum=1, maximum=200, group=MOUNTING, help="Where the bolt is by diameter."
    )

    @cached_property
    def cut(self) -> Cut:
        """How the process cuts the plate.

        Raises:
            Refused: if it doesn't.
        """
        return cut_for(self.process, self.material, self.thickness)

    @cached_property
    def opening(self) -> Window:
        """One opening, its centre at the origin."""
        cut, ring = self.cut, self.form == "round"
        slot = max(cut.narrowest_slot_mm, cut.pierce_diameter_mm + cut.kerf_mm)
        is_long = not ring and self.opening_length >= _SLOT_LENGTHS * slot
        width = self.opening_width or (slot if is_long else max(cut.smallest_hole_mm, 0.0 if ring else slot))
        long = width if ring else self.opening_length
        return Window((0, 0), long, width, self.slot_radius if self.form == "slot" else width / 2)

    @property
    def spare(self) -> float:
        """The bridge between openings: as given, or the narrowest of the process."""
        return self.bridge or self.cut.narrowest_bridge_mm

    @cached_property
    def columns(self) -> int:
        """How many openings the longest row holds."""
        return fitting(self.width - 2 * self.least_margin, self.opening.width, self.step_x)

    @cached_property
    def rows(self) -> int:
        """How many rows there are."""
        return fitting(self.height - 2 * self.least_margin, self.opening.height, self.step_y)

    @property
    def step_x(self) -> float:
        """From opening to opening in a row."""
        return self.opening.width + self.spare

    @property
    def is_staggered(self) -> bool:
        """Whether every second row is shifted; a single column has nothing to shift between."""
        return self.stagger and self.columns > 1

    @cached_property
    def step_y(self) -> float:
        """From row to row: so that the metal between openings of two rows is a bridge too.

        Shifted by half a step, the straight parts of two rows come `across` past each other, and the corner arcs
        of radius r are a bridge apart where their centres are: across² + (step - straight height)² = (2 r + bridge)².
        """
        w, (a, b) = self.opening, self.opening.core
        reach = 2 * w.radius + self.spare
        past = max(self.step_x / 2 - 2 * a, 0.0) if self.is_staggered else 0.0
        return 2 * b + math.sqrt(reach**2 - past**2)

    @cached_property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the openings, row by row from the lowest."""
        low = -(self.rows - 1) * self.step_y / 2
        return tuple(
            ((i - (in_row - 1) / 2) * self.step_x, low + j * self.step_y)
            for j in range(self.rows)
            for in_row in [self.columns - (j % 2 if self.is_staggered else 0)]
            for i in range(in_row)
        )

    @cached_property
    def letters(self) -> "Inscription":
        """The letters as they stand in the panel with no opening but its mounting holes.

        Raises:
            Refused: they have no room, or the face has no such letters.
        """
        return super().inscribed(Profile((self.panel,), self.holes_at(self.corners, "corner hole", "inset")))

    def inscribed(self, profile: Profile) -> "Inscription":
        """Return the letters, which the openings make room for."""
        return self.letters

    @property
    def most_cap(self) -> float:
        """How high capitals are at most that may be as high as looks well."""
        return _TEXT_HIGH * self.height

    @cached_property
    def open_at(self) -> tuple[Point, ...]:
        """Centres of the openings that are no nearer to letters than a bridge.

        Raises:
            Refused: there are none, or the letters can't be set.
        """
        if not self.text.strip():
            return self.centres
        a, b, c, d = zip(*(loop.box for loop in self.letters.loops), strict=True)
        x0, y0, x1, y1 = min(a), min(b), max(c), max(d)
        words = Window(((x0 + x1) / 2, (y0 + y1) / 2), x1 - x0, y1 - y0, 0.0)
        found = tuple(at for at in self.centres if words.gap(self.opening.at(*at)) >= self.spare)
        if not found:
            message = "takes all the room of the openings: lower capitals or a larger panel leave some."
            raise Refused((self.problem("text", message),))
        return found

    @property
    def panel(self) -> Loop:
        """The panel's edge."""
        return rectangle((-self.width / 2, -self.height / 2), self.width, self.height, self.corner_radius)

    @property
    def corners(self) -> tuple[Point, ...]:
        """Centres of the mounting holes."""
        x, y = self.width / 2 - self.inset, self.height / 2 - self.inset
        return ((-x, -y), (x, -y), (x, y), (-x, y)) if self.inset else ()

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where an opening is no slot, none goes inside the margin, or far too many do."""
        w, half = self.opening, min(self.width, self.height) / 2
        yield from self.at_most("corner_radius", half, "on half of the shorter side")
        if self.inset:
            yield from self.over("inset", self.hole_size / 2, "to keep the holes off the edge")
            yield from self.under("inset", half - self.hole_size / 2, "to keep metal between the holes")
            yield from self.rounding_problems((self.inset, self.inset))
        if self.form != "round" and w.width < w.height:
            yield from self.at_least("opening_length", w.height, "to be no shorter than wide")
            return
        if self.form == "slot" and w.radius > w.height / 2:
            yield from self.at_most("slot_radius", w.height / 2, "on half of the slot's width")
            return
        yield from self._field_problems(w)

    def _field_problems(self, w: Window) -> Iterator[Problem]:
        room_x, room_y = self.width - 2 * self.least_margin, self.height - 2 * self.least_margin
        if min(room_x, room_y) <= 0 or self.columns < 1 or self.rows < 1:
            most = max(min(self.width - w.width, self.height - w.height) / 2, 0)
            size = f"an opening of {self.say(w.width)} by {self.say(w.height)}"
            yield from self.at_most("least_margin", most, f"for {size}")
        elif self.columns * self.rows > MOST:
            name = "opening_width" if self.opening_width else "bridge"
            number = self.columns * self.rows
            yield self.problem(name, f"makes about {number} openings; at most {MOST} are drawn: buy perforated sheet.")
        elif self.inset:
            holes = [Window(at, self.hole_size, self.hole_size, self.hole_size / 2) for at in self.corners]
            if min(w.at(*at).gap(hole) for at in self.centres for hole in holes) <= 0:
                yield self.tight("inset", "beside the openings")


def fitting(room: float, size: float, step: float) -> int:
    """Return how many of `size` go into `room` at this step."""
    return math.floor((room - size + LIMIT_SLACK_MM) / step) + 1 if room - size >= -LIMIT_SLACK_MM else 0


def outline(p: PlatePanel) -> Profile:
    """Draw the panel, its openings and its mounting holes."""
    w = p.opening
    inside = openings([w.at(*at).loop for at in p.open_at], "opening", "opening_width")
    inside += p.holes_at(p.corners, "corner hole", "inset")
    return Profile((p.panel,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: PlatePanel) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    x, y, r, out = p.width / 2, p.height / 2, p.corner_radius, math.sqrt(0.5)
    yield Dimension("width", (-x, -y), (x, -y), "below")
    yield Dimension("height", (-x, -y), (-x, y), "left")
    if r:
        yield Dimension("corner_radius", (x - r, y - r), (x - r + r * out, y - r + r * out), "radius")
    first, last = p.opening.at(*p.open_at[0]), p.opening.at(*p.open_at[-1])
    if p.form == "round":
        yield diameter("opening_width", last)
    else:
        yield across("opening_length", last)
        yield upright("opening_width", last)
        if p.form == "slot" and first.radius:
            (a, b), s, (cx, cy) = first.core, first.radius, first.centre
            yield Dimension("slot_radius", (cx - a, cy - b), (cx - a - s * out, cy - b - s * out), "radius")
    yield from bridge_dimension(p, first)
    if p.inset:
        yield Dimension("inset", (-x, -y + p.inset), (-x + p.inset, -y + p.inset), "below")
        yield from p.hole_measured(p.corners[0])


def bridge_dimension(p: PlatePanel, first: Window) -> Iterator[Dimension]:
    """Yield where the bridge can be measured: in the lowest row, or in a single column from row to row."""
    x, y = first.centre
    if p.columns > 1:
        end = x + first.width / 2
        yield Dimension("bridge", (end, y), (end + p.spare, y), "below")
    elif p.rows > 1:
        top = y + first.height / 2
        yield Dimension("bridge", (x, top), (x, top + p.spare), "left")


TEMPLATE = Template(
    "plate-panel",
    "Vent panel",
    PlatePanel,
    outline,
    summary="Lets air through: rows of slots, obrounds or round holes, staggered, with bridges the process can cut.",
    cautions=(
        "A panel in front of moving parts or live conductors is a guard: how large an opening may be at what distance "
        "is for the local code.",
        "Many piercings heat a thin panel: it warps, and its drop-outs lie sharp and hot under the slats.",
    ),
    words=(
        "louvre",
        "louver",
        "mesh",
        "grille",
        "grill",
        "perforated",
        "ventilation",
        "screen",
        "grate",
        "barbecue",
        "bbq",
        "slots",
    ),
    presets=(
        Preset("Grille of the compressor shed", "form=round opening_width=16 bridge=8 width=400 height=300"),
        Preset(
            "Louvre slots, welder's cabinet",
            "form=slot opening_length=120 opening_width=12 bridge=14 stagger=off thickness=3 least_margin=25",
        ),
        Preset(
            "Trailer drain mat, 1/2 in slots",
            "width=24in height=12in opening_length=3in opening_width=1/2in bridge=1/2in least_margin=1-1/2in "
            "thickness=3/16in inset=3/4in bolt=3/8",
        ),
        Preset(
            "Finest mesh that the laser cuts",
            "form=round opening_width=0 thickness=2 process=laser width=150 height=100",
        ),
    ),
)

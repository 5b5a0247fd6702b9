r"""Flat hook: a back with screw holes, a round throat, a blunt tip; arcs and straights run into each other as tangents.

      __
     /  \        end_radius rounds the top of the back
    |  o |
    |    |       drop: from the top to the middle of the throat
    |  o |
    |    |  _
    |    | / \   the tip is half a turn, tip_width across, tip high above the middle of the throat
    |    | | |
     \   \_/ /   throat: its radius
      \_____/    belly: the metal below it
    back  tip_width

The outer arc is as wide as the whole hook, so that the metal swells or thins evenly around the throat.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, row
from parts.profile import Dimension, Profile
from parts.spec import BY_DIAMETER, Preset, Template, bolt, count, length
from parts.templates.shared.bolt_holes import BoltHoles
from parts.tolerance import SAME_POINT_MM


class BracketHook(BoltHoles):
    """The back's outer edge is on the y axis, the middle of the throat on the x axis."""

    drop: float = length("Top above the throat", default=110, minimum=10, maximum=1000, help="Above its middle.")
    back: float = length("Width of the back", default=32, minimum=6, maximum=300, moves="care")
    throat: float = length("Throat radius", default=20, minimum=3, maximum=500)
    belly: float = length("Metal under the throat", default=28, minimum=4, maximum=300, moves="free")
    tip: float = length(
        "Height of the tip", default=25, minimum=3, maximum=600, help="Above the middle of the throat.", moves="free"
    )
    tip_width: float = length("Width of the tip", default=20, minimum=4, maximum=300, moves="care")
    end_radius: float = length("Radius at the top", default=10, minimum=0, maximum=150, moves="free")
    bolt: str = bolt("Screw or bolt", default="M8", inches="3/8", diameter="hole", when=("holes",))
    holes: int = count("Screw holes", default=2, minimum=0, maximum=8, help="On the middle of the back.")
    top_mark: float = length(
        "Top hole from the top", default=18, minimum=2, maximum=900, group="Holes", when=("holes",), moves="care"
    )
    pitch: float = length("Hole spacing", default=55, minimum=2, maximum=900, group="Holes", when=("holes", "2"))

    @property
    def reach(self) -> float:
        """Width over all: the diameter of the outer arc."""
        return self.back + 2 * self.throat + self.tip_width

    @property
    def throat_centre(self) -> Point:
        """Centre of the throat."""
        return self.back + self.throat, 0.0

    @property
    def outer_centre(self) -> Point:
        """Centre of the outer arc: it leaves `belly` below the throat's lowest height."""
        return self.reach / 2, self.reach / 2 - self.throat - self.belly

    @property
    def thinnest(self) -> float:
        """Metal between the two arcs where they are nearest; below the throat's middle there is no straight."""
        (ax, ay), (bx, by) = self.throat_centre, self.outer_centre
        return self.reach / 2 - self.throat - math.hypot(ax - bx, ay - by)

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the screw holes, from the top."""
        x, top = self.back / 2, self.drop - self.top_mark
        return row((x, top), (x, top - (self.holes - 1) * self.pitch), self.holes) if self.holes else ()

    @property
    def edge(self) -> Loop:
        """The outline counter-clockwise, from where the outer arc begins on the back.

        A half turn is drawn as two quarters: of a half one, a reader that rounds may take the other half.
        """
        w, far, r, end, round_tip = self.back, self.reach, self.throat, self.end_radius, self.tip_width / 2
        low, quarter = self.outer_centre[1], math.tan(math.pi / 8)
        seat = self.tip - round_tip
        return Loop.through(
            [
                (0, low, quarter),
                (far / 2, low - far / 2, quarter),
                (far, low, 0),
                (far, seat, quarter),
                (far - round_tip, self.tip, quarter),
                (far - self.tip_width, seat, 0),
                (w + 2 * r, 0, -quarter),
                (w + r, -r, -quarter),
                (w, 0, 0),
                (w, self.drop - end, quarter),
                (w - end, self.drop, 0),
                (end, self.drop, quarter),
                (0, self.drop - end, 0),
            ]
        )

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where arcs leave no metal or no straight between them, or a hole runs out of the back."""
        # the outer arc ends below the straight sides: they begin at the height of its centre
        low = max(self.outer_centre[1], 0.0)
        clash = [
            *self.at_most("end_radius", min(self.back / 2, self.drop - low), "at the top of the back"),
            *self.over("drop", low, "to stand above the outer arc"),
        ]
        yield from clash
        if self.thinnest <= SAME_POINT_MM:
            least, most = self._belly_limits
            yield self.problem("belly", f"must be between {self.say(least)} and {self.say(most)} around this throat.")
        else:
            yield from self.over("tip", low + self.tip_width / 2, "so that its round end clears the arcs")
        if self.holes:
            yield from self._hole_problems()

    @property
    def _belly_limits(self) -> Point:
        """Between which `belly` leaves metal all round: the arcs' centres less than the difference of radii apart.

        With the mean m of both widths and half their difference h: hypot(h, belly - m) < m.
        """
        mean, half = (self.back + self.tip_width) / 2, (self.back - self.tip_width) / 2
        away = math.sqrt(mean**2 - half**2)
        return mean - away, mean + away

    def _hole_problems(self) -> Iterator[Problem]:
        d = self.hole_size
        if self.bolt == BY_DIAMETER:
            yield from self.under("hole", self.back, "in this back")
        elif d >= self.back:
            yield self.problem(
                "bolt", f"wants a hole of {self.say(d, self.back)}; the back is {self.say(self.back, d)} wide."
            )
        clash = [
            *self.over("top_mark", d / 2, "to stay inside the top"),
            *self.at_most("top_mark", self.drop, "to stay above the throat"),
        ]
        if self.holes > 1 and not clash:
            clash = [
                *self.over("pitch", d, "to keep metal between the holes"),
                *self.at_most("pitch", (self.drop - self.top_mark) / (self.holes - 1), "to stay above the throat"),
            ]
        yield from clash


def outline(p: BracketHook) -> Profile:
    """Draw the hook and its screw holes."""
    return Profile((p.edge,), p.holes_at(p.centres, "screw hole", "holes"), dimensions=tuple(dimensions(p)))


def dimensions(p: BracketHook) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    (x, y), r, far = p.throat_centre, p.throat, p.reach
    yield Dimension("drop", (x, y), (0, p.drop), "left")
    yield Dimension("back", (0, p.drop), (p.back, p.drop), "above")
    yield Dimension("throat", (x, y), (x + r * math.cos(-2.2), y + r * math.sin(-2.2)), "radius")
    yield Dimension("belly", (x, -r - p.belly), (x, -r), "right")
    yield Dimension("tip", (x, y), (far - p.tip_width / 2, p.tip), "right")
    yield Dimension("tip_width", (far - p.tip_width, p.tip - p.tip_width / 2), (far, p.tip - p.tip_width / 2), "above")
    if p.end_radius:
        e, out = p.end_radius, p.end_radius * math.sqrt(0.5)
        yield Dimension("end_radius", (p.back - e, p.drop - e), (p.back - e + out, p.drop - e + out), "radius")
    if p.holes:
        first = p.centres[0]
        yield Dimension("top_mark", first, (0, p.drop), "left")
        if p.holes > 1:
            yield Dimension("pitch", p.centres[1], first, "left")
        yield from p.hole_measured(first)


TEMPLATE = Template(
    "bracket-hook",
    "Flat hook",
    BracketHook,
    outline,
    summary="Hangs things on a wall or rail: screw holes in the back, a round throat, a blunt tip.",
    cautions=(
        "Not for lifting, nor for people, hammocks or swings: a hook that holds anyone's weight is an engineer's job.",
        "Grind the edges round and set it where no one walks into the tip.",
    ),
    words=("hanger", "coat", "tool", "hose", "wall", "peg", "cup hook"),
    presets=(
        Preset("Workshop, hose hook", "drop=150 throat=45 belly=34 tip=45 back=40 tip_width=24 pitch=80 thickness=5"),
        Preset(
            "Garden bench, bag hook",
            "drop=80 throat=14 belly=18 tip=20 back=24 tip_width=16 end_radius=12 bolt=M6 top_mark=14 pitch=40 "
            "thickness=4",
        ),
        Preset(
            "Trailer, rope hook",
            "drop=5in throat=3/4in belly=1-1/4in back=1-1/2in tip_width=1in bolt=3/8 thickness=1/4in tip=1-1/4in "
            "end_radius=3/8in top_mark=3/4in pitch=2-1/4in",
        ),
    ),
)

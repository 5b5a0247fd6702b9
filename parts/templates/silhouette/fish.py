r"""Fish: a body drawn in tangent arcs from nose to forked tail, back fin and anal fin, eye, gill and stripes cut out.

             _.-|    fin
    __..---""   |__          /|
 .-'   ) )  )  )   `-.___.-'  |
( o  ) ) )  )  )     ____     }  tail_span
 `-._  ) )  )  )_.-'    `-._  |
     `""---\ /              \|
            V      overall length, depth of the body, tail_root where the tail begins
"""

import math
from collections.abc import Iterator

from parts.artwork import Knot, closed, notch, tip
from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Circle, Loop, Point, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, Hung, hung
from parts.templates.silhouette.shared.tapered import curved

STRIPES, GILL, EYE = (0.36, 0.61), 0.26, (0.13, 0.1)
"""First and last stripe and the gill as shares of the length; the eye as shares of length and depth. By eye."""
STRIPE_REACH, SHORTER, GILL_REACH, HOLLOW = 0.27, 0.14, 0.21, 0.62
"""Half the height of a stripe at the first place and how much less it is at the last, half that of the gill, and the
radius of their curve, as shares of the depth. By eye."""


class SilhouetteFish(Hung):
    """The nose is at the origin, the tail to the right, the middle of the body along the x axis."""

    overall: float = length("Length over all", default=320, minimum=50, maximum=2500)
    depth: float = length("Depth of the body", default=120, minimum=20, maximum=1200, moves="care")
    tail_span: float = length("Span of the tail", default=124, minimum=12, maximum=1200, moves="free")
    tail_root: float = length("Body where the tail begins", default=30, minimum=5, maximum=600, moves="free")
    fin: float = length("Back fin above the body", default=26, minimum=4, maximum=500, moves="free")
    nose_radius: float = length("Radius of the nose", default=9, minimum=1, maximum=300, moves="free")
    tip_radius: float = length("Radius of fins and tail", default=3, minimum=1, maximum=100, moves="free")
    eye_diameter: float = length(
        "Eye", default=13, minimum=0, maximum=200, group="Cut out", help="0 for none.", moves="free"
    )
    gill_width: float = length(
        "Gill", default=6, minimum=0, maximum=100, group="Cut out", help="Width; 0 for none.", moves="free"
    )
    stripes: int = count("Stripes", default=4, minimum=0, maximum=12, group="Cut out", moves="care")
    stripe_width: float = length(
        "Width of the stripes", default=7, minimum=1, maximum=100, group="Cut out", when=("stripes",), moves="free"
    )

    @property
    def foot_x(self) -> float:
        """Under the belly."""
        return 0.42 * self.overall

    @cached_property
    def knots(self) -> list[Knot]:
        """The curve round the fish, counter-clockwise from its nose: belly, anal fin, tail, back fin, back.

        Places and headings are shares and degrees drawn by eye; every tip's arc touches the line that its
        parameter sets.
        """
        x, r, half, root = self.overall, self.tip_radius, self.depth / 2, self.tail_root / 2
        slope = root + 0.62 * (half - root)  # the body under the fins' rear ends
        tail, fin, lean = self.tail_span / 2 - r, self.fin, self.lean
        return [
            *tip((self.nose_radius, 0.0), self.nose_radius, -180 + lean, -lean),
            Knot((0.36 * x, -half), 0.0),
            Knot((0.56 * x, -half + 0.35 * (half - slope)), math.radians(11)),
            *tip((0.7 * x - r, -slope - 0.6 * fin), r, -22, 112),
            *notch((0.675 * x, -0.84 * slope), r, 122, 20),
            Knot((0.82 * x, -root), 0.0),
            *tip((x - r, -tail), r, -36, 100),
            *notch((0.915 * x, 0.0), r, 132, 48),
            *tip((x - r, tail), r, 80, 216),
            Knot((0.82 * x, root), math.pi),
            *notch((0.625 * x, slope), r, 162, 64),
            *tip((0.67 * x - r, half + fin - r), r, 54, 187),
            Knot((0.43 * x, half + 0.46 * fin), math.radians(209)),
            Knot((0.34 * x, half), math.radians(186)),
        ]

    @property
    def lean(self) -> float:
        """Where the nose's round ends, in degrees from the x axis: head and belly go on nearly as one arc."""
        return min(1.7 * math.degrees(math.atan2(self.depth / 2, 0.36 * self.overall)), 75.0)

    @cached_property
    def figure(self) -> Loop:
        """The edge of the fish.

        Raises:
            GeometryError: if the curve can't be drawn.
        """
        return Loop.through(closed(self.knots))

    @cached_property
    def eye_at(self) -> Point:
        """Centre of the eye."""
        return EYE[0] * self.overall, EYE[1] * self.depth

    @property
    def stripe_places(self) -> list[float]:
        """Where the stripes cross the x axis."""
        first, last = (share * self.overall for share in STRIPES)
        if self.stripes == 1:
            return [(first + last) / 2]
        return [first + (last - first) * i / (self.stripes - 1) for i in range(self.stripes)]

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """Eye, gill and stripes."""
        return *self.eye_and_gill, *self.stripes_cut

    @cached_property
    def eye_and_gill(self) -> tuple[Opening, ...]:
        """The eye, and the gill behind it."""
        made = []
        if self.eye_diameter:
            made.append(Opening(circle(self.eye_at, self.eye_diameter), "eye", "eye_diameter"))
        if self.gill_width:
            made.append(Opening(self._bow(GILL * self.overall, GILL_REACH, self.gill_width), "gill", "gill_width"))
        return tuple(made)

    @cached_property
    def stripes_cut(self) -> tuple[Opening, ...]:
        """The stripes from the head on, ever shorter."""
        made = []
        first, last = (share * self.overall for share in STRIPES)
        for x in self.stripe_places:
            reach = STRIPE_REACH - SHORTER * (x - first) / (last - first)
            made.append(Opening(self._bow(x, reach, self.stripe_width), "stripe", "stripe_width"))
        return tuple(made)

    def _bow(self, x: float, reach: float, width: float) -> Loop:
        """A slot bowed toward the tail, its middle at (x, 0), its ends a share of the depth above and below."""
        radius, up = HOLLOW * self.depth, reach * self.depth
        at = x - radius + math.sqrt(radius**2 - up**2)
        return curved(Circle((at, -up), width), Circle((at, up), width), radius)

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what a fish can't have, then what has no room in it."""
        found = [
            *self.at_most("depth", 0.8 * self.overall, "for a fish of this length"),
            *self.at_most("tail_root", 0.5 * self.depth, "for a body of this depth"),
            *self.at_most("nose_radius", min(self.depth / 4, self.overall / 12), "for a head of this size"),
            *self.at_most("fin", 0.6 * self.depth, "for a body of this depth"),
            *self.at_most("tail_span", 0.7 * self.overall, "for a fish of this length"),
        ]
        if not found:
            found += self.over("tail_span", 1.6 * self.tail_root, "to stand out from where the tail begins")
            least = min(self.fin / 3, self.overall / 50, self.tail_span / 12)
            found += self.at_most("tip_radius", least, "for fins and tail of this size")
        yield from found
        if found:
            return
        if not self.is_sound:
            yield self.problem("tip_radius", "can't be drawn with fins and tail of these sizes; it must be smaller.")
            return
        yield from self._cut_out_problems()

    def _cut_out_problems(self) -> Iterator[Problem]:
        room = min(0.18 * self.depth, 0.09 * self.overall)
        yield from self.at_most("eye_diameter", room, "in a head of this size")
        yield from self.at_most("gill_width", min(0.12 * self.depth, 0.04 * self.overall), "behind the head")
        if self.stripes:
            pitch = (STRIPES[1] - STRIPES[0]) * self.overall / max(self.stripes - 1, 1)
            most = min(0.6 * pitch, 0.12 * self.depth, 0.06 * self.overall)
            yield from self.at_most("stripe_width", most, "for so many stripes in this body")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the fish."""
        x, half, root, r = self.overall, self.depth / 2, self.tail_root / 2, self.tip_radius
        tail = self.tail_span / 2
        yield Dimension("overall", (0, 0), (x, -tail + r), "below")
        yield Dimension("depth", (0.36 * x, -half), (0.34 * x, half), "left")
        yield Dimension("tail_span", (x - r, -tail), (x - r, tail), "right")
        yield Dimension("tail_root", (0.82 * x, -root), (0.82 * x, root), "along")
        yield Dimension("fin", (0.34 * x, half), (0.66 * x - r, half + self.fin), "right")
        yield Dimension("nose_radius", (self.nose_radius, 0), (0, 0), "radius")
        yield Dimension("tip_radius", (x - r, tail - r), (x, tail - r), "radius")
        if self.eye_diameter:
            a, b = self.eye_at
            yield Dimension("eye_diameter", (a, b), (a, b + self.eye_diameter / 2), "diameter")
        for name, width, places in (
            ("gill_width", self.gill_width, [GILL * self.overall]),
            ("stripe_width", self.stripe_width, self.stripe_places[-1:]),
        ):
            for at in places if width else []:
                yield Dimension(name, (at - width / 2, 0), (at + width / 2, 0), "along")


def outline(p: SilhouetteFish) -> Profile:
    """Draw the fish, what is cut out of it and what holds it."""
    return hung(p)


TEMPLATE = Template(
    "silhouette-fish",
    "Fish",
    SilhouetteFish,
    outline,
    summary="A fish with a forked tail and fins in smooth curves, eye, gill and stripes cut out, hung or on a stake.",
    cautions=CAUTIONS,
    words=(
        "ornament", "garden", "pond", "lake", "river", "trail sign", "pendant", "animal", "trout", "nautical",
        "decoration", "wall art", "yard art",
    ),
    presets=(
        Preset("Trail sign to the mill pond, on a stake", "overall=400 depth=150 tail_span=160 tail_root=38 fin=32 "
               "hang=none foot=stake foot_length=220 eye_diameter=16 stripe_width=9"),
        Preset("Slim one, a pendant for the market stall", "overall=150 depth=46 tail_span=50 tail_root=12 fin=11 "
               "nose_radius=4 tip_radius=2 eye_diameter=6 gill_width=0 stripes=0 hole=4 eye=4 thickness=2"),
        Preset("Large, for the boathouse", "overall=900 depth=340 tail_span=350 tail_root=84 fin=80 nose_radius=24 "
               "tip_radius=8 eye_diameter=36 gill_width=16 stripes=5 stripe_width=20 hang=two apart=260 hole=11 eye=14 "
               "thickness=4"),
    ),
)  # fmt: skip

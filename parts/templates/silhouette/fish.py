r"""Fish: soft fins and a forked tail, a gill's arc and rows of scales cut out.

           _.--.
        .-'     '-.__      /|     fins
     .-' (  ) ) ) )  '-._.' |
    <  o (  ) ) ) ) )  _    <     eye, gill, scales; depth over the fins
     '-._(  ) ) ) ) .-' '.  |
         '-.___..-/|      \|
             '-|    '
     overall, from nose to tail

The lower left of the figure's box is at the origin.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.profile import Dimension
from parts.spec import Preset, Template, length
from parts.templates.silhouette.shared.design import Design, Dot, Slit
from parts.templates.silhouette.shared.drawn import Sketched, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hung

EDGE = (
    ("nose", 0, 0, 18), ("throat", 150, -96), ("belly", 360, -146), ("pelvic fin, front", 430, -150, 20),
    ("pelvic fin's edge", 515, -185), ("pelvic fin's tip", 580, -245, 15), ("pelvic fin, back", 560, -136, 16),
    ("anal fin, front", 665, -104, 16), ("anal fin's edge", 720, -128), ("anal fin's tip", 775, -180, 15),
    ("anal fin, back", 770, -66, 16), ("tail's root below", 842, -46), ("lower lobe", 915, -110),
    ("lower lobe's tip", 985, -215, 15), ("lower lobe inside", 972, -95), ("fork", 932, 4, 16),
    ("upper lobe inside", 980, 105), ("upper lobe's tip", 1000, 232, 15), ("upper lobe", 920, 122),
    ("tail's root above", 842, 54), ("dorsal fin, back", 712, 98, 16), ("dorsal fin's trailing tip", 722, 165, 15),
    ("dorsal fin's hollow", 620, 190), ("dorsal fin's crest", 478, 272, 20), ("dorsal fin's front edge", 405, 215),
    ("dorsal fin, front", 330, 166, 30), ("forehead", 165, 108),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Dot("eye", 0, (112, 30), 26), Slit("gill", 0, (12, 22, 12), ((177, -87), (213, -6), (183, 77))),
    Slit("scale", 1, (10, 16, 10), ((300, -74), (312, -46), (300, -18))),
    Slit("scale", 1, (10, 16, 10), ((300, 18), (312, 46), (300, 74))),
    Slit("scale", 1, (10, 16, 10), ((372, -116), (384, -88), (372, -60))),
    Slit("scale", 1, (10, 16, 10), ((372, -24), (384, 4), (372, 32))),
    Slit("scale", 1, (10, 16, 10), ((372, 66), (384, 94), (372, 122))),
    Slit("scale", 1, (10, 16, 10), ((444, -72), (456, -44), (444, -16))),
    Slit("scale", 1, (10, 16, 10), ((444, 20), (456, 48), (444, 76))),
    Slit("scale", 1, (10, 16, 10), ((516, -112), (528, -84), (516, -56))),
    Slit("scale", 1, (10, 16, 10), ((516, -24), (528, 4), (516, 32))),
    Slit("scale", 1, (10, 16, 10), ((516, 66), (528, 94), (516, 122))),
    Slit("scale", 2, (10, 16, 10), ((588, -66), (600, -38), (588, -10))),
    Slit("scale", 2, (10, 16, 10), ((588, 22), (600, 50), (588, 78))),
    Slit("scale", 2, (10, 16, 10), ((660, -22), (672, 6), (660, 34))),
    Slit("tail line", 4, (13, 9), ((872, 36), (920, 82), (958, 150))),
    Slit("tail line", 4, (13, 9), ((872, -30), (915, -72), (948, -138))),
    Slit("fin line", 3, (12, 9), ((440, 178), (480, 200), (505, 236))),
    Slit("fin line", 3, (12, 9), ((545, 150), (590, 158), (620, 168))),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteFish(Sketched):
    """It swims to the left."""

    design = Design(EDGE, CUTS, 400)
    retired = frozenset(
        {
            "tail_span",
            "tail_root",
            "fin",
            "nose_radius",
            "tip_radius",
            "eye_diameter",
            "gill_width",
            "stripes",
            "stripe_width",
        }
    )

    overall: float = length("Length from nose to tail", default=320, minimum=50, maximum=2500)
    depth: float = length("Depth over the fins", default=164, minimum=20, maximum=1500, moves="care")

    @property
    def figure_width(self) -> float:
        """As asked for."""
        return self.overall

    @property
    def figure_height(self) -> float:
        """As asked for."""
        return self.depth

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what it can't be, then what of its lines has no room."""
        found = [
            *self.at_most("depth", 0.66 * self.overall, "for a fish of this length"),
            *self.at_least("depth", 0.36 * self.overall, "for a fish of this length"),
        ]
        yield from found or super().figure_problems()

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the fish, then what it has of lines."""
        yield Dimension("overall", (0, 0), (self.overall, 0), "below")
        yield Dimension("depth", (0, 0), (0, self.depth), "left")
        yield from super().figure_dimensions()


TEMPLATE = Template(
    "silhouette-fish",
    "Fish",
    SilhouetteFish,
    hung,
    summary="A fish with soft fins and a forked tail, eye, gill and rows of scales cut out, hung or on a stake.",
    cautions=CAUTIONS,
    words=(
        "ornament", "garden", "pond", "lake", "river", "trail sign", "pendant", "animal", "trout", "nautical",
        "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Trail sign to the mill pond, on a stake",
               "overall=400 depth=200 hang=none foot=stake foot_length=220"),
        Preset("Slim one, a pendant for the market stall",
               "overall=150 depth=66 hole=4 eye=4 thickness=2"),
        Preset("Large, for the boathouse",
               "overall=900 depth=460 hang=two apart=160 hole=11 eye=14 thickness=4"),
    ),
)  # fmt: skip

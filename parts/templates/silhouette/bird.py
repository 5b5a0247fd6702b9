r"""Bird: a songbird standing on both feet, its folded wing and tail feathers as lines cut out.

        .--.
     _.' o  '.
    '-.        '-._
       \  (  (      '-._         depth from crown to feet
        \  '.  '--..__  >._
         '.   '--..__  __  <     wing, tail with a notch
           '-.    .--''  '--'
             _|__|_
     overall, from beak to tail

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
    ("beak's tip", 0, 478, 9), ("beak below", 78, 446, 9), ("throat", 92, 395), ("breast", 112, 280),
    ("belly, front", 205, 150), ("belly", 330, 98), ("thigh", 392, 92, 8), ("shank", 400, 42, 8),
    ("front toe", 326, 15, 13), ("sole", 392, -2), ("back toe", 488, 9, 12), ("heel", 430, 36, 8),
    ("knee", 430, 88, 8), ("between the legs", 480, 96), ("thigh", 535, 108, 8), ("shank", 545, 40, 8),
    ("front toe", 500, -6, 13), ("sole", 560, -12), ("back toe", 640, 8, 11), ("heel", 577, 38, 8),
    ("knee", 577, 112, 8), ("vent", 650, 150), ("under the tail", 790, 165), ("tail's lower corner", 985, 122, 10),
    ("notch of the tail", 955, 168, 9), ("tail's upper corner", 1000, 226, 10), ("tail", 860, 258),
    ("wing's tip below", 800, 262, 9), ("wing's tip", 840, 300, 9), ("wing's edge", 700, 340), ("back", 520, 432),
    ("nape", 370, 530), ("crown", 230, 590), ("forehead", 120, 552), ("beak above", 78, 508, 9),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Dot("eye", 0, (185, 505), 24),
    Slit("wing's edge", 1, (13, 26, 12), ((262, 405), (290, 280), (420, 212), (580, 205), (720, 235))),
    Slit("feather", 2, (20, 10), ((355, 345), (450, 275), (560, 262), (690, 285))),
    Slit("feather", 3, (20, 10), ((400, 410), (490, 345), (590, 322), (680, 322))),
    Slit("tail feather", 4, (10, 12), ((800, 215), (870, 205), (925, 192))),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteBird(Sketched):
    """It looks to the left."""

    design = Design(EDGE, CUTS, 490)
    retired = frozenset({"beak", "tail_width", "tip_radius", "eye_diameter", "lines"})

    overall: float = length("Length from beak to tail", default=300, minimum=50, maximum=2500)
    depth: float = length("Depth from crown to feet", default=181, minimum=20, maximum=1500, moves="care")

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
            *self.at_most("depth", 0.8 * self.overall, "for a bird of this length"),
            *self.at_least("depth", 0.45 * self.overall, "for a bird of this length"),
        ]
        yield from found or super().figure_problems()

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the bird, then what it has of lines."""
        yield Dimension("overall", (0, 0), (self.overall, 0), "below")
        yield Dimension("depth", (0, 0), (0, self.depth), "left")
        yield from super().figure_dimensions()


TEMPLATE = Template(
    "silhouette-bird",
    "Bird",
    SilhouetteBird,
    hung,
    summary="A songbird on its feet with a notched tail, eye, wing and feathers cut out; hung, on a stake or a tab.",
    cautions=CAUTIONS,
    words=(
        "ornament", "garden", "songbird", "animal", "fence", "bench", "trail sign", "pendant", "feeder", "robin",
        "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Garden bed, on a stake",
               "overall=240 depth=145 hang=none foot=stake foot_length=260"),
        Preset("Bird pendant for the market stall",
               "overall=130 depth=80 details=none hole=4 eye=3 thickness=2 process=laser"),
        Preset("Large, on a tab for the bird walk's trail sign",
               "overall=640 depth=386 hang=none foot=tab foot_width=40 foot_length=60 thickness=4"),
    ),
)  # fmt: skip

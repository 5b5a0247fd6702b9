r"""Butterfly: wings spread, their cells and spots cut out, feelers with knobs.

     .--.  \ /  .--.
    (  \ \. V ./ /  )    fore wings
     \  '=.\|/.='  /     overall_width over both
      )--' (|) '--(
     ( o /  |  \ o )     hind wings
      '-'   '   '-'

The lower left of the figure's box is at the origin.
"""

from parts.artwork import both_sides
from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Dot, Slit, on_both_sides
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hanging_hole, hung, metal_around

EDGE = both_sides((
    ("abdomen's end", 0, -285), ("abdomen", 26, -180), ("hind wing's root", 34, -70, 10),
    ("hind wing, inside", 105, -215), ("hind wing's tail", 215, -385), ("hind wing, low", 330, -395),
    ("hind wing, outside", 425, -265), ("hind wing, high", 420, -120), ("between the wings", 375, -50, 20),
    ("fore wing, low", 480, -20), ("fore wing, outside", 575, 140), ("fore wing's edge", 585, 300),
    ("fore wing's tip", 560, 405), ("fore wing, front", 420, 395), ("fore wing, inside", 215, 265),
    ("neck", 36, 110, 12), ("head", 38, 165), ("antenna's root", 30, 205, 8), ("antenna", 95, 300),
    ("antenna's club", 175, 395, 15), ("antenna, inside", 62, 312), ("between the antennae", 0, 216, 9),
))  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    *on_both_sides((
        Slit("cell", 0, (12, 92, 22), ((95, 118), (270, 228), (455, 330))),
        Slit("cell", 1, (12, 74, 26), ((105, 50), (290, 85), (470, 150))),
        Slit("cell", 0, (12, 96, 40), ((90, -60), (205, -160), (300, -285))), Dot("spot", 2, (535, 262), 30),
        Dot("spot", 3, (520, 350), 24), Dot("spot", 2, (378, -230), 30), Dot("spot", 3, (385, -150), 24),
    )),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteButterfly(Drawn):
    """Symmetric about its body."""

    design = Design(EDGE, CUTS, 0)

    hang: str = hang_choice("one")
    hole: float = hanging_hole(5)
    eye: float = metal_around(4)


TEMPLATE = Template(
    "silhouette-butterfly",
    "Butterfly",
    SilhouetteButterfly,
    hung,
    summary="A butterfly with open cells and spots in its wings, like leaded glass; hung, or on a stake among flowers.",
    cautions=CAUTIONS,
    words=(
        "moth", "insect", "monarch", "wings", "flower bed", "window", "suncatcher", "bug", "ornament", "garden",
        "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Among the flowers, on a stake",
               "overall_width=300 hang=none foot=stake foot_length=300 foot_width=26"),
        Preset("Fence panel", "overall_width=600 hole=9 eye=8 thickness=4"),
        Preset("Nursery wall", "overall_height=180 hang=none thickness=2"),
    ),
)  # fmt: skip

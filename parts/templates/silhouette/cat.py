r"""Cat: sitting, seen from the front, its tail round to the right; eyes, whiskers and legs cut out.

      /\___/\
     ( ^ v ^ )    eyes, nose, whiskers
      )     (
     / /| |\ \ .
    ( ( | | ) ) )   tail
     '-------'-'    overall_height from the ground to the ears

The lower left of the figure's box is at the origin.
"""

from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Slit, Window, on_both_sides
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hung

EDGE = (
    ("base, left", 165, 8, 30), ("base, right", 590, 8, 10), ("tail, below", 720, 14), ("tail, outside", 838, 105),
    ("tail, outside high", 850, 255), ("tail's tip", 772, 372, 30), ("tail, inside high", 776, 255),
    ("tail, inside", 742, 148), ("tail's root above", 648, 118, 20), ("haunch, right", 655, 250),
    ("flank, right", 590, 430), ("shoulder, right", 540, 560), ("neck, right", 510, 628, 16),
    ("cheek, right", 588, 700), ("temple, right", 592, 800), ("ear, right outside", 592, 880),
    ("right ear's tip", 572, 990, 13), ("ear, right inside", 468, 898, 20), ("crown", 375, 882),
    ("ear, left inside", 282, 898, 20), ("left ear's tip", 178, 990, 13), ("ear, left outside", 158, 880),
    ("temple, left", 158, 800), ("cheek, left", 162, 700), ("neck, left", 240, 628, 16), ("shoulder, left", 210, 560),
    ("flank, left", 160, 430), ("haunch, left", 95, 250), ("haunch, left low", 105, 90),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Window("nose", 0, (("n", 375, 690, 8), ("n", 400, 722, 9), ("n", 350, 722, 9))),
    *on_both_sides((
        Slit("eye", 0, (9, 40, 9), ((512, 772), (472, 795), (425, 770))),
        Slit("whisker", 2, (9, 12), ((550, 718), (500, 712), (442, 700))),
        Slit("whisker", 3, (9, 12), ((538, 668), (492, 672), (438, 672))),
        Slit("foreleg line", 1, (10, 22, 10), ((432, 40), (428, 230), (405, 400))),
        Slit("haunch line", 2, (10, 24, 10), ((590, 330), (528, 270), (510, 170), (535, 80))),
        Slit("ear line", 2, (14, 14), ((542, 925), (525, 885))),
    ), 375),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteCat(Drawn):
    """All of it but the tail is symmetric."""

    design = Design(EDGE, CUTS, 375)

    hang: str = hang_choice("none")


TEMPLATE = Template(
    "silhouette-cat",
    "Cat",
    SilhouetteCat,
    hung,
    summary="A sitting cat with smiling eyes, whiskers and a tail curled up beside it; on a wall, a stake or a tab.",
    cautions=CAUTIONS,
    words=(
        "kitten", "pet", "animal", "feline", "halloween", "memorial", "window", "fence", "ornament", "garden",
        "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Fence post", "overall_height=260"),
        Preset("Mole watch in the lawn, on a stake", "overall_height=500 foot=stake foot_length=200"),
        Preset("Pet's memorial on a tab", "overall_height=400 foot=tab foot_width=60 foot_length=40 thickness=5"),
    ),
)  # fmt: skip

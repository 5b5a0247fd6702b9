r"""Maple leaf: five pointed lobes with teeth, veins cut out, on its stem.

          ^
       . / \ .
       |\ | /|
    <\_\ \|/ /_/>     lobes, a vein in each
      '-. | .-'
      <__\|/__>
          |           stem; overall_height

The lower left of the figure's box is at the origin.
"""

from parts.artwork import both_sides
from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Slit, on_both_sides
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hanging_hole, hung, metal_around

EDGE = both_sides((
    ("stem's end", 21, -310, 17), ("stem's root", 21, -30, 12), ("basal edge", 120, -62),
    ("basal lobe's tip", 270, -95, 9), ("basal edge, above", 262, -40), ("basal notch", 290, 15, 14),
    ("side tooth's edge", 360, 18), ("side tooth, low", 455, 55, 9), ("side tooth above", 420, 110),
    ("side notch, low", 425, 165, 14), ("side lobe, below", 480, 215), ("side lobe's tip", 555, 320, 9),
    ("side lobe, above", 470, 300), ("side notch, high", 395, 305, 14), ("side tooth, high", 370, 392, 9),
    ("side tooth inside", 280, 310), ("sinus", 165, 262, 20), ("top lobe, low", 200, 380), ("top tooth", 262, 512, 9),
    ("top tooth above", 205, 510), ("top notch", 150, 540, 14), ("top lobe", 100, 640), ("top lobe's tip", 0, 800, 9),
))  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Slit("midrib", 0, (18, 9), ((0, 10), (0, 300), (0, 640))),
    *on_both_sides((
        Slit("vein", 1, (14, 9), ((54, 34), (190, 140), (400, 250))),
        Slit("vein", 2, (14, 9), ((78, -4), (150, -22), (218, -58))),
        Slit("vein", 3, (14, 9), ((44, 262), (112, 350), (185, 450))),
        Slit("vein", 3, (14, 9), ((190, 95), (280, 80), (375, 75))),
    )),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteMaple(Drawn):
    """Symmetric about its midrib."""

    design = Design(EDGE, CUTS, 0)

    hang: str = hang_choice("lug")
    hole: float = hanging_hole(6)
    eye: float = metal_around(5)


TEMPLATE = Template(
    "silhouette-maple",
    "Maple leaf",
    SilhouetteMaple,
    hung,
    summary="A sugar maple's leaf with pointed lobes and cut veins; hung, on a stake, or as a row along a fence.",
    cautions=CAUTIONS,
    words=(
        "leaves", "sugar maple", "syrup", "tree", "autumn", "fall", "foliage", "forest", "trail sign", "ornament",
        "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Sugar house door", "overall_height=450 hole=8 eye=7 thickness=4"),
        Preset("Among the beds, on a stake", "overall_height=460 hang=none foot=stake foot_length=200"),
        Preset("Coaster or trivet blank", "overall_height=200 hang=none details=none"),
    ),
)  # fmt: skip

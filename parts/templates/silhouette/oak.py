r"""Oak leaf: round lobes, midrib and veins cut out, on its stem.

       .--.
     .-'  '-.
    (  \ | / )      lobes, a vein in each
     )  \|/ (
    (  \ | / )
     '-.\|/.-'
         |          stem; overall_height

The lower left of the figure's box is at the origin.
"""

from parts.artwork import both_sides
from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Slit, on_both_sides
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hanging_hole, hung, metal_around

EDGE = both_sides((
    ("stem's end", 20, -190, 16), ("stem's root", 22, -10, 16), ("lowest lobe, below", 100, 8),
    ("lowest lobe", 168, 70), ("lowest lobe, above", 135, 128), ("lowest sinus", 88, 160),
    ("second lobe, below", 170, 202), ("second lobe", 262, 268), ("second lobe, above", 222, 330),
    ("second sinus", 98, 362), ("third lobe, below", 195, 404), ("third lobe", 318, 485),
    ("third lobe, above", 270, 560), ("third sinus", 104, 580), ("fourth lobe, below", 185, 622),
    ("fourth lobe", 262, 700), ("fourth lobe, above", 206, 752), ("fourth sinus", 104, 768), ("top lobe", 118, 868),
    ("tip", 0, 935),
))  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Slit("midrib", 0, (20, 9), ((0, 10), (0, 420), (0, 840))),
    *on_both_sides((
        Slit("vein", 3, (13, 9), ((44, 33), (81, 45), (118, 66))),
        Slit("vein", 1, (13, 9), ((44, 193), (122, 222), (200, 266))),
        Slit("vein", 1, (13, 9), ((44, 397), (148, 432), (252, 484))),
        Slit("vein", 1, (13, 9), ((44, 601), (124, 639), (205, 696))),
        Slit("vein", 2, (13, 9), ((44, 793), (58, 818), (72, 856))),
    )),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteOak(Drawn):
    """Symmetric about its midrib."""

    design = Design(EDGE, CUTS, 0)

    hang: str = hang_choice("lug")
    hole: float = hanging_hole(6)
    eye: float = metal_around(5)


TEMPLATE = Template(
    "silhouette-oak",
    "Oak leaf",
    SilhouetteOak,
    hung,
    summary="An oak leaf with rounded lobes and cut veins, for gates, benches and trail signs; hung or on a stake.",
    cautions=CAUTIONS,
    words=(
        "leaves", "acorn", "tree", "autumn", "fall", "foliage", "forest", "gate", "trail sign", "ornament", "garden",
        "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Gate ornament", "overall_height=300 hang=none thickness=4"),
        Preset("Trail sign's head, on a stake", "overall_height=500 hang=none foot=stake foot_length=200"),
        Preset("Door hanger", "overall_height=220"),
    ),
)  # fmt: skip

r"""Stag's head: seen from the front, antlers of four points a side, ears, eyes, jaw and nose cut out.

    \ | |/   \| | /
     \|_|     |_|/      antlers; overall_height from the ruff to their tips
        \_____/
    <==.( o o ).==>     ears, eyes, jaw lines
         \   /
          \v/           nose
        '-.^.-'         ruff

The lower left of the figure's box is at the origin.
"""

from parts.artwork import both_sides
from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Slit, Window, on_both_sides
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hanging_hole, hung, metal_around

EDGE = both_sides((
    ("ruff's point", 0, -215, 12), ("between tufts", 50, -128, 10), ("tuft", 98, -168, 11),
    ("between tufts, next", 135, -68, 10), ("tuft, next", 192, -92, 11), ("between tufts, last", 196, 10, 12),
    ("neck", 176, 120), ("throat", 138, 225), ("cheek", 122, 280), ("ear's root below", 112, 335, 14),
    ("ear, below", 205, 330), ("ear's tip", 325, 402, 12), ("ear, above", 215, 432),
    ("ear's root above", 108, 418, 12), ("pedicle", 78, 458, 12), ("antler, outside", 165, 505),
    ("antler, outside bend", 290, 620), ("antler, outside high", 350, 800), ("beam's tip", 308, 1010, 15),
    ("top fork", 296, 842, 14), ("third tine", 270, 905), ("third tine's tip", 205, 985, 12),
    ("third fork", 268, 735, 14), ("second tine", 210, 800), ("second tine's tip", 115, 880, 12),
    ("second fork", 208, 622, 14), ("brow tine", 140, 640), ("brow tine's tip", 62, 725, 12),
    ("brow fork", 112, 530, 14), ("antler's root", 46, 478, 14), ("poll", 0, 460),
))  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Window("nose", 0, (("n", 0, -10, 10), ("n", 42, 36, 13), ("n", 0, 50), ("n", -42, 36, 13))),
    *on_both_sides((
        Slit("eye", 0, (10, 32, 10), ((38, 300), (60, 320), (84, 316))),
        Slit("jaw line", 0, (9, 22, 9), ((92, 250), (84, 140), (80, 20), (38, -45))),
        Slit("face line", 2, (9, 16, 9), ((28, 265), (24, 190), (36, 105))),
        Slit("ear line", 2, (14, 9), ((155, 378), (212, 380), (265, 390))),
    )),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteStag(Drawn):
    """It is as wide as its antlers."""

    design = Design(EDGE, CUTS, 0)

    hang: str = hang_choice("one")
    hole: float = hanging_hole(6)
    eye: float = metal_around(5)


TEMPLATE = Template(
    "silhouette-stag",
    "Stag's head",
    SilhouetteStag,
    hung,
    summary="A stag's head from the front with spreading antlers, for a gable or a cabin door; hung or on a tab.",
    cautions=CAUTIONS,
    words=(
        "deer", "buck", "antlers", "hunting", "cabin", "wildlife", "animal", "trophy", "gate", "trail sign",
        "ornament", "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("For the cabin's gable", "overall_height=900 hole=11 eye=14 thickness=5"),
        Preset("Gate panel", "overall_height=420 thickness=4 hang=none"),
        Preset("Coat hook plate by the door", "overall_height=250 hole=5 eye=4"),
    ),
)  # fmt: skip

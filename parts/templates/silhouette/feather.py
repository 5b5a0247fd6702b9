r"""Feather: a quill, its vane split in places, barbs cut out on both sides.

       .^.
      / /|
     / /\|
    <\ \/|     splits in the vane
     |\ \>
     | \/|     barbs cut out
      \|/
       |       quill; overall_height

The lower left of the figure's box is at the origin.
"""

from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Slit
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hanging_hole, hung, metal_around

EDGE = (
    ("quill's end", -6, -60, 13), ("quill", 28, 40), ("quill's root, right", 66, 190, 14),
    ("vane's foot, right", 140, 215), ("vane, right", 225, 330), ("split, right low", 158, 390, 9),
    ("split, right low above", 240, 388, 14), ("vane, right middle", 286, 560), ("split, right high", 222, 612, 9),
    ("split above, right", 300, 612, 14), ("vane, right high", 315, 800), ("tip", 262, 1010, 14),
    ("vane, left high", 118, 900), ("split, left high above", 32, 768, 14), ("split, left high", 108, 742, 9),
    ("split below, left", 14, 715, 14), ("vane, left", -32, 560), ("split, left low above", -40, 452, 14),
    ("split, left low", 30, 440, 9), ("vane below, left", -38, 395, 14), ("vane's foot, left", -10, 270),
    ("quill's root, left", 26, 200, 14), ("quill, left", -8, 60),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Slit("barb", 2, (15, 9), ((104, 242), (149, 275), (184, 318))),
    Slit("barb", 1, (15, 9), ((140, 425), (196, 474), (242, 532))),
    Slit("barb", 3, (15, 9), ((158, 522), (188, 549), (208, 586))),
    Slit("barb", 1, (15, 9), ((184, 632), (237, 684), (280, 745))),
    Slit("barb", 2, (15, 9), ((206, 735), (252, 782), (288, 840))),
    Slit("barb", 3, (15, 9), ((228, 835), (254, 858), (270, 892))),
    Slit("barb", 2, (15, 9), ((66, 270), (34, 302), (12, 345))),
    Slit("barb", 3, (15, 9), ((88, 356), (60, 374), (42, 402))),
    Slit("barb", 1, (15, 9), ((103, 458), (46, 510), (-2, 572))),
    Slit("barb", 2, (15, 9), ((122, 552), (64, 602), (16, 662))),
    Slit("barb", 3, (15, 9), ((140, 640), (101, 659), (72, 688))),
    Slit("barb", 1, (15, 9), ((168, 762), (135, 792), (112, 832))),
    Slit("barb", 4, (15, 9), ((192, 850), (166, 872), (150, 905))),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteFeather(Drawn):
    """The quill is below."""

    design = Design(EDGE, CUTS, 0)

    hang: str = hang_choice("one")
    hole: float = hanging_hole(5)
    eye: float = metal_around(4)


TEMPLATE = Template(
    "silhouette-feather",
    "Feather",
    SilhouetteFeather,
    hung,
    summary="A feather with a split vane and its barbs cut out, to hang by itself or in a row of several sizes.",
    cautions=CAUTIONS,
    words=(
        "plume", "quill", "bird", "boho", "earring", "pendant", "wind chime", "mobile", "eagle feather", "ornament",
        "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("For a mobile of three", "overall_height=260 thickness=2"),
        Preset("Wall piece", "overall_height=900 hole=9 eye=8 thickness=4"),
        Preset("Earring or key fob blank", "overall_height=120 details=none hole=4 eye=3 thickness=1.5"),
    ),
)  # fmt: skip

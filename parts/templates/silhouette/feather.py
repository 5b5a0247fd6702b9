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
    ("quill's end", -150, -64, 12),
    ("quill, right", -62, 24),
    ("quill's root, right", -2, 176, 16),
    ("vane's foot, right", 59, 252),
    ("vane, right lowest", 99, 330),
    ("vane, right low", 118, 400),
    ("split's lip, right low", 124, 462, 10),
    ("split, right low", 37, 384, 7),
    ("split's lip above, right low", 122, 504, 10),
    ("vane, right middle", 141, 570),
    ("vane above, right middle", 147, 630),
    ("split's lip, right high", 146, 700, 10),
    ("split, right high", 61, 626, 7),
    ("split's lip above, right high", 141, 740, 10),
    ("vane, right high", 144, 810),
    ("vane, right highest", 130, 900),
    ("tip", 128, 1010, 9),
    ("vane, left highest", 45, 950),
    ("vane, left high", 3, 880),
    ("split's lip above, left high", -30, 800, 10),
    ("split, left high", -2, 702, 7),
    ("split's lip, left high", -44, 758, 10),
    ("vane above, left middle", -60, 690),
    ("vane, left middle", -69, 620),
    ("split's lip above, left low", -75, 546, 10),
    ("split, left low", -33, 448, 7),
    ("split's lip, left low", -84, 502, 10),
    ("vane, left low", -90, 420),
    ("vane, left lowest", -81, 330),
    ("vane's foot, left", -53, 250),
    ("quill's root, left", -40, 184, 16),
    ("quill, left", -90, 40),
)
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Slit("shaft", 1, (11, 8), ((-10, 262), (-1, 381), (10, 500))),
    Slit("shaft", 1, (11, 8), ((15, 545), (26, 642), (39, 740))),
    Slit("barb", 2, (11, 8), ((25, 288), (47, 325), (75, 362))),
    Slit("barb", 2, (11, 8), ((46, 520), (75, 562), (109, 604))),
    Slit("barb", 2, (11, 8), ((74, 742), (91, 778), (114, 814))),
    Slit("barb", 3, (11, 8), ((-38, 318), (-48, 350), (-63, 382))),
    Slit("barb", 3, (11, 8), ((-17, 570), (-25, 610), (-39, 650))),
)
"""What is cut out of it."""


class SilhouetteFeather(Drawn):
    """The quill is below."""

    design = Design(EDGE, CUTS, -70)

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
        Preset("Earring or key fob blank", "overall_height=120 details=none hole=4 eye=3 thickness=1.5 process=laser"),
    ),
)  # fmt: skip

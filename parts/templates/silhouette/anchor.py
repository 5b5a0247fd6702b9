r"""Anchor: ring, stock and shank, two arms with flukes.

         (O)           ring
      [===+===]        stock
          |
    /\    |    /\      flukes
     \'._ | _.'/
       '-.v.-'         crown; overall_height

The lower left of the figure's box is at the origin.
"""

from parts.artwork import both_sides
from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Dot, Slit, on_both_sides
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hung

EDGE = both_sides((
    ("crown", 0, 0, 18), ("arm, outside", 185, 62), ("arm, outside high", 330, 215),
    ("fluke's outer barb", 395, 180, 11), ("fluke", 420, 290), ("fluke's tip", 385, 425, 12),
    ("fluke, inside", 290, 365), ("fluke's inner barb", 222, 295, 11), ("arm, inside high", 272, 268, 14),
    ("arm, inside", 175, 172), ("shank's root", 44, 128, 30), ("shank", 34, 610, 14), ("stock, below", 215, 606, 14),
    ("stock's end, below", 262, 590, 14), ("stock's end, above", 262, 684, 14), ("stock, above", 215, 668, 14),
    ("shank, high", 32, 664, 14), ("neck", 32, 740, 16), ("ring, low", 112, 800), ("ring", 140, 880),
    ("ring, high", 90, 985), ("ring's top", 0, 1020),
))  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Dot("ring's hole", 0, (0, 880), 150), Slit("shank line", 1, (14, 14), ((0, 180), (0, 370), (0, 560))),
    *on_both_sides((

    )),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteAnchor(Drawn):
    """Symmetric about its shank; it hangs by its ring."""

    design = Design(EDGE, CUTS, 0)

    hang: str = hang_choice("none")


TEMPLATE = Template(
    "silhouette-anchor",
    "Anchor",
    SilhouetteAnchor,
    hung,
    summary="A ship's anchor with ring, stock and barbed flukes for a boat shed or a gate; hung by its ring.",
    cautions=CAUTIONS,
    words=(
        "nautical", "ship", "boat", "harbor", "harbour", "sea", "navy", "marine", "lake house", "gate", "ornament",
        "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Boat shed door", "overall_height=500 thickness=5"),
        Preset("Harbour gate ornament", "overall_height=300 thickness=4"),
        Preset("Mailbox post, on a tab", "overall_height=260 foot=tab foot_width=30 foot_length=25"),
    ),
)  # fmt: skip

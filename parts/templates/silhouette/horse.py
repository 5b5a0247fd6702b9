r"""Horse: walking to the left, a forefoot raised, mane, shoulder and thigh as lines cut out.

      /|
     / o\\
    (_/\ \\_________
        \    /     (\\
        _)  (______/ |)     overall_width over nose and tail
      _/ | |    // \ \(
      |_ |_|   /_|  |_|

The lower left of the figure's box is at the origin.
"""

from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Dot, Slit
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hung

EDGE = (
    ("nose", 38, 622, 20), ("chin", 72, 572, 18), ("jaw", 140, 612), ("cheek", 196, 640), ("throat", 232, 590),
    ("neck below", 258, 500), ("breast", 262, 395), ("raised forearm", 215, 345), ("raised knee", 150, 290, 24),
    ("raised cannon", 178, 205), ("raised hoof's toe", 188, 105, 12), ("raised hoof's heel", 248, 108, 12),
    ("raised cannon, back", 228, 205), ("raised knee, back", 238, 268, 14), ("raised forearm, below", 312, 300, 18),
    ("forearm, front", 330, 240), ("knee, front", 334, 185), ("cannon, front", 340, 110), ("pastern, front", 326, 55),
    ("toe", 306, 3, 10), ("heel", 378, 3, 10), ("fetlock, back", 380, 66), ("cannon, back", 384, 120),
    ("knee, back", 392, 195), ("elbow", 424, 296, 20), ("girth", 490, 270), ("belly", 560, 272),
    ("groin", 628, 292, 16), ("gaskin, front", 624, 225), ("hock, front", 640, 180), ("hind cannon, front", 606, 100),
    ("hind pastern", 590, 52), ("hind toe", 570, 3, 10), ("hind heel", 642, 3, 10), ("hind fetlock, back", 648, 66),
    ("hind cannon, back", 682, 130), ("hock", 706, 198, 16), ("gaskin, back", 715, 250),
    ("between the hind legs", 752, 305, 18), ("far gaskin, front", 790, 240), ("far hock, front", 822, 180),
    ("far cannon, front", 842, 105), ("far pastern", 846, 55), ("far toe", 832, 3, 10), ("far heel", 904, 3, 10),
    ("far fetlock, back", 900, 66), ("far cannon, back", 890, 120), ("far hock", 892, 205, 16),
    ("far gaskin, back", 868, 285), ("thigh", 880, 400), ("tail's root below", 900, 520, 14),
    ("tail, inside", 938, 430), ("tail, low", 930, 300), ("tail's tip", 985, 165, 14), ("tail, outside", 1022, 320),
    ("tail, outside high", 1000, 500), ("tail's root above", 915, 600), ("croup", 820, 628), ("loin", 720, 618),
    ("back", 610, 600), ("withers", 500, 636), ("crest", 400, 738), ("poll", 292, 848), ("ear, back", 280, 868, 10),
    ("ear's tip", 268, 930, 10), ("ear, front", 240, 868, 12), ("forehead", 196, 820), ("face", 112, 715),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Dot("eye", 0, (188, 760), 24), Slit("mane", 1, (10, 24, 12), ((302, 800), (378, 700), (462, 620))),
    Slit("mane", 3, (10, 20, 10), ((290, 735), (345, 660), (420, 590))),
    Slit("shoulder", 2, (10, 18, 10), ((352, 540), (345, 450), (388, 370))),
    Slit("thigh", 2, (10, 20, 10), ((770, 560), (752, 450), (705, 360))),
    Slit("tail line", 3, (12, 10), ((948, 520), (975, 420), (972, 300))),
    Slit("nostril", 4, (11, 11), ((72, 628), (84, 645))),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteHorse(Drawn):
    """It looks to the left."""

    design = Design(EDGE, CUTS, 530)

    hang: str = hang_choice("none")


TEMPLATE = Template(
    "silhouette-horse",
    "Horse",
    SilhouetteHorse,
    hung,
    summary="A horse walking with a forefoot raised, lines of mane and flanks cut out; on a wall, a stake or a tab.",
    cautions=CAUTIONS,
    words=(
        "pony", "mare", "stallion", "stable", "ranch", "farm", "animal", "riding", "barn", "gate", "ornament",
        "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Stable door", "overall_height=450 thickness=4"),
        Preset("Ranch gate", "overall_width=900 thickness=5"),
        Preset("Paddock sign on a stake", "overall_height=520 foot=stake foot_length=200"),
    ),
)  # fmt: skip

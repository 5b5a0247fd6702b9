r"""Rooster: comb, wattle and a fan of plumes, wing and hackle as lines cut out.

     vVv         .-.
    <o  \      .'/  )
     6)  \___.' / _>    plumes
      \ (===   _>
       '.    .'         wing
         |  |
        _|_ |_          overall_height from the feet to the plumes

The lower left of the figure's box is at the origin.
"""

from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Dot, Slit
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hung

EDGE = (
    ("beak's tip", 30, 758, 10), ("beak below", 98, 728, 9), ("wattle", 105, 655), ("wattle's tip", 135, 615),
    ("wattle, back", 168, 660), ("throat", 172, 690, 8), ("neck, front", 190, 600), ("breast", 200, 480),
    ("breast, low", 275, 345), ("belly", 400, 280), ("thigh, front", 435, 248), ("shank", 446, 160, 10),
    ("shank, low", 444, 45, 9), ("front toe's tip", 360, 10, 12), ("sole", 450, 2), ("back toe's tip", 520, 8, 12),
    ("heel", 482, 50, 9), ("shank, back", 488, 160, 12), ("between the legs", 525, 262, 14),
    ("far shank", 558, 160, 10), ("far shank, low", 570, 45, 9), ("far front toe's tip", 535, -22, 12),
    ("far sole", 590, -20), ("far back toe's tip", 668, 8, 12), ("far heel", 608, 50, 9),
    ("far shank, back", 598, 170, 12), ("vent", 632, 300), ("tail, underside", 720, 380),
    ("lowest plume's tip", 860, 385, 13), ("below the second plume", 800, 455, 12),
    ("second plume's tip", 955, 480, 13), ("below the third plume", 865, 548, 12),
    ("third plume's tip", 1000, 592, 13), ("below the sickle", 905, 650, 12), ("sickle, outside", 985, 720),
    ("sickle's tip", 990, 830, 13), ("sickle, inside", 925, 800), ("sickle's crook", 860, 770, 14),
    ("sickle, high", 880, 880), ("high sickle's tip", 835, 965, 13), ("high sickle, inside", 720, 900),
    ("saddle, high", 620, 720), ("saddle", 520, 600), ("back", 430, 590), ("hackle", 345, 665), ("nape", 285, 780),
    ("comb, back", 306, 832, 9), ("comb's last point", 340, 905, 14), ("comb's notch", 262, 882, 9),
    ("comb's third point", 272, 968, 14), ("comb's notch", 208, 892, 9), ("comb's second point", 182, 978, 14),
    ("comb's notch", 150, 885, 9), ("comb's first point", 105, 935, 13), ("comb, front", 108, 838, 9),
    ("brow", 92, 806, 8),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Dot("eye", 0, (165, 775), 24), Slit("wing", 1, (12, 26, 11), ((310, 480), (370, 380), (480, 350), (590, 400))),
    Slit("wing feather", 2, (18, 10), ((390, 500), (455, 435), (570, 455))),
    Slit("hackle line", 2, (9, 18, 10), ((225, 700), (250, 600), (300, 530))),
    Slit("hackle line", 3, (9, 16, 10), ((280, 700), (310, 620), (362, 560))),
    Slit("plume line", 1, (12, 22, 10), ((690, 690), (765, 810), (815, 890))),
    Slit("plume line", 2, (12, 22, 10), ((700, 590), (800, 640), (900, 740))),
    Slit("plume line", 3, (11, 18, 10), ((690, 470), (770, 485), (850, 515))),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteRooster(Drawn):
    """It looks to the left."""

    design = Design(EDGE, CUTS, 530)

    hang: str = hang_choice("none")


TEMPLATE = Template(
    "silhouette-rooster",
    "Rooster",
    SilhouetteRooster,
    hung,
    summary="A rooster with comb, wattle and fanned tail plumes, for a barn or a kitchen; on a wall or a stake.",
    cautions=CAUTIONS,
    words=(
        "cock", "cockerel", "chicken", "hen", "poultry", "farm", "barn", "kitchen", "weather vane", "weathervane",
        "animal", "bird", "ornament", "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Barn gable", "overall_height=800 thickness=5"),
        Preset("Chicken run, on a stake", "overall_height=520 foot=stake foot_length=200"),
        Preset("Kitchen wall", "overall_height=280"),
    ),
)  # fmt: skip

r"""Dog: sitting, looking to the left, ear, collar and thigh as lines cut out.

      .--.
    _/ o |)
    '-.  |)         ear
      |==\          collar
      |   \
      | |) \        thigh
     _|_|)__\___.'  tail; overall_height

The lower left of the figure's box is at the origin.
"""

from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Dot, Slit
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hung

EDGE = (
    ("nose", 82, 792, 16), ("mouth", 118, 738, 16), ("jaw", 215, 704), ("throat", 272, 655), ("chest", 262, 560),
    ("brisket", 298, 430), ("foreleg, front", 322, 260), ("wrist", 318, 120), ("paw, top", 282, 62),
    ("paw's toes", 258, 14, 16), ("paw's sole", 398, 4, 14), ("pastern", 402, 90), ("foreleg, back", 412, 210),
    ("belly", 438, 318, 16), ("thigh, front", 470, 210), ("hind paw, above", 498, 92), ("hind paw's top", 462, 60),
    ("hind paw's toes", 440, 12, 16), ("haunch's sole", 700, 4), ("tail, below", 850, 18),
    ("tail's tip", 990, 110, 16), ("tail, above", 880, 84), ("tail's root", 778, 112, 20), ("rump", 772, 240),
    ("back", 705, 450), ("loin", 622, 600), ("withers", 548, 710), ("nape", 500, 800), ("skull, back", 470, 880),
    ("crown", 380, 940), ("brow", 290, 912), ("stop", 236, 862, 24), ("nose, top", 100, 842, 18),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Dot("eye", 0, (292, 846), 26), Slit("ear", 0, (12, 26, 14), ((392, 888), (452, 800), (430, 700), (372, 668))),
    Slit("collar", 1, (18, 18), ((300, 618), (400, 592), (520, 640))),
    Slit("thigh line", 1, (10, 24, 10), ((560, 430), (650, 340), (668, 210), (620, 100))),
    Slit("foreleg line", 2, (10, 16, 10), ((392, 470), (372, 350), (370, 210))),
    Slit("mouth line", 3, (12, 9), ((142, 778), (200, 764), (250, 772))),
    Slit("toe", 4, (11, 11), ((306, 22), (312, 48))),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteDog(Drawn):
    """It looks to the left."""

    design = Design(EDGE, CUTS, 560)

    hang: str = hang_choice("none")


TEMPLATE = Template(
    "silhouette-dog",
    "Dog",
    SilhouetteDog,
    hung,
    summary="A sitting hound with hanging ear and collar cut out, for a kennel or a gate; on a wall, a stake or a tab.",
    cautions=CAUTIONS,
    words=(
        "hound", "puppy", "labrador", "retriever", "kennel", "pet", "animal", "memorial", "hunting", "gate",
        "ornament", "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Kennel door", "overall_height=350"),
        Preset("By the garden gate, on a stake",
               "overall_height=600 foot=stake foot_length=200 foot_width=24 thickness=4", inches="thickness=1/8"),
        Preset("Lead hook plate", "overall_height=220 thickness=4"),
    ),
)  # fmt: skip

r"""Tractor: seen from the side, cab, exhaust, louvres, and wheels with rims cut out.

            _______
        ||   |   \|
      .-||___|____|_      cab, bonnet, exhaust
      |||| -   .--.  \
     .--.____ /.--.\ |    overall_width over both wheels
    ( () )   | (  ) |
     '--'     '.__.'

The lower left of the figure's box is at the origin.
"""

from parts.spec import Preset, Template
from parts.templates.silhouette.shared.design import Design, Dot, Slit, Window
from parts.templates.silhouette.shared.drawn import Drawn, sketch
from parts.templates.silhouette.shared.hanging import CAUTIONS, hang_choice, hung

EDGE = (
    ("grille, low", 74, 271, 10), ("front wheel", 41, 208), ("front wheel", 41, 122), ("front wheel", 83, 48),
    ("front wheel", 157, 6), ("front wheel", 243, 6), ("front wheel", 317, 48), ("front wheel", 359, 122),
    ("chassis, front", 361, 206, 12), ("chassis, back", 458, 206, 12), ("rear wheel", 475, 156),
    ("rear wheel", 565, 49), ("rear wheel", 696, 1), ("rear wheel", 834, 25), ("rear wheel", 941, 115),
    ("rear wheel", 989, 246), ("rear wheel", 965, 384), ("rear wheel", 894, 477), ("fender", 812, 524, 14),
    ("cab, back", 788, 600), ("roof's eave, back", 812, 858, 10), ("roof, back low", 862, 868, 12),
    ("roof, back", 855, 925, 20), ("roof, front", 462, 925, 20), ("roof, front low", 452, 868, 12),
    ("cab, front", 500, 858, 10), ("cab, front low", 478, 545, 14), ("stack, back", 322, 526, 10),
    ("stack, back high", 318, 735, 8), ("stack's lip", 270, 762, 9), ("stack, front", 276, 520, 10),
    ("hood", 150, 505), ("grille, high", 66, 455, 34),
)  # fmt: skip
"""The outline as drawn by hand, counter-clockwise."""
CUTS = (
    Window("cab window", 0, (("w", 540, 560, 18), ("w", 730, 585, 18), ("w", 762, 846, 18), ("w", 552, 846, 18))),
    Slit("front wheel", 1, (24, 24), ((264, 236), (200, 261), (136, 236))),
    Slit("front wheel", 1, (24, 24), ((106, 185), (117, 117), (170, 74))),
    Slit("front wheel", 1, (24, 24), ((230, 74), (283, 117), (294, 185))), Dot("front hub", 2, (200, 165), 46),
    Slit("rear wheel", 1, (32, 32), ((865, 354), (819, 406), (755, 434))),
    Slit("rear wheel", 1, (32, 32), ((685, 434), (621, 406), (575, 354))),
    Slit("rear wheel", 1, (32, 32), ((553, 288), (560, 218), (595, 158))),
    Slit("rear wheel", 1, (32, 32), ((652, 117), (720, 102), (788, 117))),
    Slit("rear wheel", 1, (32, 32), ((845, 158), (880, 218), (887, 288))), Dot("rear hub", 1, (720, 270), 80),
    Slit("louvre", 2, (16, 16), ((150, 370), (150, 452))), Slit("louvre", 2, (16, 16), ((200, 370), (200, 452))),
    Slit("louvre", 2, (16, 16), ((250, 370), (250, 452))), Slit("hood line", 3, (16, 16), ((310, 410), (440, 410))),
)  # fmt: skip
"""What is cut out of it."""


class SilhouetteTractor(Drawn):
    """It drives to the left."""

    design = Design(EDGE, CUTS, 410)

    hang: str = hang_choice("none")


TEMPLATE = Template(
    "silhouette-tractor",
    "Tractor",
    SilhouetteTractor,
    hung,
    summary="A farm tractor from the side with open cab window and cut wheel rims; for a gate, a mailbox or a wall.",
    cautions=CAUTIONS,
    words=(
        "farm", "farmer", "agriculture", "machinery", "barn", "mailbox", "gate", "field", "vehicle", "ornament",
        "garden", "decoration", "wall art", "yard art",
    ),
    sketch=sketch,
    presets=(
        Preset("Farm gate", "overall_width=600 thickness=5"),
        Preset("Mailbox top, on a tab", "overall_height=260 foot=tab foot_width=60 foot_length=30 thickness=4",
               inches="thickness=1/8"),
        Preset("Child's room wall", "overall_height=220"),
    ),
)  # fmt: skip

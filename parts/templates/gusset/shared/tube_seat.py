"""The sizes of a gusset with a seat for a tube on top, round or square."""

from parts.spec import angle, choice, length
from parts.templates.gusset.shared.foot_holes import FOOT_HOLES, FootHoles
from parts.templates.gusset.shared.lightening import Lightened

FLAT, CORNER = "flat", "corner"
_ROUND, _SQUARE = ("section", "round"), ("section", "square")


class TubeSeat(Lightened, FootHoles):
    """The middle of the foot is at the origin, the middle of the seat above it."""

    leading = (
        *("section", "tube", "gap", "wrap", "height", "seat", "depth", "relief", "below", "foot", "lip", "toe"),
        *("corner_radius", *FOOT_HOLES),
    )

    section: str = choice("Section of the tube", default="round", choices=("round", "square"))
    tube: float = length(
        "Tube, outside",
        default=60.3,
        inches="2-3/8",
        minimum=6,
        maximum=1000,
        help="Diameter, or side of a square one.",
    )
    gap: float = length(
        "Fit-up gap", default=0.5, minimum=0, maximum=10, when=[_ROUND, ("seat", FLAT)],
        help="All round, or at each side of a flat seat; 0 to 1 mm is usual.",
    )  # fmt: skip
    wrap: float = angle(
        "Wrap of the saddle", default=150, minimum=20, maximum=180, help="180 holds half of the tube.", when=_ROUND
    )
    height: float = length("Foot to the tube's middle", default=90, minimum=8, maximum=2000, when=_ROUND)
    seat: str = choice("Seat", default=FLAT, choices=(FLAT, CORNER), help="How the tube lies in it.", when=_SQUARE)
    depth: float = length("Depth of the seat", default=25, minimum=3, maximum=600, help="Plumb.", when=_SQUARE)
    relief: float = length(
        "Corner relief, radius", default=3, minimum=0, maximum=50, group="Corners", moves="free", when=_SQUARE,
        help="0: sharp inside corners.",
    )  # fmt: skip
    below: float = length("Foot to the bottom of the seat", default=50, minimum=5, maximum=2000, when=_SQUARE)
    foot: float = length("Foot", default=130, minimum=10, maximum=2500)
    lip: float = length(
        "Lip beside the seat", default=12, minimum=2, maximum=300, help="Flat, at each side.", moves="care"
    )
    corner_radius: float = length(
        "Outside corner radius", default=4, minimum=0, maximum=200, group="Corners", moves="free"
    )
    lightening: float = length(
        "Lightening hole", default=0, minimum=0, maximum=800, group="Holes", moves="free", when=_ROUND,
        help="Midway between foot and saddle; diameter, 0 for none.",
    )  # fmt: skip

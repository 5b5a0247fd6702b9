"""Settings: what is said of a traced part besides its file: its size, how it is read, what it is mounted on."""

import math
import re
from collections.abc import Iterator

from parts.artwork.pictures import SHEETS
from parts.cutting import cut_for
from parts.errors import Problem
from parts.spec import Parameters, choice, count, flag, length, number, text

MOUNTS = ("none", "plate", "frame", "bar", "stake")
ROUND = "round"
SIZE, READING, SETTING, STEPS = "Size", "Picture", "Setting", "Steps"
_ON = ("mount", *(each for each in MOUNTS if each != "none"))
_AROUND = ("mount", "plate", "frame")
_FOOT = ("mount", "bar", "stake")
_OF_SHEET = ("sheet", *SHEETS)
PIXELS = "0123456789., ;:/xy-abcdefghijklmnopqrstuvw"
_PLACE = re.compile(r"\s*([0-9]+(?:\.[0-9]+)?)\s*[, ]\s*([0-9]+(?:\.[0-9]+)?)\s*")
_LEAST_KNOWN_PX = 20


class Tracing(Parameters):
    """Lengths in mm; the size is that of the finished piece with its frame, plate, bar or stake."""

    width: float = length(
        "Overall width", default=0, minimum=0, maximum=6000, group=SIZE,
        help="Of the finished piece; 0: by the height, or as the file says. A picture doesn't say it.",
    )  # fmt: skip
    height: float = length(
        "Overall height", default=0, minimum=0, maximum=6000, group=SIZE, help="In place of the width; 0: follows."
    )
    shows: str = choice(
        "The shape is", default="auto", choices=("auto", "dark", "light"), group=READING,
        help="auto: what the border isn't.",
    )  # fmt: skip
    threshold: float = number(
        "Threshold, % from dark to light", default=50, minimum=2, maximum=98, group=READING,
        help="Where an edge lies in a picture.",
    )  # fmt: skip
    despeckle: float = length(
        "Leave out specks up to", default=2, minimum=0, maximum=100, group=READING,
        help="Shapes and holes smaller than a dot so wide.",
    )  # fmt: skip
    lines: str = choice(
        "Drawn lines", default="auto", choices=("auto", "thick", "middle"), group=READING,
        help="thick: they are metal, as wide as drawn. middle: they bound the metal.",
    )  # fmt: skip
    sheet: str = choice(
        "Sheet of paper in it", default="none", choices=("none", *SHEETS), group=READING,
        help="Of a photograph with a white sheet lying flat, the pattern beside it or drawn on it: it tells the size.",
    )  # fmt: skip
    confirm: bool = flag(
        "The frame lies on the sheet", default=False, group=READING, when=_OF_SHEET,
        help="Look at the photograph with the frame and the outline over it.",
    )  # fmt: skip
    measured: float = length(
        "Width of the pattern, measured", default=0, minimum=0, maximum=3000, group=READING, when=_OF_SHEET,
        help="With a rule or a tape, to prove the photograph; 0: it isn't proved.",
    )  # fmt: skip
    known: float = length(
        "Known distance in it", default=0, minimum=0, maximum=6000, group=READING,
        help="Of a rule, a tape or whatever was measured, between two points of the picture; 0: none.",
    )  # fmt: skip
    known_from: str = text(
        "From, pixels across and down", default="", characters=PIXELS, longest=16, group=READING, when=("known",),
        help="As 120,480, from the upper left; or touch the two points on the picture.",
    )  # fmt: skip
    known_to: str = text(
        "To, pixels across and down", default="", characters=PIXELS, longest=16, group=READING, when=("known",),
    )  # fmt: skip
    mount: str = choice(
        "Set", default="none", choices=MOUNTS, group=SETTING,
        help="plate: cut out of one. frame: within one. bar: on one. stake: on one to push into the ground.",
    )  # fmt: skip
    shape: str = choice(
        "Shape round it", default="rectangle", choices=("rectangle", ROUND), group=SETTING, when=_AROUND
    )
    margin: float = length(
        "Room round the shape", default=20, minimum=0, maximum=500, group=SETTING, when=_AROUND,
        help="Of a frame: 0 lets the shape run into it.",
    )  # fmt: skip
    band: float = length(
        "Width of the frame", default=15, minimum=2, maximum=300, group=SETTING, when=("mount", "frame")
    )
    stands: bool = flag(
        "Stands on the frame's foot", default=True, group=SETTING, when=("mount", "frame"),
        help="Else it hangs in the middle by bridges; in a round frame it always does.",
    )  # fmt: skip
    corner: float = length(
        "Corner radius", default=10, minimum=0, maximum=300, group=SETTING, when=_AROUND, moves="free"
    )
    bar: float = length("Height of the bar", default=20, minimum=3, maximum=300, group=SETTING, when=_FOOT)
    sink: float = length(
        "Shape sunk into its foot", default=3, minimum=0, maximum=300, group=SETTING,
        when=(*_FOOT, "frame"), help="So far its foot runs into the bar, or the foot of the frame.",
    )  # fmt: skip
    stake: float = length(
        "Length of the stake", default=200, minimum=20, maximum=1500, group=SETTING, when=("mount", "stake")
    )
    stake_width: float = length(
        "Width of the stake", default=25, minimum=5, maximum=200, group=SETTING, when=("mount", "stake")
    )
    holes: int = count("Hanging holes", default=0, minimum=0, maximum=4, group=SETTING)
    hole: float = length("Diameter of a hole", default=6, minimum=1, maximum=60, group=SETTING, when=("holes",))
    hold: bool = flag("Hold what would fall out", default=True, group=STEPS)
    tie: float = length(
        "Width of the bridges", default=0, minimum=0, maximum=100, group=STEPS, when=("hold",), auto="tie_mm",
        help="0: the narrowest of the process, at least 3 mm.",
    )  # fmt: skip
    sturdy: float = number(
        "Faithful 0 to sturdy 100", default=100, minimum=0, maximum=100, group=STEPS,
        help="How far thin places are widened and points blunted.",
    )  # fmt: skip
    smooth: bool = flag("Smooth into lines and arcs", default=True, group=STEPS)
    tolerance: float = length(
        "Smooth within", default=0, minimum=0, maximum=5, group=STEPS, when=("smooth",), moves="free",
        help="0: 0.05 mm, or a third of a pixel; three quarters of one that steps, one of a photograph.",
    )  # fmt: skip

    @property
    def tie_mm(self) -> float:
        """The width of the bridges, mm: as asked, or the narrowest that the process cuts and at least LEAST_TIE_MM."""
        return self.tie or max(cut_for(self.process, self.material, self.thickness).narrowest_bridge_mm, LEAST_TIE_MM)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where sizes are given twice, or what is mounted leaves no room."""
        yield from self._of_known()
        if self.width and self.height:
            yield self.problem("height", "is given beside the width: give one of them, the other follows.")
        if self.mount in ("plate", "frame") and self.width:
            taken = 2 * self.margin + (2 * self.band if self.mount == "frame" else 0.0)
            yield from self.over("width", taken, f"to leave room for the shape in the {self.mount}")
        if self.mount == "plate" and self.holes:
            yield from self.at_least("margin", _ROOM * self.hole, "to have room for the hanging holes")
        if self.mount in _FOOT[1:]:
            yield from self.at_most("sink", self.bar, "of the bar")
        if self.holes and self.mount == "frame":
            yield from self.under("hole", self.band, "of the frame's width")

    @property
    def known_px(self) -> float:
        """How many pixels apart the two points are whose distance is known; 0 where they aren't given."""
        start, end = place_of(self.known_from), place_of(self.known_to)
        return math.dist(start, end) if self.known and start and end else 0.0

    def _of_known(self) -> Iterator[Problem]:
        """Yield what is wrong with a known distance."""
        if not self.known:
            return
        for name in ("known_from", "known_to"):
            if place_of(str(getattr(self, name))) is None:
                yield self.problem(name, "isn't a place in the picture: say pixels across and down, as 120,480.")
                return
        if self.known_px < _LEAST_KNOWN_PX:
            yield self.problem(
                "known_to", f"is under {_LEAST_KNOWN_PX} pixels from the other point: take a longer way."
            )
        for name in ("width", "height"):
            if getattr(self, name):
                yield self.problem(
                    name, "is given beside a known distance: leave one of them out, either tells the size."
                )
        if self.sheet != "none":
            yield self.problem(
                "known", "is given beside a sheet of paper: leave one of them out, either tells the size."
            )


def place_of(said: str) -> tuple[float, float] | None:
    """Return a place in pixels that text such as `120,480` says; None of any other."""
    found = _PLACE.fullmatch(said)
    return (float(found[1]), float(found[2])) if found else None


_ROOM = 2.5  # diameters between a plate's edge and the shape where a hole is to be
LEAST_TIE_MM = 3.0
"""Common practice: a bridge of a sign is at least 3 mm wide."""

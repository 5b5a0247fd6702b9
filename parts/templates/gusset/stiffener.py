r"""Web stiffener: stands between the flanges of a beam, its corners clipped to clear the fillet and the weld.

       ___________________
      /                   \    clip at the web, straight or round; outer_clip at the flanges' edges
     |                     |
     |                  o  |
     | width           o   |   depth between the flanges; a column of bolts makes it a connection plate
     |                  o  |
      \___________________/

AISC 360 table J2.4 has the least fillet weld for a thickness: the clip clears its leg plus a little, or the rolled
fillet of the beam. 20 mm (3/4 in) is usual, 13 to 25 mm common practice.
"""

import math
from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Loop, Point, arched, chamfer, polygon
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, choice, count, length
from parts.templates.shared.bolt_holes import BoltHoles

_STRAIGHT, _ROUND = "straight", "round"
_BOTH, _FOOT = "both", "foot"


class GussetStiffener(BoltHoles):
    """The corner of web and lower flange is at the origin, the web along y."""

    width: float = length("Width, out from the web", default=70, minimum=15, maximum=800)
    depth: float = length(
        "Depth between the flanges", default=180, minimum=30, maximum=2500, help="Or short of the far flange."
    )
    clip: float = length(
        "Clip at the web", default=20, minimum=0, maximum=150, group="Corners",
        help="Clears the rolled fillet, or the weld: its leg plus a little.", moves="care",
    )  # fmt: skip
    clip_shape: str = choice(
        "Shape of the clip", default=_STRAIGHT, choices=(_STRAIGHT, _ROUND), group="Corners",
        help="round: a quarter circle about the corner.", when=("clip",), moves="free",
    )  # fmt: skip
    clipped: str = choice(
        "Clipped at",
        default=_BOTH,
        choices=(_BOTH, _FOOT),
        group="Corners",
        help="foot: one that stops short.",
        when=("clip",),
        moves="care",
    )
    outer_clip: float = length(
        "Clip at the outer corners",
        default=0,
        minimum=0,
        maximum=400,
        group="Corners",
        help="0 for none.",
        moves="free",
    )
    bolts: int = count("Bolts in a column", default=0, minimum=0, maximum=24, help="As a connection plate.")
    first: float = length(
        "First bolt up from the foot", default=50, minimum=3, maximum=2400, group="Holes", when=("bolts",), moves="care"
    )
    pitch: float = length("Bolt spacing", default=40, minimum=3, maximum=1000, group="Holes", when=("bolts", "2"))
    back_mark: float = length(
        "Bolts in from the outer edge", default=30, minimum=3, maximum=700, group="Holes", when=("bolts",), moves="care"
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=("bolts",))

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the bolts, from the lowest."""
        return tuple((self.width - self.back_mark, self.first + i * self.pitch) for i in range(self.bolts))

    @property
    def web_clips(self) -> int:
        """How many corners are clipped at the web."""
        return (2 if self.clipped == _BOTH else 1) if self.clip else 0

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where clips meet along an edge, or the bolts leave the plate."""
        if self.clip:
            room = min(self.width - self.outer_clip, self.depth / self.web_clips)
            yield from self.under("clip", room, "to leave an edge to weld")
        yield from self.under("outer_clip", min(self.width, self.depth / 2), "to leave an outer edge")
        if not self.bolts:
            return
        half = self.hole_size / 2
        yield from self.over("first", half, "to keep metal under the hole")
        yield from self.over("back_mark", half, "to keep metal beside the hole")
        yield from self.under("back_mark", self.width - half, "to stay inside the stiffener")
        if self.bolts > 1:
            yield from self.over("pitch", 2 * half, "to keep metal between the holes")
            highest = (self.depth - half - self.first) / (self.bolts - 1)
            yield from self.under("pitch", highest, "for the column to end inside the stiffener")
        else:
            yield from self.under("first", self.depth - half, "to stay inside the stiffener")


def outline(p: GussetStiffener) -> Profile:
    """Draw the stiffener and its bolts."""
    return Profile((edge(p),), p.holes_at(p.centres, "bolt hole", "first"), dimensions=tuple(dimensions(p)))


def edge(p: GussetStiffener) -> Loop:
    """Return the outline: a rectangle with its corners clipped, the round clips arched about the corners."""
    w, d, clip, out = p.width, p.depth, p.clip, p.outer_clip
    corners: list[Corner | Point] = [chamfer(w, 0, out), chamfer(w, d, out)]
    corners += [(clip, d), (0.0, d - clip)] if p.web_clips == 2 else [(0.0, d)]
    corners += [(0.0, clip), (clip, 0.0)] if clip else [(0.0, 0.0)]
    loop = polygon(corners)
    if p.clip_shape == _ROUND and clip:
        quarter = -math.tan(math.pi / 8)
        loop = arched(loop, (0.0, clip), (clip, 0.0), quarter)
        if p.web_clips == 2:
            loop = arched(loop, (clip, d), (0.0, d - clip), quarter)
    return loop


def dimensions(p: GussetStiffener) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    w, d, clip = p.width, p.depth, p.clip
    yield Dimension("width", (0, 0), (w, 0), "below")
    yield Dimension("depth", (0, 0), (0, d), "left")
    if clip and p.clip_shape == _ROUND:
        yield Dimension("clip", (0, 0), (clip * math.sqrt(0.5), clip * math.sqrt(0.5)), "radius")
    elif clip:
        yield Dimension("clip", (0, 0), (clip, 0), "below")
    if p.outer_clip:
        yield Dimension("outer_clip", (w - p.outer_clip, d), (w, d), "above")
    if p.bolts:
        lowest = p.centres[0]
        yield Dimension("first", (w, 0), lowest, "right")
        yield Dimension("back_mark", p.centres[-1], (w, p.centres[-1][1]), "above")
        yield from p.hole_measured(lowest)
    if p.bolts > 1:
        yield Dimension("pitch", p.centres[0], p.centres[1], "right")


TEMPLATE = Template(
    "gusset-stiffener",
    "Web stiffener",
    GussetStiffener,
    outline,
    summary="Stands between the flanges of a beam: corners clipped to clear the welds, bolts to hang from.",
    cautions=(
        "A stiffener is part of a beam that carries load: have its size, clips and welds settled by a qualified "
        "engineer under the local code; where earthquakes count, larger clips are asked.",
    ),
    words=("web", "rib", "beam", "bearing", "continuity plate", "connection plate", "shear tab", "snipe", "cope"),
    presets=(
        Preset("Trailer main rail, at the axle hanger", "width=45 depth=130 clip=15 thickness=5"),
        Preset(
            "Cutting table, crossbeam bolted to it",
            "width=85 depth=220 thickness=8 bolts=3 bolt=M16 first=55 pitch=55 back_mark=35",
        ),
        Preset("Footbridge beam, 3/4 in clips", "width=3in depth=9in clip=3/4in thickness=3/8in outer_clip=1/2in"),
        Preset("Shelter beam, round clips", "width=60 depth=164 clip=25 clip_shape=round clipped=foot outer_clip=10"),
    ),
)

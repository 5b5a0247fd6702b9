r"""Flat T bracket: a head and a stem in one plate, a row of bolt holes in each half of the head and in the stem.

     ___________________
    |  o  o       o  o  |  width_head
    |_______     _______|
            | o |             the inside corners have a radius, or a relief for a square edge
      stem  | o |
            |___|             corner_radius rounds the ends
          width_stem

Holes stand on the middle of their bar and are counted from its end.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Corner, Point, fillet, polygon
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, bolt, count, length
from parts.templates.bracket.shared.arms import Arm, Arms

_HEAD, _STEM = "Holes in the head", "Holes in the stem"


class BracketFlatT(Arms):
    """The foot of the stem is on the x axis, its middle on the y axis."""

    head: float = length("Head, across", default=200, minimum=30, maximum=2000)
    stem: float = length("Stem, over the head", default=150, minimum=20, maximum=2000)
    width_head: float = length("Width of the head", default=50, minimum=10, maximum=500)
    width_stem: float = length("Width of the stem", default=50, minimum=10, maximum=500)
    holes_head: int = count("Holes in each half of the head", default=2, minimum=0, maximum=20, group=_HEAD)
    first_head: float = length(
        "First hole from each end", default=25, minimum=1, maximum=2000, group=_HEAD, when=("holes_head",)
    )
    pitch_head: float = length(
        "Hole spacing along the head", default=45, minimum=1, maximum=2000, group=_HEAD, when=("holes_head", "2")
    )
    holes_stem: int = count("Holes in the stem", default=2, minimum=0, maximum=20, group=_STEM)
    first_stem: float = length(
        "First hole from the foot", default=25, minimum=1, maximum=2000, group=_STEM, when=("holes_stem",), moves="care"
    )
    pitch_stem: float = length(
        "Hole spacing along the stem", default=45, minimum=1, maximum=2000, group=_STEM, when=("holes_stem", "2")
    )
    bolt: str = bolt("Bolt", default="M10", diameter="hole", when=[("holes_head",), ("holes_stem",), ("middle",)])

    @property
    def crossing(self) -> Point:
        """Where the middle lines of head and stem meet."""
        return 0.0, self.stem - self.width_head / 2

    @property
    def arms(self) -> tuple[Arm, Arm, Arm]:
        """The left and right half of the head, the stem."""
        of_head = self.head / 2, self.width_head, self.holes_head, self.first_head, self.pitch_head
        of_stem = self.crossing[1], self.width_stem, self.holes_stem, self.first_stem, self.pitch_stem
        return (
            Arm("head", "the head", self.crossing, (-1.0, 0.0), *of_head),
            Arm("head", "the head", self.crossing, (1.0, 0.0), *of_head),
            Arm("stem", "the stem", self.crossing, (0.0, -1.0), *of_stem),
        )

    @property
    def corners(self) -> list[Corner | Point]:
        """The outline counter-clockwise from the left of the foot."""
        r, x, half, under, top = self.corner_radius, self.width_stem / 2, self.head / 2, self.shoulder, self.stem
        stem, head = [fillet(-x, 0, r), fillet(x, 0, r)], [fillet(half, under, r), fillet(half, top, r)]
        left = [fillet(-half, top, r), fillet(-half, under, r), self.inner(-x, under)]
        return [*stem, self.inner(x, under), *head, *left]

    @property
    def shoulder(self) -> float:
        """How high the underside of the head is."""
        return self.stem - self.width_head

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where a bar doesn't stand out, radii meet, or holes run out or into each other."""
        clash = [
            *self.under("width_stem", self.head, "so that the head stands out"),
            *self.under("width_head", self.stem, "so that the stem stands out"),
        ]
        yield from clash
        if clash:
            return
        out = min((self.head - self.width_stem) / 2, self.shoulder)
        yield from self.corner_problems((self.width_head, self.width_stem), out, self._behind)
        yield from self.hole_problems(self.arms)

    @property
    def _behind(self) -> float:
        """What two reliefs may bite out of the stem between them, one out of the head above it."""
        return min(self.width_stem / 2, self.width_head)


def outline(p: BracketFlatT) -> Profile:
    """Draw the plate and its holes."""
    return Profile((polygon(p.corners),), p.openings_in(p.arms, p.crossing), dimensions=tuple(dimensions(p)))


def dimensions(p: BracketFlatT) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    half, x = p.head / 2, p.width_stem / 2
    left, _, stem = p.arms
    yield Dimension("head", (-half, p.stem), (half, p.stem), "above")
    yield Dimension("stem", (-x, 0), (-half, p.stem), "left")
    yield Dimension("width_head", (half, p.shoulder), (half, p.stem), "right")
    yield Dimension("width_stem", (-x, 0), (x, 0), "below")
    yield from p.row_measured(left)
    yield from p.row_measured(stem)
    yield from p.corners_measured((half, p.stem), (x, p.shoulder))
    if p.middle or any(arm.holes for arm in p.arms):
        yield from p.hole_measured(next((arm.centres[0] for arm in p.arms if arm.holes), p.crossing))


TEMPLATE = Template(
    "bracket-flat-t",
    "Flat T bracket",
    BracketFlatT,
    outline,
    summary="Ties a post to the middle of a rail: head and stem in one plate, bolt holes in each.",
    cautions=(
        "A bracket that carries load or people, holds a sign in the wind or is part of a vehicle is for a qualified "
        "person to size under the local code; edge distances here are minimums of detailing, not strength.",
    ),
    words=(
        "tee",
        "tie",
        "plate",
        "mending",
        "joint",
        "post",
        "rail",
        "strap",
        "beam",
        "timber",
        "post and beam",
        "truss",
    ),
    presets=(
        Preset(
            "Garden bench, leg to seat rail",
            "head=140 stem=100 width_head=40 width_stem=40 thickness=5 bolt=M8 first_head=20 pitch_head=35 "
            "first_stem=20 pitch_stem=28",
        ),
        Preset(
            "Trailer, rail post to side board",
            "head=12in stem=8in width_head=2-1/2in width_stem=2-1/2in thickness=1/4in bolt=1/2 first_head=1-1/4in "
            "pitch_head=2-1/2in first_stem=1-1/4in pitch_stem=2in corner_radius=1/4in inside_radius=3/8in",
        ),
        Preset(
            "Timber post of 140 under a beam of 240, M16",
            "head=560 stem=400 width_head=120 width_stem=110 thickness=8 bolt=M16 first_head=40 pitch_head=110 "
            "first_stem=40 pitch_stem=110 corner_radius=12 inside_radius=15",
            inches="head=22 stem=16 width_head=5 width_stem=4-1/2",
            inch_name="Timber post of 6 in under a beam of 10 in",
        ),
        Preset(
            "Trail sign, board to post, one hole in the middle",
            "head=180 stem=180 holes_head=1 middle=on bolt=M8",
            inches="bolt=3/8",
        ),
    ),
)

r"""Ridge: a skyline of rounded peaks and valleys with spruces on its slopes, on a base or in a frame.

                 _     peak_radius           .-------------------.
          ^    .' `.                         |   sky   _         |  border
     .-. /_\_ /     `.     .-.  height       | .-.   .'  `.  .-. |
    /   `    V        `.__/   \              |/   `./      `/   \|
    |  valley_radius           |             |                   |
    |__________________________|             '-------------------'
      overall; valley_height above the lower edge

Trees stand upright whatever the slope.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from parts.artwork import slit
from parts.cached import cached_property
from parts.errors import GeometryError, Problem
from parts.geometry import Loop, Point, meetings, rectangle
from parts.geometry.figure import Pin, belt, tangent
from parts.profile import Dimension, Opening
from parts.spec import Preset, Template, choice, count, length
from parts.templates.silhouette.shared.hanging import CAUTIONS, HANGING, Hung, hang_choice, hung, seed
from parts.templates.silhouette.shared.kissing import bow, joint
from parts.units import format_figures

FALL = 0.38
"""By how much the outermost peaks stand lower above the valleys than the middle one, as a share."""
SIDEWAYS, LOWER = 0.2, 0.55
"""Of a variant: how far a peak may stray, of what lies between two, and how much lower it may be, of its rise."""
TREE_LOWER = 0.15
"""Of a variant: how much smaller a tree may be."""
ROOM = 1.15
"""How much room a tree takes along the ridge, in its widths."""
STEEPEST = 0.85
"""Rise of a slope over its run beyond which no tree stands on it."""
HOLLOW, MOST_HOLLOW, LEAST_HOLLOW = 0.55, 0.22, 2e-3
"""Half of what a slope's hollow turns, as a share of the slope's angle, and its most and its least in radians."""
TAPER, BOUGH = 0.66, 0.64
"""By how much the boughs get shorter to the tip; how much of its length a bough stands out."""
TRUNK, CLEAR = 0.26, 0.08
"""The trunk's share of a tree's width; how much of its height the lowest boughs are above the slope."""
LAYER, APART, GAIN, ASIDE, POINTED = 0.68, 0.3, (0.34, 0.2, 0.1), 0.1, 1.5
"""Of the ridgelines in front: how high the first is below the valleys and how much lower each next one, as shares of
their height; what of the peaks' rise they have; how far they are shifted, of what is from peak to peak; and how much
more pointed than a wave they are (by eye)."""
PIECES = ((0.05, 0.38, 0.44, 0.95), (0.04, 0.6, 0.66, 0.96), (0.06, 0.3, 0.36, 0.94))
"""Where each ridgeline begins, is held by a bridge, and ends, as shares of the width."""
STEPS = 5
"""Points of a ridgeline from a peak to the next."""


class SilhouetteRidge(Hung):
    """The lower left corner is at the origin."""

    setting: str = choice("Base or frame", default="base", choices=("base", "frame"), group="Outline")
    overall: float = length("Width", default=600, minimum=60, maximum=3000)
    height: float = length("Highest peak", default=175, minimum=20, maximum=2000, help="Above the lower edge.")
    valley_height: float = length(
        "Valleys", default=76, minimum=5, maximum=1500, help="Above the lower edge.", moves="free"
    )
    peaks: int = count("Peaks", default=3, minimum=1, maximum=12, group="Outline", moves="care")
    peak_radius: float = length("Radius of the peaks", default=7, minimum=1, maximum=1000, moves="free")
    valley_radius: float = length(
        "Radius of the valleys",
        default=30,
        minimum=1,
        maximum=1000,
        when=[("peaks", "2"), ("setting", "frame")],
        moves="free",
    )
    seed: int = seed(7)
    border: float = length(
        "Width of the frame", default=25, minimum=4, maximum=300, group="Frame", when=("setting", "frame"), moves="free"
    )
    sky: float = length(
        "Sky above the highest peak",
        default=90,
        minimum=4,
        maximum=1500,
        group="Frame",
        when=("setting", "frame"),
        moves="free",
    )
    trees: int = count(
        "Trees on each slope", default=2, minimum=0, maximum=8, group="Trees",
        help="At most; fewer where a slope is short, none where it is steep.", moves="care",
    )  # fmt: skip
    tree_height: float = length(
        "Height of the trees", default=72, minimum=5, maximum=500, group="Trees", when=("trees",), moves="free"
    )
    tree_width: float = length(
        "Width of the trees",
        default=40,
        inches="1-3/4",
        minimum=4,
        maximum=300,
        group="Trees",
        when=("trees",),
        moves="free",
    )
    tiers: int = count(
        "Tiers of a tree",
        default=3,
        minimum=1,
        maximum=6,
        group="Trees",
        when=("trees",),
        help="Of its boughs.",
        moves="care",
    )
    tree_radius: float = length(
        "Radius of the trees' tips",
        default=1.5,
        inches="1/16",
        minimum=0.5,
        maximum=50,
        group="Trees",
        when=("trees",),
        moves="free",
    )

    layers: int = count("Ridgelines in front", default=2, minimum=0, maximum=3, group="Cut out", moves="care")
    layer_width: float = length(
        "Width of the ridgelines", default=6, minimum=1, maximum=100, group="Cut out", when=("layers",), moves="free"
    )
    hang: str = hang_choice("two")
    apart: float = length("Two holes apart", default=320, minimum=4, maximum=2000, group=HANGING, when=("hang", "two"))

    @property
    def framed(self) -> bool:
        """Whether it stands in a frame."""
        return self.setting == "frame"

    @property
    def ends(self) -> tuple[float, float]:
        """Where the ridge ends, left and right."""
        return (self.border, self.overall - self.border) if self.framed else (0.0, self.overall)

    @property
    def foot_x(self) -> float:
        """The middle."""
        return self.overall / 2

    @property
    def pitch(self) -> float:
        """From peak to peak."""
        return (self.ends[1] - self.ends[0]) / self.peaks

    @cached_property
    def tops(self) -> tuple[tuple[float, float], ...]:
        """Place and height of each peak from the right; the middle one, or right of the middle, is the highest."""
        chance, rise, highest, made = self.chance(), self.height - self.valley_height, (self.peaks - 1) // 2, []
        for i in range(self.peaks):
            x, aside = self.ends[1] - (i + 0.5) * self.pitch, abs(2 * (i + 0.5) / self.peaks - 1)
            top = self.height - (0.0 if i == highest else FALL * rise * aside)
            if self.seed:
                x += SIDEWAYS * self.pitch * (2 * chance.random() - 1)
                lower = LOWER * rise * chance.random()
                top = self.height - (0.0 if i == highest else lower)
            made.append((x, top))
        return tuple(made)

    @cached_property
    def skyline(self) -> list[Pin]:
        """Peaks and the valleys between them, from the right, without trees and ends."""
        made: list[Pin] = []
        for i, (x, top) in enumerate(self.tops):
            if i:
                made.append(
                    Pin(((x + self.tops[i - 1][0]) / 2, self.valley_height + self.valley_radius), -self.valley_radius)
                )
            made.append(Pin((x, top - self.peak_radius), self.peak_radius))
        return made

    @property
    def bounds(self) -> tuple[Pin, Pin]:
        """Where the ridge begins on the right, and ends on the left: corners of the base, or rounded in the frame."""
        (left, right), r = self.ends, self.valley_radius
        if not self.framed:
            return Pin((right, self.valley_height), 0.0), Pin((left, self.valley_height), 0.0)
        return Pin((right - r, self.valley_height + r), -r), Pin((left + r, self.valley_height + r), -r)

    @cached_property
    def ridge(self) -> list[Pin]:
        """The whole ridge from right to left.

        Raises:
            GeometryError: if peaks and valleys overlap.
        """
        made = [self.plain[0]]
        for pin, slope, trees in zip(self.plain[1:], self.slopes, self.planted, strict=True):
            made.append(slope)
            made += (each for x, small in trees for each in (*self._tree(slope, x, small), slope))
            made.append(pin)
        return made

    @property
    def plain(self) -> list[Pin]:
        """The ridge without trees."""
        first, last = self.bounds
        return [first, *self.skyline, last]

    @cached_property
    def slopes(self) -> list[Pin]:
        """The hollow of each slope from the right, an arc with its centre above.

        Raises:
            GeometryError: if peaks and valleys overlap.
        """
        made = []
        for a, b in pairwise(self.plain):
            ux, uy = tangent(a, b).heading
            angle = min(HOLLOW * math.atan2(abs(uy), abs(ux)), MOST_HOLLOW)
            made.append(bow(a, b, -max(angle, LEAST_HOLLOW)))
        return made

    @cached_property
    def planted(self) -> list[list[tuple[float, float]]]:
        """For each slope from the right the place of each tree's middle, and the tree's share of full size.

        They stand evenly, no more than have room.

        Raises:
            GeometryError: if peaks and valleys overlap.
        """
        chance, made, full = self.chance(), [], True
        for (a, b), slope in zip(pairwise(self.plain), self.slopes, strict=True):
            (start, high), (end, low), trees = joint(a, slope), joint(slope, b), []
            room = (start - end) / (ROOM * self.tree_width + 2 * self.tree_radius)
            fit = min(self.trees, int(room)) if abs(high - low) <= STEEPEST * (start - end) else 0
            for k in range(fit):
                small = 1 - TREE_LOWER * chance.random() if self.seed and not full else 1.0
                trees.append((start + (end - start) * (k + 0.5) / fit, small))
                full = False
            made.append(trees)
        return made

    def _tree(self, slope: Pin, x: float, small: float) -> list[Pin]:
        """The pins of a tree on a slope: an inside corner beside the trunk, its centre over the slope, boughs, the tip.

        The lowest boughs are above the slope on its upper side.
        """
        r, half, high = self.tree_radius, self.tree_width / 2 * small, self.tree_height * small
        beside = TRUNK * half + r
        feet = [Pin((x + s * beside, ground(slope, x + s * beside, r)), -r) for s in (1, -1)]
        y = ground(slope, x)
        low = self._lowest(slope, x, small)
        up = [(half * (1 - TAPER * i / self.tiers), low + (y + high - low) * i / self.tiers) for i in range(self.tiers)]
        right, left = ([pin for out, level in up for pin in self._bough(x, s * out, level)] for s in (1, -1))
        return [feet[0], *right, Pin((x, y + high - r), r), *reversed(left), feet[1]]

    def _lowest(self, slope: Pin, x: float, small: float) -> float:
        """Height of the notch below the lowest boughs of a tree."""
        half = self.tree_width / 2 * small
        highest = max(ground(slope, x + s * half) for s in (1, -1))
        return highest + CLEAR * self.tree_height * small + self.tree_radius

    def _bough(self, x: float, out: float, high: float) -> tuple[Pin, Pin]:
        """The pins of a bough to the right (`out` positive) or left: the notch below it, then its end.

        The flank between them leads over the notch and under the end: a radius higher, the end still hangs.
        """
        side, r = math.copysign(1.0, out), self.tree_radius
        return Pin((x + (1 - BOUGH) * out + side * r, high), -r), Pin((x + out - side * r, high + r), r)

    @cached_property
    def top(self) -> float:
        """Height of the frame's upper edge."""
        return self.height + self.sky + self.border

    @cached_property
    def figure(self) -> Loop:
        """The hills on their base, or the frame.

        Raises:
            GeometryError: if peaks, valleys or trees overlap.
        """
        if self.framed:
            return rectangle((0.0, 0.0), self.overall, self.top, min(self.border, self.valley_radius))
        return belt([Pin((0.0, 0.0), 0.0), Pin((self.overall, 0.0), 0.0), *self.ridge])

    @cached_property
    def cut_outs(self) -> tuple[Opening, ...]:
        """The ridgelines in front, and the sky in the frame."""
        return *self._skies, *(Opening(loop, "ridgeline", "layer_width") for loop in self.ridgelines)

    @property
    def ridgelines(self) -> Iterator[Loop]:
        """The slots of the ridgelines in front, each in two pieces with a bridge between them."""
        for k in range(self.layers):
            a, b, c, d = (self._in(share) for share in PIECES[k])
            yield from (slit(self._along(k, *ends), (self.layer_width, self.layer_width)) for ends in ((a, b), (c, d)))

    def _in(self, share: float) -> float:
        left, right = self.ends
        return left + share * (right - left)

    def _along(self, k: int, first: float, last: float) -> list[Point]:
        """Points along a ridgeline, no fewer than it takes to follow its swings."""
        steps = max(2, math.ceil((last - first) / self.pitch * STEPS))
        xs = [first + (last - first) * i / steps for i in range(steps + 1)]
        low, shift = (LAYER - APART * k) * self.valley_height, ASIDE * self.pitch * (k + 1)
        return [(x, low + GAIN[k] * self._rise(x - shift)) for x in xs]

    def _rise(self, x: float) -> float:
        """How high above the valleys the peaks are at a place, each a wave made more pointed."""
        away = ((abs(x - at) / self.pitch, top - self.valley_height) for at, top in self.tops)
        waves = (rise * math.cos(math.pi * off) ** (2 * POINTED) for off, rise in away if off < 0.5)
        return max(waves, default=0.0)

    @property
    def _skies(self) -> tuple[Opening, ...]:
        if not self.framed:
            return ()
        (left, right), r, high = self.ends, self.valley_radius, self.top - self.border
        corners = [Pin((left + r, high - r), -r), Pin((right - r, high - r), -r)]
        return (Opening(belt([*self.ridge, *corners]), "sky", "sky"),)

    @cached_property
    def is_sound(self) -> bool:
        """Whether figure and sky can be drawn and don't cross, and a tree stands if any is asked for."""
        try:
            stands = not self.trees or any(self.planted)
            return stands and not any(meetings([self.figure, *(opening.loop for opening in self.cut_outs)]))
        except GeometryError:
            return False

    def figure_problems(self) -> Iterator[Problem]:
        """Yield what of the ridge doesn't go together."""
        found = [*self.under("valley_height", 0.9 * self.height, "to leave peaks")]
        if self.framed:
            found += self.under("border", min(self.overall / 6, self.valley_height), "for a frame of this size")
        yield from found
        if found:
            return
        if self.peaks > 1 or self.framed:
            found += self.at_most("valley_radius", self.pitch / 4, "for so many peaks in this width")
        found += self.at_most("peak_radius", self.pitch / 4, "for so many peaks in this width")
        if self.framed:
            found += self.over("sky", self.valley_radius, "for the radius in its corners")
        if self.layers:
            found += self.at_most("layer_width", APART / 2 * self.valley_height, "so low in the hills")
        found += self._tree_problems() if self.trees else ()
        yield from found
        if found:
            return
        if not self.is_sound:
            name = "tree_width" if self.trees else "valley_radius"
            yield self.tight(name, "on the slopes")

    def _tree_problems(self) -> Iterator[Problem]:
        least = self.tree_width / 2 * (1 - TREE_LOWER if self.seed else 1) * (1 - TAPER * (self.tiers - 1) / self.tiers)
        # a bough's end and the notch below it, as far apart as the bough is long less both radii, don't overlap
        yield from self.under("tree_radius", BOUGH * least / 4, "for the shortest boughs of these trees")
        yield from self.over("tree_height", self.tree_width, "to be higher than wide")
        if self.framed:
            yield from self.under("tree_height", self.sky, "to stay below the frame")

    def figure_dimensions(self) -> Iterator[Dimension]:
        """Yield the lengths of the ridge."""
        highest = self.tops[(self.peaks - 1) // 2]
        left, right = self.ends
        yield Dimension("overall", (0, 0), (self.overall, 0), "below")
        yield Dimension("height", (self.overall, 0), highest, "right")
        low = self.skyline[1].at if self.peaks > 1 else self.bounds[0].at
        r = self.valley_radius
        valley = (low[0], self.valley_height)
        yield Dimension("valley_height", (0, 0), valley if self.peaks > 1 else (left, self.valley_height), "left")
        if self.peaks > 1 or self.framed:
            yield Dimension("valley_radius", (low[0], self.valley_height + r), valley, "radius")
        (x, y), p = highest, self.peak_radius
        yield Dimension("peak_radius", (x, y - p), (x, y), "radius")
        if self.framed:
            yield Dimension("border", (right, self.height + self.sky / 2), (self.overall, self.height), "above")
            yield Dimension("sky", highest, (x, self.top - self.border), "left")
        if self.layers:
            yield self._across_line()
        if self.trees:
            yield from self._tree_dimensions()

    def _across_line(self) -> Dimension:
        """The width of the first ridgeline at its left end, where its first vertex is on its right side."""
        x, y = self._along(0, self._in(PIECES[0][0]), self._in(PIECES[0][1]))[0]
        px, py = next(iter(self.ridgelines)).segments[0].start
        away = math.atan2(py - y, px - x)
        ux, uy = math.cos(away) * self.layer_width / 2, math.sin(away) * self.layer_width / 2
        return Dimension("layer_width", (x + ux, y + uy), (x - ux, y - uy), "along")

    def _tree_dimensions(self) -> Iterator[Dimension]:
        """Yield the sizes of the first tree on the right, which chance leaves as it is."""
        (x, _), slope = next((trees[0], slope) for slope, trees in zip(self.slopes, self.planted, strict=True) if trees)
        y, half = ground(slope, x), self.tree_width / 2
        low = self._lowest(slope, x, 1.0) + self.tree_radius
        yield Dimension("tree_height", (x, y), (x, y + self.tree_height), "right")
        yield Dimension("tree_width", (x - half, low), (x + half, low), "above")
        r = self.tree_radius
        yield Dimension("tree_radius", (x, y + self.tree_height - r), (x, y + self.tree_height), "radius")


def ground(slope: Pin, x: float, above: float = 0.0) -> float:
    """Return the height of a hollow slope at a place, or of the centre of a disc of radius `above` that lies on it.

    Raises:
        GeometryError: if the slope's circle doesn't reach so far.
    """
    (cx, cy), reach = slope.at, -slope.radius - above
    if not abs(x - cx) < reach:
        raise GeometryError(f"The slope doesn't reach {format_figures(x)}.")
    return cy - math.sqrt(reach**2 - (x - cx) ** 2)


TEMPLATE = Template(
    "silhouette-ridge",
    "Ridge",
    SilhouetteRidge,
    hung,
    summary="Layered mountain ridges with spruces on the slopes, on a base or in a frame, regular or drawn by chance.",
    cautions=CAUTIONS,
    words=(
        "mountains", "hills", "skyline", "landscape", "forest", "trail sign", "wall art", "trees", "fire pit",
        "decoration", "yard art",
    ),
    presets=(
        Preset("Head of a trail sign on a tab", "overall=700 height=190 valley_height=84 peak_radius=12 "
               "valley_radius=36 hang=none foot=tab foot_width=90 foot_length=60 tree_height=84 tree_width=44 seed=9"),
        Preset("Framed, for the common room", "setting=frame overall=900 height=230 valley_height=100 peaks=2 "
               "valley_radius=40 peak_radius=14 border=26 sky=150 hang=lug hole=9 eye=10 trees=3 tree_height=106 "
               "tree_width=56 tree_radius=2 layer_width=7 seed=8 thickness=4", inches="tree_radius=1/16 thickness=1/8"),
        Preset("Bare hills for a fence panel", "overall=1200 height=250 valley_height=120 peaks=4 peak_radius=16 "
               "valley_radius=50 seed=12 trees=0 apart=600 hole=9 eye=12"),
    ),
)  # fmt: skip

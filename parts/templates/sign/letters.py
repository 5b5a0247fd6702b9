r"""Sign letters: raised letters that stand on a bar, between rails, in a ring, or are joined to each other.

      o                              o       eyes to hang it by
      |__   __   __   __             |
     /|__  |__  |__) |\ |  . . .     |\      the letters reach a little into the bar; dots and accents
    |_|____|____|_\__|_\|___________ | |     are tied to them, `tie` wide
    |________________________________|_|     bar
The lower left of the whole is at the origin.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

import numpy as np
import shapely

from parts.artwork import disc, metal_from, quarter_chords, rough_loops
from parts.artwork.glyphs import Layout, Text, face, laid_out, lettered, rough_letters
from parts.artwork.pipeline import Bridge, Made, laid_over, made, without_small
from parts.cached import cached_property
from parts.errors import Problem
from parts.geometry import Box, Point, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Template, choice, length, number
from parts.templates.sign.shared.lettering import CAUTIONS, LETTERING, Lettering, first_base, least_cap

JOINED, HANGING = "Joined by", "Hanging holes"
BAR, RING_GAP, SINK = 0.2, 0.3, 0.06
"""A bar's height where it is left open, what lies between letters and a ring, and how far letters reach into a bar;
in cap heights (by eye)."""
GAP_MM, HOLE_THICKNESSES = 1.75, 1.6
"""Where letters meet what they stand on, what is narrower is closed: a little more than air plasma wants of a slot in
sheet, in mm, and of a hole, in thicknesses."""
_FINE = math.radians(2)
# The turn between two chords of a bar along an arc, before it is known how large it is: for its size alone.


class SignLetters(Lettering):
    """The text's own place is that of its layout, the first line's base line through the origin."""

    leading = ("text", "font", "cap_height", "spacing", "line_gap", "align", "curve")

    join: str = choice(
        "Joined by", default="bar", choices=("bar", "rails", "ring", "letters"), group=JOINED,
        help="bar: under each line. rails: one above too. ring: around all. letters: by each other.",
    )  # fmt: skip
    bar: float = length(
        "Height of the bar", default=0, minimum=0, maximum=500, group=JOINED, moves="free",
        help="Of rails and ring too. 0: a fifth of the capitals.", when=("join", "bar", "rails", "ring"),
    )  # fmt: skip
    ends: float = number(
        "Bar beyond the letters", default=0.25, minimum=0, maximum=5, group=JOINED, moves="free",
        help="In cap heights.", when=("join", "bar", "rails"),
    )  # fmt: skip
    overlap: float = number(
        "Letters into each other", default=0.04, minimum=0, maximum=0.3, group=JOINED, moves="free",
        help="In cap heights. At 0 they only touch, and are tied.", when=("join", "letters"),
    )  # fmt: skip
    line_gap: float = number(
        "Between lines", default=0.5, minimum=0, maximum=3, group=LETTERING, moves="free", when=("join", "ring"),
        help="In cap heights; more where letters reach down.",
    )  # fmt: skip
    hang: str = choice(
        "Hanging holes", default="none", choices=("none", "eyes"), group=HANGING,
        help="eyes: one at each end, on a ring one above.",
    )  # fmt: skip
    hole: float = length("Hole diameter", default=7, minimum=1, maximum=60, group=HANGING, when=("hang",))
    eye: float = length(
        "Metal around the hanging hole", default=6, minimum=1, maximum=100, group=HANGING, when=("hang",), moves="free"
    )

    def set_at(self, cap: float) -> Layout | None:
        """Return the text as set with capitals of a height: on bars each line stands on the bar of the next."""
        gap, clear, overlap, apart = self.line_gap, 0.15, 0.0, self.apart_at(cap) / cap
        if self.join in ("bar", "rails"):
            gap, clear = self.bar_at(cap) / cap - 2 * SINK, -0.3
        elif self.join == "ring":
            gap = max(gap, self.bar_at(cap) / cap + 0.1)
        else:
            gap, clear, overlap, apart = -self.overlap, -0.05, max(self.overlap, 1e-6), 0.0
        return laid_out(
            Text(
                self.text,
                face(self.font),
                self.spacing,
                gap,
                self.align,
                math.radians(self.curve),
                apart,
                overlap,
                clear,
            )
        )

    def bar_at(self, cap: float) -> float:
        """Return the height of a bar, mm."""
        return self.bar or BAR * cap

    def bars_at(self, cap: float, lines: Layout) -> list[shapely.Geometry]:
        """Return bars, rails or ring, about the origin of the text."""
        bar = self.bar_at(cap)
        below = [(cap * line.base + SINK * cap - bar, cap * line.base + SINK * cap) for line in lines.lines]
        if self.join == "rails":
            top = cap * (lines.lines[0].base + 1 - SINK)
            below.insert(0, (top, top + bar))
        if self.join == "letters":
            return []
        x0, _, x1, _ = (cap * side for side in lines.box)
        if self.join == "ring":
            centre, inner = self.ring_at(cap, lines)
            inside = disc(centre, inner + bar / 2)
            reach = 2 * (inner + bar)
            bars = [_bar(low, high, (-reach, reach), cap * lines.radius) for low, high in below]
            ring = shapely.difference(disc(centre, inner + bar), disc(centre, inner))
            return [ring, *(shapely.intersection(one, inside) for one in bars)]
        end = self.ends * cap
        return [_bar(low, high, (x0 - end, x1 + end), cap * lines.radius) for low, high in below]

    def ring_at(self, cap: float, lines: Layout) -> tuple[Point, float]:
        """Return the middle of the ring and its inner radius, about the origin of the text."""
        x0, y0, x1, y1 = lines.box
        y0 = min(y0, lines.lines[-1].box[1], SINK - self.bar_at(cap) / cap + lines.lines[-1].base)
        x, y = (x0 + x1) / 2, (y0 + y1) / 2
        far = max(float(np.hypot(*(box - (x, y)).T).max()) for line in lines.lines for box in line.boxes)
        return (cap * x, cap * y), cap * (max(far, (y1 - y0) / 2) + RING_GAP)

    def eyes_at(self, cap: float, lines: Layout) -> list[Point]:
        """Return the centres of the hanging holes, about the origin of the text."""
        if self.hang == "none":
            return []
        if self.join == "ring":
            (x, y), inner = self.ring_at(cap, lines)
            return [(x, y + inner + self.bar_at(cap) + self.hole / 2)]
        if self.join == "letters" or lines.radius:
            line = lines.lines[0]
            return [_above(line.boxes[i] * cap, self.hole / 2) for i in ((0, -1) if len(line.boxes) > 1 else (0,))]
        x0, _, x1, _ = (cap * side for side in lines.box)
        end, half = self.ends * cap + self.hole / 2, self.bar_at(cap) / 2
        top = cap * (lines.lines[0].base + SINK) - half
        if self.join == "rails":
            top = cap * (lines.lines[0].base + 1 - SINK) + half
        return [(x0 - end, top), (x1 + end, top)]

    def box_at(self, cap: float, lines: Layout) -> Box:
        """Return the box of all there is, about the origin of the text."""
        x0, y0, x1, y1 = (cap * side for side in lines.box)
        more: list[Box] = [tuple(shapely.bounds(shape).tolist()) for shape in self.bars_at(cap, lines)]
        far = self.hole / 2 + self.eye
        more += [(x - far, y - far, x + far, y + far) for x, y in self.eyes_at(cap, lines)]
        a, b, c, d = zip((x0, y0, x1, y1), *more, strict=True)
        return min(a), min(b), max(c), max(d)

    def size_at(self, cap: float, lines: Layout) -> tuple[float, float]:
        """Return width and height of all there is with capitals of a height."""
        x0, y0, x1, y1 = self.box_at(cap, lines)
        return x1 - x0, y1 - y0

    @property
    def text_middle(self) -> Point:
        """The middle of the text's box, about the origin of the text."""
        x0, y0, x1, y1 = self.lines.box
        return self.cap * (x0 + x1) / 2, self.cap * (y0 + y1) / 2

    @cached_property
    def made(self) -> Made:
        """The sign's loops: letters and what they stand on in one, loose pieces tied.

        Raises:
            GeometryError: there is nothing.
        """
        lines, cap = self.lines, self.cap
        letters = lettered(lines, cap, self.text_middle)
        eyes = [disc(at, self.hole / 2 + self.eye) for at in self.eyes_at(cap, lines)]
        parts = [*letters.glyphs, *self.bars_at(cap, lines), *eyes]
        bridge = self.bridge
        whole = laid_over(parts, bridge, GAP_MM) if bridge else metal_from(shapely.union_all(parts))
        least = max(bridge, HOLE_THICKNESSES * self.thickness) if bridge else 0.0
        steps = replace(self.steps("one"), open_mm=least, gap_mm=GAP_MM if bridge else 0.0)
        return made(without_small(whole, parts, least), steps, parts)

    def layout_problems(self) -> Iterator[Problem]:
        """Yield why the text can't be set, then what has no room."""
        yield from (found := list(self.text_problems()))
        if not found:
            yield from self._size_problems()

    def _size_problems(self) -> Iterator[Problem]:
        yield from (sized := list(self.size_problems()))
        if not sized and self.overall_width and self.overall_height:
            width, height = self.size_at(self.cap, self.lines)
            if abs(width - self.overall_width) > 0.01 or abs(height - self.overall_height) > 0.01:
                name, other = "overall_height", height
                if abs(width - self.overall_width) > 0.01:
                    name, other = "overall_width", width
                message = f"doesn't go with the other: letters keep their proportions. Make it {self.say(other)}, or 0."
                yield self.problem(name, message, {name: "0"})


def _bar(low: float, high: float, across: tuple[float, float], radius: float) -> shapely.Geometry:
    """A bar between two heights, straight or along an arc about the circle of the text."""
    left, right = across
    if not radius:
        return shapely.box(left, low, right, high)
    inner, outer = radius + low, radius + high
    most = 0.98 * math.pi * abs(radius)
    first, last = max(left, -most) / radius, min(right, most) / radius
    turns = np.linspace(first, last, _steps(outer, abs(last - first)))
    arcs = [(r * np.sin(t), r * np.cos(t) - radius) for r, t in ((inner, turns), (outer, turns[::-1]))]
    return shapely.make_valid(shapely.Polygon(np.concatenate([np.column_stack(arc) for arc in arcs])))


def _steps(radius: float, span: float) -> int:
    """How many points an arc of so many radians needs so that its chords are near it."""
    return math.ceil(span / (math.pi / 2) * quarter_chords(abs(radius))) + 1


def _above(box: "np.ndarray[tuple[int, int], np.dtype[np.float64]]", far: float) -> Point:
    """A point above the middle of a letter's upper side, as the letter stands."""
    (ax, ay), (bx, by) = box[3], box[2]
    long = math.hypot(bx - ax, by - ay)
    return (ax + bx) / 2 - (by - ay) / long * far, (ay + by) / 2 + (bx - ax) / long * far


def outline(p: SignLetters) -> Profile:
    """Draw the letters, what they stand on, and the hanging holes."""
    eyes = [Opening(circle(at, p.hole), "hanging hole", "hole") for at in p.eyes_at(p.cap, p.lines)]
    inside = [Opening(loop, "opening", "text") for loop in p.made.inside]
    return Profile(p.made.outside, (*inside, *eyes), (), tuple(dimensions(p, p.made.bridges)), ties=p.made.ties)


def sketch(p: SignLetters) -> Profile | None:
    """Sketch the letters as they are laid out over what they stand on, nothing tied."""
    if p.has_layout_problems:
        return None
    eyes = p.eyes_at(p.cap, p.lines)
    rings = [shapely.Point(at).buffer(p.hole / 2 + p.eye, quad_segs=8) for at in eyes]
    letters = rough_letters(p.lines, p.cap, p.text_middle)
    whole = shapely.union_all([*letters, *p.bars_at(p.cap, p.lines), *rings])
    outside, inside = rough_loops([whole], max(p.size_at(p.cap, p.lines)))
    openings = [Opening(loop, "opening", "text") for loop in inside]
    holes = [Opening(circle(at, p.hole), "hanging hole", "hole") for at in eyes]
    return Profile(tuple(outside), (*openings, *holes), (), tuple(dimensions(p, ())))


def dimensions(p: SignLetters, bridges: tuple[Bridge, ...]) -> Iterator[Dimension]:
    """Yield where each length can be measured."""
    cap, lines = p.cap, p.lines
    x0, y0, x1, y1 = p.box_at(cap, lines)
    yield from p.text_dimensions(first_base(lines, cap, p.text_middle), bridges)
    if p.join != "letters" and (p.bar or not p.is_sized):
        low = cap * (lines.lines[-1].base + SINK) - p.bar_at(cap)
        high = low + p.bar_at(cap)  # at a bar's end its line runs through no letters
        if p.join == "ring":
            yield Dimension("bar", (0.0, low), (0.0, high), "along")
        else:
            yield Dimension("bar", (x1, low), (x1, high), "right")
    for x, y in p.eyes_at(cap, lines)[:1]:
        yield Dimension("hole", (x, y), (x + p.hole / 2, y), "diameter")
        yield Dimension("eye", (x, y + p.hole / 2), (x, y + p.hole / 2 + p.eye), "along")
    if p.overall_width:
        yield Dimension("overall_width", (x0, y0), (x1, y0), "below")
    if p.overall_height:
        yield Dimension("overall_height", (x0, y0), (x0, y1), "left")


TEMPLATE = Template(
    "sign-letters",
    "Sign letters",
    SignLetters,
    outline,
    summary="Raised letters in one piece: on a bar, between rails, in a ring, or joined to each other.",
    cautions=CAUTIONS,
    words=("sign", "raised letters", "word art", "name", "lettering", "monogram", "wall art", "text"),
    sizes=("overall_width", "overall_height"),
    sketch=sketch,
    asked=partial(least_cap, raised=True),
    presets=(
        Preset("Name over the workshop door", "text=FERNHOLLOW cap_height=200 join=rails hang=eyes hole=11 eye=12"),
        Preset("Kitchen word", "text=bread font=rounded cap_height=100 join=letters"),
        Preset("Initials in a ring", "text=FH join=ring hang=eyes cap_height=120"),
        Preset("House number on a bar", "text=48 font=slab cap_height=180 overall_width=300"),
    ),
)

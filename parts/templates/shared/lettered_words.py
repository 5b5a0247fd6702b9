"""What is asked of a text before it is cut, of signs and of letters cut through any part, and what holds it."""

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Protocol

from parts.artwork.glyphs import (
    Text,
    face,
    face_table,
    heavy,
    is_own,
    is_there,
    lines_of,
    missing,
    traits,
    who_has,
    words,
)
from parts.artwork.inscribing import Inscription, Words, inscribed
from parts.artwork.pipeline import Fit, Made, Steps, Ties
from parts.cutting import Cut, cut_for
from parts.data import threshold
from parts.errors import Problem, Refused, Way
from parts.geometry import Point, rectangle, room_in
from parts.geometry.narrow import necks
from parts.profile import Profile

FINEST, WIDEST = 0.01, 0.4
"""The least and the greatest width of bridges, in cap heights."""
OF_CAP, OF_THICKNESS, THINNEST = 0.055, 1.05, 1.0
"""A bridge's width where it is left open: of the cap height and of the thickness the greater (by eye, and common
practice: a strip narrower than so many thicknesses burns), but no more than WIDEST of the letters, and some mm."""
EASE_OF_THICKNESS, LEAST_EASE, EASE_OF_CAP, BLUNT_OF_CAP = 0.5, 1.5, 0.035, 0.04
"""The radius of corners where it is left open, in thicknesses, at least in mm, at most in cap heights, and of points of
metal (by eye), and more by what lines and arcs are fitted within: over half of the kerf of an air plasma, which is what
it leaves of a sharp corner."""
MORE_MM = 0.002
"""By how much bridges are wider than asked: they are never narrower by rounding."""
_SAME = 1e-3
# Of a width or a height: what is alike but for rounding.
_ROOMY = 160.0
# In cap heights, a plate in which letters of any text have room.
_SLOT_LENGTHS = threshold("hole-to-thickness", "slot_lengths")
MOVED = re.compile(r"([0-9a-z.]+):(-?[0-9]*\.?[0-9]+)")
"""A bridge by its name, and how far it is moved."""


class Worded(Protocol):
    """Parameters with a text in a face, and bridges that may be moved."""

    @property
    def text(self) -> str: ...  # noqa: D102 - the parameter
    @property
    def font(self) -> str: ...  # noqa: D102
    @property
    def bridges(self) -> str: ...  # noqa: D102

    def problem(self, name: str, message: str, *ways: Way) -> Problem:
        """Return a problem with the present value of a parameter."""


class Inscribed(Worded, Protocol):
    """Parameters of letters cut through a part."""

    @property
    def cap_height(self) -> float: ...  # noqa: D102 - the parameter, as all of these
    @property
    def text_x(self) -> float: ...  # noqa: D102
    @property
    def text_y(self) -> float: ...  # noqa: D102
    @property
    def letter_tie(self) -> float: ...  # noqa: D102
    @property
    def thickness(self) -> float: ...  # noqa: D102
    @property
    def process(self) -> str: ...  # noqa: D102
    @property
    def material(self) -> str: ...  # noqa: D102
    @property
    def most_cap(self) -> float: ...  # noqa: D102
    @property
    def text_near(self) -> Point | None: ...  # noqa: D102
    @property
    def letter_moves(self) -> tuple[tuple[str, float], ...]: ...  # noqa: D102


def tie_for(cap: float, thickness: float) -> float:
    """Return how wide bridges are that are left open, mm, for capitals of a height in a plate of a thickness."""
    wanted = max(OF_CAP * cap, OF_THICKNESS * thickness, THINNEST)
    return round(min(wanted, WIDEST * cap), 2)


def ease_for(cap: float, thickness: float) -> tuple[float, float]:
    """Return the radii of the corners of what is cut and of points of metal, mm: sharper ones a jet can't cut."""
    least, off = max(EASE_OF_THICKNESS * thickness, LEAST_EASE), Fit().tolerance_mm
    return min(least + off, EASE_OF_CAP * cap), min(least + 3 * off, BLUNT_OF_CAP * cap)


def word_problems(p: Worded) -> Iterator[Problem]:
    """Yield why a text can't be set in its face: nothing to be seen, a font that isn't here, letters that it lacks."""
    if not any(lines_of(p.text)):
        yield p.problem("text", "must have a letter or a figure in it.")
    elif not is_there(p.font):
        message = "is a font of someone's own, and its file isn't here: choose it again, or one of "
        yield p.problem("font", f"{message}{', '.join(words())}.")
    elif lacking := missing(p.text, face(p.font)):
        yield _lacking(p, lacking)
    elif is_own(p.font) and (line := heavy(p.text, face(p.font))):
        yield p.problem("text", f"has more points in its outlines than are drawn, with {line!r} in this font.")


def _lacking(p: Worded, characters: tuple[str, ...]) -> Problem:
    """The problem of characters that the face lacks, with the faces that have all of them."""
    said = ", ".join(f"“{_shown(character)}”" for character in characters[:6])
    able = [word for word in face_table() if not missing(p.text, face(word))]
    some = who_has(characters[0])
    way = f" {' or '.join(able)} has every letter of it." if able else ""
    if not able and some:
        way = f" {' or '.join(some)} has “{_shown(characters[0])}”."
    message = f"has {said}, which {face(p.font).said} has no letter for; leave it out, or choose another.{way}"
    return p.problem("text", message, {"font": able[0]} if able else {})


def _shown(character: str) -> str:
    """A character as a sentence can show it: what can't be seen by its number."""
    return character if character.isprintable() else f"U+{ord(character):04X}"


def moves_of(bridges: str) -> tuple[tuple[str, float], ...]:
    """Return the bridges that a text moves, by their names."""
    return tuple((key, float(share)) for key, share in MOVED.findall(bridges))


def moved_problem(p: Worded) -> Iterator[Problem]:
    """Yield what of the moved bridges can't be read."""
    if rest := MOVED.sub("", p.bridges).strip():
        message = f"has {rest!r}, which can't be read; it must be names and shares, such as 1.1.top:0.2."
        yield p.problem("bridges", message)


def unheld(p: Worded, made: Made, tie: str = "letter_tie") -> Iterator[Problem]:
    """Yield what bridges don't hold, and what they can't be moved to."""
    if made.loose:
        yield p.problem(tie, "doesn't hold all of these letters: wider ones reach further, narrower hold small ones.")
    elif made.unmoved:
        known = ", ".join(bridge.key for bridge in made.bridges[:12]) or "none"
        told = f"moves {made.unmoved[0]}, which isn't there or has no room there"
        yield p.problem("bridges", f"{told}; there are: {known}.")


class TooSmall(Exception):
    """Letters have room, but only so small that the process can't cut them.

    `cap` is the cap height that has room and `needed` the least that is cut, mm.
    """

    def __init__(self, cap: float, needed: float) -> None:
        super().__init__("Letters of this height can't be cut.")
        self.cap, self.needed = cap, needed


def inscription(p: Inscribed, profile: Profile) -> Inscription:
    """Return the letters of a part in their place; where no height is asked for, so high that the process cuts them.

    Raises:
        NoRoom: they have none.
        TooSmall: they have none where they are so high.
        GeometryError: nothing is left to cut.
    """

    def tie(cap: float) -> float:
        return p.letter_tie or tie_for(cap, p.thickness)

    def steps(cap: float) -> Steps:
        ease = ease_for(cap, p.thickness)
        return Steps(Ties(tie(cap) + MORE_MM, frame="outer"), p.letter_moves, None, Fit(), *ease, neck_mm=tie(cap))

    cut = _cut(p)
    text = Text(p.text, face(p.font), 0.04, 0.5)
    words_ = Words(text, p.cap_height, (p.text_x, p.text_y), p.most_cap, _cuttable_cap(p, cut), p.text_near)
    made = inscribed(profile, words_, tie, steps)
    if p.cap_height or not cut:
        return made
    for last in (False, True):
        needed = made.cap * _short_by(made.made, cut, tie(made.cap))
        if needed <= made.cap * (1 + _SAME):
            break
        if last:
            roomy = Profile((rectangle((0.0, 0.0), _ROOMY * needed, needed * _ROOMY / 4),))
            alone = inscribed(roomy, replace(words_, cap=needed, moved=(0.0, 0.0)), tie, steps)
            raise TooSmall(made.cap, needed * min(_short_by(alone.made, cut, tie(needed)), 1.0))
        made = inscribed(profile, replace(words_, least=needed, most=max(p.most_cap, needed)), tie, steps)
    return made


def _cut(p: Inscribed) -> Cut | None:
    """How the process cuts the plate; None where it can't, which is told elsewhere."""
    try:
        return cut_for(p.process, p.material, p.thickness)
    except Refused:
        return None


def _cuttable_cap(p: Inscribed, cut: Cut | None) -> float:
    """The cap height from which on strokes are as wide as the process cuts, mm; 0 where it can't cut the plate."""
    stroke = traits(face(p.font)).stroke
    return cut.narrowest_slot_mm / stroke if cut and stroke else 0.0  # someone's own font may have no narrow place


def _short_by(made: Made, cut: Cut, tie: float) -> float:
    """How many times as large letters would have to be for a pierce, the jet and the heat: up to 1, they are."""
    slot = max(cut.narrowest_slot_mm, cut.kerf_mm, cut.pierce_diameter_mm)
    times = [cut.narrowest_bridge_mm / tie]
    times += [cut.narrowest_bridge_mm / neck.width for neck in necks([*made.outside, *made.inside], _bridge(cut))]
    for loop in made.inside:
        room = room_in(loop, (), max(slot, cut.smallest_hole_mm) / 2)
        wide = 2 * room.radius if room else math.inf
        is_slot = loop.area >= _SLOT_LENGTHS * wide**2
        times.append((slot if is_slot else max(slot, cut.smallest_hole_mm)) / wide)
    return max(times)


def _bridge(cut: Cut) -> float:
    return cut.narrowest_bridge_mm * (1 - _SAME)

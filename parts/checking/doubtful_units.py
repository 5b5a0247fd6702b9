"""Doubtful units: a drawing whose size or holes suit another unit than the one it states is asked about, never guessed.

Asked is where a drawing is of no size that is cut but would be in another unit: a part past the bed that would lie on
it, holes or a whole part too small to be cut that would do, holes of metric sizes in inches; and where a part past the
bed is 25.4 times one of tidy size, as by a conversion done twice. Who has said the unit isn't asked.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parts.cutting import Job
from parts.finding import UNITS_RULE, Finding
from parts.profile import Drill, Profile
from parts.tolerance import LIMIT_SLACK_MM
from parts.units import MM_PER_IN, Units, format_length, format_size

RULE = UNITS_RULE

LEAST_PART_MM = 15.0
"""A part no longer than this is asked about where it would be cut in another unit (a shop's judgement, from memory)."""
_THICK, _THINNEST_PART_MM = 2.5, 6.0
"""A part no longer than so many thicknesses is a lump and not a plate; in thin plate up to so many mm (from memory)."""
LONGEST_PLATE_MM = 6100.0
"""Plate isn't sold longer than 20 ft (common practice)."""
LEAST_HOLE, LEAST_HOLE_MM = 0.5, 1.5
"""A hole under this share of the smallest that is cut, and under this diameter, was hardly meant (from memory)."""
_UNITS: dict[Units, float] = {"mm": 1.0, "in": MM_PER_IN}
_WORDS = {"mm": "millimetres", "in": "inches"}
_SAME = 1e-3
_TIDY_MM, _FINE_IN = 0.1, 1 / 64


@dataclass(frozen=True, slots=True)
class Sizes:
    """What tells of a drawing's unit, in mm: width and height, and the diameters of its round holes."""

    width: float
    height: float
    holes: tuple[float, ...]

    def times(self, factor: float) -> "Sizes":
        """Return the sizes of the drawing so much larger."""
        return Sizes(self.width * factor, self.height * factor, tuple(d * factor for d in self.holes))

    @property
    def longest(self) -> float:
        """The longer side."""
        return max(self.width, self.height)

    def fits(self, job: Job) -> bool:
        """Whether the bed holds it, as drawn or turned a quarter."""
        return job.bed.holds(self.width, self.height) or job.bed.holds_turned(self.width, self.height)

    def is_plausible(self, job: Job) -> bool:
        """Whether a part of this size is cut: no speck, and no hole far too small."""
        return self.longest > LEAST_PART_MM and min(self.holes, default=math.inf) >= _least_hole(job)

    def said(self, units: Units) -> str:
        """Return the sizes in words: `4 in x 2.4 in with holes from 1/4 in`."""
        size = format_size(self.width, self.height, units)
        if not self.holes:
            return size
        smallest = format_length(min(self.holes), units)
        return f"{size} with {'a hole of' if len(self.holes) == 1 else 'holes from'} {smallest}"


def doubts(profile: Profile, unit_mm: float, job: Job) -> Iterator[Finding]:
    """Yield a finding where another unit than `unit_mm`, which was stated, is more likely; one at most."""
    if not profile.outside:
        return
    x0, y0, x1, y1 = profile.box
    at = (x0 + x1) / 2, (y0 + y1) / 2
    circles = [opening.loop.circle for opening in profile.inside]
    holes = [circle.diameter for circle in circles if circle]
    holes += [mark.diameter for mark in profile.marks if isinstance(mark, Drill) and mark.diameter]
    sizes = Sizes(x1 - x0, y1 - y0, tuple(holes))
    for units, other_mm in _UNITS.items():
        other = sizes.times(other_mm / unit_mm)
        why = "" if abs(other_mm / unit_mm - 1) <= _SAME else _why(sizes, other, unit_mm, other_mm, job)
        if why:
            yield Finding(
                RULE, "warn", at, None, None,
                f"Is the unit right? The part is {sizes.said(job.units)}, {why}; in {_WORDS[units]} it would be "
                f"{other.said(units)}.",
                f"If so, say that it is in {_WORDS[units]}; if not, say what it is in, and this isn't asked again.",
                (("units", units),),
            )  # fmt: skip
            return
    if _is_converted_twice(sizes, job):
        yield Finding(
            RULE, "warn", at, None, None,
            f"Is the size right? The part is {sizes.said(job.units)}, larger than the bed, and just 25.4 times "
            f"{sizes.times(1 / MM_PER_IN).said(job.units)}.",
            "If it was converted from inches once too often, make it 25.4 times smaller and save it again.",
        )  # fmt: skip


def _why(sizes: Sizes, other: Sizes, unit_mm: float, other_mm: float, job: Job) -> str:
    """Why the other unit is more likely, as part of a sentence; nothing where it isn't."""
    least, of_inches = _least_hole(job), abs(unit_mm / MM_PER_IN - 1) <= _SAME
    if other_mm < unit_mm:
        if not sizes.fits(job) and other.fits(job) and other.is_plausible(job):
            return "larger than the bed"
        return "a size that inches don't come in" if of_inches and other.is_plausible(job) and _is_metric(other) else ""
    if other.longest <= LONGEST_PLATE_MM and sizes.holes and max(sizes.holes) < least <= min(other.holes):
        return "too small to be cut or drilled" if len(sizes.holes) == 1 else "all too small to be cut or drilled"
    if sizes.longest <= _least_part(sizes, job) and other.fits(job) and min(other.holes, default=least) >= least:
        return "hardly a part to be cut"
    return ""


def _least_part(sizes: Sizes, job: Job) -> float:
    """The length up to which a part is hardly one: less in thin plate, and where all its holes can be cut."""
    thick = _THICK * job.cut.thickness_mm
    if sizes.holes and min(sizes.holes) >= job.cut.smallest_hole_mm - LIMIT_SLACK_MM:
        return min(LEAST_PART_MM, thick)
    return min(LEAST_PART_MM, max(thick, _THINNEST_PART_MM))


def _least_hole(job: Job) -> float:
    return min(LEAST_HOLE * job.cut.smallest_hole_mm, LEAST_HOLE_MM)


def _is_metric(in_mm: Sizes) -> bool:
    """Whether sizes taken for inches are tidy as mm and have a hole that no drill in inches makes."""
    tidy = all(_is_multiple(size, _TIDY_MM) for size in (in_mm.width, in_mm.height, *in_mm.holes))
    return tidy and any(not _is_multiple(hole, _FINE_IN) for hole in in_mm.holes)


def _is_converted_twice(sizes: Sizes, job: Job) -> bool:
    once = sizes.times(1 / MM_PER_IN)
    tidy = all(_is_multiple(size, _TIDY_MM) for size in (once.width, once.height, *once.holes))
    return tidy and not sizes.fits(job) and once.fits(job) and once.is_plausible(job)


def _is_multiple(size: float, step: float) -> bool:
    return abs(size / step - round(size / step)) * step <= _SAME * step + 1e-9

"""As cut: the outline that the jet really leaves.

The jet is a disk as wide as the kerf, and cuts nothing that the disk can't get into beside the part: inside
corners keep its radius, slots narrower than the kerf are lost, outside corners stay sharp. That is the closing
of the part by the disk (`parts.geometry.disk.closing`), exact, in true lines and arcs. Taper, heat and the machine's
own rounding of corners are left out.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from parts.cutting.process import Cut
from parts.errors import GeometryError
from parts.geometry import Arc, Loop
from parts.geometry.disk import closed_by
from parts.profile import Profile
from parts.tolerance import JET_SLACK_MM, TIDY_DECIMALS


@dataclass(frozen=True, slots=True)
class AsCut:
    """What a cut leaves of a profile's openings and outside, the material on every loop's left.

    `lost_area_mm2` is what was drawn as cut away and stays; `smallest_inside_radius_mm` the tightest inside
    corner, round holes apart, None where there is none.
    """

    loops: tuple[Loop, ...]
    kerf_mm: float
    lost_area_mm2: float
    smallest_inside_radius_mm: float | None


def as_cut(profile: Profile, cut: Cut) -> AsCut | None:
    """Return what the jet leaves of a profile; None where its loops meet, so that there is no one answer."""
    drawn, radius = profile.boundary, cut.kerf_mm / 2
    try:
        left = closed_by(drawn, radius)
    except GeometryError:
        return None
    lost = math.fsum(loop.signed_area for loop in left) - math.fsum(loop.signed_area for loop in drawn)
    radii = [radius if abs(r - radius) <= 2 * JET_SLACK_MM else r for r in _inside_radii(left)]
    tightest = round(min(radii), TIDY_DECIMALS) if radii else None
    return AsCut(left, cut.kerf_mm, max(lost, 0.0), tightest)


def _inside_radii(loops: Iterable[Loop]) -> Iterator[float]:
    """The radii of arcs with the material outside them: those that turn right."""
    for loop in loops:
        if loop.circle is None:
            yield from (s.radius for s in loop.segments if isinstance(s, Arc) and s.bulge < 0)

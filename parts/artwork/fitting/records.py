"""What is asked of a fit, and what it made."""

from dataclasses import dataclass

from parts.artwork.fitting.shares import Outline, Slowing, short_share, slow_share
from parts.artwork.metal import FLAT_MM
from parts.geometry import Loop


@dataclass(frozen=True, slots=True)
class Fit:
    """How lines and arcs are fitted.

    `tolerance_mm` is how far they may be from the outline; corners that turn by more than `corner_deg` stay corners.
    `blur_mm` says that the points are noisy, and how much: 0 of outlines that are drawn, the size of a pixel of
    pictures. Of these, corners are put back where both sides meet, up to 2.5 blurs from the rounded contour.
    `flat_mm` is how far chords of outlines that are drawn may be from the curves that they stand for: those that were
    made larger are further off.
    """

    tolerance_mm: float = 0.05
    corner_deg: float = 20.0
    blur_mm: float = 0.0
    flat_mm: float = FLAT_MM


@dataclass(frozen=True, slots=True)
class Fitted:
    """Loops of lines and arcs: counter-clockwise outside, clockwise inside.

    An arc is tangent to what it meets other than at a corner, within 1e-6 rad; straight edges keep the angle they meet
    at, and along a rough outline, which turns at many points by more than chords of a curve, so do arcs. No point of
    the loops is further than `deviation_mm` from the outline, nor any of the outline from the loops.
    `before` and `after` are the outline and the loops as a cutter goes round them.
    """

    outside: tuple[Loop, ...]
    inside: tuple[Loop, ...]
    deviation_mm: float
    before: Outline
    after: Outline

    def short_before(self, limit_mm: float) -> float:
        """Return the share of the outline's segments, 0 to 1, shorter than `limit_mm`."""
        return short_share(self.before, limit_mm)

    def short_after(self, limit_mm: float) -> float:
        """Return the share of the fitted segments, 0 to 1, shorter than `limit_mm`."""
        return short_share(self.after, limit_mm)

    def slow_before(self, slowing: Slowing) -> float:
        """Return the share of the outline's length, 0 to 1, that is cut slowly."""
        return slow_share(self.before, slowing)

    def slow_after(self, slowing: Slowing) -> float:
        """Return the share of the fitted length, 0 to 1, that is cut slowly."""
        return slow_share(self.after, slowing)

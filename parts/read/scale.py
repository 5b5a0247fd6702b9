"""Scale: what one drawing unit is, by the file or by whoever sent it; never guessed."""

from collections.abc import Iterator

from parts.errors import GeometryError, Problem, Refused, Unreadable
from parts.finding import Finding
from parts.read.evidence import weighed
from parts.read.heal.healing import heal
from parts.read.limits import Budget
from parts.read.outlines import outlines
from parts.read.raw import Raw, Scale
from parts.read.roles import Drawn
from parts.read.sentences import READING
from parts.units import MM_PER_IN, Units, format_figures, format_size

ASKED: dict[Units, Scale] = {
    "mm": Scale(1.0, "millimetres", "mm"),
    "in": Scale(MM_PER_IN, "inches", "in"),
}
"""Scales that may be asked for."""
# Two statements of one unit differ by no more than the rounding of a size in pixels or a viewBox.
_SAME = 1e-3


def decided(raw: Raw, units: Units | None, name: str, budget: Budget) -> Scale:
    """Return the scale to read a drawing at: as asked, or as the file says.

    Raises:
        Refused: if neither says it; the problem's parameter is `units`.
    """
    if raw.scale is not None and (units is None or _agree(raw.scale, units)):
        return raw.scale
    if units is not None:
        return ASKED[units]
    if raw.assumed is not None:
        return raw.assumed
    raise Refused((Problem("units", name, f"{raw.unscaled}: choose mm or inches{_either_way(raw, budget)}."),))


def contradiction(raw: Raw, scale: Scale) -> Iterator[Finding]:
    """Yield a finding where the drawing is read at another scale than its file states."""
    if raw.scale is not None and raw.scale is not scale:
        yield Finding(
            READING, "warn", (0.0, 0.0), None, None,
            f"The file states {raw.scale.name} as its unit of {format_figures(raw.scale.unit_mm)}; "
            f"it was read in {scale.name}, as asked.",
            "Compare the overall size with the part's, and leave the units to the file if it is wrong.",
        )  # fmt: skip
    if scale is raw.assumed and raw.assumed_why:
        yield Finding(
            READING, "warn", (0.0, 0.0), None, None, raw.assumed_why,
            "Compare the overall size with the part's; if it is wrong, say the units or how many pixels make an inch.",
        )  # fmt: skip


def _agree(scale: Scale, units: Units) -> bool:
    """Whether the file's unit is the one asked for."""
    asked = ASKED[units].unit_mm
    return abs(scale.unit_mm - asked) <= _SAME * asked


def _either_way(raw: Raw, budget: Budget) -> str:
    """How large the cut lines are in either unit, for who has to choose; curves fitted as closely as inches want."""
    try:
        drawn = outlines(raw, MM_PER_IN, budget)
    except (Unreadable, ArithmeticError, GeometryError):
        return ""
    cut = weighed(Drawn(drawn.chains, drawn.spots), {}, heal, budget).cut
    boxes = [segment.box for chain in cut for segment in chain.segments]
    if not boxes:
        return ""
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    width, height = (max(x1) - min(x0)) / MM_PER_IN, (max(y1) - min(y0)) / MM_PER_IN
    in_mm, in_inches = (format_size(width * s.unit_mm, height * s.unit_mm, s.units) for s in ASKED.values())
    return f". It is {in_mm}, or {in_inches}"

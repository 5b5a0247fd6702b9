"""Steps: what is done to mounted metal on its way to loops, as asked, and what was done in sentences."""

from collections.abc import Iterator

from parts.artwork.fitting import Fit
from parts.artwork.holding import Ties
from parts.artwork.pipeline import Made, Steps, made
from parts.artwork.sturdy import Sturdy
from parts.cutting import Job
from parts.tracing.mounting import Mounted
from parts.tracing.settings import Tracing
from parts.tracing.source import Figure
from parts.units import Units, format_length

_UNSMOOTHED_MM = 0.01
"""How closely lines alone follow what isn't to be smoothed."""


def worked(on: Mounted, figure: Figure, p: Tracing, job: Job) -> Made:
    """Return the loops of mounted metal once it is held, mended and smoothed, each as asked.

    Raises:
        GeometryError: nothing is left, or what is left can't be bounded by loops.
    """
    tolerance = (p.tolerance or figure.tolerance_mm) if p.smooth else _UNSMOOTHED_MM
    kerf = job.cut.kerf_mm
    width = p.tie_mm + 2 * tolerance  # smoothing may take so much off either side
    ties = Ties(width, kerf, "centred", "outer" if p.mount in ("plate", "frame") else "one") if p.hold else None
    bridge = max(job.cut.narrowest_bridge_mm, 0.0) + 2 * tolerance
    mending = Sturdy(bridge, kerf, p.sturdy / 100) if p.sturdy else None
    corner = 20.0 if not figure.blur_mm else 28.0
    fit = Fit(tolerance, corner, figure.blur_mm if p.smooth else 0.0)
    return made(on.metal, Steps(ties, (), mending, fit))


def sentences(of: Made, units: Units) -> Iterator[str]:
    """Yield what was done, a sentence each without its full stop."""
    if count := len(of.bridges):
        wide = format_length(of.bridges[0].width_mm, units)
        yield f"held what would fall out by {count:,} bridge{'' if count == 1 else 's'} {wide} wide"
    if count := len(of.changes):
        far = format_length(of.moved_mm, units)
        yield f"mended {count:,} thin or pointed place{'' if count == 1 else 's'}; the outline moved by {far} at most"
    after = sum(len(loop.segments) for loop in (*of.outside, *of.inside))
    far = format_length(of.deviation_mm, units)
    yield f"smoothed into {after:,} lines and arcs, no farther than {far} from the outline"

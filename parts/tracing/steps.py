"""Steps: what is done to mounted metal on its way to loops, as asked, and what was done in sentences."""

from collections.abc import Iterator

from parts.artwork import Metal, pieces
from parts.artwork.fitting import fitted
from parts.artwork.holding import Held, held
from parts.artwork.pipeline import Fit, Made, Steps, Sturdy, Ties, made
from parts.artwork.sturdy import Mended, sturdy
from parts.cutting import Job
from parts.geometry import Loop
from parts.tracing.mounting import Mounted
from parts.tracing.settings import Tracing
from parts.tracing.source import Figure
from parts.units import Units, format_length

_CORNER, _NOISY_CORNER = 20.0, 28.0
"""Turns beyond which a corner stays one, degrees; the pixels of a picture make small ones of their own."""


def worked(on: Mounted, figure: Figure, p: Tracing, job: Job) -> Made:
    """Return the loops of mounted metal once it is held, mended and smoothed, each as asked.

    Raises:
        GeometryError: nothing is left, or what is left can't be bounded by loops.
    """
    tolerance = (p.tolerance or figure.tolerance_mm) if p.smooth else 0.0
    room, kerf = 2 * tolerance, job.cut.kerf_mm  # smoothing may take the tolerance off either side
    mending = Sturdy(job.cut.narrowest_bridge_mm + room, kerf + room, p.sturdy / 100) if p.sturdy else None
    ties = Ties(p.tie_mm + room, kerf, "centred", "outer" if p.mount in ("plate", "frame") else "one")
    fit = Fit(tolerance, _NOISY_CORNER if figure.blur_mm else _CORNER, figure.blur_mm)
    if p.hold and p.smooth:
        return made(on.metal, Steps(ties, (), mending, fit))
    holding = held(on.metal, ties) if p.hold else Held(on.metal, ())
    mended = sturdy(holding.metal, mending) if mending else Mended(holding.metal, (), 0.0)
    smooth = fitted(mended.metal, fit) if p.smooth else None
    outside, inside = (smooth.outside, smooth.inside) if smooth else _straight(mended.metal)
    return Made(
        outside, inside, holding.bridges, holding.loose, holding.unmoved, holding.dropped, mended.changes,
        mended.moved_mm, smooth.deviation_mm if smooth else 0.0, smooth,
    )  # fmt: skip


def _straight(metal: Metal) -> tuple[tuple[Loop, ...], tuple[Loop, ...]]:
    """The outlines of metal from point to point: what isn't to be smoothed."""
    outer = [piece.exterior for piece in pieces(metal)]
    inner = [ring for piece in pieces(metal) for ring in piece.interiors]
    around, within = (
        tuple(Loop.through((x, y, 0.0) for x, y in list(ring.coords)[:-1]) for ring in rings)
        for rings in (outer, inner)
    )
    return around, within


def sentences(of: Made, units: Units) -> Iterator[str]:
    """Yield what was done, a sentence each without its full stop."""
    if count := len(of.bridges):
        wide = format_length(of.bridges[0].width_mm, units)
        yield f"held what would fall out by {count:,} bridge{'' if count == 1 else 's'} {wide} wide"
    if count := len(of.dropped):
        yield f"left out {count:,} piece{'' if count == 1 else 's'} too small to be held"
    if count := len(of.loose):
        yield f"found no way to hold {count:,} piece{'' if count == 1 else 's'}"
    if count := len(of.changes):
        far = format_length(of.moved_mm, units)
        yield f"mended {count:,} thin or pointed place{'' if count == 1 else 's'}; the outline moved by {far} at most"
    after = sum(len(loop.segments) for loop in (*of.outside, *of.inside))
    if of.fitted is None:
        yield f"left it as {after:,} lines, not smoothed"
        return
    far = format_length(of.deviation_mm, units)
    yield f"smoothed into {after:,} lines and arcs, no farther than {far} from the outline"

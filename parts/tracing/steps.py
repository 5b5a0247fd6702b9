"""Steps: what is done to mounted metal on its way to loops, as asked, and what was done in sentences."""

from collections.abc import Iterator
from dataclasses import replace

import shapely

from parts.artwork import Metal, metal_of, pieces
from parts.artwork.fitting import Slowing, fitted
from parts.artwork.holding import Held, held
from parts.artwork.pipeline import Fit, Made, Steps, Sturdy, Ties, made
from parts.artwork.sturdy import Mended, sturdy
from parts.cutting import SLOW, Job
from parts.geometry import Loop
from parts.tracing.figure import Figure
from parts.tracing.mounting import Mounted
from parts.tracing.settings import Tracing
from parts.units import format_length

_CORNER, _NOISY_CORNER = 20.0, 28.0
"""Turns beyond which a corner stays one, degrees; the pixels of a picture make small ones of their own."""

_MANY_POINTS = 1500

_STOPS_DEG = 2.0
"""Joints that turn by more are stops: the chords of a curve do."""


def worked(on: Mounted, figure: Figure, p: Tracing, job: Job) -> Made:
    """Return the loops of mounted metal once it is held, mended and smoothed, each as asked.

    What comes of pixels is smoothed before anything else: bridges are then as straight as they are drawn, and all that
    follows is done to lines and arcs. Where there is so much of it that this would take long, only at the end.

    Raises:
        GeometryError: nothing is left, or what is left can't be bounded by loops.
    """
    if not (p.smooth and figure.blur_mm):
        return _worked(on.metal, Fit(_tolerance(figure, p), _CORNER), p, job)
    if shapely.get_num_coordinates(on.metal) > _MANY_POINTS:
        return _worked(on.metal, Fit(_tolerance(figure, p), _NOISY_CORNER, figure.blur_mm), p, job)
    drawn = fitted(on.metal, Fit(_tolerance(figure, p), _NOISY_CORNER, figure.blur_mm))
    made_ = _worked(metal_of([*drawn.outside, *drawn.inside]), Fit(), p, job)
    if not (made_.bridges or made_.changes or made_.dropped or made_.loose):
        return replace(made_, outside=drawn.outside, inside=drawn.inside, deviation_mm=drawn.deviation_mm, fitted=drawn)
    told = replace(made_.fitted or drawn, before=drawn.before)
    return replace(made_, deviation_mm=drawn.deviation_mm + made_.deviation_mm, fitted=told)


def _tolerance(figure: Figure, p: Tracing) -> float:
    return (p.tolerance or figure.tolerance_mm) if p.smooth else 0.0


def _worked(metal: Metal, fit: Fit, p: Tracing, job: Job) -> Made:
    """The loops of metal held and mended, with lines and arcs fitted to it."""
    room, kerf = 2 * fit.tolerance_mm, job.cut.kerf_mm  # smoothing may take the tolerance off either side
    mending = Sturdy(job.cut.narrowest_bridge_mm + room, kerf + room, p.sturdy / 100) if p.sturdy else None
    ties = Ties(p.tie_mm + room, kerf, "centred", "outer" if p.mount in ("plate", "frame") else "one")
    if p.hold and p.smooth:
        return made(metal, Steps(ties, (), mending, fit, neck_mm=0.0 if fit.blur_mm else p.tie_mm))
    holding = held(metal, ties) if p.hold else Held(metal, ())
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


def shares_of(of: Made, job: Job) -> dict[str, float]:
    """Return the shares, 0 to 1, of segments shorter than the kerf and of length cut slowly, before and after fitting.

    Slow is where the machine can't hold the share SLOW of the feed: on arcs with v² > a r, and within v² / 2a of a
    joint that it stops at.
    """
    if of.fitted is None:
        return {}
    kerf, speed = job.cut.kerf_mm, SLOW * min(job.cut.feed_mm_s, job.machine.top_speed)
    round_ = speed**2 / job.machine.acceleration
    slowing = Slowing(round_, _STOPS_DEG, round_ / 2)
    return {
        "short_before": of.fitted.short_before(kerf),
        "short_after": of.fitted.short_after(kerf),
        "slow_before": of.fitted.slow_before(slowing),
        "slow_after": of.fitted.slow_after(slowing),
    }


def sentences(of: Made, job: Job) -> Iterator[str]:
    """Yield what was done, a sentence each without its full stop."""
    units = job.units
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
    share = {name: round(100 * value) for name, value in shares_of(of, job).items()}
    yield (
        f"of its pieces {share['short_before']} % were shorter than the kerf before smoothing, "
        f"{share['short_after']} % are now; of its length {share['slow_before']} % were to be cut slowly, "
        f"{share['slow_after']} % are now"
    )

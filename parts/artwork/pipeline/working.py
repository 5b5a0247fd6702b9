"""The pipeline from metal to a profile's loops: islands held, thin places mended, lines and arcs fitted.

Each step takes metal and gives metal with a record of what it did, and each can be left out; only the last makes loops.
What was made is kept for a while, since a page draws the same part several times a request.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from parts.artwork.easing import eased, eased_around
from parts.artwork.fitting import Fit, Fitted, forget_fitted
from parts.artwork.holding import Bridge, Dropped, Held, Ties, held
from parts.artwork.holding.place import strips
from parts.artwork.metal import Metal, pieces
from parts.artwork.pipeline.necks import Least, fitted_wide
from parts.artwork.pipeline.small import without_slivers
from parts.artwork.recent import Recent
from parts.artwork.sturdy import Change, Mended, Sturdy, sturdy
from parts.errors import GeometryError
from parts.geometry import Loop, Point
from parts.profile import Tie
from parts.wanted import step

_FIT = Fit()

_SLANT = (5**0.5 - 1) / 2
# No two corners of a drawing lie in this direction from one another but by chance.


@dataclass(frozen=True)
class Steps:
    """What is done on the way, None what isn't. `moved` has offsets of bridges moved by hand, by their keys.

    `ease_mm` is the radius of corners in what is cut, `blunt_mm` that of points of metal; 0 leaves them sharp. Openings
    between bridges that no circle of the diameter `open_mm` goes into are closed. No neck comes out narrower than
    `neck_mm`, other than one that a part has by itself, and no gap between parts narrower than `gap_mm`.
    """

    ties: Ties | None = None
    moved: tuple[tuple[str, float], ...] = ()
    mending: Sturdy | None = None
    fit: Fit = _FIT
    ease_mm: float = 0.0
    blunt_mm: float = 0.0
    open_mm: float = 0.0
    neck_mm: float = 0.0
    gap_mm: float = 0.0


@dataclass(frozen=True)
class Made:
    """Loops to cut, and what was done for them.

    `loose` has a point of each piece that nothing holds, `unmoved` the keys of bridges that couldn't be moved as
    asked, `dropped` what was too small to be held. `changes` are the places that were mended, `moved_mm` is how
    far the outline went there at most; `deviation_mm` how far the lines and arcs are from the metal at most.
    """

    outside: tuple[Loop, ...]
    inside: tuple[Loop, ...]
    bridges: tuple[Bridge, ...] = ()
    loose: tuple[Point, ...] = ()
    unmoved: tuple[str, ...] = ()
    dropped: tuple[Dropped, ...] = ()
    changes: tuple[Change, ...] = ()
    moved_mm: float = 0.0
    deviation_mm: float = 0.0
    fitted: Fitted | None = None

    @property
    def ties(self) -> tuple[Tie, ...]:
        """The bridges as a profile has them, to be moved."""
        return tuple(_tie(bridge) for bridge in self.bridges if bridge.breadth_mm)


def _tie(bridge: Bridge) -> Tie:
    """A bridge stands upright in its own frame: what is to the right there is a quarter turn from its direction."""
    (x0, y0), (x1, y1) = bridge.start, bridge.end
    by = bridge.breadth_mm / math.dist(bridge.start, bridge.end)
    return Tie(bridge.key, bridge.start, bridge.end, bridge.offset, ((y1 - y0) * by, (x0 - x1) * by))


MOST_KEPT = 20_000
"""Lines and arcs of what is kept, half a kilobyte each: some twenty signs, with the values tried around them."""


def _size(of: Made) -> int:
    """How many lines and arcs it has, and as many more as what else there is of it comes to."""
    return 50 + sum(len(loop.segments) for loop in (*of.outside, *of.inside))


_made: Recent[tuple[bytes, bytes, Steps], Made] = Recent(MOST_KEPT, _size)


def made(metal: Metal, steps: Steps, own: Sequence[shapely.Geometry] = ()) -> Made:
    """Return the loops that bound metal once it is held, mended and smooth.

    `own` are the parts that the metal was put together of; where none are told, it is one.

    Raises:
        GeometryError: nothing is left, or what is left can't be bounded by loops.
    """
    key = shapely.to_wkb(metal), b"".join(shapely.to_wkb(own)), steps
    return _made.get(key) or _made.keep(key, _worked(metal, steps, own or pieces(metal)))


def forget() -> None:
    """Keep nothing of what was made."""
    _made.clear()
    forget_fitted()
    strips.cache_clear()


def _worked(metal: Metal, steps: Steps, own: Sequence[shapely.Geometry]) -> Made:
    holding = held(metal, steps.ties, dict(steps.moved)) if steps.ties else Held(largest(metal), ())
    step()
    mended = sturdy(holding.metal, steps.mending) if steps.mending else Mended(holding.metal, (), 0.0)
    filled = steps.ties.width_mm if steps.ties and steps.ties.frame == "one" else 0.0
    step()
    left = _softened(without_slivers(mended.metal, metal, max(filled, steps.open_mm)), steps)
    if shapely.is_empty(left) or any(piece.is_empty for piece in pieces(left)):
        raise GeometryError("Nothing is left that holds together: its letters take all of it.")
    step()
    smooth = fitted_wide(left, Least(steps.neck_mm, steps.gap_mm, steps.open_mm), own, steps.fit)
    return Made(
        _in_order(smooth.outside), _in_order(smooth.inside), holding.bridges, holding.loose, holding.unmoved,
        holding.dropped, mended.changes, mended.moved_mm, smooth.deviation_mm, smooth,
    )  # fmt: skip


def _softened(metal: Metal, steps: Steps) -> Metal:
    """The metal with its corners as round as is asked."""
    round_cut = eased_around(metal, steps.ease_mm) if steps.ease_mm else metal
    return eased(round_cut, steps.blunt_mm) if steps.blunt_mm else round_cut


def _in_order(loops: tuple[Loop, ...]) -> tuple[Loop, ...]:
    """Loops from left to right, each begun where it is furthest down a slant: whatever order they were made in."""
    begun = []
    for loop in loops:
        down = [_SLANT * segment.start[0] + segment.start[1] for segment in loop.segments]
        first = down.index(min(down))
        begun.append(loop if first == 0 or loop.circle else Loop(loop.segments[first:] + loop.segments[:first]))
    return tuple(sorted(begun, key=lambda loop: (round(loop.box[0], 3), loop.box[1])))


def largest(metal: Metal) -> Metal:
    """Return the largest piece alone: what is left where nothing holds the others."""
    return shapely.MultiPolygon([max(pieces(metal), key=lambda piece: piece.area)])

"""A bridge stood at an exact place, off the lines that it was looked for on."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from parts.artwork.holding.candidates import STEPS
from parts.artwork.holding.scan import Floats, scanned
from parts.artwork.holding.shape import Shape

_UPRIGHT_MM = 0.05
_MOST_OF = 0.5
"""An edge is a stem's if so much of a piece's height lies on it."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A bridge in the frame turned clockwise by `turn`: upright at `x`, from piece `below` to piece `above`."""

    turn: float
    x: float
    low: float
    high: float
    below: int
    above: int
    width: float

    @classmethod
    def of(cls, row: Sequence[float]) -> "Standing":
        """Make one of a row of `Candidates`."""
        turn, x, low, high, below, above, width, _ = row
        return cls(turn, x, low, high, int(below), int(above), width)

    @property
    def pieces(self) -> tuple[int, ...]:
        """The loose pieces at its ends, the lower number first."""
        return tuple(sorted(piece for piece in (self.below, self.above) if piece > 0))


def stood_at(shape: Shape, bridge: Standing, x: float) -> Standing | None:
    """Return the bridge moved to `x`, between the same pieces as near as can be; None where it has no room."""
    step = bridge.width / STEPS
    scan = scanned([(piece, ring - (x, 0.0)) for piece, ring in _near(shape, bridge, x)], step, STEPS // 2)
    chain, at = scan.chains.T
    near = np.abs(scan.line[at]) <= STEPS // 2
    near &= (scan.below[at] == bridge.below) & (scan.above[at] == bridge.above)
    found = []
    for one in np.unique(chain[near]).tolist():
        k = at[near & (chain == one)]
        if len(k) == STEPS + 1:
            low, high = float(scan.low[k].min()), float(scan.high[k].max())
            found.append((abs(low + high - bridge.low - bridge.high), low, high))
    if not found:
        return None
    _, low, high = min(found)
    return replace(bridge, x=x, low=low, high=high)


def _near(shape: Shape, bridge: Standing, x: float) -> Iterator[tuple[int, Floats]]:
    """Yield the turned rings that a bridge at `x` meets."""
    rings, spans = shape.turned(bridge.turn), shape.spans(bridge.turn)
    for k in np.flatnonzero((spans[:, 0] <= x + bridge.width) & (spans[:, 1] >= x - bridge.width)).tolist():
        yield rings[k]


def breadth(shape: Shape, piece: int, turn: float) -> tuple[float, float]:
    """Return how far a loose piece reaches to the left and the right in a turned frame."""
    c, s = np.cos(turn), np.sin(turn)
    across = shape.outlines[piece] @ np.array([c, s])
    return float(across.min()), float(across.max())


def settled(shape: Shape, bridges: list[Standing]) -> list[Standing]:
    """Return bridges moved by less than half a step onto the axis of what they stand by; those in line stay so."""
    on: dict[tuple[float, float], float] = {}
    made = []
    for bridge in bridges:
        key = bridge.turn, round(bridge.x, 6)
        if key not in on:
            on[key] = _axis(shape, bridge)
        moved = stood_at(shape, bridge, on[key]) if on[key] != bridge.x else None
        made.append(moved or bridge)
    return made


def _axis(shape: Shape, bridge: Standing) -> float:
    """The middle of the opening, or of the piece, where that is within half a step; else where the bridge is."""
    reach = 0.51 * bridge.width / STEPS
    c, s = np.cos(bridge.turn), np.sin(bridge.turn)
    across = shape.points[0][1] @ np.array([c, s])
    spans = [(float(across.min()), float(across.max()))]
    spans += [breadth(shape, piece, bridge.turn) for piece in bridge.pieces]
    middles = [(low + high) / 2 for low, high in spans]
    return next((middle for middle in middles if abs(middle - bridge.x) <= reach), bridge.x)


def flush(shape: Shape, bridges: list[Standing]) -> list[Standing]:
    """Return bridges, of those that stand upright each moved to a straight upright edge of what it holds, if it can."""
    return [next(_at_edges(shape, bridge), bridge) if not bridge.turn else bridge for bridge in bridges]


def _at_edges(shape: Shape, bridge: Standing) -> Iterator[Standing]:
    """Yield the bridge in line with an edge to the left, and to the right, that is upright over most of a piece."""
    for piece in bridge.pieces:
        outline = shape.outlines[piece]
        left, right = breadth(shape, piece, 0.0)
        tall = float(np.ptp(outline[:, 1]))
        for edge, inward in ((left, 1), (right, -1)):
            on = (np.abs(outline - (edge, 0.0))[:, 0] < _UPRIGHT_MM).astype(float)
            upright = float((np.abs(np.diff(outline[:, 1])) * on[:-1] * on[1:]).sum())
            if upright > _MOST_OF * tall and (moved := stood_at(shape, bridge, edge + inward * bridge.width / 2)):
                yield moved

"""The bend lines of a part, each whole: pieces of one line that meet end to end are one bend."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from parts.geometry import Line, Point, cross
from parts.geometry.search import near_pairs
from parts.profile import Bend, Profile
from parts.tolerance import PARALLEL_RAD, SAME_END_MM, SAME_POINT_MM


def bend_lines(profile: Profile) -> tuple[Bend, ...]:
    """Return the bends of a profile in the order of its marks, without those of no length."""
    pieces = [m for m in profile.marks if isinstance(m, Bend) and m.line.length > SAME_POINT_MM]
    return tuple(_whole([pieces[i] for i in chain]) for chain in _chains(pieces))


def name(bends: Sequence[Bend], index: int) -> str:
    """Return what a bend line is called."""
    return "the bend line" if len(bends) == 1 else f"bend line {index + 1}"


def _whole(pieces: Sequence[Bend]) -> Bend:
    """One bend from end to end of its pieces."""
    first = pieces[0]
    if len(pieces) == 1:
        return first
    ends = [end for piece in pieces for end in (piece.line.start, piece.line.end)]
    along = sorted(ends, key=first.line.fraction_of)
    return replace(first, line=Line(along[0], along[-1]))


def _chains(pieces: Sequence[Bend]) -> Iterator[list[int]]:
    """Yield the indices of the pieces of each bend."""
    beside: list[list[int]] = [[] for _ in pieces]
    ends = [(*end, *end) for piece in pieces for end in (piece.line.start, piece.line.end)]
    for i, j in near_pairs(ends, SAME_END_MM):
        a, b = i // 2, j // 2
        if a != b and _in_line(pieces[a], pieces[b]):
            beside[a].append(b)
            beside[b].append(a)
    seen: set[int] = set()
    for first in range(len(pieces)):
        if first in seen:
            continue
        chain, ahead = [], [first]
        seen.add(first)
        while ahead:
            chain.append(ahead.pop())
            fresh = [i for i in beside[chain[-1]] if i not in seen]
            seen.update(fresh)
            ahead += fresh
        yield sorted(chain)


def _in_line(a: Bend, b: Bend) -> bool:
    """Whether two pieces that meet run along one line and are bent alike."""
    sine = abs(cross(*a.line.heading, *b.line.heading))
    return (a.radius, a.angle, a.up, a.k) == (b.radius, b.angle, b.up, b.k) and (
        sine <= PARALLEL_RAD or max(_off(a.line, end) for end in (b.line.start, b.line.end)) <= SAME_POINT_MM
    )


def _off(line: Line, p: Point) -> float:
    """How far a point is from a whole line."""
    (x, y), (ux, uy) = line.start, line.heading
    return abs(cross(ux, uy, p[0] - x, p[1] - y))

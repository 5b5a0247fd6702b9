"""Off metal: what is scribed, bent or centre-punched lies on the part.

A *stretch* is a piece of a mark between the places where it meets loops. Past the edge it would be scribed into the
sheet, or into the next part; wholly in an opening, into what drops out. A scribe line or a bend line may run across an
opening from metal to metal. A centre to drill whose diameter is known is `drilled-room`'s to judge.

Rule    no stretch of a mark past the edge is longer than the kerf, which the cut takes; no mark is all in an opening
Number  `kerf` in `parts/data/processes.toml`, each with its source
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal, NamedTuple, TypeAlias

from parts.cutting import Job
from parts.finding import Finding
from parts.geometry import Point, Segment, distance, meeting_points
from parts.geometry.search import pairs_between
from parts.profile import Bend, Drill, Profile, Scribe
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM, TOUCH_MM

RULE = "off-metal"
NUMBERS = ("kerf",)

Where: TypeAlias = Literal["metal", "opening", "outside"]
Fault: TypeAlias = Literal["outside", "in an opening", "over the edge"]


class Piece(NamedTuple):
    """A piece of a segment, between two fractions of it."""

    segment: Segment
    start: float
    end: float

    @property
    def length(self) -> float:
        """Length in mm."""
        return (self.end - self.start) * self.segment.length


@dataclass(frozen=True, slots=True)
class Stretch:
    """Pieces of a mark end to end: where they lie, and in which loop of the boundary."""

    pieces: tuple[Piece, ...]
    where: Where
    loop: int = -1

    @property
    def length(self) -> float:
        """Length in mm."""
        return sum(piece.length for piece in self.pieces)

    @property
    def middle(self) -> Point:
        """The place half way along."""
        along = self.length / 2
        for piece in self.pieces:
            if along <= piece.length:
                break
            along -= piece.length
        return piece.segment.at(piece.start + min(along / piece.segment.length, piece.end - piece.start))


@dataclass(frozen=True, slots=True)
class OffMetal:
    """A mark that isn't on the part: how much of it (None of a point), where, and in which opening it lies."""

    length: float | None
    at: Point
    loop: int


def check(profile: Profile, job: Job) -> Iterator[Finding]:
    """Yield a finding for the marks of each kind that lie outside, in an opening, or run over the edge."""
    found: dict[tuple[str, Fault, int], list[OffMetal]] = defaultdict(list)
    if not profile.outside or not profile.marks:
        return
    lines = [mark for mark in profile.marks if isinstance(mark, Scribe | Bend)]
    for mark, stretches in zip(lines, _stretches(profile, [_path(mark) for mark in lines]), strict=True):
        if fault := _fault(stretches, job.cut.kerf_mm):
            kind, off = fault
            found[f"{mark.kind} line", kind, off.loop].append(off)
    for centre in (mark for mark in profile.marks if isinstance(mark, Drill) and mark.diameter <= SAME_POINT_MM):
        where, loop = _where(profile, centre.at)
        if where != "metal":
            side: Fault = "outside" if where == "outside" else "in an opening"
            found["centre to drill", side, loop].append(OffMetal(None, centre.at, loop))
    for (noun, kind, loop), marks_off in found.items():
        yield _finding(profile, job, (noun, kind, loop), marks_off)


def _path(mark: Scribe | Bend) -> tuple[Segment, ...]:
    return mark.path if isinstance(mark, Scribe) else (mark.line,)


def _fault(stretches: Sequence[Stretch], kerf: float) -> tuple[Fault, OffMetal] | None:
    """What is wrong with a mark, if anything."""
    past = [stretch for stretch in stretches if stretch.where == "outside"]
    longest = max(past, key=lambda stretch: stretch.length, default=None)
    on_metal = any(stretch.where == "metal" for stretch in stretches)
    if longest and not on_metal:
        return "outside", OffMetal(sum(s.length for s in past), longest.middle, -1)
    if longest and longest.length > kerf + LIMIT_SLACK_MM:
        return "over the edge", OffMetal(longest.length, longest.middle, -1)
    if stretches and not on_metal:
        longest = max(stretches, key=lambda stretch: stretch.length)
        return "in an opening", OffMetal(sum(s.length for s in stretches), longest.middle, longest.loop)
    return None


def _stretches(profile: Profile, paths: Sequence[Sequence[Segment]]) -> Iterator[list[Stretch]]:
    """Yield the stretches of each path; a segment that meets no loop is where the one before it ends."""
    walls = [segment for loop in profile.boundary for segment in loop.segments]
    segments = [segment for path in paths for segment in path]
    near: dict[int, list[Segment]] = defaultdict(list)
    for i, k in pairs_between([s.box for s in segments], [w.box for w in walls], SAME_POINT_MM):
        near[i].append(walls[k])
    number = 0
    for path in paths:
        made: list[Stretch] = []
        for segment in path:
            goes_on = bool(made) and distance(_end(made[-1]), segment.start) <= SAME_POINT_MM
            if goes_on and not near[number]:
                _join(made, replace(made[-1], pieces=(Piece(segment, 0.0, 1.0),)))
            else:
                for stretch in _cut(profile, segment, near[number]):
                    _join(made, stretch)
            number += 1
        if len(made) > 1 and _goes_on(made[-1], made[0]):
            made[0] = replace(made[0], pieces=(*made.pop().pieces, *made[0].pieces))
        yield made


def _end(stretch: Stretch) -> Point:
    piece = stretch.pieces[-1]
    return piece.segment.end if piece.end == 1 else piece.segment.at(piece.end)


def _goes_on(a: Stretch, b: Stretch) -> bool:
    first = b.pieces[0]
    start = first.segment.at(first.start)
    return (a.where, a.loop) == (b.where, b.loop) and distance(_end(a), start) <= TOUCH_MM


def _join(made: list[Stretch], stretch: Stretch) -> None:
    """Add a stretch, to the last where it goes on."""
    if made and _goes_on(made[-1], stretch):
        made[-1] = replace(stretch, pieces=(*made[-1].pieces, *stretch.pieces))
    else:
        made.append(stretch)


def _cut(profile: Profile, segment: Segment, walls: Sequence[Segment]) -> Iterator[Stretch]:
    """The stretches of one segment."""
    met = {segment.fraction_of(p) for wall in walls for p in meeting_points(segment, wall)}
    stops = [0.0, *sorted(at for at in met if 0 < at < 1), 1.0]
    for start, end in pairwise(stops):
        piece = Piece(segment, start, end)
        if piece.length <= TOUCH_MM:
            continue
        middle = segment.at((start + end) / 2)
        if any(distance(wall.nearest(middle), middle) <= TOUCH_MM for wall in walls):
            yield Stretch((piece,), "metal")  # along an edge
        else:
            yield Stretch((piece,), *_where(profile, middle))


def _where(profile: Profile, p: Point) -> tuple[Where, int]:
    """Where a place lies: loops around it, an even number of which is off the metal, and the smallest of them."""
    around = [i for i, loop in enumerate(profile.boundary) if loop.contains(p)]
    if not around:
        return "outside", -1
    smallest = min(around, key=lambda i: profile.boundary[i].area)
    return ("metal" if len(around) % 2 else "opening"), smallest


def _finding(profile: Profile, job: Job, what: tuple[str, Fault, int], found: Sequence[OffMetal]) -> Finding:
    noun, fault, loop = what
    worst, one = max(found, key=lambda off: off.length or 0.0), len(found) == 1
    subject, it = (f"A {noun}", "it") if one else (f"{len(found)} {_many(noun)}", "them")
    remedy = f"Move {it} onto the part, or leave {it} out."
    if fault == "outside":
        message = f"{subject} {'lies' if one else 'lie'} outside the part."
    elif fault == "in an opening":
        message = f"{subject} {'lies' if one else 'lie'} in {profile.name(loop)}, on what drops out."
    else:
        far = job.say(round(worst.length or 0.0, 2))
        message = f"{subject} {'runs' if one else 'run up to'} {far} over the edge of the part."
        remedy = f"Trim {it} at the edge."
    limit = job.cut.kerf_mm if fault == "over the edge" else None
    also = tuple(off.at for off in found if off is not worst)
    return Finding(RULE, "warn", worst.at, worst.length, limit, message, remedy, also=also)


def _many(noun: str) -> str:
    return f"{noun}s" if noun.endswith("line") else "centres to drill"

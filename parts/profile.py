"""A profile: the loops of one part and the marks on it.

loop      a closed chain of straight and circular segments (`parts.geometry.loop`)
outside   a loop with the part inside it
opening   an inside loop, with the part around it: hole, slot, window
mark      what the machine draws but doesn't cut through: scribe line, bend line, drill centre
dimension where one of the template's parameters can be measured on the part
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar, Literal, TypeAlias, get_args

from parts.errors import DeclarationError
from parts.geometry import Box, Line, Loop, Motion, Point, Segment, distance, lazy, translation
from parts.geometry.narrow import Narrow, Neck, narrow
from parts.tolerance import LIMIT_SLACK_MM

DimensionStyle: TypeAlias = Literal["below", "above", "left", "right", "along", "radius", "diameter"]
_STYLES = get_args(DimensionStyle)


@dataclass(frozen=True, slots=True)
class HoleWork:
    """What becomes of a hole after it is cut: its kind, the size of `bolt` as it is called, the diameter it ends with.

    `made` is in mm: of a thread its nominal diameter, of a head let in that head's. `depth` is the head's, 0 for what
    goes through; `angle` is a countersink's in degrees, `thread` as it is called, `pitch` in mm. `is_far` is whether
    it is worked from the side that isn't drawn, `is_marked` whether the hole is drilled since it can't be cut.
    """

    kind: str
    bolt: str
    made: float
    depth: float = 0.0
    angle: float = 0.0
    thread: str = ""
    pitch: float = 0.0
    is_far: bool = False
    is_marked: bool = False


@dataclass(frozen=True)
class Opening:
    """An inside loop, what the shop calls it, and the parameter that sets it.

    `bolt` is the nominal diameter in mm of the bolt that goes through it, 0 where none is declared; `work` is what is
    done to it after it is cut.
    """

    loop: Loop
    name: str = "opening"
    parameter: str = ""
    bolt: float = 0.0
    work: HoleWork | None = None

    def around(self, loop: Loop) -> "Opening":
        """Return the same opening with another loop."""
        return self if loop is self.loop else Opening(loop, self.name, self.parameter, self.bolt, self.work)


@dataclass(frozen=True)
class Scribe:
    """A line scratched or engraved on the face: an open or closed path; or a stroke of `lettering`."""

    kind: ClassVar[str] = "scribe"
    path: tuple[Segment, ...]
    lettering: bool = False


@dataclass(frozen=True)
class Bend:
    """A bend line on the flat: the middle of the bend.

    `angle` is what the sheet is turned through there in radians, `up` or away from the face drawn, to the
    inside `radius` mm, with the neutral line `k` thicknesses from the inside; an angle of 0 says that the
    drawing doesn't tell, and so does a `k` of 0.
    """

    kind: ClassVar[str] = "bend"
    line: Line
    angle: float = 0.0
    radius: float = 0.0
    up: bool = True
    k: float = 0.0


@dataclass(frozen=True)
class Drill:
    """A centre to drill to `diameter` mm after cutting; name, parameter, bolt and work as of an opening."""

    kind: ClassVar[str] = "drill"
    at: Point
    diameter: float
    name: str = "drilled hole"
    parameter: str = ""
    bolt: float = 0.0
    work: HoleWork | None = None


@dataclass(frozen=True, slots=True)
class Tie:
    """A bridge that can be moved, by its name: its ends, how far it stands off, and the way to move it by one share.

    `offset` is in shares of what it holds; `share` is a vector in mm.
    """

    key: str
    start: Point
    end: Point
    offset: float
    share: Point


Mark: TypeAlias = Scribe | Bend | Drill


@dataclass(frozen=True, slots=True)
class Dimension:
    """Where the value of `parameter` can be measured, and how the drawing shows it.

    below, above: the horizontal distance from start to end; left, right: the vertical one;
    along: the straight distance; radius: from a centre to its arc; diameter: twice that.
    """

    parameter: str
    start: Point
    end: Point
    style: DimensionStyle

    def __post_init__(self) -> None:
        """Refuse a style that there isn't.

        Raises:
            DeclarationError: without the template's name, which whoever draws it knows.
        """
        if self.style not in _STYLES:
            message = f"has the style {self.style!r}, which isn't one of {', '.join(_STYLES)}"
            raise DeclarationError("", f"the dimension of {self.parameter}", message)

    @property
    def measured(self) -> float:
        """The length in mm that this dimension shows."""
        if self.style in ("below", "above"):
            return abs(self.end[0] - self.start[0])
        if self.style in ("left", "right"):
            return abs(self.end[1] - self.start[1])
        return distance(self.start, self.end) * (2 if self.style == "diameter" else 1)


ON_PIECE_MM = 1.0
"""A dimension of a piece ends no further from its edge: what is drawn larger by an overcut is measured as cut."""


@dataclass(frozen=True)
class Profile:
    """The loops, marks and dimensions of one part, all in one frame of mm.

    A template that draws several pieces on purpose gives the `pieces` their names, in the order of the outside loops.
    `ties` are the bridges that someone may move.
    """

    outside: tuple[Loop, ...]
    inside: tuple[Opening, ...] = ()
    marks: tuple[Mark, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    pieces: tuple[str, ...] = ()
    ties: tuple[Tie, ...] = ()

    @lazy
    def boundary(self) -> tuple[Loop, ...]:
        """Every loop with the material on its left: outside loops, then inside loops in order."""
        return (
            *(loop.running(counter_clockwise=True) for loop in self.outside),
            *(opening.loop.running(counter_clockwise=False) for opening in self.inside),
        )

    def necks(self, limit: float) -> list[Neck]:
        """Return each place where the material is narrower than `limit` mm, narrowest first."""
        return self._material.under(limit)

    @lazy
    def _material(self) -> Narrow:
        return narrow(self.boundary)

    @lazy
    def box(self) -> Box:
        """The bounding box of the outside loops; a point where there are none."""
        x0, y0, x1, y1 = zip(*([loop.box for loop in self.outside] or [(0.0, 0.0, 0.0, 0.0)]), strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    def name(self, index: int) -> str:
        """Return what a loop of `boundary` is called: `the edge`, or an opening: `hole 2 in leg A`."""
        opening = index - len(self.outside)
        if opening < 0 and self.pieces:
            return f"the edge of the {self.pieces[index]}"
        if opening < 0:
            return "the edge" if len(self.outside) == 1 else f"the edge of piece {index + 1}"
        name = self.inside[opening].name
        if len(self._alike[name]) == 1:
            return f"the {name}"
        thing, where, place = name.partition(" in ")
        return f"{thing} {self._alike[name][opening]}{where}{place}"

    @property
    def worked(self) -> tuple[Opening | Drill, ...]:
        """The openings, then the drill centres, to which something is done after cutting beside drilling through."""
        drills = (mark for mark in self.marks if isinstance(mark, Drill) and mark.work and mark.work.kind != "through")
        return (*(opening for opening in self.inside if opening.work), *drills)

    @lazy
    def _alike(self) -> dict[str, dict[int, int]]:
        """For each name the openings that bear it, numbered from 1."""
        alike: dict[str, dict[int, int]] = {}
        for index, opening in enumerate(self.inside):
            numbers = alike.setdefault(opening.name, {})
            numbers[index] = len(numbers) + 1
        return alike

    def moved(self, motion: Motion) -> "Profile":
        """Return the profile with everything on it moved.

        A dimension that no longer shows its length there, a horizontal one after a turn, is left out; one beside the
        part stands on the other side where that is where it went.
        """
        dimensions = ((old, _moved_dimension(old, motion)) for old in self.dimensions)
        return Profile(
            tuple(motion.loop(loop) for loop in self.outside),
            tuple(opening.around(motion.loop(opening.loop)) for opening in self.inside),
            tuple(_moved_mark(mark, motion) for mark in self.marks),
            tuple(new for old, new in dimensions if abs(new.measured - old.measured) <= LIMIT_SLACK_MM),
            self.pieces,
            tuple(_moved_tie(tie, motion) for tie in self.ties),
        )

    def seated(self) -> "Profile":
        """Return the profile as files carry it: lower left at the origin, material on every loop's left."""
        x, y, _, _ = self.box
        moved = self if x == 0 and y == 0 else self.moved(translation(-x, -y))
        outside, loops = moved.boundary[: len(moved.outside)], moved.boundary[len(moved.outside) :]
        inside = tuple(opening.around(loop) for opening, loop in zip(moved.inside, loops, strict=True))
        return Profile(outside, inside, moved.marks, moved.dimensions, moved.pieces, moved.ties)

    def piece(self, name: str) -> "Profile":
        """Return one of the pieces alone, seated, with the openings, marks and dimensions that lie on it.

        Raises:
            KeyError: there is no piece of that name.
        """
        return self.piece_in_place(name).seated()

    def piece_in_place(self, name: str) -> "Profile":
        """Return one of the pieces alone, where it is drawn.

        Raises:
            KeyError: there is no piece of that name.
        """
        if name not in self.pieces:
            raise KeyError(name)
        edge = self.outside[self.pieces.index(name)]

        def holds(p: Point) -> bool:
            return low <= p[0] <= high and foot <= p[1] <= top and edge.contains(p)

        low, foot, high, top = edge.box
        x0, y0, x1, y1 = (
            side + grow for side, grow in zip(edge.box, (-ON_PIECE_MM,) * 2 + (ON_PIECE_MM,) * 2, strict=True)
        )
        on_it = [d for d in self.dimensions if all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in (d.start, d.end))]
        inside = tuple(opening for opening in self.inside if holds(opening.loop.segments[0].start))
        marks = tuple(mark for mark in self.marks if holds(_place_of(mark)))
        return Profile((edge,), inside, marks, tuple(on_it), (name,))

    def drilled_below(self, diameter: float) -> "Profile":
        """Return the profile with each round hole smaller than `diameter` exchanged for a drill centre."""
        kept: list[Opening] = []
        drills: list[Mark] = []
        for opening in self.inside:
            hole = opening.loop.circle
            if hole is None or hole.diameter >= diameter - LIMIT_SLACK_MM:
                kept.append(opening)
            else:
                of = opening
                drills.append(Drill(hole.centre, hole.diameter, of.name, of.parameter, of.bolt, of.work))
        return replace(self, inside=tuple(kept), marks=(*self.marks, *drills)) if drills else self


def _place_of(mark: Mark) -> Point:
    """A point of a mark."""
    if isinstance(mark, Drill):
        return mark.at
    return mark.line.at(0.5) if isinstance(mark, Bend) else mark.path[0].start


def numbered(names: Sequence[str], index: int) -> str:
    """Return what the one at `index` is called among things of these names: `the slot`, `hole 2 in leg A`."""
    alike = [i for i, name in enumerate(names) if name == names[index]]
    if len(alike) == 1:
        return f"the {names[index]}"
    thing, where, place = names[index].partition(" in ")
    return f"{thing} {alike.index(index) + 1}{where}{place}"


def openings(loops: Iterable[Loop], name: str, parameter: str, bolt: float = 0.0) -> tuple[Opening, ...]:
    """Return the loops as openings of one name, set by one parameter, for bolts of one size if any."""
    return tuple(Opening(loop, name, parameter, bolt) for loop in loops)


_OPPOSITE: dict[DimensionStyle, DimensionStyle] = {"left": "right", "right": "left", "above": "below", "below": "above"}


def _moved_dimension(old: Dimension, motion: Motion) -> Dimension:
    """The dimension with its ends moved; on the other side after a half turn, or in a mirror across its side."""
    level = 0 if old.style in ("left", "right") else 1
    unit = (1.0, 0.0) if level == 0 else (0.0, 1.0)
    turned = motion.point(unit)[level] < motion.point((0.0, 0.0))[level]
    style = _OPPOSITE.get(old.style, old.style) if turned else old.style
    return Dimension(old.parameter, motion.point(old.start), motion.point(old.end), style)


def _moved_tie(tie: Tie, motion: Motion) -> Tie:
    (x0, y0), (x1, y1) = motion.point((0.0, 0.0)), motion.point(tie.share)
    return replace(tie, start=motion.point(tie.start), end=motion.point(tie.end), share=(x1 - x0, y1 - y0))


def _moved_mark(mark: Mark, motion: Motion) -> Mark:
    if isinstance(mark, Drill):
        return replace(mark, at=motion.point(mark.at))
    if isinstance(mark, Bend):
        return replace(mark, line=Line(motion.point(mark.line.start), motion.point(mark.line.end)))
    return replace(mark, path=tuple(motion.segment(segment) for segment in mark.path))

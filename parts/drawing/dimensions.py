"""Dimensions: which are shown of a part, what they say, and in which order they find their places.

Besides the template's own, the width and height over all are always shown, of a disc its diameter, and every round
hole or drill centre whose size no dimension gives is called out once a size: `4 x Ø11`; of very many sizes, as
someone's own drawing may have, those of the most holes. A size over all that bending changes is called flat, and a
template's own that is the bent part's is called formed.
"""

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from itertools import chain
from typing import TypeAlias

from parts.cached import cached_property
from parts.drawing import lanes, leaders, levels, slanting
from parts.drawing.frame import Frame, Subject
from parts.drawing.kept import Way
from parts.drawing.lanes import BoxSide, Measure
from parts.drawing.primitives import Group, Path
from parts.drawing.room import Occupancy
from parts.drawing.told import Round, Told
from parts.fasteners import said_of_hole
from parts.geometry import Arc, Box, Circle, Line, Point, circle, distance, meeting_points
from parts.profile import ON_PIECE_MM, Bend, Dimension, DimensionStyle, Drill, Profile, Scribe
from parts.record import Record
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD, SAME_POINT_MM
from parts.units import dimension_text

TIMES = " \u00d7 "

MOST_CALL_OUTS = 12
"""Sizes of holes that are called out; more are no help on a drawing, and each wants a free place."""

TRIES = 4
"""How often what stands in no lane is placed anew, for leaders that don't cross."""

Stacks: TypeAlias = dict[DimensionStyle, lanes.Stack]
"""The lanes of each side."""

SIDES: tuple[DimensionStyle, ...] = ("below", "left", "right", "above")


class Dimensions:
    """The dimensions of a part, as far as they don't hang on the scale; `letters` is whether they carry theirs.

    `before` are the ways that those in no lane took in a former drawing, if there was one.
    """

    def __init__(self, subject: Subject, letters: bool, before: Sequence[Way] = ()) -> None:
        self.subject, self.profile = subject, subject.profile
        self._record, self._letters, self._before = subject.record, letters, before

    def placed(self, frame: Frame, room: Occupancy) -> Iterator[Group]:
        """Yield every dimension as a group, having taken its room; those of the template come before call-outs."""
        yield from self.chosen(frame, room, self.every, {})

    @cached_property
    def every(self) -> tuple[Told, ...]:
        """All of them, in the order in which they find their places."""
        return (*(each for _, told in self._stacked for each in told), *self._alone_ones)

    def first(self, most: int) -> tuple[Told, ...]:
        """Return those of the first level, `most` of them at most."""
        indices = levels.first(self._record, self.every, most)
        return tuple(each for index, each in enumerate(self.every) if index in indices)

    def chosen(self, frame: Frame, room: Occupancy, told: Collection[Told], stacks: Stacks) -> Iterator[Group]:
        """Yield some of them as groups, having taken their room; `stacks` is given the lanes of each side."""
        ids = {id(each) for each in told}
        for style, stacked in self._stacked:
            measures = [_measure(frame, each) for each in stacked if id(each) in ids]
            stacks[style] = lanes.stack(BoxSide(style, frame.box), measures, frame, room)
            yield from stacks[style].groups()
        yield from self._apart(frame, room, [each for each in self._alone_ones if id(each) in ids])

    def _apart(self, frame: Frame, room: Occupancy, told: list[Told]) -> Iterator[Group]:
        """Yield what stands in no lane; where leaders may not cross, one that would is placed first and all anew."""
        if not room.apart:
            yield from (self._alone(frame, room, each) for each in told)
            return
        order, best, groups = list(told), room, []
        before = dict(zip(map(id, told), self._before, strict=True)) if len(told) == len(self._before) else {}
        for _ in range(TRIES):
            trial, each_of, tangled = room.branch(), {}, None
            for each in order:
                tangles, way = trial.tangles, before.get(id(each))
                each_of[id(each)] = placed = self._alone(frame, trial, each, way)
                tangled = each if trial.tangles > tangles and not (way and placed.way is way) else tangled
            if best is room or trial.tangles < best.tangles:
                best, groups = trial, [each_of[id(each)] for each in told]
            if not tangled:
                break
            order = [tangled, *(each for each in order if each is not tangled)]
        room.become(best)
        yield from groups

    def spare(
        self, frame: Frame, room: Occupancy, told: Collection[Told], stacks: Stacks, within: Box
    ) -> Iterator[Group]:
        """Yield the others than those chosen, each beside those as if it were the only one besides, within a box."""
        ids = {id(each) for each in told}
        for style, stacked in self._stacked:
            for each in stacked:
                if id(each) not in ids:
                    yield from lanes.beside(stacks[style], [_measure(frame, each)], room.branch(within))
        for each in self._alone_ones:
            if id(each) not in ids:
                yield self._alone(frame, room.branch(within), each)

    @cached_property
    def _alone_ones(self) -> list[Told]:
        """Those that stand in no lane."""
        return [*(each for each in self._told if each.shown.style not in SIDES), *self._call_outs]

    def _alone(self, frame: Frame, room: Occupancy, each: Told, before: Way | None = None) -> Group:
        if any(each is called for called in self._call_outs):
            at = [ring for _, ring in each.alike[:4]]
            sights = chain.from_iterable(
                _drill_sights(frame, c) if each.drilled else leaders.diameter(frame, c.centre, c.diameter) for c in at
            )
            return leaders.place(frame, room, tuple(sights), each.text, before).group(each.shown.parameter, frame)
        placed = self._aligned if each.shown.style == "along" else self._led
        return placed(frame, room, each, before)

    @cached_property
    def _shown(self) -> list[Dimension]:
        shown = [d for d in self.profile.dimensions if d.measured > SAME_POINT_MM]
        return shown + ([] if self._record.own_dimensions_only else list(_of_disc(self.profile, shown)))

    @cached_property
    def _told(self) -> list[Told]:
        return [self._tell(dimension) for dimension in self._shown]

    def _tell(self, dimension: Dimension) -> Told:
        alike = _alike(self.profile, dimension)
        return Told(dimension, _said(self._record, dimension, self._letters, alike), tuple(alike))

    @cached_property
    def _stacked(self) -> list[tuple[DimensionStyle, list[Told]]]:
        """The horizontal and vertical dimensions of each side; those over all come in where none is as long."""
        told = self._told
        if not self._record.own_dimensions_only:
            told = [*told, *map(self._tell, _over_all(self._record, self._shown))]
        return [(style, [each for each in told if each.shown.style == style]) for style in SIDES]

    @cached_property
    def _call_outs(self) -> list[Told]:
        """The call-outs of round holes whose size no dimension gives, each as the diameter of its first hole."""
        if self._record.own_dimensions_only:
            return []
        called = []
        sizes = sorted(_unshown(self.profile, self._told).values(), key=lambda alike: -len(alike))
        for alike in sizes[:MOST_CALL_OUTS]:
            hole, (centre, diameter) = alike[0]
            drilled = _drilled(alike)
            parameter = "" if isinstance(hole, Drill) else hole.parameter
            shown = Dimension("" if drilled else parameter, centre, (centre[0] + diameter / 2, centre[1]), "diameter")
            size = f"Ø{dimension_text(self._record.number(diameter), self._record.job.units)}{drilled}"
            text = f"{_counted(alike)}{said_of_hole(hole, size, self._record.lettered)}"
            called.append(Told(shown, text, tuple(alike)))
        return called

    def _aligned(self, frame: Frame, room: Occupancy, told: Told, before: Way | None) -> Group:
        """An aligned dimension, its lettering beside the middle where others cross it there, as two diagonals do."""
        start, end = told.shown.start, told.shown.end
        measure = Measure(told.shown.parameter, told.text, frame.point(start), frame.point(end))
        return slanting.place(frame, room, measure, before, crossed=id(told.shown) in self._crossed)

    @cached_property
    def _crossed(self) -> set[int]:
        """The ids of the aligned dimensions that another one crosses."""
        lines = [(d, Line(d.start, d.end)) for d in self.profile.dimensions if d.style == "along"]
        return {
            id(dimension)
            for dimension, line in lines
            if dimension.measured > SAME_POINT_MM
            for another, other in lines
            if another is not dimension
            for at in meeting_points(line, other)
            if all(distance(at, end) > SAME_POINT_MM for each in (line, other) for end in (each.start, each.end))
        }

    def _led(self, frame: Frame, room: Occupancy, told: Told, before: Way | None) -> Group:
        """A radius or a diameter."""
        shown = told.shown
        start, end = shown.start, shown.end
        arcs, imagined = self._arcs_of[id(shown)]
        drawn = tuple(_on_paper(frame, path) for path in imagined)
        if shown.style == "radius":
            sights = leaders.radius(frame, start, end, arcs)
        elif told.drilled:
            sights = _drill_sights(frame, told.drilled)
        elif not imagined:
            sights = leaders.diameter_of_arcs(frame, start, shown.measured, arcs)
        else:
            every = leaders.diameter(frame, start, shown.measured)
            # not in a hole on it, whose own size it would seem to give
            sights = tuple(sight for sight in every if frame.solid(sight.tip)) or every
        room.draw((segment for path in drawn for segment in path.segments), 1.0)
        group = leaders.place(frame, room, sights, told.text, before).group(shown.parameter, frame)
        return replace(group, items=(*drawn, *group.items))

    @cached_property
    def _arcs_of(self) -> dict[int, tuple[tuple[Arc, ...], tuple[Path, ...]]]:
        """For the id of each radius and diameter the arcs of the part that have it, and what is imagined for it."""
        found = {}
        for told in self._told:
            if told.shown.style in ("radius", "diameter"):
                arcs = tuple(leaders.arcs_about(self.profile, told.shown))
                imagined = () if told.drilled or arcs else tuple(_imagined(self.profile, told.shown))
                found[id(told.shown)] = arcs, imagined
        return found


def _measure(frame: Frame, told: Told) -> Measure:
    """A dimension of a side, as its lanes see it."""
    return Measure(told.shown.parameter, told.text, frame.point(told.shown.start), frame.point(told.shown.end))


def said(record: Record, dimension: Dimension, letters: bool) -> str:
    """Return what a dimension's lettering says: its letter, a sign for round things, its value."""
    return _said(record, dimension, letters, _alike(record.profile, dimension))


def _said(record: Record, dimension: Dimension, letters: bool, alike: Sequence[Round]) -> str:
    letter = record.template.letters.get(dimension.parameter, "") if letters else ""
    sign = {"radius": "R", "diameter": "Ø"}.get(dimension.style, "")
    alike = () if record.own_dimensions_only else alike
    value = dimension_text(record.number(dimension.measured), record.job.units)
    flat, formed = (of(record.profile, dimension) for of in (_is_of_flat, _is_formed))
    state = " flat" if flat else " formed" if formed else ""
    size = f"{sign}{value}{_drilled(alike)}"
    told = said_of_hole(alike[0][0], size, record.lettered) if alike else size
    return f"{letter} {_counted(alike)}{told}{state}".strip()


def _is_of_flat(profile: Profile, dimension: Dimension) -> bool:
    """Whether it is a size over all that bending changes: those of the template's own are of the bent part."""
    if dimension.parameter or dimension.style not in SIDES:
        return False
    across = 1 if dimension.style in ("below", "above") else 0
    return any(isinstance(mark, Bend) and abs(mark.line.heading[across]) > PARALLEL_RAD for mark in profile.marks)


def _is_formed(profile: Profile, dimension: Dimension) -> bool:
    """Whether it is a size of the bent part: it runs past a bend line, and not from edge to edge of the flat."""
    if not dimension.parameter or dimension.style not in SIDES:
        return False
    axis = 0 if dimension.style in ("below", "above") else 1
    low, high = sorted((dimension.start[axis], dimension.end[axis]))
    box = _box_measured(profile, dimension)
    if box is None or (abs(box[axis] - low) <= SAME_POINT_MM and abs(box[axis + 2] - high) <= SAME_POINT_MM):
        return False
    bends = (mark.line for mark in profile.marks if isinstance(mark, Bend) and _in_box(mark.line.at(0.5), box))
    return any(
        abs(line.heading[axis]) <= PARALLEL_RAD and low + SAME_POINT_MM < line.start[axis] < high - SAME_POINT_MM
        for line in bends
    )


def _box_measured(profile: Profile, dimension: Dimension) -> Box | None:
    """The box of what a dimension measures: of the flat, or of that piece of several which both its ends lie on."""
    if len(profile.outside) == 1:
        return profile.box
    ends = dimension.start, dimension.end
    boxes = (loop.box for loop in profile.outside)
    return next((box for box in boxes if all(_in_box(end, box, ON_PIECE_MM) for end in ends)), None)


def _in_box(point: Point, box: Box, slack: float = 0.0) -> bool:
    return box[0] - slack <= point[0] <= box[2] + slack and box[1] - slack <= point[1] <= box[3] + slack


def _counted(alike: Sequence[Round]) -> str:
    return f"{len(alike)}{TIMES}" if len(alike) > 1 else ""


def _drilled(alike: Sequence[Round]) -> str:
    return " drill" if any(isinstance(hole, Drill) for hole, _ in alike) else ""


def _rounds(profile: Profile) -> Iterator[Round]:
    for opening in profile.inside:
        if hole := opening.loop.circle:
            yield opening, hole
    for mark in profile.marks:
        if isinstance(mark, Drill):
            yield mark, Circle(mark.at, mark.diameter)


def _alike(profile: Profile, dimension: Dimension) -> list[Round]:
    """The rounds that a diameter is shown for: the one it is drawn at, and its like."""
    if dimension.style != "diameter":
        return []
    same = [one for one in _rounds(profile) if abs(one[1].diameter - dimension.measured) <= LIMIT_SLACK_MM]
    shown = {(type(it), it.parameter) for it, ring in same if distance(ring.centre, dimension.start) <= SAME_POINT_MM}
    return [one for one in same if (type(one[0]), one[0].parameter) in shown]


def _over_all(record: Record, shown: list[Dimension]) -> Iterator[Dimension]:
    x0, y0, x1, y1 = record.part_box
    if len(record.profile.outside) == 1 and record.profile.outside[0].circle:
        return
    for whole, other in (
        (Dimension("", (x0, y0), (x1, y0), "below"), "above"),
        (Dimension("", (x0, y0), (x0, y1), "left"), "right"),
    ):
        same = [d for d in shown if d.style in (whole.style, other, "diameter")]
        if not any(abs(d.measured - whole.measured) <= SAME_POINT_MM for d in same):
            yield whole


def _of_disc(profile: Profile, shown: list[Dimension]) -> Iterator[Dimension]:
    """The diameter of a part that is a disc, where none is as long."""
    disc = profile.outside[0].circle if len(profile.outside) == 1 else None
    if disc and not any(d.style == "diameter" and abs(d.measured - disc.diameter) <= SAME_POINT_MM for d in shown):
        (x, y), r = disc.centre, disc.diameter / 2
        yield Dimension("", (x, y), (x + r, y), "diameter")


def _imagined(profile: Profile, dimension: Dimension) -> Iterator[Path]:
    """The circle of a diameter, or a piece of that of a radius, that nothing is scribed along, in mm of the part.

    Hole centres lie on it, or a tube that the part goes with has it.
    """
    centre, r = dimension.start, distance(dimension.start, dimension.end)
    scribed = (segment for mark in profile.marks if isinstance(mark, Scribe) for segment in mark.path)
    if any(leaders.is_about(segment, centre, r) for segment in scribed):
        return
    if dimension.style == "diameter":
        yield Path("centre", circle(centre, dimension.measured).segments, closed=True)
    else:
        (x, y), (ux, uy) = centre, ((b - a) * math.sqrt(0.5) for a, b in zip(centre, dimension.end, strict=True))
        quarter = Arc((x + ux + uy, y + uy - ux), (x + ux - uy, y + uy + ux), math.tan(math.pi / 8))
        yield Path("centre", (quarter,))


def _on_paper(frame: Frame, path: Path) -> Path:
    return replace(path, segments=frame.segments(path.segments))


def _drill_sights(frame: Frame, hole: Circle) -> tuple[leaders.SightLine, ...]:
    """To the centre that is marked; where the hole will be, nothing is to be seen yet."""
    return leaders.diameter(frame, hole.centre, min(hole.diameter, 0.6 * frame.sizes.text / frame.scale))


def _unshown(profile: Profile, told: Sequence[Told]) -> dict[object, list[Round]]:
    """The rounds that no dimension shows, those that are alike together; of drill centres, those of one size."""
    given = {id(hole) for each in told for hole, _ in each.alike}
    by_radius = [each.shown.start for each in told if each.shown.style == "radius"]
    found: dict[object, list[Round]] = {}
    for hole, ring in _rounds(profile):
        drilled = isinstance(hole, Drill)
        if id(hole) in given or any(distance(at, ring.centre) <= SAME_POINT_MM for at in by_radius):
            continue
        key = round(ring.diameter, 6), "" if drilled else hole.parameter, drilled, hole.work
        found.setdefault(key, []).append((hole, ring))
    return found

"""Dimensions: which are shown of a part, what they say, and in which order they find their places.

Besides the template's own, the width and height over all are always shown, of a disc its diameter, and every round
hole or drill centre whose size no dimension gives is called out once a size: `4 x Ø11`; of very many sizes, as
someone's own drawing may have, those of the most holes.

round   a round hole, or a drill centre, which is to be one
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import TypeAlias

from parts.drawing import lanes, leaders, slanting
from parts.drawing.frame import Frame
from parts.drawing.lanes import Measure, Side
from parts.drawing.primitives import Group, Path
from parts.drawing.room import Room
from parts.geometry import Arc, Circle, Line, circle, distance, meeting_points
from parts.profile import Dimension, DimensionStyle, Drill, Opening, Profile, Scribe
from parts.record import Record
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM
from parts.units import dimension_text

Round: TypeAlias = tuple[Opening | Drill, Circle]

TIMES = " \u00d7 "

MOST_CALL_OUTS = 12
"""Sizes of holes that are called out; more are no help on a drawing, and each wants a free place."""

SIDES: tuple[DimensionStyle, ...] = ("below", "left", "right", "above")


def place(record: Record, frame: Frame, room: Room, letters: bool) -> tuple[Group, ...]:
    """Return every dimension as a group, having taken their room; those of the template come first."""
    shown = [d for d in record.profile.dimensions if d.measured > SAME_POINT_MM]
    shown += [] if record.own_dimensions_only else _of_disc(record.profile, shown)
    groups = list(_stacked(record, frame, room, letters, shown))
    for dimension in shown:
        if dimension.style in SIDES:
            continue
        if dimension.style == "along":
            groups.append(_slanting(record, frame, room, dimension, letters))
        else:
            groups.append(_led(record, frame, room, dimension, said(record, dimension, letters)))
    return (*groups, *(() if record.own_dimensions_only else _call_outs(record, frame, room, shown)))


def said(record: Record, dimension: Dimension, letters: bool) -> str:
    """Return what a dimension's lettering says: its letter, a sign for round things, its value."""
    letter = record.template.letters.get(dimension.parameter, "") if letters else ""
    sign = {"radius": "R", "diameter": "Ø"}.get(dimension.style, "")
    alike = [] if record.own_dimensions_only else _alike(record.profile, dimension)
    value = dimension_text(dimension.measured, record.units)
    return f"{letter} {_counted(alike)}{sign}{value}{_drilled(alike)}".strip()


def _counted(alike: list[Round]) -> str:
    return f"{len(alike)}{TIMES}" if len(alike) > 1 else ""


def _drilled(alike: list[Round]) -> str:
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


def _stacked(record: Record, frame: Frame, room: Room, letters: bool, shown: list[Dimension]) -> Iterator[Group]:
    """The upright and level dimensions, side by side; those over all come in where none is as long."""
    if not record.own_dimensions_only:
        shown = [*shown, *_over_all(record, shown)]
    for style in SIDES:
        measures = [
            Measure(d.parameter, said(record, d, letters), frame.point(d.start), frame.point(d.end))
            for d in shown
            if d.style == style
        ]
        yield from lanes.stack(Side(style, frame.box), measures, frame, room)


def _over_all(record: Record, shown: list[Dimension]) -> Iterator[Dimension]:
    x0, y0, x1, y1 = record.box
    if len(record.profile.outside) == 1 and record.profile.outside[0].circle:
        return
    for whole, other in (
        (Dimension("", (x0, y0), (x1, y0), "below"), "above"),
        (Dimension("", (x0, y0), (x0, y1), "left"), "right"),
    ):
        same = [d for d in shown if d.style in (whole.style, other, "diameter")]
        if not any(abs(d.measured - whole.measured) <= SAME_POINT_MM for d in same):
            yield whole


def _slanting(record: Record, frame: Frame, room: Room, dimension: Dimension, letters: bool) -> Group:
    """A slanting distance, its lettering beside the middle where others cross it there, as two diagonals do."""
    line = Line(dimension.start, dimension.end)
    others = [Line(d.start, d.end) for d in record.profile.dimensions if d.style == "along" and d is not dimension]
    crossed = any(
        all(distance(at, end) > SAME_POINT_MM for each in (line, other) for end in (each.start, each.end))
        for other in others
        for at in meeting_points(line, other)
    )
    text = said(record, dimension, letters)
    measure = Measure(dimension.parameter, text, frame.point(line.start), frame.point(line.end))
    return slanting.place(frame, room, measure, crossed=crossed)


def _of_disc(profile: Profile, shown: list[Dimension]) -> Iterator[Dimension]:
    """The diameter of a part that is a disc, where none is as long."""
    disc = profile.outside[0].circle if len(profile.outside) == 1 else None
    if disc and not any(d.style == "diameter" and abs(d.measured - disc.diameter) <= SAME_POINT_MM for d in shown):
        (x, y), r = disc.centre, disc.diameter / 2
        yield Dimension("", (x, y), (x + r, y), "diameter")


def _led(record: Record, frame: Frame, room: Room, dimension: Dimension, text: str) -> Group:
    """A radius or a diameter."""
    start, end = dimension.start, dimension.end
    drilled = [circle for hole, circle in _alike(record.profile, dimension) if isinstance(hole, Drill)]
    imagined = () if drilled else tuple(_imagined(frame, dimension))
    if dimension.style == "radius":
        sights = leaders.radius(frame, start, end)
    elif drilled:
        sights = _drill_sights(frame, drilled[0])
    else:
        all_round = leaders.diameter if imagined else leaders.diameter_of_arcs
        sights = all_round(frame, start, dimension.measured)
        if imagined:  # not in a hole on it, whose own size it would seem to give
            sights = tuple(sight for sight in sights if frame.solid(sight.tip)) or sights
    room.draw((segment for path in imagined for segment in path.segments), 1.0)
    group = leaders.place(frame, room, sights, text).group(dimension.parameter, frame)
    return replace(group, items=(*imagined, *group.items))


def _imagined(frame: Frame, dimension: Dimension) -> Iterator[Path]:
    """The circle of a diameter, or a piece of that of a radius, that nothing is cut or scribed along.

    Hole centres lie on it, or a tube that the part goes with has it.
    """
    centre, r = dimension.start, distance(dimension.start, dimension.end)
    paths = [loop.segments for loop in frame.profile.boundary]
    paths += [mark.path for mark in frame.profile.marks if isinstance(mark, Scribe)]
    if any(leaders.is_about(segment, centre, r) for path in paths for segment in path):
        return
    if dimension.style == "diameter":
        segments = circle(centre, dimension.measured).segments
        yield Path("centre", tuple(frame.segment(segment) for segment in segments), closed=True)
    else:
        (x, y), (ux, uy) = centre, ((b - a) * math.sqrt(0.5) for a, b in zip(centre, dimension.end, strict=True))
        quarter = Arc((x + ux + uy, y + uy - ux), (x + ux - uy, y + uy + ux), math.tan(math.pi / 8))
        yield Path("centre", (frame.segment(quarter),))


def _drill_sights(frame: Frame, hole: Circle) -> tuple[leaders.Sight, ...]:
    """To the centre that is marked; where the hole will be, nothing is to be seen yet."""
    return leaders.diameter(frame, hole.centre, min(hole.diameter, 0.6 * frame.sizes.text / frame.scale))


def _call_outs(record: Record, frame: Frame, room: Room, shown: list[Dimension]) -> Iterator[Group]:
    sizes = sorted(_unshown(record.profile, shown).values(), key=lambda alike: -len(alike))[:MOST_CALL_OUTS]
    for alike in sizes:
        drilled = _drilled(alike)
        sights = tuple(
            chain.from_iterable(
                _drill_sights(frame, c) if drilled else leaders.diameter(frame, c.centre, c.diameter)
                for _, c in alike[:4]
            )
        )
        text = f"{_counted(alike)}Ø{dimension_text(alike[0][1].diameter, record.units)}{drilled}"
        parameter = "" if drilled else alike[0][0].parameter
        yield leaders.place(frame, room, sights, text).group(parameter, frame)


def _unshown(profile: Profile, shown: list[Dimension]) -> dict[tuple[float, str, bool], list[Round]]:
    """The rounds that no dimension shows, those that are alike together; of drill centres, those of one size."""
    given = {id(hole) for dimension in shown for hole, _ in _alike(profile, dimension)}
    by_radius = [d.start for d in shown if d.style == "radius"]
    found: dict[tuple[float, str, bool], list[Round]] = {}
    for hole, ring in _rounds(profile):
        drilled = isinstance(hole, Drill)
        if id(hole) in given or any(distance(at, ring.centre) <= SAME_POINT_MM for at in by_radius):
            continue
        key = round(ring.diameter, 6), "" if drilled else hole.parameter, drilled
        found.setdefault(key, []).append((hole, ring))
    return found

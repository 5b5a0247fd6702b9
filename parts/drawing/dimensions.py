"""Dimensions: which are shown of a part, what they say, and in which order they find their places.

Besides the template's own, the width and height over all are always shown, and every round hole or
drill centre whose size no dimension gives is called out once a size: `4 x Ø11`; of very many sizes, as someone's
own drawing may have, those of the most holes.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain

from parts.drawing import lanes, leaders, slanting
from parts.drawing.frame import Frame
from parts.drawing.lanes import Measure, Side
from parts.drawing.primitives import Group, Path
from parts.drawing.room import Room
from parts.geometry.draft import circle
from parts.geometry.loop import Circle
from parts.geometry.segment import distance
from parts.profile import Dimension, DimensionStyle, Drill, Opening, Profile
from parts.record import Record
from parts.tolerance import LIMIT_SLACK_MM, SAME_POINT_MM
from parts.units import format_length

TIMES = " \u00d7 "

MOST_CALL_OUTS = 12
"""Sizes of holes that are called out; more are no help on a drawing, and each wants a free place."""

SIDES: tuple[DimensionStyle, ...] = ("below", "left", "right", "above")


def place(record: Record, frame: Frame, room: Room, letters: bool) -> tuple[Group, ...]:
    """Return every dimension as a group, having taken their room; those of the template come first."""
    shown = [d for d in record.profile.dimensions if d.measured > SAME_POINT_MM]
    groups = list(_stacked(record, frame, room, letters, shown))
    for dimension in shown:
        if dimension.style in SIDES:
            continue
        groups.append(_led(record, frame, room, dimension, said(record, dimension, letters)))
    return (*groups, *(() if record.own_dimensions_only else _call_outs(record, frame, room, shown)))


def said(record: Record, dimension: Dimension, letters: bool) -> str:
    """Return what a dimension's lettering says: its letter, a sign for round things, its value."""
    letter = record.template.letters.get(dimension.parameter, "") if letters else ""
    sign = {"radius": "R", "diameter": "Ø"}.get(dimension.style, "")
    alike = [] if record.own_dimensions_only else _alike(record.profile, dimension)
    count = f"{len(alike)}{TIMES}" if len(alike) > 1 else ""
    drilled = " drill" if alike and all(isinstance(hole, Drill) for hole in alike) else ""
    return f"{letter} {count}{sign}{value(record, dimension.measured)}{drilled}".strip()


def _alike(profile: Profile, dimension: Dimension) -> list[Opening | Drill]:
    """The round holes and drill centres that a diameter is shown for: the one it is drawn at, and its like."""
    if dimension.style != "diameter":
        return []
    rounds: list[tuple[Opening | Drill, Circle]] = [
        (opening, hole) for opening in profile.inside if (hole := opening.loop.circle)
    ]
    rounds += [(mark, Circle(mark.at, mark.diameter)) for mark in profile.marks if isinstance(mark, Drill)]
    like = [(it, hole) for it, hole in rounds if abs(hole.diameter - dimension.measured) <= LIMIT_SLACK_MM]
    shown = {(type(it), it.parameter) for it, hole in like if distance(hole.centre, dimension.start) <= SAME_POINT_MM}
    return [it for it, _ in like if (type(it), it.parameter) in shown]


def value(record: Record, mm: float) -> str:
    """Return a length in working units as drawings write it: bare for mm, with a double prime for inches."""
    number, unit = format_length(mm, record.units).rsplit(" ", 1)
    return number if unit == "mm" else f'{number}"'


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
    for whole, other in (
        (Dimension("", (x0, y0), (x1, y0), "below"), "above"),
        (Dimension("", (x0, y0), (x0, y1), "left"), "right"),
    ):
        same = [d for d in shown if d.style in (whole.style, other)]
        same += [d for d in shown if d.style == "diameter"]  # of a disc
        if not any(abs(d.measured - whole.measured) <= SAME_POINT_MM for d in same):
            yield whole


def _led(record: Record, frame: Frame, room: Room, dimension: Dimension, text: str) -> Group:
    """A radius, a diameter or a slanting distance."""
    start, end = dimension.start, dimension.end
    if dimension.style == "along":
        return slanting.place(frame, room, Measure(dimension.parameter, text, frame.point(start), frame.point(end)))
    if dimension.style == "radius":
        sights = leaders.radius(frame, start, end)
    else:
        sights = leaders.diameter(frame, start, dimension.measured)
    group = leaders.place(frame, room, sights, text).group(dimension.parameter, frame)
    return replace(group, items=(*_pitch_circle(frame, dimension), *group.items))


def _pitch_circle(frame: Frame, dimension: Dimension) -> Iterator[Path]:
    """The circle of a diameter that nothing is cut along: the one that hole centres lie on."""
    if dimension.style != "diameter":
        return
    cut = (segment for loop in frame.profile.boundary for segment in loop.segments)
    if not any(leaders.is_about(segment, dimension.start, dimension.measured / 2) for segment in cut):
        segments = circle(dimension.start, dimension.measured).segments
        yield Path("centre", tuple(frame.segment(segment) for segment in segments), closed=True)


def _call_outs(record: Record, frame: Frame, room: Room, shown: list[Dimension]) -> Iterator[Group]:
    sizes = sorted(_round_holes(record, shown).items(), key=lambda item: -len(item[1]))[:MOST_CALL_OUTS]
    for (size, parameter, drilled), circles in sizes:
        sights = tuple(chain.from_iterable(leaders.diameter(frame, c.centre, size) for c in circles[:4]))
        count = f"{len(circles)}{TIMES}" if len(circles) > 1 else ""
        text = f"{count}Ø{value(record, size)}{' drill' if drilled else ''}"
        yield leaders.place(frame, room, sights, text).group(parameter, frame)


def _round_holes(record: Record, shown: list[Dimension]) -> dict[tuple[float, str, bool], list[Circle]]:
    """The round holes and drill centres of each size that no dimension shows."""
    given = {id(hole) for dimension in shown for hole in _alike(record.profile, dimension)}
    by_radius = [d.start for d in shown if d.style == "radius"]
    found: dict[tuple[float, str, bool], list[Circle]] = {}
    for opening in record.profile.inside:
        hole = opening.loop.circle
        if not hole or id(opening) in given:
            continue
        if not any(distance(centre, hole.centre) <= SAME_POINT_MM for centre in by_radius):
            found.setdefault((round(hole.diameter, 6), opening.parameter, False), []).append(hole)
    for mark in record.profile.marks:
        if isinstance(mark, Drill) and id(mark) not in given:
            found.setdefault((round(mark.diameter, 6), "", True), []).append(Circle(mark.at, mark.diameter))
    return found

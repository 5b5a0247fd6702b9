"""JSON: all that is known of a part, for other programs, in mm, mm², degrees, kg and s.

Segments carry more than is needed to draw them (an arc its ends, centre, radius and sweep), so a reader can
take what suits it and check the rest. Numbers have full precision, and there are none but finite ones.
"""

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from typing import TypeAlias

from parts import numbers
from parts.export.about import cut_size, facts, worked_groups
from parts.finding import Finding, FindingRow
from parts.forming import sections, stops
from parts.geometry import Line, Loop, Point, Segment
from parts.profile import Bend, Drill, Mark, Opening, Profile
from parts.record import Record
from parts.spec import Value

Json: TypeAlias = "Mapping[str, Json] | list[Json] | str | float | int | bool | None"


def write(record: Record) -> str:
    """Return the part as JSON text, one line for each of its entries."""
    return text(content(record))


def text(said: Mapping[str, Json]) -> str:
    """Return what is said as JSON text, one line for each of its entries."""
    entries = ",\n".join(
        f"{json.dumps(name)}: {json.dumps(value, allow_nan=False, ensure_ascii=False)}" for name, value in said.items()
    )
    return f"{{\n{entries}\n}}\n"


def content(record: Record) -> Mapping[str, Json]:
    """Return what the text says, as plain dictionaries, lists, numbers and words."""
    cut = record.job.cut
    return {
        **facts(record),
        "title": record.template.title,
        "parameters": values(record),
        "stock": {
            "material": cut.material,
            "title": record.material_title,
            "thickness_mm": float(cut.thickness_mm),
        },
        "process": cut.process,
        "process_numbers": [_number(number) for number in numbers.of_process(cut)],
        "units": record.units,
        "measures": asdict(record.measures),
        "loops": _loops(record.profile),
        **_holes(record),
        "marks": [_mark(mark) for mark in record.profile.marks],
        "bends": _bends(record),
        "formed": _formed(record),
        "stops": _stops(record),
        "findings": [_row(row) for row in record.rows],
        "routine": [_routine(finding) for finding in record.routine],
        "rests_on": {
            rule: [_number(number) for number in numbers.rests_on(rule, record.job)]
            for rule in dict.fromkeys(finding.rule for finding in (*record.findings, *record.routine))
        },
        "cautions": list(record.cautions),
    }


def values(record: Record) -> Mapping[str, Json]:
    """Return the values that draw the part, by their names, in mm and degrees."""
    return {name: _value(record, name) for name in record.told}


def _value(record: Record, name: str) -> Value:
    """A value as it is; a length or an angle given as a whole number is a float like any other."""
    value = record.parameters[name]
    measured = record.specs[name].kind in ("length", "angle", "number")
    return float(value) if measured else value


def _loops(profile: Profile) -> list[Json]:
    outside: list[Json] = [{"side": "outside", **_loop(loop)} for loop in profile.outside]
    return outside + [
        {"side": "inside", "name": opening.name, "parameter": opening.parameter, **_loop(opening.loop)}
        for opening in profile.inside
    ]


def _loop(loop: Loop) -> Mapping[str, Json]:
    """A loop's segments in order; `circle` where it is a full one, which is two arcs."""
    drawn = segments(loop.segments)
    if (circle := loop.circle) is None:
        return {"segments": drawn}
    return {
        "circle": {"centre": _point(circle.centre), "diameter": circle.diameter},
        "segments": drawn,
    }


def segments(chain: Iterable[Segment]) -> list[Json]:
    """Return segments in their order, as plain dictionaries."""
    return [_segment(segment) for segment in chain]


def _segment(segment: Segment) -> Json:
    """A segment; `sweep_deg` is the angle turned through, positive counter-clockwise."""
    ends: Mapping[str, Json] = {"start": _point(segment.start), "end": _point(segment.end)}
    if isinstance(segment, Line):
        return {"kind": "line", **ends}
    return {
        "kind": "arc",
        **ends,
        "centre": _point(segment.centre),
        "radius": segment.radius,
        "clockwise": segment.bulge < 0,
        "sweep_deg": math.degrees(segment.sweep),
    }


def _degrees(angle: float) -> float:
    """An angle as it was asked for: 120, and no rounding of radians beside it."""
    return round(math.degrees(angle), 9)


def _mark(mark: Mark) -> Json:
    if isinstance(mark, Drill):
        return {"kind": mark.kind, "at": _point(mark.at), "diameter": float(mark.diameter)}
    if isinstance(mark, Bend):
        ends: Mapping[str, Json] = {"start": _point(mark.line.start), "end": _point(mark.line.end)}
        bend: Mapping[str, Json] = {
            "angle_deg": _degrees(mark.angle), "radius": float(mark.radius), "up": mark.up, "k": float(mark.k),
        }  # fmt: skip
        return {"kind": mark.kind, **ends, **(bend if mark.angle else {})}
    return {"kind": mark.kind, "segments": segments(mark.path)}


def _holes(record: Record) -> Mapping[str, Json]:
    """What is done to holes after cutting, one entry for those alike; nothing where none is worked."""
    groups = worked_groups(record)
    if not groups:
        return {}
    return {"holes": [_worked(said_so, alike) for (_, said_so), alike in groups.items()]}


def _worked(said_so: str, alike: Sequence[Opening | Drill]) -> Json:
    first = alike[0]
    assert first.work is not None  # noqa: S101 - those without are left out
    work = first.work
    return {
        "kind": work.kind,
        "name": first.name,
        "count": len(alike),
        "said": said_so,
        "cut_diameter": None if isinstance(first, Drill) else float(cut_size(first)),
        "drill_diameter": float(first.diameter) if isinstance(first, Drill) else None,
        "made_diameter": float(work.made),
        "depth": float(work.depth) or None,
        "angle_deg": float(work.angle) or None,
        "thread": work.thread or None,
        "pitch": float(work.pitch) or None,
        "side": ("far" if work.is_far else "near") if work.depth else None,
        "bolt": work.bolt,
        "at": [_point(_middle(hole)) for hole in alike],
    }


def _middle(hole: Opening | Drill) -> Point:
    if isinstance(hole, Drill):
        return hole.at
    x0, y0, x1, y1 = hole.loop.box
    return (x0 + x1) / 2, (y0 + y1) / 2


def _bends(record: Record) -> list[Json]:
    """The bend table; `deduction` is null for half a turn, whose outside faces never meet."""
    return [
        {
            "number": row.number,
            "angle_deg": _degrees(row.fold.angle),
            "up": row.fold.up,
            "radius": float(row.fold.radius),
            "k": float(row.fold.k),
            "k_name": row.neutral.name,
            "k_source": row.neutral.source,
            "k_kind": row.neutral.kind,
            "v_opening": row.v_opening,
            "allowance": row.fold.allowance,
            "deduction": row.deduction,
            "deduction_margin95": row.deduction_margin,
            "from_end": row.from_end + 0.0,
            "line": [_point(row.line.start), _point(row.line.end)],
        }
        for row in record.bend_table
    ]


def _formed(record: Record) -> list[Json]:
    """The sections of the bent part: which bends they are across, their outline, and what their pieces measure."""
    return [
        {
            "bends": [list(numbers) for numbers in (section.numbers, *section.alike)],
            "outside": [piece.outside for piece in section.pieces],
            "flat": section.row.length,
            "width": section.size[0],
            "height": section.size[1],
            "segments": segments(section.outline.segments),
        }
        for section in sections(record.profile, record.bend_table)
    ]


def _stops(record: Record) -> list[Json]:
    """The bends in the order of bending, each with its stop: an edge, or the face of a bend; null for neither."""
    return [
        {"bend": stop.bend.number, "edge": stop.edge or None, "face_of": stop.flange or None, "to_line": stop.off}
        for stop in stops(record.profile, record.bend_table)
    ]


def _row(row: FindingRow) -> Json:
    """Findings alike as one, at the worst place of the first; `also` has every other place, `count` how many in all."""
    first = row.first
    return {
        "rule": first.rule,
        "severity": first.severity,
        "at": _point(first.at),
        "measured": first.measured,
        "limit": first.limit,
        "message": first.message,
        "remedy": first.remedy,
        "changes": dict(first.changes),
        "also": [_point(place) for place in row.also],
        "count": 1 + len(row.also),
    }


def _number(number: numbers.Rest) -> Json:
    """A number with its kind; `value` is null where each bolt has its own in a table."""
    return {
        "number": number.name,
        "value": number.value,
        "unit": number.unit,
        "kind": number.kind,
        "source": number.source,
        "setting": number.setting,
    }


def _routine(finding: Finding) -> Json:
    places = [_point(place) for place in (finding.at, *finding.also)]
    return {"rule": finding.rule, "message": finding.message, "remedy": finding.remedy, "places": places}


def _point(point: Point) -> Json:
    x, y = point
    return [x + 0.0, y + 0.0]  # the sum makes -0.0 a plain zero, and a whole number a float

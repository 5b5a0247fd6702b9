"""Readers that have nothing in common with the writers, and what each is expected to find.

by_ezdxf  every entity as it stands in the file, exact; sizes by sums over the vertices
by_gdal   GDAL's reader of DXF (through pyogrio), which flattens arcs in steps of ARC_STEP_DEG
by_occ    OpenCASCADE (through cadquery's importer), exact, one layer at a time
by_svg    SVG through xml.etree, arcs by the formulas of SVG 1.1, appendix F.6.5
"""

import io
import json
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from unittest.mock import patch

import ezdxf
import pyogrio
import pytest
import shapely

from parts.geometry.segment import Arc, Segment
from parts.profile import Bend, Drill, Profile, Scribe
from parts.record import Record

ARC_STEP_DEG = 0.1
STEP = math.radians(ARC_STEP_DEG)
Box = tuple[float, float, float, float]
Vertex = tuple[float, float, float]
"""x, y, and the bulge of the segment leaving the vertex."""


@dataclass(frozen=True)
class Read:
    """One thing found on a layer; `area` is 0 where it isn't closed.

    `signed` is the area, positive where the chain runs counter-clockwise; 0 of what has no way, as a circle.
    """

    closed: bool
    area: float
    length: float
    box: Box
    kind: str = ""
    signed: float = 0.0


@dataclass(frozen=True)
class Slack:
    """What flattening in steps of ARC_STEP_DEG may take from each: by arcs of radius r turning s.

    A chord of angle d cuts r²(d - sin d)/2 off, under r² d³/12, and falls short by r d³/24, and s/d of
    them make the arc; it stays within r d²/8 of it.
    """

    area: float
    length: float
    box: float


# ------------------------------------------------------------------ what is expected


def expected(record: Record, unit_mm: float = 1.0, *, sized: bool = True) -> dict[str, list[Read]]:
    """What a record should be read back as, a list for each layer in use, in drawing units.

    `sized` is whether each drilled hole has a circle of its diameter beside its centre, as in a DXF.
    """
    profile = record.profile
    found = {
        "OUTSIDE": [_loop(loop.segments, loop.area, unit_mm) for loop in profile.outside],
        "INSIDE": [_loop(opening.loop.segments, opening.loop.area, unit_mm) for opening in profile.inside],
        **_marks(profile, unit_mm, sized and record.drill_circles),
    }
    return {layer: things for layer, things in found.items() if things}


def _loop(segments: Sequence[Segment], area: float, unit_mm: float, closed: bool = True) -> Read:
    length = math.fsum(segment.length for segment in segments)
    boxes = [segment.box for segment in segments]
    box = (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )
    return Read(closed, area / unit_mm**2, length / unit_mm, tuple(v / unit_mm for v in box))


def _marks(profile: Profile, unit_mm: float, sized: bool) -> dict[str, list[Read]]:
    marks: dict[str, list[Read]] = {"SCRIBE": [], "BEND": [], "DRILL": []}
    for mark in profile.marks:
        if isinstance(mark, Drill):
            x, y = (v / unit_mm for v in mark.at)
            marks["DRILL"].append(Read(False, 0.0, 0.0, (x, y, x, y)))
            if sized and mark.diameter:
                r = mark.diameter / 2 / unit_mm
                marks["DRILL"].append(Read(True, math.pi * r * r, 2 * math.pi * r, (x - r, y - r, x + r, y + r)))
        elif isinstance(mark, Bend):
            marks["BEND"].append(_loop([mark.line], 0.0, unit_mm, closed=False))
        else:
            marks["SCRIBE"] += [_scribe(chain, unit_mm) for chain in _chains(mark)]
    return marks


def _chains(mark: Scribe) -> Iterator[list[Segment]]:
    chain: list[Segment] = []
    for segment in mark.path:
        if chain and chain[-1].end != segment.start:
            yield chain
            chain = []
        chain.append(segment)
    yield chain


def _scribe(chain: list[Segment], unit_mm: float) -> Read:
    closed = len(chain) > 1 and chain[0].start == chain[-1].end
    area = abs(math.fsum(segment.swept_area for segment in chain)) if closed else 0.0
    return _loop(chain, area, unit_mm, closed)


def slack(record: Record, unit_mm: float = 1.0) -> Slack:
    """How far a flattened reading of any one loop of the record may be off, rounding included."""
    chains = [loop.segments for loop in record.profile.boundary]
    chains += [mark.path for mark in record.profile.marks if isinstance(mark, Scribe)]
    arcs = [[s for s in chain if isinstance(s, Arc)] for chain in chains]
    areas = [math.fsum(a.radius**2 * abs(a.sweep) for a in of) * STEP**2 / 12 for of in arcs]
    lengths = [math.fsum(a.radius * abs(a.sweep) for a in of) * STEP**2 / 24 for of in arcs]
    widest = max((a.radius for of in arcs for a in of), default=0.0)
    size = max(*record.profile.box)
    rounding = 1e-12 * size
    return Slack(
        (max(areas) + rounding * size) / unit_mm**2,
        (max(lengths) + 100 * rounding) / unit_mm,
        (widest * STEP**2 / 8 + rounding) / unit_mm,
    )


# ------------------------------------------------------------------ ezdxf


@lru_cache(maxsize=8)
def document(text: str) -> ezdxf.document.Drawing:
    """The file as ezdxf reads it, sound: neither an error in it nor anything the audit had to mend; not to be changed.

    The last few are kept: OpenCASCADE's importer has its entities of ezdxf too, a layer at a time.
    """
    read = ezdxf.read(io.StringIO(text))
    audit = read.audit()
    assert not audit.errors, [error.message for error in audit.errors]
    assert not audit.fixes, [fix.message for fix in audit.fixes]
    return read


def by_ezdxf(text: str) -> dict[str, list[Read]]:
    """What stands on each layer, text left aside."""
    found: dict[str, list[Read]] = {}
    for entity in document(text).modelspace():
        if entity.dxftype() != "TEXT":
            found.setdefault(entity.dxf.layer, []).append(_entity(entity))
    return found


def _entity(entity: ezdxf.entities.DXFGraphic) -> Read:
    kind = entity.dxftype()
    if kind == "CIRCLE":
        (x, y, _), r = entity.dxf.center, entity.dxf.radius
        return Read(True, math.pi * r * r, 2 * math.pi * r, (x - r, y - r, x + r, y + r), kind)
    if kind == "POINT":
        x, y, _ = entity.dxf.location
        return Read(False, 0.0, 0.0, (x, y, x, y), kind)
    if kind == "LINE":
        return _chain([(*entity.dxf.start.vec2, 0.0), (*entity.dxf.end.vec2, 0.0)], False, kind)
    if kind == "LWPOLYLINE":
        return _chain(entity.get_points("xyb"), entity.closed, kind)
    assert kind == "POLYLINE", kind
    return _chain([(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in entity.vertices], entity.is_closed, kind)


def _chain(vertices: Sequence[Vertex], closed: bool, kind: str) -> Read:
    """Sizes of a chain of vertices with bulges: the quarter of an arc's angle has the bulge as tangent."""
    pairs = list(zip(vertices, [*vertices[1:], vertices[0]], strict=True))
    area = length = 0.0
    xs, ys = [v[0] for v in vertices], [v[1] for v in vertices]
    for (ax, ay, bulge), (bx, by, _) in pairs if closed else pairs[:-1]:
        chord = math.hypot(bx - ax, by - ay)
        area += (ax * by - bx * ay) / 2
        if not bulge:
            length += chord
            continue
        angle = 4 * math.atan(bulge)
        radius = chord / (2 * abs(math.sin(angle / 2)))
        area += radius**2 * _less_its_sine(angle) / 2
        length += radius * abs(angle)
        away = radius * math.cos(angle / 2) * math.copysign(1, bulge)
        cx, cy = (ax + bx) / 2 - away * (by - ay) / chord, (ay + by) / 2 + away * (bx - ax) / chord
        start = math.atan2(ay - cy, ax - cx)
        for quarter in range(4):
            turned = (quarter * math.pi / 2 - start) * math.copysign(1, bulge) % (2 * math.pi)
            if turned < abs(angle):
                xs.append(cx + radius * math.cos(quarter * math.pi / 2))
                ys.append(cy + radius * math.sin(quarter * math.pi / 2))
    box = (min(xs), min(ys), max(xs), max(ys))
    signed = area if closed else 0.0
    return Read(closed, abs(signed), length, box, kind, signed)


def _less_its_sine(angle: float) -> float:
    """An angle less its sine: by the sine's series where the two are nearly the same."""
    if abs(angle) > 0.1:
        return angle - math.sin(angle)
    return angle**3 / 6 - angle**5 / 120 + angle**7 / 5040 - angle**9 / 362880


# ------------------------------------------------------------------ GDAL


def by_gdal(text: str) -> dict[str, list[Read]]:
    """What GDAL's driver finds on each layer, text left aside."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": ARC_STEP_DEG})
    meta, _, shapes, columns = pyogrio.raw.read(text.encode("ascii"))
    of = dict(zip(meta["fields"], columns, strict=True))
    found: dict[str, list[Read]] = {}
    for layer, words, shape in zip(of["Layer"], of["Text"], shapely.from_wkb(shapes), strict=True):
        if words is None:
            found.setdefault(layer, []).append(_flat(shape))
    return found


def _flat(shape: shapely.Geometry) -> Read:
    closed = shape.geom_type == "LineString" and shape.is_closed
    area = shapely.Polygon(shape).area if closed else 0.0
    way = 1 if closed and shapely.is_ccw(shape) else -1
    return Read(closed, area, shape.length, shape.bounds, signed=way * area)


# ------------------------------------------------------------------ OpenCASCADE


def by_occ(text: str, layer: str) -> list[tuple[float, float]]:
    """Area and perimeter of every face that the loops of one layer make, smallest first."""
    import cadquery as cq

    with patch.object(ezdxf, "readfile", lambda _: document(text)):
        faces = cq.importers.importDXF("part.dxf", include=[layer]).faces().vals()
    assert all(face.isValid() and not face.innerWires() for face in faces)
    return sorted((face.Area(), face.outerWire().Length()) for face in faces)


# ------------------------------------------------------------------ SVG

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Drawing:
    """An SVG file: its size in mm, what it says of itself, and what is in each group, y upward."""

    width: float
    height: float
    title: str
    about: Mapping[str, object]
    groups: Mapping[str, list[Read]]


def by_svg(text: str) -> Drawing:
    """The file as an importer reads it."""
    root = ET.fromstring(text)
    width, height = (float(root.get(side).removesuffix("mm")) for side in ("width", "height"))
    assert [float(v) for v in root.get("viewBox").split()] == [0, 0, width, height]
    groups = {group.get("id"): [_element(e, height) for e in group] for group in root.iter(f"{SVG}g")}
    about = json.loads(root.findtext(f"{SVG}metadata"))
    return Drawing(width, height, root.findtext(f"{SVG}title"), about, groups)


def _element(element: ET.Element, height: float) -> Read:
    if element.tag == f"{SVG}circle":
        x, y, r = float(element.get("cx")), height - float(element.get("cy")), float(element.get("r"))
        return Read(True, math.pi * r * r, 2 * math.pi * r, (x - r, y - r, x + r, y + r), "circle")
    assert element.tag == f"{SVG}path", element.tag
    vertices: list[Vertex] = []
    strokes = 0
    for command, words in re.findall(r"([MLAZ])([^MLAZ]*)", element.get("d")):
        numbers = [float(word) for word in words.split()]
        if command == "Z":
            continue
        strokes += command == "M"
        x, y = numbers[-2], height - numbers[-1]
        if command == "A":
            vertices[-1] = (*vertices[-1][:2], _bulge(vertices[-1], (x, y), numbers))
        vertices.append((x, y, 0.0))
    closed = element.get("d").endswith("Z")
    if closed and vertices[0][:2] == vertices[-1][:2]:
        vertices.pop()
    read = _chain(vertices, closed, "path")
    kind = f"{strokes} strokes" if strokes > 1 else "path"
    return Read(closed, read.area, read.length, read.box, kind, read.signed)


def _bulge(start: Vertex, end: tuple[float, float], numbers: Sequence[float]) -> float:
    """An A command as a bulge: the half angle from its chord and radius; y upward turns its sweep over."""
    rx, ry, turn, large, sweep, _, _ = numbers
    assert (rx, turn) == (ry, 0)
    half_chord = math.hypot(end[0] - start[0], end[1] - start[1]) / 2
    half = math.asin(min(half_chord / rx, 1.0))  # F.6.6: a radius too small for the chord is made to fit
    half = math.pi - half if large else half
    return math.tan(half / 2) * (-1 if sweep else 1)


# ------------------------------------------------------------------ found against expected


def near(value, **of):
    return pytest.approx(value, **of)


def assert_same(found, expected, *, area=0.0, length=0.0, box=0.0, rel=1e-11):
    """The same layers, and on each the same things in the same order."""
    assert {layer: len(things) for layer, things in found.items()} == {
        layer: len(things) for layer, things in expected.items()
    }
    for layer, things in expected.items():
        for i, (read, due) in enumerate(zip(found[layer], things, strict=True)):
            where = f"{layer} {i}"
            assert read.closed == due.closed, where
            if layer != "SCRIBE":  # a scratch cuts nothing out, and a figure eight's halves cancel
                assert read.area == near(due.area, rel=rel, abs=area), where
            assert read.length == near(due.length, rel=rel, abs=length), where
            size = max(abs(v) for v in due.box)
            assert read.box == near(due.box, rel=0, abs=max(box, rel * size)), where

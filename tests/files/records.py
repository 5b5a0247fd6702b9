"""What is written in these tests: every template, and profiles made by hand where writers may slip."""

import math
from dataclasses import replace

import pytest

import parts
from parts.cutting.measures import measure
from parts.geometry.draft import circle, fillet, polygon, rectangle, relief, slot
from parts.geometry.loop import Loop
from parts.geometry.segment import Arc, Line
from parts.profile import Bend, Drill, Opening, Profile, Scribe
from parts.record import Record
from tests.depth import DEEP, tried

VERSIONS = ("R12", "R2010")
UNITS = ("mm", "in")
UNIT_MM = {"mm": 1.0, "in": 25.4}
MADE = [pytest.param(version, units, id=f"{version} {units}") for version in VERSIONS for units in UNITS]
SLUGS = sorted(parts.templates())
LIBRARY = [
    pytest.param(slug, *made.values, id=f"{slug} {made.id}")
    for at, slug in enumerate(SLUGS)
    for turn, made in enumerate(MADE)
    if DEEP or turn == at % len(MADE)
]
"""Each template in one version and unit, the next in another; in a deep run in all of them."""
FEW = tried(6, everyday=1)
"""For parts that are `changed`: each template as it comes has a test of its own beside."""
THIRD = 2 * math.pi / 3


def plate(width: float, height: float, *holes: Loop, marks: tuple = ()) -> Profile:
    """A square-cornered plate with openings and marks."""
    return Profile((rectangle((0, 0), width, height),), tuple(Opening(hole, "window", "w") for hole in holes), marks)


def arcs(*vertices: tuple[float, float, float]) -> Profile:
    """A part of one loop given by its (x, y, bulge) vertices."""
    return Profile((Loop.through(vertices),)).seated()


MARKS = (
    Scribe((Line((10, 10), (30, 10)), Arc((30, 10), (40, 20), math.tan(math.pi / 8)), Line((40, 20), (40, 30)))),
    Scribe((Line((50, 10), (60, 10)), Line((60, 10), (55, 18)), Line((55, 18), (50, 10)))),
    Scribe(circle((75, 15), 8.5).segments),
    Scribe((Line((5, 60), (95, 60.5)),)),
    Scribe((Arc((10, 70), (20, 70), -0.3),)),
    Scribe((Line((30, 70), (35, 75)), Line((40, 70), (45, 75)))),  # two strokes of one mark, a gap between
    Bend(Line((0, 40), (100, 40))),
    Bend(Line((0, 45), (100, 47.5))),
    Drill((20, 50), 6.5),
    Drill((1 / 3, 50), 0.1),
)

SPECIAL = {
    "slots": plate(
        200, 120,
        slot((40, 40), 37.3, 11), slot((110, 60), 50, 8.4, 0.7), slot((160, 60), 61, 13, math.pi / 2),
    ),
    "nasty sizes": plate(
        1000 / 3, 37 * math.pi,
        circle((100 / 7, 31 / 3), 200 / 17), circle((math.e * 50, 50), 11 * math.sqrt(2)),
    ),
    "huge": plate(
        19_000, 14_999.99, circle((9000.1, 8000.2), 6000.7), slot((16_000.3, 7000.4), 4000, 333.3, 1.1)
    ),
    "tiny": plate(0.9, 0.7, circle((0.3, 0.35), 0.11), circle((0.6, 0.35), 0.123456789)),
    "tiny far off": plate(15_000, 15_000, circle((14_990.123456789, 14_980.987654321), 0.3)),
    "disc": Profile((circle((50.05, 50.05), 100.1),), (Opening(circle((50.05, 50.05), 20.02), "bore"),)),
    "disc of three arcs": arcs(
        *((40 * math.cos(a), 40 * math.sin(a), math.tan(math.pi / 6)) for a in (0, THIRD, 2 * THIRD))
    ),
    "almost a circle": arcs((30, 0.5, math.tan(3.1)), (30, -0.5, 0)),
    "keyhole": arcs((0, 0, 0), (60, 0, 0), (60, 20, 0), (50, 20, 2.5), (35, 20, 0), (0, 20, 0)),
    "lens": arcs((0, 0, 0.2), (100, 0, 0.3)),
    "crescent": arcs((0, 0, 0.9), (100, 0, -0.5)),
    "shallow arc": arcs((0, 0, 1e-5), (1000, 0, 0), (1000, 50, -3e-6), (0, 50, 0)),
    "relieved corner": Profile(
        (polygon([(0, 0), (100, 0), (100, 30), relief(30, 30, 3), fillet(30, 80, 5), (0, 80)]),)
    ),
    "marks": plate(100, 80, marks=MARKS),
    "three pieces": Profile(
        (rectangle((0, 0), 50, 40, 4), circle((90, 20), 40), rectangle((0, 60), 110, 30)),
        (
            Opening(circle((25, 20), 9), "hole", "hole"), Opening(slot((90, 20), 20, 6, 0.4), "slot", "slot"),
            Opening(circle((20, 75), 10), "hole", "hole"), Opening(circle((80, 75), 10), "hole", "hole"),
        ),
    ),
}  # fmt: skip


def base(**values: object) -> Record:
    """The record of a drawn part, whose profile can be exchanged."""
    return parts.draw("gusset-triangle", **values).record


def special(name: str, **changes: object) -> Record:
    """A record of one of the profiles made by hand."""
    record, profile = base(), SPECIAL[name].seated()
    return replace(record, profile=profile, findings=(), measures=measure(profile, record.job), **changes)


def in_file(record: Record, version: str, units: str) -> Record:
    """The record as it is written in another version and unit."""
    return replace(record, dxf_version=version, units=units)

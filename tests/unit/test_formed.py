"""The bent part in section and its stops: closed forms of folding, and what a brake operator reckons by hand."""

import json
import math
from dataclasses import replace

import pytest

import parts
from parts.export.formed import formed_views, stop_rows
from parts.forming import sections, stops
from parts.geometry.draft import rectangle
from parts.geometry.motion import rotation
from parts.geometry.segment import Line
from parts.profile import Bend, Profile

SIZED = [
    ("bracket-bent-angle", {"thickness": 3, "bend": 60}, 1, (0, 2)),
    ("bracket-bent-hat", {"thickness": 4, "bend": 75, "bend_radius": 6}, 1, (0, 2)),
    ("bracket-bent-u", {"thickness": 3}, 1, (2, 0)),
    ("bracket-bent-z", {"thickness": 3}, 1, (2, 0)),
    ("bumper-skid", {}, 1, (0, 2)),
    ("box-pan", {}, 2, (1, 2)),
    ("box-pan", {"rim": "hem"}, 2, (1, 2)),
]
"""Template and values, how many sections, and which sides of `bent_size` the first of them shows."""


def area(loop):
    """By Green's theorem: the polygon of the ends, and the segment between each arc and its chord."""
    total = 0.0
    for s in loop.segments:
        total += (s.start[0] * s.end[1] - s.end[0] * s.start[1]) / 2
        if not isinstance(s, Line):
            total += s.radius**2 * (s.sweep - math.sin(s.sweep)) / 2
    return total


@pytest.mark.parametrize(("slug", "values", "count", "sides"), SIZED)
def test_a_section_is_the_bent_part(slug, values, count, sides):
    """Its box is the template's own of the bent part, its pieces less the deductions the flat (Machinery's Handbook,
    lengths of bends), its area what straight pieces and rings of sheet have: t L + A (R + t/2) t."""
    record = parts.draw(slug, **values).record
    found, t = sections(record.profile, record.bend_table), record.job.cut.thickness_mm
    bent = record.template.parameters.model_construct(None, **dict(record.parameters)).bent_size
    assert len(found) == count
    assert sorted(found[0].size) == pytest.approx(sorted(bent[side] for side in sides), abs=1e-6)
    for section in found:
        strip = section.row.strip
        if all(fold.angle < 3 for fold in section.folds):
            lost = sum(fold.deduction for fold in section.folds)
            assert sum(piece.outside for piece in section.pieces) - lost == pytest.approx(section.row.length, abs=1e-6)
        solid = t * sum(strip.straights) + sum(f.angle * (f.radius + t / 2) * t for f in section.folds)
        assert abs(area(section.outline)) == pytest.approx(solid, rel=1e-9)
    assert sum(len(view.section.numbers) for view in formed_views(record)) == len(record.bend_table)


def test_the_stops_of_a_hat_by_hand():
    """3 mm to 3 mm, K 0.38: a leg outside less half the deduction, 2.74845. Square flanges stop by their outer face;
    what isn't square gives no face to stop against, so that all bends stop against the edge that stays flat."""
    part = parts.draw("bracket-bent-hat", thickness=3, bend_radius=3, k=0.38)
    assert [row[1:] for row in stop_rows(part.record)] == [
        ("1, up 90°", "left edge", "57.3"),
        ("4, up 90°", "right edge", "57.3"),
        ("2, down 90°", "face of bend 1", "57.3"),
        ("3, down 90°", "face of bend 4", "57.3"),
    ]
    said = json.loads(part.to_json())
    assert said["stops"][2] == {"bend": 2, "edge": None, "face_of": 1, "to_line": pytest.approx(60 - 2.74845, abs=1e-4)}
    (formed,) = said["formed"]
    assert formed["outside"] == pytest.approx([60, 60, 90, 60, 60])
    assert (formed["width"], formed["height"]) == pytest.approx((90 + 2 * 60 - 2 * 3 + 0.0, 60))
    assert formed["flat"] == pytest.approx(said["measures"]["width_mm"])
    sloping = stops(*(lambda r: (r.profile, r.bend_table))(parts.draw("bracket-bent-hat", bend=75).record))
    assert [(stop.bend.number, stop.edge) for stop in sloping] == [
        (1, "left"), (2, "right"), (3, "right"), (4, "right"),
    ]  # fmt: skip


def test_bends_however_they_lie_and_where_nothing_can_be_stopped_against():
    """A strip turned has the same section; a sloping end is no stop; bends that fan out have no section."""
    record = parts.draw("bracket-bent-angle", thickness=3).record
    line = Bend(Line((40, 0), (40, 60)), math.pi / 2, 3.0)
    for degrees, name in ((0, "left"), (90, "lower"), (215, "upper right")):
        turn = rotation(math.radians(degrees), (7, 3))
        bend = replace(line, line=Line(turn.point(line.line.start), turn.point(line.line.end)))
        profile = Profile((turn.loop(rectangle((0, 0), 100, 60)),), (), (bend,))
        turned = replace(record, profile=profile)
        (section,), (stop,) = sections(profile, turned.bend_table), stops(profile, turned.bend_table)
        assert (stop.edge, stop.off) == (name, pytest.approx(40, abs=1e-9))
        assert sorted(section.size) == pytest.approx(sorted((40 + 2.748, 60 + 2.748)), abs=0.2)
    assert [stop.off for stop in stops(record.profile, ())] == []
    cone = parts.draw("developed-transition").record
    assert (formed_views(cone), list(stop_rows(cone))) == ((), [])
    brace = parts.draw("gusset-flange-brace").record
    assert [row[2] for row in stop_rows(brace)] == ["upper right edge"]
    assert json.loads(parts.draw("gusset-triangle").to_json())["formed"] == []

"""Developed shapes, folded back into space by code of its own: the joint of tubes, cones, transitions.

Rolling and folding keep lengths on the sheet, so what was drawn is put back point by point, and held to what the
shape is in space: cylinders as points at a distance from an axis, a cone as points at two heights, a transition as a
rectangle and a circle of the sizes asked.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given

import parts
from parts.profile import Scribe
from parts.templates.developed import cone, fish_mouth, transition
from tests.depth import tried
from tests.property.flattened import points
from tests.strategies import parts_of

many = tried(100)
WITHIN_MM = 0.02


def joint(part):
    """The points of the joint line, as turns from the seam and heights, and the box of the flat."""
    (loop,) = part.profile.outside
    at = points(loop)
    long = part.measures.width_mm
    line = at[(at[:, 1] > 1e-6) & (at[:, 0] > 1e-6) & (at[:, 0] < long - 1e-6)]
    return 2 * math.pi * line[:, 0] / long, line[:, 1]


def turned(v):
    """The branch's frame in space: along it, away from it in the plane of both axes, and across."""
    lean = math.radians(v["joint"])
    along = np.array([math.cos(lean), 0.0, math.sin(lean)])
    out = np.array([-math.sin(lean), 0.0, math.cos(lean)])
    return along, out, np.array([0.0, 1.0, 0.0])


def assert_saddles(part):
    """All of the wall lies outside the main tube or on it, and at each turn some of it lies on it."""
    v = part.record.parameters
    thickness = v["thickness"]
    wall = v["branch_wall"] if v["made"] == "wrap" else thickness
    outer = v["branch_od"] / 2
    neutral = outer + (thickness if v["made"] == "wrap" else -thickness) / 2
    assert part.measures.width_mm == pytest.approx(2 * math.pi * neutral, abs=1e-6)
    turns, heights = joint(part)
    assert heights.min() >= v["band"] - WITHIN_MM
    turns = turns + {"obtuse": 0.0, "acute": math.pi, "side": -math.pi / 2}[v["seam"]]
    along, out, across = turned(v)
    radii = np.linspace(outer - wall, outer, 41) if v["cut"] == "square" else np.array([outer])
    ring = radii[:, None, None] * (np.cos(turns)[:, None] * out + np.sin(turns)[:, None] * across)
    on = ring + v["beside"] * across * bool(v["main_od"])

    def apart(top):
        at = on + (top - heights)[None, :, None] * along
        if not v["main_od"]:
            return at[:, :, 2]
        return np.hypot(at[:, :, 1], at[:, :, 2]) - v["main_od"] / 2

    # where the branch begins along its axis isn't on the flat: as far out as it must be to touch
    low, high = 0.0, 4 * (v["main_od"] + v["branch_od"]) / math.sin(math.radians(v["joint"])) + heights.max()
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (low, middle) if apart(middle).min() > 0 else (middle, high)
    gap = apart(high).min(axis=0)
    slack = WITHIN_MM + (outer**2 / (8 * max(outer, 1)) / 40**2 if v["cut"] == "square" else 0)
    assert gap.min() >= -1e-6
    assert gap.max() <= slack


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"joint": 45},
        {"joint": 30, "seam": "obtuse"},
        {"main_od": 48.3, "joint": 60, "cut": "bevelled"},
        {"main_od": 48.3},
        {"main_od": 100, "beside": 20, "joint": 55, "seam": "side"},
        {"main_od": 0, "joint": 40},
        {"main_od": 0, "joint": 40, "cut": "bevelled"},
        {"made": "rolled", "main_od": 500, "branch_od": 300, "thickness": 2},
    ],
)
def test_a_fish_mouth_wrapped_round_its_tube_saddles_the_other(values):
    assert_saddles(parts.draw("developed-fish-mouth", **{"process": "laser", **values}))


@pytest.mark.parametrize("joint_deg", [90, 60])
def test_a_thin_square_joint_is_the_closed_form(joint_deg):
    """At the quarter turns: R (1 - sqrt(1 - (r/R)²)) square; leaned by A, r / tan A apart beside that."""
    v = {"main_od": 100, "branch_od": 60, "joint": joint_deg, "cut": "bevelled", "seam": "obtuse", "band": 40}
    part = parts.draw("developed-fish-mouth", process="laser", **v)
    turns, heights = joint(part)
    at = [float(np.interp(quarter, turns[::-1], heights[::-1])) for quarter in (math.pi / 2, math.pi)]
    lean = math.radians(joint_deg)
    assert at[0] - at[1] == pytest.approx(
        (50 - math.sqrt(50**2 - 30**2)) / math.sin(lean) + 30 / math.tan(lean), abs=WITHIN_MM
    )
    scribed = [mark.path[0].start[0] for mark in part.profile.marks if isinstance(mark, Scribe)]
    assert scribed == pytest.approx([part.measures.width_mm * share for share in (0.25, 0.5, 0.75)])


@many
@given(parts_of(fish_mouth.TEMPLATE))
def test_any_fish_mouth_saddles(part):
    assert_saddles(part)


@many
@given(parts_of(cone.TEMPLATE))
def test_a_cone_rolled_up_has_its_diameters_and_height(part):
    """A point of the flat keeps its distance from the tip; all sheets together go once round."""
    v = part.record.parameters
    (loop,) = part.profile.outside
    outer, _, inner, _ = loop.segments
    slant = outer.radius - inner.radius
    assert math.dist(outer.end, inner.start) == pytest.approx(slant, rel=1e-9)
    ends = [arc.length * v["pieces"] / math.pi for arc in (outer, inner)]
    side = {"outside": -1, "middle": 0, "inside": 1}[v["measured"]]
    cosine = v["cone_high"] / slant
    asked = [v[name] + side * v["thickness"] * cosine for name in ("wide_end", "narrow_end")]
    assert ends == pytest.approx(asked, rel=1e-9)
    assert math.sqrt(slant**2 - ((ends[0] - ends[1]) / 2) ** 2) == pytest.approx(v["cone_high"], rel=1e-9)
    assert len(part.profile.marks) == v["bends"]


@pytest.mark.parametrize(("pieces", "bends"), [(1, 12), (2, 8), (4, 5)])
def test_a_pressed_cone_closes(pieces, bends):
    """Folded line by line, half facet by half facet, all sheets bring the last edge to where the first began."""
    part = parts.draw("developed-cone", pieces=pieces, bends=bends)
    marks = [mark for mark in part.profile.marks if mark.kind == "bend"]
    assert len({round(mark.angle, 12) for mark in marks}) == 1
    (loop,) = part.profile.outside
    facet = abs(loop.segments[0].sweep) / bends
    c, s = math.cos(facet / 2), math.sin(facet / 2)
    half = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
    c, s = math.cos(marks[0].angle), math.sin(marks[0].angle)
    fold = np.array([[1, 0, 0], [0, c, -s], [0, s, c]])
    once = np.linalg.matrix_power(half @ fold @ half, bends * pieces)
    assert once == pytest.approx(np.eye(3), abs=1e-9)
    # and its bends are those of a regular pyramid as flat as this one, but for facets in place of the round
    assert bends * pieces * marks[0].angle < 2 * math.pi


def feet_of(part):
    """How many corners of a sheet's edge lie at the foot; they come first, and the tops after them from the right."""
    return 4 if part.record.parameters["pieces"] == 2 else 6


def folded_back(part):
    """Every sheet of a transition folded along its bend lines: where the corners of its edge come to in space."""
    sheets = []
    for loop in part.profile.outside:
        at = np.array([segment.start for segment in loop.segments])
        x0, _, x1, _ = loop.box
        bends = [
            mark
            for mark in part.profile.marks
            if x0 - 1e-6 <= mark.line.start[0] <= x1 + 1e-6 and x0 - 1e-6 <= mark.line.end[0] <= x1 + 1e-6
        ]
        place = np.column_stack((at, np.zeros(len(at))))
        corners = feet_of(part)
        for mark in reversed(bends):  # what lies right of a line is turned about it, the rightmost first
            a, b = (np.array([*end, 0.0]) for end in (mark.line.start, mark.line.end))
            axis = (b - a) / np.linalg.norm(b - a)
            foot, top = (int(np.argmin(np.hypot(*(at - end[:2]).T))) for end in (a, b))
            number = np.arange(len(at))
            right = ((number > foot) & (number < corners)) | ((number < top) & (number >= corners))
            turn = mark.angle * (-1 if mark.up else 1)
            off = place[right] - a
            place[right] = (
                a
                + off * math.cos(turn)
                + np.cross(axis, off) * math.sin(turn)
                + np.outer(off @ axis, axis) * (1 - math.cos(turn))
            )
        sheets.append(place)
    return sheets


@pytest.mark.parametrize(
    "values", [*({**p.values} for p in transition.TEMPLATE.presets), {}, {"off_right": 40, "off_back": 90}]
)
def test_a_transition_folded_back_is_a_rectangle_and_a_circle(values):
    """By the marks alone: the feet of a sheet lie in one plane at the true corners, the tops on the circle above it."""
    part = parts.draw("developed-transition", **values)
    v = part.record.parameters
    off = {"outside": -1, "middle": 0, "inside": 1}[v["measured"]] * v["thickness"]
    width, depth, r = v["foot_width"] + off, v["foot_depth"] + off, (v["top_round"] + off) / 2
    sheets = folded_back(part)
    assert len(sheets) == v["pieces"]
    for number, place in enumerate(sheets):
        feet = place[: feet_of(part)]
        tops = place[len(feet) :]
        lengths = [np.linalg.norm(b - a) for a, b in pairwise(feet)]
        sides = [width / 2, depth, width / 2] if v["pieces"] == 2 else [width / 2, depth, width, depth, width / 2]
        assert lengths == pytest.approx(sides, abs=1e-6)
        corner = feet[1]
        ahead, back = (feet[0] - corner) / lengths[0], (feet[2] - corner) / lengths[1]
        assert float(ahead @ back) == pytest.approx(0, abs=1e-6), "the foot is square in space"
        up = np.cross(back, ahead) * -1
        assert [float((each - corner) @ up) for each in feet] == pytest.approx([0] * len(feet), abs=1e-5)
        high = [float((each - corner) @ up) for each in tops]
        assert [abs(h) for h in high] == pytest.approx([v["top_high"]] * len(tops), abs=1e-5)
        sign = 1 if number == 0 else -1
        middle = (
            corner
            + ahead * (width / 2 - sign * v["off_right"])
            + back * (depth / 2 + sign * v["off_back"])
            + up * high[0]
        )
        assert [np.linalg.norm(each - middle) for each in tops] == pytest.approx([r] * len(tops), abs=1e-5)


@many
@given(parts_of(transition.TEMPLATE))
def test_a_transition_has_the_lengths_of_its_foot(part):
    v = part.record.parameters
    off = {"outside": -1, "middle": 0, "inside": 1}[v["measured"]] * v["thickness"]
    width, depth, r = v["foot_width"] + off, v["foot_depth"] + off, (v["top_round"] + off) / 2
    chord = 2 * r * math.sin(math.pi / 4 / v["lines"])
    top = 4 * v["lines"] * chord
    seams = part.measures.cut_length_mm - top - 2 * (width + depth)
    front = math.hypot(v["off_right"], v["off_back"] - r + depth / 2, v["top_high"])
    back = math.hypot(v["off_right"], v["off_back"] + r - depth / 2, v["top_high"])
    assert seams == pytest.approx(2 * front + (2 * back if v["pieces"] == 2 else 0), rel=1e-9)


@pytest.mark.parametrize(
    ("slug", "values", "named"),
    [
        ("developed-fish-mouth", {"branch_od": 61}, "branch_od"),
        ("developed-fish-mouth", {"beside": 7}, "beside"),
        ("developed-fish-mouth", {"branch_wall": 25}, "branch_wall"),
        ("developed-cone", {"narrow_end": 200}, "narrow_end"),
        ("developed-cone", {"bends": 2}, "bends"),
        ("developed-transition", {"measured": "outside", "top_round": 10, "thickness": 6}, "top_round"),
    ],
)
def test_what_does_not_go_together_is_named(slug, values, named):
    with pytest.raises(parts.Refused) as refused:
        parts.draw(slug, **values)
    assert named in [problem.parameter for problem in refused.value.problems]

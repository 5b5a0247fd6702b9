"""Occupancy on the paper: many places asked at once are told as each alone is, and ink is what the lines run over."""

import math
import random
from dataclasses import replace

import numpy as np
import pytest

import parts
from parts.drawing import lanes, leaders, slanting
from parts.drawing.dimensions import Dimensions
from parts.drawing.frame import Frame, Sizes, Subject
from parts.drawing.ink import MOST_CELLS, Ink
from parts.drawing.material import MaterialStrips
from parts.drawing.primitives import box_of
from parts.drawing.room import COST_PLACES, Occupancy
from parts.export.pdf_ink import BOLD, FONT, width_of, width_of_words
from parts.geometry.segment import Arc, Line

CELL = 1.3
PAPER = (0.0, 0.0, 60.0, 40.0)


def place(rng, spread=80.0):
    return rng.uniform(-10, spread), rng.uniform(-10, spread)


def rectangle(rng):
    (x, y), w, h, turn = place(rng), rng.uniform(1, 15), rng.uniform(1, 6), rng.choice([0.0, math.pi / 2, 0.4])
    c, s = math.cos(turn), math.sin(turn)
    return tuple((x + c * u - s * v, y + s * u + c * v) for u, v in ((0, 0), (w, 0), (w, h), (0, h)))


def segments(rng):
    """Lines at any angle, some horizontal, some vertical, and arcs."""
    (ax, ay), (bx, by) = place(rng), place(rng)
    return [Line((ax, ay), (bx, by)), Line((ax, ay), (bx, ay)), Line((bx, ay), (bx, by)), Arc((ax, ay), (bx, by), 0.7)]


def cells_of(segment):
    """The cells of points along a segment, at most half a cell apart."""
    steps = max(1, math.ceil(segment.length / CELL * 2))
    points = [segment.at(i / steps) for i in range(steps + 1)]
    return {(math.floor(x / CELL), math.floor(y / CELL)) for x, y in points}


def crowded(seed):
    """Occupancy with boxes and lines, and the weight of each of its cells."""
    rng, room, weights = random.Random(seed), Occupancy(CELL, PAPER), {}
    for weight in (1.0, 0.5, 2.0, 1.0, 3.0):
        room.claim(rectangle(rng))
        drawn = segments(rng)
        room.draw(drawn[:2], weight)  # a few lines are marked one by one, others all at once
        room.draw(drawn[2:], weight)
        for cell in (cell for segment in drawn for cell in cells_of(segment)):
            weights[cell] = max(weights.get(cell, 0.0), weight)
    return rng, room, weights


@pytest.mark.parametrize("seed", range(8))
def test_ink_is_the_weight_of_the_cells(seed):
    rng, room, weights = crowded(seed)
    for _ in range(20):
        x0, y0, x1, y1 = box_of(rectangle(rng))
        across, up = (range(math.floor(a / CELL), math.floor(b / CELL) + 1) for a, b in ((x0, x1), (y0, y1)))
        expected = sum(weights.get((i, j), 0.0) for i in across for j in up)
        assert room.cover(((x0, y0), (x1, y0), (x1, y1), (x0, y1))) == expected
        for line in segments(rng)[:3]:
            assert room.along(line) == sum(weights.get(cell, 0.0) for cell in cells_of(line))


@pytest.mark.parametrize("seed", range(8))
def test_many_at_once_are_as_each(seed):
    rng, room, _ = crowded(seed)
    boxes = [box_of(rectangle(rng)) for _ in range(60)]
    corners = [((x0, y0), (x1, y0), (x1, y1), (x0, y1)) for x0, y0, x1, y1 in boxes]
    columns = tuple(np.array(boxes).T)
    assert room.free_boxes(columns).tolist() == [room.free(each) for each in corners]
    assert room.cover_boxes(columns).tolist() == [room.cover(each) for each in corners]
    assert room.growth_boxes(columns).tolist() == [room.growth(box) for box in boxes]
    lines = [line for _ in range(20) for line in segments(rng)[:3]]
    ends = np.array([(*line.start, *line.end) for line in lines]).T
    assert room.crossed_lines(ends).tolist() == [room.crossed(line) for line in lines]
    assert room.along_lines(ends).tolist() == [room.along(line) for line in lines]


def test_ink_beyond_any_paper_is_left_out():
    ink = Ink(CELL, PAPER)
    far = 10 * MOST_CELLS * CELL
    ink.mark([Line((-far, 20), (far, 21)), Arc((-far, 0), (far, 0), 0.5)], 1.0)
    assert ink.under_box((10.0, 20.2, 10.1, 20.6)) == 1.0
    assert ink.under_box((far / 2, 20.2, far / 2 + 1, 20.6)) == 0.0


@pytest.mark.parametrize("slug", ["gusset-triangle", "plate-base", "silhouette-snowflake", "silhouette-bird"])
def test_material_is_inside_an_odd_number_of_loops(slug):
    profile = parts.draw(slug).profile
    (x0, y0, x1, y1), rng, material = profile.box, random.Random(slug), MaterialStrips(profile.boundary)
    heights = [s.start[1] for loop in profile.boundary for s in loop.segments][:200]  # as high as corners too
    heights += [rng.uniform(y0 - 5, y1 + 5) for _ in range(200)]
    points = [(rng.uniform(x0 - 5, x1 + 5), y) for y in heights]
    inside = [material.holds(p) for p in points]
    assert inside == [sum(loop.contains(p) for loop in profile.boundary) % 2 == 1 for p in points]
    assert any(inside)
    assert not all(inside)


def whole_cost(frame, room, leader):
    """What a leader costs, looked at alone; infinite where its lettering isn't free."""
    slant, _ = leader.lines
    size, (ux, uy), text = frame.sizes.text, leader.sight.away, leader.text
    taken = text.outline_with(frame.sizes.gap / 2)
    if not room.free(taken):
        return math.inf
    beyond = Line(slant.at(min(1, size / slant.length)), slant.end)
    middle = text.outline[0][0] + text.width / 2, text.at[1]
    return (
        slant.length
        + (4 * size if uy < 0 and abs(ux) < leaders.STEEP else 0)
        + leaders.UNDER_LETTERING * size * room.cover(taken)
        + leaders.GROWTH * room.growth(box_of(taken))
        + leaders.ACROSS * size * room.along(beyond)
        + 8 * size * room.crossed(slant)
        + 3 * size * frame.solid(middle)
    )


@pytest.mark.parametrize("slug", ["plate-base", "gusset-truss", "silhouette-gear"])
def test_a_leader_is_where_it_costs_least_of_all(slug, monkeypatch):
    search, seen = leaders.place, []

    def checked(frame, room, sights, text, before):
        ways = leaders.Ways.of(frame, sights, text)
        costs = [whole_cost(frame, room, ways.leader(k, None)) for k in range(len(sights) * len(leaders.REACHES))]
        chosen = search(frame, room, sights, text, before)
        at = [replace(ways.leader(k, None), way=chosen.way) for k in range(len(costs))].index(chosen)
        assert at == chosen.way.which
        assert costs[at] == pytest.approx(min(costs), abs=2 * 10**-COST_PLACES)
        seen.append(chosen)
        return chosen

    monkeypatch.setattr(leaders, "place", checked)
    subject = Subject(parts.draw(slug).record)
    x0, _, x1, _ = subject.record.box
    frame = Frame(subject, 70 / (x1 - x0), Sizes(3.0))
    assert len(list(Dimensions(subject, letters=True).placed(frame, Occupancy(1.2, frame.box)))) >= len(seen) > 0


@pytest.mark.parametrize("noise_mm", [1e-15, -1e-15, 3e-14, -3e-14])
def test_what_rounding_alone_makes_dearer_changes_no_place(noise_mm):
    """One processor adds in another order than the next; all of them draw the same."""
    subject = Subject(parts.draw("plate-base").record)
    frame = Frame(subject, 0.1, Sizes(3.0))
    tip, away = (20.0, 20.0), (math.cos(0.8), math.sin(0.8))
    sights = [leaders.SightLine((tip[0] + k * noise_mm, tip[1] - k * noise_mm), away) for k in range(5)]
    assert leaders.place(frame, Occupancy(1.2, frame.box), sights, "Ø8").way.which == 0
    start, end = (0.0, 0.0), (30.0, 30.0)
    measure = lanes.Measure("a", "a 30", start, end)
    plain = slanting.place(frame, Occupancy(1.2, frame.box), measure).way
    shifted = replace(measure, end=(end[0] + noise_mm, end[1] - noise_mm))
    assert slanting.place(frame, Occupancy(1.2, frame.box), shifted).way == plain


@pytest.mark.parametrize("font", [FONT, BOLD])
@pytest.mark.parametrize("text", ["", "One", "Ø11 \u2265 3/8 in, é and \u0416", "Hold the plate flat by 4 clamps."])
def test_words_are_as_wide_as_their_line(text, font):
    assert width_of_words(text.split(), 2.6, font) == width_of(" ".join(text.split()), 2.6, font)

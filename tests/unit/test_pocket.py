"""Pockets of loops that are the same elsewhere: each as it is found of that loop by itself."""

from hypothesis import given
from hypothesis import strategies as st

from parts.geometry.disk.pocket import pockets
from parts.geometry.draft import circle, rectangle, slot
from parts.geometry.motion import rotation, translation

LEAST_TURN = 1.0
PLATE = rectangle((-50, -50), 1000, 400)
WINDOW = rectangle((0, 0), 40, 12, 1.0).running(counter_clockwise=False)


def numbers(pocket):
    places = [pocket.centre, pocket.tip, *(s.start for s in pocket.stretch), pocket.stretch[-1].end]
    return [*(round(v, 6) for p in places for v in p), round(pocket.turn, 9), round(pocket.back, 9)]


def told(pocket):
    return (numbers(pocket), sorted(pocket.corners))


def one_by_one(loops, radius):
    """The pockets of each loop as of a plate with no other opening."""
    for i, loop in enumerate(loops):
        yield from ((i, *told(pocket)) for pocket in pockets([loop], radius, LEAST_TURN))


@given(st.lists(st.floats(0, 30), min_size=1, max_size=6), st.floats(1.5, 4), st.booleans())
def test_a_row_of_equal_openings_has_the_pockets_of_each(gaps, radius, with_others):
    loops, x = [PLATE], 0.0
    for gap in gaps:
        loops.append(translation(x, gap).loop(WINDOW))
        x += 60 + gap
    if with_others:  # no slot or circle has a pocket, a turned window has its own
        loops += [slot((300, 200), 40, 10), circle((400, 200), 20), rotation(0.3, (600, 200)).loop(WINDOW)]
    found = [(pocket.loop, *told(pocket)) for pocket in pockets(loops, radius, LEAST_TURN)]
    assert found == list(one_by_one(loops, radius))
    assert sum(loop == 1 for loop, *_ in found) == 4


def test_an_opening_beside_another_is_looked_at_where_it_is():
    """In the corner the disc that would rest has the neighbour's corner inside: no pocket is carried there."""
    alone, near = WINDOW, translation(0, 100).loop(WINDOW)
    neighbour = rectangle((1.0, 101.0), 0.5, 0.5).running(counter_clockwise=False)
    found = [pocket.loop for pocket in pockets([alone, near, neighbour], 3.0, LEAST_TURN)]
    assert found.count(0) == 4
    assert found.count(1) == 3

"""What was tried is there for the next question, and what a move leaves as it is isn't reckoned again."""

import gc

import pytest

import parts
from parts.cached import cached_property
from parts.errors import GeometryError
from parts.spec import length, trying
from parts.spec.parameters import Parameters
from parts.spec.tries import Tried

RECKONED = []
"""What was reckoned, in its order."""


class Plate(Parameters):
    """A hole in a plate, whose edge depends on its width and its height, with a mark that only its text sets."""

    width: float = length("Width", default=30, minimum=5, maximum=200)
    height: float = length("Height", default=30, minimum=5, maximum=200)
    hole: float = length("Hole", default=10, minimum=1, maximum=50)

    @cached_property
    def edge(self) -> float:
        """How far the sides are from the middle."""
        RECKONED.append("edge")
        return min(self.half, self.height / 2)

    @cached_property
    def half(self) -> float:
        """Half of the width."""
        RECKONED.append("half")
        return self.width / 2

    def problems(self):
        """The hole's; none where the plate is too high to be reckoned with."""
        if self.height > 150:
            raise GeometryError("too high")
        yield from self.under("hole", 2 * self.edge)
        yield from self.at_most("width", 100.0)


@pytest.fixture
def plate():
    """A plate whose hole is too large, and which has been asked who is at fault."""
    RECKONED.clear()
    made = Plate.read_singly({"hole": "40"})
    with trying(worded=False):
        assert made.tried().faults() == {"hole"}
        yield made


def test_what_a_move_leaves_as_it_is_is_not_reckoned_again(plate):
    assert RECKONED == ["edge", "half"]
    assert not plate.tried(hole=20.0).problem()
    assert RECKONED == ["edge", "half"]
    assert plate.tried(height=60.0).faults() == {"hole"}
    assert RECKONED == ["edge", "half", "edge"]
    assert not plate.tried(width=60.0, height=60.0).problem()
    assert RECKONED == ["edge", "half", "edge", "edge", "half"]


def test_values_are_tried_once_however_they_are_given(plate):
    assert plate.tried(width=60.0) is plate.tried(width=60.0, hole=40.0)
    assert plate.tried(width=60.0) is not plate.tried(width=61.0)


def test_faults_are_told_as_far_as_they_are_asked_for(plate):
    wide = plate.tried(width=150.0)
    assert wide.problem().parameter == "hole"
    assert not wide.problem({"hole", "width"})
    assert wide.faults() == {"hole", "width"}
    assert wide.problem({"hole"}).parameter == "width"


def test_all_are_at_fault_where_nothing_can_be_reckoned_with(plate):
    high = plate.tried(height=160.0)
    assert high.faults() == set(Plate.specs())
    assert high.problem({"hole"})


def test_a_property_that_fails_is_noted_with_what_was_read_for_it():
    class Broken(Plate):
        @cached_property
        def edge(self):
            raise GeometryError(f"no edge at {self.width}")

    seen, notes = Broken.read_singly({}).watched()
    with pytest.raises(GeometryError):
        _ = seen.edge
    assert notes.read == {"width"}
    assert notes.apart_from(set()) == {}


def test_changed_parameters_are_as_if_read_so():
    asked = Plate.read_singly({"width": "50"})
    assert asked.edge == 15
    changed = asked.changed(height=80.0)
    assert changed == Plate.read_singly({"width": "50", "height": "80"})
    assert changed.edge == 25
    assert asked.height == 30


def test_a_refusal_leaves_nothing_to_the_collector():
    with pytest.raises(parts.Refused):
        parts.draw("silhouette-fish", nose_radius=11, eye=59.7)  # all is loaded then
    gc.collect()
    gc.disable()
    try:
        with pytest.raises(parts.Refused):
            parts.draw("silhouette-fish", nose_radius=11, eye=59.7)
        assert not any(isinstance(each, Tried) for each in gc.get_objects())
    finally:
        gc.enable()

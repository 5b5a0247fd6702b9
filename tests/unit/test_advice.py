"""Advice on a refusal asks of no parameter that can't matter, and words nothing that is only tried."""

import pytest

from parts.spec import is_wordless, length, trying
from parts.spec.advice import way_out
from parts.spec.parameters import Parameters


class Slotted(Parameters):
    """A hole in a strip, and a length that has nothing to do with it."""

    hole: float = length("Hole", default=10, minimum=1, maximum=50)
    strip: float = length("Strip", default=30, minimum=5, maximum=200)
    tail: float = length("Tail", default=30, minimum=5, maximum=200)

    def problems(self):
        """The hole's first, then the tail's."""
        yield from self.under("hole", self.strip, "in the strip")
        yield from self.at_most("tail", 100.0)


class Framed(Slotted):
    """A hole that the narrower of strip and frame leaves no room, and a flap under it that may be left out."""

    frame: float = length("Frame", default=150, minimum=5, maximum=200)
    flap: float = length("Flap", default=0, minimum=0, maximum=60)

    def problems(self):
        """The hole's; one flap is as bad as another."""
        yield from self.under("hole", min(self.strip, self.frame) - (30 if self.flap else 0), "in the strip")


def asked_of(parameters, names):
    """The advice on a hole, and the changes that were tried in search of it."""
    tried, changed = [], type(parameters).changed

    def noting(self, **values):
        tried.append(values)
        return changed(self, **values)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(type(parameters), "changed", noting)
        return way_out(parameters, "hole", parameters.hole, names), [values for values in tried if values]


def test_what_is_not_read_before_the_fault_is_not_tried():
    tight = Slotted.read_singly({"hole": "40"})
    advice, tried = asked_of(tight, ["strip", "tail"])
    assert advice == ("make “Strip” 41 mm or more", {"strip": "41 mm"})
    assert {name for values in tried for name in values} == {"strip"}


def test_a_way_along_which_no_room_is_won_is_left_and_the_other_followed_to_where_there_is_enough():
    advice, tried = asked_of(Framed.read_singly({"hole": "40"}), ["strip", "frame"])
    assert advice == ("make “Strip” 41 mm or more", {"strip": "41 mm"})
    assert [values for values in tried if "frame" in values] == [
        {"frame": pytest.approx(150 - 145 / 36)},
        {"frame": pytest.approx(150 + 50 / 36)},
    ]
    assert len(tried) <= 9


def test_what_isn_t_mended_by_less_of_it_may_be_by_none():
    tight = Framed.read_singly({"hole": "20", "flap": "40"})
    assert asked_of(tight, ["flap"])[0] == ("make “Flap” 0 mm", {"flap": "0 mm"})


def test_a_problem_without_words_tells_how_far_a_limit_is_passed():
    with trying(worded=False):
        (problem,) = Slotted.read_singly({"hole": "40"}).problems()
    assert (problem.parameter, problem.message) == ("hole", "in the strip")
    assert problem.by == pytest.approx(10)


def test_a_watched_copy_notes_what_is_read_and_draws_the_same():
    tight = Slotted.read_singly({"hole": "40"})
    seen, notes = tight.watched()
    with trying(worded=False):
        assert next(iter(seen.problems())).parameter == "hole"
    assert {"hole", "strip"} <= notes.read
    assert "tail" not in notes.read
    assert list(seen.problems()) == list(tight.problems())
    assert seen.changed(strip=50.0).strip == 50.0


def test_what_is_only_tried_is_named_without_a_sentence():
    tight = Slotted.read_singly({"hole": "40"})
    with trying(worded=False):
        assert is_wordless()
        assert [(p.parameter, p.value) for p in tight.problems()] == [("hole", "")]
    with trying():
        assert [(p.parameter, p.value) for p in tight.problems()] == [("hole", "40 mm")]

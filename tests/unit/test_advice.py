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


def asked_of(parameters, names):
    """The advice on a hole, and the parameters that were changed in search of it."""
    tried, changed = set(), Slotted.changed

    def noting(self, **values):
        tried.update(values)
        return changed(self, **values)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Slotted, "changed", noting)
        return way_out(parameters, "hole", parameters.hole, names), tried


def test_what_is_not_read_before_the_fault_is_not_tried():
    tight = Slotted.read_singly({"hole": "40"})
    assert asked_of(tight, ["strip", "tail"]) == ("make “Strip” 41 mm or more", {"strip"})


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

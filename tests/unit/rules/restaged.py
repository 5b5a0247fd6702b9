"""The same profile drawn another way: turned, moved, mirrored, loops reversed or begun elsewhere, segments split."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import strategies as st

from parts.cutting.process import cut_for
from parts.geometry.loop import Loop
from parts.geometry.motion import mirror, rotation, translation
from parts.geometry.segment import Arc, Line
from parts.profile import Profile
from tests.jobs import MACHINE, job

CUT = replace(
    cut_for("air-plasma", "mild-steel", 6.0), kerf_mm=2.0, narrowest_bridge_mm=6.0, straight_strip_mm=30.0
)  # set here, so that a change of the data changes no expectation
JOB = job(CUT, machine=replace(MACHINE, slat_pitch=75.0))

WITHOUT_HEAT = frozenset({"waterjet"})
"""The processes that bring no heat into the plate."""

angles = st.floats(-math.pi, math.pi)
shifts = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


@st.composite
def restagings(draw):
    """A function that draws a profile another way, and one that takes its points along."""
    motions = [rotation(draw(angles)), translation(*draw(shifts))]
    if draw(st.booleans()):
        motions.append(mirror((3.0, 4.0), draw(angles)))
    seed, reverse = draw(st.integers(0, 2**16)), draw(st.booleans())

    def place(point):
        for motion in motions:
            point = motion.point(point)
        return point

    def loop(given: Loop) -> Loop:
        pieces = [piece for k, segment in enumerate(given.segments) for piece in _split(segment, (seed + 7 * k) % 5)]
        begin = seed % len(pieces)
        whole = Loop(tuple(pieces[begin:] + pieces[:begin]))
        return whole.reversed() if reverse else whole

    def profile(given: Profile) -> Profile:
        for motion in motions:
            given = given.moved(motion)
        inside = tuple(replace(opening, loop=loop(opening.loop)) for opening in given.inside)
        return Profile(tuple(loop(outside) for outside in given.outside), inside, given.marks)

    return profile, place


def _split(segment, kind):
    """A segment as it is, or as two: at a third or a half of it."""
    fraction = (0.0, 1 / 3, 0.0, 0.5, 0.0)[kind]
    if not fraction or segment.length < 0.01:
        return [segment]
    at = segment.at(fraction)
    if isinstance(segment, Line):
        return [Line(segment.start, at), Line(at, segment.end)]
    first, second = (math.tan(part * segment.sweep / 4) for part in (fraction, 1 - fraction))
    return [Arc(segment.start, at, first), Arc(at, segment.end, second)]


def assert_same_findings(check: Callable, profile: Profile, restaging) -> None:
    """What a rule says is the same, at the places the drawing took along."""
    drawn, place = restaging
    before, after = list(check(profile, JOB)), list(check(drawn(profile), JOB))
    assert [f.severity for f in after] == [f.severity for f in before]
    for old, new in zip(before, after, strict=True):
        assert (old.measured is None) == (new.measured is None)
        if old.measured is not None:
            assert new.measured == pytest.approx(old.measured, abs=1e-6)
            assert new.limit == pytest.approx(old.limit, abs=1e-6)
        expected = sorted(place(point) for point in (old.at, *old.also))
        for point in expected:
            assert min(math.dist(point, other) for other in (new.at, *new.also)) < 1e-5
        assert len(new.also) == len(old.also)

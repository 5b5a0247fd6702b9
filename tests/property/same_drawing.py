"""Other drawings of one part: turned, moved, mirrored, its segments split in two, its loops walked the other way.

What a rule finds must not depend on any of it, but for where it is.
"""

import math
from dataclasses import replace

from hypothesis import strategies as st

from parts.geometry.loop import Loop
from parts.geometry.motion import mirror, rotation, translation
from parts.geometry.segment import Arc, Line
from parts.profile import Bend

SAME_MM = 1e-6


def split(segment):
    """Two segments that lie on one."""
    middle = segment.at(0.4)
    if isinstance(segment, Line):
        return Line(segment.start, middle), Line(middle, segment.end)
    bulges = (math.tan(share * segment.sweep / 4) for share in (0.4, 0.6))
    ends = (segment.start, middle), (middle, segment.end)
    return tuple(Arc(*end, bulge) for end, bulge in zip(ends, bulges, strict=True))


def split_loop(loop):
    return Loop(tuple(half for segment in loop.segments for half in split(segment)))


@st.composite
def drawings(draw):
    """A way to draw a profile anew, and the motion that takes places of the old one to those of the new."""
    turn = draw(st.sampled_from([0.0, math.pi / 2, math.pi]) | st.floats(0, 2 * math.pi))
    moves = [rotation(turn), translation(draw(st.floats(-500, 500)), draw(st.floats(-500, 500)))]
    if draw(st.booleans()):
        moves.insert(0, mirror((0, 0), 0.0))
    splits, backward = draw(st.booleans()), draw(st.booleans())

    def drawn(profile):
        for motion in moves:
            profile = profile.moved(motion)
        change = (lambda loop: split_loop(loop)) if splits else (lambda loop: loop)
        turned = (lambda loop: change(loop).reversed()) if backward else change
        marks = [
            replace(mark, line=half) if isinstance(mark, Bend) else mark
            for mark in profile.marks
            for half in (split(mark.line) if isinstance(mark, Bend) and splits else [getattr(mark, "line", None)])
        ]
        return replace(
            profile,
            outside=tuple(turned(loop) for loop in profile.outside),
            inside=tuple(replace(opening, loop=turned(opening.loop)) for opening in profile.inside),
            marks=tuple(marks),
        )

    def place(p):
        for motion in moves:
            p = motion.point(p)
        return p

    return drawn, place


def assert_same(found, again, place):
    """What was found again is what was found, at the places it was moved to."""
    assert len(again) == len(found)
    for old, new in zip(found, again, strict=True):
        assert (old.rule, old.severity, len(old.also)) == (new.rule, new.severity, len(new.also))
        if old.measured is not None:
            assert abs(old.measured - new.measured) <= SAME_MM
        places = [place(p) for p in (old.at, *old.also)]
        for p in (new.at, *new.also):
            assert min(math.dist(p, other) for other in places) <= SAME_MM

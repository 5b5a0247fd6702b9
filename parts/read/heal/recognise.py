"""Recognise: loops that stand for circles, and chains of chords that stand for arcs, drawn as what they are."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from parts.geometry import Arc, Loop
from parts.read.circles import as_loop, round_loop, with_arcs
from parts.read.heal.mend import Mend


@dataclass(slots=True)
class Recognised:
    """What was recognised: each circle, of chords alone or of whatever else, and how many chords of other outlines."""

    of_chords: list[Mend] = field(default_factory=list)
    circles: list[Mend] = field(default_factory=list)
    chords: Counter[str] = field(default_factory=Counter)


def together(found: Iterable[Recognised]) -> Recognised:
    """Return what was recognised in several sets of loops, as of one."""
    every = Recognised()
    for one in found:
        every.of_chords += one.of_chords
        every.circles += one.circles
        every.chords += one.chords
    return every


def recognised(loop: Loop, tolerance: float, found: Recognised) -> Loop:
    """Return the loop with circles and arcs in place of what stands for them, noted in `found`."""
    if loop.circle:
        return loop
    if known := round_loop(loop, tolerance):
        mend = Mend("circle", known.off_mm, known.circle.centre)
        if any(isinstance(segment, Arc) for segment in loop.segments):
            found.circles.append(mend)
        else:
            found.of_chords.append(mend)
            found.chords["chords"] += len(loop.segments)
        return as_loop(known.circle)
    new = with_arcs(loop)
    if new is not loop:
        found.chords["loops"] += 1
        found.chords["chords"] += len(loop.segments) - len(new.segments)
    return new

"""Sentences: what was healed on reading a drawing, and findings for what couldn't be."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

from parts.finding import Finding
from parts.geometry import Point, distance, meeting_points, self_contact
from parts.read.counting import counted, worded
from parts.read.heal.chains import OpenChain
from parts.read.heal.mend import Kind, Mend
from parts.read.heal.recognise import Recognised
from parts.read.limits import MOST_FINDINGS, Budget
from parts.tolerance import CURVE_FIT_MM, HEAL_MM, SAME_END_MM, SLIP_MM, SLIP_SHARE
from parts.units import Units, format_figures, format_length

RULE = "loops"
"""An open chain is what the rule for loops would find, could an open chain be a loop (`parts.spec.faults`)."""
READING = "reading"
"""The rule of findings about the file itself."""

_EACH = 6  # sizes that stand in a sentence one by one; more of them only in the JSON
_MOST_CROSSED = 60  # lines of a chain whose crossings are looked for
_MOST_ENDS = 2000  # open ends beyond which nobody needs the distance from each to the next


def short(mm: float, units: Units) -> str:
    """Return a small length: to a thousandth of a mm, and never as zero."""
    return f"less than {format_length(0.001, 'mm')}" if mm < 0.001 else format_length(mm, units)


_DONE: dict[Kind, tuple[str, str, str, str]] = {
    "gap": ("joined", "gap", "gaps", "of"),
    "double": ("dropped", "doubled line", "doubled lines", "off by"),
    "outline": ("dropped", "outline drawn twice", "outlines drawn twice", "off by"),
    "stray": ("dropped", "stray line", "stray lines", "of"),
    "tail": ("trimmed", "loose end", "loose ends", "of"),
    "jog": ("evened out", "step or spike", "steps or spikes", "of"),
    "circle": ("knew", "full circle", "full circles", "off by"),
}
"""What was done to how many of what, and how their sizes are told."""


def healing(mends: Sequence[Mend], no_length: int, units: Units) -> Iterator[str]:
    """Yield what was put right in the lines themselves, and by how much at most."""
    for kind, (done, thing, things, sized) in _DONE.items():
        sizes = [mend.size_mm for mend in mends if mend.kind == kind]
        if sizes:
            yield f"{done} {counted(len(sizes), thing, things)}" + _sized(sized, sizes, units)
    if no_length:
        yield f"dropped {counted(no_length, 'line')} of no length"


def _sized(sized: str, sizes: Sequence[float], units: Units) -> str:
    """How large things are, or how far off, each of a few; nothing of what is drawn over another exactly."""
    if max(sizes) <= SAME_END_MM:
        return ""
    largest = short(max(sizes), units)
    upto = f" {sized} {largest if ' than ' in largest else f'up to {largest}'}"
    each = [short(size, units) for size in sorted(sizes)]
    return f"{upto} ({', '.join(each)})" if 1 < len(each) <= _EACH else upto


def hidden(counts: Counter[str]) -> Iterator[str]:
    """Yield what was passed over because the drawing itself doesn't show it."""
    for why, count in counts.items():
        if count:
            yield worded(count, f"passed over {{n}} [entity|entities] {why}")


def chosen(left_out: int) -> Iterator[str]:
    """Yield what was left out as someone chose."""
    if left_out:
        yield f"left out {counted(left_out, 'outline')}, as chosen"


def chords(found: Recognised, units: Units) -> Iterator[str]:
    """Yield what chains of chords were read as, and how far circles are off them."""
    circles, loops = found.of_chords, found.chords["loops"]
    off = _sized("off by", [mend.size_mm for mend in circles], units) if circles else ""
    said = [f"{counted(len(circles), 'full circle')}{off}" if circles else ""]
    said.append(f"arcs in {counted(loops, 'outline')}" if loops else "")
    if found.chords["chords"]:
        yield f"read {found.chords['chords']:,} short chords as {' and '.join(filter(None, said))}"


def curves(fitted: Counter[str]) -> Iterator[str]:
    """Yield what stands for the drawing's curves."""
    if fitted["circles"]:
        yield worded(fitted["circles"], "read {n} closed curve[|s] as [a full circle|full circles]")
    kinds = [kind for kind in ("spline", "ellipse", "curve") if fitted[kind]]
    if kinds:
        said = " and ".join(counted(fitted[kind], kind) for kind in kinds)
        pieces = counted(fitted["arcs"], "arc or line", "arcs and lines")
        yield f"read {said} as {pieces} within {format_figures(CURVE_FIT_MM)}"


def open_findings(
    chains: Sequence[OpenChain], units: Units, budget: Budget, tolerance: float = HEAL_MM
) -> Iterator[Finding]:
    """Yield a finding for each gap between open ends, each tail, and each point where lines fork."""
    found = [*_at_forks(chains), *_at_gaps(chains, units, tolerance, budget)]
    found += [*_at_tails(chains, units), *_empty(chains)]
    yield from found[:MOST_FINDINGS]
    if len(found) > MOST_FINDINGS:
        rest = len(found) - MOST_FINDINGS
        yield Finding(
            RULE, "stop", found[MOST_FINDINGS].at, None, tolerance,
            worded(rest, "There [is|are] {n} more place[|s] where [a line is|lines are] open."),
            "Put what isn't cut on a layer of its own, named SCRIBE or CONSTRUCTION, or leave it out.",
        )  # fmt: skip


def _at_gaps(chains: Sequence[OpenChain], units: Units, tolerance: float, budget: Budget) -> Iterator[Finding]:
    unclosed = [c for c in chains if c.why == "open"]
    ends = [end for c in unclosed for end in (c.segments[0].start, c.segments[-1].end)]
    nearest = [_nearest(ends, i, budget) if len(ends) <= _MOST_ENDS else None for i in range(len(ends))]
    lengths = [sum(segment.length for segment in chain.segments) for chain in unclosed]
    lone = [_is_lone(i, other, ends, lengths, tolerance) for i, other in enumerate(nearest)]
    for i, (end, other) in enumerate(zip(ends, nearest, strict=True)):
        gap = None if other is None else distance(end, ends[other])
        if lone[i]:
            if i % 2 == 0 or not lone[i ^ 1]:
                yield _joins_nothing(end, lengths[i // 2], "at either end" if lone[i ^ 1] else "here", units)
            continue
        if other is not None and nearest[other] == i and other < i:
            continue  # said at the other end
        if gap is not None and gap <= tolerance + 2 * SAME_END_MM:
            gap = None  # a third line at ends that were joined
        measured = "" if gap is None else f" by {_beyond(gap, tolerance, units)}"
        yield Finding(
            RULE, "stop", end, gap, tolerance, f"The outline is open here{measured}.",
            f"Draw the ends together; gaps of up to {short(tolerance, units)} are joined on reading. "
            "If this line isn't cut, put it on a layer named SCRIBE, or leave it out.",
        )  # fmt: skip


def _beyond(gap: float, tolerance: float, units: Units) -> str:
    """A gap that is wider than the tolerance, told so that it shows."""
    said = short(gap, units)
    return f"a little more than {said}" if said == short(tolerance, units) else said


def _is_lone(i: int, other: int | None, ends: Sequence[Point], lengths: Sequence[float], tolerance: float) -> bool:
    """Tell whether no other end is near enough to be meant for this one.

    So it is where the nearest is that of the same straight line, or another line's by more than a slip of the hand.
    """
    if other is None:
        return False
    gap, length = distance(ends[i], ends[other]), lengths[i // 2]
    if other == i ^ 1:
        return gap > length - tolerance
    return gap > max(SLIP_MM, SLIP_SHARE * min(length, lengths[other // 2]))


def _joins_nothing(end: Point, length: float, where: str, units: Units) -> Finding:
    return Finding(
        RULE, "stop", end, length, None, f"This line joins nothing {where}, {short(length, units)} long.",
        "If it isn't cut, put it on a layer named SCRIBE, or leave it out; else draw the rest of its outline.",
    )  # fmt: skip


def _nearest(ends: Sequence[Point], i: int, budget: Budget) -> int | None:
    budget.time()
    others = [j for j in range(len(ends)) if j != i]
    return min(others, key=lambda j: distance(ends[i], ends[j])) if others else None


def _at_tails(chains: Sequence[OpenChain], units: Units) -> Iterator[Finding]:
    for c in chains:
        if c.why == "tail":
            length = sum(segment.length for segment in c.segments)
            yield Finding(
                RULE, "stop", c.at, length, None, f"A line hangs loose from the outline, {short(length, units)} long.",
                "Trim it off; if it is to be marked, put it on a layer named SCRIBE.",
            )  # fmt: skip


def _empty(chains: Sequence[OpenChain]) -> Iterator[Finding]:
    for c in chains:
        if c.why == "empty":
            yield Finding(
                RULE, "stop", c.at, None, None,
                f"The line from here comes back to its start but encloses nothing: it {_how_empty(c)} itself.",
                "Draw the outline once around the metal, without crossing it.",
            )  # fmt: skip


def _how_empty(chain: OpenChain) -> str:
    """How a chain that encloses nothing meets itself: across, or back over itself, as it does where it is long."""
    segments = chain.segments
    if len(segments) <= _MOST_CROSSED:
        for i, j in combinations(range(len(segments)), 2):
            for at in meeting_points(segments[i], segments[j]):
                if self_contact(segments, at) == "crosses":
                    return "crosses"
    return "runs back over"


def _at_forks(chains: Sequence[OpenChain]) -> Iterator[Finding]:
    forks = Counter(c.at for c in chains if c.why == "fork")
    for at, count in forks.items():
        meeting = f"{count} lines meet" if count > 1 else "Lines meet"
        yield Finding(
            RULE, "stop", at, None, None,
            f"{meeting} here, so it can't be told which way the outline runs.",
            "Leave only the two that make one outline; give neighbouring parts an outline each, with a gap between.",
        )  # fmt: skip

"""Reading a drawing: the steps from a file's bytes to a profile, on one screen.

bytes -> raw strokes (`dxf`, `svg`) -> lines and arcs in mm (`outlines`, `curves`) -> cut or mark (`marks`)
-> loops (`heal`: `net`, `overlaps`, `chains`) -> circles known as such (`circles`) -> sides (`nest`).
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath

from parts.errors import GeometryError, Unreadable
from parts.finding import Finding
from parts.geometry import Loop, Motion, Point, Segment, distance, translation
from parts.profile import Profile, Scribe
from parts.read import limits, sentences
from parts.read.circles import as_loop, round_loop, with_arcs
from parts.read.file_kind import reader_of
from parts.read.heal.healing import Healed, heal
from parts.read.layers import role, side
from parts.read.limits import Budget, shown
from parts.read.marks import sort_by_layer
from parts.read.nest import nest
from parts.read.outlines import FAR_MM, outlines
from parts.read.raw import Raw
from parts.read.scale import contradiction, decided
from parts.units import Units, format_distance
from parts.workers import TimeUp, clock

_LONGEST_NAME = 60


@dataclass(frozen=True)
class ReadDrawing:
    """A drawing as read: lower left of its outside loops at the origin, mm.

    `healed` are sentences of what was put right; `findings` are what isn't harmless, a `stop` for each place
    where an outline is open. `open` are the chains that closed no loop, to be shown: they are no part of the
    profile, whose `outside` is empty where nothing closed. `segments` counts lines and arcs, marks included.
    A drill centre drawn as a point has diameter 0: the file doesn't say it.
    """

    profile: Profile
    units: Units
    healed: tuple[str, ...]
    findings: tuple[Finding, ...]
    segments: int
    open: tuple[tuple[Segment, ...], ...] = ()


def read_drawing(data: bytes, filename: str, units: Units | None = None) -> ReadDrawing:
    """Return what a DXF or SVG file draws.

    Args:
        data: the file's bytes; what they are is told by them, not by the name.
        filename: what to call it in sentences.
        units: what one drawing unit is, where the file doesn't say; where it says something else, this is
            followed, with a finding.

    Raises:
        Unreadable: if it is broken, hostile, too large, or holds nothing to cut.
        Refused: if it doesn't say its units and `units` is None; the problem's parameter is `units`.
    """
    printable = "".join(c if c.isprintable() else "?" for c in PurePath(filename).name)
    name = printable[-_LONGEST_NAME:] or "The file"
    try:
        return _in_time(data, name, units)
    except Unreadable as error:
        raise Unreadable(f"{name} can't be read: {error}.") from error
    except (ArithmeticError, GeometryError) as error:  # numbers that only a broken file holds
        raise Unreadable(f"{name} can't be read: the numbers in it make no lines.") from error


def _in_time(data: bytes, name: str, units: Units | None) -> ReadDrawing:
    try:
        with clock(limits.LONGEST_S):
            return _read(data, name, units, Budget())
    except TimeUp:
        raise limits.too_slow() from None


def _read(data: bytes, name: str, units: Units | None, budget: Budget) -> ReadDrawing:
    read, misnamed = reader_of(data, name)
    raw = read(data, budget)
    scale = decided(raw, units, name, budget)
    drawn = outlines(raw, scale.unit_mm, budget)
    by_layer = sort_by_layer(drawn.chains, drawn.spots)
    if not by_layer.cut:
        raise Unreadable(_nothing_to_cut(raw, bool(by_layer.marks)))
    healed = heal(by_layer.cut, budget)
    loops, recognised = _recognised(healed.loops)
    outside, inside = nest(loops, budget)
    profile = Profile(outside, inside, tuple(by_layer.marks))
    corner = _corner(profile, healed)
    seat = translation(-corner[0], -corner[1])
    texts = (item for item in raw.left_out if role(item.layer) != "aside")
    findings = (
        *sentences.open_findings(healed.open, scale.units, budget),
        *contradiction(raw, scale),
        *sentences.left_out_findings(texts, drawn.moved_by, scale.unit_mm),
        *by_layer.findings,
        *_far(corner, drawn.moved_by),
    )
    return ReadDrawing(
        profile=profile.seated() if outside else profile.moved(seat),
        units=scale.units,
        healed=(
            *([misnamed] if misnamed else []),
            *sentences.hidden(raw.hidden),
            *by_layer.said,
            *sentences.curves(drawn.fitted),
            *recognised,
            *sentences.healing(healed, drawn.no_length, scale.units),
        ),
        findings=tuple(replace(finding, at=seat.point(finding.at)) for finding in findings),
        segments=_count(profile),
        open=tuple(_moved(chain.segments, seat) for chain in healed.open),
    )


def _recognised(loops: Sequence[tuple[Loop, str]]) -> tuple[list[tuple[Loop, str]], list[str]]:
    """The loops with circles and arcs in place of many chords; those on our own layers as they are."""
    done: list[tuple[Loop, str]] = []
    count: Counter[str] = Counter()
    for loop, layer in loops:
        if side(layer) is None:
            circle = round_loop(loop)
            new = as_loop(circle) if circle else with_arcs(loop)
            if new is not loop:
                count["circles" if circle else "loops"] += 1
                count["chords"] += len(loop.segments) - (0 if circle else len(new.segments))
            done.append((new, layer))
        else:
            done.append((loop, layer))
    return done, list(sentences.chords(count))


def _corner(profile: Profile, healed: Healed) -> Point:
    """The lower left of the outside loops, or of whatever was to be cut where none closed."""
    boxes = [loop.box for loop in profile.outside]
    boxes = boxes or [segment.box for chain in healed.open for segment in chain.segments]
    boxes = boxes or [opening.loop.box for opening in profile.inside]
    return min(box[0] for box in boxes), min(box[1] for box in boxes)


def _far(corner: Point, moved_by: Point) -> Iterator[Finding]:
    away = distance(corner, moved_by)
    if away > FAR_MM:
        yield Finding(
            sentences.READING, "note", corner, None, None,
            f"The part lies {format_distance(away)} from the drawing's origin and was moved to it.",
            "Look whether anything else lies far off, and whether the drawing's units are right.",
        )  # fmt: skip


def _nothing_to_cut(raw: Raw, marked: bool) -> str:
    kinds = sorted({item.kind for item in raw.left_out})
    if marked:
        return "it holds marks and no outline; put the outline on a layer named OUTSIDE"
    if kinds:
        return f"it holds no lines or arcs to cut, only {shown(', '.join(kinds))}; draw the outline as lines and arcs"
    hidden = "; what it holds is on layers for other things, or hidden" if raw.strokes or raw.hidden else ""
    return f"it holds no lines or arcs to cut{hidden}"


def _moved(segments: Sequence[Segment], motion: Motion) -> tuple[Segment, ...]:
    return tuple(motion.segment(segment) for segment in segments)


def _count(profile: Profile) -> int:
    marked = sum(len(mark.path) if isinstance(mark, Scribe) else 1 for mark in profile.marks)
    return marked + sum(len(loop.segments) for loop in profile.boundary)

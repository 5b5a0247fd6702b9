"""Reading a drawing: the steps from a file's bytes to a profile, on one screen.

bytes -> raw strokes (`dxf`, `svg`) -> lines and arcs in mm (`outlines`, `curves`) -> cut or mark (`marks`)
-> loops (`heal`: `net`, `overlaps`, `chains`, `jogs`), circles known as such (`circles`) -> sides (`nest`).
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import PurePath
from typing import Unpack

from parts.errors import GeometryError, Unreadable
from parts.finding import Finding
from parts.geometry import Motion, Point, Segment, distance, translation
from parts.profile import Profile, Scribe
from parts.read import limits, passed_over, sentences
from parts.read.account import NO_ACCOUNT, Account, Choice, Loops, NothingToCut, account, choose, leave_out
from parts.read.affine import IDENTITY, Affine, scaling, shift
from parts.read.asked import Asked, More
from parts.read.border import border_findings
from parts.read.by_colour import by_colour
from parts.read.doubles import without_doubles
from parts.read.evidence import weighed
from parts.read.file_kind import reader_of
from parts.read.heal.healing import Healed, heal
from parts.read.heal.mend import Mend
from parts.read.heal.recognise import together
from parts.read.hidden_layers import chains_of, with_chosen
from parts.read.limits import Budget, shown
from parts.read.marks import sort_by_role
from parts.read.nest import nest
from parts.read.outlines import FAR_MM, outlines
from parts.read.raw import ON_PAPER, Raw
from parts.read.roles import Drawn, listed
from parts.read.scale import contradiction, decided
from parts.tolerance import HEAL_MM
from parts.units import Units, format_distance
from parts.workers import TimeUp, clock

_LONGEST_NAME = 60


@dataclass(frozen=True)
class ReadDrawing:
    """A drawing as read: lower left of its outside loops at the origin, mm.

    `healed` are sentences of what was put right; `findings` are what isn't harmless, a `stop` for each place
    where an outline is open. `open` are the chains that closed no loop, to be shown: they are no part of the
    profile, whose `outside` is empty where nothing closed. `segments` counts lines and arcs, marks included.
    A drill centre drawn as a point has diameter 0: the file doesn't say it. `mends` are one by one what `healed` sums
    up, none of them larger than `tolerance_mm`, but for a circle of many chords (`parts.read.circles`) and one that
    lacks the rounding of its angles (`parts.read.outlines`). `account` tells
    of the layers and outlines that were found, those left out too. `unit_mm` is what a drawing unit was taken for;
    `own` takes a point of the profile, mm, to the coordinates of the file, in its units.
    """

    profile: Profile
    units: Units
    healed: tuple[str, ...]
    findings: tuple[Finding, ...]
    segments: int
    open: tuple[tuple[Segment, ...], ...] = ()
    mends: tuple[Mend, ...] = ()
    tolerance_mm: float = HEAL_MM
    account: Account = NO_ACCOUNT
    unit_mm: float = 1.0
    own: Affine = IDENTITY


def _usual(_units: Units) -> float:
    return HEAL_MM


def read_drawing(
    data: bytes,
    filename: str,
    units: Units | None = None,
    tolerance: Callable[[Units], float] = _usual,
    **more: Unpack[More],
) -> ReadDrawing:
    """Return what a DXF or SVG file draws.

    Args:
        data: the file's bytes; what they are is told by them, not by the name.
        filename: what to call it in sentences.
        units: what one drawing unit is, where the file doesn't say; where it says something else, this is
            followed, with a finding.
        tolerance: what is healed up to, mm, asked for once the units of the drawing are known.
        more: as of `Asked`: `dpi`, `strokes`, `layers`, `outlines`, `said_in`.

    Raises:
        Unreadable: if it is broken, hostile, too large, or holds nothing to cut, which is `NothingToCut`.
        Refused: if it doesn't say its units and none are chosen, or has no such layer or outline; the problem's
            parameter is `units`, `layer` or `outline`.
    """
    printable = "".join(c if c.isprintable() else "?" for c in PurePath(filename).name)
    name = printable[-_LONGEST_NAME:] or "The file"
    try:
        return _in_time(data, name, Asked(units, **more), tolerance)
    except NothingToCut as error:
        raise NothingToCut(f"{name} can't be read: {error}.", error.account) from error
    except Unreadable as error:
        raise Unreadable(f"{name} can't be read: {error}.") from error
    except (ArithmeticError, GeometryError) as error:  # numbers that only a broken file holds
        raise Unreadable(f"{name} can't be read: the numbers in it make no lines.") from error


def _in_time(data: bytes, name: str, asked: Asked, tolerance: Callable[[Units], float]) -> ReadDrawing:
    try:
        with clock(limits.LONGEST_S):
            return _read(data, name, asked, tolerance, Budget())
    except TimeUp:
        raise limits.too_slow() from None


def _read(data: bytes, name: str, asked: Asked, tolerance: Callable[[Units], float], budget: Budget) -> ReadDrawing:
    read, misnamed = reader_of(data, name, asked)
    raw = with_chosen(by_colour(read(data, budget)), asked.layers)
    scale = decided(raw, asked.units, name, budget)
    tolerance_mm, spoken = tolerance(scale.units), asked.said_in or scale.units
    drawn = outlines(raw, scale.unit_mm, budget, tolerance_mm)
    hidden = chains_of(raw, scale.unit_mm, drawn.moved_by, budget)
    by_layer = Drawn(drawn.chains, drawn.spots, [item.layer for item in raw.left_out], hidden)
    roles = weighed(by_layer, asked.layers, partial(heal, tolerance=tolerance_mm), budget)
    choice = Choice(asked.outlines, scale.unit_mm, drawn.moved_by)
    elsewhere = choose(roles, choice)
    found = sort_by_role(roles, drawn.spots)
    healed = heal(found.cut, budget, tolerance_mm)
    loops, left_out = leave_out(healed.loops, choice, elsewhere)
    parts = Loops(loops, left_out)
    if not loops and not healed.open:
        held = account(raw, roles, parts, choice, translation(0.0, 0.0))
        raise NothingToCut(_nothing_to_cut(raw, bool(found.marks), held), held)
    outside, inside = nest(loops, budget)
    marks, doubled = without_doubles(found.marks, inside)
    profile = Profile(outside, inside, marks)
    corner = _corner(profile, healed)
    seat = translation(-corner[0], -corner[1])
    recognised = together([*roles.recognised, healed.recognised])
    mends = [*drawn.mends, *roles.mends, *healed.mends, *recognised.circles]
    cut = (stroke for stroke in raw.strokes if roles.of(stroke.layer) == "cut")
    told = [item for item in raw.left_out if roles.of(item.layer) != "aside"]
    findings = (
        *sentences.open_findings(healed.open, spoken, budget, tolerance_mm),
        *border_findings(loops, choice, spoken, budget),  # first of the reading's, whose way out is offered
        *contradiction(raw, scale),
        *passed_over.left_out_findings(told, drawn.moved_by, scale.unit_mm),
        *passed_over.wide_findings(cut, drawn.moved_by, scale.unit_mm),
        *found.findings,
        *_far(corner, drawn.moved_by),
    )
    return ReadDrawing(
        profile=profile.seated() if outside else profile.moved(seat),
        units=scale.units,
        healed=(
            *([misnamed] if misnamed else []),
            *sentences.hidden(raw.hidden),
            *raw.said,
            *passed_over.passed_over(item for item in raw.left_out if roles.of(item.layer) == "aside"),
            *found.said,
            *doubled,
            *sentences.chosen(len(left_out)),
            *sentences.curves(drawn.fitted),
            *sentences.chords(recognised, spoken),
            *sentences.healing(mends, drawn.no_length, spoken),
        ),
        findings=tuple(
            replace(finding, at=seat.point(finding.at), also=tuple(map(seat.point, finding.also)))
            for finding in findings
        ),
        segments=_count(profile),
        open=tuple(_moved(chain.segments, seat) for chain in healed.open),
        mends=tuple(replace(mend, at=seat.point(mend.at)) for mend in (*mends, *recognised.of_chords)),
        tolerance_mm=tolerance_mm,
        account=account(raw, roles, parts, choice, seat),
        unit_mm=scale.unit_mm,
        own=_own(raw, corner, drawn.moved_by, scale.unit_mm),
    )


def _corner(profile: Profile, healed: Healed) -> Point:
    """The lower left of the outside loops, or of whatever was to be cut where none closed."""
    boxes = [loop.box for loop in profile.outside]
    boxes = boxes or [segment.box for chain in healed.open for segment in chain.segments]
    boxes = boxes or [opening.loop.box for opening in profile.inside]
    return min(box[0] for box in boxes), min(box[1] for box in boxes)


def _own(raw: Raw, corner: Point, moved_by: Point, unit_mm: float) -> Affine:
    """What takes a point beside the part, mm, back to where the file has it."""
    there = shift(corner[0] - moved_by[0], corner[1] - moved_by[1])
    return raw.own.after(scaling(1 / unit_mm, 1 / unit_mm)).after(there)


def _far(corner: Point, moved_by: Point) -> Iterator[Finding]:
    away = distance(corner, moved_by)
    if away > FAR_MM:
        yield Finding(
            sentences.READING, "note", corner, None, None,
            f"The part lies {format_distance(away)} from the drawing's origin and was moved to it.",
            "Look whether anything else lies far off, and whether the drawing's units are right.",
        )  # fmt: skip


def _nothing_to_cut(raw: Raw, marked: bool, held: Account) -> str:
    aside = [row.name for row in held.layers if row.aside or row.chosen not in (None, "cut")]
    if aside:
        names = listed(aside)
        return f"nothing in it is left to cut; choose again what is cut of layer{'s' * (len(aside) > 1)} {names}"
    kinds = [
        passed_over.plural(kind) if n > 1 else kind for kind, n in sorted(Counter(i.kind for i in raw.left_out).items())
    ]
    if marked:
        return "it holds marks and no outline; put the outline on a layer named OUTSIDE"
    if kinds:
        return f"it holds no lines or arcs to cut, only {shown(', '.join(kinds))}; draw the outline as lines and arcs"
    if set(+raw.hidden) == {ON_PAPER}:
        return "all that it holds lies on a paper layout; draw the part in model space, at true size"
    hidden = "; what it holds is on layers for other things, or hidden" if raw.strokes or raw.hidden else ""
    return f"it holds no lines or arcs to cut{hidden}"


def _moved(segments: Sequence[Segment], motion: Motion) -> tuple[Segment, ...]:
    return tuple(motion.segment(segment) for segment in segments)


def _count(profile: Profile) -> int:
    marked = sum(len(mark.path) if isinstance(mark, Scribe) else 1 for mark in profile.marks)
    return marked + sum(len(loop.segments) for loop in profile.boundary)

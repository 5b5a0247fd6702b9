"""Own drawings: someone's DXF or SVG read, healed, and checked by every rule.

bytes -> reading (`parts.read`) -> findings of the reading and of the rules -> a part like any other, ready to be
written: what was healed stays healed in its files. It is of no template: it has only what every part has, its
stock, process, bed and file, and its working units are those of the drawing.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import PurePath
from time import thread_time
from typing import Any, cast

from parts.checking.asked import UNITS, Asked, read_units, read_values
from parts.checking.doubtful_units import doubts
from parts.checking.limited import NO_NUMBERS, found_within
from parts.checking.more_healing import with_more_healing
from parts.checking.of_svg import DPI, STROKES_CUT
from parts.checking.tolerance import TOLERANCE, most_healed, tolerance_of
from parts.cutting import Job, with_small_holes
from parts.errors import Problem, Refused, Unreadable
from parts.export import FORMATS as EVERY_FORMAT
from parts.export import json_content, json_of, json_segments
from parts.finding import UNITS_RULE, Finding, Verdict, verdict
from parts.geometry import Point, Segment
from parts.part import Part, assembled, job_of
from parts.profile import Profile
from parts.read import (
    IDENTITY,
    NO_ACCOUNT,
    Account,
    Affine,
    LayerRow,
    Mend,
    OutlineRow,
    ReadDrawing,
    read_drawing,
    said,
    shown,
)
from parts.rules import ordered
from parts.spec import Parameters, Template
from parts.tolerance import HEAL_MM
from parts.units import Units

SLUG = "own-drawing"
OF_DRAWINGS = (UNITS, TOLERANCE, DPI, STROKES_CUT)
"""What is said of the drawing and not of the part."""
FORMATS = tuple(ending for ending, each in EVERY_FORMAT.items() if each.of_drawings)
"""What a checked drawing can be written to."""

LONGEST_S = 4.0
"""Of work for reading and checking one drawing; the rules have what reading leaves, and at least LEAST_S."""
LEAST_S = 0.4
_AGAIN = 4  # times as long as the first look may it all take for a look at more healing
MOST_FINE_MM = 10.0
"""Places are told to two decimals of a drawing unit shorter than this, to three of a longer one."""
_NO_SIZES = "its lines and arcs are too small, too large or too close to one another to be measured"


@dataclass(frozen=True)
class Checked:
    """Someone's own drawing as a part, with sentences of what was put right in it.

    `open` are the chains of lines that close no outline, where they lie beside the part; they are in no file. `mends`
    are one by one what was put right in the lines, by no more than `tolerance_mm`. `account` tells what the drawing
    holds: its layers with their roles, and its outlines, those left out too. `own` takes a point of the part to the
    coordinates that the drawing itself has, in its own units of `unit_mm`.
    """

    part: Part
    healed: tuple[str, ...]
    open: tuple[tuple[Segment, ...], ...]
    mends: tuple[Mend, ...] = ()
    tolerance_mm: float = HEAL_MM
    account: Account = NO_ACCOUNT
    own: Affine = IDENTITY
    unit_mm: float = 1.0

    @property
    def closed(self) -> bool:
        """Whether any outline closes: without one there is nothing that a file could hold."""
        return bool(self.part.profile.outside)

    @property
    def stopped(self) -> bool:
        """Whether a finding says not to cut it."""
        return self.part.stopped

    @property
    def verdict(self) -> Verdict:
        """Whether it can be cut, in one line."""
        return verdict(self.part.record.rows)

    def place(self, finding: Finding) -> str:
        """Return where a finding is in the drawing's own coordinates: `at 120, 45 in the drawing`; "" of it all."""
        if finding.is_unchecked or finding.rule == UNITS_RULE:
            return ""
        decimals = 2 if self.unit_mm < MOST_FINE_MM else 3
        at = (round(v, decimals) + 0.0 for v in self.own.point(finding.at))
        x, y = (f"{v:.{decimals}f}".rstrip("0").rstrip(".") for v in at)
        return f"at {x}, {y} in the drawing"

    def at_drawing(self, at: Point) -> list[float]:
        """Return a place of the part in the drawing's own coordinates, mm."""
        return [v * self.unit_mm + 0.0 for v in self.own.point(at)]

    def file(self, kind: str, shows: str = "") -> bytes:
        """Return the healed drawing as the bytes of a file of one of `FORMATS`, which may show something else.

        Raises:
            Refused: if no outline closes, so that there is nothing to write but the findings; or the format doesn't
                show that.
        """
        if kind == "json" and not shows:
            return self.to_json().encode("utf-8")
        return self._written(kind.upper(), lambda: self.part.showing(shows).file(kind))

    def set_up(self, kind: str = "pdf") -> bytes:
        """Return the set-up sheet, `pdf` or `json`, as of a part that a template draws.

        Raises:
            Refused: if no outline closes, or the format is another.
        """
        return self._written("a set-up sheet", lambda: self.part.set_up(kind))

    def _written(self, what: str, made: Callable[[], bytes]) -> bytes:
        """What is made of the healed drawing, where there is one."""
        name = self.part.record.template.title
        if not self.closed:
            raise Refused((Problem("file", name, "has no outline that closes, so there is nothing to write of it."),))
        try:
            return made()
        except NO_NUMBERS as error:
            raise Refused((Problem("file", name, f"can't be written as {what}: {_NO_SIZES}."),)) from error

    def to_json(self) -> str:
        """Return all that is known of it as JSON text: a part's, and what was healed, found open, and left out.

        An outline is called by its box in the drawing's own units, and has `segments` where it is left out: what is
        cut is in `loops`.
        """
        content = cast(dict[str, Any], json_content(self.part.record))
        return json_of({
            **content,
            "findings": [self._told(row) for row in content["findings"]],
            "verdict": self.verdict.line,
            "unchecked": list(dict.fromkeys(f.rule for f in self.part.findings if f.is_unchecked)),
            "healed": list(self.healed),
            "open": [json_segments(chain) for chain in self.open],
            "tolerance_mm": self.tolerance_mm,
            "mends": [self._mend(each) for each in self.mends],
            "layers": [_layer(row) for row in self.account.layers],
            "outlines": [_outline(row) for row in self.account.outlines],
        })  # fmt: skip

    def _told(self, row: dict[str, Any]) -> dict[str, Any]:
        return {**row, "at_drawing": self.at_drawing(row["at"])}

    def _mend(self, mend: Mend) -> dict[str, Any]:
        at = {"at": list(mend.at), "at_drawing": self.at_drawing(mend.at)}
        return {"kind": mend.kind, "size_mm": mend.size_mm, **at}


def _layer(row: LayerRow) -> dict[str, Any]:
    return {**asdict(row), "role": row.role, "why": list(row.why)}


def _outline(row: OutlineRow) -> dict[str, Any]:
    own = {"outline": said(row.box), "layer": row.layer, "cut": row.cut, "chosen": row.chosen}
    return {**own, "box": list(row.seated), "segments": json_segments(row.segments)}


def check(
    data: bytes,
    filename: str,
    said_in: Units | None = None,
    /,
    *,
    layers: Iterable[str] = (),
    outlines: Iterable[str] = (),
    **values: Any,  # noqa: ANN401 - text or number, as a shop says it
) -> Checked:
    """Read and check a DXF or SVG drawing.

    Args:
        data: the file's bytes; what they are is told by them, not by the name.
        filename: what to call it.
        said_in: the units that sentences have their lengths in; the drawing's own unless given.
        layers: roles that were chosen, such as `BORDER=cut`: cut, scribe, bend, drill or aside.
        outlines: closed outlines that were chosen, by their boxes in the drawing's own units, cut or aside:
            `0,0,210,297=aside`.
        values: what every part has (`thickness="1/4 in"`, `process="laser"`), as of `parts.draw`; the thickness has
            to be among them. `units` is what a drawing unit is, needed where the file doesn't say; bare numbers are
            in the drawing's units. `tolerance` is the most that is healed. Of an SVG, `dpi` is how many pixels make
            an inch (96), and `strokes` what is cut of its strokes: their `outline`, their `middle`, or by width `auto`.

    Raises:
        Unreadable: if the file is broken, hostile, too large, or holds nothing to cut.
        Refused: if the values can't be, the thickness isn't given, the file doesn't say its units and `units`
            isn't given, or it has no such layer or outline.
    """
    given = {name: value for name, value in values.items() if name not in OF_DRAWINGS}
    start = thread_time()
    asked = Asked(values, tuple(layers), tuple(outlines), said_in)
    reading = _read(data, filename, given, asked)
    left = max(LONGEST_S - (thread_time() - start), LEAST_S)
    parameters = read_values(Parameters, {**given, UNITS: reading.units})
    job = replace(job_of(parameters), units=said_in or parameters.units)
    profile = with_small_holes(reading.profile, parameters.small_holes, job.cut)
    asking = () if read_units(values.get(UNITS)) else tuple(doubts(profile, reading.unit_mm, job))
    told = _found(reading, profile, job, left)
    if (thread_time() - start) * _AGAIN < LONGEST_S:
        told = with_more_healing(
            reading, told, most_healed(job), lambda mm: _read(data, filename, given, asked, exactly=mm)
        )
    found = (*asking, *ordered(told))
    named = template(PurePath(filename).name)
    try:
        part = assembled(named, parameters, profile, found, "", job)
    except NO_NUMBERS as error:
        raise Unreadable(f"{named.title} can't be checked: {_NO_SIZES}.") from error
    shown_open = Part(replace(part.record, open=reading.open))
    return Checked(
        shown_open, reading.healed, reading.open, reading.mends, reading.tolerance_mm, reading.account,
        reading.own, reading.unit_mm,
    )  # fmt: skip


def template(title: str) -> Template:
    """Return what stands for a template: it declares what every part has, and draws nothing."""
    return Template(SLUG, shown(title) or "Own drawing", Parameters, lambda _: Profile(()))


def _read(
    data: bytes, filename: str, given: Mapping[str, Any], asked: Asked, exactly: float | None = None
) -> ReadDrawing:
    """The drawing read; where its units are asked for, what else is wrong with the request is said as well.

    Healed is up to the tolerance that was asked for, or `exactly` so much.
    """

    def tolerance(units: Units) -> float:
        return exactly or tolerance_of(
            asked.values.get(TOLERANCE), job_of(read_values(Parameters, {**given, UNITS: units}))
        )

    try:
        return read_drawing(data, filename, read_units(asked.values.get(UNITS)), tolerance, **asked.more())
    except Refused as refused:
        if all(problem.parameter != UNITS for problem in refused.problems):
            raise
        try:
            read_values(Parameters, given)
        except Refused as more:
            raise Refused((*more.problems, *refused.problems)) from None
        raise


def _found(reading: ReadDrawing, profile: Profile, job: Job, seconds: float) -> tuple[Finding, ...]:
    """What reading and every rule found; no rule has many more findings than a person reads."""
    if not profile.outside:
        return reading.findings
    return (*reading.findings, *found_within(profile, job, seconds))

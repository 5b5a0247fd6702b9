"""Own drawings: someone's DXF or SVG read, healed, and checked by every rule.

bytes -> reading (`parts.read`) -> findings of the reading and of the rules -> a part like any other, ready to be
written: what was healed stays healed in its files. It is of no template: it has only what every part has, its
stock, process, bed and file, and its working units are those of the drawing.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath
from time import thread_time
from typing import Any, cast

from parts.checking.limited import NO_NUMBERS, found_within
from parts.cutting import Job
from parts.errors import Problem, Refused, UnitsError, Unreadable
from parts.export import FORMATS as EVERY_FORMAT
from parts.export import json_content, json_of, json_segments
from parts.finding import Finding
from parts.geometry import Segment
from parts.part import Part, assembled, job_of
from parts.profile import Profile
from parts.read import ReadDrawing, read_drawing, shown
from parts.rules import ordered
from parts.spec import Parameters, Template
from parts.spec import ReadingContext as Spoken
from parts.units import Units

SLUG = "own-drawing"
UNITS, THICKNESS = "units", "thickness"
HOW_THICK = "isn't given: say how thick the plate is, such as 6 mm, 3/16 in or 16 ga."
FORMATS = tuple(ending for ending, each in EVERY_FORMAT.items() if each.of_drawings)
"""What a checked drawing can be written to."""

LONGEST_S = 4.0
"""Of work for reading and checking one drawing; the rules have what reading leaves, and at least LEAST_S."""
LEAST_S = 0.4
_NO_SIZES = "its lines and arcs are too small, too large or too close to one another to be measured"


@dataclass(frozen=True)
class Checked:
    """Someone's own drawing as a part, with sentences of what was put right in it.

    `open` are the chains of lines that close no outline, where they lie beside the part; they are in no file.
    """

    part: Part
    healed: tuple[str, ...]
    open: tuple[tuple[Segment, ...], ...]

    @property
    def closed(self) -> bool:
        """Whether any outline closes: without one there is nothing that a file could hold."""
        return bool(self.part.profile.outside)

    @property
    def stopped(self) -> bool:
        """Whether a finding says not to cut it."""
        return any(finding.severity == "stop" for finding in self.part.findings)

    def file(self, kind: str) -> bytes:
        """Return the healed drawing as the bytes of a file of one of `FORMATS`.

        Raises:
            Refused: if no outline closes, so that there is nothing to write but the findings.
        """
        if kind == "json":
            return self.to_json().encode("utf-8")
        if not self.closed:
            name = self.part.record.template.title
            raise Refused((Problem("file", name, "has no outline that closes, so there is nothing to write of it."),))
        try:
            return self.part.file(kind)
        except NO_NUMBERS as error:
            what = self.part.record.template.title
            raise Refused((Problem("file", what, f"can't be written as {kind.upper()}: {_NO_SIZES}."),)) from error

    def to_json(self) -> str:
        """Return all that is known of it as JSON text: that of a part, with `healed` and the `open` chains."""
        return json_of({
            **json_content(self.part.record),
            "healed": list(self.healed),
            "open": [json_segments(chain) for chain in self.open],
        })  # fmt: skip


def check(data: bytes, filename: str, /, **values: Any) -> Checked:  # noqa: ANN401 - text or number, as a shop says it
    """Read and check a DXF or SVG drawing.

    Args:
        data: the file's bytes; what they are is told by them, not by the name.
        filename: what to call it.
        values: what every part has (`thickness="1/4 in"`, `process="laser"`), as of `parts.draw`; the thickness has
            to be among them. `units` is what a drawing unit is, needed where the file doesn't say; bare numbers are
            in the drawing's units.

    Raises:
        Unreadable: if the file is broken, hostile, too large, or holds nothing to cut.
        Refused: if the values can't be, the thickness isn't given, or the file doesn't say its units and `units`
            isn't given.
    """
    given = {name: value for name, value in values.items() if name != UNITS}
    start = thread_time()
    reading = _read(data, filename, given, values.get(UNITS))
    left = max(LONGEST_S - (thread_time() - start), LEAST_S)
    parameters = _read_values({**given, UNITS: reading.units})
    job = job_of(parameters)
    profile = reading.profile
    if parameters.small_holes == "drill":
        profile = profile.drilled_below(job.cut.smallest_hole_mm)
    found = _found(reading, profile, job, left)
    named = template(PurePath(filename).name)
    try:
        part = assembled(named, parameters, profile, found, "")
    except NO_NUMBERS as error:
        raise Unreadable(f"{named.title} can't be checked: {_NO_SIZES}.") from error
    return Checked(Part(replace(part.record, open=reading.open)), reading.healed, reading.open)


def template(title: str) -> Template:
    """Return what stands for a template: it declares what every part has, and draws nothing."""
    return Template(SLUG, shown(title) or "Own drawing", Parameters, lambda _: Profile(()))


def _read(data: bytes, filename: str, given: Mapping[str, Any], units: object) -> ReadDrawing:
    """The drawing read; where its units are asked for, what else is wrong with the request is said as well."""
    try:
        return read_drawing(data, filename, _units(units))
    except Refused as refused:
        try:
            _read_values(given)
        except Refused as more:
            raise Refused((*more.problems, *refused.problems)) from None
        raise


def _read_values(given: Mapping[str, Any]) -> Parameters:
    """The values read; how thick the plate is has to be said, since a drawing doesn't tell and every rule asks."""
    missing = () if str(given.get(THICKNESS) or "").strip() else (Problem(THICKNESS, "", HOW_THICK),)
    try:
        parameters = Parameters.read({name: value for name, value in given.items() if not missing or name != THICKNESS})
    except Refused as refused:
        raise Refused((*missing, *refused.problems)) from None
    if missing:
        raise Refused(missing)
    return parameters


def _units(asked: object) -> Units | None:
    """The units that are asked for; nothing and blank text leave it to the file."""
    if asked is None or not str(asked).strip():
        return None
    spec = Parameters.specs()[UNITS]
    try:
        return cast(Units, spec.read(asked, Spoken()))
    except UnitsError as error:
        raise Refused((Problem(UNITS, str(asked), str(error)),)) from error


def _found(reading: ReadDrawing, profile: Profile, job: Job, seconds: float) -> tuple[Finding, ...]:
    """What reading and every rule found, `stop` first; no rule has many more findings than a person reads."""
    if not profile.outside:
        return ordered(reading.findings)
    return ordered((*reading.findings, *found_within(profile, job, seconds)))

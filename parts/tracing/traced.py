"""Traced: bytes -> figure -> scaled and mounted -> held, mended, smoothed -> profile -> findings -> a part.

It is of no template's drawing: the file is, so no address alone draws it again.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath
from time import thread_time
from typing import Any, cast

from parts.artwork import Metal
from parts.artwork.pictures import Picture, Taken
from parts.artwork.pipeline import Made
from parts.checking import NO_NUMBERS, found_within, read_values
from parts.cutting import Job, with_small_holes
from parts.errors import Problem, Refused, Unreadable
from parts.export import FORMATS as EVERY_FORMAT
from parts.export import json_content, json_of
from parts.finding import Verdict, verdict
from parts.geometry import Arc, Box, Loop, Point, circle, distance, translation
from parts.part import Part, assembled, job_of
from parts.profile import Opening, Profile
from parts.read import shown
from parts.rules import ordered
from parts.spec import Template
from parts.tracing.figure import Figure, Source, named
from parts.tracing.mounting import Mounted, mounted, placed
from parts.tracing.photographed import by_rule, proved, unconfirmed
from parts.tracing.settings import Tracing
from parts.tracing.source import by_known, needs_size, source_of
from parts.tracing.steps import sentences, shares_of, worked
from parts.units import Units

SLUG = "own-outline"
HOW_THICK = "isn't given: say how thick the plate is, such as 3 mm, 1/8 in or 11 ga."
FORMATS = tuple(ending for ending, each in EVERY_FORMAT.items() if each.of_drawings)
"""What a traced part can be written to."""
OF_PICTURES = ("threshold", "shows")

LONGEST_S = 4.0
"""Of work for tracing and checking one file; the rules have what tracing leaves, and at least LEAST_S."""
LEAST_S = 0.4
_CLOSE_MM = 0.005  # as near as the size has to come to what is asked
_TURNS = 6
_SMOOTHED_AWAY = 0.005
"""Of the size, that smoothing may take or add; what is mended beyond that is told, not made up for."""


@dataclass(frozen=True)
class Traced:
    """Someone's outline as a part, with sentences of what was decided and done on the way.

    `corner` is where the part's origin lies in the file, mm from the file's lower left corner; `scale` what one of its
    units (a picture's pixel) measures in the part, `exact` how many times as large that is as what was `made`.
    """

    part: Part
    said: tuple[str, ...]
    made: Made
    scale: float
    corner: Point
    picture: Picture | None = None
    taken: Taken | None = None
    exact: float = 1.0

    def placed(self, at: Point) -> Point:
        """Return where in the part a place of what was `made` is."""
        return at[0] * self.exact - self.corner[0], at[1] * self.exact - self.corner[1]

    @property
    def stopped(self) -> bool:
        """Whether a finding says not to cut it."""
        return self.part.stopped

    @property
    def verdict(self) -> Verdict:
        """Whether it can be cut, in one line."""
        return verdict(self.part.record.rows)

    def on_photo(self, places: Sequence[Point]) -> list[Point]:
        """Return where in the photograph places of the part are seen, pixels from its upper left corner.

        Raises:
            ValueError: if it comes of no photograph.
        """
        if self.taken is None:
            raise ValueError("what was traced is no photograph with a sheet in it")
        flat = [((x + self.corner[0]) / self.scale, (y + self.corner[1]) / self.scale) for x, y in places]
        return [(float(x), float(y)) for x, y in self.taken.on_photo(flat)]

    def file(self, kind: str) -> bytes:
        """Return the part as the bytes of a file of one of `FORMATS`.

        Raises:
            Refused: if its numbers can't be written so.
        """
        if kind == "json":
            return self.to_json().encode("utf-8")
        try:
            return self.part.file(kind)
        except NO_NUMBERS as error:
            problem = Problem("file", self.part.record.template.title, f"can't be written as {kind.upper()}.")
            raise Refused((problem,)) from error

    def to_json(self) -> str:
        """Return all that is known of it as JSON text: a part's, and how it came of the file."""
        content = cast(dict[str, Any], json_content(self.part.record))
        return json_of({
            **content,
            "verdict": self.verdict.line,
            "unchecked": list(dict.fromkeys(f.rule for f in self.part.findings if f.is_unchecked)),
            "traced": {
                "said": list(self.said),
                "scale_mm": self.scale,
                "corner": list(self.corner),
                "deviation_mm": self.made.deviation_mm,
                "shares": shares_of(self.made, self.part.record.job),
                "bridges": [
                    {"start": list(self.placed(b.start)), "end": list(self.placed(b.end)), "width_mm": b.width_mm}
                    for b in self.made.bridges
                ],
                "changes": [
                    {"kind": c.kind, "at": list(self.placed(c.at)), "was_mm": c.was_mm, "moved_mm": c.moved_mm}
                    for c in self.made.changes
                ],
            },
        })  # fmt: skip


def trace(
    data: bytes,
    filename: str,
    said_in: Units | None = None,
    /,
    **values: Any,  # noqa: ANN401 - text or number, as a shop says it
) -> Traced:
    """Trace a picture, an SVG or a DXF, and check what came of it.

    Args:
        data: the file's bytes; what they are is told by them, not by the name.
        filename: what to call it.
        said_in: the units that sentences have their lengths in; the working units unless given.
        values: as of `Tracing`, and what every part has; the thickness has to be among them.

    Raises:
        Unreadable: if the file is broken, hostile, too large, or shows no shape.
        Refused: if the values can't be, or the thickness or the size isn't given.
    """
    start = thread_time()
    parameters = read_values(Tracing, values, HOW_THICK)
    job = replace(job_of(parameters), units=said_in or parameters.units)
    source = source_of(data, filename, parameters.sheet)
    source = by_known(source, parameters) if parameters.known else source
    figure, scale, on = _sized(source, parameters, filename)
    steps = _worked(on, figure, parameters, job, filename)
    profile, corner, exact = _profile(steps, on, parameters)
    profile = with_small_holes(profile, parameters.small_holes, job.cut)
    told = tuple(proved(figure, source.taken, scale, parameters)) if source.taken else ()
    told += (by_rule(parameters, source.unit_mm or scale),) if parameters.known else ()
    found = found_within(profile, job, max(LONGEST_S - (thread_time() - start), LEAST_S))
    of = template(PurePath(filename).name)
    try:
        part = assembled(of, parameters, profile, ordered((*unconfirmed(parameters), *found)), "", job)
    except NO_NUMBERS as error:
        raise Unreadable(f"{of.title} can't be traced: its numbers make no outline.") from error
    said = (*told, *figure.said, *sentences(steps, job))
    return Traced(part, said, steps, scale * exact, corner, source.picture, source.taken, exact)


def template(title: str) -> Template:
    """Return what stands for a template: it declares what is said of a traced part, and draws nothing."""
    return Template(SLUG, shown(title) or "Own outline", Tracing, lambda _: Profile(()))


def _worked(on: Mounted, figure: Figure, p: Tracing, job: Job, filename: str) -> Made:
    try:
        return worked(on, figure, p, job)
    except NO_NUMBERS as error:
        raise Unreadable(f"{named(filename)} can't be traced: nothing that can be cut is left of it.") from error


def _sized(source: Source, p: Tracing, filename: str) -> tuple[Figure, float, Mounted]:
    """What the file shows, mounted, at the scale that makes the whole as large as is asked for.

    Raises:
        Refused: if neither the file nor whoever asks says a size, or what is mounted takes all of it.
    """
    asked = p.width or p.height
    if not asked:
        if source.unit_mm is None:
            raise needs_size(source, filename)
        figure = source.at(source.unit_mm, p)
        return figure, source.unit_mm, mounted(figure.metal, p)
    wide, high = source.size
    scale = asked / max(wide if p.width else high, 1e-9)
    figure = source.at(scale if wide and high else 1.0, p)
    scale = scale if wide and high else 1.0
    for _ in range(_TURNS):
        scale, metal = _solved(figure.metal, scale, asked, p)
        figure = source.at(scale, p)
        if abs(_side(figure.metal, p) - _side(metal, p)) < _CLOSE_MM:
            break
    return figure, scale, mounted(figure.metal, p)


def _solved(metal: Metal, scale: float, asked: float, p: Tracing) -> tuple[float, Metal]:
    """The scale at which metal, drawn at a scale, is as large as asked once mounted, and the metal so large."""
    drawn, factor = metal, 1.0
    for _ in range(_TURNS):
        off = asked - _side(mounted(drawn, p).metal, p)
        if abs(off) < _CLOSE_MM / 2:
            break
        factor *= 1 + off / _side(drawn, p)
        if factor * _side(metal, p) < 1.0:
            name = "width" if p.width else "height"
            raise Refused((Problem(name, p.said(name), f"leaves no room for the shape on its {p.mount}."),))
        drawn = placed(metal, factor)
    return scale * factor, drawn


def _side(metal: Metal, p: Tracing) -> float:
    x0, y0, x1, y1 = metal.bounds
    return float(x1 - x0 if p.width else y1 - y0)


def _profile(steps: Made, on: Mounted, p: Tracing) -> tuple[Profile, Point, float]:
    """The loops as a profile with its lower left at the origin, hanging holes true circles.

    And where that was, and how many times as large it was made to have the size that was asked for.
    """
    exact = _exactly(Profile(steps.outside).box, p)
    hung = [(x * exact, y * exact) for x, y in on.holes]
    outside = tuple(_resized(loop, exact) for loop in steps.outside)
    inside = [Opening(_resized(loop, exact), "opening") for loop in steps.inside]
    inside = [each for each in inside if not _is_hung(each.loop, hung, p.hole)]
    inside += [Opening(circle(at, p.hole), "hanging hole", "hole") for at in hung]
    profile = Profile(outside, tuple(inside))
    x0, y0, *_ = profile.box
    return profile.moved(translation(-x0, -y0)), (x0, y0), exact


def _exactly(box: Box, p: Tracing) -> float:
    """How many times as large a smoothed outline has to be for its size to be what was asked: next to once."""
    x0, y0, x1, y1 = box
    asked, found = (p.width, x1 - x0) if p.width else (p.height, y1 - y0)
    return asked / found if asked and abs(asked / found - 1) < _SMOOTHED_AWAY else 1.0


def _resized(loop: Loop, times: float) -> Loop:
    """A loop so many times as large about the origin; what an arc turns stays."""
    bulges = (segment.bulge if isinstance(segment, Arc) else 0.0 for segment in loop.segments)
    starts = (segment.start for segment in loop.segments)
    return Loop.through((x * times, y * times, bulge) for (x, y), bulge in zip(starts, bulges, strict=True))


def _is_hung(loop: Loop, hung: Sequence[Point], wide: float) -> bool:
    x0, y0, x1, y1 = loop.box
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    return abs(x1 - x0 - wide) < wide / 4 and any(distance(middle, at) < wide / 4 for at in hung)

"""The pipeline on one screen: values, parameters, profile, findings, record, files."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any
from urllib.parse import quote, urlencode

from parts import pieces, shop
from parts.cached import cached_property
from parts.cutting import UNMEASURED, Bed, Job, Measures, Sheet, cut_for, machine, materials, measure, with_small_holes
from parts.errors import GeometryError, Problem, Refused
from parts.export import FORMATS, measuring_sheet, set_up_sheet
from parts.finding import Finding
from parts.forming import brake
from parts.profile import Bend, Profile
from parts.record import Record
from parts.remedy import Redrawn, Remedy, Solution, Trials, redraws_of, solved
from parts.rules import RULES_OF_SOUND_LOOPS, FindingsByRule, by_rule, findings, told
from parts.spec import Parameters, Template, Value, drawn, hurried, loop_faults, seated_outline, sound, trying
from parts.templates import FORMER, current, modules, template
from parts.truing import Compensation, Errors

if TYPE_CHECKING:
    from parts.export import BendSheet, MeasuringSheet

COMPENSATED_FORMATS = tuple(ending for ending, each in FORMATS.items() if each.compensable)
"""What a compensated part can be written to: what is cut, not what the part shall be."""
RICH = 60
"""Lines and arcs from which looking for findings takes longer than a person likes to wait: those of a part's boundary,
its marks, and of bends MUCH_A_BEND each, since the brake asks much."""
MUCH_A_BEND = 15


@dataclass(frozen=True, repr=False)
class Part:
    """One part: what was asked for, drawn and checked, ready to be written to a file."""

    record: Record

    def __repr__(self) -> str:  # a profile's segments in full would fill pages
        return f"<Part {self.record.address}>"

    @property
    def profile(self) -> Profile:
        """The loops and marks, lower left at the origin."""
        return self.record.profile

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules found, `stop` first."""
        return self.record.findings

    @property
    def stopped(self) -> bool:
        """Whether a finding says not to cut it."""
        return any(finding.severity == "stop" for finding in self.findings)

    @property
    def remedies(self) -> tuple[Remedy, ...]:
        """The change that mends it for each rule with a `stop` or a `warn`, where one may be taken unasked.

        None changes what mates with something else, or takes an opening from the part: those are `questions`.
        """
        return tuple(remedy for remedy in self.solved if not remedy.asks)

    @property
    def questions(self) -> tuple[Remedy, ...]:
        """The change that mends it for each rule that nothing else mends, each with what must be true to take it."""
        return tuple(remedy for remedy in self.solved if remedy.asks)

    @property
    def solved(self) -> tuple[Remedy, ...]:
        """The remedies and the questions, in the order of the findings; solved when first asked for."""
        return self.solution.remedies

    @cached_property
    def solution(self) -> Solution:
        """What is solved, and the rules for which more would have been tried, had a redraw taken less.

        A part that no template draws has none, nor has a compensated one, whose profile isn't what the rules judge.
        """
        record = self.record
        if record.template.slug not in modules() or record.compensation is not None:
            return Solution(())
        sight = Redrawn(record.profile, by_rule(record.findings), measured=lambda: record.measures)
        with shop.held(), trying(worded=False):  # a refusal on the way needs no advice, which takes long
            specs, became = record.specs, record.became
            redraws = redraws_of(record.profile, record.template.parameters.effort_with(record.parameters))
            trials = Trials(partial(_sight, record.template), record.parameters, sight, redraws, became)
            return solved(specs, trials, record.units)

    def mended(self, remedy: Remedy) -> "Part":
        """Return the part drawn again with a remedy of it taken."""
        return draw(self.record.template.slug, **{**self.record.parameters, **remedy.values})

    @property
    def pieces(self) -> tuple[str, ...]:
        """The names of the pieces that it is drawn in, and of its companions; none of what is one piece."""
        drawn = self.profile.pieces if len(self.profile.pieces) > 1 else ()
        return *drawn, *(companion.name for companion in self.record.companions)

    def piece(self, name: str) -> "Part":
        """Return one of its pieces, measured and judged alone, at the address of the whole; a companion at its own.

        Raises:
            Refused: there is no piece of that name, or the part is compensated.
        """
        if self.record.compensation:
            raise Refused((Problem("piece", name, "is of a compensated part: take the piece first."),))
        if name not in (known := self.pieces):
            have = f"is none of its pieces: {', '.join(known)}." if known else "is asked of one whole piece."
            raise Refused((Problem("piece", name, have),))
        if of_other := [each for each in self.record.companions if each.name == name]:
            return draw(of_other[0].slug, **pieces.values_of(self.record, of_other[0]))
        return Part(pieces.alone(self.record, name))

    def compensated(self, errors: Errors, label: str) -> "Part":
        """Return the part drawn the other way off, so that a table with these errors cuts it true.

        Its profile undoes the errors of scale and square, with notes on; findings, measures and all else stay
        those of the true part. It can be written to COMPENSATED_FORMATS, and each file says for which table it is.

        Args:
            errors: of the table; its kerf isn't in a drawing.
            label: the table's name.

        Raises:
            Refused: the label is unusable, an error too large, or the part compensated already.
        """
        record = self.record
        if record.compensation is not None:
            raise Refused((Problem("compensate", label, f"is one too many: {record.compensation.sentence}."),))
        made = Compensation(errors, label)
        return Part(replace(record, profile=made.profile(record.profile), notes=True, compensation=made))

    def flat(self) -> "Part":
        """Return the part with its solids as it is cut, before it is bent; of a plate they are the same."""
        return Part(replace(self.record, is_flat=True))

    def showing(self, shows: str) -> "Part":
        """Return the part with files that show something else than they do unless asked: `drawing`, `pattern`."""
        return Part(replace(self.record, shows=shows))

    def titled(self, said: Mapping[str, str]) -> "Part":
        """Return the part with what the title block says of this drawing: number, revision, issued and the like."""
        return Part(replace(self.record, title_block=said))

    @property
    def routine(self) -> tuple[Finding, ...]:
        """What always holds of a part of this size on a table like this, told outside the findings."""
        return self.record.routine

    @property
    def measures(self) -> Measures:
        """Size, area, mass, cut length, pierces."""
        return self.record.measures

    @property
    def cautions(self) -> tuple[str, ...]:
        """What can hurt someone, each a sentence."""
        return self.record.cautions

    def to_dxf(self) -> str:
        """Return the part as DXF text, in its version and working units."""
        return self._text("dxf")

    def to_svg(self) -> str:
        """Return the part as SVG text at true size."""
        return self._text("svg")

    def to_pdf(self) -> bytes:
        """Return the dimensioned drawing as a PDF.

        Raises:
            Refused: if the part is compensated: a drawing shows it as it shall be.
        """
        return self.file("pdf")

    def to_step(self) -> bytes:
        """Return the part as a STEP solid, a bent one folded; takes some seconds the first time.

        Raises:
            Refused: if the part is compensated: a solid shows it as it shall be.
        """
        return self.file("step")

    def to_json(self) -> str:
        """Return all that is known of the part as JSON text."""
        return self._text("json")

    def _text(self, kind: str) -> str:
        return self.file(kind).decode("utf-8")

    def measuring_sheet(self) -> "MeasuringSheet | BendSheet":
        """Return the sheet to measure the part by, once it is cut.

        Raises:
            Refused: its template is no test piece.
        """
        return measuring_sheet(self.record)

    def set_up(self, kind: str = "pdf") -> bytes:
        """Return the set-up sheet, for whoever stands at the table: `pdf` or `json`.

        Raises:
            Refused: the format is another, or the part is compensated.
            ValueError: the rules haven't looked at it.
        """
        return set_up_sheet(self.record, kind)

    def file(self, kind: str) -> bytes:
        """Return the part as the bytes of a file of one of `FORMATS`; text is UTF-8.

        Raises:
            Refused: the part is compensated and the format shows it as it shall be, or has nothing to say of it.
            ValueError: the rules haven't looked at it.
        """
        if not self.record.is_judged:
            raise ValueError("no file is made of a part that isn't checked")
        is_cut = kind in COMPENSATED_FORMATS and self.record.shows not in FORMATS[kind].others
        if self.record.compensation is not None and not is_cut:
            others = ", ".join(COMPENSATED_FORMATS)
            message = f"isn't written compensated, since it shows the part as it shall be; take one of {others}."
            raise Refused((Problem("format", kind, message),))
        data = FORMATS[kind].write(self.record)
        return data.encode("utf-8") if isinstance(data, str) else data


def draw(slug: str, /, **values: Any) -> Part:  # noqa: ANN401 - text or number, as a shop says it
    """Draw and check one part.

    Values are text as a fabricator writes it (`1-1/2 in`, `16 ga`), or plain numbers in mm and degrees.

    Raises:
        UnknownTemplate: if no template has this slug.
        Refused: if the values can't be drawn; `problems` names each parameter.
    """
    if slug in FORMER:
        slug, values = current(slug, values)
    chosen = template(slug)
    with shop.held():
        parameters = chosen.parameters.read(values)
        profile, found = _checked(chosen, parameters)
        return assembled(chosen, parameters, profile, found, address(slug, parameters.texts()))


def drafted(slug: str, /, **values: Any) -> Part:  # noqa: ANN401 - text or number, as a shop says it
    """Return one part as `draw` does, but of a rich one the outline alone: its record says it isn't judged.

    What takes long to draw is only sketched, which its record says too. Some values that `draw` refuses are then not.

    Raises:
        UnknownTemplate: if no template has this slug.
        Refused: as by `draw`, without what would mend it.
    """
    if slug in FORMER:
        slug, values = current(slug, values)
    chosen = template(slug)
    with shop.held(), hurried():
        if sketch := _sketched(chosen, values):
            return sketch
        parameters = chosen.parameters.read(values)
        job = job_of(parameters)
        at, profile = address(slug, parameters.texts()), seated_outline(chosen, parameters)
        if _richness(profile) >= RICH:
            part = assembled(chosen, parameters, _drilled(profile, parameters, job), None, at, job)
            return Part(replace(part.record, is_judged=False, is_sketch=False))
        profile = _drilled(sound(chosen, parameters, profile), parameters, job)
        return assembled(chosen, parameters, profile, findings(profile, job, RULES_OF_SOUND_LOOPS), at, job)


def _sketched(chosen: Template, values: Mapping[str, Any]) -> Part | None:
    """The sketch of a part, None where its template has none of these values."""
    if not chosen.sketch:
        return None
    parameters = chosen.parameters.read_singly(values)
    job = job_of(parameters)
    try:
        profile = chosen.sketch(parameters)
    except GeometryError:
        return None  # drawing it tells why
    if not profile:
        return None
    profile, at = profile.seated(), address(chosen.slug, parameters.texts())
    part = assembled(chosen, parameters, profile, None, at, job)
    return Part(replace(part.record, is_judged=False))


def _richness(profile: Profile) -> int:
    """How much there is for the rules to look at."""
    bends = sum(isinstance(mark, Bend) for mark in profile.marks)
    return sum(len(loop.segments) for loop in profile.boundary) + len(profile.marks) + (MUCH_A_BEND - 1) * bends


def outlined(slug: str, /, **values: Any) -> Profile:  # noqa: ANN401 - text or number, as a shop says it
    """Return the profile of one part without what the rules find of it, in a fraction of the time of `draw`.

    Raises:
        UnknownTemplate: if no template has this slug.
        Refused: as by `draw`, which refuses the same values.
    """
    if slug in FORMER:
        slug, values = current(slug, values)
    chosen = template(slug)
    with shop.held():
        parameters = chosen.parameters.read(values)
        return _outlined(chosen, parameters, job_of(parameters))


def _outlined(chosen: Template, parameters: Parameters, job: Job) -> Profile:
    """The profile a template draws, its small holes as asked."""
    return _drilled(drawn(chosen, parameters), parameters, job)


def _drilled(profile: Profile, parameters: Parameters, job: Job) -> Profile:
    """The profile with its small holes as asked."""
    return with_small_holes(profile, parameters.small_holes, job.cut)


def _checked(chosen: Template, parameters: Parameters) -> tuple[Profile, tuple[Finding, ...]]:
    """The profile a template draws, its small holes as asked, and what the rules find."""
    job = job_of(parameters)
    profile = _outlined(chosen, parameters, job)
    return profile, findings(profile, job, RULES_OF_SOUND_LOOPS)  # drawn has refused the rest


def _sight(chosen: Template, values: Mapping[str, Value], together: bool) -> Redrawn | None:
    """What is seen of a part drawn with other values, asked or not if they go together; None where they are refused."""
    try:
        parameters = chosen.parameters.read(values) if together else chosen.parameters.read_singly(values)
        job = job_of(parameters)
        outline = seated_outline(chosen, parameters)
    except Refused:
        return None
    except (ArithmeticError, ValueError):
        if together:
            raise
        return None  # past a limit, what is reckoned may have no result
    profile = _drilled(outline, parameters, job)
    return Redrawn(
        profile,
        FindingsByRule(profile, job, RULES_OF_SOUND_LOOPS),
        has_sound_loops=lambda: not any(loop_faults(outline)),
        measured=lambda: measure(profile, job),
    )


def job_of(parameters: Parameters) -> Job:
    """Return how and where a part of these parameters is cut.

    Raises:
        Refused: if the process doesn't cut this material at this thickness.
        DataError: the shop's own file is unusable.
    """
    cut = cut_for(parameters.process, parameters.material, parameters.thickness)
    bed, sheet = Bed(parameters.bed_x, parameters.bed_y), Sheet(parameters.sheet_x, parameters.sheet_y)
    return Job(cut, bed, sheet, machine(), brake(parameters.material), parameters.units)


def assembled(
    chosen: Template,
    parameters: Parameters,
    profile: Profile,
    found: tuple[Finding, ...] | None,
    at_address: str,
    job: Job | None = None,
) -> Part:
    """Return a profile and what was found of it as a part, measured, with its cautions; `job` where it is known.

    `found` is None of a sketch, of which nothing is measured either.
    """
    is_sketch = found is None
    found = found or ()
    job = job or job_of(parameters)
    material = materials()[parameters.material]
    return Part(
        Record(
            template=chosen,
            parameters={name: getattr(parameters, name) for name in parameters.specs()},
            address=at_address,
            profile=profile,
            job=job,
            material_title=material.title,
            findings=told(found),
            routine=tuple(finding for finding in found if finding.is_routine),
            measures=UNMEASURED if is_sketch else measure(profile, job),
            cautions=(
                *filter(None, (shop.trouble(),)),
                *chosen.cautions,
                *parameters.own_cautions,
                *material.cautions,
                *job.cut.cautions,
            ),
            units=parameters.units,
            dxf_version=parameters.dxf_version,
            notes=parameters.notes,
            drill_circles=parameters.drill_circles,
            paper=parameters.paper,
            page=shop.load(shop.edition()).drawing.page,
            picture=parameters.picture,
            became={
                name: getattr(parameters, spec.auto)
                for name, spec in parameters.specs().items()
                if spec.auto and not is_sketch and not getattr(parameters, name)
            },
            is_sketch=is_sketch,
        )
    )


def address(slug: str, texts: Mapping[str, str]) -> str:
    """Return the page's address of a part, without a host."""
    return f"/parts/{slug}" + (f"?{urlencode(texts, quote_via=quote, safe='/')}" if texts else "")

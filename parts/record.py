"""A record: all that a file may carry about a part. Exporters are handed this and nothing else."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from importlib import metadata
from pathlib import Path
from typing import Any, cast

from parts.cached import cached_property
from parts.cutting import AsCut, Job, Measures, as_cut
from parts.finding import Finding, FindingRow, alike
from parts.forming import BendRow, bend_lines, bend_table
from parts.geometry import Box, Segment
from parts.profile import Bend, Profile
from parts.shop import BY_UNITS
from parts.spec import Companion, Parameters, Spec, Standing, Template, Value, applies
from parts.tolerance import LIMIT_SLACK_MM
from parts.truing import Compensation
from parts.units import Units, dimension_text, format_by, length_number, reckoned_number

UNKNOWN = "\u2026"
"""What stands for a number that isn't known yet, in the room of that."""
_BLANK = "\u2007"
# As wide as a figure.
MOST_GROWN = 4.0
"""How many times as long as the part a picture is at most, to show what of a drawing is left out."""


@dataclass(frozen=True)
class Record:
    """One part, drawn and checked.

    `parameters` holds every value (mm and degrees); `address` is the page's address that draws the same
    part again, without a host. Where `compensation` is set, the profile is drawn for that one table, and all else
    is of the true part. `open` are chains that close no outline, `aside` lines and outlines left out: both are
    shown where they lie. `own_dimensions_only` is whether the drawing shows the profile's dimensions and no more.
    `routine` is what always holds of such a part. `became` is what values of 0 became that no dimension shows.
    `page` is the address of the shop's page, to stand before the part's; "" where the shop hasn't said it.
    `drill_circles` is whether a DXF shows the size of drilled holes, `picture` how a picture shows the finished piece.
    `is_judged` is whether it is measured and the rules have looked at it; no file is made of one at which they haven't.
    `is_sketch` is whether its profile is a sketch, to be looked at until the part itself is drawn. `shows` is what a
    file is to show, of a format that can show more than one thing; `title_block` what is said there of this drawing.
    """

    template: Template
    parameters: Mapping[str, Value]
    address: str
    profile: Profile
    job: Job
    material_title: str
    findings: tuple[Finding, ...]
    measures: Measures
    cautions: tuple[str, ...]
    units: Units = "mm"
    dxf_version: str = "R2010"
    notes: bool = False
    drill_circles: bool = True
    picture: str = "painted"
    paper: str = BY_UNITS
    page: str = ""
    open: tuple[tuple[Segment, ...], ...] = ()
    aside: tuple[tuple[Segment, ...], ...] = ()
    compensation: Compensation | None = None
    own_dimensions_only: bool = False
    routine: tuple[Finding, ...] = ()
    became: Mapping[str, Value] = field(default_factory=dict)
    is_judged: bool = True
    is_sketch: bool = False
    is_flat: bool = False
    shows: str = ""
    title_block: Mapping[str, str] = field(default_factory=dict)

    @property
    def bends(self) -> tuple[Bend, ...]:
        """The bend lines, where the profile tells of each how it is bent; none of a shape rolled or tried out."""
        lines = bend_lines(self.profile)
        return lines if all(bend.angle and bend.radius and bend.k for bend in lines) else ()

    @cached_property
    def bend_table(self) -> tuple[BendRow, ...]:
        """Its bends in order of their numbers, reckoned when first asked for."""
        return bend_table(self.profile, self.job.cut.thickness_mm, self.job.brake)

    @property
    def is_folded(self) -> bool:
        """Whether a solid shows it bent."""
        return not self.is_flat and bool(self.bends)

    @cached_property
    def assembly(self) -> tuple[Standing, ...]:
        """Where each piece stands once a set is put together, as a solid shows it; none of what isn't a set."""
        put_together = self.template.assembly
        if put_together is None or self.is_flat or self.compensation is not None:
            return ()
        return tuple(put_together(self._as_parameters))

    @cached_property
    def companions(self) -> tuple[Companion, ...]:
        """The pieces of a set that are cut of other plate; none of what isn't a set."""
        return tuple(self.template.companions(self._as_parameters)) if self.template.companions else ()

    @property
    def _as_parameters(self) -> Parameters:
        values: dict[str, Any] = dict(self.parameters)
        return self.template.parameters.model_construct(None, **values)

    @cached_property
    def box(self) -> Box:
        """The bounding box of what is shown: of the part, and what is left out as far as that isn't far off."""
        box = self.part_box
        chains = [_around(segment.box for segment in chain) for chain in self.aside]
        for other in sorted(chains, key=lambda other: _longest(_around((box, other)))):
            together = _around((box, other))
            if _longest(together) > MOST_GROWN * _longest(self.part_box):
                break
            box = together
        return box

    @cached_property
    def part_box(self) -> Box:
        """The bounding box of the outside loops and the chains that close none; never a mere line."""
        if not self.open:
            return self.profile.box
        boxes = [segment.box for chain in self.open for segment in chain]
        boxes += [self.profile.box] if self.profile.outside else []
        left, low, right, high = _around(boxes)
        spare = max(right - left, high - low) / 20
        across, up = (max(spare - side, 0.0) / 2 for side in (right - left, high - low))
        return left - across, low - up, right + across, high + up

    @property
    def specs(self) -> Mapping[str, Spec]:
        """How each parameter is declared."""
        return self.template.parameters.specs()

    @cached_property
    def as_cut(self) -> AsCut | None:
        """What the jet leaves of the part, reckoned when first asked for; None where its loops meet."""
        return as_cut(self.profile, self.job.cut)

    @cached_property
    def rows(self) -> tuple[FindingRow, ...]:
        """The findings as they are told, those alike in one row."""
        return alike(self.profile, self.findings)

    @property
    def told(self) -> Mapping[str, Value]:
        """The values that files tell: those of parameters that a part can do without, only where one is asked for."""
        specs = self.specs
        left_out = {
            name
            for group in self.template.parameters.optional_groups()
            if all(self.parameters[each] == specs[each].default_in(self.units) for each in group)
            for name in group
        }
        return {name: value for name, value in self.parameters.items() if name not in left_out}

    def used(self, name: str) -> Value:
        """Return the value of a parameter as it was drawn: what became of a length left at 0 to the template."""
        value = self.parameters[name]
        if value:
            return value
        shown = (each.measured for each in self.profile.dimensions if each.parameter == name)
        return next(filter(None, shown), self.became.get(name, value))

    def number(self, mm: float, units: Units | None = None) -> str:
        """Return the number of a length of it: what was typed as it was typed, any other as a shop reads it.

        `units` are those that it is said in, unless others are given. What a sketch has and wasn't typed isn't known.
        """
        exactly = any(abs(mm - typed) <= LIMIT_SLACK_MM for typed in self._typed)
        number = (length_number if exactly else reckoned_number)(mm, units or self.job.units)
        return UNKNOWN.center(len(number), _BLANK) if self.is_sketch and not exactly else number

    def lettered(self, mm: float) -> str:
        """Return a length as a drawing letters it."""
        return dimension_text(self.number(mm), self.job.units)

    @cached_property
    def _typed(self) -> tuple[float, ...]:
        lengths = (name for name, spec in self.specs.items() if spec.kind == "length")
        return tuple(cast(float, self.parameters[name]) for name in lengths)

    @property
    def size(self) -> str:
        """Its width by its height, as they are read: `1800 by 250 mm`."""
        of = self.measures
        return format_by(self.number(of.width_mm), self.number(of.height_mm), self.job.units)

    def has(self, name: str) -> bool:
        """Tell whether a parameter applies to this part."""
        return applies(name, self.specs, self.parameters)


def _around(boxes: Iterable[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _longest(box: Box) -> float:
    return max(box[2] - box[0], box[3] - box[1])


def _version() -> str:
    """The version from the project file beside the package, or of the installed distribution."""
    project = Path(__file__).parent.parent / "pyproject.toml"
    if project.is_file():
        line = next(line for line in project.read_text("utf-8").splitlines() if line.startswith("version = "))
        return line.split('"')[1]
    return metadata.version("platewright")


VERSION = _version()

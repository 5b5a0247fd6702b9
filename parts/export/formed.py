"""The bent part as the brake sees it: its sections drawn with finished sizes, and the stops of the back gauge in words.

A section is drawn as a part is, by the same layout: its outline in true thickness, each piece measured outside, each
bend with its number, angle and inside radius.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from parts.drawing import Drawing, Item, Kept, Layout, Path, Window, lay_out_on_screen
from parts.forming import BendRow, Section, sections, stops
from parts.geometry import Point
from parts.profile import Dimension, DimensionStyle, Profile
from parts.record import Record
from parts.spec import Template
from parts.tolerance import LIMIT_SLACK_MM, PARALLEL_RAD
from parts.units import format_angle, format_by

STOPS_SAID = (
    "Edges are those of the drawing. From the edges inward, as is common practice: see that what is bent already "
    "clears the tools."
)
"""What stands under the order of bends."""


@dataclass(frozen=True)
class FormedView:
    """One section with what is said of it: which bends it is across, and how large it is over all."""

    section: Section
    record: Record
    title: str

    def on_paper(self, width: float, height: float, text: float) -> Drawing:
        """Return it at the largest standard scale for so much paper, mm."""
        return _lighter(Layout(self.record).to_standard(width, height, text))

    def on_screen(self, width: float, height: float, kept: Kept | None = None) -> Drawing:
        """Return it for so much room on a screen, px; `kept` is how it was laid out before a value changed."""
        return _lighter(lay_out_on_screen(self.record, Window(width, height, every=True, kept=kept)))


class _Numbered(Template):
    """A template whose dimensions are bends, named by number and angle; the sizes have no name."""

    @property
    def letters(self) -> dict[str, str]:
        return {name: name for name in self.words}


def formed_views(record: Record) -> tuple[FormedView, ...]:
    """Return the sections of a bent part; none of a flat one, nor of one whose bends fan out."""
    if record.is_sketch or record.compensation is not None:
        return ()
    return tuple(_view(record, section) for section in sections(record.profile, record.bend_table))


def stop_rows(record: Record) -> Iterator[tuple[str, str, str, str]]:
    """Yield a row for each bend in the order of bending: the step, the bend, against what, how far to its line."""
    for step, stop in enumerate(stops(record.profile, record.bend_table), start=1):
        bend = f"{stop.bend.number}, {stop.bend.way} {format_angle(stop.bend.degrees, 4)}"
        against = (
            f"{stop.edge} edge" if stop.edge else f"face of bend {stop.flange}" if stop.flange else "none: by its line"
        )
        yield str(step), bend, against, "-" if stop.off is None else record.number(stop.off)


def radius_notes(record: Record, rows: Sequence[BendRow]) -> Iterator[str]:
    """Yield where the inside radii are from, a sentence for each source."""
    brake, thickness = record.job.brake, record.job.cut.thickness_mm
    usual, test = brake.inside_radius(thickness), brake.tested(thickness)
    source = (
        test.name if test
        else "your brake's radius per V" if brake.inside_radius_per_v
        else "as air bending over that V leaves it" if usual > brake.least_radius(thickness) + LIMIT_SLACK_MM
        else f"the least that {brake.metal} stands"
    )  # fmt: skip
    for radius in dict.fromkeys(row.fold.radius for row in rows):
        by = source if abs(radius - usual) <= LIMIT_SLACK_MM else "given for the part"
        yield f"Inside radius {record.job.say(radius)}: {by}."


def _view(record: Record, section: Section) -> FormedView:
    every = (section.numbers, *section.alike)
    called = "; ".join(_listed(numbers) for numbers in every)
    width, height = section.size
    size = format_by(record.number(width), record.number(height), record.job.units)
    bends = "bend" if len(every) == 1 and len(section.numbers) == 1 else "bends"
    return FormedView(section, _as_record(record, section), f"Formed, across {bends} {called}: {size} outside")


def _listed(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers))


def _as_record(record: Record, section: Section) -> Record:
    """The section as a part of its own: its outline, the outside sizes and the radii; nothing is found about it."""
    of, shown = record.template, tuple(_dimensions(section))
    names = tuple(each.parameter for each in shown if each.parameter)
    template = _Numbered(of.slug, of.title, of.parameters, of.outline, words=names)
    profile = Profile((section.outline,), dimensions=shown)
    return replace(record, template=template, profile=profile, findings=(), routine=(), open=(), aside=())


def _dimensions(section: Section) -> Iterator[Dimension]:
    for piece in section.pieces:
        yield Dimension("", piece.start, piece.end, _style(piece.start, piece.end, piece.outward))
    for bend, centre in zip(section.row.bends, section.centres, strict=True):
        name = f"{bend.number}: {format_angle(bend.degrees, 4)}"
        yield Dimension(name, centre, _on_inside(section, centre, bend.fold.radius), "radius")


def _style(start: Point, end: Point, outward: Point) -> DimensionStyle:
    """How a piece is measured: level or upright on the side that its outer face looks to, else along it."""
    dx, dy = abs(end[0] - start[0]), abs(end[1] - start[1])
    if dy <= PARALLEL_RAD * dx + LIMIT_SLACK_MM:
        return "below" if outward[1] < 0 else "above"
    if dx <= PARALLEL_RAD * dy + LIMIT_SLACK_MM:
        return "left" if outward[0] < 0 else "right"
    return "along"


def _on_inside(section: Section, centre: Point, radius: float) -> Point:
    """The point in the middle of the inside of a bend."""
    for segment in section.outline.segments:
        x, y = segment.at(0.5)
        if abs(math.hypot(x - centre[0], y - centre[1]) - radius) <= 1e-6 and segment.length > 0:
            ends = (segment.start, segment.end)
            if all(abs(math.dist(end, centre) - radius) <= 1e-6 for end in ends):
                return x, y
    return centre[0] + radius, centre[1]


def _lighter(drawing: Drawing) -> Drawing:
    """The drawing with the outline in a thinner pen: thin sheet shall not be a thick black line.

    Its dimensions aren't called by parameters, which they have none of.
    """

    def thinner(item: Item) -> Item:
        return replace(item, pen="cut-inside") if isinstance(item, Path) and item.pen == "cut-outside" else item

    groups = tuple(replace(group, key="", items=tuple(map(thinner, group.items))) for group in drawing.groups)
    return replace(drawing, groups=groups)

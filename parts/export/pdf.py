"""PDF: the part dimensioned at a standard scale on a sheet of A4, with its facts, findings and cautions.

The same part always gives the same bytes. Text that has no room beside the drawing goes on to more sheets.
"""

import io
from collections.abc import Iterator

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.drawing import Drawing, Layout, Mark, largest_bare
from parts.export.about import expected_said, facts, parameter_texts
from parts.export.pdf_ink import BOLD, FONT, ink, width_of
from parts.export.pdf_sheet import (
    LYING,
    STANDING,
    WHOLE,
    Cell,
    Row,
    Sheet,
    draw_column,
    draw_frame,
    flow,
    wrapped,
)
from parts.forming import bend_table
from parts.geometry import Box
from parts.record import VERSION, Record
from parts.spec import Parameters
from parts.units import MM_PER_IN, format_both, format_length

TEXT = 3.5
"""Size of the drawing's lettering, mm."""
BODY = 2.6
"""Size of the lettering in the columns, mm."""
BEND = 2.3
"""Size of the lettering in the bend table, mm."""
LONG = 180
"""Characters of an address beyond which the title block can't hold it in lettering of 1.8 mm (ISO 3098-1)."""
TALL = 1.2
"""A part this many times as high as wide gets a standing sheet where it is no smaller on it."""
LARGER = 1.5
"""A part that can be drawn this much larger gets the whole width of a sheet, its text below and on further sheets."""


def write(record: Record) -> bytes:
    """Return the drawing sheets as a PDF file."""
    sheet, drawing = _chosen(record)
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(sheet.width * mm, sheet.height * mm), invariant=1, pageCompression=1)
    _describe(canvas, record)
    pages = _pages(record, sheet, drawing.height)
    for number, columns in enumerate(pages, start=1):
        canvas.scale(mm, mm)
        draw_frame(canvas, sheet, _title_block(record, drawing, f"{number} / {len(pages)}"))
        if number == 1:
            ink(canvas, drawing, (sheet.drawing[0], sheet.foot_of(drawing.height)))
        for box, rows in columns:
            draw_column(canvas, box, rows)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def scale_text(scale: float) -> str:
    """Return a scale as drawings state it: 1:2.5, 2:1."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{round(1 / scale, 6):g}"


def _chosen(record: Record) -> tuple[Sheet, Drawing]:
    """The sheet with its text beside the drawing, unless the part or its lettering would be larger on a whole one."""
    layout = Layout(record)
    sheet, drawing = _with_column(record, layout)
    for whole in WHOLE:
        larger = LARGER * drawing.scale
        lettered = drawing.text_size >= TEXT
        if lettered and drawing.scale >= 1:  # true size is large enough
            break
        if largest_bare(record, *_paper(whole)) < (larger if lettered else drawing.scale):
            continue
        other = _on(layout, whole)
        clearer = not lettered and other.text_size > drawing.text_size and other.scale >= drawing.scale
        if clearer or (other.scale >= larger and other.text_size >= drawing.text_size):
            sheet, drawing = whole, other
    return sheet, drawing


def _with_column(record: Record, layout: Layout) -> tuple[Sheet, Drawing]:
    """The lying sheet; for a tall part the standing one, unless the part would be smaller on it."""
    lying = _on(layout, LYING)
    if record.measures.height_mm > TALL * record.measures.width_mm:
        standing = _on(layout, STANDING)
        if standing.scale >= lying.scale:
            return STANDING, standing
    return LYING, lying


def _on(layout: Layout, sheet: Sheet) -> Drawing:
    return layout.to_standard(*_paper(sheet), TEXT)


def _paper(sheet: Sheet) -> tuple[float, float]:
    x0, y0, x1, y1 = sheet.drawing
    return x1 - x0, y1 - y0


def _describe(canvas: Canvas, record: Record) -> None:
    """Put into the file what the part is and how to draw it again."""
    every = [*facts(record).items(), *parameter_texts(record).items()]
    canvas.setTitle(record.template.title)
    canvas.setSubject("; ".join(f"{name}={value}" for name, value in every))
    canvas.setCreator(f"Platewright {VERSION}")
    canvas.setAuthor("")
    canvas.setKeywords(f"dimensioned drawing, {record.template.slug}")


def _title_block(record: Record, drawing: Drawing, sheet: str) -> list[list[Cell]]:
    say, measures, cut = record.job.say, record.measures, record.job.cut
    units = "mm" if record.units == "mm" else "inches"
    return [
        [
            Cell("Material", record.material_title, 1.5),
            Cell("Thickness", format_both(cut.thickness_mm), 1.5),
            Cell("Process", cut.title, 1.2),
            Cell("Size", f"{say(measures.width_mm)} x {say(measures.height_mm)}", 1.7),
            Cell("Mass", mass(measures.mass_kg), 1.4),
            Cell("Cut length", length(record, measures.cut_length_mm), 1.1),
            Cell("Pierces", str(measures.pierces), 0.6),
        ],
        [
            Cell("Title", record.template.title, 2.6, 4.2, BOLD),
            Cell("Identification number", record.template.slug, 2.2),
            Cell("Scale", scale_text(drawing.scale), 0.8, 4.2, BOLD),
            Cell("Units", units, 0.8),
            Cell("Sheet", sheet, 0.8),
        ],
        [
            Cell("Drawn by", ""),
            Cell("Approved by", ""),
            Cell("Date of issue", "", 0.8),
            Cell("Revision", "", 0.6),
            Cell(f"Address that draws it again, Platewright {VERSION}", _address_in_block(record), 3.2, 2.4),
        ],
    ]


def _address_in_block(record: Record) -> str:
    return record.address if len(record.address) <= LONG else "Under Address, in the text of this drawing"


def _address_rows(record: Record, width: float) -> Iterator[Row]:
    """The address, where it is too long for the title block."""
    if len(record.address) > LONG:
        yield Row(((0.0, "Address"),), 3.2, BOLD, keep=True)
        yield from _paragraph(record.address, width)


def mass(kg: float) -> str:
    """Return a mass in kg and in pounds (0.45359237 kg exactly, by the agreement of 1959)."""
    return f"{kg:.3g} kg ({kg / 0.45359237:.3g} lb)" if kg < 1000 else f"{kg:.0f} kg ({kg / 0.45359237:.0f} lb)"


def length(record: Record, value: float) -> str:
    """Return a long length in the working units without more figures than a shop reads."""
    return format_length(round(value), "mm") if record.units == "mm" else f"{value / 25.4:.1f} in"


def _pages(record: Record, sheet: Sheet, drawn: float) -> list[list[tuple[Box, list[Row]]]]:
    """The columns of each sheet; where one sheet can't hold all, findings, cautions and bends come first."""
    width = sheet.column
    sizes, bends = list(_dimension_rows(record, width)), list(_bend_rows(record, width))
    others = [*_other_rows(record, width), *_expected_rows(record, width)]
    others += _address_rows(record, width)
    warnings = [*_finding_rows(record, width), *_caution_rows(record, width)]
    pages = list(flow([*sizes, *others, *bends, Row((), 1.0), *warnings], sheet.beside(drawn), sheet.columns))
    if len(pages) > 1:
        pages = list(flow([*warnings, *bends, Row((), 1.0), *sizes, *others], sheet.beside(drawn), sheet.columns))
    return pages


def _caution_rows(record: Record, width: float) -> Iterator[Row]:
    if record.cautions:
        yield Row(((0.0, "Cautions"),), 3.2, BOLD, keep=True)
    for caution in record.cautions:
        yield from _paragraph(caution, width)


def _dimension_rows(record: Record, width: float) -> Iterator[Row]:
    """The table of dimensions: letter, name, mm, inches."""
    columns = (_ending(width - 15, "mm", 3.2, BOLD), _ending(width, "in", 3.2, BOLD))
    yield Row(((0.0, "Dimensions"), *columns), 3.2, BOLD, keep=True, ruled=True)
    for name, mark in record.template.letters.items():
        if not record.has(name):
            continue
        in_mm, in_inches = (
            format_length(float(record.parameters[name]), units).rsplit(" ", 1)[0] for units in ("mm", "in")
        )
        first, *more = wrapped(record.specs[name].label, width - 28 - 7, BODY)
        columns = (_ending(width - 15, in_mm), _ending(width, in_inches))
        yield Row(((0.0, mark), (7.0, first), *columns), BODY, keep=bool(more), ruled=not more)
        for i, line in enumerate(more, start=1):
            yield Row(((7.0, line),), BODY, keep=i < len(more), ruled=i == len(more))


def _other_rows(record: Record, width: float) -> Iterator[Row]:
    """The template's own parameters that are not lengths."""
    letters, common = record.template.letters, Parameters.specs()
    for name, spec in record.specs.items():
        if name in letters or name in common or not record.has(name):
            continue
        value = spec.say(record.parameters[name], record.units)
        lines = wrapped(f"{spec.label}: {value}", width - 7, BODY)
        for i, line in enumerate(lines, start=1):
            yield Row(((7.0, line),), BODY, keep=i < len(lines), ruled=i == len(lines))


def _expected_rows(record: Record, width: float) -> Iterator[Row]:
    """How far the size may be off."""
    lines = wrapped(f"Size to expect: {expected_said(record)}", width - 7, BODY)
    for i, line in enumerate(lines, start=1):
        yield Row(((7.0, line),), BODY, keep=i < len(lines), ruled=i == len(lines))


def _bend_rows(record: Record, width: float) -> Iterator[Row]:
    """The bend table, by the numbers at the bend lines; lengths in the working units."""
    rows = bend_table(record.profile, record.job.cut.thickness_mm, record.job.brake)
    if not rows:
        return
    ends = [width * share for share in (0.22, 0.36, 0.46, 0.62, 0.79, 1.0)]

    def cells(number: str, *rest: str) -> tuple[tuple[float, str], ...]:
        return (0.0, number), *(_ending(x, text, BEND) for x, text in zip(ends, rest, strict=True))

    yield Row(((0.0, "Bends"),), 3.2, BOLD, keep=True)
    yield Row(cells("", "angle", "radius", "K", "allowance", "deduction", "line from end"), BEND, keep=True, ruled=True)
    for row in rows:
        lengths = (row.fold.allowance, row.deduction, row.from_end)
        said = ["-" if mm is None else bare(record, mm) for mm in lengths]
        turned = f"{row.way} {row.degrees:.4g}\u00b0"
        number = f"{row.number}"
        yield Row(cells(number, turned, bare(record, row.fold.radius), f"{row.fold.k:.3g}", *said), BEND, ruled=True)


def bare(record: Record, mm: float) -> str:
    """Return a length of the bend table in the working units: to 0.01 mm or 0.001 in, without the unit."""
    return f"{mm:.2f}" if record.units == "mm" else f"{mm / MM_PER_IN:.3f}"


def _finding_rows(record: Record, width: float) -> Iterator[Row]:
    """Each row of findings by the number of its flags: what is wrong, then what to do."""
    yield Row(((0.0, "Findings"),), 3.2, BOLD, keep=True)
    if not record.rows:
        yield from _paragraph("None.", width)
    for row in record.rows:
        finding = row.first
        mark = Mark((2.4, 0.0), finding.severity, row.number, 4.2)
        text = f"{finding.severity.capitalize()}: {finding.message} {finding.remedy} {row.rest}"
        lines = wrapped(text, width - 7, BODY)
        for i, line in enumerate(lines):
            yield Row(((7.0, line),), BODY, keep=i < len(lines) - 1, mark=mark if i == 0 else None)
        yield Row((), 1.0)


def _ending(x: float, text: str, size: float = BODY, font: str = FONT) -> tuple[float, str]:
    """A text that ends at x."""
    return x - width_of(text, size, font), text


def _paragraph(text: str, width: float) -> Iterator[Row]:
    lines = wrapped(text, width, BODY)
    for i, line in enumerate(lines):
        yield Row(((0.0, line),), BODY, keep=i < len(lines) - 1)
    yield Row((), 1.0)

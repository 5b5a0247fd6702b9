"""PDF: the part dimensioned at a standard scale on a sheet of paper, with its facts, findings and cautions.

The same part always gives the same bytes: no date stands in it. Text that has no room beside the drawing goes on to
more sheets.
"""

import io
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from reportlab.lib.units import mm

from parts import numbers
from parts.drawing import Drawing, Layout, NumberedMark, largest_bare
from parts.export.about import (
    LEFT_OUT,
    bend_notes,
    bend_rows,
    expected_said,
    outside_said,
    times_said,
    worked_holes,
)
from parts.export.formed import STOPS_SAID, formed_views, stop_rows
from parts.export.hole_table import HoleRow, hole_rows, numbered
from parts.export.pdf_code import code_text, draw_code
from parts.export.pdf_describe import describe
from parts.export.pdf_fit import SheetText, fitted
from parts.export.pdf_formed import LEAST_FLAT, Block, arranged
from parts.export.pdf_ink import BOLD, FONT, canvas_on, width_of
from parts.export.pdf_mark import draw_mark
from parts.export.pdf_sheet import (
    Columns,
    Paper,
    PaperSheet,
    TextRow,
    TitleCell,
    code_box,
    draw_column,
    draw_frame,
    paper_for,
    scale_text,
    wrapped,
)
from parts.export.title_block import fields
from parts.record import VERSION, Record
from parts.spec import Parameters, Value
from parts.units import format_both, format_mass, format_rough, format_time

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
LARGER, MUCH_LARGER = 1.5, 2 - 1e-9
"""A part that can be drawn this much larger gets the whole width of a sheet, its text below and on further sheets; and
of what is drawn SMALL what can be that much larger also where its lettering is smaller there."""
SMALL = 0.1 - 1e-9
"""A scale at which holes and dimensions crowd."""
LEGIBLE = 2.5 - 1e-9
"""The smallest lettering that is worth a larger scale, mm: ISO 3098-1."""


def write(record: Record) -> bytes:
    """Return the drawing sheets as a PDF file."""
    sheet, drawing = _chosen(record)
    block, more = _with_sections(record, sheet, drawing)
    block = replace(block, flat=block.flat and numbered(record, block.flat))
    drawing = block.flat or drawing
    stream = io.BytesIO()
    canvas = canvas_on(stream, sheet.width, sheet.height)
    describe(canvas, record, "dimensioned drawing")
    text = fitted(partial(_text, record), sheet, block.height)
    pages: list[Columns] = [*text.sheets, *([[]] if more else [])]
    for number, columns in enumerate(pages, start=1):
        canvas.scale(mm, mm)
        draw_frame(canvas, sheet, _title_block(record, drawing, f"{number} / {len(pages)}"), with_code=True)
        draw_code(canvas, code_text(record), code_box(sheet))
        x, _, _, top = sheet.drawing
        if number == 1:
            block.draw(canvas, (x, sheet.foot_of(block.height, raised=text.raised)))
        elif more and number == len(pages):
            more.draw(canvas, (x, top - more.height))
        for box, rows in columns:
            draw_column(canvas, box, rows)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


COLUMNS = 60.0
"""What is left for columns of text below the drawings on a whole sheet, mm."""


def _with_sections(record: Record, sheet: PaperSheet, drawing: Drawing) -> tuple[Block, Block | None]:
    """The flat with the sections of the bent part, on the sheet or on one more."""
    views, (width, height) = formed_views(record), _room(sheet)
    if not views:
        return Block(drawing), None
    layout = Layout(record)
    height -= COLUMNS if sheet.whole else 0.0
    return arranged(
        drawing, views, (width, height), TEXT, lambda high: layout.as_large(width, high, drawing, LEAST_FLAT)
    )


def _chosen(record: Record) -> tuple[PaperSheet, Drawing]:
    """The sheet with its text beside the drawing, unless the part or its lettering would be larger on a whole one."""
    layout, paper = Layout(record), paper_for(record.paper, record.job.units)
    sheet, drawing = _with_column(record, layout, paper)
    for whole in paper.whole:
        larger = LARGER * drawing.scale
        lettered = drawing.text_size >= TEXT
        if lettered and drawing.scale >= 1:  # true size is large enough
            break
        if largest_bare(record, *_room(whole)) < (larger if lettered else drawing.scale):
            continue
        other = _on(layout, whole)
        clearer = not lettered and other.text_size > drawing.text_size and other.scale >= drawing.scale
        is_crowded = drawing.scale < SMALL and other.scale >= MUCH_LARGER * drawing.scale
        legible = other.text_size >= (LEGIBLE if is_crowded else drawing.text_size)
        if clearer or (other.scale >= larger and legible):
            sheet, drawing = whole, other
    return sheet, drawing


def _with_column(record: Record, layout: Layout, paper: Paper) -> tuple[PaperSheet, Drawing]:
    """The lying sheet; for a tall part the standing one, unless the part or its lettering would be smaller on it."""
    lying = _on(layout, paper.lying)
    if record.measures.height_mm > TALL * record.measures.width_mm:
        standing = _on(layout, paper.standing)
        if (standing.scale, standing.text_size) >= (lying.scale, lying.text_size):
            return paper.standing, standing
    return paper.lying, lying


def _on(layout: Layout, sheet: PaperSheet) -> Drawing:
    return layout.to_standard(*_room(sheet), TEXT)


def _room(sheet: PaperSheet) -> tuple[float, float]:
    x0, y0, x1, y1 = sheet.drawing
    return x1 - x0, y1 - y0


def _title_block(record: Record, drawing: Drawing, sheet: str) -> list[list[TitleCell]]:
    """What was made first, and of what; then the fields of ISO 7200, those that nobody filled left to be filled in."""
    measures, cut, said = record.measures, record.job.cut, fields(record)
    units = "mm" if record.job.units == "mm" else "inches"
    return [
        [
            TitleCell("Material", record.material_title, 1.5),
            TitleCell("Thickness", format_both(cut.thickness_mm), 1.5),
            TitleCell("Process", cut.title, 1.1),
            TitleCell("Size", record.size, 1.6),
            TitleCell("Weight", format_mass(measures.mass_kg, record.job.units), 1.4),
            TitleCell("Cut length", format_rough(measures.cut_length_mm, record.job.units), 1.0),
            TitleCell("Pierces", str(measures.pierces), 0.6),
            TitleCell("Tolerances", said["tolerances"], 1.6, 2.6),
        ],
        [
            TitleCell("Legal owner", said["owner"], 2.0, drawn=draw_mark),
            TitleCell("Title", record.template.title, 2.4, 4.2, BOLD),
            TitleCell("Identification number", said["number"], 1.8),
            TitleCell("Document type", said["document_type"], 1.1, 2.6),
            TitleCell("Scale", scale_text(drawing.scale), 0.8, 4.2, BOLD),
            TitleCell("Units", units, 0.7),
            TitleCell("Sheet", sheet, 0.7),
        ],
        [
            TitleCell("Creator", said["creator"]),
            TitleCell("Approval person", said["approval"]),
            TitleCell("Date of issue", said["issued"], 0.8),
            TitleCell("Revision index", said["revision"], 0.6),
            TitleCell(f"Address that draws it again, Platewright {VERSION}", _address_in_block(record), 3.2, 2.4),
        ],
    ]


def _address_in_block(record: Record) -> str:
    return record.address if len(record.address) <= LONG else "Under Address, in the text of this drawing"


def _address_rows(record: Record, width: float) -> Iterator[TextRow]:
    """The address, where it is too long for the title block."""
    if len(record.address) > LONG:
        yield TextRow(((0.0, "Address"),), 3.2, BOLD, keep=True)
        yield from _paragraph(record.address, width)


def _text(record: Record, width: float) -> SheetText:
    """All that stands beside the drawing, in columns so wide."""
    return SheetText(
        [*_dimension_rows(record, width), *_hole_rows(record, width)],
        [*_other_rows(record, width), *_expected_rows(record, width), *_address_rows(record, width)],
        list(_bend_rows(record, width)),
        list(_finding_rows(record, width)),
        list(_caution_rows(record, width)),
    )


def _caution_rows(record: Record, width: float) -> Iterator[TextRow]:
    said = (*record.cautions, *(f"{routine.message} {routine.remedy}" for routine in record.routine))
    if said:
        yield TextRow(((0.0, "Cautions"),), 3.2, BOLD, keep=True)
    for caution in said:
        yield from _paragraph(caution, width)


def _lengths(record: Record) -> list[str]:
    """The template's own lengths that have a say."""
    own = (name for name, spec in record.specs.items() if spec.kind == "length" and name not in Parameters.specs())
    return [name for name in own if record.has(name)]


def _dimension_rows(record: Record, width: float) -> Iterator[TextRow]:
    """The table of dimensions: letter, name, mm, inches; what the drawing shows none of has no letter."""
    columns = (_ending(width - 15, "mm", 3.2, BOLD), _ending(width, "in", 3.2, BOLD))
    yield TextRow(((0.0, "Dimensions"), *columns), 3.2, BOLD, keep=True, ruled=True)
    for name in _lengths(record):
        mark, value = record.template.letters.get(name, ""), float(record.used(name))
        in_mm, in_inches = record.number(value, "mm"), record.number(value, "in")
        first, *more = wrapped(record.specs[name].label, width - 28 - 7, BODY)
        columns = (_ending(width - 15, in_mm), _ending(width, in_inches))
        yield TextRow(((0.0, mark), (7.0, first), *columns), BODY, keep=bool(more), ruled=not more)
        for i, line in enumerate(more, start=1):
            yield TextRow(((7.0, line),), BODY, keep=i < len(more), ruled=i == len(more))


def _hole_rows(record: Record, width: float) -> Iterator[TextRow]:
    """The hole table: number, place from the lower left corner, diameter; in the working units, two holes to a line."""
    rows = hole_rows(record)
    if not rows:
        return
    half = width / 2
    ends = [share * (half - 2) for share in (0.36, 0.66, 1.0)]

    def cells(left: float, number: str, *rest: str) -> tuple[tuple[float, str], ...]:
        return (left, number), *(_ending(left + x, text, BEND) for x, text in zip(ends, rest, strict=True))

    yield TextRow((), 1.0)
    heading = (0.0, "Holes, from the lower left corner")
    yield TextRow((heading, _ending(width, record.units, 3.2, BOLD)), 3.2, BOLD, keep=True)
    yield TextRow((*cells(0.0, "", "x", "y", "Ø"), *cells(half + 2, "", "x", "y", "Ø")), BEND, keep=True, ruled=True)
    lines = -(-len(rows) // 2)
    for i in range(lines):
        both = [(0.0, rows[i])] + ([(half + 2, rows[i + lines])] if i + lines < len(rows) else [])
        texts = [cell for left, row in both for cell in cells(left, str(row.number), *_of_hole(record, row))]
        yield TextRow(tuple(texts), BEND, ruled=True)


def _of_hole(record: Record, row: HoleRow) -> tuple[str, str, str]:
    """A hole's place and diameter; one that is drilled says so."""
    x, y, across = (record.number(mm) for mm in (*row.at, row.diameter))
    return x, y, f"drill {across}" if row.is_drilled else across


def _other_rows(record: Record, width: float) -> Iterator[TextRow]:
    """The template's own parameters that are not lengths."""
    lengths, common = _lengths(record), Parameters.specs()
    for name, spec in record.specs.items():
        if name in lengths or name in common or name not in record.told or not record.has(name):
            continue
        value = spec.say(_to_three(record.used(name)), record.job.units)
        lines = wrapped(f"{spec.label}: {value}", width - 7, BODY)
        for i, line in enumerate(lines, start=1):
            yield TextRow(((7.0, line),), BODY, keep=i < len(lines), ruled=i == len(lines))


def _expected_rows(record: Record, width: float) -> Iterator[TextRow]:
    """How far the size may be off, and how long it takes."""
    said = [*worked_holes(record), f"Size to expect: {expected_said(record)}"]
    if beyond := outside_said(record):
        said.append(f"Outside what ISO 9013 is for: {beyond}")
    said.append(f"Time at the table, {LEFT_OUT}: {format_time(record.measures.cut_time_s)} ({times_said(record)})")
    for text in said:
        lines = wrapped(text, width - 7, BODY)
        for i, line in enumerate(lines, start=1):
            yield TextRow(((7.0, line),), BODY, keep=i < len(lines), ruled=i == len(lines))


def _bend_rows(record: Record, width: float) -> Iterator[TextRow]:
    """The bend table, by the numbers at the bend lines; lengths in the working units."""
    rows = list(bend_rows(record))
    if not rows:
        return
    ends = [width * share for share in (0.22, 0.36, 0.46, 0.62, 0.79, 1.0)]

    def cells(number: str, *rest: str) -> tuple[tuple[float, str], ...]:
        return (0.0, number), *(_ending(x, text, BEND) for x, text in zip(ends, rest, strict=True))

    yield TextRow(((0.0, "Bends"), _ending(width, record.units, 3.2, BOLD)), 3.2, BOLD, keep=True)
    yield TextRow(
        cells("", "angle", "radius", "K", "allowance", "deduction", "line from end"), BEND, keep=True, ruled=True
    )
    yield from (TextRow(cells(*row), BEND, ruled=True) for row in rows)
    yield TextRow((), 1.0)
    yield from _paragraph(" ".join(bend_notes(record)), width)
    yield from _stop_rows(record, width)


def _stop_rows(record: Record, width: float) -> Iterator[TextRow]:
    """The order of bends, and the stop of the back gauge for each."""
    rows = list(stop_rows(record))
    if not rows:
        return

    def cells(step: str, bend: str, against: str, off: str) -> tuple[tuple[float, str], ...]:
        return (0.0, step), (0.1 * width, bend), (0.4 * width, against), _ending(width, off, BEND)

    yield TextRow(((0.0, "Bend order and stops"), _ending(width, record.units, 3.2, BOLD)), 3.2, BOLD, keep=True)
    yield TextRow(cells("", "bend", "stop against", "to bend line"), BEND, keep=True, ruled=True)
    for i, row in enumerate(rows, start=1):
        yield TextRow(cells(*row), BEND, keep=i < len(rows), ruled=True)
    yield TextRow((), 1.0)
    yield from _paragraph(STOPS_SAID, width)


def _finding_rows(record: Record, width: float) -> Iterator[TextRow]:
    """Each row of findings by the number of its flags: what is wrong, then what to do."""
    yield TextRow(((0.0, "Findings"),), 3.2, BOLD, keep=True)
    if not record.rows:
        yield from _paragraph("None.", width)
    for row in record.rows:
        finding = row.first
        mark = NumberedMark((2.4, 0.0), finding.severity, row.number, 4.2)
        kinds = numbers.kinds_said(numbers.rests_on(finding.rule, record.job))
        said = (f"{finding.severity.capitalize()}: {finding.message}", finding.remedy, row.rest)
        text = " ".join(filter(None, (*said, f"Numbers: {kinds}." if kinds else "")))
        lines = wrapped(text, width - 7, BODY)
        for i, line in enumerate(lines):
            yield TextRow(((7.0, line),), BODY, keep=i < len(lines) - 1, mark=mark if i == 0 else None)
        yield TextRow((), 1.0)


def _to_three(value: Value) -> Value:
    return round(value, 3) if isinstance(value, float) else value


def _ending(x: float, text: str, size: float = BODY, font: str = FONT) -> tuple[float, str]:
    """A text that ends at x."""
    return x - width_of(text, size, font), text


def _paragraph(text: str, width: float) -> Iterator[TextRow]:
    lines = wrapped(text, width, BODY)
    for i, line in enumerate(lines):
        yield TextRow(((0.0, line),), BODY, keep=i < len(lines) - 1)
    yield TextRow((), 1.0)

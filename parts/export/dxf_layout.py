"""A laid-out sheet as DXF: every part on the layers of a part's own file, in cutting order, its number on NOTES."""

from parts.export.dxf import Pen, ascii_text, pieces
from parts.export.dxf_frame import frame
from parts.export.layers import layers
from parts.export.layout_sheet import CUT_ORDER, LayoutSheet
from parts.record import VERSION
from parts.units import MM_PER_IN

_MOST_TOLD, _LONGEST = 20, 180
"""Parts that the comments name, and letters of a comment: some readers take no file for a DXF whose first section
starts beyond its first 6 KiB."""
_LARGEST_NUMBER_MM, _SMALLEST_NUMBER_MM = 25.0, 2.0


def write(sheet: LayoutSheet, version: str = "R2010") -> str:
    """Return a sheet as DXF text, the sheet's lower left at the origin."""
    made = frame(version, sheet.units)
    unit = 1.0 if sheet.units == "mm" else MM_PER_IN
    pen = Pen(unit, made.owner, made.first_handle)
    entities: list[str] = []
    for part in sheet.parts:
        drawn = layers(part.profile, sheet.square_side, drill_circles=sheet.drill_circles)
        entities += [pen.shape(layer, shape) for layer, shapes in drawn.items() for shape in shapes]
    for part in sheet.parts:
        height = min(max(part.room / 2, _SMALLEST_NUMBER_MM), _LARGEST_NUMBER_MM)
        x, y = part.at
        entities.append(pen.text((x - height * 0.4 * len(str(part.number)), y - height / 2), height, str(part.number)))
    box = 0.0, 0.0, sheet.width / unit, sheet.height / unit
    return _comments(sheet) + made.around("".join(entities), box, next(pen.handles))


def _comments(sheet: LayoutSheet) -> str:
    each = [f"{part.number}: {part.name}, row {part.row}" for part in sheet.parts[:_MOST_TOLD]]
    if len(sheet.parts) > _MOST_TOLD:
        each.append(f"and {len(sheet.parts) - _MOST_TOLD} more, in layout.json")
    told = [
        ("units", "millimetres" if sheet.units == "mm" else "inches"),
        ("platewright_version", VERSION),
        ("sheet", f"{sheet.number} of {sheet.of}"),
        *(("said", line) for line in sheet.said),
        ("order", CUT_ORDER),
        *(("part", line) for line in each),
    ]
    return "".join(f"999\n{name}: {next(pieces(ascii_text(text), _LONGEST))}\n" for name, text in told)

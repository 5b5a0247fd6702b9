"""The files: one module a format, each from a record alone; the table of formats, and the drawing of a page.

What draws is loaded when it is first asked for: a DXF has no need of it.
"""

from collections.abc import Sequence
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.errors import Problem, Refused
from parts.export import form_of_solid, shows, title_block
from parts.export.about import LEFT_OUT, bend_notes, bend_rows, expected_said, outside_said, times_said
from parts.export.formats import FORMATS, SOLID, Format
from parts.export.formed import STOPS_SAID, stop_rows
from parts.export.json_text import content as json_content
from parts.export.json_text import segments as json_segments
from parts.export.json_text import text as json_of
from parts.export.layers import DRILL, INSIDE, OUTSIDE
from parts.export.layers import extent as drawing_extent
from parts.export.layers import layers as drawing_layers
from parts.export.layout_sheet import LaidPart, LayoutSheet
from parts.profile import Profile
from parts.record import Record

if TYPE_CHECKING:
    from parts.drawing import Kept as Kept
    from parts.drawing import Window as Window
    from parts.export.bend_sheet import BendSheet as BendSheet
    from parts.export.measuring_sheet import MeasuringSheet as MeasuringSheet

SET_UP_FORMATS = {"pdf": "application/pdf", "json": "application/json"}
"""What a set-up sheet is written as, each with its MIME type."""

__all__ = [
    "DRILL",
    "FORMATS",
    "INSIDE",
    "LEFT_OUT",
    "OUTSIDE",
    "SET_UP_FORMATS",
    "SOLID",
    "STOPS_SAID",
    "Format",
    "LaidPart",
    "LayoutSheet",
    "bend_notes",
    "bend_rows",
    "drawing_extent",
    "drawing_layers",
    "expected_said",
    "form_of_solid",
    "formed_drawings",
    "json_content",
    "json_of",
    "json_segments",
    "layout_dxf",
    "layout_pdf",
    "layout_svg",
    "measuring_sheet",
    "outside_said",
    "page_drawing",
    "preview",
    "set_up_sheet",
    "shows",
    "stop_rows",
    "thumbnail",
    "times_said",
    "title_block",
    "wrote",
]


def page_drawing(record: Record, window: "Window | None" = None, *, overlays: bool = False) -> str:
    """Return the dimensioned drawing as an `svg` element to stand in a page.

    Args:
        record: the part.
        window: the room it has there, for lettering of one size; None for a picture of any size.
        overlays: whether it has what a page can show besides.
    """
    from parts.export.drawing_svg import write

    return write(record, window, overlays=overlays)


def formed_drawings(
    record: Record, width: float, height: float, kept: "Sequence[Kept | None]" = ()
) -> list[tuple[str, str]]:
    """Return the title of each section of a bent part, and the section as an `svg` element for so much room, px.

    `kept` is how each was laid out before a value changed, in their order.
    """
    from parts.export.drawing_svg import formed
    from parts.export.formed import formed_views

    before = zip_longest(formed_views(record), kept)
    return [(view.title, formed(view, width, height, way)) for view, way in before if view]


def thumbnail(profile: Profile, scale: float) -> str:
    """Return the bare outline as a small `svg` element, at `scale` px to a mm."""
    from parts.export.drawing_svg import thumbnail as drawn

    return drawn(profile, scale)


def preview(record: Record) -> bytes:
    """Return the finished piece as it will hang, as a JPEG small enough to go with a page."""
    from parts.export.png import preview as seen

    return seen(record)


def measuring_sheet(record: Record) -> "MeasuringSheet | BendSheet":
    """Return the measuring sheet of a test piece, or of the strips of a test bend.

    Raises:
        Refused: the template isn't measured.
    """
    if asked := record.template.bend_test:
        from parts.export.bend_sheet import BendSheet

        values: dict[str, Any] = dict(record.parameters)
        parameters = record.template.parameters.model_construct(None, **values)
        return BendSheet(record, asked(parameters))
    from parts.export.measuring_sheet import MeasuringSheet

    return MeasuringSheet(record)


def set_up_sheet(record: Record, kind: str) -> bytes:
    """Return the set-up sheet of a part, as one of SET_UP_FORMATS.

    Raises:
        Refused: there is no such format, or the part is drawn for one table.
        ValueError: the rules haven't looked at it.
        DataError: the shop's own file is unusable.
    """
    from parts.setup import set_up

    if kind not in SET_UP_FORMATS:
        raise Refused(
            (Problem("format", kind, f"is no form of a set-up sheet; there are {', '.join(SET_UP_FORMATS)}."),)
        )
    if kind == "json":
        from parts.export import setup_json

        return setup_json.write(set_up(record))
    from parts.export import pdf_setup  # loads reportlab

    return pdf_setup.write(set_up(record))


def layout_dxf(sheet: LayoutSheet, version: str) -> str:
    """Return a laid-out sheet as DXF text of a version."""
    from parts.export.dxf_layout import write

    return write(sheet, version)


def layout_svg(sheet: LayoutSheet) -> str:
    """Return a laid-out sheet as an `svg` element to stand in a page."""
    from parts.export.layout_svg import write

    return write(sheet)


def layout_pdf(sheets: Sequence[LayoutSheet], title: str) -> bytes:
    """Return the overview of laid-out sheets with labels for their parts, as a PDF."""
    from parts.export.pdf_layout import write

    return write(sheets, title)


def wrote(file: Path) -> bool:
    """Tell whether Platewright wrote a file, by the mark that its writers leave.

    Raises:
        OSError: it can't be read.
    """
    from parts.export.mark import is_ours

    return is_ours(file)

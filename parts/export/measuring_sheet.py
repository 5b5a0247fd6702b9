"""The measuring sheet of a test piece: its drawing with the places to measure lettered, and boxes to write in.

As TOML it is the file that `parts.truing` reads, its readings left empty.
"""

import math
from dataclasses import replace
from typing import Any

from parts.cutting import materials
from parts.errors import Problem, Refused
from parts.export import drawing_svg
from parts.export.measuring_words import SheetRow, commented, drawn, notes, what
from parts.geometry import Point
from parts.profile import Dimension
from parts.record import Record
from parts.spec import MeasuringPlace, Template
from parts.truing import METALS, write
from parts.units import number_to_fill_in, with_unit


class MeasuringSheet:
    """The sheet of one piece; `places` are where it is measured, in the frame of the drawing."""

    def __init__(self, record: Record) -> None:
        """Letter the places of a piece as it is drawn.

        Raises:
            Refused: the template isn't measured.
        """
        chosen = record.template
        values: dict[str, Any] = dict(record.parameters)
        parameters = chosen.parameters.model_construct(None, **values)
        places = chosen.places(parameters)
        if not places:
            raise Refused((Problem("template", chosen.slug, "isn't a test piece."),))
        x, y, _, _ = chosen.outline(parameters).box
        self.places = tuple(_moved(place, (-x, -y)) for place in places)
        shown = tuple(place.dimension for place in self.places if not place.again)
        self.record = lettered(record, shown)

    def to_svg(self) -> str:
        """Return the drawing for a page."""
        return drawing_svg.write(self.record)

    def to_pdf(self) -> bytes:
        """Return the sheet to print: the drawing, and beside it a box for each reading."""
        from parts.export import pdf_measuring  # loads reportlab

        units = self.record.units
        rows = [SheetRow(*row, units) for row in self.rows]
        lengths = (with_unit(f"{place.nominal:.4f}", "mm") for place in self.places)
        subject = "; ".join(f"{p.letter} {p.kind} {length}" for p, length in zip(self.places, lengths, strict=True))
        told = ("Table", "Kerf set", "Instruments", f"Piece, instrument, \u00b0{'F' if units == 'in' else 'C'}")
        return pdf_measuring.write(self.record, self.title, rows, self.notes, told, subject)

    def to_toml(self) -> str:
        """Return the file of measurements to fill in: a row for each place, empty between the quotes of `measured`."""
        said = (self.title, self.record.address, *self.notes, *_TO_FILL_IN)
        head = commented(said)
        file = write(_MACHINE, map(self._row, self.places), self._piece, self.record.units)
        return f"{head}{file}"

    @property
    def _piece(self) -> dict[str, object]:
        """What the file says of the piece: where its drawing is, what it is of, and room for how warm it is."""
        group = materials()[str(self.record.parameters["material"])].group
        return {
            "drawing": self.record.address,
            "metal": group if group in METALS else "",
            "temperature": "",
            "instrument_temperature": "",
        }

    @property
    def title(self) -> str:
        """What the sheet is called."""
        return f"Measuring sheet: {self.record.template.title}"

    @property
    def rows(self) -> tuple[tuple[str, str, str], ...]:
        """The letter of each place, what is measured there, and how long it is drawn."""
        return tuple((place.letter, what(place), drawn(place, self.record.units)) for place in self.places)

    @property
    def letters(self) -> dict[str, str]:
        """By the letter of each place the one that it has on the drawing: of a second reading that of the first."""
        return {place.letter: place.again or place.letter for place in self.places}

    @property
    def notes(self) -> tuple[str, ...]:
        """How the places are measured, a sentence or two each."""
        return notes(self.places)

    def _row(self, place: MeasuringPlace) -> dict[str, object]:
        units, flipped = self.record.units, place.kind == "reversal"
        row: dict[str, object] = {"note": place.letter, "kind": place.kind}
        if not flipped:
            row["direction_deg"] = round(math.degrees(place.direction), 6)
        return row | {"nominal": with_unit(number_to_fill_in(place.nominal, units), units), "measured": ""}


_MACHINE = dict.fromkeys(("name", "gantry_rail_spacing", "steps_per_mm_x", "steps_per_mm_y", "kerf"), "")
_TO_FILL_IN = (
    "Write each reading between the quotes of measured, with its unit where it is another than units says; what stays "
    "empty is left out.",
    'Add instrument = "tape" where it wasn\'t a caliper, u = "0.02 mm" where you know how well you read. Of [machine] '
    "and [piece] write what you know.",
    "Then: platewright true FILE",
)


class _Lettered(Template):
    """A template whose dimensions are named by their letters already."""

    @property
    def letters(self) -> dict[str, str]:
        return {place: place for place in self.words}


def lettered(record: Record, shown: tuple[Dimension, ...]) -> Record:
    """Return the record with these dimensions, each called by its letter, no other ones, and no findings: it is cut."""
    of = record.template
    letters = tuple(each.parameter for each in shown)
    named = _Lettered(of.slug, of.title, of.parameters, of.outline, words=letters)
    profile = replace(record.profile, dimensions=shown)
    return replace(record, template=named, profile=profile, findings=(), own_dimensions_only=True)


def _moved(place: MeasuringPlace, by: Point) -> MeasuringPlace:
    (x0, y0), (x1, y1) = place.start, place.end
    return replace(place, start=(x0 + by[0], y0 + by[1]), end=(x1 + by[0], y1 + by[1]))

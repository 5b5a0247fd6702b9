"""The measuring sheet of a test bend: its strips as drawn, and boxes for what is measured flat and bent.

As TOML it is the file that `parts.truing.bend` reads, its readings left empty.
"""

import math

from parts.export import drawing_svg
from parts.export.measuring_sheet import lettered
from parts.export.measuring_words import SheetRow, commented
from parts.profile import Dimension
from parts.record import Record
from parts.spec import BendStrips
from parts.truing.bend import write_bend
from parts.units import format_angle, format_length, number_to_fill_in, with_unit

DEGREES = "\u00b0"
NOTES = (
    "First deburr the strips, let them cool, and measure each one flat (F). Measure the sheet too (T), clear of "
    "its cut edges.",
    "Bend each on its line, end A always the same way, all over one V with one setting. Write down the V, from "
    "shoulder to shoulder.",
    "Then the legs (A, B), outside: one jaw flat on the outside face of the other leg, the other on the end, in "
    "the middle of the strip. And the angle between the legs (C), inside, with a protractor.",
)
_HEAD = (
    "Write each reading between its quotes, with its unit where it is another than units says; a strip without a "
    "length is left out.",
    "thickness is as measured, stock what the sheet is called. Leave inside_radius empty where you have no radius"
    " gauge, between_deg where you have no protractor.",
    'instrument = "steel-rule" or another where it wasn\'t a caliper, u = "0.02 mm" where you know how well you read.',
    "Then: platewright true FILE, and with --keep into your machine's numbers.",
)


class BendSheet:
    """The sheet of one drawing of strips."""

    def __init__(self, record: Record, strips: BendStrips) -> None:
        """Letter the strips as they are drawn."""
        self.strips = strips
        shown = [Dimension("F1", (0.0, 0.0), (strips.flat, 0.0), "below")]
        for n, low in enumerate(strips.floors[1:], start=2):
            top = low + strips.width
            shown.append(Dimension(f"F{n}", (0.0, top), (strips.flat, top), "above"))
        self.record = lettered(record, tuple(shown))

    def to_svg(self) -> str:
        """Return the drawing for a page."""
        return drawing_svg.write(self.record)

    def to_pdf(self) -> bytes:
        """Return the sheet to print: the drawing, and beside it a box for each reading."""
        from parts.export import pdf_measuring  # loads reportlab

        flat, line = format_length(self.strips.flat, "mm"), format_length(self.strips.bend_line, "mm")
        subject = f"flat {flat}, bend line {line} from end A; strips: {self.strips.count}"
        told = ("Brake", "Die", "Instruments", "Radius gauge")
        return pdf_measuring.write(self.record, self.title, list(self._rows), self.notes, told, subject)

    def to_toml(self) -> str:
        """Return the file of measurements to fill in."""
        said = (self.title, self.record.address, *self.notes, *_HEAD)
        head = commented(said)
        strips = [
            {"note": str(n), "flat": "", "leg_a": "", "leg_b": "", "between_deg": ""}
            for n in range(1, self.strips.count + 1)
        ]
        return head + write_bend(self._bend, strips, self.record.units)

    @property
    def _bend(self) -> dict[str, object]:
        """What the file says of all strips: what is drawn, and room for what isn't known yet."""
        units, of = self.record.units, self.record.parameters
        stock = self.record.job.cut.thickness_mm
        return {
            "drawing": self.record.address,
            "material": str(of["material"]),
            "stock": with_unit(number_to_fill_in(stock, units), units),
            "thickness": "",
            "v_opening": "",
            "angle_deg": round(math.degrees(self.strips.angle), 6),
            "inside_radius": "",
            "bend_line": with_unit(number_to_fill_in(self.strips.bend_line, units), units),
            "cut": with_unit(number_to_fill_in(self.strips.flat, units), units),
            "date": "",
            "brake": "",
        }

    @property
    def title(self) -> str:
        """What the sheet is called."""
        return f"Measuring sheet: {self.record.template.title}, flat and bent"

    @property
    def rows(self) -> tuple[tuple[str, str, str], ...]:
        """The letter of each reading, what it is, and what is drawn of it."""
        return tuple(row[:3] for row in self._rows)

    @property
    def letters(self) -> dict[str, str]:
        """By the number of each strip its letter on the drawing."""
        return {str(n): f"F{n}" for n in range(1, self.strips.count + 1)}

    @property
    def notes(self) -> tuple[str, ...]:
        """How it is measured, a sentence or two each."""
        return NOTES

    @property
    def _rows(self) -> tuple[SheetRow, ...]:
        units, between = self.record.units, format_angle(180 - math.degrees(self.strips.angle))
        flat, stock = (format_length(mm, units) for mm in (self.strips.flat, self.record.job.cut.thickness_mm))
        made = [
            SheetRow("T", "thickness of the sheet, measured", f"called {stock}", units),
            SheetRow("V", "V opening, shoulder to shoulder", "of the die", units),
            SheetRow("R", "inside radius, by a gauge", "if you have one: K is surer", units),
        ]
        for n in range(1, self.strips.count + 1):
            made += [
                SheetRow(f"F{n}", f"strip {n} flat, before", f"drawn {flat}", units),
                SheetRow(f"A{n}", f"leg A of strip {n}, outside", "bent", units),
                SheetRow(f"B{n}", f"leg B of strip {n}, outside", "bent", units),
                SheetRow(f"C{n}", f"between legs of strip {n}", f"meant {between}", DEGREES),
            ]
        return tuple(made)

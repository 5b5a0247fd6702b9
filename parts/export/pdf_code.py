"""The code on a drawing that a phone reads: a QR code by ISO/IEC 18004, its text the part's address.

Where the shop has said where its page is, a phone opens the part by it; without that it is the address without a host,
to be typed after that of the page.
"""

from functools import lru_cache
from itertools import groupby

from reportlab.graphics.barcode.qrencoder import QR8bitByte, QRCode, QRErrorCorrectLevel
from reportlab.pdfgen.canvas import Canvas

from parts.export.pdf_ink import letter
from parts.geometry import Box
from parts.record import Record

QUIET = 4
"""Modules that stay blank about a code (ISO/IEC 18004, 9.1)."""
LEAST_MODULE_MM = 0.33
"""As small as an office printer draws it and a phone reads it at arm's length: common practice."""
_HOLDS = 192
"""Bytes of a code of version 8 at level L (ISO/IEC 18004, table 7), the largest whose modules are no smaller."""
_LABEL = 2.1


def code_text(record: Record) -> str:
    """Return what the code of a part says: its address, after that of the shop's page where that is known."""
    return f"{record.page}{record.address}"


@lru_cache(maxsize=64)  # every sheet of a drawing has the same
def modules_of(text: str) -> list[list[bool]] | None:
    """Return the rows of a code, True for a dark module; None where the text is too long for a drawing's cell."""
    data = text.encode("utf-8")
    if len(data) > _HOLDS:
        return None
    code = QRCode(None, QRErrorCorrectLevel.L)
    code.addData(QR8bitByte(data))
    code.make()
    side = range(code.getModuleCount())  # type: ignore[no-untyped-call]
    return [[bool(code.isDark(row, column)) for column in side] for row in side]  # type: ignore[no-untyped-call]


def draw_code(canvas: Canvas, text: str, box: Box) -> None:
    """Draw the code of a text in a square cell, its blank border within it; of one that is too long, say so."""
    x0, y0, x1, y1 = box
    rows = modules_of(text)
    if rows is None:
        for i, line in enumerate(("Its address is", "too long for", "a code to scan.")):
            letter(canvas, (x0 + 1.2, y1 - 4 - 3.2 * i), line, _LABEL)
        return
    module = min(x1 - x0, y1 - y0) / (len(rows) + 2 * QUIET)
    for i, row in enumerate(rows):
        at = 0
        for dark, alike in groupby(row):
            wide = len(list(alike))
            if dark:
                x, y = x0 + (QUIET + at) * module, y1 - (QUIET + i + 1) * module
                canvas.rect(x, y, wide * module, module, stroke=0, fill=1)
            at += wide

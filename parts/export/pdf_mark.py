"""The shop's mark in a title block: a PNG as it is, an SVG's outlines filled black."""

import io
from functools import lru_cache

from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from parts import shop
from parts.errors import DataError, PartsError
from parts.export.pdf_ink import trace
from parts.geometry import Box
from parts.profile import Profile
from parts.read import read_drawing

_MOST_PIECES = 5000


def draw_mark(canvas: Canvas, box: Box) -> float:
    """Draw the shop's mark at the right of a box, as high as that; return how wide it is, 0 where there is none.

    Raises:
        DataError: the shop's file is unusable, or the mark that it names.
    """
    found = shop.mark()
    if found is None:
        return 0.0
    try:
        return _pixels(canvas, found.data, box) if found.kind == "png" else _outlines(canvas, found, box)
    except (PartsError, ValueError, OSError, SyntaxError) as error:
        raise DataError(f"title_block.mark: {found.name} can't be drawn: {error}") from error


def _pixels(canvas: Canvas, data: bytes, box: Box) -> float:
    picture = ImageReader(io.BytesIO(data))
    wide, high = picture.getSize()
    x0, y0, x1, y1 = box
    scale = min((y1 - y0) / high, (x1 - x0) / wide)
    canvas.drawImage(picture, x1 - wide * scale, y0, wide * scale, high * scale, mask="auto")
    return wide * scale


def _outlines(canvas: Canvas, of: shop.Mark, box: Box) -> float:
    profile = _profile(of)
    left, low, right, high = profile.box
    x0, y0, x1, y1 = box
    scale = min((y1 - y0) / max(high - low, 1e-6), (x1 - x0) / max(right - left, 1e-6))
    canvas.saveState()
    canvas.translate(x1 - (right - left) * scale, y0)
    canvas.scale(scale, scale)
    canvas.translate(-left, -low)
    path = canvas.beginPath()
    for loop in profile.boundary:
        trace(path, loop.segments)
        path.close()
    canvas.drawPath(path, stroke=0, fill=1, fillMode=0)
    canvas.restoreState()
    return (right - left) * scale


@lru_cache(maxsize=2)
def _profile(of: shop.Mark) -> Profile:
    profile = read_drawing(of.data, of.name, "mm").profile
    if sum(len(loop.segments) for loop in profile.boundary) > _MOST_PIECES:
        raise ValueError(f"it has more than {_MOST_PIECES} lines and arcs")
    return profile

"""Ground: the filled rectangle behind a picture, as large as the page, which programs put there for its colour.

A white one is taken for paper, and left aside on a layer of its own, to be taken back by who means it as the plate. Any
other may be the plate as well, and is cut, with a word.
"""

from parts.geometry import Box, Line
from parts.read.layers import GROUND, OWN
from parts.read.pieces import Stroke
from parts.read.svg.style import Style, luminance

WHITE = 0.9
"""How light a fill is that stands for paper; white is 1."""
SAME = 0.005
"""Of the page, that a rectangle as large as it may be larger or smaller."""

SAID = (
    "took as cut a filled rectangle as large as the page, which may be only the picture's background; leave out its "
    "outline if so"
)


def is_ground(style: Style, stroke: Stroke, page: Box) -> bool:
    """Tell whether a stroke is a rectangle as large as the page, filled and not stroked; not if ours by its layer."""
    if stroke.layer in OWN or not stroke.closed or not style.paint("fill") or style.paint("stroke"):
        return False
    lines = [piece for piece in stroke.pieces if isinstance(piece, Line)]
    upright = all(line.start[0] == line.end[0] or line.start[1] == line.end[1] for line in lines)
    if len(lines) != len(stroke.pieces) or len(lines) != 4 or not upright:
        return False
    xs, ys = [line.start[0] for line in lines], [line.start[1] for line in lines]
    box, (x0, y0, x1, y1) = (min(xs), min(ys), max(xs), max(ys)), page
    slack = SAME * max(x1 - x0, y1 - y0)
    return slack > 0 and all(abs(a - b) <= slack for a, b in zip(box, page, strict=True))


def as_paper(style: Style) -> str:
    """Return the layer of a ground that is white, nothing where it may be the plate."""
    return GROUND if luminance(style.paint("fill")) >= WHITE else ""

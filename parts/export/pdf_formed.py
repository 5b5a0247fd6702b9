"""The flat with the bent part's sections under it on one sheet of paper; where they have no room there, on one more.

Lengths are mm of paper.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from reportlab.pdfgen.canvas import Canvas

from parts.drawing import Drawing
from parts.export.formed import FormedView
from parts.export.pdf_ink import ink, letter
from parts.export.pdf_sheet import scale_text
from parts.geometry import Point

CAPTION, GAP = 2.6, 4.0
HIGH = (70.0, 55.0, 42.0)
"""How high sections may be under the flat, the best first."""
LEAST_FLAT = 0.75
"""The flat is drawn no smaller than this share of its scale to make room for the sections."""


@dataclass(frozen=True)
class Block:
    """What is drawn on a sheet: the flat, and drawings side by side under it, each with its caption above it."""

    flat: Drawing | None
    formed: Sequence[Drawing] = ()
    captions: Sequence[str] = ()

    @property
    def under(self) -> float:
        """How much the sections take."""
        return max((each.height for each in self.formed), default=0.0) + (GAP + CAPTION if self.formed else 0.0)

    @property
    def height(self) -> float:
        """How much all takes."""
        return (self.flat.height if self.flat else 0.0) + self.under

    def draw(self, canvas: Canvas, at: Point) -> None:
        """Draw it with its lower left at a point."""
        x, y = at
        if self.flat:
            ink(canvas, self.flat, (x, y + self.under))
        top = y + self.under - GAP
        for drawing, caption in zip(self.formed, self.captions, strict=True):
            letter(canvas, (x + 1.0, top - CAPTION), caption, CAPTION)
            ink(canvas, drawing, (x, top - CAPTION - drawing.height))
            x += drawing.width


def arranged(
    flat: Drawing,
    views: Sequence[FormedView],
    room: tuple[float, float],
    text: float,
    redrawn: Callable[[float], Drawing | None],
) -> tuple[Block, Block | None]:
    """Return what stands on the first sheet, and on one more where the sections have no room on it.

    Args:
        flat: the flat as large as the sheet has room for.
        views: the sections of the bent part.
        room: width and height that the sheet has for drawings.
        text: size of the lettering.
        redrawn: the flat in so much height, None where it would be too small there.
    """
    if not views:
        return Block(flat), None

    @cache  # each height is tried twice at most, and the first mostly does
    def sections(high: float) -> list[Drawing]:
        return _side_by_side(views, room[0], min(high, room[1] / 2), text)

    for is_smaller in (False, True):
        for formed in map(sections, HIGH):
            if any(not each.fits for each in formed):
                continue
            under = Block(None, formed, _captions(views, formed))
            shown = redrawn(room[1] - under.height) if is_smaller else flat
            if shown and shown.height + under.height <= room[1] and shown.fits:
                return Block(shown, formed, under.captions), None
    formed = _side_by_side(views, room[0], room[1] - GAP - CAPTION, text)
    return Block(flat), Block(None, formed, _captions(views, formed))


def _side_by_side(views: Sequence[FormedView], width: float, height: float, text: float) -> list[Drawing]:
    return [view.on_paper(width / len(views), height, text) for view in views]


def _captions(views: Sequence[FormedView], formed: Sequence[Drawing]) -> list[str]:
    return [f"{view.title} (scale {scale_text(drawn.scale)})" for view, drawn in zip(views, formed, strict=True)]

"""A label: one line of scribed text about a middle, with the room it takes."""

from collections.abc import Iterable
from dataclasses import dataclass

from parts.artwork.lettering import scribed, text_width
from parts.geometry import Box, Point, rotation
from parts.profile import Scribe
from parts.units import length_number


@dataclass(frozen=True, slots=True)
class Label:
    """A text of `height` mm with its `middle`; `angle` is that of its base line, radians from the x axis."""

    text: str
    middle: Point
    height: float
    angle: float = 0.0

    @property
    def width(self) -> float:
        """How long it is, mm."""
        return text_width(self.text, self.height)

    @property
    def box(self) -> Box:
        """The rectangle it takes when its base line is level."""
        (x, y), a, b = self.middle, self.width / 2, self.height / 2
        return x - a, y - b, x + a, y + b

    @property
    def marks(self) -> tuple[Scribe, ...]:
        """Its strokes."""
        turn, (x, y) = rotation(self.angle), self.middle
        dx, dy = turn.point((-self.width / 2, -self.height / 2))
        return scribed(self.text, (x + dx, y + dy), self.height, self.angle)


def scribe_all(labels: Iterable[Label]) -> tuple[Scribe, ...]:
    """Return the strokes of all the labels, in order."""
    return tuple(mark for label in labels for mark in label.marks)


def numeral_width(mm: float) -> float:
    """Return how long the number of a length is, in text heights, in whichever working unit it is longer.

    What has room doesn't depend on the working units.
    """
    return max(text_width(length_number(mm, "mm"), 1), text_width(length_number(mm, "in"), 1))

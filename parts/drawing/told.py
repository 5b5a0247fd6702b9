"""What a dimension tells: its lettering, and the round holes it is told for."""

from dataclasses import dataclass
from typing import TypeAlias

from parts.geometry import Circle
from parts.profile import Dimension, Drill, Opening

Round: TypeAlias = tuple[Opening | Drill, Circle]
"""A round hole, or a drill centre, which is to be one, and its circle."""


@dataclass(frozen=True, slots=True)
class Told:
    """A dimension, what its lettering says, and the round holes alike that it is told for."""

    shown: Dimension
    text: str
    alike: tuple[Round, ...] = ()

    @property
    def drilled(self) -> Circle | None:
        """The first of its holes that is a drill centre."""
        return next((ring for hole, ring in self.alike if isinstance(hole, Drill)), None)

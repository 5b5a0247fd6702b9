"""An off-cut on the rack: what is left of a sheet, with its outline."""

from dataclasses import dataclass

from parts.store.layout import Rings


@dataclass(frozen=True, slots=True)
class OffCut:
    """An off-cut: material, thickness and outline in mm, the lower left of its box at the origin.

    `of_job` is the job that left it, 0 of one that was put in by hand; `made` is when (UTC), `number` what it goes by.
    """

    material: str
    thickness_mm: float
    outline: Rings
    name: str = ""
    of_job: int = 0
    made: str = ""
    number: int = 0

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of its box, mm."""
        xs, ys = zip(*self.outline[0], strict=True)
        return max(xs), max(ys)

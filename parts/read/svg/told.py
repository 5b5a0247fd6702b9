"""What is said of a drawing whose lines are painted."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from parts.geometry.area import CHORD_MM
from parts.read.counting import counted, worded
from parts.tolerance import CURVE_FIT_MM
from parts.units import Units, format_figures, format_length


@dataclass(slots=True)
class Told:
    """Counts of what was decided, and the widest strokes of either kind, in mm, told in the drawing's units."""

    units: Units = "mm"
    counts: Counter[str] = field(default_factory=Counter)
    widest: dict[str, float] = field(default_factory=dict)

    def stroke(self, how: str, width_mm: float) -> None:
        """Count a stroke that is cut along its outline or its middle."""
        self.counts[how] += 1
        self.widest[how] = max(self.widest.get(how, 0.0), width_mm)

    def sentences(self) -> Iterator[str]:
        """Yield what was decided by what is painted."""
        n = self.counts
        within = (
            f"curves within {format_figures(CURVE_FIT_MM)}, meeting points by chords within {format_figures(CHORD_MM)}"
        )
        if n["closed"]:
            yield f"closed {counted(n['closed'], 'outline')} left open, since what is filled is closed"
        if n["crossed"]:
            yield worded(
                n["crossed"],
                f"took the edge of what is painted of {{n}} shape[|s] crossing [itself|themselves]: {within}",
            )
        if n["cut off"]:
            yield worded(
                n["cut off"], f"cut off {{n}} shape[|s] as clip paths, masks and windows show [it|them]: {within}"
            )
        if n["slivers"]:
            yield f"dropped {counted(n['slivers'], 'sliver')} thinner than {format_figures(CURVE_FIT_MM)}"
        if n["outline"]:
            wide = format_length(self.widest["outline"], self.units)
            yield f"took the outline of {counted(n['outline'], 'stroke')} up to {wide} wide: {within}"
        if n["middle"]:
            wide = format_length(self.widest["middle"], self.units)
            yield f"took the middle of {counted(n['middle'], 'stroke')} up to {wide} wide"

"""Raw: a drawing as its file gives it, before anything is healed or judged."""

from collections import Counter
from dataclasses import dataclass, field

from parts.read.affine import IDENTITY, Affine
from parts.read.pieces import LeftOut, Spot, Stroke
from parts.units import Units

ON_PAPER = "on a paper layout"
"""Why something is hidden: it is of a sheet to be printed."""


@dataclass(frozen=True, slots=True)
class Scale:
    """What a file says of its unit: its length in mm, its name, and the units to speak in."""

    unit_mm: float
    name: str
    units: Units


@dataclass(slots=True)
class Raw:
    """Strokes and spots in drawing units, y upward.

    `own` takes a point to the coordinates that the file itself has: those of an SVG run downward.
    `scale` is None where the file doesn't say; `unscaled` then tells what it does say, as the start of a
    sentence. `hidden` counts what the drawing itself doesn't show, by why; `said` are sentences of what was decided.
    `colours` are those of layers, `#rrggbb`, by their names in capitals. `assumed` is the scale to go by where neither
    the file nor whoever sent it says one; `assumed_why` says why, as the sentence of a finding, where that was nobody's
    wish. `off` is what lies on layers that aren't shown, unless more of it is placed than is followed; `off_counts`
    counts it by layer and why.
    """

    strokes: list[Stroke] = field(default_factory=list)
    spots: list[Spot] = field(default_factory=list)
    left_out: list[LeftOut] = field(default_factory=list)
    hidden: Counter[str] = field(default_factory=Counter)
    said: list[str] = field(default_factory=list)
    colours: dict[str, str] = field(default_factory=dict)
    own: Affine = IDENTITY
    scale: Scale | None = None
    assumed: Scale | None = None
    assumed_why: str = ""
    off: list[Stroke | Spot | LeftOut] = field(default_factory=list)
    off_counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    off_is_cut_short: bool = False
    unscaled: str = "The file doesn't say its units"

"""Holes as a shop makes them: what is cut for a bolt, and what is done to it afterwards.

    tapped        cut, or drilled, to the tap drill of the bolt's thread
    countersunk   a clearance hole, a flat head let in flush; counterbored: the same of a socket head, to its height
    pilot         cut small, drilled to the clearance hole afterwards
    plug-weld     a hole to weld through, by the thickness
    anchor        larger than for a bolt, since rods cast in never line up

The numbers and their sources are in `parts/data/hole_making.toml`.
"""

import math
from functools import cache
from typing import Annotated

from pydantic import Field

from parts.data import Sourced, Table, load
from parts.fasteners.bolts import Bolt, bolts
from parts.profile import HoleWork
from parts.units import Inches, Millimetres

KINDS = ("through", "slot", "tapped", "countersunk", "counterbored", "pilot", "plug-weld", "anchor")
THREADS = ("coarse", "fine")
_MM_PER_INCH = 25.4


class MetricThread(Table):
    """A thread's pitch and the drill before its tap, mm."""

    pitch_mm: Annotated[Millimetres, Field(gt=0)]
    drill_mm: Annotated[Millimetres, Field(gt=0)]

    def name(self, size: str, fine: bool) -> str:
        """Return what the thread is called: M8, M8x1."""
        return f"{size}x{self.pitch_mm:g}" if fine else size


class InchThread(Table):
    """The same by threads to the inch."""

    threads_per_inch: Annotated[int, Field(gt=0)]
    drill_mm: Annotated[Inches, Field(alias="drill_in", gt=0)]

    @property
    def pitch_mm(self) -> float:
        """The pitch."""
        return _MM_PER_INCH / self.threads_per_inch

    def name(self, size: str, fine: bool) -> str:
        """Return what the thread is called: 5/16-18 UNC."""
        return f"{size}-{self.threads_per_inch} {'UNF' if fine else 'UNC'}"


class MetricThreads(Sourced):
    """The threads of one series."""

    sizes: dict[str, MetricThread]


class InchThreads(Sourced):
    """The same in inches."""

    sizes: dict[str, InchThread]


class Heads(Sourced):
    """Diameters of heads let in, by bolt; `angle_deg` is a countersink's."""

    heads_mm: dict[str, Millimetres]
    angle_deg: float = 0.0


class AnchorRow(Table):
    """A rod and its hole."""

    rod_mm: Annotated[Inches, Field(alias="rod_in")]
    hole_mm: Annotated[Inches, Field(alias="hole_in")]


class Anchors(Sourced):
    """Holes for anchor rods, ascending."""

    rows: tuple[AnchorRow, ...]


class Over(Sourced):
    """How much larger than what it is for."""

    over_mm: Millimetres


class Pilot(Sourced):
    """A pilot's share of the finished hole, and the metal to be left for the drill all round."""

    share: float
    left_mm: Millimetres


class HoleMaking(Table):
    """The file."""

    metric_coarse: MetricThreads
    metric_fine: MetricThreads
    inch_coarse: InchThreads
    inch_fine: InchThreads
    countersunk_metric: Heads
    countersunk_inch: Heads
    counterbored_metric: Heads
    counterbored_inch: Heads
    anchor: Anchors
    small_anchor: Over
    plug_weld: Over
    pilot: Pilot


@cache
def hole_making() -> HoleMaking:
    """Return the tables.

    Raises:
        DataError: their data file is unusable.
    """
    return load("hole_making.toml", HoleMaking)


def threads(bolt: Bolt, series: str) -> MetricThreads | InchThreads:
    """Return the series of threads, `coarse` or `fine`, in the standard of a bolt."""
    tables = hole_making()
    if bolt.units == "in":
        return tables.inch_fine if series == "fine" else tables.inch_coarse
    return tables.metric_fine if series == "fine" else tables.metric_coarse


def heads(bolt: Bolt, kind: str) -> Heads:
    """Return the heads let in, `countersunk` or `counterbored`, in the standard of a bolt."""
    tables = hole_making()
    if kind == "countersunk":
        return tables.countersunk_inch if bolt.units == "in" else tables.countersunk_metric
    return tables.counterbored_inch if bolt.units == "in" else tables.counterbored_metric


def sizes_of(kind: str, bolt: Bolt, series: str) -> tuple[str, ...]:
    """Return the sizes of a bolt's standard that a kind of hole is made for."""
    if kind == "tapped":
        return tuple(threads(bolt, series).sizes)
    if kind in ("countersunk", "counterbored"):
        return tuple(heads(bolt, kind).heads_mm)
    return tuple(size for size, other in bolts().items() if other.units == bolt.units)


def anchor_hole_mm(rod_mm: float) -> float:
    """Return the hole for an anchor rod; one between the table's rows is rounded up to a whole mm."""
    tables = hole_making()
    row = next((row for row in reversed(tables.anchor.rows) if row.rod_mm <= rod_mm), None)
    if row is None:
        return rod_mm + tables.small_anchor.over_mm
    return row.hole_mm if row.rod_mm == rod_mm else float(math.ceil(rod_mm + row.hole_mm - row.rod_mm))


def pilot_mm(finished_mm: float, smallest_mm: float) -> float:
    """Return the pilot of a finished hole where a process cuts none under `smallest_mm`; 0 where there is no room."""
    numbers = hole_making().pilot
    pilot = max(numbers.share * finished_mm, smallest_mm)
    return pilot if pilot <= finished_mm - 2 * numbers.left_mm else 0.0


def worked_hole(kind: str, bolt: Bolt, clearance_mm: float, thickness_mm: float, series: str) -> tuple[float, HoleWork]:
    """Return the diameter that is cut, or drilled, in mm, and what is done to the hole afterwards.

    Raises:
        KeyError: the tables have no such hole for this bolt.
    """
    size = bolt.size
    if kind == "tapped":
        thread = threads(bolt, series).sizes[size]
        name = thread.name(size, series == "fine")
        return thread.drill_mm, HoleWork(kind, size, bolt.diameter_mm, thread=name, pitch=thread.pitch_mm)
    if kind == "countersunk":
        let_in = heads(bolt, kind)
        head, angle = let_in.heads_mm[size], let_in.angle_deg
        depth = (head - clearance_mm) / 2 / math.tan(math.radians(angle / 2))
        return clearance_mm, HoleWork(kind, size, head, depth, angle)
    if kind == "counterbored":  # a socket head is as high as its thread is thick
        return clearance_mm, HoleWork(kind, size, heads(bolt, kind).heads_mm[size], bolt.diameter_mm)
    if kind == "anchor":
        hole = anchor_hole_mm(bolt.diameter_mm)
    elif kind == "plug-weld":
        hole = thickness_mm + hole_making().plug_weld.over_mm
    else:
        hole = clearance_mm
    return hole, HoleWork(kind, size, hole)

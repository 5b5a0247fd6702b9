"""The edge distance that a bolt wants in its own hole: that of a standard one, and what a larger one or a slot adds."""

from dataclasses import dataclass

from parts.fasteners.distances import edge_table
from parts.fasteners.hole_tables import is_short, oversized_increment, slot_increment


@dataclass(frozen=True, slots=True)
class EdgeWanted:
    """An edge distance, mm, and the words of its parts: where each is from, and what it is added for.

    `toward` is the cosine of the angle between a slot and the way to the edge: 1 where it points there, 0 along it.
    Measured from the middle of the hole or slot; with `from_end`, of a curved slot, from the centre of its round end.
    """

    bolt: float
    width: float
    travel: float = 0.0
    toward: float = 0.0
    from_end: bool = False

    @property
    def least(self) -> float:
        """For a standard hole."""
        return edge_table(self.bolt).least_mm(self.bolt)

    @property
    def oversized(self) -> float:
        """What is added since the hole, or the slot, is wider than standard."""
        table = edge_table(self.bolt)
        return oversized_increment(self.bolt, self.width, table.holes, table.increments)

    @property
    def slotted(self) -> float:
        """What is added for a slot that points to the edge; at least half its travel, as far as the bolt goes."""
        if not self.travel * self.toward:
            return 0.0
        table = edge_table(self.bolt)
        added = slot_increment(self.bolt, self.width + self.travel, table.holes, table.increments)
        reached = self.travel / 2
        return (max(added, reached) - (reached if self.from_end else 0.0)) * self.toward

    @property
    def whole(self) -> float:
        """All of it."""
        return self.least + self.oversized + self.slotted

    @property
    def source(self) -> str:
        """Where the distance for a standard hole is from; `derived from` where the standard has no such bolt."""
        table = edge_table(self.bolt)
        return table.source if table.is_of_the_table(self.bolt) else f"derived from {table.source}"

    @property
    def increment_source(self) -> str:
        """Where the increments are from."""
        return edge_table(self.bolt).increments.source

    @property
    def slot_name(self) -> str:
        """What the slot is: `short slot`, `long slot`."""
        return (
            "short slot" if is_short(self.bolt, self.width + self.travel, edge_table(self.bolt).holes) else "long slot"
        )


def least_edge_mm(bolt_mm: float, hole_mm: float) -> float:
    """Return the least edge distance of a bolt in a round hole of this diameter, mm; 0 where no bolt is known."""
    return EdgeWanted(bolt_mm, hole_mm).whole if bolt_mm > 0 else 0.0

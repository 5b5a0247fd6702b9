"""What a disk can reach: offsets, closings, pockets, and where a rolling disk comes to rest."""

from parts.geometry.disk.closing import closed_by
from parts.geometry.disk.offset import piece
from parts.geometry.disk.pocket import Pocket, pockets

__all__ = ["Pocket", "closed_by", "piece", "pockets"]

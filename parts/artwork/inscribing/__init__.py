"""Letters cut through a figure that is there already: where they have room between its edges and holes."""

from parts.artwork.inscribing.letters import Inscription, NoRoom, Words, inscribed

__all__ = ["Inscription", "NoRoom", "Words", "inscribed"]

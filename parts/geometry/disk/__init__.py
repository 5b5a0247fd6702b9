"""What a disk can reach: offsets, closings, pockets, and where a rolling disk comes to rest."""

"""Shop text <-> numbers: how lengths, angles and counts are read, and how quantities are printed."""

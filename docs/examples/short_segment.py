"""A small latch whose round end came as fourteen chords, and the same as one arc."""

import math

from parts.geometry import Loop
from parts.profile import Profile

_CHORDS = [(22 + 8 * math.cos(t), 8 + 8 * math.sin(t), 0.0) for t in (math.pi * (k / 14 - 0.5) for k in range(15))]
BREAKS = Profile((Loop.through([(0, 0, 0), *_CHORDS, (0, 16, 0)]),))
OBEYS = Profile((Loop.through([(0, 0, 0), (22, 0, 1.0), (22, 16, 0), (0, 16, 0)]),))

"""What a tape says of a corner."""

import math
from collections.abc import Iterator

from parts.truing import QuickCheck, Words


def tape_lines(check: QuickCheck, words: Words) -> Iterator[str]:
    """Yield what a tape says of a corner, a sentence each."""
    angle, long = check.angle, check.longer
    value, low, high = (math.degrees(each) for each in (angle.value, angle.low95, angle.high95))
    yield f"The corner stands at {90 + value:.3f}° ({90 + low:.3f}° to {90 + high:.3f}° with 95 % confidence)."
    off = words.say(abs(long * math.sin(angle.value)))
    if angle.differs_from_zero:
        way = "opens too wide" if value > 0 else "is too sharp"
        yield f"It {way}: {off} off square over {words.say(long)}."
    else:
        yield f"A tape read to {words.say(check.u)} can't tell it from square."
    smallest = words.say(long * math.sin(check.smallest))
    yield f"The smallest error it shows over {words.say(long)} is {smallest} ({math.degrees(check.smallest):.3f}°)."
    if check.unequal is not None:
        yield (
            f"The four lengths don't go together: the squares of the diagonals should add up to twice those of the "
            f"sides, and a diagonal would have to be {words.say(abs(check.unequal))} "
            f"{'shorter' if check.unequal > 0 else 'longer'}. Measure again."
        )

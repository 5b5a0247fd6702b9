"""What a tape says of a corner."""

import math
from collections.abc import Iterator

from parts.truing import QuickCheck, Words
from parts.units import format_angle_error


def tape_lines(check: QuickCheck, words: Words) -> Iterator[str]:
    """Yield what a tape says of a corner, a sentence each."""
    angle, long = check.angle, check.longer
    value, low, high = (math.degrees(each) for each in (angle.value, angle.low95, angle.high95))
    stands, least, most = (format_angle_error(90 + each, 3) for each in (value, low, high))
    yield f"The corner stands at {stands} ({least} to {most} with 95 % confidence)."
    off = words.say(abs(long * math.sin(angle.value)))
    if angle.differs_from_zero:
        way = "opens too wide" if value > 0 else "is too sharp"
        yield f"It {way}: {off} off square over {words.say(long)}."
    else:
        yield f"A tape read to {words.say(check.u)} can't tell it from square."
    smallest, turned = words.say(long * math.sin(check.smallest)), format_angle_error(math.degrees(check.smallest), 3)
    yield f"The smallest error it shows over {words.say(long)} is {smallest} ({turned})."
    if check.unequal is not None:
        yield (
            f"The four lengths don't go together: the squares of the diagonals should add up to twice those of the "
            f"sides, and a diagonal would have to be {words.say(abs(check.unequal))} "
            f"{'shorter' if check.unequal > 0 else 'longer'}. Measure again."
        )

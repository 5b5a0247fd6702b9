"""Seen: an SVG taken as a picture is, by what it paints and not by its lines; the same limits, the same sentences."""

from pathlib import PurePath

from parts.errors import GeometryError, Unreadable
from parts.read import limits
from parts.read.limits import Budget, check_size, shown
from parts.read.svg.painted import Painted, painted
from parts.workers import TimeUp, clock


def read_painted(data: bytes, filename: str, unit_mm: float) -> Painted:
    """Return what an SVG paints, one of its units drawn `unit_mm` mm large.

    Raises:
        Unreadable: if it is broken, hostile, too large, or takes long; a sentence that names the file.
    """
    name = shown(PurePath(filename).name) or "The file"
    try:
        check_size(data)
        with clock(limits.LONGEST_S):
            return painted(data, unit_mm, Budget())
    except Unreadable as error:
        raise Unreadable(f"{name} can't be read: {error}.") from error
    except TimeUp:
        raise Unreadable(f"{name} can't be read: {limits.too_slow()}.") from None
    except (ArithmeticError, GeometryError) as error:  # numbers that only a broken file holds
        raise Unreadable(f"{name} can't be read: the numbers in it make no lines.") from error

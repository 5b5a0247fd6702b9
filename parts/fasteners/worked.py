"""What is told of a hole to which something is done after it is cut.

Abbreviations are those of ASME Y14.5 in small letters: csk, a countersink; cbore, a counterbore; near side, far side.
"""

from collections.abc import Callable

from parts.fasteners.bolts import bolts
from parts.profile import Drill, HoleWork, Opening
from parts.units import format_angle, format_size_name


def said_of_hole(hole: Opening | Drill, cut: str, say: Callable[[float], str]) -> str:
    """Return the size that is cut or drilled, as it is said, and what is done afterwards; `say` says other sizes.

    As it is: `Ø6.8, tap M8`, `Ø9, csk Ø17.92 x 90° near side`, `Ø5 pilot, drill Ø9`.
    """
    work = hole.work
    if work is None or work.kind in ("through", "slot"):
        return cut
    if work.kind == "pilot":
        return cut if work.is_marked else f"{cut} pilot, drill Ø{say(work.made)}"
    return f"{cut}, {_after(work, say)}"


def _after(work: HoleWork, say: Callable[[float], str]) -> str:
    size, side = say(work.made), "far side" if work.is_far else "near side"
    if work.kind == "tapped":
        return f"tap {work.thread}"
    if work.kind == "countersunk":
        return f"csk Ø{size} \u00d7 {format_angle(work.angle)} {side}"
    if work.kind == "counterbored":
        return f"cbore Ø{size}, {say(work.depth)} deep {side}"
    if work.kind == "anchor":
        return f"anchor {format_size_name(work.bolt, bolts()[work.bolt].units)}"
    return "plug weld"

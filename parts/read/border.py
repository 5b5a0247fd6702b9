"""Border: the rectangle of a drawing's sheet, which isn't of the part though nothing but its place says so.

border   an upright rectangle around everything that is cut, of at least twice the area of what lies next inside it: of
         a sheet's size with more than round holes in it, or with a part in it that has round holes of its own; and
         what lies directly around such a one

Nothing is left out for that: whoever sent the drawing is asked.
"""

from collections.abc import Iterator, Mapping, Sequence

from parts.finding import Finding
from parts.geometry import Loop
from parts.read.account import Choice, said
from parts.read.evidence import is_step, is_upright
from parts.read.layers import side
from parts.read.limits import Budget
from parts.read.nest import around_each
from parts.read.sentences import READING
from parts.units import MM_PER_IN, Units, format_size

# ISO 216:2007, trimmed sizes A0 to A5; the frames that ISO 5457:1999 draws on A0 to A4; ASME Y14.1, A to E. From
# memory.
_MM = (
    (841, 1189), (594, 841), (420, 594), (297, 420), (210, 297), (148, 210),
    (821, 1159), (574, 811), (400, 564), (277, 390), (180, 277),
)  # fmt: skip
_IN = ((8.5, 11), (11, 17), (17, 22), (22, 34), (34, 44))
SHEETS_MM = (*_MM, *((a * MM_PER_IN, b * MM_PER_IN) for a, b in _IN))
"""The shorter and the longer side of sheets and of their frames."""
SAME_SHEET_MM = 0.5
FAR_LARGER = 2.0
"""How many times the area of what lies next inside it a border has at least (a judgement, from memory)."""
Loops = Sequence[tuple[Loop, str]]


def border_findings(loops: Loops, choice: Choice, units: Units, budget: Budget) -> Iterator[Finding]:
    """Yield a finding for each outline that is cut and looks like the border of a sheet, until it is chosen.

    Raises:
        Unreadable: if too many loops lie in or across each other.
    """
    if len(loops) < 2 or all(not is_upright(loop) for loop, _ in loops):
        return
    around = dict(around_each([loop for loop, _ in loops], budget))
    for i in _borders(loops, around):
        loop, _ = loops[i]
        if choice.meant(loop) is not None:
            continue
        x0, y0, x1, y1 = loop.box
        box = said(choice.box(loop))
        yield Finding(
            READING, "warn", (x0, y0), None, None,
            f"The rectangle around everything, {format_size(x1 - x0, y1 - y0, units)}, looks like the border of the "
            "sheet; it is cut.",
            "Leave it out if it is; if it is of the part, choose that it is cut, and it isn't asked again.",
            (("outline", f"{box}=aside"),),
        )  # fmt: skip


def _borders(loops: Loops, around: Mapping[int, int | None]) -> list[int]:
    """The numbers of the rectangles, from the outermost, that are around all the rest of a sheet."""
    stack: list[int] = []
    inner = [i for i, outer in around.items() if outer is None]
    while len(inner) == 1 and _may_be(loops[inner[0]]):
        stack.append(inner[0])
        inner = [i for i, outer in around.items() if outer == stack[-1]]
    while stack and not _is_border(stack[-1], loops, around):
        stack.pop()
    return stack


def _may_be(loop: tuple[Loop, str]) -> bool:
    return is_upright(loop[0]) and side(loop[1]) is None


def _is_border(i: int, loops: Loops, around: Mapping[int, int | None]) -> bool:
    border = loops[i][0]
    inside = [j for j, outer in around.items() if outer == i]
    if not inside or border.area < FAR_LARGER * sum(loops[j][0].area for j in inside):
        return False
    if is_sheet(border):
        return any(loops[j][0].circle is None for j in inside)
    holes = [(loops[k][0], loops[j][0]) for j in inside for k, outer in around.items() if outer == j]
    return any(hole.circle and not is_step(hole.box, part.box) for hole, part in holes)


def is_sheet(loop: Loop) -> bool:
    """Tell whether a loop is as large as a sheet of paper, or as the frame drawn on one."""
    x0, y0, x1, y1 = loop.box
    short, long = sorted((x1 - x0, y1 - y0))
    return any(abs(short - a) <= SAME_SHEET_MM and abs(long - b) <= SAME_SHEET_MM for a, b in SHEETS_MM)

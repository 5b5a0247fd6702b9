"""A laid-out sheet as an `svg` element to stand in a page: to scale, every part with its number."""

from html import escape

from parts.export.drawing_svg import _n, _path
from parts.export.layout_sheet import LaidPart, LayoutSheet
from parts.geometry import Point, Segment
from parts.profile import Bend, Scribe

LARGEST_NUMBER, SHARE = 0.03, 1.1
"""Height of a number: the first of the sheet's longer side at the most, and the second of the room for it."""


def write(sheet: LayoutSheet) -> str:
    """Return the sheet with its parts as they lie, lower left where it is; lengths are mm."""
    most = LARGEST_NUMBER * max(sheet.width, sheet.height)

    def at(p: Point) -> str:
        return f"{_n(p[0])} {_n(sheet.height - p[1])}"

    def part(laid: LaidPart) -> str:
        profile = laid.profile
        cut = "".join(_path(loop.segments, True, at, 1.0) for loop in profile.boundary)
        lines: list[tuple[Segment, ...]] = [(m.line,) for m in profile.marks if isinstance(m, Bend)]
        lines += [(segment,) for m in profile.marks if isinstance(m, Scribe) for segment in m.path]
        fine = "".join(_path(line, False, at, 1.0) for line in lines)
        marks = f'<path class="laid-mark" d="{fine}"/>' if fine else ""
        x, y = at(laid.at).split()
        size = _n(min(most, SHARE * laid.room))
        number = f'<text x="{x}" y="{y}" font-size="{size}" text-anchor="middle" dy=".35em">{laid.number}</text>'
        title = escape(f"{laid.number}: {laid.name}{', pinned' if laid.is_pinned else ''}")
        kind = "laid laid-pinned" if laid.is_pinned else "laid"
        x0, y0, x1, y1 = profile.box
        data = f'data-row="{laid.row}" data-part="{laid.number}" data-box="{_n(x0)} {_n(y0)} {_n(x1)} {_n(y1)}"'
        return f'<g class="{kind}" {data}><title>{title}</title><path d="{cut}"/>{marks}{number}</g>'

    edge = "".join(f"M{'L'.join(map(at, ring))}Z" for ring in sheet.edge)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="laid-sheet" role="img" data-sheet="{sheet.number}" '
        f'aria-label="{escape("; ".join(sheet.said[1:2]))}" viewBox="0 0 {_n(sheet.width)} {_n(sheet.height)}" '
        f'fill="none" stroke="currentColor">'
        f'<path class="laid-edge" d="{edge}"/>'
        f"{''.join(part(laid) for laid in sheet.parts)}</svg>"
    )

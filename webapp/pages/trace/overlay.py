"""The picture with the outline over it, so that whoever sent it sees what was taken for what."""

import base64
import math

from markupsafe import Markup, escape

from parts import Traced
from parts.artwork import segment_points
from parts.artwork.pictures import Picture, as_png
from parts.geometry import Arc, Loop, Point
from parts.units import format_length


def overlay(picture: Picture, traced: Traced | None) -> Markup:
    """Return an `svg` element of the picture in grey, and over it the outline where there is one.

    Of a photograph with a sheet in it, it is the photograph as it was sent, with a frame where the sheet was found.
    """
    taken = traced.taken if traced else None
    shown = taken.photo if taken else picture
    wide, high = shown.width, shown.height
    data = base64.b64encode(as_png(shown)).decode("ascii")
    path = "".join(_path(loop, traced, high) for loop in traced.part.profile.boundary) if traced else ""
    x0, y0, x1, y1 = _box(traced, wide, high)
    sheet = " ".join(f"{x:.1f},{y:.1f}" for x, y in taken.plane.corners) if taken else ""
    frame = f'<polygon class="sheet-frame" points="{sheet}"/>' if sheet else ""
    return Markup(  # noqa: S704 - numbers and base64 alone
        f'<svg class="over-picture" viewBox="{x0:.1f} {y0:.1f} {x1 - x0:.1f} {y1 - y0:.1f}" role="img" '
        f'data-reduced="{shown.reduced}" aria-label="The picture with the outline over it">'
        f'<image href="data:image/png;base64,{data}" width="{wide}" height="{high}" preserveAspectRatio="none"/>'
        f'{frame}<path d="{path}"/>{_marks(traced, high, max(x1 - x0, y1 - y0)) if traced else ""}</svg>'
    )


def _marks(traced: Traced, high: int, across: float) -> str:
    """What was changed on the way: bridges as they run, and a ring about each mended place, each with its words."""
    units = traced.part.record.job.units
    said = []
    for bridge in traced.made.bridges:
        (x0, y0), (x1, y1) = (_seen(at, traced, high) for at in (bridge.start, bridge.end))
        title = f"<title>bridge {escape(format_length(bridge.width_mm, units))} wide</title>"
        said.append(f'<line class="bridge" x1="{x0:.1f}" y1="{y0:.1f}" x2="{x1:.1f}" y2="{y1:.1f}">{title}</line>')
    for change in traced.made.changes:
        x, y = _seen(change.at, traced, high)
        moved = f", moved by {format_length(change.moved_mm, units)}" if change.moved_mm else ""
        title = f"<title>{escape(change.kind + moved)}</title>"
        said.append(f'<circle class="changed" cx="{x:.1f}" cy="{y:.1f}" r="{across / 60:.1f}">{title}</circle>')
    return "".join(said)


def _seen(at: Point, traced: Traced, high: int) -> Point:
    """Where in the picture a place of what was made is."""
    here = traced.placed(at)
    if traced.taken:
        x, y = traced.on_photo([here])[0]
        return x, y
    return _pixel(here, traced, high)


def _box(traced: Traced | None, wide: int, high: int) -> tuple[float, float, float, float]:
    """What is shown, in pixels: the picture, and what stands out of it of a frame or a stake."""
    box = (0.0, 0.0, float(wide), float(high))
    if traced is None or traced.taken:
        return box
    left, low, right, top = traced.part.profile.box
    x0, y0 = _pixel((left, top), traced, high)
    x1, y1 = _pixel((right, low), traced, high)
    spare = max(wide, high) / 100
    return min(0.0, x0 - spare), min(0.0, y0 - spare), max(wide, x1 + spare), max(high, y1 + spare)


def _pixel(at: Point, traced: Traced, high: int) -> Point:
    """A place of the part in pixels from the picture's upper left corner."""
    return (at[0] + traced.corner[0]) / traced.scale, high - (at[1] + traced.corner[1]) / traced.scale


def _path(loop: Loop, traced: Traced, high: int) -> str:
    if traced.taken:
        return _in_photograph(loop, traced)
    x, y = _pixel(loop.segments[0].start, traced, high)
    said = [f"M{x:.2f} {y:.2f}"]
    for segment in loop.segments:
        x, y = _pixel(segment.end, traced, high)
        if isinstance(segment, Arc):
            r = segment.radius / traced.scale
            large, turned = int(abs(segment.sweep) > math.pi), int(segment.sweep < 0)
            said.append(f"A{r:.2f} {r:.2f} 0 {large} {turned} {x:.2f} {y:.2f}")
        else:
            said.append(f"L{x:.2f} {y:.2f}")
    return "".join([*said, "Z"])


def _in_photograph(loop: Loop, traced: Traced) -> str:
    """A loop as it is seen aslant: in chords."""
    places = [at for segment in loop.segments for at in segment_points(segment)]
    seen = traced.on_photo(places)
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in seen) + "Z"

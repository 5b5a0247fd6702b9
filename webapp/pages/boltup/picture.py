"""Two parts as they lie on one another: the first drawn thick, the second thin, a number at each bolt."""

import math
from collections.abc import Callable, Iterable

from markupsafe import Markup

from parts.geometry import Arc, Box, Loop, Point, circle
from parts.mating import BoltUp

Seen = Callable[[Point], Point]
_WIDE, _HIGH, _EDGE = 760.0, 480.0, 24.0
_NUMBERED_MOST = 24


def picture(of: BoltUp) -> Markup:
    """Return an `svg` element of the two parts and their bolts."""
    motion = of.joint.motion
    a = list(of.a.record.profile.boundary if of.a.record else (circle(hole.at, hole.width) for hole in of.a.holes))
    own = of.b.record.profile.boundary if of.b.record else [circle(hole.at, hole.width) for hole in of.b.holes]
    b = [motion.loop(loop) for loop in own]
    x0, y0, x1, y1 = _around([loop.box for loop in (*a, *b)])
    scale = min((_WIDE - 2 * _EDGE) / max(x1 - x0, 1e-6), (_HIGH - 2 * _EDGE) / max(y1 - y0, 1e-6))
    wide, high = (x1 - x0) * scale + 2 * _EDGE, (y1 - y0) * scale + 2 * _EDGE

    def seen(at: Point) -> Point:
        return _EDGE + (at[0] - x0) * scale, _EDGE + (y1 - at[1]) * scale

    paths = [
        f'<path class="{name}" d="{"".join(_path(loop, seen, scale) for loop in loops)}"/>'
        for name, loops in (("lies-b", b), ("lies-a", a))
    ]
    return Markup(  # noqa: S704 - numbers alone
        f'<svg class="lying" viewBox="0 0 {wide:.1f} {high:.1f}" role="img" '
        f'aria-label="B, thin, as it lies on A, thick">{"".join(paths)}{_bolts(of, seen, scale)}</svg>'
    )


def _bolts(of: BoltUp, seen: Seen, scale: float) -> str:
    pairs, marked = of.joint.pairs, set(of.answer.worst)
    told = len(marked) <= len(pairs) / 2
    said = []
    for k, pair in enumerate(pairs):
        x, y = seen(pair.a.at)
        name = "bolt worst" if told and k in marked else "bolt"
        said.append(f'<circle class="{name}" cx="{x:.1f}" cy="{y:.1f}" r="{max(pair.bolt / 2 * scale, 1.5):.1f}"/>')
        if len(pairs) <= _NUMBERED_MOST:
            up = max(pair.a.width, pair.b.width) / 2 * scale + 4
            said.append(f'<text x="{x + up * 0.72:.1f}" y="{y - up * 0.72:.1f}">{k + 1}</text>')
    return "".join(said)


def _path(loop: Loop, seen: Seen, scale: float) -> str:
    said = ["M{:.2f} {:.2f}".format(*seen(loop.segments[0].start))]
    for segment in loop.segments:
        x, y = seen(segment.end)
        if isinstance(segment, Arc):
            r, large, turned = segment.radius * scale, int(abs(segment.sweep) > math.pi), int(segment.sweep < 0)
            said.append(f"A{r:.2f} {r:.2f} 0 {large} {turned} {x:.2f} {y:.2f}")
        else:
            said.append(f"L{x:.2f} {y:.2f}")
    return "".join([*said, "Z"])


def _around(boxes: Iterable[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)

"""Files that are heavy to read, by name, each made when it is asked for; and how much a process has spent on one."""

import math
import os
import random
import resource
from collections.abc import Callable, Mapping
from pathlib import Path

from tests.files.foreign import circle, dxf, line, svg


def _rng() -> Callable[[], float]:
    return random.Random(3).random


def _random_lines(count: int, size: float) -> bytes:
    r = _rng()
    return dxf("".join(line(size * r(), size * r(), size * r(), size * r()) for _ in range(count)))


def _spline(degree: int, count: int) -> bytes:
    r, last = _rng(), count - degree
    knots = "".join(f"40\n{max(0, min(i - degree, last))}\n" for i in range(count + degree + 1))
    points = "".join(f"10\n{500 * r()}\n20\n{500 * r()}\n" for _ in range(count))
    return dxf(f"0\nSPLINE\n8\n0\n70\n8\n71\n{degree}\n{knots}{points}")


HEAVY: Mapping[str, Callable[[], bytes]] = {
    "hatch": lambda: dxf("".join(line(0, 0.01 * i, 100, 0.01 * i) for i in range(49_000))),
    "hatch at a slant": lambda: dxf("".join(line(0, i, 1000, i + 1000) for i in range(5000))),
    "star": lambda: dxf("".join(line(0, 0, 100 * math.cos(i), 100 * math.sin(i)) for i in range(49_000))),
    "lines anywhere": lambda: _random_lines(49_000, 100),
    "lines within a millimetre": lambda: _random_lines(49_000, 1),
    "one line": lambda: dxf(line(0, 0, 1, 1) * 49_000),
    "lines from one point": lambda: dxf("".join(line(0, 0, i + 1, 0) for i in range(20_000))),
    "grid": lambda: dxf("".join(line(i, j, i + 1, j) + line(i, j, i, j + 1) for i in range(155) for j in range(155))),
    "circles in circles": lambda: dxf("".join(circle(0, 0, i + 1) for i in range(20_000))),
    "circles in a corner": lambda: dxf("".join(circle(i + 1, i + 1, i + 1) for i in range(20_000))),
    "spline": lambda: _spline(3, 9000),
    "spline of degree 11": lambda: _spline(11, 9000),
    "the same rectangle": lambda: svg('<rect width="5" height="5"/>' * 12_000),
    "attributes": lambda: svg("<g " + " ".join(f'a{i}="1"' for i in range(1_000_000)) + "/>"),
    "placed elements": lambda: svg(f'<defs><g id="b">{"<g/>" * 100_000}</g></defs>' + '<use href="#b"/>' * 20_000),
    "a fill that crosses itself": lambda: svg(f'<path d="M{_scribble(500)}Z"/>'),
    "wide strokes": lambda: svg(f'<path fill="none" stroke="red" stroke-width="2" d="M{_scribble(5000)}"/>'),
    "dashes": lambda: svg('<path stroke="red" stroke-width="2" stroke-dasharray=".00001" d="M0 0H99"/>' * 3000),
    "clip paths": lambda: svg(
        '<clipPath id="c"><circle r="30"/></clipPath>'
        + '<g clip-path="url(#c)">' * 15
        + '<rect width="90" height="90"/>' * 3000
        + "</g>" * 15
    ),
    "a mask of many": lambda: svg(
        '<mask id="m">'
        + "".join(f'<circle cx="{i % 97}" r="5" fill="{"#fff" if i % 2 else "#000"}"/>' for i in range(3000))
        + '</mask><rect width="90" height="90" mask="url(#m)"/>'
    ),
    "style rules": lambda: svg(
        f"<style>{'* * * * * * * rect ~ .b{fill:red}' * 3000}</style>"
        + "<g>" * 100
        + '<rect class="b"/>' * 5000
        + "</g>" * 100
    ),
    "boxes in boxes": lambda: svg(
        '<g style="transform:rotate(1deg);transform-box:fill-box">' * 100
        + '<rect width="5" height="5"/>' * 1000
        + "</g>" * 100
    ),
}
"""What may be read or not, but in bounded time and memory."""


def _scribble(count: int) -> str:
    r = _rng()
    return " ".join(f"{100 * r():.3f} {100 * r():.3f}" for _ in range(count))


def spent_s() -> float:
    """The work of this process and of those it has started and ended, in seconds."""
    spent = os.times()
    return spent.user + spent.system + spent.children_user + spent.children_system


def peak_mb() -> float:
    """The most memory this process has held, or one it started, in MB."""
    return max(_own_peak_mb(), resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024)


def _own_peak_mb() -> float:
    """Linux tells it of the program alone, not of who started it."""
    status = Path("/proc/self/status")
    if status.exists():
        line = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM:"))
        return int(line.split()[1]) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024

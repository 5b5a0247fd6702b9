"""Files that are broken, endless, or meant to do harm, by name; each made when it is asked for."""

import math
import os
import random
import resource
from collections.abc import Callable, Mapping
from pathlib import Path

from tests.files.foreign import block, circle, dxf, insert, line, svg


def _rng() -> Callable[[], float]:
    return random.Random(3).random


def _block_bomb() -> bytes:
    """Ten blocks in each of eleven, one in the other: 10^11 lines."""
    blocks = block("B0", line(0, 0, 1, 1))
    blocks += "".join(block(f"B{k}", insert(f"B{k - 1}") * 10) for k in range(1, 12))
    return dxf(insert("B11"), blocks)


def _use_bomb() -> bytes:
    groups = "".join(f'<g id="b{k}">{f"<use href=~#b{k - 1}~/>" * 10}</g>'.replace("~", '"') for k in range(1, 12))
    return svg(f'<defs><g id="b0"><path d="M0 0L1 1"/></g>{groups}</defs><use href="#b11"/>')


def _random_lines(count: int, size: float) -> bytes:
    r = _rng()
    return dxf("".join(line(size * r(), size * r(), size * r(), size * r()) for _ in range(count)))


def _spline(degree: int, count: int) -> bytes:
    r, last = _rng(), count - degree
    knots = "".join(f"40\n{max(0, min(i - degree, last))}\n" for i in range(count + degree + 1))
    points = "".join(f"10\n{500 * r()}\n20\n{500 * r()}\n" for _ in range(count))
    return dxf(f"0\nSPLINE\n8\n0\n70\n8\n71\n{degree}\n{knots}{points}")


def _entity(declared: str) -> bytes:
    return f'<?xml version="1.0"?><!DOCTYPE svg [{declared}]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'.encode()


BINARY = b"Any Binary DXF\r\n\x1a\x00"
ONE, HUGE = insert("A"), "41\n1e9\n42\n1e9\n"
REFUSED: Mapping[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "it is empty"),
    "blanks": (lambda: b" \n" * 9_000_000, "it is empty"),
    "zeros": (lambda: b"\0" * 1_000_000, "it is neither a DXF nor an SVG"),
    "100 MB": (lambda: b"0\n" * 50_000_000, "it has 100.0 MB and at most 20 MB are read"),
    "picture": (lambda: b"\x89PNG\r\n\x1a\n" + b"0" * 99, "it is a picture"),
    "binary dxf, nothing in it": (lambda: BINARY + b"\0" * 99, "it ends before its end mark"),
    "binary dxf, cut off": (lambda: BINARY + b"\0\0SECTION\0\2\0ENTI", "it ends within an entry"),
    "binary dxf, unknown code": (lambda: BINARY + b"\0\0LINE\0\xff\xff1\0", "by the code 65535, which binary DXF"),
    "binary dxf, endless": (lambda: BINARY + b"\0\0A\0" * 4_000_000, "it holds more than 400,000 entities"),
    "no end": (lambda: dxf(circle(0, 0, 5))[:-6], "it ends before its end mark"),
    "half a line": (lambda: dxf("0\nLINE\n8\n0\n10\n1\n20\n1\n"), "a LINE in it lacks its group 11"),
    "no group code": (lambda: dxf("0\nLINE\nx\n0\n"), "line 17 should be a group code and is 'x'"),
    "no number": (lambda: dxf(line(0, "one", 1, 1)), "group 20 of a LINE should be a number and is 'one'"),
    **{
        f"coordinate {v}": (lambda v=v: dxf(line(0, 0, v, 1)), f"group 11 of a LINE is {v}, which is no place")
        for v in ("nan", "inf", "-inf", "1e300", "-1e10")
    },
    "svg coordinate": (lambda: svg('<circle r="1e400"/>'), "r of a circle is 1e400, which is no place"),
    "far apart": (lambda: dxf(circle(0, 0, 5) + circle(9e8, 0, 5)), "it is 900 km from end to end"),
    "800,000 lines": (lambda: dxf(line(0, 0, 1, 1) * 400_000), "it holds more than 50,000 lines and arcs"),
    "5 million records": (lambda: b"0\n0\n" * 4_900_000, "it holds more than 400,000 entities"),
    "comments": (lambda: b"999\nx\n" * 3_300_000 + b"0\nEOF\n", "one COMMENT in it has more than 300,000 values"),
    "a million vertices": (lambda: dxf("0\nLWPOLYLINE\n8\n0\n" + "10\n1\n20\n2\n" * 1_000_000), "more than 300,000"),
    "vertices of r12": (
        lambda: dxf("0\nPOLYLINE\n8\n0\n66\n1\n" + "0\nVERTEX\n8\n0\n10\n1\n20\n2\n" * 390_000), "50,000 lines",
    ),
    "a block in itself": (lambda: dxf(ONE, block("A", ONE)), "placed in one another more than 16 deep, or in them"),
    "blocks in blocks": (_block_bomb, "it places blocks or symbols more than 20,000 times"),
    "rows and columns": (lambda: dxf(insert("A", "70\n30000\n71\n30000\n"), block("A", "")), "more than 20,000 times"),
    "scaled out": (lambda: dxf(insert("A", HUGE), block("A", insert("A", HUGE))), "1e\\+09 units away"),
    "entities": (lambda: _entity('<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">'), "it declares XML entities"),
    "outside entity": (lambda: _entity('<!ENTITY b SYSTEM "file:///etc/hostname">'), "it declares XML entities"),
    "use of itself": (lambda: svg('<g id="a"><use href="#a"/></g>'), "placed in one another more than 16 deep"),
    "use of use": (_use_bomb, "it holds more than 50,000 lines and arcs|more than 20,000 times|more than 3.5 s"),
    "deep groups": (lambda: svg("<g>" * 100_000 + "</g>" * 100_000), "its elements lie more than 200 deep"),
    "5 million elements": (lambda: svg("<g/>" * 4_900_000), "it holds more than 200,000 elements"),
    "long path": (lambda: svg('<path d="M0 0' + " 1 2" * 4_000_000 + '"/>'), "it holds more than 50,000 lines"),
    "long polygon": (lambda: svg('<polygon points="' + " 1 2" * 4_900_000 + '"/>'), "more than 100,000 numbers"),
    "long transform": (lambda: svg(f'<g transform="{"scale(1)" * 2_000_000}"/>'), "more than 100 steps"),
    "long number": (lambda: svg('<path d="M0 0L' + "1" * 19_000_000 + ' 1"/>'), "which is no place on a drawing"),
    "broken xml": (lambda: svg("<g>"), "its XML is broken on line 1: mismatched tag"),
    "other xml": (lambda: b"<html><svg/></html>", "it is XML and not an SVG drawing"),
    "unknown encoding": (lambda: b'<?xml version="1.0" encoding="utf-7"?><svg/>', "it states an encoding"),
    "no transform": (lambda: svg('<g transform="twist(3)"/>'), "the transform 'twist\\(3\\)' isn't one of SVG's"),
    "clip path of itself": (
        lambda: svg('<clipPath id="c" clip-path="url(#c)"><rect width="9" height="9"/></clipPath>'
                    '<rect width="9" height="9" clip-path="url(#c)"/>'),
        "clip paths in it lie more than 16 deep",
    ),
    "brackets": (lambda: svg(f'<rect style="fill:{"(" * 15000}"/>'), "a style in it has brackets too deep"),
    "long style": (lambda: svg(f'<rect style="{"a:b;" * 9000}"/>'), "a style attribute in it is longer than"),
    "long sheet": (lambda: svg(f"<style>{'a{b:c}' * 90000}</style>"), "its style sheets are longer than"),
    "only text": (lambda: dxf("0\nTEXT\n8\n0\n10\n0\n20\n0\n40\n5\n1\nHI\n"), "no lines or arcs to cut, only text"),
    "only marks": (lambda: dxf(line(0, 0, 5, 5, "SCRIBE")), "it holds marks and no outline"),
    "only dimensions": (lambda: dxf(line(0, 0, 5, 5, "DIM")), "on layers for other things, or hidden"),
}  # fmt: skip
"""What can't be read, and how the sentence that says so goes on after `can't be read: `."""

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

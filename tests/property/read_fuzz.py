"""Mutated drawings, read and checked one after the other in a process of its own; prints what came of them as JSON.

    python -m tests.property.read_fuzz COUNT [SEED]

Files of every kind that is read are taken apart: bytes flipped, lines dropped, doubled or exchanged, numbers
exchanged for others and for what is none, the end cut off. Each must be read and checked by every rule, or
refused in one sentence.
"""

import json
import random
import re
import sys
import traceback
from collections import Counter
from collections.abc import Callable
from functools import cache, partial

import parts
from parts.errors import PartsError
from parts.export import drawing_svg
from tests.files import foreign
from tests.files.foreign import svg
from tests.files.hostile import peak_mb, spent_s

NUMBERS = (
    "0", "-1", "1e9", "1e-9", "1e300", "nan", "inf", "-inf", "99999999999", "0.05", "1e", "", "--3", "3,4", "1_0",
    "360", "0.00001", "-0", "7", "70", "2147483648", "6.283185307179586", "100", "1e-320", "\uff15",
)  # fmt: skip
_NUMBER = re.compile(rb"[-+]?\d+\.?\d*(?:[eE][-+]?\d+)?")


def seeds() -> list[Callable[[], bytes]]:
    """Drawings with every entity and element that is read, each made when it is called for."""
    slugs = sorted(parts.templates())
    styles = (("R12", "in"), ("R2010", "mm"))
    found: list[Callable[[], bytes]] = [partial(_template, "dxf", slug, *style) for slug in slugs for style in styles]
    found += [partial(_template, "svg", slug, *styles[0]) for slug in slugs]
    found += [lambda: foreign.data(_everything("R2010")), lambda: foreign.data(_everything("R12"))]
    found += [lambda: foreign.binary(_everything("R12")), lambda: foreign.binary(_everything("R2010"))]
    found += [_small_dxf, _small_svg, _small_svg]
    return found


def _template(kind: str, slug: str, version: str, units: str) -> bytes:
    return parts.draw(slug, dxf_version=version, units=units, notes=True).file(kind)


def _everything(version: str) -> object:
    made, space = foreign.document(version=version)
    shape = made.blocks.new("B")
    shape.add_circle((5, 5), 2)
    shape.add_arc((5, 5), 4, 10, 300)
    space.add_lwpolyline([(0, 0, 0), (100, 0, 0.5), (100, 60, 0), (0, 60, -0.2)], format="xyb", close=True) if (
        version != "R12"
    ) else space.add_polyline2d([(0, 0, 0), (100, 0, 0.5), (100, 60, 0)], format="xyb", close=True)
    space.add_line((10, 10), (20, 10))
    space.add_line((20, 10), (20, 20.03))
    space.add_line((20, 20), (10, 10))
    space.add_blockref("B", (50, 20), dxfattribs={"xscale": 2, "yscale": -3, "rotation": 20, "column_count": 3})
    space.add_point((40, 40))
    space.add_text("GATE")
    made.linetypes.add("CENTER", [2.0, 1.25, -0.25, 0.25, -0.25])
    made.layers.add("AXES", linetype="CENTER")
    space.add_line((0, 30), (100, 30), dxfattribs={"layer": "AXES"})
    wide = [(60, 10, 2, 2, 0), (75, 10, 2, 3, 0), (75, 20, 3, 3, 0.5)]
    (space.add_polyline2d if version == "R12" else space.add_lwpolyline)(wide, format="xyseb")
    if version != "R12":
        space.add_spline([(30, 30), (40, 45), (50, 30), (30, 30)])
        spline = space.add_spline(degree=3)
        spline.set_closed([(60, 30, 0), (70, 30, 0), (70, 40, 0), (60, 45, 0)], degree=3)
        space.add_ellipse((80, 30), (8, 2), 0.4, 0.1, 5)
        space.add_hatch().paths.add_polyline_path([(0, 0), (1, 0), (1, 1)])
    return made


def _small_dxf() -> bytes:
    """The least text around each entity, so that most mutations hit one."""
    return foreign.dxf(
        foreign.line(0, 0, 50, 0) + foreign.line(50, 0, 50, 40) + foreign.line(50, 40, 0, 0.04)
        + foreign.circle(40, 10, 3) + "0\nARC\n8\n0\n10\n30\n20\n9\n40\n4\n50\n0\n51\n270\n"
        + "0\nELLIPSE\n8\n0\n10\n20\n20\n6\n11\n4\n21\n0\n40\n0.5\n"
        + "0\nSPLINE\n8\n0\n70\n8\n71\n2\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n"
        + "10\n1\n20\n9\n10\n5\n20\n9\n10\n5\n20\n19\n"
        + "0\nLWPOLYLINE\n8\nINSIDE\n90\n3\n70\n1\n10\n44\n20\n20\n42\n0.5\n10\n46\n20\n20\n10\n46\n20\n22\n"
        + foreign.insert("A", "41\n2\n42\n-2\n50\n30\n"),
        foreign.block("A", foreign.circle(1, 1, 1) + foreign.line(0, 0, 3, 3, "SCRIBE")),
    )  # fmt: skip


def _small_svg() -> bytes:
    return svg(
        '<defs><circle id="h" r="2"/></defs><rect width="90" height="60" rx="5"/><use href="#h" x="20" y="30"/>'
        '<g transform="rotate(30) scale(1.5,1)" id="SCRIBE"><path d="M10 10c3 3 5-3 9 0s2 9 0 9q3 3 1 6t-9 0z"/></g>'
        '<path d="M40 20a8 4 30 1 0 9 9v3h2L40 40Z"/><ellipse cx="60" cy="20" rx="5" ry="3"/>'
        '<polygon points="60,40 70,40 65,50"/>'
        '<svg x="3" y="3" width="9" height="9" viewBox="0 0 5 5"><circle r="1"/></svg>'
    )


def mutated(data: bytes, rng: random.Random) -> bytes:
    """The file after one to four mutations."""
    for _ in range(rng.randint(1, 4)):
        data = rng.choice((_flip, _drop, _double, _swap, _number, _number, _number, _cut, _splice))(data, rng)
    return data


def _flip(data: bytes, rng: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(rng.randint(1, 3)):
        if changed:
            changed[rng.randrange(len(changed))] ^= 1 << rng.randrange(8)
    return bytes(changed)


def _lines(data: bytes) -> list[bytes]:
    return data.split(b"\n") if data.count(b"\n") > 5 else data.split(b" ")


def _join(data: bytes, lines: list[bytes]) -> bytes:
    return (b"\n" if data.count(b"\n") > 5 else b" ").join(lines)


def _drop(data: bytes, rng: random.Random) -> bytes:
    lines = _lines(data)
    at = rng.randrange(len(lines))
    return _join(data, lines[:at] + lines[at + rng.choice((1, 2, 2, 4, 20)) :])


def _double(data: bytes, rng: random.Random) -> bytes:
    lines = _lines(data)
    at, count = rng.randrange(len(lines)), rng.choice((2, 8, 40))
    return _join(data, lines[:at] + lines[at : at + count] * rng.choice((2, 2, 50)) + lines[at + count :])


def _swap(data: bytes, rng: random.Random) -> bytes:
    lines = _lines(data)
    a, b = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[a], lines[b] = lines[b], lines[a]
    return _join(data, lines)


def _number(data: bytes, rng: random.Random) -> bytes:
    found = list(_NUMBER.finditer(data))
    if not found:
        return data
    match = rng.choice(found)
    new = rng.choice(NUMBERS).encode() if rng.random() < 0.6 else rng.choice(found)[0]
    return data[: match.start()] + new + data[match.end() :]


def _cut(data: bytes, rng: random.Random) -> bytes:
    if rng.random() < 0.7:  # mostly leave the whole, or nearly all files would end as cut short
        return data
    return data[: rng.randrange(len(data) + 1)]


def _splice(data: bytes, rng: random.Random) -> bytes:
    a, b = sorted(rng.randrange(len(data) + 1) for _ in range(2))
    return data[:a] + data[a:b][: rng.choice((5, 50, 500))] + data[a:]


def asked(rng: random.Random) -> dict[str, object]:
    """Some stock and units."""
    units, process = rng.choice((None, "mm", "in")), rng.choice(("air-plasma", "waterjet"))
    return {"units": units, "thickness": rng.choice((1, 6, 25)), "process": process}


def written(checked: parts.Checked) -> None:
    """Draw it, and write it to the files that it may be had in."""
    drawing_svg.write(checked.part.record)
    json.loads(checked.to_json())
    if checked.closed:
        for kind in ("dxf", "svg", "pdf"):
            checked.part.file(kind)


def fuzz(count: int, seed: int) -> dict[str, object]:
    """Check `count` mutated files; return how many were read and refused, the worst of each, and what crashed."""
    rng, files = random.Random(seed), seeds()

    @cache
    def whole(make: Callable[[], bytes]) -> bytes:
        """A file that is read as it is: one refused before it is mutated would hide the rest."""
        data = make()
        parts.check(data, "whole", units="mm", thickness=6)
        return data

    tally: Counter[str] = Counter()
    crashes: list[str] = []
    worst = worst_written = 0.0
    for index in range(count):
        data = mutated(whole(rng.choice(files)), rng)
        start, checked = spent_s(), None
        try:
            checked = parts.check(data, "mutated", **asked(rng))
            tally["read"] += 1
            tally["with findings"] += bool(checked.part.findings)
            tally["stopped"] += checked.stopped
            if not all(text.isprintable() for text in (*checked.healed, *(f.message for f in checked.part.findings))):
                crashes.append(f"{index}: unprintable in {checked.healed} {checked.part.findings}")
        except PartsError as error:
            tally["refused"] += 1
            if len(str(error)) > 400 or not str(error).isprintable():
                crashes.append(f"{index}: no sentence: {str(error)[:500]!r}")
        except Exception:  # noqa: BLE001 - this is what is looked for
            crashes.append(f"{index}: {traceback.format_exc()}")
        worst = max(worst, spent_s() - start)
        if checked and index % 10 == 0:  # what is shown and written of it, one in ten
            start = spent_s()
            written(checked)
            worst_written = max(worst_written, spent_s() - start)
    return {
        "runs": count,
        **tally,
        "worst_s": round(worst, 3),
        "worst_written_s": round(worst_written, 3),
        "peak_mb": round(peak_mb()),
        "crashes": crashes[:5],
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(fuzz(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1)) + "\n")

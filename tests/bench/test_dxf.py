"""From parameters to DXF text with findings, beside two plain ways of making the same file in the same run.

Run by `python -m pytest tests/bench/test_dxf.py --benchmark-only -s`; the last test shows the ratios.
"""

import io
import math
import statistics
import time
from collections.abc import Callable

import ezdxf
import pytest

import parts
from parts.profile import Drill

GUSSET = {
    "leg_a": 200, "leg_b": 150, "toe": 15, "snipe": 20, "corner_radius": 5, "holes_a": 2, "first_hole": 60,
    "pitch": 80, "lightening": 40,
}  # fmt: skip
OF_CADQUERY, OF_EZDXF = 1 / 10, 1 / 2


def ours(slug: str = "gusset-triangle", **values: object) -> str:
    """Parameters to DXF text, drawn and checked."""
    part = parts.draw(slug, **values)
    assert part.findings is not None
    return part.to_dxf()


def by_cadquery(path: str) -> None:
    """The same gusset as a short script draws it: sketch, fillet, holes, export; the faster of its ways."""
    import cadquery as cq

    a, b, toe, snipe, holes = 200, 150, 15, 20, [(60, 20), (140, 20)]
    centre = parts.draw("gusset-triangle", **GUSSET).profile.inside[-1].loop.circle.centre
    sketch = (
        cq.Sketch()
        .polygon([(0, snipe), (snipe, 0), (a, 0), (a, toe), (toe, b), (0, b), (0, snipe)])
        .vertices(">X or >Y")
        .fillet(5)
        .reset()
        .push(holes)
        .circle(5.5, mode="s")
        .reset()
        .push([centre])
        .circle(20, mode="s")
    )
    cq.exporters.export(cq.Workplane().add(sketch._faces), path, "DXF")


def by_ezdxf(part: parts.Part) -> str:
    """The same entities through ezdxf: a new document, the entities, writing to text."""
    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    sides = [("OUTSIDE", loop) for loop in part.profile.outside]
    sides += [("INSIDE", opening.loop) for opening in part.profile.inside]
    for layer, loop in sides:
        if circle := loop.circle:
            space.add_circle(circle.centre, circle.diameter / 2, dxfattribs={"layer": layer})
        else:
            vertices = [(*s.start, getattr(s, "bulge", 0.0)) for s in loop.segments]
            space.add_lwpolyline(vertices, format="xyb", close=True, dxfattribs={"layer": layer})
    for mark in part.profile.marks:
        if isinstance(mark, Drill):
            space.add_point(mark.at, dxfattribs={"layer": "DRILL"})
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


@pytest.mark.parametrize("slug", sorted(parts.templates()))
def test_parameters_to_dxf(benchmark, slug):
    """Each template at its defaults."""
    assert benchmark(ours, slug).endswith("EOF\n")


def median(of: Callable[[], object], rounds: int) -> float:
    """Median seconds of a call, after two that warm up."""
    of(), of()
    spans = []
    for _ in range(rounds):
        start = time.perf_counter()
        of()
        spans.append(time.perf_counter() - start)
    return statistics.median(spans)


def test_against_plain_ways(benchmark, tmp_path):
    """At most a tenth of the time of a script in cadquery, and half that of ezdxf writing alone."""
    part, path = parts.draw("gusset-triangle", **GUSSET), str(tmp_path / "gusset.dxf")
    by_cadquery(path)
    assert read_back(path) == pytest.approx(part.measures.area_mm2, rel=1e-9)  # the very same gusset
    benchmark(lambda: ours(**GUSSET))
    mine = median(lambda: ours(**GUSSET), 200)
    writing = median(part.to_dxf, 200)
    plain_cadquery = median(lambda: by_cadquery(path), 10)
    plain_ezdxf = median(lambda: by_ezdxf(part), 50)
    print(  # noqa: T201 - what it is run for
        f"\nparameters to DXF {mine * 1e3:.3f} ms, of which writing {writing * 1e3:.3f} ms"
        f"\ncadquery script {plain_cadquery * 1e3:.1f} ms: {mine / plain_cadquery:.3f}, goal {OF_CADQUERY}"
        f"\nbare ezdxf {plain_ezdxf * 1e3:.2f} ms: {mine / plain_ezdxf:.3f}, goal {OF_EZDXF}"
    )
    assert mine <= OF_CADQUERY * plain_cadquery
    assert mine <= OF_EZDXF * plain_ezdxf


def read_back(path: str) -> float:
    """Area of the face in the script's file."""
    import cadquery as cq

    return math.fsum(face.Area() for face in cq.importers.importDXF(path).faces().vals())

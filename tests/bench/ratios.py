"""What is made of a part, in processor time, beside one bare ezdxf write of one plate in the same run.

    python tests/bench/ratios.py [--tree PATH] [--only SLUG ...] [--json FILE] [--slowest N]

draw          `parts.draw` at the defaults, its findings, and the DXF text
draw preset   the same of the dearest of a template's presets
draw thick    the same at the defaults in stock of 10 mm, where a template draws that
page          GET /parts/SLUG by flask's test client: a later request of the same address
page first    the first request of that page of an application that has served another: nothing of it can be kept
page changed  a later request with a thickness a hair larger each time, nothing cleared
pdf           drawing the part at the defaults, and its PDF
pdf alone     the PDF of a part that is drawn already, another one each time
remedies      those of three seeded bad parts of each template, drawn already: the median of the three
worst remedy  the same, the dearest of the three
refusal       the dearest of twelve seeded sets of values that is refused, by a draw with findings at the defaults of
              the same template, the least of some tries
advice        the same, the median of those that take a fifth of such a draw and more, as with advice to be found
cold          `platewright draw gusset-triangle` into a file, a process of its own, user and system: the median of seven

All but refusal, advice and cold are multiples of the bare write's median among those done between the figures of the
same template; of each figure the median of some rounds is taken. For draw, page and pdf whatever functools keeps of the
part, its drawing and its geometry is cleared before each round. Printed are median and worst over the templates.
"""

import argparse
import gc
import io
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import count
from pathlib import Path
from typing import Any

import seeded

HERE = Path(__file__).resolve().parents[2]
GUSSET = {
    "leg_a": 200, "leg_b": 150, "toe": 15, "snipe": 20, "corner_radius": 5, "holes_a": 2, "first_hole": 60,
    "pitch": 80, "lightening": 40,
}  # fmt: skip
"""The plate that ezdxf writes: an outline of lines and arcs, three holes."""
ROUNDS, FEW, BESIDE, COLD = 5, 3, 2, 7
THICK = 10
IN_DRAWS = ("refusal", "advice")
WITH_ADVICE = 0.2
"""Of a draw: a refusal that costs less has looked for nothing."""
OF_THE_PART = (
    "parts.drawing",
    "parts.export.drawing_svg",
    "parts.geometry",
    "parts.part",
    "webapp.part_page",
    "webapp.pages",
)
"""Modules whose caches are cleared before a page is asked for again."""


@dataclass
class Run:
    """Every figure by template, and the seconds of each bare write."""

    plate: list[tuple[str, tuple[Any, ...]]]
    bare: list[float] = field(default_factory=list)
    ratios: dict[str, dict[str, float]] = field(default_factory=dict)

    def measure(self, slug: str) -> None:
        """Take every figure of one template."""
        beside, seconds = self.written(), {}
        for figure, taken in figures(slug):
            seconds[figure] = taken
            beside += self.written()
            gc.collect()  # what one figure leaves lying about isn't cleared away in the next one's time
        unit = statistics.median(beside)
        self.bare += beside
        for figure, taken in seconds.items():
            self.ratios.setdefault(figure, {})[slug] = taken / (1 if figure in IN_DRAWS else unit)

    def written(self) -> list[float]:
        """Seconds of some bare writes."""
        return [spent(lambda: written_bare(self.plate)) for _ in range(BESIDE)]


# ------------------------------------------------------------------ what is measured


def figures(slug: str) -> Iterator[tuple[str, float]]:
    """Seconds of each figure of one template; of refusals, draws of it."""
    import parts

    yield "draw", median(lambda: drawn(slug), forget)
    presets = [dict(preset.values) for preset in parts.templates()[slug].presets]
    if presets:
        yield "draw preset", max(median(lambda of=of: drawn(slug, **of), forget, FEW) for of in presets)
    if not is_refused(slug, {"thickness": THICK}):
        yield "draw thick", median(lambda: drawn(slug, thickness=THICK), forget)
    yield "page first", spent(lambda: asked(slug))
    yield "page", median(lambda: asked(slug), forget)
    thicknesses = (str(seeded.limits()[slug]["thickness"]["default"] + step / 1000) for step in count(1))
    yield "page changed", median(lambda: asked(slug, thickness=next(thicknesses)), rounds=FEW)
    yield "pdf", median(lambda: parts.draw(slug).to_pdf(), forget, FEW)
    yield "pdf alone", median(lambda part: part.to_pdf(), lambda: parts.draw(slug), FEW)
    each = [spent(lambda part=part: part.remedies) for part in seeded.bad_parts(slug)]
    if each:
        yield "remedies", statistics.median(each)
        yield "worst remedy", max(each)
    yield from refusals(slug)


def refusals(slug: str) -> Iterator[tuple[str, float]]:
    """The dearest refusal and the median of those with advice, in draws of the template."""
    import parts

    draw = min(spent(lambda: parts.draw(slug).findings) for _ in range(3))
    each = [
        min(first, spent(lambda values=values: is_refused(slug, values))) / draw
        for values in seeded.refusable(slug)
        if (first := refusing(slug, values))
    ]
    yield "refusal", max(each)
    if advised := [ratio for ratio in each if ratio > WITH_ADVICE]:
        yield "advice", statistics.median(advised)


def refusing(slug: str, values: Mapping[str, Any]) -> float:
    """Seconds in which these values are refused, 0 where they are drawn."""
    began = time.process_time()
    return is_refused(slug, values) * (time.process_time() - began)


def is_refused(slug: str, values: Mapping[str, Any]) -> bool:
    """Whether these values can't be drawn."""
    import parts

    try:
        parts.draw(slug, **values)
    except parts.Refused:
        return True
    return False


def drawn(slug: str, **values: Any) -> str:
    """Parameters to DXF text, drawn and checked."""
    import parts

    part = parts.draw(slug, **values)
    assert part.findings is not None
    return part.to_dxf()


def asked(slug: str, **values: str) -> None:
    """Ask for the page of a part."""
    assert client().get(f"/parts/{slug}", query_string=values).status_code == 200


@cache
def client() -> Any:
    """A client of an application that has served a page."""
    from webapp.app import make_app

    made = make_app({"TESTING": True}).test_client()
    made.get("/parts/gusset-triangle?units=in")
    return made


def forget() -> None:
    """Clear what functools keeps of the part, its drawing and its geometry."""
    for name, module in list(sys.modules.items()):
        if name.startswith(OF_THE_PART):
            for kept in vars(module).values():
                if hasattr(type(kept), "cache_clear"):
                    kept.cache_clear()


def plate() -> list[tuple[str, tuple[Any, ...]]]:
    """The plate's loops as plain numbers: circles by centre and radius, others by vertices with bulges."""
    import parts

    profile = parts.draw("gusset-triangle", **GUSSET).profile
    loops = [*profile.outside, *(opening.loop for opening in profile.inside)]
    return [
        ("circle", (tuple(round_.centre), round_.diameter / 2))
        if (round_ := loop.circle)
        else ("loop", tuple((*s.start, getattr(s, "bulge", 0.0)) for s in loop.segments))
        for loop in loops
    ]


def written_bare(entities: list[tuple[str, tuple[Any, ...]]]) -> str:
    """The plate through ezdxf: a new document, the entities, writing to text."""
    import ezdxf

    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    for kind, of in entities:
        if kind == "circle":
            space.add_circle(*of, dxfattribs={"layer": "INSIDE"})
        else:
            space.add_lwpolyline(of, format="xyb", close=True, dxfattribs={"layer": "OUTSIDE"})
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def cold(tree: Path) -> float:
    """Seconds of user and system of the command that draws one part, started anew."""
    each = []
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-P", "-m", "webapp", "draw", "gusset-triangle", "-o", str(Path(folder) / "g.dxf")]
        for _ in range(COLD + 1):  # the first one writes bytecode
            before = os.times()
            subprocess.run(command, cwd=tree, check=True, capture_output=True)
            after = os.times()
            each.append(after.children_user + after.children_system - before.children_user - before.children_system)
    return statistics.median(each[1:])


# ------------------------------------------------------------------ time


def spent(of: Callable[..., object], *given: object) -> float:
    """Seconds of the processor that a call takes."""
    began = time.process_time()
    of(*given)
    return time.process_time() - began


def median(of: Callable[..., object], before: Callable[[], object] | None = None, rounds: int = ROUNDS) -> float:
    """Median seconds of a call, after one that warms up; it is given what `before` returns, if that is anything."""
    each = []
    for _ in range(rounds + 1):
        made = before() if before else None
        each.append(spent(of) if made is None else spent(of, made))
    return statistics.median(each[1:])


# ------------------------------------------------------------------ what is told


def tell(told: Mapping[str, Any], slowest: int) -> None:
    """Print the figures as a table, and the slowest templates of each."""
    print(f"bare ezdxf write {1000 * told['bare_s']:.2f} ms, platewright draw cold {told['cold_s']:.2f} s")
    for figure, of_each in told["ratios"].items():
        ranked = sorted(of_each, key=lambda slug: -of_each[slug])
        if not ranked:
            continue
        middle = statistics.median(of_each.values())
        print(f"{figure:<13} median {middle:7.2f}  worst {of_each[ranked[0]]:8.2f} {ranked[0]}, of {len(ranked)}")
        if slowest:
            print("    " + ", ".join(f"{slug} {of_each[slug]:.2f}" for slug in ranked[:slowest]))


def main() -> None:
    """Measure, print, and write where asked."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--tree", type=Path, default=HERE)
    parser.add_argument("--only", nargs="*", default=[], metavar="SLUG")
    parser.add_argument("--json", type=Path, metavar="FILE")
    parser.add_argument("--slowest", type=int, default=0, metavar="N", help="templates named of each figure")
    given = parser.parse_args()
    tree = given.tree.resolve()
    seeded.use(tree)
    run = Run(plate())
    written_bare(run.plate), client()
    for slug in given.only or seeded.limits():
        run.measure(slug)
    told = {"bare_s": statistics.median(run.bare), "cold_s": cold(tree), "ratios": run.ratios}
    tell(told, given.slowest)
    if given.json:
        given.json.write_text(json.dumps(told, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main()

"""Whether two checkouts write the same: every template at its defaults and with each of its presets.

    python tests/bench/same_files.py write FOLDER [--tree PATH] [--only SLUG ...]   some minutes on two processes
    python tests/bench/same_files.py compare BEFORE AFTER [--most N]                exit status 1 if anything differs

`write` draws with the checkout at PATH, else the one it stands in, and makes one file of JSON lines for each kind:

dxf svg json          the part's files, whole
pdf_text pdf_lines    the lettering of the PDF as a reader finds it; what it draws besides
drawing page          the dimensioned drawing in the part's page; that page's words
step                  number, volume (mm³) and bounding box (mm) of the solids that OpenCASCADE reads back
refusals              what is wrong with seeded sets of values, of which most are refused
remedies              of seeded bad parts: values, findings, and the remedies with the values they set

Nothing but the public names of `parts` and the application's factory is used.
"""

import argparse
import html
import io
import itertools
import json
import re
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from pathlib import Path
from typing import Any

import seeded

HERE = Path(__file__).resolve().parents[2]
PROCESSES = 2
AROUND = 70
"""Characters shown on either side of the first difference in a line."""
Case = tuple[str, str, str]
"""Kind, name of the case, text."""


# ------------------------------------------------------------------ write


def write(folder: Path, tree: Path, only: list[str]) -> None:
    """Write what the checkout makes of every template, a file for each kind."""
    began = time.monotonic()
    seeded.use(tree)
    slugs = only or list(seeded.limits())
    found = defaultdict(list)
    with ProcessPoolExecutor(PROCESSES, initializer=seeded.use, initargs=(tree,)) as pool:
        for cases in pool.map(of_template, slugs):
            for kind, case, text in cases:
                found[kind].append(json.dumps({"case": case, "text": text}))
    folder.mkdir(parents=True, exist_ok=True)
    for kind, lines in found.items():
        (folder / f"{kind}.jsonl").write_text("\n".join(lines) + "\n", "utf-8")
        print(f"{kind:<10} {len(lines)} cases")
    print(f"{time.monotonic() - began:.0f} s")


def of_template(slug: str) -> list[Case]:
    """All cases of one template."""
    import parts

    presets = [(preset.name, dict(preset.values)) for preset in parts.templates()[slug].presets]
    files = (
        (kind, f"{slug} {name}".strip(), text)
        for name, values in [("", {}), *presets]
        for kind, text in of_part(slug, values)
    )
    return [*files, *refusals(slug), *remedies(slug)]


def of_part(slug: str, values: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Kind and text of all that is written of one part."""
    import parts

    part = parts.draw(slug, **values)
    yield "dxf", part.to_dxf()
    yield "svg", part.to_svg()
    yield "json", part.to_json()
    yield from zip(("pdf_text", "pdf_lines"), pdf(part.to_pdf()), strict=True)
    yield from zip(("drawing", "page"), page(slug, values), strict=True)
    yield "step", step(part.to_step())


def pdf(content: bytes) -> tuple[str, str]:
    """The lettering of all sheets, and their content without it."""
    from pypdf import PdfReader

    pages = PdfReader(io.BytesIO(content)).pages
    drawn = "\n".join(page.get_contents().get_data().decode("latin-1") for page in pages)
    return "\n".join(page.extract_text() for page in pages), re.sub(r"\bBT\b.*?\bET\b", "", drawn, flags=re.DOTALL)


def page(slug: str, values: Mapping[str, str]) -> tuple[str, str]:
    """The drawing in a part's page, and the page's words, one piece of text a line."""
    text = client().get(f"/parts/{slug}", query_string=values).get_data(as_text=True)
    drawing = re.search(r'<svg[^>]*class="pw-drawing".*?</svg>', text, re.DOTALL)
    assert drawing, f"the page of {slug} has no drawing"
    without = re.sub(r"<(svg|script|style)\b.*?</\1>", "", text, flags=re.DOTALL)
    pieces = (html.unescape(" ".join(piece.split())) for piece in re.split(r"<[^>]+>", without))
    return drawing[0], "\n".join(filter(None, pieces))


@cache
def client() -> Any:
    """A client of the application."""
    from webapp.app import make_app

    return make_app({"TESTING": True}).test_client()


def step(content: bytes) -> str:
    """What OpenCASCADE finds in a STEP file, to a few more places than a shop can measure."""
    import cadquery as cq

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "part.step"
        path.write_bytes(content)
        solids = cq.importers.importStep(str(path)).solids().vals()
    boxes = [solid.BoundingBox(1e-6) for solid in solids]
    low = [min(getattr(box, side) for box in boxes) for side in ("xmin", "ymin", "zmin")]
    high = [max(getattr(box, side) for box in boxes) for side in ("xmax", "ymax", "zmax")]
    box = " ".join(f"{side:.4f}".replace("-0.0000", "0.0000") for side in (*low, *high))
    return f"solids {len(solids)}\nvolume {sum(solid.Volume() for solid in solids):.9g}\nbox {box}"


def refusals(slug: str) -> Iterator[Case]:
    """The problems of each set of values that is refused, and which are drawn."""
    import parts

    for number, values in enumerate(seeded.refusable(slug), 1):
        said = [f"values {json.dumps(values)}"]
        try:
            parts.draw(slug, **values)
            said.append("drawn")
        except parts.Refused as refused:
            said += [f"{problem.parameter}: {problem.value}: {problem.message}" for problem in refused.problems]
        yield "refusals", f"{slug} {number}", "\n".join(said)


def remedies(slug: str) -> Iterator[Case]:
    """The findings and remedies of bad parts."""
    for number, part in enumerate(seeded.bad_parts(slug), 1):
        told = json.loads(part.to_json())
        said = [told["address"], *(json.dumps(finding) for finding in told["findings"])]
        for remedy in part.remedies:
            changes = [f"{change.title}: {change.brief}" for change in remedy.changes]
            said += [remedy.rule, remedy.sentence, json.dumps(dict(remedy.values)), *changes]
        yield "remedies", f"{slug} {number}", "\n".join(said)


# ------------------------------------------------------------------ compare


def compare(before: Path, after: Path, most: int) -> int:
    """Print, kind by kind, what is the same and what isn't; return how many cases differ."""
    differing = 0
    kinds = sorted({path.name for folder in (before, after) for path in folder.glob("*.jsonl")})
    for kind in kinds:
        old, new = read(before / kind), read(after / kind)
        cases = list(dict.fromkeys((*old, *new)))
        unlike = [case for case in cases if old.get(case) != new.get(case)]
        print(f"{kind.removesuffix('.jsonl'):<10} {len(cases) - len(unlike)} of {len(cases)} the same")
        for case in unlike[:most]:
            print(f"  {case}: {difference(old.get(case), new.get(case))}")
        if unlike[most:]:
            print(f"  and {len(unlike) - most} more: {', '.join(unlike[most:])}")
        differing += len(unlike)
    if not kinds:
        print("there is nothing to compare")
    return differing or not kinds


def read(path: Path) -> dict[str, str]:
    """The texts of one kind by their cases."""
    lines = path.read_text("utf-8").splitlines() if path.exists() else []
    return {each["case"]: each["text"] for each in map(json.loads, lines)}


def difference(old: str | None, new: str | None) -> str:
    """The first lines that differ, around the first character that does, and how many lines do."""
    if old is None or new is None:
        return "only after" if old is None else "only before"
    pairs = itertools.zip_longest(old.splitlines(), new.splitlines(), fillvalue="")
    unlike = [(number, a, b) for number, (a, b) in enumerate(pairs, 1) if a != b]
    if not unlike:
        return "other line ends"
    number, a, b = unlike[0]
    at = next((i for i, (x, y) in enumerate(zip(a, b, strict=False)) if x != y), min(len(a), len(b)))
    piece = slice(max(at - AROUND, 0), at + AROUND)
    return f"{len(unlike)} lines differ, first line {number}\n    - {a[piece]}\n    + {b[piece]}"


def main() -> int:
    """Do what the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    commands = parser.add_subparsers(required=True)
    writing = commands.add_parser("write")
    writing.add_argument("folder", type=Path)
    writing.add_argument("--tree", type=Path, default=HERE)
    writing.add_argument("--only", nargs="*", default=[], metavar="SLUG")
    writing.set_defaults(run=lambda asked: write(asked.folder, asked.tree.resolve(), asked.only))
    comparing = commands.add_parser("compare")
    comparing.add_argument("before", type=Path)
    comparing.add_argument("after", type=Path)
    comparing.add_argument("--most", type=int, default=10, help="differing cases shown of each kind")
    comparing.set_defaults(run=lambda asked: compare(asked.before, asked.after, asked.most))
    asked = parser.parse_args()
    run: Callable[[argparse.Namespace], int | None] = asked.run
    return 1 if run(asked) else 0


if __name__ == "__main__":
    sys.exit(main())

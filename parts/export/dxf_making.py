"""The frames of DXF files, made by ezdxf: `python -m parts.export.dxf_making` writes `dxf_frames.json` anew.

A document is cut where its entities go; what changes from part to part stands in it as numbers that are exchanged on
filling. A drawing has no need of ezdxf, which takes a quarter of a second to load; a test holds the file against this.
"""

import io
import json
import re
from collections.abc import Iterator
from contextlib import contextmanager

import ezdxf
from ezdxf.document import Drawing
from ezdxf.units import IN, MM

from parts.export.dxf_frame import FILE, VERSIONS, key
from parts.export.layers import BEND, DRILL, INSIDE, NOTES, OUTSIDE, SCRIBE
from parts.units import MM_PER_IN, Units

# Colours by number: 1 red, 3 green, 4 cyan, 6 magenta, 7 white on dark and black on light, 8 grey.
_LAYERS = (
    (OUTSIDE, 7, "Continuous"),
    (INSIDE, 1, "Continuous"),
    (SCRIBE, 3, "DASHED"),
    (BEND, 6, "DASHDOT"),
    (DRILL, 4, "Continuous"),
    (NOTES, 8, "Continuous"),
)
# Whole length in mm, then dashes and, below zero, gaps.
_LINE_TYPES = (
    ("DASHED", "Dashed __ __ __", (9.0, 6.0, -3.0)),
    ("DASHDOT", "Dash dot __ . __ .", (14.0, 8.0, -3.0, 0.0, -3.0)),
)
UNITS: tuple[Units, ...] = ("mm", "in")
_CROSS = 3  # $PDMODE: points are shown as a cross, else a drill centre is one dot on the screen

# Values that nothing else in the document has, each exchanged for the one named beside it.
_STANDINS = {
    "-77701.5": "%(x0)s", "-77702.5": "%(y0)s", "77703.5": "%(x1)s", "77704.5": "%(y1)s",
    "77705.5": "%(mid_x)s", "77706.5": "%(mid_y)s", "77707.5": "%(view)s",
}  # fmt: skip


def frames() -> dict[str, dict[str, str | int]]:
    """Return every frame by its version and unit, as the fields of a `Frame`."""
    return {key(version, units): _frame(version, units) for version in VERSIONS for units in UNITS}


def _frame(version: str, units: Units) -> dict[str, str | int]:
    with nothing_of_the_moment():
        document = _document(version, units)
        stream = io.StringIO()
        document.write(stream)
    text = stream.getvalue().replace("%", "%%")
    first_handle = int(str(document.entitydb.handles), 16)  # only now: writing takes some handles too
    for standin, field in _STANDINS.items():
        text = text.replace(f"\n{standin}\n", f"\n{field}\n")
    text = re.sub(r"(\$HANDSEED\n  5\n)\w+\n", r"\1%(next_handle)s\n", text)
    head, mark, tail = text.partition("  2\nENTITIES\n")
    owner = "" if version == "R12" else document.modelspace().layout_key
    return {"head": head + mark, "tail": tail, "first_handle": first_handle, "owner": owner}


def _document(version: str, units: Units) -> Drawing:
    document = Drawing.new(version)
    if version != "R12":  # which has no place for units: the comments at the head say them
        document.units = {"mm": MM, "in": IN}[units]
    document.header["$MEASUREMENT"] = int(units == "mm")
    document.header["$LASTSAVEDBY"] = "platewright"
    document.header["$PDMODE"] = _CROSS
    lower_left, upper_right = (-77701.5, -77702.5), (77703.5, 77704.5)
    document.modelspace().reset_extents((*lower_left, 0.0), (*upper_right, 0.0))
    document.modelspace().reset_limits(lower_left, upper_right)
    document.set_modelspace_vport(height=77707.5, center=(77705.5, 77706.5))
    unit_mm = 1.0 if units == "mm" else MM_PER_IN
    for name, description, pattern in _LINE_TYPES:
        document.linetypes.add(name, [length / unit_mm for length in pattern], description=description)
    for name, colour, line_type in _LAYERS:
        document.layers.add(name, color=colour, linetype=line_type)
    document.layers.get(NOTES).off()
    # left to itself, writing adds these from a set, in another order each time the program starts
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)
    return document


@contextmanager
def nothing_of_the_moment() -> Iterator[None]:
    """Have ezdxf leave out dates and identities, which it sets on making and on writing a document."""
    options = ezdxf.options  # type: ignore[attr-defined]  # public by its manual, unmarked in its code
    kept = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = kept


if __name__ == "__main__":
    FILE.write_text(json.dumps(frames(), indent=0) + "\n", encoding="utf-8")

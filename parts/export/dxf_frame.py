"""The frame of a DXF file: all that is the same in every part's file of one version and unit.

ezdxf makes the document once: header, tables of layers and line types, blocks, objects. It is cut where
its entities go; what changes from part to part stands in it as numbers that are exchanged on filling.
"""

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache

import ezdxf
from ezdxf.document import Drawing
from ezdxf.units import IN, MM

from parts.export.about import plain
from parts.export.layers import BEND, DRILL, INSIDE, NOTES, OUTSIDE, SCRIBE
from parts.geometry import Box
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
_CROSS = 3  # $PDMODE: points are shown as a cross, else a drill centre is one dot on the screen
_ROOM_AROUND = 1.2  # height of the view on opening, in sizes of the part

# Values that nothing else in the document has, each exchanged for the one named beside it.
_STANDINS = {
    "-77701.5": "%(x0)s", "-77702.5": "%(y0)s", "77703.5": "%(x1)s", "77704.5": "%(y1)s",
    "77705.5": "%(mid_x)s", "77706.5": "%(mid_y)s", "77707.5": "%(view)s",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Frame:
    """A document without its entities, with named fields to fill; handles from `first_handle` on are free.

    `model_space` is the handle of what owns the entities.
    """

    head: str
    tail: str
    first_handle: int
    model_space: str

    def around(self, entities: str, box: Box, next_handle: int) -> str:
        """Return the whole file; `box`, the drawing's extent in drawing units, is what opening it shows."""
        x0, y0, x1, y1 = box
        numbers = {
            "x0": x0, "y0": y0, "x1": x1, "y1": y1, "mid_x": (x0 + x1) / 2, "mid_y": (y0 + y1) / 2,
            "view": _ROOM_AROUND * max(x1 - x0, y1 - y0),
        }  # fmt: skip
        fields = {name: plain(number) for name, number in numbers.items()}
        fields["next_handle"] = f"{next_handle:X}"
        return self.head % fields + entities + self.tail % fields


@cache
def frame(version: str, units: Units) -> Frame:
    """Return the frame of a DXF version (`R12`, `R2010`) and drawing unit."""
    with _nothing_of_the_moment():
        document = _document(version, units)
        stream = io.StringIO()
        document.write(stream)
    text = stream.getvalue().replace("%", "%%")
    first_handle = int(str(document.entitydb.handles), 16)  # only now: writing takes some handles too
    for standin, field in _STANDINS.items():
        text = text.replace(f"\n{standin}\n", f"\n{field}\n")
    text = re.sub(r"(\$HANDSEED\n  5\n)\w+\n", r"\1%(next_handle)s\n", text)
    head, mark, tail = text.partition("  2\nENTITIES\n")
    return Frame(head + mark, tail, first_handle, document.modelspace().layout_key)


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
def _nothing_of_the_moment() -> Iterator[None]:
    """Have ezdxf leave out dates and identities, which it sets on making and on writing a document."""
    options = ezdxf.options  # type: ignore[attr-defined]  # public by its manual, unmarked in its code
    kept = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = kept

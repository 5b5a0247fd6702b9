"""The frame of a DXF file: all that is the same in every part's file of one version and unit.

Header, tables of layers and line types, blocks and objects, as `dxf_making` has made them; what changes from part to
part stands in them as named fields.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from parts.data import FOLDER
from parts.export.about import plain
from parts.geometry import Box
from parts.units import Units

VERSIONS = ("R12", "R2010")
FILE = FOLDER / "dxf_frames.json"
_ROOM_AROUND = 1.2  # height of the view on opening, in sizes of the part


@dataclass(frozen=True, slots=True)
class DxfFrame:
    """A document without its entities, with named fields to fill; handles from `first_handle` on are free.

    `owner` is the handle of what owns the entities; R12 has none.
    """

    head: str
    tail: str
    first_handle: int
    owner: str

    def around(self, entities: str, box: Box, next_handle: int) -> str:
        """Return the whole file; `box`, the drawing's extent in drawing units, is what opening it shows."""
        x0, y0, x1, y1 = box
        numbers = {
            "x0": x0, "y0": y0, "x1": x1, "y1": y1, "mid_x": (x0 + x1) / 2, "mid_y": (y0 + y1) / 2,
            "view": _ROOM_AROUND * max(x1 - x0, y1 - y0),
        }  # fmt: skip
        fields = {name: plain(number) for name, number in numbers.items()}
        fields["next_handle"] = f"{next_handle:X}"
        return _filled(self.head, fields) + entities + _filled(self.tail, fields)


def _filled(text: str, fields: Mapping[str, str]) -> str:
    """The text with its named fields filled in: `text % fields`, in a tenth of the time."""
    return "".join([fields[piece] if i % 2 else piece for i, piece in enumerate(_pieces(text))])


@cache
def _pieces(text: str) -> tuple[str, ...]:
    """A text of a frame as what stands between its fields and, every second piece, the name of a field."""
    return tuple(re.split(r"%\((\w+)\)s", text))


@cache
def frame(version: str, units: Units) -> DxfFrame:
    """Return the frame of a DXF version (`R12`, `R2010`) and drawing unit."""
    return DxfFrame(**json.loads(FILE.read_text(encoding="utf-8"))[key(version, units)])


def key(version: str, units: Units) -> str:
    """Return what the frame of a version and unit is called in the file."""
    return " ".join((version, units))

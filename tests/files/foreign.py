"""Drawings as other programs make them: DXF by ezdxf, which the reader doesn't use, and SVG by hand."""

import io

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

from parts.read import ReadDrawing, read_drawing
from parts.units import Units

MM, INCH, UNITLESS = 4, 1, 0


def document(units: int = MM, version: str = "R2010") -> tuple[Drawing, Modelspace]:
    """A new document and its model space; R12 has nowhere to say its units."""
    made = ezdxf.new(version)
    if version != "R12":
        made.header["$INSUNITS"] = units
    return made, made.modelspace()


def data(made: Drawing) -> bytes:
    """The document as the bytes of a file."""
    stream = io.StringIO()
    made.write(stream)
    return stream.getvalue().encode()


def binary(made: Drawing) -> bytes:
    """The document as the bytes of a binary file."""
    stream = io.BytesIO()
    made.write(stream, fmt="bin")
    return stream.getvalue()


def dxf(entities: str, blocks: str = "", units: int = MM) -> bytes:
    """The least a DXF may be, with these entities as text."""
    head = f"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{units}\n0\nENDSEC\n"
    middle = f"0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n" if blocks else ""
    return f"{head}{middle}0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n".encode()


def line(x0: object, y0: object, x1: object, y1: object, layer: str = "0") -> str:
    """A LINE as text."""
    return f"0\nLINE\n8\n{layer}\n10\n{x0}\n20\n{y0}\n11\n{x1}\n21\n{y1}\n"


def circle(x: object, y: object, radius: object, layer: str = "0") -> str:
    """A CIRCLE as text."""
    return f"0\nCIRCLE\n8\n{layer}\n10\n{x}\n20\n{y}\n40\n{radius}\n"


def insert(name: str, more: str = "") -> str:
    """An INSERT at the origin as text."""
    return f"0\nINSERT\n8\n0\n2\n{name}\n10\n0\n20\n0\n{more}"


def block(name: str, entities: str) -> str:
    """A BLOCK with its base at the origin as text."""
    return f"0\nBLOCK\n2\n{name}\n10\n0\n20\n0\n{entities}0\nENDBLK\n"


def svg(body: str, head: str = 'width="100mm" height="100mm" viewBox="0 0 100 100"') -> bytes:
    """An SVG of 100 by 100 mm with this in it."""
    spaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"<svg {spaces} {head}>{body}</svg>".encode()


def read(made: Drawing | bytes, units: Units | None = None) -> ReadDrawing:
    """Read a drawing as someone's own DXF."""
    return read_drawing(made if isinstance(made, bytes) else data(made), "theirs.dxf", units)


def areas(reading: ReadDrawing) -> tuple[list[float], list[float]]:
    """The areas of the outside and the inside loops, to compare with."""
    return (
        [pytest.approx(loop.area, rel=1e-12) for loop in reading.profile.outside],
        [pytest.approx(o.loop.area, rel=1e-12) for o in reading.profile.inside],
    )


def with_rectangle(units: int = MM) -> tuple[Drawing, Modelspace]:
    """A document with a rectangle of 100 by 50 in it."""
    made, space = document(units)
    space.add_lwpolyline([(0, 0), (100, 0), (100, 50), (0, 50)], close=True)
    return made, space

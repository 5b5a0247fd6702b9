"""STEP: the plate as solids by AP214, arcs as true arcs and round holes as true cylinders.

The profile lies in the plane z = 0 and the plate rises from it by its thickness; a solid for each outside
loop. The header says what the part is, and nothing of when or where the file was written. The modeller that cadquery
brings is asked by itself: with cadquery about it, it takes twice the time to load and half as much memory again.
"""

import io
import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from parts.errors import GeometryError, NotInstalled
from parts.export.about import facts, parameter_texts
from parts.geometry import Line, Loop, Point, Segment, holders
from parts.record import Record

if TYPE_CHECKING:
    from OCP.gp import gp_Pnt
    from OCP.STEPControl import STEPControl_Writer
    from OCP.TCollection import TCollection_HAsciiString
    from OCP.TopoDS import TopoDS_Edge, TopoDS_Shape, TopoDS_Wire
    from OCP.TopTools import TopTools_ListOfShape

_NO_TIME = "1970-01-01T00:00:00"
_NOTE = "PLATEWRIGHT_SOLIDS"  # names the file in which the set-up script notes why there is no solid modeller
_OFFERED = "It isn't offered for every kind of machine."
_WITHOUT = "The other formats are made without it."
_NO_SOLID = "The plate can't be made a STEP solid; take the DXF or the SVG instead."


def write(record: Record) -> bytes:
    """Return the plate as STEP bytes, mm; the first call loads the solid modeller, which takes a second.

    Raises:
        GeometryError: if the solid modeller can't write the plate.
        NotInstalled: if there is no solid modeller.
    """
    try:
        import OCP  # noqa: F401 - asked for first: what follows comes with it
        from OCP.IFSelect import IFSelect_RetDone
        from OCP.Standard import Standard_Failure
        from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer
    except ImportError as error:
        raise NotInstalled("step", _no_modeller(error)) from error

    _hush()
    writer, stream = STEPControl_Writer(), io.BytesIO()
    try:
        done = writer.Transfer(_shape(record), STEPControl_AsIs) == IFSelect_RetDone
        _name(writer, record)
        _head(writer, record)
        done = done and writer.WriteStream(stream) == IFSelect_RetDone
    except (Standard_Failure, ValueError) as error:
        raise GeometryError(_NO_SOLID) from error
    if not done:
        raise GeometryError(_NO_SOLID)
    return stream.getvalue()


def _hush() -> None:
    """Let the modeller print nothing but failures; by itself it prints what it is about."""
    from OCP.Message import Message, Message_Gravity

    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)


def _no_modeller(error: ImportError) -> str:
    """Say that there is no solid modeller, and why: in the words of who brings it, where they are noted down."""
    note = Path(os.environ.get(_NOTE, os.devnull))
    why = note.read_text("utf-8").strip() if note.exists() else ""
    if not isinstance(error, ModuleNotFoundError):
        why = f"It can't be loaded: {error}."
    return f"STEP needs the solid modeller cadquery, which isn't here. {why or _OFFERED} {_WITHOUT}"


def _shape(record: Record) -> "TopoDS_Shape":
    from OCP.TopoDS import TopoDS_Builder, TopoDS_Compound

    plates = list(_plates(record))
    if len(plates) == 1:
        return plates[0]
    together, builder = TopoDS_Compound(), TopoDS_Builder()
    builder.MakeCompound(together)
    for plate in plates:
        builder.Add(together, plate)
    return together


def _plates(record: Record) -> "Iterator[TopoDS_Shape]":
    """Yield a solid for each outside loop, with the openings that lie directly in it."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    profile, rise = record.profile, gp_Vec(0, 0, record.job.cut.thickness_mm)
    around = holders([*profile.outside, *(opening.loop for opening in profile.inside)])
    around = around[len(profile.outside) :]
    for k, outside in enumerate(profile.outside):
        within = [o.loop for o, of in zip(profile.inside, around, strict=True) if of[:1] == [k]]
        yield BRepPrimAPI_MakePrism(_face(outside, within), rise, True).Shape()


def _face(outside: Loop, openings: list[Loop]) -> "TopoDS_Shape":
    """The plane within a loop and around others, each running the way that its side asks for."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.ShapeFix import ShapeFix_Face, ShapeFix_Shape
    from OCP.TopoDS import TopoDS

    as_wire = TopoDS.Wire if hasattr(TopoDS, "Wire") else TopoDS.Wire_s  # by the modeller's version
    mended = ShapeFix_Shape(_wire(outside))
    mended.Perform()
    builder = BRepBuilderAPI_MakeFace(as_wire(mended.Shape()), True)
    for loop in openings:
        builder.Add(_wire(loop))
    builder.Build()
    if not builder.IsDone():
        raise ValueError
    face = ShapeFix_Face(builder.Face())
    face.FixOrientation()
    face.Perform()
    return face.Result()


def _wire(loop: Loop) -> "TopoDS_Wire":
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir

    if circle := loop.circle:
        round_edge = gp_Circ(gp_Ax2(_point(circle.centre), gp_Dir(0, 0, 1)), circle.diameter / 2)
        edges = [BRepBuilderAPI_MakeEdge(round_edge).Edge()]
    else:
        edges = [_edge(segment) for segment in loop.segments]
    builder = BRepBuilderAPI_MakeWire()
    builder.Add(_listed(edges))
    builder.Build()
    if not builder.IsDone() or not builder.Wire().Closed():
        raise ValueError
    return builder.Wire()


def _listed(edges: "list[TopoDS_Edge]") -> "TopTools_ListOfShape":
    from OCP.TopTools import TopTools_ListOfShape

    listed = TopTools_ListOfShape()
    for edge in edges:
        listed.Append(edge)
    return listed


def _edge(segment: Segment) -> "TopoDS_Edge":
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge
    from OCP.GC import GC_MakeArcOfCircle

    start, end = _point(segment.start), _point(segment.end)
    if isinstance(segment, Line):
        return BRepBuilderAPI_MakeEdge(start, end).Edge()
    return BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(start, _point(segment.at(0.5)), end).Value()).Edge()


def _point(point: Point) -> "gp_Pnt":
    from OCP.gp import gp_Pnt

    return gp_Pnt(*point, 0)


def _name(writer: "STEPControl_Writer", record: Record) -> None:
    """Name the product; by the writer's own setting it would carry the number of the file since the start."""
    from OCP.StepBasic import StepBasic_Product

    model = writer.Model(False)
    for i in range(1, model.NbEntities() + 1):
        if isinstance(entity := model.Value(i), StepBasic_Product):
            entity.SetId(_string(record.template.slug))
            entity.SetName(_string(record.template.title))
            entity.SetDescription(_string(record.address))


def _head(writer: "STEPControl_Writer", record: Record) -> None:
    """Describe the part in the header as `name: value` lines; leave out time, author and machine."""
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.Interface import Interface_HArray1OfHAsciiString

    known = facts(record)
    parameters = {f"parameter {name}": text for name, text in parameter_texts(record).items()}
    lines = [f"{name}: {text}" for name, text in {**known, **parameters}.items()]
    description = Interface_HArray1OfHAsciiString(1, len(lines))
    for i, line in enumerate(lines, start=1):
        description.SetValue(i, _string(line))
    header = APIHeaderSection_MakeHeader(writer.Model(False))
    header.SetDescription(description)
    header.SetName(_string(f"{record.template.slug}.step"))
    header.SetTimeStamp(_string(_NO_TIME))
    header.SetAuthorValue(1, _string(""))
    header.SetOrganizationValue(1, _string(""))
    header.SetOriginatingSystem(_string(f"platewright {known['platewright_version']}"))


def _string(text: str) -> "TCollection_HAsciiString":
    from OCP.TCollection import TCollection_HAsciiString

    return TCollection_HAsciiString(step_text(text))


def step_text(text: str) -> str:
    r"""Return the text as a STEP string holds it, by ISO 10303-21: `\X2\00E9\X0\` for an accented e.

    The backslash is written so too, lest it be taken for such an escape; the writer doubles apostrophes.
    """
    return "".join(
        character if " " <= character <= "~" and character != "\\" else _escaped(character) for character in text
    )


def _escaped(character: str) -> str:
    code = f"{ord(character):04X}"
    return f"\\X2\\{code}\\X0\\" if len(code) == 4 else f"\\X4\\{ord(character):08X}\\X0\\"

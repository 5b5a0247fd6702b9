"""Solid: a part as the modeller's solids, a plate as it is, a bent part folded along its bend lines.

The profile lies in the plane z = 0 and the plate rises from it by its thickness; a solid for each outside loop. Of a
set each piece stands in its place, as its template's assembly says, unless it is asked for flat. The modeller that
cadquery brings is asked by itself: with cadquery about it, it takes twice the time to load and half as much memory
again.
"""

import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from parts.errors import GeometryError, NotInstalled
from parts.export.fold import folded_up
from parts.forming import Brake, FlatPiece, bend_lines
from parts.geometry import Line, Loop, Point, Segment, holders
from parts.profile import Profile
from parts.record import Record
from parts.spec import Frame

if TYPE_CHECKING:
    from OCP.gp import gp_Pnt
    from OCP.TopLoc import TopLoc_Location
    from OCP.TopoDS import TopoDS_Edge, TopoDS_Face, TopoDS_Shape, TopoDS_Wire
    from OCP.TopTools import TopTools_ListOfShape

_NOTE = "PLATEWRIGHT_SOLIDS"  # names the file in which the set-up script notes why there is no solid modeller
_OFFERED = "It isn't offered for every kind of machine."
_WITHOUT = "The other formats are made without it."
NO_SOLID = "The plate can't be made a solid; take the DXF or the SVG instead."


def shape(record: Record, kind: str) -> "TopoDS_Shape":
    """Return a part as one solid, or its pieces as a compound; the first call loads the modeller, which takes a second.

    Args:
        record: the part; folded unless its form is flat.
        kind: the format that it is for, to be named where there is no modeller.

    Raises:
        GeometryError: the modeller can't make it, or it can't be folded.
        NotInstalled: there is no solid modeller.
    """
    try:
        import OCP  # noqa: F401 - asked for first: what follows comes with it
        from OCP.Standard import Standard_Failure
    except ImportError as error:
        raise NotInstalled(kind, _no_modeller(kind, error)) from error
    _hush()
    try:
        if record.assembly:
            return together(list(_placed(record)))
        profile, thickness = record.profile, record.job.cut.thickness_mm
        return together(
            list(_bent(profile, thickness, record.job.brake) if record.is_folded else flats(profile, thickness))
        )
    except (Standard_Failure, ValueError) as error:
        if isinstance(error, GeometryError):
            raise
        raise GeometryError(NO_SOLID) from error


def _hush() -> None:
    """Let the modeller print nothing but failures; by itself it prints what it is about."""
    from OCP.Message import Message, Message_Gravity

    for printer in Message.DefaultMessenger_s().Printers():
        printer.SetTraceLevel(Message_Gravity.Message_Fail)


def _no_modeller(kind: str, error: ImportError) -> str:
    """Say that there is no solid modeller, and why: in the words of who brings it, where they are noted down."""
    note = Path(os.environ.get(_NOTE, os.devnull))
    why = note.read_text("utf-8").strip() if note.exists() else ""
    if not isinstance(error, ModuleNotFoundError):
        why = f"It can't be loaded: {error}."
    return f"{kind.upper()} needs the solid modeller cadquery, which isn't here. {why or _OFFERED} {_WITHOUT}"


def together(solids: "list[TopoDS_Shape]") -> "TopoDS_Shape":
    """Return solids as one shape."""
    from OCP.TopoDS import TopoDS_Builder, TopoDS_Compound

    if len(solids) == 1:
        return solids[0]
    compound, builder = TopoDS_Compound(), TopoDS_Builder()
    builder.MakeCompound(compound)
    for solid in solids:
        builder.Add(compound, solid)
    return compound


def standing(record: Record, made: "TopoDS_Shape") -> "Iterator[tuple[str, TopoDS_Shape]]":
    """Yield the name of each piece of a set, and its solid in its place, out of the shape that was made of the set."""
    from OCP.TopoDS import TopoDS_Iterator

    children = TopoDS_Iterator(made)
    for piece in record.assembly:
        yield piece.name, children.Value()
        children.Next()


def _placed(record: Record) -> "Iterator[TopoDS_Shape]":
    """The solid of each piece of a set, in its place."""
    for piece in record.assembly:
        (solid,) = _bent(piece.profile, piece.thickness, record.job.brake)
        yield solid.Located(_location(piece.frame))


def _bent(profile: Profile, thickness: float, brake: Brake) -> "Iterable[TopoDS_Shape]":
    """The solids of a flat, its bends made where it has any."""
    if not bend_lines(profile):
        return flats(profile, thickness)
    return folded_up(profile, thickness, brake, _face_of)


def _location(frame: Frame) -> "TopLoc_Location":
    """The motion that brings a plate from its drawing to its place."""
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf
    from OCP.TopLoc import TopLoc_Location

    motion = gp_Trsf()
    motion.SetTransformation(gp_Ax3(gp_Pnt(*frame.origin), gp_Dir(*frame.normal), gp_Dir(*frame.x)), gp_Ax3())
    return TopLoc_Location(motion)


def flats(profile: Profile, thickness: float) -> "Iterator[TopoDS_Shape]":
    """Yield a solid for each outside loop, with the openings that lie directly in it."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    rise = gp_Vec(0, 0, thickness)
    around = holders([*profile.outside, *(opening.loop for opening in profile.inside)])
    around = around[len(profile.outside) :]
    for k, outside in enumerate(profile.outside):
        within = [o.loop for o, of in zip(profile.inside, around, strict=True) if of[:1] == [k]]
        yield BRepPrimAPI_MakePrism(_face(outside, within), rise, True).Shape()


def _face_of(piece: FlatPiece) -> "TopoDS_Face":
    """The plane face of a piece of the flat."""
    outside, *inside = (Loop(tuple(edge.segment for edge in chain)) for chain in (piece.outside, *piece.inside))
    return _face(outside, inside)


def _face(outside: Loop, openings: list[Loop]) -> "TopoDS_Face":
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

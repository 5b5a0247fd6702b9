"""STEP of a set: an assembly whose components bear the pieces' names, each a part of its own moved to its place."""

from typing import TYPE_CHECKING

from parts.export.solid import standing
from parts.record import Record

if TYPE_CHECKING:
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.TDF import TDF_Label
    from OCP.TopoDS import TopoDS_Shape


def writer_of(record: Record, made: "TopoDS_Shape") -> "STEPCAFControl_Writer":
    """Return a writer that holds the assembly of the shape made of a set, its head not yet written.

    Raises:
        ValueError: the modeller can't take it.
    """
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_AsIs
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.TopLoc import TopLoc_Location
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    whole = shapes.NewShape()
    _call(whole, record.template.slug)
    for name, solid in standing(record, made):
        piece = shapes.AddShape(solid.Located(TopLoc_Location()), False)
        _call(piece, name)
        _call(shapes.AddComponent(whole, piece, solid.Location()), name)
    shapes.UpdateAssemblies()
    writer = STEPCAFControl_Writer()
    if not writer.Transfer(document, STEPControl_AsIs):
        raise ValueError
    return writer


def _call(label: "TDF_Label", name: str) -> None:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name

    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name))

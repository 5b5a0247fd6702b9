"""Shell: faces of the solid modeller picked, moved and sewn into a solid, and what is measured of solids."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from OCP.gp import gp_Pnt, gp_Trsf
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopoDS import TopoDS_Face, TopoDS_Shape

_SEWN_MM = 1e-6
"""Edges no further apart are sewn: faces meet in edges that are alike but for rounding."""
_JUST_MM = 1e-5
"""Boxes that share less than this only touch: the modeller's own are larger than what is in them by 1e-7."""

Corner: TypeAlias = tuple[float, float, float]
"""x, y and z, mm."""


def flat_face(corners: "Sequence[gp_Pnt]") -> "TopoDS_Face":
    """Return the plane face between corners."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon

    outline = BRepBuilderAPI_MakePolygon()
    for corner in corners:
        outline.Add(corner)
    outline.Close()
    return BRepBuilderAPI_MakeFace(outline.Wire(), True).Face()


def faces_of(solid: "TopoDS_Shape") -> "Iterator[tuple[TopoDS_Face, list[Corner]]]":
    """Yield the faces of a solid with their corners, each corner once."""
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_FACE, TopAbs_VERTEX
    from OCP.TopoDS import TopoDS

    as_face = TopoDS.Face if hasattr(TopoDS, "Face") else TopoDS.Face_s  # by the modeller's version
    as_vertex = TopoDS.Vertex if hasattr(TopoDS, "Vertex") else TopoDS.Vertex_s
    for face in _parts(solid, TopAbs_FACE):
        points = (BRep_Tool.Pnt_s(as_vertex(vertex)) for vertex in _parts(face, TopAbs_VERTEX))
        yield as_face(face), list(dict.fromkeys((p.X(), p.Y(), p.Z()) for p in points))


def _parts(shape: "TopoDS_Shape", kind: "TopAbs_ShapeEnum") -> "Iterator[TopoDS_Shape]":
    from OCP.TopExp import TopExp_Explorer

    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield explorer.Current()
        explorer.Next()


def put(shape: "TopoDS_Shape", motion: "gp_Trsf") -> "TopoDS_Shape":
    """Return a shape moved."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform

    return BRepBuilderAPI_Transform(shape, motion, True).Shape()


def sewn(faces: "Sequence[TopoDS_Shape]") -> "TopoDS_Shape | None":
    """Return faces as one solid, those that go on in the next as one face; None where they don't close one."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid, BRepBuilderAPI_Sewing
    from OCP.BRepLib import BRepLib
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
    from OCP.TopAbs import TopAbs_SHELL, TopAbs_SOLID
    from OCP.TopoDS import TopoDS

    sewing = BRepBuilderAPI_Sewing(_SEWN_MM)
    for face in faces:
        sewing.Add(face)
    sewing.Perform()
    shells = list(_parts(sewing.SewedShape(), TopAbs_SHELL))
    if len(shells) != 1 or sewing.NbFreeEdges():
        return None
    as_shell = TopoDS.Shell if hasattr(TopoDS, "Shell") else TopoDS.Shell_s
    solid = BRepBuilderAPI_MakeSolid(as_shell(shells[0])).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    unified = ShapeUpgrade_UnifySameDomain(solid, True, True, False)
    unified.Build()
    return next(_parts(unified.Shape(), TopAbs_SOLID), None)


def fused(solids: "Sequence[TopoDS_Shape]") -> "TopoDS_Shape | None":
    """Return solids that touch as one solid; None where they don't become one."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
    from OCP.TopAbs import TopAbs_SOLID
    from OCP.TopTools import TopTools_ListOfShape

    builder = BRepAlgoAPI_Fuse()
    for listed, give in ((solids[:1], builder.SetArguments), (solids[1:], builder.SetTools)):
        shapes = TopTools_ListOfShape()
        for each in listed:
            shapes.Append(each)
        give(shapes)
    builder.Build()
    unified = ShapeUpgrade_UnifySameDomain(builder.Shape(), True, True, False)
    unified.Build()
    made = list(_parts(unified.Shape(), TopAbs_SOLID))
    return made[0] if len(made) == 1 else None


def boxed(solid: "TopoDS_Shape") -> tuple[float, ...]:
    """Return a box that a solid lies in but for next to nothing: least x, y, z, greatest x, y, z."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(solid, box, False, False)
    low, high = box.CornerMin(), box.CornerMax()
    return (
        *(v + _JUST_MM for v in (low.X(), low.Y(), low.Z())),
        *(v - _JUST_MM for v in (high.X(), high.Y(), high.Z())),
    )


def shared(one: "TopoDS_Shape", other: "TopoDS_Shape") -> float:
    """Return the volume that two solids share, mm³."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    return volume(BRepAlgoAPI_Common(one, other).Shape())


def volume(shape: "TopoDS_Shape") -> float:
    """Return the volume in mm³."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found)
    return float(found.Mass())


def is_valid(shape: "TopoDS_Shape") -> bool:
    """Tell whether the modeller finds nothing wrong with a shape: no face that crosses another of its shell."""
    from OCP.BRepCheck import BRepCheck_Analyzer

    return bool(BRepCheck_Analyzer(shape).IsValid())

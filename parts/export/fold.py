"""Fold: the flat of a bent part as solids, folded up along its bend lines into one solid with true inside radii.

zone    what a bend takes of the flat about its line: as wide as the neutral line through the bend is long, the bend
        allowance A (R + K T), and as long as the line
piece   what is left of the flat between zones; it is moved, and not changed
sector  the metal of a zone, bent: turned by A about the bend's axis, which lies R from the face on the inside

The face drawn lies on top, so a bend up has its axis above the flat, at T + R, and one down has it below, at -R. The
piece left of the first bend line stays where it is. A sector can be turned whole only where the metal of its zone is
cut square to the bend line: where an edge or an opening runs into a zone, the part is refused, as what comes of it
there isn't known exactly. Formulas of the allowance: `parts.forming.allowance`.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from parts.errors import GeometryError
from parts.forming import Brake, Fold, folded
from parts.forming import name as name_of
from parts.geometry import Line
from parts.profile import Bend

if TYPE_CHECKING:
    from OCP.gp import gp_Ax1, gp_Pnt, gp_Trsf
    from OCP.TopoDS import TopoDS_Shape

_JUST_MM = 1e-3  # how far beside a zone a piece is looked for
_INSIDE_MM = 1e-6
_SAME_SHARE = 1e-9  # of a volume
_ALONG = (0.5, 0.31, 0.77, 0.12, 0.9)  # where along a line: at some of these an opening may be
_LEFT, _RIGHT = -1, 1
_FLAT = "Take form=flat for the solid of the flat."


@dataclass(frozen=True, slots=True)
class _Zone:
    """A bend on the flat: what it is called, its line and how it is bent."""

    name: str
    line: Line
    fold: Fold

    def at(self, across: float, along: float, z: float) -> "gp_Pnt":
        """The point so far to the right of the line, and along it from its start, mm."""
        from OCP.gp import gp_Pnt

        (x, y), (ux, uy) = self.line.start, self.line.heading
        return gp_Pnt(x + ux * along + uy * across, y + uy * along - ux * across, z)

    @property
    def thickness(self) -> float:
        return self.fold.thickness

    def axis(self, stays: int) -> "gp_Ax1":
        """What the metal is turned about where one side stays, running so that it turns the other positively."""
        from OCP.gp import gp_Ax1, gp_Dir

        height = self.thickness + self.fold.radius if self.fold.up else -self.fold.radius
        (ux, uy), way = self.line.heading, stays * (1 if self.fold.up else -1)
        return gp_Ax1(self.at(stays * self.fold.allowance / 2, 0, height), gp_Dir(way * ux, way * uy, 0))

    def motion(self, stays: int) -> "gp_Trsf":
        """The motion of what lies beyond the bend from the side that stays."""
        from OCP.gp import gp_Trsf, gp_Vec

        shift, turn = gp_Trsf(), gp_Trsf()
        shift.SetTranslation(gp_Vec(self.at(0, 0, 0), self.at(stays * self.fold.allowance, 0, 0)))
        turn.SetRotation(self.axis(stays), self.fold.angle)
        return turn.Multiplied(shift)


def folded_up(
    bends: Sequence[Bend], thickness: float, brake: Brake, flat: "Sequence[TopoDS_Shape]"
) -> "list[TopoDS_Shape]":
    """Return the solids of a flat of this thickness in mm with its bends made, one for each.

    Raises:
        GeometryError: something runs into a bend, or a bend doesn't part the flat.
    """
    zones = [_Zone(name_of(bends, i), bend.line, folded(bend, thickness, brake)) for i, bend in enumerate(bends)]
    return [_one(solid, _zones_on(solid, zones)) for solid in flat]


def _zones_on(solid: "TopoDS_Shape", zones: Sequence[_Zone]) -> list[_Zone]:
    """The bends whose lines lie on a solid."""
    return [
        zone
        for zone in zones
        if any(_holds(solid, zone.at(0, share * zone.line.length, zone.thickness / 2)) for share in _ALONG)
    ]


def _one(flat: "TopoDS_Shape", zones: Sequence[_Zone]) -> "TopoDS_Shape":
    """One flat with its bends made."""
    if not zones:
        return flat
    blocks = [_block(zone) for zone in zones]
    pieces = _solids(_without(flat, blocks))
    metal = [_metal(flat, block, zone) for block, zone in zip(blocks, zones, strict=True)]
    beside = [(_beside(pieces, zone, _LEFT), _beside(pieces, zone, _RIGHT)) for zone in zones]
    moved, turned = _placed(zones, beside, len(pieces))
    made = [_put(pieces[i], motion) for i, motion in moved.items()]
    for number, (stays, motion) in turned.items():
        made += [_put(_sector(zones[number], *span, stays), motion) for span in metal[number]]
    return _joined(made)


def _placed(
    zones: Sequence[_Zone], beside: Sequence[tuple[int, int]], count: int
) -> "tuple[dict[int, gp_Trsf], dict[int, tuple[int, gp_Trsf]]]":
    """The motion of each piece; of each bend the side that stays, and how that is moved."""
    from OCP.gp import gp_Trsf

    moved, turned, waiting = {beside[0][0]: gp_Trsf()}, {}, list(range(len(zones)))
    while waiting:
        number = next((i for i in waiting if (beside[i][0] in moved) != (beside[i][1] in moved)), None)
        if number is None:
            raise GeometryError(f"The part can't be folded: {zones[waiting[0]].name} doesn't part it. {_FLAT}")
        waiting.remove(number)
        left, right = beside[number]
        stays, known, other = (_LEFT, left, right) if left in moved else (_RIGHT, right, left)
        turned[number] = (stays, moved[known])
        moved[other] = moved[known].Multiplied(zones[number].motion(stays))
    if len(moved) < count:
        raise GeometryError(f"The part can't be folded: a piece of it hangs by no bend. {_FLAT}")
    return moved, turned


def _block(zone: _Zone) -> "TopoDS_Shape":
    """All that a zone is on the flat, and more above and below."""
    half, length, (low, high) = zone.fold.allowance / 2, zone.line.length, (-1.0, zone.thickness + 1.0)
    corners = [zone.at(x, y, low) for x, y in ((-half, 0.0), (half, 0.0), (half, length), (-half, length))]
    return _prism(corners, zone.at(0, 0, low), zone.at(0, 0, high))


def _prism(corners: "Sequence[gp_Pnt]", start: "gp_Pnt", end: "gp_Pnt") -> "TopoDS_Shape":
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    return BRepPrimAPI_MakePrism(_flat_face(corners), gp_Vec(start, end), True).Shape()


def _flat_face(corners: "Sequence[gp_Pnt]") -> "TopoDS_Shape":
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon

    outline = BRepBuilderAPI_MakePolygon()
    for corner in corners:
        outline.Add(corner)
    outline.Close()
    return BRepBuilderAPI_MakeFace(outline.Wire(), True).Face()


def _metal(flat: "TopoDS_Shape", block: "TopoDS_Shape", zone: _Zone) -> list[tuple[float, float]]:
    """From where to where along its line a zone holds metal, mm.

    Raises:
        GeometryError: it isn't cut square there.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    spans = []
    for solid in _solids(BRepAlgoAPI_Common(flat, block).Shape()):
        along = [_along(zone, corner) for corner in _corners(solid)]
        start, end = min(along), max(along)
        whole = zone.fold.allowance * (end - start) * zone.thickness
        if abs(_volume(solid) - whole) > _SAME_SHARE * whole:
            raise GeometryError(
                f"The part can't be folded exactly: an edge or an opening runs into {zone.name}, which isn't cut "
                f"square there. {_FLAT}"
            )
        spans.append((start, end))
    return sorted(spans)


def _along(zone: _Zone, corner: "gp_Pnt") -> float:
    (x, y), (ux, uy) = zone.line.start, zone.line.heading
    return float((corner.X() - x) * ux + (corner.Y() - y) * uy)


def _sector(zone: _Zone, start: float, end: float, stays: int) -> "TopoDS_Shape":
    """The bent metal of a zone between two places along its line, beginning at the edge that stays."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol

    edge = stays * zone.fold.allowance / 2
    corners = [zone.at(edge, *at) for at in ((start, 0), (end, 0), (end, zone.thickness), (start, zone.thickness))]
    return BRepPrimAPI_MakeRevol(_flat_face(corners), zone.axis(stays), zone.fold.angle, True).Shape()


def _beside(pieces: "Sequence[TopoDS_Shape]", zone: _Zone, side: int) -> int:
    """Which piece lies on one side of a bend.

    Raises:
        GeometryError: none does.
    """
    off = side * (zone.fold.allowance / 2 + _JUST_MM)
    for share in _ALONG:
        probe = zone.at(off, share * zone.line.length, zone.thickness / 2)
        for index, piece in enumerate(pieces):
            if _holds(piece, probe):
                return index
    raise GeometryError(f"The part can't be folded: there is no metal beside {zone.name}. {_FLAT}")


def _holds(solid: "TopoDS_Shape", point: "gp_Pnt") -> bool:
    from OCP.BRepClass3d import BRepClass3d_SolidClassifier
    from OCP.TopAbs import TopAbs_IN

    return bool(BRepClass3d_SolidClassifier(solid, point, _INSIDE_MM).State() == TopAbs_IN)


def _without(flat: "TopoDS_Shape", blocks: "Sequence[TopoDS_Shape]") -> "TopoDS_Shape":
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    return _built(BRepAlgoAPI_Cut(), [flat], blocks)


def _joined(solids: "list[TopoDS_Shape]") -> "TopoDS_Shape":
    """Solids that touch as one, faces that go on in the next as one face.

    Raises:
        GeometryError: they don't become one.
    """
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain

    fused = _built(BRepAlgoAPI_Fuse(), solids[:1], solids[1:])
    unified = ShapeUpgrade_UnifySameDomain(fused, True, True, False)
    unified.Build()
    made = [_without_slivers(solid) for solid in _solids(unified.Shape())]
    if len(made) != 1:
        raise GeometryError(f"The part can't be folded into one solid: it may run into itself. {_FLAT}")
    if abs(_volume(made[0]) - math.fsum(map(_volume, solids))) > _SAME_SHARE * _volume(made[0]):
        raise GeometryError(f"The part can't be folded: bent, it runs into itself. {_FLAT}")
    return made[0]


def _without_slivers(solid: "TopoDS_Shape") -> "TopoDS_Shape":
    """A solid by its outer shell alone: where zones meet in a point, joining leaves a double face of no thickness."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid
    from OCP.BRepClass3d import BRepClass3d
    from OCP.TopoDS import TopoDS

    as_solid = TopoDS.Solid if hasattr(TopoDS, "Solid") else TopoDS.Solid_s
    return BRepBuilderAPI_MakeSolid(BRepClass3d.OuterShell_s(as_solid(solid))).Solid()


def _built(builder: "object", those: "Sequence[TopoDS_Shape]", others: "Sequence[TopoDS_Shape]") -> "TopoDS_Shape":
    """What a boolean makes of shapes and others."""
    from OCP.TopTools import TopTools_ListOfShape

    for listed, give in ((those, builder.SetArguments), (others, builder.SetTools)):  # type: ignore[attr-defined]
        shapes = TopTools_ListOfShape()
        for each in listed:
            shapes.Append(each)
        give(shapes)
    builder.Build()  # type: ignore[attr-defined]
    return builder.Shape()  # type: ignore[attr-defined]


def _put(solid: "TopoDS_Shape", motion: "gp_Trsf") -> "TopoDS_Shape":
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform

    return BRepBuilderAPI_Transform(solid, motion, True).Shape()


def _solids(shape: "TopoDS_Shape") -> "list[TopoDS_Shape]":
    from OCP.TopAbs import TopAbs_SOLID
    from OCP.TopExp import TopExp_Explorer

    found, explorer = [], TopExp_Explorer(shape, TopAbs_SOLID)
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def _corners(shape: "TopoDS_Shape") -> "Iterator[gp_Pnt]":
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_VERTEX
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    as_vertex = TopoDS.Vertex if hasattr(TopoDS, "Vertex") else TopoDS.Vertex_s
    explorer = TopExp_Explorer(shape, TopAbs_VERTEX)
    while explorer.More():
        yield BRep_Tool.Pnt_s(as_vertex(explorer.Current()))
        explorer.Next()


def _volume(shape: "TopoDS_Shape") -> float:
    """The volume in mm³."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found)
    return float(found.Mass())

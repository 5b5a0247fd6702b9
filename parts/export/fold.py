"""Fold: the pieces of a bent part as solids, folded up along its bend lines into one solid with true inside radii.

piece   what is left of the flat between bends (`parts.forming.parting`); it is moved, and not changed
sector  the metal of a bend: turned by A about the bend's axis, which lies R from the face on the inside

The face drawn lies on top, so a bend up has its axis above the flat, at T + R, and one down has it below, at -R. The
piece left of the first bend line stays where it is. Pieces and sectors meet in faces that are alike to the last digit:
these are left out, and what remains is sewn into one shell. A sector can be turned whole only where its metal is cut
square to the bend line: where an edge or an opening runs into it, the part is refused, as what comes of it there isn't
known exactly. Formulas of the allowance: `parts.forming.allowance`.
"""

import math
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, TypeGuard

from parts.errors import GeometryError
from parts.export.shell import boxed, faces_of, flat_face, fused, is_valid, put, sewn, shared, volume
from parts.forming import Brake, Edge, FlatPiece, Fold, Span, bend_lines, folded, name, parted
from parts.profile import Profile

if TYPE_CHECKING:
    from OCP.gp import gp_Ax1, gp_Pnt, gp_Trsf
    from OCP.TopoDS import TopoDS_Face, TopoDS_Shape

_SAME_SHARE = 1e-9  # of a volume
_FUSED_SHARE = 1e-8  # the same where walls touch: the modeller moves edges there by its own tolerance of 1e-7 mm
_SAME_MM = 1e-6
_CORNERS = 4
_LEFT, _RIGHT = -1, 1
_FLAT = "Take form=flat for the solid of the flat."


@dataclass(frozen=True, slots=True)
class _Hinge:
    """A span of a bend on the flat, and how it is bent."""

    name: str
    span: Span
    fold: Fold

    def at(self, across: float, along: float, z: float) -> "gp_Pnt":
        """The point so far to the right of the line, and along it from its start, mm."""
        from OCP.gp import gp_Pnt

        (x, y), (ux, uy) = self.span.line.start, self.span.line.heading
        return gp_Pnt(x + ux * along + uy * across, y + uy * along - ux * across, z)

    def axis(self, stays: int) -> "gp_Ax1":
        """What the metal is turned about where one side stays, running so that it turns the other positively."""
        from OCP.gp import gp_Ax1, gp_Dir

        height = self.fold.thickness + self.fold.radius if self.fold.up else -self.fold.radius
        (ux, uy), way = self.span.line.heading, stays * (1 if self.fold.up else -1)
        return gp_Ax1(self.at(stays * self.span.half, 0, height), gp_Dir(way * ux, way * uy, 0))

    def motion(self, stays: int) -> "gp_Trsf":
        """The motion of what lies beyond the bend from the side that stays."""
        from OCP.gp import gp_Trsf, gp_Vec

        shift, turn = gp_Trsf(), gp_Trsf()
        shift.SetTranslation(gp_Vec(self.at(0, 0, 0), self.at(stays * 2 * self.span.half, 0, 0)))
        turn.SetRotation(self.axis(stays), self.fold.angle)
        return turn.Multiplied(shift)


@dataclass(frozen=True, slots=True)
class _Body:
    """A piece or a sector in its place: its solid, the faces that stay outside, the spans where it meets others."""

    solid: "TopoDS_Shape"
    faces: "tuple[TopoDS_Shape, ...]"
    meets: frozenset[int]


def folded_up(
    profile: Profile, thickness: float, brake: Brake, face: "Callable[[FlatPiece], TopoDS_Face]"
) -> "list[TopoDS_Shape]":
    """Return the solids of a flat with its bends made, one for each outside loop.

    Args:
        profile: the flat.
        thickness: of its plate, mm.
        brake: that it is bent on.
        face: makes the plane face of a piece.

    Raises:
        GeometryError: something runs into a bend, a bend doesn't part the flat, or bent it runs into itself.
    """
    lines = bend_lines(profile)
    bends = [(bend, folded(bend, thickness, brake)) for bend in lines]
    try:
        flat = parted(profile, bends)
        hinges = [_Hinge(name(lines, span.bend), span, bends[span.bend][1]) for span in flat.spans]
        placed = list(_placed(hinges, flat.beside, len(flat.pieces)))
    except GeometryError as error:
        raise GeometryError(f"The part can't be folded: {error}. {_FLAT}") from error
    return [
        _one(
            [
                *(_piece(flat.pieces[i], face(flat.pieces[i]), thickness, motion) for i, motion in moved.items()),
                *(_sector(number, hinges[number], stays, motion) for number, (stays, motion) in turned.items()),
            ]
        )
        for moved, turned in placed
    ]


def _placed(
    hinges: Sequence[_Hinge], beside: Sequence[tuple[int, int]], count: int
) -> "Iterator[tuple[dict[int, gp_Trsf], dict[int, tuple[int, gp_Trsf]]]]":
    """For each solid, the motion of its pieces; of its spans the side that stays, and how that is moved."""
    from OCP.gp import gp_Trsf

    left = dict.fromkeys(piece for pair in beside for piece in pair) | dict.fromkeys(range(count))
    while left:
        first = next(iter(left))
        moved: dict[int, gp_Trsf] = {first: gp_Trsf()}
        turned: dict[int, tuple[int, gp_Trsf]] = {}
        while (number := _next(moved, turned, beside)) is not None:
            a, b = beside[number]
            if a in moved and b in moved and not _goes_with(number, turned, hinges, beside):
                raise GeometryError(f"{hinges[number].name} doesn't part it")
            stays, known, other = (_LEFT, a, b) if a in moved else (_RIGHT, b, a)
            turned[number] = (stays, moved[known])
            moved.setdefault(other, moved[known].Multiplied(hinges[number].motion(stays)))
        for piece in moved:
            left.pop(piece)
        yield moved, turned


def _next(moved: Collection[int], turned: Collection[int], beside: Sequence[tuple[int, int]]) -> int | None:
    return next(
        (i for i, (a, b) in enumerate(beside) if i not in turned and (a in moved or b in moved)),
        None,
    )


def _goes_with(
    number: int, turned: Collection[int], hinges: Sequence[_Hinge], beside: Sequence[tuple[int, int]]
) -> bool:
    """Whether a span is of a bend that parts the same two pieces already: there is an opening across its line."""
    own = hinges[number].span.bend
    return beside[number][0] != beside[number][1] and any(
        hinges[i].span.bend == own and beside[i] == beside[number] for i in turned
    )


def _piece(piece: FlatPiece, face: "TopoDS_Face", thickness: float, motion: "gp_Trsf") -> _Body:
    """A piece moved to its place, without its faces at bends."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    seams = [edge for chain in (piece.outside, *piece.inside) for edge in chain if edge.seam is not None]
    solid = BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, thickness), True).Shape()
    kept = [each for each, corners in faces_of(solid) if not any(_is_seam(edge, corners) for edge in seams)]
    meets = frozenset(edge.seam for edge in seams if edge.seam is not None)
    return _Body(put(solid, motion), tuple(put(each, motion) for each in kept), meets)


def _is_seam(edge: Edge, corners: Sequence[tuple[float, float, float]]) -> bool:
    """Whether a face stands on the seam of a piece: each of its corners over an end of it."""
    ends = edge.segment.start, edge.segment.end
    return len(corners) == _CORNERS and all(any(math.dist(p[:2], end) <= _SAME_MM for end in ends) for p in corners)


def _sector(number: int, hinge: _Hinge, stays: int, motion: "gp_Trsf") -> _Body:
    """The bent metal of a span, beginning at the side that stays, without its faces there and at the other."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol

    edge, (start, end), t = stays * hinge.span.half, (hinge.span.start, hinge.span.end), hinge.fold.thickness
    corners = [hinge.at(edge, *at) for at in ((start, 0), (end, 0), (end, t), (start, t))]
    made = BRepPrimAPI_MakeRevol(flat_face(corners), hinge.axis(stays), hinge.fold.angle, True)
    ends = (made.FirstShape(), made.LastShape())
    kept = [each for each, _ in faces_of(made.Shape()) if not any(each.IsSame(end) for end in ends)]
    return _Body(put(made.Shape(), motion), tuple(put(each, motion) for each in kept), frozenset((number,)))


def _one(bodies: Sequence[_Body]) -> "TopoDS_Shape":
    """Bodies as one solid, faces that go on in the next as one face.

    Raises:
        GeometryError: they don't become one, or run into each other.
    """
    whole = math.fsum(volume(body.solid) for body in bodies)
    made = sewn([face for body in bodies for face in body.faces])
    if not _is_whole(made, whole, _SAME_SHARE):
        made = fused([body.solid for body in bodies])  # where walls touch without a gap, faces don't close one shell
        if not _is_whole(made, whole, _FUSED_SHARE):
            raise GeometryError(f"The part can't be folded into one solid. {_FLAT}")
    boxes = [boxed(body.solid) for body in bodies]
    for i, j in combinations(range(len(bodies)), 2):
        apart = any(boxes[i][k + 3] <= boxes[j][k] or boxes[j][k + 3] <= boxes[i][k] for k in range(3))
        if (
            not (apart or bodies[i].meets & bodies[j].meets)
            and shared(bodies[i].solid, bodies[j].solid) > _SAME_SHARE * whole
        ):
            raise GeometryError(f"The part can't be folded: bent, it runs into itself. {_FLAT}")
    return made


def _is_whole(made: "TopoDS_Shape | None", whole: float, share: float) -> "TypeGuard[TopoDS_Shape]":
    """Whether a solid is one, of a volume to within a share of it."""
    return made is not None and abs(volume(made) - whole) <= share * whole and is_valid(made)

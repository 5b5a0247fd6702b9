"""GLB: the part's solid as a mesh to look at, binary glTF 2.0 (ISO/IEC 12113), a bent part folded.

By that standard lengths are metres, y is up and z comes towards whoever looks; so the plate lies flat, its drawn face
up. Flat faces are exact, round ones made of facets that leave them by no more than CHORD_MM. Of a set each piece is a
node of its name. What the part is stands in the `extras` of the asset. Corners are single-precision numbers, as the
standard has them.
"""

import json
import struct
from array import array
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from parts.errors import GeometryError
from parts.export.about import facts, form_fact, parameter_texts
from parts.export.solid import NO_SOLID, shape, standing
from parts.record import VERSION, Record

if TYPE_CHECKING:
    from OCP.TopoDS import TopoDS_Face, TopoDS_Shape

CHORD_MM, _TURN_RAD = 0.02, 0.2
_MM = 1e-3
_FLOAT, _UNSIGNED, _ARRAY, _ELEMENTS, _TRIANGLES = 5126, 5125, 34962, 34963, 4  # numbers of glTF's own for kinds
_JSON, _BINARY = 0x4E4F534A, 0x004E4942
_STEEL: dict[str, Any] = {
    "name": "metal",
    "pbrMetallicRoughness": {"baseColorFactor": [0.55, 0.57, 0.6, 1.0], "metallicFactor": 0.4, "roughnessFactor": 0.6},
}


@dataclass(slots=True)
class _Mesh:
    """Corners and normals, three numbers each, and the corners of triangles."""

    corners: "array[float]" = field(default_factory=lambda: array("f"))
    normals: "array[float]" = field(default_factory=lambda: array("f"))
    triangles: "array[int]" = field(default_factory=lambda: array("I"))


@dataclass(frozen=True, slots=True)
class _Piece:
    """One node of the file, with the title of its mesh."""

    name: str
    title: str
    mesh: _Mesh


def write(record: Record) -> bytes:
    """Return the part as GLB bytes, metres; the first call loads the solid modeller, which takes a second.

    Raises:
        GeometryError: if the solid modeller can't make the part, or it can't be folded.
        NotInstalled: if there is no solid modeller.
    """
    made = shape(record, "glb")
    from OCP.Standard import Standard_Failure

    try:
        if record.assembly:
            return _packed(record, [_Piece(name, name, _meshed(solid)) for name, solid in standing(record, made)])
        return _packed(record, [_Piece(record.template.slug, record.template.title, _meshed(made))])
    except Standard_Failure as error:
        raise GeometryError(NO_SOLID) from error


def _meshed(solid: "TopoDS_Shape") -> _Mesh:
    from OCP.BRepMesh import BRepMesh_IncrementalMesh

    BRepMesh_IncrementalMesh(solid, CHORD_MM, False, _TURN_RAD, False).Perform()
    mesh = _Mesh()
    for face in _faces(solid):
        _take(face, mesh)
    return mesh


def _faces(solid: "TopoDS_Shape") -> "Iterator[TopoDS_Face]":
    from OCP.TopAbs import TopAbs_FACE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    as_face = TopoDS.Face if hasattr(TopoDS, "Face") else TopoDS.Face_s  # by the modeller's version
    explorer = TopExp_Explorer(solid, TopAbs_FACE)
    while explorer.More():
        yield as_face(explorer.Current())
        explorer.Next()


def _take(face: "TopoDS_Face", mesh: _Mesh) -> None:
    """Add a face's triangles, their corners running counter-clockwise as seen from outside the metal."""
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_REVERSED
    from OCP.TopLoc import TopLoc_Location

    place = TopLoc_Location()
    found = BRep_Tool.Triangulation_s(face, place)
    if found is None:
        raise GeometryError(NO_SOLID)
    found.ComputeNormals()
    motion, turned, first = place.Transformation(), face.Orientation() == TopAbs_REVERSED, len(mesh.corners) // 3
    for i in range(1, found.NbNodes() + 1):
        point, normal = found.Node(i).Transformed(motion), found.Normal(i).Transformed(motion)
        way = -1.0 if turned else 1.0
        mesh.corners.extend((_MM * point.X(), _MM * point.Z(), -_MM * point.Y()))
        mesh.normals.extend((way * normal.X(), way * normal.Z(), -way * normal.Y()))
    for i in range(1, found.NbTriangles() + 1):
        a, b, c = found.Triangle(i).Get()
        mesh.triangles.extend(first + corner - 1 for corner in ((a, c, b) if turned else (a, b, c)))


def _packed(record: Record, pieces: list[_Piece]) -> bytes:
    """The file: a head of 12 bytes, a chunk of JSON and one of numbers, each filled up to whole fours."""
    meshes = [each.mesh for each in pieces]
    blocks = [_little(numbers) for mesh in meshes for numbers in (mesh.corners, mesh.normals, mesh.triangles)]
    about = _described(record, pieces, [len(block) for block in blocks])
    said = json.dumps(about, separators=(",", ":")).encode("ascii")
    chunks = [_chunk(_JSON, said, b" "), _chunk(_BINARY, b"".join(blocks), b"\0")]
    return struct.pack("<4sII", b"glTF", 2, 12 + sum(map(len, chunks))) + b"".join(chunks)


def _little(numbers: "array[Any]") -> bytes:
    """Numbers as bytes, the least first."""
    return struct.pack(f"<{len(numbers)}{numbers.typecode}", *numbers)


def _chunk(kind: int, body: bytes, filler: bytes) -> bytes:
    body += filler * (-len(body) % 4)
    return struct.pack("<II", len(body), kind) + body


def _described(record: Record, pieces: list[_Piece], sizes: list[int]) -> dict[str, Any]:
    about = {**facts(record), **form_fact(record), "parameters": parameter_texts(record)}
    starts = [sum(sizes[:i]) for i in range(len(sizes))]
    kinds = (_ARRAY, _ARRAY, _ELEMENTS) * len(pieces)
    return {
        "asset": {"generator": f"Platewright {VERSION}", "version": "2.0", "extras": about},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(pieces)))}],
        "nodes": [{"mesh": i, "name": piece.name} for i, piece in enumerate(pieces)],
        "meshes": [_mesh_said(piece.title, 3 * i) for i, piece in enumerate(pieces)],
        "materials": [_STEEL],
        "accessors": [each for i, piece in enumerate(pieces) for each in _accessors(piece.mesh, 3 * i)],
        "bufferViews": [
            {"buffer": 0, "byteOffset": start, "byteLength": size, "target": kind}
            for start, size, kind in zip(starts, sizes, kinds, strict=True)
        ],
        "buffers": [{"byteLength": sum(sizes)}],
    }


def _mesh_said(title: str, first: int) -> dict[str, Any]:
    """A mesh whose three runs of numbers are the accessors from `first` on."""
    runs = {"attributes": {"POSITION": first, "NORMAL": first + 1}, "indices": first + 2}
    return {"name": title, "primitives": [{**runs, "material": 0, "mode": _TRIANGLES}]}


def _accessors(mesh: _Mesh, first: int) -> list[dict[str, Any]]:
    count = len(mesh.corners) // 3
    ends = [[pick(mesh.corners[axis::3]) for axis in range(3)] for pick in (min, max)]
    place = {"bufferView": first, "componentType": _FLOAT, "count": count, "type": "VEC3"}
    return [
        {**place, "min": ends[0], "max": ends[1]},
        {**place, "bufferView": first + 1},
        {"bufferView": first + 2, "componentType": _UNSIGNED, "count": len(mesh.triangles), "type": "SCALAR"},
    ]

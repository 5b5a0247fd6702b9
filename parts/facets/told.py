"""Told: the mesh of a part as JSON for the page's view, and in words for whoever doesn't see it."""

import json
import math
from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Any

from parts.facets.hinges import Hinge
from parts.facets.mesh import Mesh, meshed
from parts.record import Record
from parts.units import format_angle

VIEWS: Mapping[str, str] = {"json": "application/json", "svg": "image/svg+xml"}
"""What a part in space is sent as, by ending: its facets, or a still picture; with their MIME types."""
_DECIMALS = 4
"""Of mm: far below what a screen shows."""


def told(record: Record) -> str:
    """Return a part's mesh as JSON text: lengths in mm, angles in radians, numbers of corners from 0.

    Raises:
        GeometryError: it can't be shown bent, or is too rich.
    """
    mesh = meshed(record)
    content: Mapping[str, Any] = {
        "said": described(record, mesh),
        "thickness": mesh.thickness,
        "hinges": [_hinge(hinge) for hinge in mesh.hinges],
        "corners": [round(v, _DECIMALS) for v in chain.from_iterable(mesh.corners)],
        "moved_by": mesh.moved_by if mesh.hinges else [],
        **{name: _flat(getattr(mesh, name)) for name in ("faces", "walls", "rounds", "curls", "lines")},
        "sharp": mesh.sharp,
    }
    return json.dumps(content, separators=(",", ":"), allow_nan=False)


def _flat(rows: list[tuple[int, ...]]) -> list[int]:
    return list(chain.from_iterable(rows))


def _hinge(hinge: Hinge) -> Mapping[str, Any]:
    return {
        "number": hinge.number,
        "step": hinge.step,
        "said": _said(hinge),
        "start": hinge.start,
        "across": hinge.across,
        "along": hinge.along,
        "allowance": hinge.allowance,
        "length": hinge.length,
        "angle": hinge.angle,
        "up": hinge.up,
        "neutral": hinge.neutral,
        "carrier": -1 if hinge.carrier is None else hinge.carrier,
    }


def _said(hinge: Hinge) -> str:
    return f"bend {hinge.number}, {'up' if hinge.up else 'down'} {format_angle(math.degrees(hinge.angle), 4)}"


def described(record: Record, mesh: Mesh) -> str:
    """Return what a view of a part shows, in a sentence or two."""
    return " ".join(_sentences(record, mesh))


def _sentences(record: Record, mesh: Mesh) -> Iterator[str]:
    thick = f"{record.job.say(record.job.cut.thickness_mm)} thick"
    if not mesh.hinges:
        yield f"{record.template.title}, {record.size}, {thick}, in space."
        return
    steps = sorted({(hinge.step, _said(hinge)) for hinge in mesh.hinges})
    order = " in this order" if len(steps) > 1 else ""
    yield f"{record.template.title}, {thick}, flat {record.size}; bent{order}: {'; '.join(said for _, said in steps)}."

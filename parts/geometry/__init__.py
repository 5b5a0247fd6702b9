"""Exact lines and circular arcs in the plane; knows nothing of metal."""

from parts.geometry.centroid import centre_of_mass, centroid
from parts.geometry.closest import closest
from parts.geometry.contact import contact
from parts.geometry.corner import turn_between
from parts.geometry.draft import (
    Corner,
    Vertex,
    arched,
    around,
    bolt_circle,
    chamfer,
    circle,
    circles,
    convex_hull,
    fillet,
    grid,
    largest_fillet,
    polygon,
    rectangle,
    relief,
    round_clear_of,
    row,
    slot,
    toward,
)
from parts.geometry.intersect import circle_crossings, line_crossings, meeting_points, meetings
from parts.geometry.lazy import lazy
from parts.geometry.loop import Circle, Loop
from parts.geometry.motion import Motion, mirror, rotation, translation
from parts.geometry.nesting import holders
from parts.geometry.room import EmptyCircle, beside, has_room, lacks_room, room_in
from parts.geometry.segment import Arc, Box, Line, Point, Segment, cross, distance
from parts.geometry.self_contact import self_contact
from parts.geometry.skew import Skew

__all__ = [
    "Arc",
    "Box",
    "Circle",
    "Corner",
    "EmptyCircle",
    "Line",
    "Loop",
    "Motion",
    "Point",
    "Segment",
    "Skew",
    "Vertex",
    "arched",
    "around",
    "beside",
    "bolt_circle",
    "centre_of_mass",
    "centroid",
    "chamfer",
    "circle",
    "circle_crossings",
    "circles",
    "closest",
    "contact",
    "convex_hull",
    "cross",
    "distance",
    "fillet",
    "grid",
    "has_room",
    "holders",
    "lacks_room",
    "largest_fillet",
    "lazy",
    "line_crossings",
    "meeting_points",
    "meetings",
    "mirror",
    "polygon",
    "rectangle",
    "relief",
    "room_in",
    "rotation",
    "round_clear_of",
    "row",
    "self_contact",
    "slot",
    "toward",
    "translation",
    "turn_between",
]

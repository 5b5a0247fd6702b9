"""A box of tabbed panels, counted by hand and put together in space.

Everything here follows from the parameters and from the loops as drawn: where a panel goes is told by the lower left
corner of its box, which every panel has at a known place of its wall.

    base           as it lies, its upper face at z = 0
    front, back    turned up about x; lid as the base, on top
    sides          turned up about z, the drawing's x along the width
"""

import math

import cadquery as cq
import shapely

from tests.property.flattened import points

ROOT2 = math.sqrt(2)
SIMPLE_MM, TOUCHING_MM3 = 0.02, 0.5
"""Chord error of arcs in space, and what two panels that touch may have in common for it."""


def relief_by_hand(size, grow):
    """What a relief takes of the metal at a drawn corner and adds to the cut.

    A circle less what of it lies in the corner's quadrant: a sector, and the two triangles to the corner.
    """
    radius, k = size - grow, size / ROOT2 - grow
    h = math.sqrt(radius**2 - k**2)
    within = math.pi / 2 + 2 * math.atan2(k, h)
    gain = math.pi * radius**2 - radius**2 * within / 2 - (k + h) * k
    return gain, radius * (2 * math.pi - within) - 2 * (k + h)


def inside(v):
    """Inside length, width and height, the plate's thickness, and how many plates lie under and over."""
    t = v["measured"] or v["thickness"]
    covers = 2 if v.get("lid", "none") != "none" else 1
    if v["sizes"] == "inside":
        return v["length"], v["width"], v["height"], t, covers
    out = 2 * (t + v["lip"])
    return v["length"] - out, v["width"] - out, v["height"] - covers * t, t, covers


def relief(part):
    """Radius of the reliefs: as asked, or a quarter of the plate, half the kerf and 0.6 overcuts at least, with room.

    The room is where two reliefs of a slot's end, or those of a tab's root, would meet: sqrt 2 radii along each edge.
    """
    v, kerf = part.record.parameters, part.record.job.cut.kerf_mm
    t, e, more = inside(v)[3], v["overcut"], 2 * v["side_clearance"] - v["overcut"]
    room = min((t + more) / 2, (v["tab"] + more) / 2, t, (v["tab"] - e) / 2) / ROOT2
    return v["relief"] or min(max(t / 4, kerf / 2, 0.6 * e), 0.97 * room)


def count(v, edge):
    """Tabs on an edge: two, more where it is longer than said, but no more than leave a tab's room between."""
    return max(1, min(max(2, math.ceil(edge / v["tab_every"])), math.floor(edge / (2 * v["tab"]))))


def by_hand(part):
    """Area and cut length of the joints and the panels: boxes, tabs, slots, round corners, reliefs and eyes."""
    v, cut = part.record.parameters, part.record.job.cut
    x, y, z, t, _ = inside(v)
    e, r, s, c = v["overcut"], v["corner_radius"], relief(part), 2 * v["side_clearance"]
    gain, longer = relief_by_hand(s, e / 2)
    nx, ny, nz = count(v, x), count(v, y), count(v, z)
    lid = v.get("lid", "none")
    flat, decks = 2 if lid == "tabbed" else 1, 1 if lid == "none" else 2
    tabs = flat * (2 * nx + 2 * ny) + 4 * nz
    slots = flat * (2 * nx + 2 * ny) + 4 * nz
    long, wide, high = x + 2 * (t + v["lip"]) + e, y + 2 * (t + v["lip"]) + e, z + e
    area = decks * long * wide + 2 * long * high + 2 * (y + e) * high
    edge = decks * 2 * (long + wide) + 4 * (long + high) + 4 * (y + e + high)
    area -= (decks + 2) * (4 - math.pi) * r**2
    edge -= (decks + 2) * (8 - 2 * math.pi) * r
    area += tabs * ((v["tab"] + e) * t - 2 * gain)
    edge += tabs * (2 * t + 2 * longer)
    a, b = v["tab"] + c - e, t + c - e
    area -= slots * (a * b + 4 * gain)
    edge += slots * (2 * (a + b) + 4 * longer)
    eye = cut.pierce_diameter_mm + cut.kerf_mm
    if v["eye"] and eye > b:
        angle = 2 * math.acos(b / eye)  # at the middle of the eye, of what stands out on one side
        area -= slots * eye**2 / 4 * (angle - math.sin(angle))
        edge += slots * 2 * (eye / 2 * angle - eye * math.sin(angle / 2))
    return area, edge


def names(v):
    """The panels in the order of their loops."""
    lid = ["lid"] if v.get("lid", "none") != "none" else []
    return ["base", "front", "back", *lid, "left", "right"]


def as_cut(part):
    """Each panel by name in its own frame, as it comes off the table: a polygon, lower left of the inside at 0."""
    v = part.record.parameters
    _, _, _, t, _ = inside(v)
    out, half = t + v["lip"], v["overcut"] / 2
    start = {"base": (-out, -out), "lid": (-out, -out), "front": (-out, -t), "back": (-out, -t)}
    cut = {}
    for name, loop in zip(names(v), part.profile.outside, strict=True):
        edge = shapely.Polygon(points(loop))
        holes = [h for o in part.profile.inside if edge.contains(h := shapely.Polygon(points(o.loop)).buffer(0))]
        panel = shapely.Polygon(edge.exterior, [h.exterior for h in holes])
        panel = panel.buffer(-half, join_style="mitre") if half else panel
        x0, y0, _, _ = panel.bounds
        x, y = start.get(name, (-t, -t))
        cut[name] = shapely.affinity.translate(panel, x - x0, y - y0)
    return cut


def solids(part):
    """Each panel by name as a solid of the plate's thickness, in its place."""
    v = part.record.parameters
    _, y, z, t, _ = inside(v)
    plates = {name: _plate(panel, t) for name, panel in as_cut(part).items()}
    level, turn = cq.Vector(0, 0, 0), cq.Vector(1, 0, 0)
    up = {name: plate.rotate(level, turn, 90) for name, plate in plates.items() if name not in ("base", "lid")}
    # a plate turned up lies in y from -t to 0, its drawing's y along z
    quarter = {n: up[n].rotate(level, cq.Vector(0, 0, 1), 90) for n in ("left", "right")}  # now in x from 0 to t
    x = inside(v)[0]
    placed = {
        "base": plates["base"].translate(cq.Vector(0, 0, -t)),
        "front": up["front"],
        "back": up["back"].translate(cq.Vector(0, y + t, 0)),
        "left": quarter["left"].translate(cq.Vector(-t, 0, 0)),
        "right": quarter["right"].translate(cq.Vector(x, 0, 0)),
    }
    if "lid" in plates:
        placed["lid"] = plates["lid"].translate(cq.Vector(0, 0, z))
    return placed


def _plate(panel, thickness):
    outer, *inner = (
        cq.Wire.makePolygon([cq.Vector(x, y, 0) for x, y in ring.coords[:-1]], close=True)
        for ring in [r.simplify(SIMPLE_MM) for r in (panel.exterior, *panel.interiors)]
    )
    return cq.Solid.extrudeLinear(outer, inner, cq.Vector(0, 0, thickness))


def assert_goes_together(part):
    """Hold the panels in space against each other: none goes into another, and together they measure as asked."""
    placed = solids(part)
    every = list(placed.items())
    for i, (name, one) in enumerate(every):
        for other_name, other in every[i + 1 :]:
            common = one.intersect(other).Volume()
            assert common <= TOUCHING_MM3, (name, other_name, common)
    v = part.record.parameters
    if v["sizes"] == "outside":
        box = cq.Compound.makeCompound(list(placed.values())).BoundingBox()
        assert abs(box.xlen - v["length"]) < 1e-3
        assert abs(box.ylen - v["width"]) < 1e-3
        assert abs(box.zlen - v["height"]) < 1e-3


def tips(panel, low, high, axis):
    """The pieces of a panel below `low` or above `high` along an axis: its tabs, as boxes."""
    far = 1e5
    bands = [(-far, low), (high, far)]
    boxes = [shapely.box(-far, a, far, b) if axis else shapely.box(a, -far, b, far) for a, b in bands]
    parts_of_it = [g for box in boxes for g in getattr(panel.intersection(box), "geoms", [panel.intersection(box)])]
    return [g.bounds for g in parts_of_it if not g.is_empty]


def assert_tabs_lie_in_their_slots(part):
    """Hold every tab against a slot: in its middle, longer and wider by the clearance; no slot is left over."""
    v, cut, r = part.record.parameters, as_cut(part), relief(part)
    x, y, z, t, _ = inside(v)
    for deck in ("base", "lid") if v.get("lid") == "tabbed" else ("base",):
        low = 0 - 1e-4 if deck == "base" else -1e5
        high = 1e5 if deck == "base" else z + 1e-4
        wanted = []
        for wall, at in (("front", -t), ("back", y)):
            wanted += [(a, at, b, at + t, True) for a, _, b, _ in tips(cut[wall], low, high, 1)]
        for wall, at in (("left", -t), ("right", x)):
            wanted += [(at, a, at + t, b, False) for a, _, b, _ in tips(cut[wall], low, high, 1)]
        _matched(v, wanted, cut[deck], t, r)
    for wall, end in (("front", 0), ("back", 1)):
        wanted = []
        for side, at in (("left", -t), ("right", x)):
            band = (-1e-4, 1e5) if end == 0 else (-1e5, y + 1e-4)
            wanted += [(at, a, at + t, b, False) for _, a, _, b in tips(cut[side], *band, 0)]
        _matched(v, wanted, cut[wall], t, r)


def _matched(v, wanted, panel, t, r):
    """Every tab, given as the box it fills in the panel's plane, has a slot around it that is larger by the clearance.

    The slot is measured where its sides are straight: from the tab's sides out to the metal.
    """
    slots = [shapely.Polygon(ring) for ring in panel.interiors]
    slots = [slot for slot in slots if any(slot.contains(shapely.box(*w[:4]).centroid) for w in wanted)]
    assert len(slots) == len(wanted) > 0
    c = 2 * v["side_clearance"]
    for x0, y0, x1, y1, level in wanted:
        assert abs((x1 - x0 if level else y1 - y0) - v["tab"]) < 2e-3
        assert abs((y1 - y0 if level else x1 - x0) - t) < 2e-3
        tab = shapely.box(x0, y0, x1, y1)
        (slot,) = [slot for slot in slots if slot.contains(tab.centroid)]
        assert slot.buffer(1e-3).contains(tab)
        # across the ends half the clearance is free, and no more: the walls of the slot are that far
        ends = shapely.LineString([((x0 + x1) / 2, (y0 + y1) / 2 - 1e4), ((x0 + x1) / 2, (y0 + y1) / 2 + 1e4)])
        along = shapely.LineString([((x0 + x1) / 2 - 1e4, (y0 + y1) / 2), ((x0 + x1) / 2 + 1e4, (y0 + y1) / 2)])
        run = slot.intersection(along if level else ends).length
        assert abs(run - v["tab"] - c) < 2e-3
        near = (r * ROOT2 + c) / 2 + 0.499 * r * ROOT2  # just beyond the relief, before the eye
        where = (x0 + near if level else y0 + near) + 1e-2
        cross = [(where, y0 - 50), (where, y1 + 50)] if level else [(x0 - 50, where), (x1 + 50, where)]
        assert slot.intersection(shapely.LineString(cross)).length >= t + c - 2e-3

"""Sets put together in numbers: no plate goes into another, every tab has its clearance, holes lie opposite holes.

Two plates that cross do so along a line. How far along it each has metal within the thickness of the other follows
from its outline as drawn, and from nothing else; where both have, they are in each other's way. Tabs and slots are
measured on the middle of the other plate's thickness, and across it.
"""

import math
from itertools import pairwise

import pytest
import shapely

import parts
from parts.profile import Bend
from tests.depth import DEEP
from tests.property.flattened import points

CLOSE_MM = 2e-3
"""What arcs flattened to lines may leave; joints are straight."""
PLATES = {"air-plasma": (3, 6, 8), "fine-plasma": (4, 10), "laser": (2, 6, 12), "waterjet": (5, 10), "oxy-fuel": (6, 8)}
"""Kerfs from 0.2 to 2.5 mm: reliefs and pierce eyes are as large as they ask."""
THICK = {"height": 320, "stand": 130, "bolt": "M16", "tray_bolt": "M16", "taper_rise": 90}
SETS = [
    ("box-closed", {"tab": 40, "names": 0}, "side_clearance"),
    ("box-closed", {"tab": 40, "overcut": 0.3, "measured": 5.8, "lid": "loose"}, "side_clearance"),
    ("box-tray", {"tab": 40, "length": 620}, "side_clearance"),
    ("box-flush", {"tab": 36, "names": 0, "overcut": 0.2}, "side_clearance"),
    ("box-fire-pit", {}, "clearance"),
    ("bumper-set", THICK, "clearance"),
    ("bumper-set", {**THICK, "tow": "tow-hooks", "hook_tab": 16}, "clearance"),
    ("bumper-set", {**THICK, "tow": "none", "skid": "no", "taper_rise": 0, "wings": "no"}, "clearance"),
]
EVERY = [
    (slug, {**values, "process": process, "thickness": thick, asked: clearance}, asked)
    for slug, values, asked in SETS
    for process, thicknesses in PLATES.items()
    for thick in thicknesses
    for clearance in ((0.1, 0.4) if DEEP else (0.25,))
]
CASES = EVERY if DEEP else EVERY[::11]


def dot(a, b):
    return sum(x * y for x, y in zip(a, b, strict=True))


class Plate:
    """A piece in space: its metal as a polygon in its own plane."""

    def __init__(self, standing):
        self.name, self.thickness, self.frame = standing.name, standing.thickness, standing.frame
        edge, *_ = standing.profile.outside
        holes = [points(opening.loop) for opening in standing.profile.inside]
        self.metal = shapely.Polygon(points(edge), holes)
        self.is_bent = any(isinstance(mark, Bend) for mark in standing.profile.marks)

    def along(self, way):
        """A direction of space in this plane."""
        return dot(self.frame.x, way), dot(self.frame.y, way)

    def band(self, other):
        """Where the thickness of another plate, square to this one, lies: its normal here, from and to."""
        way = self.along(other.frame.normal)
        off = dot([a - b for a, b in zip(other.frame.origin, self.frame.origin, strict=True)], other.frame.normal)
        return way, off, off + other.thickness

    def runs(self, other, way, at=None):
        """From where to where along `way` of space there is metal in the band of another, or on one line of it."""
        (nx, ny), low, high = self.band(other)
        if at is not None:
            low = high = low + at * (high - low)
        else:
            low, high = low + CLOSE_MM, high - CLOSE_MM
        dx, dy = self.along(way)
        far = 1e5
        corners = [(nx * n + dx * f, ny * n + dy * f) for n, f in ((low, -far), (low, far), (high, far), (high, -far))]
        cut = shapely.LineString(corners[:2]) if low == high else shapely.Polygon(corners)
        start = dot(self.frame.origin, way)
        found = self.metal.intersection(cut)
        spans = []
        for part in getattr(found, "geoms", [found]):
            if not part.is_empty and (low == high or part.area > 0):
                seen = [start + x * dx + y * dy for x, y in shapely.get_coordinates(part)]
                spans.append((min(seen), max(seen)))
        return sorted(spans)

    def has_hole(self, other, way, at):
        """Whether the middle of another plate's thickness lies in a hole there, and not between two tabs."""
        (nx, ny), low, high = self.band(other)
        (dx, dy), off, along = self.along(way), (low + high) / 2, at - dot(self.frame.origin, way)
        middle = shapely.Point(nx * off + dx * along, ny * off + dy * along)
        return any(shapely.Polygon(ring).contains(middle) for ring in self.metal.interiors)


def cross(a, b):
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def crossings(plates):
    """Pairs of flat plates square to each other that both have metal where they cross, and the line along which."""
    for i, one in enumerate(plates):
        for other in plates[i + 1 :]:
            way = cross(one.frame.normal, other.frame.normal)
            if not (one.is_bent or other.is_bent) and abs(dot(way, way) - 1) < 1e-9:
                yield one, other, way


def common(ours, theirs):
    return math.fsum(max(0.0, min(b, d) - max(a, c)) for a, b in ours for c, d in theirs)


def gaps(spans):
    return [(b, c) for (_, b), (c, _) in pairwise(spans)]


@pytest.mark.parametrize(("slug", "values", "asked"), CASES, ids=lambda value: value if isinstance(value, str) else "")
def test_every_set_goes_together(slug, values, asked):
    part = parts.draw(slug, **values)
    plates = [Plate(standing) for standing in part.record.assembly]
    clearance, fitted = part.record.parameters[asked], 0
    for one, other, way in crossings(plates):
        in_way = common(one.runs(other, way), other.runs(one, way))
        assert in_way <= CLOSE_MM, (one.name, other.name, in_way)
        fitted += sum(joint(a, b, way, clearance) for a, b in ((one, other), (other, one)))
    assert fitted == joints(slug, part), "every tab has a slot of its own"


def joint(slotted, tabbed, way, clearance):
    """Hold each tab of one plate to the clearance in its slot in the other, and return how many there are."""
    tabs, count = tabbed.runs(slotted, way, at=0.5), 0
    for low, high in gaps(slotted.runs(tabbed, way, at=0.5)):
        within = [(a, b) for a, b in tabs if low < (a + b) / 2 < high and a > low and b < high]
        is_slot = "wing" in tabbed.name or slotted.has_hole(tabbed, way, (low + high) / 2)
        if len(within) != 1 or "tow tab" in tabbed.name or not is_slot:
            continue
        ((a, b),) = within
        count += 1
        assert (a - low, high - b) == pytest.approx((clearance, clearance), abs=CLOSE_MM)
        beside = slotted.runs(tabbed, way)  # in the whole thickness: the slot is wide enough too
        assert common([(a, b)], beside) <= CLOSE_MM
        assert across(slotted, tabbed, way, (a, b)) == pytest.approx(clearance, abs=CLOSE_MM)
    return count


def across(slotted, tabbed, way, tab):
    """How far the walls of a slot are from the faces of the tab in it, a quarter of the tab from its middle.

    An eye to pierce in is in the middle, the reliefs are at the ends; the nearest of some places counts.
    """
    (nx, ny), low, high = slotted.band(tabbed)
    (dx, dy), start = slotted.along(way), dot(slotted.frame.origin, way)
    found = []
    for share in (0.22, 0.27, 0.32, 0.68, 0.73, 0.78):
        at = tab[0] + share * (tab[1] - tab[0]) - start
        line = [(nx * n + dx * at, ny * n + dy * at) for n in (low - 50, high + 50)]
        cut = shapely.LineString(line).difference(slotted.metal)
        runs = [[x * nx + y * ny for x, y in shapely.get_coordinates(each)] for each in getattr(cut, "geoms", [cut])]
        (run,) = [run for run in runs if min(run) < (low + high) / 2 < max(run)]
        found += [low - min(run), max(run) - high]
    return min(found)


def joints(slug, part):
    """How many tabs a set has in closed slots, from what it is made of."""
    v = part.record.parameters
    if slug == "box-fire-pit":
        return 0
    if slug == "box-flush":
        return 0  # its notches are open
    if slug == "bumper-set":
        return 4 * 2 + 2 * (v["tow"] == "fairlead") + 4 * v["wings"]
    return sum("slot in the" in opening.name for opening in part.profile.inside)


@pytest.mark.parametrize("thickness", [3, 5, 8])
def test_half_slots_of_fire_pit_panels_seat_level_with_the_clearance(thickness):
    part = parts.draw("box-fire-pit", thickness=thickness, clearance=0.4)
    sides, fronts = ([Plate(s) for s in part.record.assembly if ("side" in s.name) is of] for of in (True, False))
    for side in sides:
        for front in fronts:
            lower, upper = front.runs(side, (0, 0, 1)), side.runs(front, (0, 0, 1))
            assert max(b for _, b in lower) <= min(a for a, _ in upper) + CLOSE_MM
            assert across(front, side, (0, 0, 1), (290, 350)) == pytest.approx(0.4, abs=CLOSE_MM)
            assert across(side, front, (0, 0, 1), (0, 60)) == pytest.approx(0.4, abs=CLOSE_MM)


@pytest.mark.parametrize("thickness", [3, 6, 8])
@pytest.mark.parametrize("bolt", ["M10", "M12"])
def test_holes_in_the_lip_of_the_skid_lie_on_those_of_the_face(thickness, bolt):
    """Unfolded by the bend allowance, flat = body + lip - (2 (R + T) - A (R + K T)): Machinery's Handbook."""
    part = parts.draw("bumper-set", thickness=thickness, bolt=bolt, height=280)
    standing = {each.name: each for each in part.record.assembly}
    face, skid = standing["face"], standing["skid plate"]
    (bend,) = [mark for mark in skid.profile.marks if isinstance(mark, Bend)]
    flat, body = skid.profile.box[2], part.record.parameters["skid_body"]
    lip = flat - body + 2 * (bend.radius + thickness) - bend.angle * (bend.radius + bend.k * thickness)
    lips = [o.loop.circle for o in skid.profile.inside if o.name == "hole in the lip"]
    there = sorted((skid.frame.point(0, c.centre[1])[0], lip - (flat - c.centre[0]), c.diameter) for c in lips)
    holes = [o.loop.circle for o in face.profile.inside if o.name == "skid hole"]
    here = sorted((face.frame.point(*c.centre)[0], face.frame.point(*c.centre)[2], c.diameter) for c in holes)
    assert len(here) == 2
    for ours, theirs in zip(here, there, strict=True):
        assert ours == pytest.approx(theirs, abs=1e-9)


@pytest.mark.parametrize("thickness", [6, 10])
def test_a_bumper_set_is_flush(thickness):
    """Tabs end with the show side of the face, wings with its ends; gussets stand on the tray."""
    part = parts.draw("bumper-set", thickness=thickness, **THICK)
    plates = {standing.name: standing for standing in part.record.assembly}
    for name, standing in plates.items():
        if any(kind in name for kind in ("wing", "mount", "gusset", "tray")):
            x0, _, _, _ = standing.profile.box
            assert standing.frame.point(x0, 0)[1] == pytest.approx(-thickness, abs=1e-9)
    sides = [plates[f"{side} wing"].frame.origin[0] for side in ("left", "right")]
    assert (sides[0], sides[1] + thickness) == pytest.approx((-900, 900), abs=1e-9)
    tray, gusset = plates["winch tray"], plates["left gusset"]
    assert tray.frame.point(0, 0, thickness)[2] == pytest.approx(gusset.frame.point(0, 0)[2], abs=1e-9)
    across_it = sorted(tray.frame.point(0, y)[0] for y in (tray.profile.box[1], tray.profile.box[3]))
    assert across_it[0] <= gusset.frame.origin[0] <= across_it[1] - thickness


def test_tow_tabs_have_their_clearance_and_bear_on_the_back_of_the_face():
    part = parts.draw("bumper-set", **THICK, tow="tow-hooks", hook_tab=16)
    plates = {standing.name: Plate(standing) for standing in part.record.assembly}
    face = plates["face"]
    for side in ("left", "right"):
        tab = plates[f"{side} tow tab"]
        ((a, b),) = tab.runs(face, (0, 0, 1), at=0.5)
        (low, high) = next(gap for gap in gaps(face.runs(tab, (0, 0, 1), at=0.5)) if gap[0] < a and b < gap[1])
        assert (a - low, high - b) == pytest.approx((0.8, 0.8), abs=CLOSE_MM)
        assert across(face, tab, (0, 0, 1), (a, b)) == pytest.approx(0.8, abs=CLOSE_MM)
    alone = part.piece("left tow tab")
    assert alone.record.parameters["thickness"] == 16
    assert "bumper-tow-tab" in alone.record.address

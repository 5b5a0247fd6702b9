"""A leaf worked out another way than the code's, to hold its area and its edge against.

The side of the blade is walked piece by piece from headings alone, its radii solved from where it must end;
places along the axis and the ends of veins are found by halving an interval on the distance to that side;
areas are a polygon of the joints with a circular segment over each arc. Points are complex numbers.
"""

import cmath
import math

import numpy as np

HALVINGS = 80
MARCH = 400


class Arc:
    """An arc by its start, heading and radius there, and its turn to the left (right where negative)."""

    def __init__(self, start, heading, radius, turn):
        self.start, self.heading, self.radius, self.turn = start, heading, radius, turn
        self.centre = start + math.copysign(radius, turn) * 1j * cmath.rect(1, heading)
        self.end = self.centre + (start - self.centre) * cmath.rect(1, turn)

    @property
    def length(self):
        return self.radius * abs(self.turn)

    @property
    def cap(self):
        """Area between the chord and the arc, positive on the right of the chord."""
        return self.radius**2 * (self.turn - math.sin(self.turn)) / 2

    def distance(self, p):
        turned = cmath.phase((p - self.centre) / (self.start - self.centre)) * math.copysign(1, self.turn)
        if 0 <= turned % (2 * math.pi) <= abs(self.turn):
            return abs(abs(p - self.centre) - self.radius)
        return min(abs(p - self.start), abs(p - self.end))


def polygon(points):
    return sum((a.conjugate() * b).imag for a, b in zip(points, [*points[1:], points[0]], strict=True)) / 2


def radii(goal, first, second, start):
    """The radii with which arcs of two (heading, turn) from `start` end at `goal`."""
    spans = []
    for heading, turn in (first, second):
        unit = Arc(0, heading, 1, turn)
        spans.append(unit.end)
    matrix = np.array([[s.real for s in spans], [s.imag for s in spans]])
    return np.linalg.solve(matrix, [(goal - start).real, (goal - start).imag])


def chain(start, turns, lengths):
    """Arcs that follow each other smoothly from a start, for (heading, turn) of each."""
    arcs, heading = [], turns[0][0]
    for (_, turn), radius in zip(turns, lengths, strict=True):
        arcs.append(Arc(start, heading, radius, turn))
        start, heading = arcs[-1].end, heading + turn
    return arcs


def upper(v):
    half, t, b = v["blade_width"] / 2, v["tip_radius"], v["belly"]
    rise = v["blade_length"] - t - b
    start = complex(half, b)
    if v["tip"] == "plain":
        radius, turn = plain(half, rise, t)
        return [Arc(start, math.pi / 2, radius, turn)]
    lean = math.atan((half - t) / rise)
    steep, drawn = 1.5 * lean, 0.78 * lean
    goal = complex(0, b + rise) + t * cmath.rect(1, drawn)
    turns = [(math.pi / 2, steep), (math.pi / 2 + steep, drawn - steep)]
    return chain(start, turns, radii(goal, *turns, start))


def plain(half, rise, t):
    """Radius and turn of one arc that starts at (half, 0) heading up and goes over into a round about (0, rise).

    Seen from (half - t, 0), the round's centre is the end of a chord of the arc of radius R - t that
    starts there square to the x axis: its lean is half the turn.
    """
    lean = math.atan((half - t) / rise)
    return t + math.hypot(half - t, rise) / (2 * math.sin(lean)), 2 * lean


def lower(v):
    half, b = v["blade_width"] / 2, v["belly"]
    if v["base"] == "none":
        radius, turn = plain(half, b - v["tip_radius"], v["tip_radius"])
        return [Arc(complex(half, b) + radius * (cmath.rect(1, -turn) - 1), math.pi / 2 - turn, radius, turn)]
    start = complex(v["stem_width"] / 2, 0)
    turn = 2 * math.atan((half - start.real) / b)
    both = abs(complex(half, b) - start) / (2 * math.sin(turn / 2))
    turns = [(math.pi / 2, -turn), (math.pi / 2 - turn, turn)]
    return chain(start, turns, [0.32 * both, 0.68 * both])


def halved(inside, outside, holds):
    for _ in range(HALVINGS):
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if holds(middle) else (inside, middle)
    return inside


class Leaf:
    """A leaf of parameters `v`: outline, midrib, veins."""

    def __init__(self, v):
        self.v, self.lower, self.upper = v, lower(v), upper(v)
        self.side = self.lower + self.upper

    def clear(self, p):
        return min(arc.distance(p) for arc in self.side)

    def on_axis(self, clearance, up):
        """Height of the end of the stretch of axis around the belly that keeps a clearance."""
        v = self.v
        tip = complex(0, v["blade_length"])
        ends = [tip] if v["base"] != "none" else [tip, 0]
        end = v["blade_length"] if up else 0.0
        return halved(
            v["belly"], end, lambda y: min(self.clear(1j * y), *(abs(1j * y - e) for e in ends), 1e9) >= clearance
        )

    @property
    def hole(self):
        clearance = self.v["hole"] / 2 + self.v["eye"]
        return {"none": None, "base": self.on_axis(clearance, False), "tip": self.on_axis(clearance, True)}[
            self.v["hang"]
        ]

    @property
    def midrib(self):
        """Heights and radii of the midrib's ends."""
        v = self.v
        r, s = (v["midrib_width"] / 2, v["vein_end"] / 2) if v["midrib_width"] else (-v["bridge"] / 2,) * 2
        low, high = (self.on_axis(v["bridge"] + max(x, 0), up) for x, up in ((r, False), (s, True)))
        if v["hang"] == "base":
            low = max(low, self.hole + v["hole"] / 2 + v["bridge"] + max(r, 0))
        if v["hang"] == "tip":
            high = min(high, self.hole - v["hole"] / 2 - v["bridge"] - max(s, 0))
        return low, high, r, s

    def veins(self):
        """Start, turn and radius of each right-hand vein's arc."""
        v, (low, high, r, s) = self.v, self.midrib
        n = v["vein_pairs"]
        if not n:
            return
        tilt = math.asin((r - s) / (high - low))
        flank = (high - low) * math.cos(tilt)
        clear = max(r, 0) + 2 * v["bridge"] + v["vein_width"]
        first = max(0.05, (self.on_axis(clear, False) - low) / flank)
        last = min(0.7, (self.on_axis(clear + 2 * v["vein_width"], True) - low) / flank)
        away = r + v["bridge"] + v["vein_width"] / 2
        for share in np.linspace(first, last, n) if n > 1 else [(first + last) / 2]:
            start = 1j * low + cmath.rect(1, tilt) * complex(away, share * flank)
            yield start, self.run_out(start), 1.5 * v["blade_width"]

    def run_out(self, start):
        """How far a vein's arc turns until it is down to a bridge and its end from the side."""
        v, radius = self.v, 1.5 * self.v["blade_width"]
        heading = math.pi / 2 - math.radians(v["vein_angle"])

        def fits(turn):
            return self.clear(Arc(start, heading, radius, turn).end) >= v["bridge"] + v["vein_end"] / 2

        turn, step = 1e-12, math.radians(60) / MARCH
        while fits(turn + step):
            turn += step
        return halved(turn, turn + step, fits)

    def outside(self):
        """Area and edge of blade and stem."""
        v, side = self.v, self.side
        joints = [arc.start for arc in side] + [side[-1].end]
        area = 2 * sum(arc.cap for arc in side) + polygon([*joints, *(complex(-z.real, z.imag) for z in joints[::-1])])
        edge = 2 * sum(arc.length for arc in side)
        for top, centre in ((joints[-1], v["blade_length"] - v["tip_radius"]), (joints[0], v["tip_radius"])):
            if v["base"] == "none" or top is joints[-1]:
                turn = 2 * math.acos(min(abs(top.imag - centre) / v["tip_radius"], 1.0))
                area += v["tip_radius"] ** 2 * (turn - math.sin(turn)) / 2
                edge += v["tip_radius"] * turn
        return area + self.stem[0], edge + self.stem[1]

    @property
    def stem(self):
        """Area and edge of what hangs below the base."""
        v, s, low = self.v, self.v["stem_width"], self.v["stem_length"]
        if v["base"] == "none":
            return 0.0, 0.0
        if v["base"] == "stake":
            point, blunt = v["point_length"], v["point_width"]
            area = s * (low - point) + point * (s + blunt) / 2
            return area, 2 * (low - point) + 2 * math.hypot(point, (s - blunt) / 2) + blunt
        bend = math.radians(v["stem_bend"])
        # A strip of one width along a line has the area of its middle times its width; so has one along an arc.
        middle = (low - s / 2) * (bend / math.sin(bend) if bend else 1.0)
        return middle * s + math.pi * s**2 / 8, 2 * middle + math.pi * s / 2

    def cut_out(self):
        """Area and edge of all openings."""
        v = self.v
        pieces = [(math.pi * v["hole"] ** 2 / 4, math.pi * v["hole"])] if v["hang"] != "none" else []
        if v["midrib_width"]:
            low, high, r, s = self.midrib
            pieces.append(straight_slot(high - low, r, s))
        for _, turn, radius in self.veins():
            chord = 2 * radius * math.sin(turn / 2)
            pieces += [curved_slot(chord, v["vein_width"] / 2, v["vein_end"] / 2, radius)] * 2
        return sum(a for a, _ in pieces), sum(p for _, p in pieces)


def straight_slot(apart, r, s):
    """Trapezia beside the axis, and a sector of each end's round."""
    tilt = math.asin((r - s) / apart)
    flank = apart * math.cos(tilt)
    area = flank * (r + s) + r**2 * (math.pi / 2 + tilt) + s**2 * (math.pi / 2 - tilt)
    return area, 2 * flank + 2 * r * (math.pi / 2 + tilt) + 2 * s * (math.pi / 2 - tilt)


def curved_slot(chord, r, s, radius):
    """The ends' centres at 0 and `chord`; the flanks' centres above by the law of cosines; polygon and caps."""
    lean = (r - s) / 2
    joints, caps, edge = [], [], []
    for near, far, sign in ((radius - lean, radius + lean, 1), (radius + lean, radius - lean, -1)):
        at_start = math.acos((chord**2 + near**2 - far**2) / (2 * chord * near))
        centre = cmath.rect(near, at_start)
        ends = [p + sign * x * (p - centre) / abs(p - centre) for p, x in ((0, r), (chord, s))]
        flank = abs(ends[0] - centre)
        turn = abs(cmath.phase((ends[1] - centre) / (ends[0] - centre)))
        caps.append(sign * flank**2 * (turn - math.sin(turn)) / 2)
        edge.append(flank * turn)
        joints += ends if sign > 0 else ends[::-1]
    for p, x, a, b in ((chord, s, joints[1], joints[2]), (0, r, joints[3], joints[0])):
        turn = cmath.phase((b - p) / (a - p)) % (2 * math.pi)
        caps.append(x**2 * (turn - math.sin(turn)) / 2)
        edge.append(x * turn)
    return polygon(joints) + sum(caps), sum(edge)

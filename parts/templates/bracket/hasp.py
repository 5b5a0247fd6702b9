r"""Hasp: a strap with a slot that goes over a staple and holes to bolt it down; the staple's plate has the other half.

     _________________________________
    |                                 \      half: hasp: the strap with its slot
    |  o        o     ( ========== )   |           staple: a plate with two slots for the legs of the staple
    |_________________________________/
     first  pitch         slot_in

Cut for a padlock: the slot clears the staple all round by `clearance`. Hinge the strap by knuckles welded on its square
end, or bolt it where a door slides.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import Loop, Point, fillet, polygon, row, slot
from parts.profile import Dimension, Profile, openings
from parts.spec import STOCK, Preset, Template, bolt, choice, count, length, thickness
from parts.templates.shared.bolt_holes import BoltHoles

_STAPLE = "Staple"


class BracketHasp(BoltHoles):
    """The middle of the square end is at the origin; the strap runs along x."""

    thickness: float = thickness("Thickness", default=5, minimum=0.3, maximum=150, group=STOCK)
    half: str = choice("Which half", default="hasp", choices=("hasp", "staple"))
    long: float = length("Length", default=140, minimum=20, maximum=800)
    width: float = length("Width", default=45, minimum=12, maximum=300)
    corner_radius: float = length("Corner radius", default=8, minimum=0, maximum=150, moves="free")
    staple_width: float = length(
        "Staple, outside", default=32, minimum=6, maximum=250, group=_STAPLE, help="Over both of its legs."
    )
    staple_bar: float = length(
        "Bar of the staple", default=10, minimum=2, maximum=40, group=_STAPLE, help="Its diameter or thickness."
    )
    clearance: float = length(
        "Clearance round the staple", default=1.5, minimum=0.1, maximum=10, group=_STAPLE, help="On each side."
    )
    slot_in: float = length(
        "Staple's middle from the end", default=35, minimum=5, maximum=700, group=_STAPLE, moves="care"
    )
    bolt: str = bolt("Bolt", default="M8", diameter="hole", when=("holes",))
    holes: int = count("Bolt holes", default=2, minimum=0, maximum=12, group="Holes")
    first: float = length(
        "First hole from the square end", default=20, minimum=2, maximum=700, group="Holes", when=("holes",)
    )
    pitch: float = length("Hole spacing", default=40, minimum=2, maximum=700, group="Holes", when=("holes", "2"))

    @property
    def middle(self) -> float:
        """How far the staple's middle is from the square end, mm."""
        return self.long - self.slot_in

    @property
    def slot_size(self) -> tuple[float, float]:
        """Length and width of a slot, mm: one round the whole staple, or one for each leg."""
        wide = self.staple_bar + 2 * self.clearance
        return (self.staple_width + 2 * self.clearance if self.half == "hasp" else wide), wide

    @property
    def slots(self) -> tuple[Loop, ...]:
        """One slot along the strap for the staple, or a round hole for each of its legs."""
        long, wide = self.slot_size
        if self.half == "hasp":
            return (slot((self.middle, 0.0), long, wide),)
        apart = (self.staple_width - self.staple_bar) / 2
        return tuple(slot((self.middle + way * apart, 0.0), long, wide) for way in (-1, 1))

    @property
    def reach(self) -> float:
        """How far the slots reach from the staple's middle, mm."""
        return self.staple_width / 2 + self.clearance

    @property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the bolt holes, from the square end on."""
        end = self.first + (self.holes - 1) * self.pitch
        return row((self.first, 0.0), (end, 0.0), self.holes) if self.holes else ()

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where slots or holes leave the strap or meet."""
        d, wide = self.hole_size, self.slot_size[1]
        clash = [*self.over("staple_width", 2 * self.staple_bar + 2 * self.clearance, "for two legs of this bar")]
        clash += self.over("width", wide, "beside the staple")
        clash += self.at_most("corner_radius", min(self.width, self.long) / 2, "at the corners")
        clash += self.over("slot_in", self.reach, "inside the end")
        clash += self.over("long", self.slot_in + self.reach, "behind the staple")
        yield from clash
        if clash or not self.holes:
            return
        if self.width <= d:
            yield from self.over("width", d, "for the holes")
        yield from self.over("first", d / 2, "inside the square end")
        room = self.middle - self.reach - d / 2
        if self.holes > 1:
            yield from self.over("pitch", d, "to keep metal between the holes")
        if self.holes > 1 and self.first < room:
            yield from self.under(
                "pitch", (room - self.first) / (self.holes - 1), "for the last hole before the staple"
            )
        else:
            yield from self.under("first", room, "for the hole to clear the staple")


def outline(p: BracketHasp) -> Profile:
    """Draw the strap, square at one end, with its slots and holes."""
    half, r = p.width / 2, p.corner_radius
    edge = polygon([(0.0, -half), fillet(p.long, -half, r), fillet(p.long, half, r), (0.0, half)])
    inside = (*openings(p.slots, "staple slot", "staple_width"), *p.holes_at(p.centres, "bolt hole", "first"))
    return Profile((edge,), inside, dimensions=tuple(dimensions(p)))


def dimensions(p: BracketHasp) -> Iterator[Dimension]:
    """Yield where each length can be measured: the staple in its slot, clear of it all round."""
    half, r, x = p.width / 2, p.corner_radius, p.middle
    legs, bar = p.staple_width / 2, p.staple_bar / 2
    yield Dimension("long", (0, -half), (p.long, -half), "below")
    yield Dimension("width", (0, -half), (0, half), "left")
    if r:
        yield Dimension("corner_radius", (p.long - r, half - r), (p.long, half - r), "radius")
    yield Dimension("staple_width", (x - legs, 0), (x + legs, 0), "above")
    yield Dimension("staple_bar", (x + legs - bar, -bar), (x + legs - bar, bar), "right")
    yield Dimension("clearance", (x + legs, 0), (x + legs + p.clearance, 0), "above")
    yield Dimension("slot_in", (x, -half), (p.long, -half), "below")
    if p.holes:
        yield Dimension("first", (0, 0), p.centres[0], "above")
        yield from p.hole_measured(p.centres[0])
    if p.holes > 1:
        yield Dimension("pitch", p.centres[0], p.centres[1], "above")


TEMPLATE = Template(
    "bracket-hasp",
    "Hasp",
    BracketHasp,
    outline,
    summary="Locks a door or lid with a padlock: a strap with a slot that goes over a staple, or the staple's plate.",
    cautions=("A hasp is as strong as its bolts and staple: put the bolts where nobody reaches them when it is shut.",),
    sizes=("long", "width"),
    words=("hasp", "staple", "padlock", "latch", "lock", "door", "gate", "lid", "shed"),
    presets=(
        Preset("Shed door, three bolts", "long=150 holes=3 pitch=32"),
        Preset("Its staple plate", "half=staple long=110 width=50 holes=1 first=18"),
        Preset("Tool chest lid", "thickness=3 long=90 width=30 corner_radius=5 staple_width=24 staple_bar=6 slot_in=24 "
               "bolt=M6 first=14 pitch=25"),
        Preset("Yard gate, heavy", "thickness=8 long=220 width=65 staple_width=48 staple_bar=16 slot_in=50 bolt=M12 "
               "first=28 pitch=60 corner_radius=12"),
    ),
)  # fmt: skip

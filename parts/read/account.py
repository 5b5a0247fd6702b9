"""Account: what a drawing holds, layer by layer and outline by outline, and what is done with it.

layer      with its colour, how much is drawn on it, its role by name and geometry, and the role that was chosen
outline    a closed one: cut, or left out; known by its box, in the drawing's own units and coordinates
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from parts.errors import Problem, Refused, Unreadable
from parts.geometry import Box, Loop, Motion, Segment
from parts.read.colour_names import colour_name
from parts.read.counting import worded
from parts.read.evidence import take_back
from parts.read.layers import Role, named_in
from parts.read.pieces import Stroke
from parts.read.raw import Raw
from parts.read.roles import Layer, Roles, open_chains

MOST_LINES = 1000
SAME_BOX_MM = 0.2
"""An outline is the one meant if its box is within this of the one that was said: healing moves a corner by less."""

Boxes = Mapping[Box, bool]
"""Outlines by their boxes, each to be cut or left out."""


@dataclass(frozen=True, slots=True)
class LayerRow:
    """A layer: its colour as `#rrggbb` or empty, how much is drawn on it, and what it is for.

    `guess` is its role by its name, `why` says why some of it is cut all the same; `cut`, `aside` and `marked` count
    closed outlines.
    """

    name: str
    colour: str
    count: int
    guess: Role
    chosen: Role | None
    why: tuple[str, ...]
    cut: int
    aside: int
    marked: int = 0

    @property
    def colour_name(self) -> str:
        """What the layer's colour is called; nothing where it has none."""
        return colour_name(self.colour)

    @property
    def is_asked(self) -> bool:
        """Whether outlines of it aren't cut by a guess alone, so that it has to be said what it is."""
        return self.chosen is None and self.guess != "cut" and bool(self.aside or self.marked)

    @property
    def role(self) -> Role:
        """What the layer is taken for: as chosen, else as the geometry says, else by its name."""
        return self.chosen or ("cut" if self.why and not self.aside else self.guess)


@dataclass(frozen=True, slots=True)
class OutlineRow:
    """A closed outline: `box` in the drawing's own units and coordinates, `seated` beside the part as read, mm.

    `segments`, mm, are those of an outline that is left out; the others are in the profile.
    """

    layer: str
    box: Box
    seated: Box
    cut: bool
    chosen: bool
    segments: tuple[Segment, ...] = ()


@dataclass(frozen=True, slots=True)
class Account:
    """Layers in the order drawn; outlines that are cut and those left out, the largest first; open lines left aside.

    Of `lines` there are no more than a picture shows: MOST_LINES.
    """

    layers: tuple[LayerRow, ...] = ()
    outlines: tuple[OutlineRow, ...] = ()
    lines: tuple[tuple[Segment, ...], ...] = ()

    @property
    def is_choice(self) -> bool:
        """Whether the layers say anything: there is more than one, or it isn't just cut."""
        return len(self.layers) > 1 or any(row.guess != "cut" or row.chosen for row in self.layers)

    @property
    def aside(self) -> tuple[tuple[Segment, ...], ...]:
        """All that is left out, to be shown beside the part as read, mm."""
        return (*(row.segments for row in self.left_out), *self.lines)

    @property
    def left_out(self) -> tuple[OutlineRow, ...]:
        """The outlines that aren't cut."""
        return tuple(outline for outline in self.outlines if not outline.cut)


NO_ACCOUNT = Account()


class NothingToCut(Unreadable):
    """A drawing of which nothing is cut; `account` tells what could be."""

    def __init__(self, sentence: str, account: Account) -> None:
        super().__init__(sentence)
        self.account = account

    def __reduce__(self) -> tuple[type["NothingToCut"], tuple[str, Account]]:
        return type(self), (str(self), self.account)


@dataclass(frozen=True, slots=True)
class Choice:
    """Outlines that were chosen to be cut or left out; `to_drawing` takes a box in mm to the drawing's own units."""

    boxes: Boxes
    unit_mm: float
    moved_by: tuple[float, float]

    def box(self, loop: Loop) -> Box:
        """Return the box of a loop in the drawing's own units and coordinates."""
        (x, y), u = self.moved_by, self.unit_mm
        x0, y0, x1, y1 = loop.box
        return (x0 - x) / u, (y0 - y) / u, (x1 - x) / u, (y1 - y) / u

    def meant(self, loop: Loop) -> Box | None:
        """Return the box by which a loop was chosen, None where it wasn't."""
        if not self.boxes:
            return None
        box = self.box(loop)
        near = [(max(abs(a - b) for a, b in zip(box, said, strict=True)), said) for said in self.boxes]
        off, nearest = min(near)
        return nearest if off * self.unit_mm <= SAME_BOX_MM else None


def choose(roles: Roles, choice: Choice) -> set[Box]:
    """Take back the outlines left aside that were chosen to be cut; return the boxes that any of them has."""
    found: set[Box] = set()
    if choice.boxes:
        for layer in roles.layers.values():
            meant = [(loop, choice.meant(loop)) for loop in layer.loops]
            found |= {box for _, box in meant if box}
            take_back(layer, [loop for loop, box in meant if box and choice.boxes[box]])
    return found


def leave_out(
    loops: Sequence[tuple[Loop, str]], choice: Choice, found: set[Box]
) -> tuple[list[tuple[Loop, str]], list[tuple[Loop, str]]]:
    """Return the loops that are cut and those chosen to be left out; `found` are boxes known to be of others.

    Raises:
        Refused: if no outline has a box that was said; the problem's parameter is `outline`.
    """
    if not choice.boxes:
        return list(loops), []
    meant = [choice.meant(loop) for loop, _ in loops]
    unknown = [box for box in choice.boxes if box not in found and box not in meant]
    if unknown:
        raise Refused(tuple(Problem("outline", said(box), "is the box of no closed outline here.") for box in unknown))
    out = [box is not None and not choice.boxes[box] for box in meant]
    return [e for e, o in zip(loops, out, strict=True) if not o], [e for e, o in zip(loops, out, strict=True) if o]


def said(box: Box) -> str:
    """Return a box as text: left, low, right and high, to four decimals."""
    return ",".join(f"{v + 0.0:.4f}".rstrip("0").rstrip(".") for v in box)


@dataclass(frozen=True, slots=True)
class Loops:
    """The loops that are cut and those chosen to be left out, each with its layer."""

    cut: Sequence[tuple[Loop, str]]
    left_out: Sequence[tuple[Loop, str]]


def account(raw: Raw, roles: Roles, loops: Loops, choice: Choice, seat: Motion) -> Account:
    """Return what the drawing holds; `seat` moves a loop to where the part was moved."""
    aside = [(loop, layer.name) for layer in roles.layers.values() if layer.role == "aside" for loop in layer.loops]
    every = [(*each, True) for each in loops.cut] + [(*each, False) for each in (*loops.left_out, *aside)]
    rows = tuple(_outline(*each, choice, seat) for each in sorted(every, key=lambda each: -each[0].area))
    counted = Counter((row.layer, row.cut) for row in rows)
    colours = _colours(raw)
    lines = [chain for layer in roles.layers.values() if layer.role == "aside" for chain in open_chains(layer)]
    shown = tuple(tuple(map(seat.segment, chain)) for chain in lines[:MOST_LINES])
    return Account(tuple(_row(layer, colours, counted) for layer in roles.layers.values()), rows, shown)


def _outline(loop: Loop, layer: str, cut: bool, choice: Choice, seat: Motion) -> OutlineRow:
    x0, y0, x1, y1 = loop.box
    (left, low), (right, high) = seat.point((x0, y0)), seat.point((x1, y1))
    segments = () if cut else tuple(map(seat.segment, loop.segments))
    return OutlineRow(layer, choice.box(loop), (left, low, right, high), cut, choice.meant(loop) is not None, segments)


def _row(layer: Layer, colours: Mapping[str, str], counted: Counter[tuple[str, bool]]) -> LayerRow:
    return LayerRow(
        layer.name,
        colours.get(layer.name, ""),
        len(layer.chains) + layer.spots + layer.others,
        layer.guess,
        layer.chosen,
        tuple(worded(len(layer.taken) or len(layer.chains), why) for why in layer.evidence),
        counted[layer.name, True],
        counted[layer.name, False],
        len(layer.loops) if layer.is_guess and layer.role != "aside" else 0,
    )


def _colours(raw: Raw) -> Mapping[str, str]:
    """The colour of each layer: as its file says, else what most on it is drawn in."""
    drawn: dict[str, Counter[str]] = {}
    for stroke in (*raw.strokes, *(item for item in raw.off if isinstance(item, Stroke))):
        drawn.setdefault(stroke.layer, Counter())[stroke.colour] += 1
    found = {name: count.most_common(1)[0][0] for name, count in drawn.items()}
    return {name: colour or raw.colours.get(named_in(name).upper(), "") for name, colour in found.items()}

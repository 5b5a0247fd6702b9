r"""Closed box: a base, four walls and a lid, flat panels that stand in each other by tabs and slots.

     _________________________     lid: tabbed: slots for the walls' upper tabs, six panels
    | lip  ==      ==         |         loose: a plain plate that lies on top, six panels
    |   _____________________ |         none: five panels
    | ||       length        ||    lip: from the walls' outside to the edge of base and lid
    | ||                     ||    cable: a round hole in the front
    |___==______==____________|    sizes inside, or outside over lips, base and lid

        _|__|_ tab: in a slot that is longer by the clearance; roots and slot corners relieved

All panels lie side by side in one drawing. Measure the plate first: it is seldom as thick as it is called.
"""

from collections.abc import Iterator
from itertools import chain

from parts.errors import Problem
from parts.geometry import Point, circle
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Standing, Template, choice, length
from parts.templates.box.shared.panels import Panel, PlacedPanel, base, end_wall, laid_out, long_wall, profile_of
from parts.templates.box.shared.standing import standing
from parts.templates.box.shared.tabbed import TabbedBox


class BoxClosed(TabbedBox):
    """The inside's lower left corner is the origin of the base."""

    lid: str = choice(
        "Lid", default="tabbed", choices=("tabbed", "loose", "none"), group="Lid",
        help="tabbed: in slots, welded or riveted last. loose: lies on top. none: five panels.",
    )  # fmt: skip
    finger: float = length(
        "Finger hole in the lid",
        default=0,
        minimum=0,
        maximum=300,
        group="Lid",
        help="Diameter, 0 for none.",
        when=("lid", "tabbed", "loose"),
        moves="care",
    )
    cable: float = length(
        "Hole in the front", default=0, minimum=0, maximum=1000, group="Hole",
        help="For a cable, a pipe or air; diameter, 0 for none.",
    )  # fmt: skip
    cable_up: float = length(
        "Hole in the front, middle above the base",
        default=40,
        minimum=2,
        maximum=1900,
        group="Hole",
        when=("cable",),
        moves="care",
    )

    @property
    def has_lid_slots(self) -> bool:
        """Whether the walls have tabs on top."""
        return self.lid == "tabbed"

    @property
    def covers(self) -> int:
        """How many plates lie under and over the walls."""
        return 1 if self.lid == "none" else 2

    @property
    def cable_at(self) -> Point:
        """Centre of the hole in the front."""
        return self.inside[0] / 2, self.cable_up

    def problems(self) -> Iterator[Problem]:
        """Yield what doesn't go together at the joints, then where a hole has no room."""
        clash = [*super().problems()]
        yield from clash
        if clash:
            return
        long, wide, high = self.inside
        if self.lid != "none" and self.finger:
            yield from self.over("finger", self.overcut, "for the cut to leave a hole so large")
            yield from self.under("finger", min(long, wide), "to leave a lid around it")
        if self.cable:
            yield from self.over("cable", self.overcut, "for the cut to leave a hole so large")
            yield from self.under("cable", min(long, high), "to leave a front around it")
            yield from self.over("cable_up", self.cable / 2, "to leave metal under the hole")
            yield from self.under("cable_up", high - self.cable / 2, "to leave metal over the hole")

    @property
    def front_holes(self) -> tuple[Opening, ...]:
        """The hole in the front."""
        return _round(self.cable_at, self.cable, self.overcut, "hole in the front", "cable")

    @property
    def lid_holes(self) -> tuple[Opening, ...]:
        """The finger hole in the lid, in its middle."""
        long, wide, _ = self.inside
        finger = self.finger if self.lid != "none" else 0.0
        return _round((long / 2, wide / 2), finger, self.overcut, "finger hole in the lid", "finger")


def _round(centre: Point, diameter: float, overcut: float, name: str, parameter: str) -> tuple[Opening, ...]:
    return (Opening(circle(centre, diameter - overcut), name, parameter),) if diameter else ()


def columns(p: BoxClosed) -> tuple[list[Panel], list[Panel]]:
    """Return the base, front and back, and what is drawn beside them: lid and sides."""
    foot = [base(p), long_wall(p, "front", p.front_holes), long_wall(p, "back")]
    lid = [base(p, "lid", p.lid_holes, slots=p.lid == "tabbed")] if p.lid != "none" else []
    return foot, [*lid, end_wall(p, "left side"), end_wall(p, "right side")]


def outline(p: BoxClosed) -> Profile:
    """Draw the base, front and back, then lid and sides beside them."""
    placed = laid_out(columns(p), p.between)
    return profile_of(p, placed, dimensions(p, placed))


def assembly(p: BoxClosed) -> Iterator[Standing]:
    """Yield the panels of the box put together."""
    as_cut = p.changed(overcut=0.0)
    yield from standing(as_cut, chain.from_iterable(columns(as_cut)))


def dimensions(p: BoxClosed, placed: tuple[PlacedPanel, ...]) -> Iterator[Dimension]:
    """Yield those of the holes, as cut."""
    by_name = {each.panel.name: each for each in placed}
    if p.finger and p.lid != "none":
        x, y = p.inside[0] / 2, p.inside[1] / 2
        yield by_name["lid"].dimension("finger", (x, y), (x + p.finger / 2, y), "diameter")
    if p.cable:
        x, y = p.cable_at
        yield by_name["front"].dimension("cable", (x, y), (x + p.cable / 2, y), "diameter")
        yield by_name["front"].dimension("cable_up", (x, 0), (x, y), "left")


TEMPLATE = Template(
    "box-closed",
    "Closed box, tab and slot",
    BoxClosed,
    outline,
    assembly=assembly,
    summary="A base, four walls and a lid that stand in each other by tabs and slots, side by side in one drawing.",
    cautions=(
        "Never weld a box shut that has held fuel or solvent, nor one without a vent: what is shut in bursts it.",
        "A housing of live conductors, batteries or hot parts is for who is licensed for that.",
    ),
    sizes=("length", "width", "height"),
    words=(
        "box",
        "tab",
        "slot",
        "enclosure",
        "case",
        "housing",
        "cabinet",
        "chest",
        "flat pack",
        "lid",
        "toolbox",
        "finger joint",
        "electrical",
    ),
    presets=(
        Preset(
            "Trail register box, loose lid",
            "length=250 width=180 height=120 lid=loose finger=25 thickness=3 process=laser tab=12 relief=0.5 lip=8 "
            "measured=2.95 side_clearance=0.1 corner_radius=4",
        ),
        Preset(
            "Controls of the table, cable in front",
            "length=320 width=240 height=150 cable=40 cable_up=60 thickness=4 process=waterjet tab=16 measured=4.05 "
            "lip=10",
        ),
        Preset(
            "Trailer chest, welded",
            "length=36in width=16in height=14in sizes=outside thickness=1/4in tab=1-1/2in lip=1/2in relief=1/16in "
            "tab_every=24in side_clearance=0.008in",
        ),
    ),
)

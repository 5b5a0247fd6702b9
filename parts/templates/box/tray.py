r"""Open tray: a base and four walls, flat panels that stand in each other by tabs and slots.

     _________________________     the base, with a slot for every tab of the walls
    | lip  ==      ==         |    lip: from the walls' outside to its edge
    |   _____________________ |    front and back run over the whole length and carry
    | ||       length        ||    the sides in slots of their own
    | ||                     ||
    |___==______==____________|    sizes inside, or outside over the lips

        _|__|_ tab: in a slot that is longer by the clearance; roots and slot corners relieved

All panels lie side by side in one drawing. Measure the plate first: it is seldom as thick as it is called.
"""

from collections.abc import Iterator
from itertools import chain

from parts.errors import Problem
from parts.geometry import Point, circle, slot
from parts.profile import Dimension, Opening, Profile
from parts.spec import Preset, Standing, Template, length
from parts.templates.box.shared.panels import Panel, PlacedPanel, base, end_wall, laid_out, long_wall, profile_of
from parts.templates.box.shared.standing import standing
from parts.templates.box.shared.tabbed import TabbedBox


class BoxTray(TabbedBox):
    """The inside's lower left corner is the origin of the base."""

    handle: float = length(
        "Handholes in the sides, length",
        default=0,
        minimum=0,
        maximum=500,
        group="Openings",
        help="0 for none.",
        moves="care",
    )
    handle_width: float = length(
        "Handles, width", default=28, minimum=2, maximum=200, group="Openings", when=("handle",), moves="care"
    )
    handle_down: float = length(
        "Handles' middle below the rim",
        default=30,
        minimum=2,
        maximum=500,
        group="Openings",
        when=("handle",),
        moves="free",
    )
    drain: float = length(
        "Drain hole in the base",
        default=0,
        minimum=0,
        maximum=1000,
        group="Openings",
        help="Diameter, 0 for none.",
        moves="care",
    )

    @property
    def handle_at(self) -> Point:
        """Centre of a handhole on its side."""
        _, wide, high = self.inside
        return wide / 2, high - self.handle_down

    def problems(self) -> Iterator[Problem]:
        """Yield what doesn't go together at the joints, then where handholes or drain have no room."""
        clash = [*super().problems()]
        yield from clash
        if clash:
            return
        long, wide, high = self.inside
        if self.drain:
            yield from self.over("drain", self.overcut, "for the cut to leave a hole so large")
            yield from self.under("drain", min(long, wide), "to leave a base around it")
        if self.handle:
            yield from self.over("handle_width", self.overcut, "for the cut to leave a hole so large")
            yield from self.at_most("handle_width", self.handle, "for a hole of this length")
            yield from self.under("handle", wide, "on the side")
            half = self.handle_width / 2
            yield from self.over("handle_down", half, "to leave a rim")
            yield from self.under("handle_down", high - half, "to leave the side whole")

    @property
    def drains(self) -> tuple[Opening, ...]:
        """The drain in the middle of the base."""
        long, wide, _ = self.inside
        hole = circle((long / 2, wide / 2), self.drain - self.overcut) if self.drain else None
        return (Opening(hole, "drain in the base", "drain"),) if hole else ()

    @property
    def grips(self) -> tuple[Opening, ...]:
        """The handhole of a side."""
        if not self.handle:
            return ()
        hole = slot(self.handle_at, self.handle - self.overcut, self.handle_width - self.overcut)
        return (Opening(hole, "handhole", "handle"),)


def columns(p: BoxTray) -> tuple[list[Panel], list[Panel]]:
    """Return the base, front and back, and the sides, which are drawn beside them."""
    foot = [base(p, extra=p.drains), long_wall(p, "front"), long_wall(p, "back")]
    return foot, [end_wall(p, "left side", p.grips), end_wall(p, "right side", p.grips)]


def outline(p: BoxTray) -> Profile:
    """Draw the base, front and back, then the two sides beside them."""
    placed = laid_out(columns(p), p.between)
    return profile_of(p, placed, dimensions(p, placed))


def assembly(p: BoxTray) -> Iterator[Standing]:
    """Yield the panels of the tray put together."""
    as_cut = p.changed(overcut=0.0)
    yield from standing(as_cut, chain.from_iterable(columns(as_cut)))


def dimensions(p: BoxTray, placed: tuple[PlacedPanel, ...]) -> Iterator[Dimension]:
    """Yield those of the openings, as cut."""
    foot, side = placed[0], placed[-1]
    long, wide, high = p.inside
    if p.drain:
        yield foot.dimension("drain", (long / 2, wide / 2), (long / 2 + p.drain / 2, wide / 2), "diameter")
    if p.handle:
        (x, y), a, b = p.handle_at, p.handle / 2, p.handle_width / 2
        yield side.dimension("handle", (x - a, y), (x + a, y), "below")
        yield side.dimension("handle_width", (x, y - b), (x, y + b), "right")
        yield side.dimension("handle_down", (x + a, y), (x + a, high), "right")


TEMPLATE = Template(
    "box-tray",
    "Open tray, tab and slot",
    BoxTray,
    outline,
    assembly=assembly,
    summary="A base and four walls that stand in each other by tabs and slots, side by side in one drawing.",
    cautions=(
        "Tabs and slots hold while you weld or rivet; by themselves they carry no load.",
        "Break the edges before hands go in; for hot ash, embers or fuel take what the local code asks for.",
    ),
    sizes=("length", "width", "height"),
    words=(
        "box",
        "tab",
        "slot",
        "tray",
        "bin",
        "planter",
        "crate",
        "weldment",
        "flat pack",
        "open",
        "toolbox",
        "drawer",
        "finger joint",
        "caddy",
    ),
    presets=(
        Preset(
            "Trail sign fixings bin, laser",
            "length=180 width=120 height=60 thickness=2 process=laser tab=8 relief=0.4 lip=5 corner_radius=2 "
            "measured=1.95 side_clearance=0.1 between=15",
        ),
        Preset(
            "Garden bench planter, drained",
            "length=600 width=250 height=220 thickness=5 drain=30 tab=25 measured=5.1 side_clearance=0.2 "
            "process=waterjet",
        ),
        Preset(
            "Trailer tool tray, handholes",
            "length=24in width=14in height=5in sizes=outside thickness=1/4in handle=4in handle_width=1-1/4in "
            "handle_down=1-1/2in lip=5/8in tab=1in",
        ),
    ),
)

r"""Flush box: base, walls and lid whose edges interlock, so that nothing stands out; tabs end with the faces.

     __   ____   __     front: tabs below and above, open notches in its ends
    |  |_|    |_|  |    for the tabs of the sides
    |              |
    [    front     ]    base and lid: open notches in all four edges
    |              |
    |__|^|____|^|__|    as cut each tab has its clearance in its notch, on both sides and on the ground

Sizes are inside, or outside over all. The corners of notches and the roots of tabs are relieved: with a fine jet that
is hardly seen, with a plasma arc it is. All panels lie side by side in one drawing.
"""

from collections.abc import Iterator
from itertools import chain

from parts.profile import Profile
from parts.spec import Preset, Standing, Template, choice
from parts.templates.box.shared.panels import Panel, end_wall, laid_out, notched_base, notched_wall, profile_of
from parts.templates.box.shared.standing import standing
from parts.templates.box.shared.tabbed import JointedBox


class BoxFlush(JointedBox):
    """The inside's lower left corner is the origin of the base."""

    lid: str = choice(
        "Lid", default="tabbed", choices=("tabbed", "none"), group="Lid",
        help="tabbed: interlocks as the base does. none: five panels.",
    )  # fmt: skip

    @property
    def has_lid_slots(self) -> bool:
        """Whether the walls have tabs on top."""
        return self.lid == "tabbed"

    @property
    def covers(self) -> int:
        """How many plates lie under and over the walls."""
        return 1 if self.lid == "none" else 2


def columns(p: BoxFlush) -> tuple[list[Panel], list[Panel]]:
    """Return the base, front and back, and what is drawn beside them: lid and sides."""
    foot = [notched_base(p), notched_wall(p, "front"), notched_wall(p, "back")]
    lid = [notched_base(p, "lid")] if p.lid != "none" else []
    return foot, [*lid, end_wall(p, "left side"), end_wall(p, "right side")]


def outline(p: BoxFlush) -> Profile:
    """Draw the base, front and back, then lid and sides beside them."""
    return profile_of(p, laid_out(columns(p), p.between), ())


def assembly(p: BoxFlush) -> Iterator[Standing]:
    """Yield the panels of the box put together."""
    as_cut = p.changed(overcut=0.0)
    yield from standing(as_cut, chain.from_iterable(columns(as_cut)))


TEMPLATE = Template(
    "box-flush",
    "Flush box, interlocking edges",
    BoxFlush,
    outline,
    assembly=assembly,
    summary="Base, walls and lid interlock at their edges, and nothing stands out: for laser and waterjet above all.",
    cautions=(
        "Never weld a box shut that has held fuel or solvent, nor one without a vent: what is shut in bursts it.",
        "A housing of live conductors, batteries or hot parts is for who is licensed for that.",
    ),
    sizes=("length", "width", "height"),
    words=("box", "flush", "finger joint", "box joint", "tab", "notch", "enclosure", "case", "cube",
           "flat pack", "lid"),
    presets=(
        Preset("Seed box, laser", "length=180 width=120 height=80 thickness=2 process=laser tab=12 measured=1.95 "
               "side_clearance=0.1"),
        Preset("Tool cube, waterjet", "length=250 width=250 height=250 thickness=5 process=waterjet tab=25 lid=none"),
        Preset("Planter, welded", "length=24in width=10in height=10in sizes=outside thickness=3/16in tab=1in lid=none "
               "tab_every=12in"),
    ),
)  # fmt: skip

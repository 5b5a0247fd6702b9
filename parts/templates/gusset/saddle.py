r"""Saddle gusset: a straight foot, and a seat on top that a tube lies in, round or square.

     section = round: lip  tube + 2 gap  lip     section = square: lip  tube + 2 gap  lip
           ___               ___                          ____              ____
          /   \             /   \                        /    |            |    \
         /     `-._     _.-'     \                      /     |   depth    |     \
        /          `---'          \                    /     (______________)     \
    toe |    o       O       o    |  height      toe |    o                  o    |  below
        |_________________________|                  |____________________________|
                   foot                                           foot

A round tube's saddle is half its outside diameter and the gap; wrap says how much of the tube it holds, 180 half of it.
A square tube sits flat, or on its corner in a square V, round reliefs in the inside corners so that its edges seat.
Outside diameters of steel pipe are those of ASME B36.10M: 1-1/2 in pipe is 1.900 in. Outside sizes of square hollow
sections are those of ASTM A500 (inch) and EN 10219 (metric).
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.profile import Profile
from parts.spec import Kind, Preset, Template
from parts.templates.gusset.shared.round_seat import RoundSeat
from parts.templates.gusset.shared.square_seat import SquareSeat
from parts.templates.gusset.shared.tube_seat import TubeSeat


class GussetSaddle(TubeSeat):
    """A foot with a seat for a tube of either section."""

    @property
    def form(self) -> RoundSeat | SquareSeat:
        """Its seat as drawn."""
        return RoundSeat(self) if self.section == "round" else SquareSeat(self)

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where the seat has no room in the gusset, or holes have none beside it."""
        yield from self.form.problems()


def outline(p: GussetSaddle) -> Profile:
    """Draw the gusset with its seat and holes."""
    form = p.form
    lightening = p.lightening_opening(form.middle) if isinstance(form, RoundSeat) else ()
    inside = (*p.holes_at(p.centres, "hole in the foot", "holes"), *lightening)
    return Profile((form.edge,), inside, dimensions=tuple(form.dimensions()))


TEMPLATE = Template(
    "gusset-saddle",
    "Saddle gusset for a tube",
    GussetSaddle,
    outline,
    summary="A foot with a seat for a tube on top: a saddle for a round one, a relieved notch or V for a square one.",
    cautions=(
        "A saddle that carries a load or a pipe wants its size and welds settled by a qualified engineer under the "
        "local code.",
        "Welding heats what is in a pipe: empty it, clean it and leave it open before anything is welded to it. A "
        "closed tube heated by welding or hot zinc can burst: drill a vent first.",
    ),
    sizes=("tube", "height"),
    kinds=(
        Kind(frozenset(("square", "box", "shs", "rhs", "hss", "notch", "notched")), {"section": "square"}, ("tube",)),
    ),
    words=(
        *("saddle", "cradle", "pipe", "fish mouth", "cope", "roll bar", "tube", "support", "rest", "seat", "round"),
        *("notch", "hollow section", "box section", "square", "shs", "rhs", "rectangular tube", "hss"),
    ),
    presets=(
        Preset("1-1/2 in pipe (ASME B36.10M), bench arm", "tube=1.900in height=60 foot=80 lip=8 toe=10 thickness=5"),
        Preset("3 in pipe (ASME B36.10M), sign post stay", "tube=3.5in wrap=120 height=140 foot=160 lightening=50"),
        Preset("4 in pipe (ASME B36.10M), rain pipe", "tube=4.5in gap=1 height=150 foot=220 lip=20 thickness=10"),
        Preset(
            "Trailer rack, 48.3 mm tube",
            "tube=48.3 wrap=180 height=70 foot=120 lip=10 holes=2 bolt=M8 first=20",
            is_metric=True,
        ),
        Preset(
            "40 mm square (EN 10219), bench rail",
            "section=square tube=40 depth=20 below=35 foot=90 lip=10 toe=10 thickness=4",
            is_metric=True,
        ),
        Preset(
            "80 mm square (EN 10219), table beam",
            "section=square lip=15 tube=80 gap=0.75 depth=40 below=60 foot=180 thickness=8 toe=20",
            is_metric=True,
        ),
        Preset(
            "2 in square (ASTM A500), sign post",
            "section=square tube=2in depth=1in below=2in foot=5in holes=2 bolt=3/8 first=1in back_mark=7/8in "
            "lip=5/8in toe=5/8in corner_radius=3/16in relief=1/8in gap=1/64in",
        ),
        Preset(
            "50 mm square (EN 10219) on its corner, trailer gate",
            "section=square tube=50 seat=corner depth=22 foot=100 below=40",
            is_metric=True,
        ),
    ),
)

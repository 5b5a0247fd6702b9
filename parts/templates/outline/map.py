r"""Map outline: a country, or a state of the US, as a piece of its own, in a frame, or cut through a plate.

      __/\_   __
     /     \_/  |     islands tied to the main land, or left out; a plate with the place cut through it
     \_   ______/
       \_/  o
The lower left of the whole is at the origin, north is up.
"""

from collections.abc import Iterator

from parts.artwork import Metal, metal_from, one_wide, pieces
from parts.artwork.places import PROJECTIONS, is_point, known, named, nearest, region
from parts.cached import cached_property
from parts.errors import Problem
from parts.profile import Profile
from parts.spec import Preset, Template, choice, number
from parts.spec import text as words_typed
from parts.templates.outline.shared import CAUTIONS, FIGURE, Figure, drawn, sketched


class OutlineMap(Figure):
    """A place on the earth, laid flat about its own middle."""

    leading = ("place", "made_as", "islands", "reach", "projection", "detail")

    place: str = words_typed(
        "Country or state", default="Iceland", characters="", longest=60, group=FIGURE,
        help="As the maps call it: Norway, Ohio; Georgia, US is the state.",
    )  # fmt: skip
    islands: str = choice(
        "Islands", default="joined", choices=("joined", "dropped"), group=FIGURE, moves="care",
        help="joined: tied to the main land, or kept where it is cut through a plate. dropped: left out.",
    )  # fmt: skip
    reach: float = number(
        "Islands how far off", default=0.3, minimum=0, maximum=5, group=FIGURE, when=("islands", "joined"),
        help="In sizes of the main land and what is with it.", moves="care",
    )  # fmt: skip
    projection: str = choice(
        "Laid flat so that it keeps", default="equal-area", choices=PROJECTIONS, group=FIGURE, moves="care",
        help="equal-area: its parts' areas. conformal: its angles.",
    )  # fmt: skip

    @cached_property
    def original(self) -> Metal:
        """The place, one wide."""
        reach = self.reach if self.islands == "joined" else 0.0
        whole = region(self.place, self.projection, reach)
        if self.islands == "joined":
            return whole
        return one_wide(metal_from(max(pieces(whole), key=lambda piece: piece.area)))

    def name_problems(self) -> Iterator[Problem]:
        """Yield that there is no such place, with those spelled most like it."""
        if not known(self.place):
            near = nearest(self.place)
            way = f" Is it {' or '.join(near)}?" if near else " Countries and states of the US are there, in English."
            yield self.problem("place", f"isn't on the maps.{way}", {"place": near[0]} if near else {})
        elif is_point(self.place):
            yield self.problem("place", "is so small that the maps have no outline of it, only a point.")


def outline(p: OutlineMap) -> Profile:
    """Draw the place."""
    return drawn(p, "place")


def sketch(p: OutlineMap) -> Profile | None:
    """Sketch the place."""
    return sketched(p, "place")


TEMPLATE = Template(
    "outline-map",
    "Map outline",
    OutlineMap,
    outline,
    summary="A country or a US state by its name: a piece to hang, islands tied, framed, or cut through a plate.",
    cautions=(
        *CAUTIONS,
        "The borders are those that the maps show, which others may dispute: Natural Earth 1:10 million, US Census.",
    ),
    words=("map", "country", "state", "outline", "wall art", "island", "coast", "homeland"),
    sizes=("overall_width", "overall_height"),
    sketch=sketch,
    named=lambda words: {"place": name} if (name := named(words)) else {},
    presets=(
        Preset("Island to hang by the door", "overall_width=320 hang=eye"),
        Preset("State for the workshop wall", "place=Ohio overall_width=600 detail=6"),
        Preset("State in two, tied", "place=Michigan overall_width=500 tie=12 detail=9 hang=eye"),
        Preset("Country cut through a plate", "place=Italy made_as=plate overall_width=400 margin=40"),
        Preset(
            "State on a round plate, with its name",
            "place=Ohio made_as=plate shape=round text=OHIO below=80 overall_width=400",
            inches="below=3-1/4",
        ),
    ),
)

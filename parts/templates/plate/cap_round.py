r"""End cap of a round tube: a disc that sits inside the tube, over its end, or back on its wall for a fillet weld.

      ______
     /      \      seat: inside: smaller than the bore by a gap all round
    |   o    |           over: wider than the tube by a lip all round
    |        |           back: smaller than the tube, for a fillet on the wall
     \______/      step: that gap, lip or setback
       tube

The hole lets air out while welding, and zinc run out in the bath.
"""

from collections.abc import Iterator

from parts.errors import Problem
from parts.geometry import circle
from parts.profile import Dimension, Profile
from parts.spec import Preset, Template, length
from parts.templates.plate.shared.tube_cap import TubeCap


class PlateCapRound(TubeCap):
    """The tube's centre is at the origin."""

    tube: float = length("Tube, outside diameter", default=88.9, minimum=10, maximum=1500)

    @property
    def diameter(self) -> float:
        """Diameter of the disc."""
        return self.tube + 2 * self.out

    def problems(self) -> Iterator[Problem]:
        """Yield a problem where nothing is left of the tube or the disc, or the hole leaves it."""
        clash = [*self.seat_problems(self.tube / 2)]
        yield from clash or self.vent_problems(self.diameter / 2, (self.diameter - self.vent) / 2)


def outline(p: PlateCapRound) -> Profile:
    """Draw the disc and its hole."""
    return Profile((circle((0, 0), p.diameter),), p.vents, dimensions=tuple(dimensions(p)))


def dimensions(p: PlateCapRound) -> Iterator[Dimension]:
    """Yield where each length can be measured: tube and wall on the tube, the step from there to the disc."""
    half, rim = p.tube / 2, p.diameter / 2
    yield Dimension("tube", (0, 0), (half, 0), "diameter")
    if p.seat == "inside":
        yield Dimension("wall", (half - p.wall, 0), (half, 0), "above")
    if p.step:
        face = half - p.wall if p.seat == "inside" else half
        yield Dimension("step", (-face, 0), (-rim, 0), "above")
    yield from p.vent_measured()


TEMPLATE = Template(
    "plate-cap-round",
    "End cap, round tube",
    PlateCapRound,
    outline,
    summary="A disc for the end of a round tube: inside it, over it or back on the wall, with a vent or drain hole.",
    cautions=(
        "Never weld or hot-dip a closed hollow: what is shut in bursts it. Vent it, with the hole that the galvaniser "
        "asks for, and never cap what held fuel or gas.",
        "A cap cut from plate is not a pressure part.",
    ),
    sizes=("tube",),
    words=("cap", "tube", "pipe", "plug", "lid", "end", "disc", "disk", "vent", "drain", "endcap", "bollard"),
    presets=(
        Preset(
            "Trail sign post, 60.3 mm tube, drain",
            "tube=60.3 seat=back step=1.5 vent_down=19 thickness=4",
            is_metric=True,
        ),
        Preset(
            "Bench leg, 48.3 mm tube, inside", "tube=48.3 seat=inside step=0.5 wall=3.2 thickness=5", is_metric=True
        ),
        Preset("Bollard of 168.3 pipe, over its end", "tube=168.3 step=4 vent=0 thickness=8", is_metric=True),
        Preset(
            "Bollard of 4-1/2 in pipe, set in",
            "tube=4-1/2in seat=inside step=1/64in wall=0.237in vent=0 thickness=1/4in",
        ),
        Preset("Rain lip on a gate post, 4 in tube", "tube=4in step=1/4in thickness=3/16in"),
        Preset("Trailer jack foot", "tube=70 step=15 thickness=8 vent=14"),
    ),
)

"""Marks: the lines of a drawing that are scribed, bent or drilled, sorted from those that are cut."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from parts.finding import Finding
from parts.geometry import Circle, Line, Loop
from parts.profile import Bend, Drill, Mark, Scribe
from parts.read.layers import OWN, Role, role, side
from parts.read.limits import shown
from parts.read.outlines import Chain
from parts.read.pieces import Spot
from parts.read.sentences import READING, counted

_AS: dict[Role, str] = {"scribe": "scribe lines", "bend": "bend lines", "drill": "drill centres"}

UNKNOWN_DIAMETER = 0.0
"""Of a drill centre drawn as a point or a cross, which says nothing of its size."""


@dataclass(slots=True)
class Sorted:
    """Chains to cut, marks, and what was decided by the names of layers that aren't ours."""

    cut: list[Chain] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def sort_by_layer(chains: Sequence[Chain], spots: Sequence[Spot]) -> Sorted:
    """Return what is cut and what is marked; every spot is a centre to drill, but for those left aside."""
    made = Sorted()
    counts: Counter[tuple[Role, str]] = Counter()
    asides: dict[str, list[Chain]] = {}
    for chain in chains:
        what = role(chain.layer)
        counts[what, chain.layer] += 1
        if what == "cut":
            made.cut.append(chain)
        elif what == "aside":
            asides.setdefault(chain.layer, []).append(chain)
        else:
            made.marks += _marks(chain, what)
    for spot in spots:
        if role(spot.layer) != "aside":
            made.marks.append(Drill(spot.at, UNKNOWN_DIAMETER))
    for (what, layer), count in counts.items():
        if what in _AS and layer.upper() not in OWN:
            made.said.append(f"took {counted(count, 'line')} on layer {shown(layer)} as {_AS[what]}")
    made.findings += [*_left_aside(asides), *_beside_ours(made.cut)]
    return made


def _marks(chain: Chain, what: Role) -> Iterator[Mark]:
    if what == "drill" and (hole := _circle(chain)):
        yield Drill(hole.centre, hole.diameter)
    elif what == "bend" and all(isinstance(segment, Line) for segment in chain.segments):
        yield from (Bend(segment) for segment in chain.segments if isinstance(segment, Line))
    else:
        yield Scribe(chain.segments)


def _circle(chain: Chain) -> Circle | None:
    return Loop(chain.segments).circle if chain.closed else None


def _left_aside(asides: dict[str, list[Chain]]) -> Iterator[Finding]:
    for layer, chains in asides.items():
        if layer.upper() not in OWN:
            yield Finding(
                READING, "note", chains[0].segments[0].start, None, None,
                f"{counted(len(chains), 'line')} on layer {shown(layer)} left out, by its name no outline.",
                "Move to another layer what is to be cut.",
            )  # fmt: skip


def _beside_ours(cut: Sequence[Chain]) -> Iterator[Finding]:
    """A note for what lies on other layers where some lies on ours, which say what is what."""
    if all(side(chain.layer) is None for chain in cut):
        return
    others: dict[str, list[Chain]] = {}
    for chain in cut:
        if side(chain.layer) is None:
            others.setdefault(chain.layer, []).append(chain)
    for layer, chains in others.items():
        yield Finding(
            READING, "note", chains[0].segments[0].start, None, None,
            f"{counted(len(chains), 'line')} on layer {shown(layer) or 'without a name'}, beside OUTSIDE and INSIDE, "
            "taken as cut.",
            "Move what isn't cut to a layer named SCRIBE, or leave it out.",
        )  # fmt: skip

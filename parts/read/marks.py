"""Marks: the lines of a drawing that are scribed, bent or drilled, sorted from those cut and those left aside."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from parts.finding import Finding
from parts.geometry import Circle, Line, Loop, Point, Segment, distance
from parts.profile import Bend, Drill, Mark, Scribe
from parts.read.counting import counted, worded
from parts.read.layers import GROUND, NOTES, OUTSIDE, OWN, Role, side, told_by
from parts.read.limits import MOST_FINDINGS, shown
from parts.read.outlines import Chain
from parts.read.pieces import Spot
from parts.read.roles import Layer, Roles, listed
from parts.read.sentences import READING
from parts.tolerance import HEAL_MM

_AS: dict[Role, str] = {
    "cut": "cut", "scribe": "[a scribe line|scribe lines]", "bend": "[a bend line|bend lines]",
    "drill": "[a drill centre|drill centres]",
}  # fmt: skip
_MOST_HIDDEN = 3  # hidden layers with outlines that are told of one by one

UNKNOWN_DIAMETER = 0.0
"""Of a drill centre drawn as a point or a cross, which says nothing of its size."""


@dataclass(slots=True)
class Sorted:
    """Chains to cut, marks, and what was decided of layers that aren't ours."""

    cut: list[Chain] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)


def sort_by_role(roles: Roles, spots: Sequence[Spot]) -> Sorted:
    """Return what is cut and what is marked; every spot is a centre to drill, but for those left aside.

    A point in the middle of a circle to drill is that circle's centre, as our own files have both.
    """
    made = Sorted(cut=list(roles.cut))
    for layer in roles.layers.values():
        if layer.role not in ("cut", "aside"):
            made.marks += (mark for chain in _rest(layer) for mark in _marks(chain, layer.role))
        made.said += _said(layer)
    sized = [mark.at for mark in made.marks if isinstance(mark, Drill)]
    points = (spot.at for spot in spots if roles.of(spot.layer) != "aside")
    made.marks += (Drill(at, UNKNOWN_DIAMETER) for at in points if not any(_is_at(at, centre) for centre in sized))
    made.findings += [*_left_aside(roles), *_beside_ours(made.cut, roles)]
    return made


def _marks(chain: Chain, what: Role) -> Iterator[Mark]:
    if what == "drill" and (hole := _circle(chain)):
        yield Drill(hole.centre, hole.diameter)
    elif what == "bend" and all(isinstance(segment, Line) for segment in chain.segments):
        yield from (Bend(segment) for segment in chain.segments if isinstance(segment, Line))
    else:
        yield Scribe(chain.segments)


def _rest(layer: Layer) -> list[Chain]:
    """The chains of a layer as drawn, without those that became part of an outline that is cut."""
    taken = [segment for chain in layer.taken for segment in chain.segments]
    return [c for c in layer.chains if not any(_is_on(c.segments[0].at(0.5), segment) for segment in taken)]


def _is_on(p: Point, segment: Segment) -> bool:
    return distance(segment.nearest(p), p) <= HEAL_MM


def _is_at(p: Point, centre: Point) -> bool:
    return distance(p, centre) <= HEAL_MM


def _circle(chain: Chain) -> Circle | None:
    return Loop(chain.segments).circle if chain.closed else None


def _said(layer: Layer) -> Iterator[str]:
    """What was done with a layer otherwise than its name or ours says by itself."""
    on, n = f"on layer {shown(layer.name) or 'without a name'}", len(layer.chains)
    for why in layer.evidence:
        taken, things = (n, "line[|s]") if layer.role == "cut" else (len(layer.taken), "outline[|s]")
        yield f"{worded(taken, f'took {{n}} {things}')} {on} as cut, {worded(taken, why)}"
    if layer.chosen == "aside":
        yield f"left out {counted(n, 'line')} {on}, as chosen"
    elif layer.chosen:
        yield f"took {counted(n, 'line')} {on} as {worded(n, _AS[layer.chosen])}, as chosen"
    elif layer.role in ("scribe", "bend", "drill") and layer.name.upper() not in OWN and (rest := _rest(layer)):
        yield f"took {counted(len(rest), 'line')} {on} as {worded(len(rest), _AS[layer.role])}"


def _left_aside(roles: Roles) -> Iterator[Finding]:
    """A warning for what is closed and isn't cut by a name alone, a note for what else is left aside."""
    yield from _hidden([layer for layer in roles.layers.values() if layer.hidden and layer.is_guess and layer.loops])
    for layer in roles.layers.values():
        if layer.hidden:
            continue
        if layer.is_guess and (loops := [loop for loop in layer.loops if _is_missed(loop, layer, roles)]):
            yield _closed_aside(layer, loops)
        elif layer.is_guess and layer.guess == "aside" and layer.name.upper() not in OWN:
            yield from _lines_aside(layer)


def _is_missed(loop: Loop, layer: Layer, roles: Roles) -> bool:
    """Whether a closed outline may be lost: a hole may lie on any layer for marks."""
    return layer.guess != "aside" or not _is_note(loop, layer, roles)


def _hidden(layers: Sequence[Layer]) -> Iterator[Finding]:
    """A warning for the outlines of a layer that doesn't show; one for many such layers."""
    if len(layers) <= _MOST_HIDDEN:
        yield from (_closed_aside(layer, layer.loops) for layer in layers)
        return
    loops = [loop for layer in layers for loop in layer.loops]
    names = listed([f"{layer.name}: {len(layer.loops):,}" for layer in layers])
    yield Finding(
        READING, "warn", loops[0].segments[0].start, None, None,
        f"{len(loops):,} closed outlines on {len(layers):,} layers that the drawing doesn't show left out: {names}.",
        "Choose what each of these layers is: cut, or aside if it isn't the part's outline.",
        also=tuple(loop.segments[0].start for loop in loops[1:MOST_FINDINGS]),
    )  # fmt: skip


def _lines_aside(layer: Layer) -> Iterator[Finding]:
    rest = _open(layer) if layer.taken else len(layer.chains)
    if rest:  # beside outlines that are cut, a line may be of one that doesn't quite close
        yield Finding(
            READING, "warn" if layer.taken else "note", layer.chains[0].segments[0].start, None, None,
            f"{counted(rest, 'line')} on layer {shown(layer.name)} left out, {told_by(layer.name)} no outline.",
            "Move to another layer what is to be cut.",
        )  # fmt: skip


def _open(layer: Layer) -> int:
    taken = {chain.segments for chain in layer.taken}
    return sum(chain.segments not in taken for chain in layer.healed.open) if layer.healed else 0


def _closed_aside(layer: Layer, loops: Sequence[Loop]) -> Finding:
    name = shown(layer.name)
    lines = _open(layer) if layer.guess == "aside" and not layer.hidden else 0
    more = f" and {counted(lines, 'line')}" if lines else ""
    # the smallest first, since a sheet's border lies far from the part
    smallest = sorted(loops, key=lambda loop: loop.area)[:MOST_FINDINGS]
    places: list[Point] = [loop.segments[0].start for loop in smallest]
    aside = f"left out, {told_by(layer.name)} no outline of the part"
    done = f"taken as {worded(len(loops), _AS[layer.guess])}" if layer.guess != "aside" else aside
    done = "left out, since the drawing doesn't show it" if layer.hidden else done
    done = "left out: a white rectangle as large as the page" if layer.name == GROUND else done
    return Finding(
        READING, "warn", places[0], None, None,
        f"{counted(len(loops), 'closed outline')}{more} on layer {name} {done}.",
        f"Choose what layer {name} is: cut, or {layer.guess} if it isn't the part's outline.",
        also=tuple(places[1:]),
    )  # fmt: skip


def _is_note(loop: Loop, layer: Layer, roles: Roles) -> bool:
    """Whether it is on our own layer for notes, beside a part on ours: what is written about it, around it."""
    if layer.name.upper() != NOTES:
        return False
    outside = [c for name, each in roles.layers.items() if name.upper() == OUTSIDE for c in each.chains if c.closed]
    return bool(outside) and not any(Loop(c.segments).contains(loop.segments[0].at(0.5)) for c in outside)


def _beside_ours(cut: Sequence[Chain], roles: Roles) -> Iterator[Finding]:
    """A note for what lies on other layers where some lies on ours, which say what is what."""
    if all(side(chain.layer) is None for chain in cut):
        return
    others: dict[str, list[Chain]] = {}
    for chain in cut:
        if side(chain.layer) is None and not roles.layers[chain.layer].chosen:
            others.setdefault(chain.layer, []).append(chain)
    for layer, chains in others.items():
        yield Finding(
            READING, "note", chains[0].segments[0].start, None, None,
            f"{counted(len(chains), 'line')} on layer {shown(layer) or 'without a name'}, beside OUTSIDE and INSIDE, "
            "taken as cut.",
            "Move what isn't cut to a layer named SCRIBE, or leave it out.",
        )  # fmt: skip

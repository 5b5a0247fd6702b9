"""Roles: what the lines of each layer are for, as it was chosen or as the layer's name says.

guess      by a name: `parts.read.evidence` weighs it against the geometry
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from parts.errors import Problem, Refused
from parts.geometry import Loop, Segment
from parts.read.heal.healing import Healed
from parts.read.heal.mend import Mend
from parts.read.heal.recognise import Recognised
from parts.read.layers import NOTES, OUTSIDE, OWN, ROLES, Role, named_in, role, says_both
from parts.read.limits import shown
from parts.read.outlines import Chain
from parts.read.pieces import Spot

SAYS_BOTH = "as its name says too"


@dataclass(slots=True)
class Layer:
    """The lines of one layer, and what they are for.

    `others` counts what is drawn on it and isn't read, as text. `healed` is what its lines make by themselves, where
    they aren't cut by its name. `taken` are the chains of it that are cut against its name, as `evidence` says. It is
    `hidden` where the drawing doesn't show it and nobody chose it.
    """

    name: str
    chains: list[Chain] = field(default_factory=list)
    spots: int = 0
    others: int = 0
    guess: Role = "cut"
    chosen: Role | None = None
    beside_ours: bool = False
    healed: Healed | None = None
    taken: list[Chain] = field(default_factory=list)
    hidden: bool = False
    evidence: list[str] = field(default_factory=list)

    @property
    def role(self) -> Role:
        """What its lines are for; those of `taken` are cut all the same."""
        return self.chosen or self.guess

    @property
    def is_guess(self) -> bool:
        """Whether only a name says that it isn't cut, and not one of ours in a drawing that has our outside."""
        is_ours = self.beside_ours and self.name.upper() in OWN - {NOTES}
        return self.chosen is None and self.guess != "cut" and not is_ours

    @property
    def loops(self) -> tuple[Loop, ...]:
        """Its closed outlines that aren't cut, as far as they were looked for."""
        taken = {chain.segments for chain in self.taken}
        loops = self.healed.loops if self.healed else ()
        return tuple(loop for loop, _ in loops if loop.segments not in taken)


def open_chains(layer: Layer) -> list[tuple[Segment, ...]]:
    """Return the lines of a layer that isn't cut which close no outline."""
    if not layer.healed:
        return [chain.segments for chain in layer.chains if not chain.closed]
    taken = {chain.segments for chain in layer.taken}
    return [tuple(chain.segments) for chain in layer.healed.open if tuple(chain.segments) not in taken]


@dataclass(frozen=True)
class Roles:
    """The layers of a drawing by name, in the order in which they are drawn."""

    layers: Mapping[str, Layer]

    def of(self, name: str) -> Role:
        """Return what a layer is for; by its name alone where nothing is drawn on it."""
        layer = self.layers.get(name)
        return layer.role if layer else role(name)

    @property
    def cut(self) -> tuple[Chain, ...]:
        """Every chain that is cut."""
        each = (layer.chains if layer.role == "cut" else layer.taken for layer in self.layers.values())
        return tuple(chain for chains in each for chain in chains)

    @property
    def mends(self) -> list[Mend]:
        """What was put right in outlines that are cut against their layer's name."""
        return [mend for healed in self._taken_of for mend in healed.mends]

    @property
    def recognised(self) -> list[Recognised]:
        """What circles and arcs stand for, by layer, in such outlines."""
        return [healed.recognised for healed in self._taken_of]

    @property
    def _taken_of(self) -> list[Healed]:
        return [layer.healed for layer in self.layers.values() if layer.healed and layer.taken]


@dataclass(frozen=True, slots=True)
class Drawn:
    """What is drawn: chains in mm, points to drill, the layer of each entity that isn't read, and what doesn't show."""

    chains: Sequence[Chain]
    spots: Sequence[Spot]
    others: Iterable[str] = ()
    hidden: Sequence[Chain] = ()


def named(drawn: Drawn, chosen: Mapping[str, Role]) -> Roles:
    """Return what each layer is for, by what was chosen, else by its name.

    Raises:
        Refused: if a chosen role is none, or no layer is called so; the problem's parameter is `layer`.
    """
    layers: dict[str, Layer] = {}
    for chain in drawn.chains:
        layers.setdefault(chain.layer, Layer(chain.layer)).chains.append(chain)
    for spot in drawn.spots:
        layers.setdefault(spot.layer, Layer(spot.layer)).spots += 1
    for name in drawn.others:
        layers.setdefault(name, Layer(name)).others += 1
    for chain in drawn.hidden:
        layers.setdefault(chain.layer, Layer(chain.layer, hidden=True)).chains.append(chain)
    ours = any(name.upper() == OUTSIDE for name in layers)
    wanted = _by_name(chosen, tuple(layers))
    for layer in layers.values():
        layer.guess, layer.chosen, layer.beside_ours = role(layer.name), wanted.get(layer.name), ours
        if says_both(layer.name) and not layer.chosen:
            layer.evidence.append(SAYS_BOTH)
    return Roles(layers)


def _by_name(chosen: Mapping[str, Role], names: Sequence[str]) -> dict[str, Role]:
    """What was chosen, by the layers' own names; capitals count only where one is called exactly so."""
    found: dict[str, Role] = {}
    problems = []
    for asked, what in chosen.items():
        alike = _called(asked, names)
        if what not in ROLES:
            problems.append(Problem("layer", f"{asked}={what}", f"must be {', '.join(ROLES[:-1])} or {ROLES[-1]}."))
        elif not alike:
            problems.append(Problem("layer", asked, f"is no layer of this drawing; it has {listed(names)}."))
        else:
            found |= dict.fromkeys(alike, what)
    if problems:
        raise Refused(tuple(problems))
    return found


def _called(asked: str, names: Sequence[str]) -> list[str]:
    """The layers that are called so: exactly, else but for capitals, else but for how their lines are drawn."""
    if asked in names:
        return [asked]
    alike = [name for name in names if name.upper() == asked.upper()]
    return alike or [name for name in names if named_in(name).upper() == asked.upper()]


_MOST_NAMES = 20


def listed(names: Sequence[str]) -> str:
    """Return the names of layers as a sentence lists them."""
    said = [shown(name) or "one without a name" for name in names[:_MOST_NAMES]]
    said += [f"{len(names) - _MOST_NAMES} more"] if len(names) > _MOST_NAMES else []
    return " and ".join(filter(None, (", ".join(said[:-1]), said[-1]))) if said else "no lines on any layer"

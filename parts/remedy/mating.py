"""What a change does to the part next to it: the question that is asked before what mates is changed.

mates   a bolt and its hole, a bore and its shaft, a pitch and the same one beside it; what was asked for, too
"""

from collections.abc import Iterator, Mapping

from parts.remedy.judge import Redrawn, lost, resizes_opening, resizes_whole
from parts.remedy.record import ParameterChange
from parts.spec import Spec

_OF_KIND: Mapping[str, str] = {
    "count": "what it is joined to must have as many",
    "angle": "what stands against it must stand at that angle",
    "choice": "what it goes on, or what goes through it, must suit that",
    "flag": "what it goes on, or what goes through it, must suit that",
    "text": "it says something else",
}
"""What becomes of the neighbour where the drawing doesn't say it: a number that is a measure says it there."""


def question(changes: tuple[ParameterChange, ...], specs: Mapping[str, Spec], before: Redrawn, after: Redrawn) -> str:
    """Return what must be true of the neighbour for the changes to be taken; empty where they may be taken unasked.

    Asked is of each parameter that is never changed by itself, and of openings, pieces and drill centres that go.
    """
    said = [*_mating(changes, specs, before, after), *_gone(before, after)]
    return f"only if {'; and if '.join(said)}" if said else ""


def _mating(
    changes: tuple[ParameterChange, ...], specs: Mapping[str, Spec], before: Redrawn, after: Redrawn
) -> Iterator[str]:
    for change in changes:
        spec = specs[change.name]
        if spec.moves == "never":
            yield f"“{change.title}” may be {change.after}: {_neighbour(spec, change, before, after)}"


def _neighbour(spec: Spec, change: ParameterChange, before: Redrawn, after: Redrawn) -> str:
    if spec.is_thickness:
        return "it is cut from another plate, and what it carries and what fits it must allow for that"
    if spec.is_bolt:
        return f"the bolts are then {change.after}, and so are the holes in what they go through"
    if spec.kind in _OF_KIND:
        return _OF_KIND[spec.kind]
    if resizes_whole(before.profile, after.profile):
        return "the part takes up another size, and what stands around it or is made to it must follow"
    if resizes_opening(before.profile, after.profile):
        return "what goes through the opening, or sits in it, must be made to that"
    return "what is fastened or fitted to it must follow"


def _gone(before: Redrawn, after: Redrawn) -> Iterator[str]:
    if gone := lost(before.profile, after.profile):
        things = "opening, piece or drill centre" if gone == 1 else "openings, pieces or drill centres"
        yield f"{gone} {things} may go: nothing is to be fastened there, pass through, or be cut of it"

"""The profile a template draws, or which parameters are at fault where its loops can't be cut.

What only drawing tells (holes that cross, a fillet without room) has no formula in the template. So how far the
parameter at fault, or else a neighbour, must change is found by drawing again with other values.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from parts.errors import DeclarationError, GeometryError, Problem, Refused, first_of_each
from parts.profile import Profile
from parts.spec.advice import Advice, is_trying, own_way, way_out
from parts.spec.faults import LoopFault, loop_faults
from parts.spec.parameter import Spec, Value
from parts.spec.parameters import Parameters
from parts.spec.template import Template
from parts.spec.tries import Trying
from parts.spec.watch import Notes
from parts.units import Units


def drawn(chosen: Template, parameters: Parameters) -> Profile:
    """Return the profile that a template draws of its parameters, seated.

    Raises:
        Refused: it can't be cut as loops; each parameter at fault is named, with what would do where that is found.
        DeclarationError: it has a dimension that can't be drawn.
    """
    return sound(chosen, parameters, seated_outline(chosen, parameters))


def sound(chosen: Template, parameters: Parameters, profile: Profile) -> Profile:
    """Return a profile that a template drew of its parameters.

    Raises:
        Refused: as by `drawn`.
    """
    found: dict[str, LoopFault] = {}
    for fault in loop_faults(profile):
        found.setdefault(fault.parameter, fault)  # the first of each: in a row of holes that cross, all do
    if found:
        raise Refused(first_of_each(p for fault in found.values() for p in _of_fault(chosen, parameters, fault)))
    return profile


def seated_outline(chosen: Template, parameters: Parameters) -> Profile:
    """Return the profile that a template draws of its parameters, seated, without asking whether it can be cut.

    Raises:
        Refused: it can't be drawn; each parameter that may be behind it is named.
        DeclarationError: it has a dimension that can't be drawn.
    """
    try:
        return parameters.finished(parameters.worked(chosen.outline(parameters))).seated()
    except DeclarationError as error:
        raise DeclarationError(chosen.slug, error.field, error.message) from error
    except GeometryError as error:
        raise Refused(_of_suspects(chosen, parameters, str(error))) from error


@dataclass(frozen=True)
class _AsDrawn(Trying):
    """Parameters whose problems are also what only drawing them tells; `suspect` is blamed where no loop's is."""

    chosen: Template
    parameters: Parameters
    suspect: str

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - the value of a parameter
        return getattr(self.parameters, name)

    @property
    def units(self) -> Units:
        return self.parameters.units

    def specs(self) -> Mapping[str, Spec]:
        return self.parameters.specs()

    def changed(self, **values: Value) -> "_AsDrawn":
        return replace(self, parameters=self.parameters.changed(**values))

    def keep(self, found: Mapping[str, Any]) -> None:
        self.parameters.keep(found)

    def watched(self, **values: Value) -> tuple["_AsDrawn", Notes]:
        parameters, notes = self.parameters.watched(**values)
        return replace(self, parameters=parameters), notes

    def shortfall(self, name: str) -> float:
        return self.parameters.shortfall(name)

    def problems(self) -> Iterator[Problem]:
        stated = tuple(self.parameters.problems())
        yield from stated
        if stated:
            return
        try:
            profile = self.parameters.worked(self.chosen.outline(self.parameters))
        except Refused as error:
            yield from error.problems
            return
        except GeometryError as error:
            yield self.parameters.problem(self.suspect, str(error))
            return
        for fault in loop_faults(profile):
            yield self.parameters.problem(fault.parameter or self.suspect, fault.message)


def _of_fault(chosen: Template, parameters: Parameters, fault: LoopFault) -> tuple[Problem, ...]:
    """A fault as a problem of the parameter that set the loop, or of those that may be behind it."""
    if not fault.parameter:
        return _of_suspects(chosen, parameters, fault.message)
    kind = parameters.specs()[fault.parameter].kind
    if kind == "text":  # it is what was asked for, and drawing it again with other sizes takes long
        return (parameters.problem(fault.parameter, fault.message),)
    seen = _AsDrawn(chosen, parameters, fault.parameter)
    ways = [] if is_trying() else [own_way(seen, fault.parameter)]
    if ways and (not ways[0] or kind == "count"):
        ways.insert(0, _neighbour(seen, fault.parameter))  # fewer would leave something out: there may be room for all
    return (_advised(parameters, fault.parameter, fault.message, ways),)


def _of_suspects(chosen: Template, parameters: Parameters, message: str) -> tuple[Problem, ...]:
    """A problem for each changed length that alone is enough to mend it; for each of them where none is."""
    names = _changed_lengths(parameters)
    if is_trying():
        return tuple(parameters.problem(name, message) for name in names)
    ways = {name: own_way(_AsDrawn(chosen, parameters, name), name) for name in names}
    guilty = [name for name in names if ways[name]]
    if not guilty:
        ways = {name: _neighbour(_AsDrawn(chosen, parameters, name), name) for name in names[:1]}
    return tuple(_advised(parameters, name, message, [ways.get(name)]) for name in guilty or names)


def _changed_lengths(parameters: Parameters) -> list[str]:
    """The own lengths that aren't at their default: together they can't be drawn."""
    specs, common = parameters.specs(), Parameters.specs()
    changed = [name for name in parameters.texts() if name not in common and specs[name].kind == "length"]
    return changed or [next(iter(specs))]


def _neighbour(seen: _AsDrawn, name: str) -> Advice | None:
    """The neighbour that gives a parameter room as it is, and how far."""
    common = Parameters.specs()
    return way_out(seen, name, getattr(seen, name), [other for other in seen.specs() if other not in common])


def _advised(parameters: Parameters, name: str, message: str, ways: Sequence[Advice | None]) -> Problem:
    """A problem with the ways out of it."""
    found = [way for way in ways if way]
    said = ", or ".join(way.said for way in found)
    return parameters.problem(name, f"{message.rstrip('.')}: {said}." if said else message, *(w.way for w in found))

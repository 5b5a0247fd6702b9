"""The members of a set: plates that other templates draw, of like values, laid out side by side and put together.

A member is drawn by its own template, so that a plate of a set and the same plate by itself are one thing. `names` are
those of its parameters that the set asks for, by what the set calls them: they carry its dimensions over, and what has
no room in the member is said of them.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from parts.cached import cached_property
from parts.geometry import translation
from parts.profile import Dimension, Opening, Profile
from parts.spec import Frame, Parameters, Standing, Template, trying

_BETWEEN = "between"
"""The set's parameter for the room between its pieces in the drawing."""


@dataclass(frozen=True)
class Member:
    """One kind of plate of a set, and where each that is made of it stands, by the pieces' names.

    `blame` is the set's parameter of which it is said where the member has no room for what the set doesn't ask for.
    """

    template: Template
    parameters: Parameters
    frames: Mapping[str, Frame]
    names: Mapping[str, str]
    blame: str

    @cached_property
    def profile(self) -> Profile:
        """What its template draws, in the frame of that."""
        return self.template.outline(self.parameters)

    @property
    def at_fault(self) -> str:
        """The set's parameter that leaves it no room; empty where all is well."""
        with trying(worded=False):
            first = next(iter(self.parameters.problems()), None)
        return self.names.get(first.parameter, self.blame) if first else ""

    def standings(self, thickness: float) -> Iterator[Standing]:
        """Yield each piece in its place."""
        for name, frame in self.frames.items():
            yield Standing(name, self.profile, thickness, frame)


def member_of(template: Template, values: Mapping[str, Any], **of: Any) -> Member:  # noqa: ANN401 - a member's own
    """Return a member drawn with these values, texts or numbers in mm.

    Raises:
        Refused: a value lies outside its limits.
    """
    return Member(template, template.parameters.read_singly(values), **of)


def laid_out(rows: Iterable[Sequence[Member]], between: float) -> Profile:
    """Return the pieces of members in rows from the foot, each with its openings, marks and the set's dimensions.

    The room between the first two rows is measured as `between`.
    """
    placed: list[Profile] = []
    pieces: list[str] = []
    shown: set[str] = set()
    y = 0.0
    for row in rows:
        x, tall = 0.0, 0.0
        for member, name in ((each, name) for each in row for name in each.frames):
            x0, y0, x1, y1 = member.profile.box
            moved = member.profile.moved(translation(x - x0, y - y0))
            own = _renamed(moved, member.names, shown)
            shown |= {dimension.parameter for dimension in own}
            inside = tuple(_within(opening, member, name) for opening in moved.inside)
            placed.append(replace(moved, inside=inside, dimensions=own))
            pieces.append(name)
            x, tall = x + x1 - x0 + between, max(tall, y1 - y0)
        y += tall + between
        if not shown & {_BETWEEN}:
            shown.add(_BETWEEN)
            gap = Dimension(_BETWEEN, (0.0, tall), (0.0, y), "left")
            placed[-1] = replace(placed[-1], dimensions=(*placed[-1].dimensions, gap))
    return Profile(
        tuple(loop for each in placed for loop in each.outside),
        tuple(opening for each in placed for opening in each.inside),
        tuple(mark for each in placed for mark in each.marks),
        tuple(dimension for each in placed for dimension in each.dimensions),
        tuple(pieces),
    )


def _renamed(profile: Profile, names: Mapping[str, str], shown: Iterable[str]) -> tuple[Dimension, ...]:
    """The dimensions that the set asks for and aren't shown yet, by its own names."""
    known = set(shown)
    renamed = ((names.get(each.parameter, ""), each) for each in profile.dimensions)
    return tuple(replace(each, parameter=name) for name, each in renamed if name and name not in known)


def _within(opening: Opening, member: Member, name: str) -> Opening:
    """The opening, called by the piece that it is in, and set by what the set asks for."""
    by = member.names.get(opening.parameter, member.blame)
    return replace(opening, name=f"{opening.name} in the {name}", parameter=by)

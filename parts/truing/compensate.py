"""Compensation: a drawing mapped by the inverse of a table's errors, so that the table puts it where it belongs.

The table's map (`parts.truing.model.put`) is undone on every loop and mark; the origin stays, so that the part as
cut has its lower left there. The jet's width isn't in the drawing: the kerf is set at the machine.
"""

import math
from dataclasses import dataclass, replace

from parts.errors import Problem, Refused
from parts.geometry import Line, Skew
from parts.profile import Bend, Drill, Mark, Profile
from parts.tolerance import SAME_VALUE
from parts.truing.model import Errors, put
from parts.units import format_angle, format_angle_error_ascii

LARGEST_SCALE, LARGEST_DEG = 0.05, 3.0
"""A table further off isn't to be drawn around: common practice, it is to be mended."""
LONGEST_LABEL = 80


@dataclass(frozen=True, slots=True)
class Compensation:
    """The errors of a table that a drawing undoes, and the `label` of the table that it is for.

    Raises:
        Refused: the label is missing or unusable, or an error is larger than is to be drawn around.
    """

    errors: Errors
    label: str

    def __post_init__(self) -> None:
        problems = []
        if not self.slug or len(self.label) > LONGEST_LABEL or not self.label.isprintable():
            message = f"must name the table in 1 to {LONGEST_LABEL} characters: the files say for which one they are."
            problems.append(Problem("name", self.label[:LONGEST_LABEL], message))
        for name in ("scale_x", "scale_y"):
            value = getattr(self.errors, name)
            if not abs(value) <= LARGEST_SCALE + SAME_VALUE:
                problems.append(Problem(name, f"{value:g}", f"must be -{LARGEST_SCALE:g} to {LARGEST_SCALE:g}."))
        degrees = math.degrees(self.errors.out_of_square)
        if not abs(degrees) <= LARGEST_DEG + SAME_VALUE:
            message = f"must be {format_angle(-LARGEST_DEG)} to {format_angle(LARGEST_DEG)}."
            problems.append(Problem("out_of_square_deg", f"{degrees:g}", message))
        if problems:
            raise Refused(tuple(problems))

    @property
    def slug(self) -> str:
        """The label for a file's name: `fernhollow-table`."""
        return "-".join("".join(c if c.isalnum() and c.isascii() else " " for c in self.label.lower()).split())

    @property
    def sentence(self) -> str:
        """What a file says of it, in ASCII but for the label."""
        e = self.errors
        return (
            f"COMPENSATED for {self.label}, to be cut on no other: undoes X {100 * e.scale_x:+.5f} %, "
            f"Y {100 * e.scale_y:+.5f} %, axes {format_angle_error_ascii(math.degrees(e.out_of_square))} from square"
        )

    def profile(self, true: Profile) -> Profile:
        """Return the profile to draw for a true one; it has no dimensions, whose lengths it doesn't show."""
        undo = _map(self.errors).inverse()
        return Profile(
            tuple(undo.loop(loop) for loop in true.outside),
            tuple(replace(opening, loop=undo.loop(opening.loop)) for opening in true.inside),
            tuple(_mark(mark, undo) for mark in true.marks),
        )


def _map(errors: Errors) -> Skew:
    (xx, yx), (xy, yy) = put(errors, 1.0, 0.0), put(errors, 0.0, 1.0)
    return Skew(xx, xy, yx, yy)


def _mark(mark: Mark, undo: Skew) -> Mark:
    if isinstance(mark, Drill):
        return replace(mark, at=undo.point(mark.at))
    if isinstance(mark, Bend):
        return replace(mark, line=Line(undo.point(mark.line.start), undo.point(mark.line.end)))
    return replace(mark, path=undo.path(mark.path))

"""What a job is: a name, a customer's reference, and lines.

line      a part and how many of it: a template with its values, or a drawing of someone's own with its stock
number    of a line: given once, and never to another line of its job
content   all of a job at one time; nothing of it is ever changed, a change makes another content
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias, get_args

from parts.errors import Problem, Refused, UnitsError
from parts.store.layout import KeptLayout
from parts.units import parse_count

Turns: TypeAlias = Literal["any", "quarter", "half", "none"]
TURNS: tuple[Turns, ...] = get_args(Turns)
MOST_LINES = 500
MOST_QUANTITY = 100_000
LONGEST_NAME = 100
LONGEST_REFERENCE = 200


@dataclass(frozen=True, slots=True)
class Kept:
    """A part as it is kept: texts alone, from which it is drawn again.

    `part` is the slug of a template, or what a drawing's file is called; `drawing` is the digest of that file, empty
    of a template. `values` are by name as an address says them; `layers` and `outlines` what was chosen of a
    drawing's.
    """

    part: str
    values: tuple[tuple[str, str], ...] = ()
    drawing: str = ""
    layers: tuple[str, ...] = ()
    outlines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a job: its number, the part, how many, what the shop calls it, and how it may lie on a sheet."""

    number: int
    kept: Kept
    quantity: int = 1
    name: str = ""
    turns: Turns = "quarter"
    mirror: bool = False


@dataclass(frozen=True, slots=True)
class Content:
    """All of a job at one time."""

    name: str
    reference: str = ""
    lines: tuple[Line, ...] = ()
    is_archived: bool = False
    layout: KeptLayout | None = None

    def line(self, number: int) -> Line:
        """Return the line of a number.

        Raises:
            Refused: there is none.
        """
        found = next((line for line in self.lines if line.number == number), None)
        if found is None:
            raise Refused((Problem("line", str(number), "isn't in the job any more; look at the job again."),))
        return found

    def with_line(self, line: Line) -> "Content":
        """Return it with a line added, or in place of the one of its number."""
        if all(line.number != other.number for other in self.lines):
            return replace(self, lines=(*self.lines, line))
        return replace(self, lines=tuple(line if line.number == other.number else other for other in self.lines))

    def without_line(self, number: int) -> "Content":
        """Return it without a line.

        Raises:
            Refused: there is none of this number.
        """
        gone = self.line(number)
        return replace(self, lines=tuple(line for line in self.lines if line is not gone))


def named(name: str, parameter: str = "name", longest: int = LONGEST_NAME, *, may_be_empty: bool = False) -> str:
    """Return a name as it is kept, without blanks around it.

    Raises:
        Refused: it is empty, too long, or has signs in it that aren't seen.
    """
    said = " ".join(name.split())
    if not said and not may_be_empty:
        raise Refused((Problem(parameter, "", "is empty: give it a name, such as Gate for the garden."),))
    if len(said) > longest:
        message = f"is {len(said)} characters long; it may have {longest}."
        raise Refused((Problem(parameter, f"{said[:40]}...", message),))
    if not said.isprintable():
        raise Refused((Problem(parameter, "", "has a sign in it that isn't seen; type it again."),))
    return said


def quantity_in(text: str, of: str = "quantity") -> int:
    """Return how many a text says, of what `of` names.

    Raises:
        Refused: it says no number.
    """
    try:
        return parse_count(text)
    except UnitsError as error:
        raise Refused((Problem(of, text[:40], f"{error} Give a whole number, such as 12."),)) from error


def check(content: Content) -> Content:
    """Return a content that can be kept.

    Raises:
        Refused: with all that is wrong with it.
    """
    if problems := tuple(_problems(content)):
        raise Refused(problems)
    return content


def _problems(content: Content) -> Iterator[Problem]:
    for parameter, text, longest in (
        ("name", content.name, LONGEST_NAME),
        ("reference", content.reference, LONGEST_REFERENCE),
        *(("line name", line.name, LONGEST_NAME) for line in content.lines),
    ):
        try:
            named(text, parameter, longest, may_be_empty=parameter != "name")
        except Refused as refused:
            yield from refused.problems
    if len(content.lines) > MOST_LINES:
        yield Problem("lines", str(len(content.lines)), f"are too many; a job may have {MOST_LINES}. Begin another.")
    for line in content.lines:
        if not 1 <= line.quantity <= MOST_QUANTITY:
            yield Problem(
                "quantity",
                str(line.quantity),
                f"must be 1 to {MOST_QUANTITY:,}; a line that isn't wanted is taken out.",
            )

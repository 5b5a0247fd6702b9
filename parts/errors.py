"""What can go wrong, as a tree of errors that carry data.

PartsError
  +-- Refused          the values of a part can't be drawn; carries every Problem
  +-- UnknownTemplate  no template has this slug
  +-- DeclarationError a template is declared wrongly, or its module can't be loaded
  +-- GeometryError    lines and arcs that can't exist as asked (also a ValueError)
  +-- UnitsError       text that is not a length, an angle or a thickness (also a ValueError)
  +-- DataError        a data file (ours or the shop's own) holds something unusable
  +-- Unreadable       a drawing file that can't be read: broken, hostile, too large, or no drawing
  +-- NotInstalled     a library that only one format needs isn't there; all else works
  +-- Busy             more is asked for at once than is worked on; later it will do
  +-- Overrun          it takes more time or memory than one request may
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

Way: TypeAlias = Mapping[str, str]
"""A way on from a refusal: parameters and the values to give them, as text."""


class PartsError(Exception):
    """Any refusal by `parts`; its text is one sentence fit for a person."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One reason a request is refused, worded for whoever typed it; `ways` are what its sentence advises, as values.

    `is_brief` is whether what would mend it wasn't looked for.
    """

    parameter: str
    value: str
    message: str
    ways: tuple[Way, ...] = field(default=(), compare=False, kw_only=True)
    is_brief: bool = field(default=False, compare=False, kw_only=True)


def first_of_each(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the first problem of each parameter: mending it may well mend the rest."""
    first: dict[str, Problem] = {}
    for problem in problems:
        first.setdefault(problem.parameter, problem)
    return tuple(first.values())


class Refused(PartsError):
    """The values can't be drawn; `problems` lists every reason, in form order."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(f"{p.parameter}: {p.message}" for p in problems))
        self.problems = problems


NEAR = 0.6
"""Of 1, how like each other two words are from which on one was meant by the other (`difflib`'s own)."""


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known word that was probably meant by another; nothing where none is like it.

    Capitals, blanks and hyphens don't matter, and little does the order of letters, or of words joined by hyphens.
    """
    likeness, near = max(((_likeness(_words(word), _words(name)), name) for name in known), default=(0.0, ""))
    return near if likeness >= NEAR else ""


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return the end of a sentence that refuses a word: `; did you mean laser?`, or its full stop."""
    near = nearest(word, known)
    return f"; did you mean {near}?" if near else "."


def _words(text: str) -> list[str]:
    return text.lower().replace("_", " ").replace("-", " ").split()


def _likeness(a: list[str], b: list[str]) -> float:
    """How like each other two texts are, 0 to 1: as they stand, or a little less with their words in order."""
    from difflib import SequenceMatcher  # noqa: PLC0415 - only where something is wrong

    as_is = SequenceMatcher(None, "-".join(a), "-".join(b)).ratio()
    in_order = SequenceMatcher(None, "-".join(sorted(a)), "-".join(sorted(b))).ratio()
    same_letters = sorted("".join(a)) == sorted("".join(b)) != []
    return max(as_is, 0.95 * in_order, 0.9 * same_letters)


class UnknownTemplate(PartsError, LookupError):
    """No template is called `slug`."""

    def __init__(self, slug: str, known: tuple[str, ...]) -> None:
        near = nearest(slug, known)
        instead = f"; did you mean {near}?" if near else f". There are: {', '.join(known)}."
        super().__init__(f"There is no template called {slug!r}{instead}")
        self.slug = slug
        self.problems = (Problem("template", slug, str(self)),)


class DeclarationError(PartsError):
    """A template is declared wrongly, or its module can't be loaded; `field` is where, as its module names it."""

    def __init__(self, slug: str, field: str, message: str) -> None:
        super().__init__(f"The template {slug} can't be used: {field}: {message}.")
        self.slug, self.field, self.message = slug, field, message
        self.problems = (Problem("template", slug, str(self)),)


class GeometryError(PartsError, ValueError):
    """Lines and arcs that can't exist as asked."""


class UnitsError(PartsError, ValueError):
    """Text that can't be read as the quantity asked for; `near` is the nearest that can, where that is known."""

    def __init__(self, sentence: str, near: str = "") -> None:
        super().__init__(sentence)
        self.near = near


class DataError(PartsError):
    """A data file holds something unusable; the text names the file, the entry and what is accepted."""


class Unreadable(PartsError):
    """A drawing file can't be read; the text names the file and says why, and what would be accepted."""


class NotInstalled(PartsError):
    """A library that only one `format` needs isn't there; the text says which, why, and what works without it."""

    def __init__(self, file_format: str, sentence: str) -> None:
        super().__init__(sentence)
        self.format = file_format


class Busy(PartsError):
    """More is asked for at once than is worked on; asked again in `retry_after_s` seconds, it may be done."""

    retry_after_s = 10

    def __init__(self, waiting: int) -> None:
        self.waiting = waiting
        before = f", and {waiting} more wait{'s' if waiting == 1 else ''} in line" if waiting else ""
        super().__init__(
            f"Other drawings are being worked on{before}. Nothing is lost: go back, and send it again in a few seconds."
        )


class Overrun(PartsError):
    """It takes more time or memory than one request may."""

    def __init__(self) -> None:
        super().__init__("It takes more time or memory than there is for one request.")

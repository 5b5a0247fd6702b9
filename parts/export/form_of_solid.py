"""The form of a solid, `form=flat` beside a part's values: bent, as it is unless that is said, or as it is cut.

A template that has a parameter of this name draws plates, and keeps it.
"""

from typing import Protocol, TypeVar

from parts.errors import Problem, Refused
from parts.templates import template

FORM, BENT, FLAT = "form", "bent", "flat"


class _Solid(Protocol):
    def flat(self: "P") -> "P": ...


P = TypeVar("P", bound=_Solid)


def taken_out(slug: str, values: dict[str, str]) -> str:
    """Take the form out of values, and return it; bent where it isn't said.

    Raises:
        Refused: it is another word.
        UnknownTemplate: there is no such template.
    """
    if FORM not in values or FORM in template(slug).parameters.specs():
        return BENT
    word = values.pop(FORM).strip().lower() or BENT
    if word not in (BENT, FLAT):
        raise Refused((Problem(FORM, word, f"must be {BENT} or {FLAT}."),))
    return word


def in_form(part: P, form: str) -> P:
    """Return a part with its solids in a form."""
    return part.flat() if form == FLAT else part

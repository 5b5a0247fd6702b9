"""The form of a solid, `form=flat` beside a part's values: as it is cut; else as it is made, bent or put together.

A template that has a parameter of this name draws plates, and keeps it.
"""

from typing import Protocol, TypeVar

from parts.errors import Problem, Refused
from parts.templates import template

FORM, BENT, ASSEMBLED, FLAT = "form", "bent", "assembled", "flat"


class _Solid(Protocol):
    def flat(self: "P") -> "P": ...


P = TypeVar("P", bound=_Solid)


def taken_out(slug: str, values: dict[str, str]) -> str:
    """Take the form out of values, and return it; bent where it isn't said, which of a set is put together.

    Raises:
        Refused: it is another word.
        UnknownTemplate: there is no such template.
    """
    if FORM not in values or FORM in template(slug).parameters.specs():
        return BENT
    word = values.pop(FORM).strip().lower() or BENT
    if word not in (BENT, ASSEMBLED, FLAT):
        raise Refused((Problem(FORM, word, f"must be {BENT}, {ASSEMBLED} or {FLAT}."),))
    return word


def in_form(part: P, form: str) -> P:
    """Return a part with its solids in a form."""
    return part.flat() if form == FLAT else part

"""What is answered of a server, a refusal and the remedies of a part: the models that make the answers."""

from collections.abc import Iterable
from typing import Literal

from pydantic import Field

from parts import Problem
from webapp.openapi.answer import Answer, Json


class Health(Answer):
    """The server is up."""

    status: Literal["ok"] = "ok"
    version: str


class ProblemAnswer(Answer):
    """One reason a request is refused, worded for whoever typed it."""

    parameter: str
    value: str
    message: str


class Refusal(Answer):
    """Every reason a request is refused."""

    errors: list[ProblemAnswer]
    ways: list["RemedyLink"] = Field([], description="Of remedies.json: values with which it is drawn")


def refusal(problems: Iterable[Problem], ways: Iterable["RemedyLink"] = ()) -> Json:
    """Return what is answered where a request is refused, with the ways on where they were asked for."""
    told = [ProblemAnswer(parameter=p.parameter, value=p.value, message=p.message) for p in problems]
    return Refusal(errors=told, ways=[*ways]).model_dump(exclude_defaults=True)


class Change(Answer):
    """A parameter before and after, as said and as text that reads back exactly."""

    parameter: str
    label: str
    before: str
    after: str
    old: str
    new: str


class RemedyLink(Answer):
    """What the page says, and the values it sets in its form."""

    text: str
    values: dict[str, str]


class Costed(Answer):
    """What a remedy may cost."""

    mass_kg: float
    cut_time_s: float
    pierces: int
    drill_centres: int
    width_mm: float
    height_mm: float


class CostOfRemedy(Answer):
    """The part before and after, and in words what of it changes."""

    sentence: str
    before: Costed
    after: Costed


class RemedyAnswer(Answer):
    """The smallest change that clears what one rule found."""

    rule: str
    sentence: str
    changes: list[Change]
    asks: str = Field(description="What must be true of what mates with the part for it to be taken; empty if nothing")
    care: list[str] = Field(description="Parameters changed that something may hang on")
    cost: CostOfRemedy | None
    address: str = Field(description="The page of the part with the remedy taken")
    link: RemedyLink


class Remedies(Answer):
    """The remedies of a part."""

    remedies: list[RemedyAnswer] = Field(description="Those that may be taken unasked")
    questions: list[RemedyAnswer] = Field(description="Those that change what mates with something else")
    without: list[str] = Field(description="Rules with a stop or a warn and no remedy that may be taken unasked")
    cut_short: list[str] = Field(description="Of those, the ones for which not every change was tried")


MODELS = (Health, Refusal, Remedies)

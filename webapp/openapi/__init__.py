"""The descriptions of the addresses for programs, and the models of what they are answered."""

from webapp.openapi.answers import (
    Change,
    Costed,
    CostOfRemedy,
    Health,
    ProblemAnswer,
    Refusal,
    Remedies,
    RemedyAnswer,
    RemedyLink,
    refusal,
)
from webapp.openapi.document import description, description_of
from webapp.openapi.part import Checked, Part
from webapp.openapi.truing_answer import BendAnswer, Truing

__all__ = [
    "BendAnswer",
    "Change",
    "Checked",
    "CostOfRemedy",
    "Costed",
    "Health",
    "Part",
    "ProblemAnswer",
    "Refusal",
    "Remedies",
    "RemedyAnswer",
    "RemedyLink",
    "Truing",
    "description",
    "description_of",
    "refusal",
]
